//! `card`: a drink's spec card, for the back of the bar.

use super::PaperArgs;
use crate::console::commands::balance::{balance_of_spec, spec_named};
use crate::console::commands::{drink_named, view};
use crate::console::desk::{Desk, names_in};
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::measure::Amount;
use crate::report::{self, Report};

/// A drink's spec card: amounts large, method, glass, garnish, figures, allergens. Several drinks with commas between; --page
/// writes the cards to cut out.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  card negroni\n  card negroni, daiquiri --page cards.html --sheet a6")]
pub struct Args {
    /// Drinks with commas between, or the lines of one; the drink in hand if not given
    #[arg(value_name = "SPEC")]
    spec: Vec<String>,
    #[command(flatten)]
    papers: PaperArgs,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = drink_named(&args.spec, desk, "SPEC").map_err(|f| f.hint("for example: card negroni"))?;
    let is_lines = Amount::split_from(&text).is_ok() && text.parse::<usize>().is_err();
    let names: Vec<&str> = if is_lines { vec![text.as_str()] } else { names_in(&text).collect() };
    let mut balances = Vec::new();
    for name in names {
        let (given, typed) = spec_named(desk, name, None)?;
        let own = desk.in_unit_of(&given, typed);
        let spec = own.house.in_pours(&given);
        balances.push((balance_of_spec(&own, spec)?, view(&own)));
    }
    let book = &desk.library.book;
    let mut cards = balances.iter().map(|(balance, view)| report::card(book, balance, *view));
    let Some(first) = cards.next() else {
        return Err(Failure::usage("which drink?").hint("for example: card negroni"));
    };
    let mut more = vec![first.data.clone()];
    let mut report = first;
    for card in cards {
        more.push(card.data.clone());
        report = report.heading(card.title.clone());
        report.blocks.extend(card.blocks);
    }
    if more.len() > 1 {
        report = Report { title: format!("{} cards", more.len()), ..report.with_first_as_heading() };
        report.data = serde_json::json!({ "ok": true, "command": "card", "cards": more });
    }
    let page = match &args.papers.page {
        Some(_) => {
            let papers: Vec<_> =
                balances.iter().map(|(b, view)| report::card_paper(book, b, *view)).collect();
            Some(report::cards(&papers, args.papers.sheet())?)
        }
        None => None,
    };
    let specs: Vec<_> = balances.iter().map(|(balance, _)| &balance.spec).collect();
    Ok(Answer::new(args.papers.write(report, &report::card_rows(&specs), page, None)?))
}

//! `season`: what a month brings, and when a thing is to be had.

use super::{joined, view};
use crate::book::{Kind, When};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::measure::Month;
use crate::report::{self, Season};

/// What is in season, at its peak, coming and leaving.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  season october --hemisphere south\n  season kale, quince")]
pub struct Args {
    /// The month: a name or 1 to 12, this month if not given; 'year' for the calendar of all that comes and goes; or
    /// ingredients, with commas between, for theirs
    #[arg(value_name = "MONTH")]
    asked: Vec<String>,
    /// Of the calendar only this kind
    #[arg(long, value_name = "KIND", value_parser = super::kind)]
    kind: Option<Kind>,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let asked = joined(&args.asked);
    let book = &desk.library.book;
    if asked.eq_ignore_ascii_case("year") {
        return Ok(Answer::new(report::calendar(book, args.kind, view(desk))));
    }
    if args.kind.is_some() {
        return Err(Failure::usage("--kind narrows the calendar: 'season year --kind fruit'"));
    }
    let month = match asked.parse() {
        _ if asked.is_empty() => desk.house.when.month,
        Ok(month) => month,
        Err(error) => {
            let named = desk.ingredients(&asked).map_err(|unknown| match near_month(&asked, error) {
                Some(near) => near,
                None if unknown.offers_names() => unknown,
                None => unknown.hint("or give a month (october, oct, 10), or 'year'"),
            })?;
            return Ok(Answer::new(report::seasons_of(book, &named, view(desk))));
        }
    };
    let view = view(desk);
    let view = report::View { when: When { month, ..view.when }, ..view };
    let season = Season::of(book, view);
    Ok(Answer::new(report::season(&season, view)))
}

/// What to say of a text that is nearly a month.
fn near_month(asked: &str, error: crate::measure::NotAMonth) -> Option<Failure> {
    let names: Vec<String> = Month::ALL.iter().map(|m| m.name().to_lowercase()).collect();
    let near = crate::book::nearest_word(&asked.to_lowercase(), names.iter().map(String::as_str))?;
    Some(Failure::from(error).hint(format!("did you mean {near}?")))
}

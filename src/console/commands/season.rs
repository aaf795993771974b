//! `season`: what a month brings.

use super::{joined, view};
use crate::book::{Kind, When};
use crate::console::failure::Failure;
use crate::console::session::{Answer, Desk};
use crate::measure::Month;
use crate::report::{self, Season};

/// What is in season, at its peak, coming and leaving.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  season october\n  season april --hemisphere south")]
pub struct Args {
    /// The month: a name or 1 to 12, this month if not given; or 'year' for the calendar of all that comes and goes
    #[arg(value_name = "MONTH")]
    month_asked: Vec<String>,
    /// Of the calendar only this kind
    #[arg(long, value_name = "KIND", value_parser = super::kind)]
    kind: Option<Kind>,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let asked = joined(&args.month_asked);
    let book = &desk.library.book;
    if asked.eq_ignore_ascii_case("year") {
        return Ok(Answer::new(report::calendar(book, args.kind, view(desk))));
    }
    if args.kind.is_some() {
        return Err(Failure::usage("--kind narrows the calendar: 'season year --kind fruit'"));
    }
    let month = if asked.is_empty() {
        desk.house.when.month
    } else {
        asked.parse().map_err(|error| near_month(&asked, error))?
    };
    let view = view(desk);
    let view = report::View { when: When { month, ..view.when }, ..view };
    let season = Season::of(book, view);
    Ok(Answer::new(report::season(&season, view)))
}

fn near_month(asked: &str, error: crate::measure::NotAMonth) -> Failure {
    let names: Vec<String> = Month::ALL.iter().map(|m| m.name().to_lowercase()).collect();
    let near =
        crate::book::nearest_word(&asked.to_lowercase(), names.iter().map(String::as_str)).map(str::to_owned);
    match near {
        Some(near) => Failure::from(error).hint(format!("did you mean {near}?")),
        None => Failure::from(error),
    }
}

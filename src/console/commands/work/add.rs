//! `add`: a line more in the drink in hand.

use super::{last_step, words_or};
use crate::book::Wanted;
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::drink::{NotASpec, read_line};

/// Adds a line to the drink in hand.
#[derive(Debug, Clone, clap::Args)]
#[command(
    allow_negative_numbers = true,
    after_help = "Examples:\n  add 1/4 oz agave syrup\n  add 2 dashes orange bitters"
)]
pub struct Args {
    /// An amount and an ingredient
    #[arg(value_name = "LINE")]
    line: Vec<String>,
}

const EXAMPLE: &str = "add 1/4 oz agave syrup";

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = words_or(&args.line, "LINE", EXAMPLE)?;
    let work = desk.work()?;
    let number = work.now().lines.len() + 1;
    let line = read_line(number, &text, &desk.library.book, &desk.library.names, &desk.house.measures);
    let line = line.map_err(|error| match error {
        NotASpec::Amount { why, .. } => Failure::from(why).hint(format!("for example: {EXAMPLE}")),
        NotASpec::Name { text, lookup, .. } => Failure::of_name(&text, Wanted::Ingredient, &lookup),
        other => Failure::from(other),
    })?;
    last_step("add", work.now(), work.add(&line)?, desk)
}

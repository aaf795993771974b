//! `amount`: another amount of a line of the drink in hand.

use super::{last_step, line_of_hand, words_or};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::measure::Amount;

/// Gives a line of the drink in hand another amount.
#[derive(Debug, Clone, clap::Args)]
#[command(
    allow_negative_numbers = true,
    after_help = "Examples:\n  amount lime 1 oz\n  amount 22.5 ml simple syrup"
)]
pub struct Args {
    /// The line and its new amount, either first
    #[arg(value_name = "NAME AMOUNT")]
    words: Vec<String>,
}

const EXAMPLE: &str = "amount lime 1 oz";

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = words_or(&args.words, "NAME AMOUNT", EXAMPLE)?;
    let work = desk.work()?;
    let (name, amount) = parted(&text)?;
    let line = line_of_hand(desk, work, &name).map_err(|failure| {
        if desk.ingredient(&name).is_ok() {
            failure.hint(format!("'add {amount} {name}' adds it"))
        } else {
            failure
        }
    })?;
    let after = work.amount(line, amount, &desk.house.measures)?;
    last_step("amount", work.now(), after, desk)
}

/// The name and the amount, whichever comes first: `lime 1 oz`, `lime to 1 oz`, `1 oz lime`.
fn parted(text: &str) -> Result<(String, Amount), Failure> {
    let text = text.trim();
    if starts_as_amount(text) {
        let (amount, name) = Amount::split_from(text)?;
        if name.is_empty() {
            return Err(Failure::usage(format!("'{text}': an amount of what?"))
                .hint(format!("for example: {EXAMPLE}")));
        }
        return Ok((name.to_owned(), amount));
    }
    let blanks = text.char_indices().filter(|(_, c)| c.is_whitespace()).map(|(at, _)| at);
    let found = blanks.filter_map(|at| Some((text.get(..at)?, text.get(at..)?.trim_start())));
    let mut found = found.filter(|(_, rest)| starts_as_amount(rest));
    let Some((name, rest)) = found.next() else {
        return Err(Failure::usage(format!(
            "'{text}' holds no amount: write a number and a unit, like 1 oz or 30 ml"
        ))
        .hint(format!("for example: {EXAMPLE}")));
    };
    let name = name.trim().trim_end_matches('=').trim_end();
    let name = name.strip_suffix(" to").unwrap_or(name);
    Ok((name.to_owned(), rest.parse()?))
}

/// Whether a text starts with what may be an amount: a number, a sign, `a dash`, `top`.
fn starts_as_amount(text: &str) -> bool {
    let first = text.chars().next();
    first.is_some_and(|c| c.is_numeric() || matches!(c, '.' | '-' | '−' | '+'))
        || Amount::split_from(text).is_ok()
}

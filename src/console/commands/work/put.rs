//! `put`: one ingredient in another's place in the drink in hand.

use super::{last_step, line_of_hand, words_or};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;

/// Puts one ingredient in another's place in the drink in hand, in the same amount.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  put mezcal for blanco tequila\n  put blanco tequila=mezcal")]
pub struct Args {
    /// What comes, 'for', and what goes; or what goes, '=', and what comes
    #[arg(value_name = "NEW for OLD")]
    words: Vec<String>,
}

const EXAMPLE: &str = "put mezcal for blanco tequila";

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = words_or(&args.words, "NEW for OLD", EXAMPLE)?;
    let work = desk.work()?;
    let (from, to) = parted(&text)?;
    let line = line_of_hand(desk, work, from)?;
    let after = work.put(line, desk.ingredient(to)?)?;
    last_step("put", work.now(), after, desk)
}

/// What goes and what comes.
fn parted(text: &str) -> Result<(&str, &str), Failure> {
    let turned = |(to, from)| (from, to);
    let lower = text.to_lowercase();
    // Lower case may be longer or shorter than what was typed in a few scripts; then only small letters are read.
    let at = lower.find(" for ").filter(|_| lower.len() == text.len());
    let by_for = at.and_then(|at| Some((text.get(..at)?, text.get(at + " for ".len()..)?))).map(turned);
    let parts = by_for.or_else(|| text.split_once('='));
    parts.map(|(a, b)| (a.trim(), b.trim())).filter(|(a, b)| !a.is_empty() && !b.is_empty()).ok_or_else(
        || {
            Failure::usage(format!("'{text}' does not say what goes: write what comes, for, what goes"))
                .hint(format!("for example: {EXAMPLE}"))
        },
    )
}

//! `explain`: how a suggestion just given came about.

use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;

/// The whole arithmetic of a suggestion just given by riff, swap or pairs, in words; in the unit and for the month that
/// it was asked with.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  explain 2\n  explain 1 --json")]
pub struct Args {
    /// The suggestion's number
    #[arg(value_name = "N", default_value_t = 1, value_parser = number)]
    pub(in crate::console) number: u16,
}

/// `2`, as `explain 2` and `--explain 2` take it.
pub(super) fn number(text: &str) -> Result<u16, String> {
    let number = text.trim().parse::<u16>().ok().filter(|n| *n > 0);
    number.ok_or_else(|| "it is not the number of a suggestion: write 1, 2, 3, ...".to_owned())
}

/// What is said where a list is shorter than the number asked for.
pub(in crate::console) fn not_so_many(number: u16, found: usize) -> Failure {
    let failure = Failure::mistake(format!("there is no suggestion {number} to explain"));
    failure.hint(match found {
        0 => "nothing was found".to_owned(),
        1 => "there is only number 1".to_owned(),
        more => format!("they are numbered 1 to {more}"),
    })
}

/// A session answers this from what it was asked last; alone there is nothing to explain.
pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let failure = Failure::mistake("there is nothing to explain");
    Err(if desk.at_prompt {
        failure.hint("ask 'riff', 'swap' or 'pairs' first, then explain one of its numbers")
    } else {
        failure.hint(format!(
            "outside the prompt say it with the question: riff negroni --explain {}",
            args.number
        ))
    })
}

//! `method`: the drink in hand made in another way.

use super::{last_step, words_or};
use crate::book::Method;
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;

/// Makes the drink in hand in another way.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  method shaken\n  method no ice")]
pub struct Args {
    /// stirred, shaken, built, blended or no ice
    #[arg(value_name = "METHOD")]
    method: Vec<String>,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = words_or(&args.method, "METHOD", "method shaken")?;
    let work = desk.work()?;
    let method: Method = text.parse()?;
    last_step("method", work.now(), work.method(method)?, desk)
}

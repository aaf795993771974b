//! `undo`: the last step taken back.

use super::{HowMany, how_many, several, step_words, stepped};
use crate::console::failure::Failure;
use crate::console::session::{Answer, Desk};
use crate::drink::Work;

/// Takes the last step back, or the last few. The drink is then exactly as it was.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  undo\n  undo 2")]
pub struct Args {
    /// How many steps, or all; one if not given
    #[arg(value_name = "STEPS", value_parser = how_many)]
    steps: Option<HowMany>,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let work = desk.work()?;
    let after = several(work, args.steps, work.done().len(), Work::undo)?;
    let gone =
        (after.done().len() + 1..=work.done().len()).rev().map(|number| step_words(work, number, desk));
    let what = format!("taken back: {}", gone.collect::<Vec<_>>().join("; "));
    stepped("undo", work.now(), after, &what, desk)
}

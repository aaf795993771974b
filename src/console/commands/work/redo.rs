//! `redo`: a step that was taken back, taken again.

use super::{HowMany, how_many, several, step_words, stepped};
use crate::console::failure::Failure;
use crate::console::session::{Answer, Desk};
use crate::drink::Work;

/// Takes the step once more that was taken back last, or the last few.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  redo\n  redo 2")]
pub struct Args {
    /// How many steps, or all; one if not given
    #[arg(value_name = "STEPS", value_parser = how_many)]
    steps: Option<HowMany>,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let work = desk.work()?;
    let after = several(work, args.steps, work.undone().len(), Work::redo)?;
    let came = (work.done().len() + 1..=after.done().len()).map(|number| step_words(work, number, desk));
    let what = format!("again: {}", came.collect::<Vec<_>>().join("; "));
    stepped("redo", work.now(), after, &what, desk)
}

//! `undo`: the last step taken back.

use super::{several, step_words, stepped, steps_of};
use crate::console::commands::back::{Way, turn};
use crate::console::commands::joined;
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::drink::Work;

/// Takes the last step back, or the last few; the drink is then exactly as it was. With no drink in hand, or with --house, it is
/// the last change of the house book that is taken back.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  undo\n  undo --house damson gin")]
pub struct Args {
    /// How many steps, or all; one if not given. Of the house book: a number, all, a record's name, or a change's
    #[arg(value_name = "STEPS")]
    which: Vec<String>,
    /// The house book's last change, not the drink in hand
    #[arg(long)]
    house: bool,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.which);
    if args.house || desk.hand.work().is_none() {
        return turn(Way::Back, &text, desk);
    }
    let steps = steps_of(&text)?;
    let work = desk.work()?;
    let after = several(work, steps, work.done().len(), Work::undo)?;
    let gone =
        (after.done().len() + 1..=work.done().len()).rev().map(|number| step_words(work, number, desk));
    let what = format!("taken back: {}", gone.collect::<Vec<_>>().join("; "));
    stepped("undo", work.now(), after, &what, desk)
}

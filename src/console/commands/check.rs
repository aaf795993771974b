//! `check`: what a contributor may want to mend in the packs.

use crate::console::failure::Failure;
use crate::console::session::{Answer, Desk};
use crate::report;

/// What to mend in the packs: soft spots, those that matter most first.
///
/// A pack with faults is refused when it is opened, with all of them and status 1; soft spots refuse nothing.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  check\n  check --all")]
pub struct Args {
    /// Every place of every soft spot, not the first few
    #[arg(long)]
    all: bool,
}

#[expect(clippy::unnecessary_wraps, reason = "every command has the same shape")]
pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    Ok(Answer::new(report::soundness(&desk.graph.soundness(), &desk.library.packs, args.all)))
}

//! `drink`: what is in hand.

use super::shown;
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;

/// Shows the drink in hand.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  drink\n  drink --units ml")]
pub struct Args {}

pub(in crate::console) fn run(_: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    shown("drink", desk.work()?.clone(), Vec::new(), desk)
}

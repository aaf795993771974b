//! `quit`: leave the prompt.

use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::hand::{line_to_keep, to_go_on};
use crate::console::session::Answer;
use crate::report::Report;

/// Leave the prompt. Ctrl-D does the same. A drink in hand that is nowhere else is shown as a line that takes it up again.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  quit\n  exit")]
pub struct Args {}

#[expect(clippy::unnecessary_wraps, reason = "every command has the same shape")]
pub(in crate::console) fn run(_: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let left = desk.hand.work().and_then(|work| line_to_keep(desk.library, work));
    let data = serde_json::json!({ "ok": true, "command": "quit", "in_hand": left });
    Ok(Answer { quits: true, left: left.as_deref().map(to_go_on), ..Answer::new(Report::new("", data)) })
}

//! `quit`: leave the prompt.

use crate::console::failure::Failure;
use crate::console::session::{Answer, Desk};
use crate::report::Report;

/// Leave the prompt. Ctrl-D does the same.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  quit\n  exit")]
pub struct Args {}

#[expect(clippy::unnecessary_wraps, reason = "every command has the same shape")]
pub(in crate::console) fn run(_: &Args, _: &Desk<'_>) -> Result<Answer, Failure> {
    let report = Report::new("", serde_json::json!({ "ok": true, "command": "quit" }));
    Ok(Answer { quits: true, ..Answer::new(report) })
}

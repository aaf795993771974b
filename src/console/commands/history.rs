//! `history`: what was changed in the house book.

use super::joined;
use super::record::{record_named, same_record};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::report;

/// What was changed in the house book, the latest first, with who did it and what is undone.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  history\n  history damson gin --limit 5")]
pub struct Args {
    /// Only changes of this ingredient, pair, drink or file
    #[arg(value_name = "NAME")]
    name: Vec<String>,
    /// How many
    #[arg(long, value_name = "COUNT", default_value_t = 20, value_parser = clap::value_parser!(u16).range(1..=10_000))]
    limit: u16,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let history = desk.store()?.history().map_err(Failure::from)?;
    let text = joined(&args.name);
    let of = if text.is_empty() { None } else { Some(record_named(&text, &history, desk)?) };
    let entries: Vec<_> = history
        .entries
        .iter()
        .rev()
        .filter(|e| of.as_ref().is_none_or(|of| e.files.iter().any(|f| same_record(&f.path, of))))
        .collect();
    let shown = entries.iter().take(usize::from(args.limit)).copied().collect::<Vec<_>>();
    Ok(Answer::new(report::history(&shown, entries.len(), &history.problems, text.as_str())))
}

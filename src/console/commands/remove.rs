//! `remove`: a record of the house taken out.

use super::joined;
use super::record::{house_record, record_named};
use crate::book::{History, RecordChange, RecordEdit, Whose, mentions};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::keep::{kept, path_of};
use crate::console::session::Answer;

/// Takes out what the house says of something: its own ingredient or drink, or its word on a pack's. It stays in the history.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  remove damson gin\n  remove quince, mezcal")]
pub struct Args {
    /// An ingredient, a drink, a pair with a comma between, or a file of the book
    #[arg(required = true, value_name = "NAME")]
    name: Vec<String>,
    /// With every record that speaks of it: pairs, prices, tastings
    #[arg(long)]
    all: bool,
    /// Show the change, and keep nothing
    #[arg(long)]
    dry_run: bool,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.name);
    let is_file = text.contains(',') || text.parse::<crate::book::RecordPath>().is_ok();
    let (path, whose) = if is_file {
        (record_named(&text, &History::default(), desk)?, Some(Whose::House))
    } else {
        let (kind, id, whose) = house_record(&text, desk)?;
        (path_of(kind, &id)?, whose)
    };
    if whose.is_none() {
        return Err(Failure::mistake(format!(
            "the house says nothing of {text}: it is the pack's, and packs are not changed"
        ))
        .hint(format!("'stock {text} out' keeps it out of suggestions")));
    }
    let id = path.stem().to_owned();
    let book = &desk.library.book;
    let own = whose == Some(Whose::House);
    let speaking = if own { mentions(book, path.kind(), &id) } else { Vec::new() };
    if !speaking.is_empty() && !args.all {
        let some: Vec<String> = speaking.iter().take(5).map(ToString::to_string).collect();
        let more = if speaking.len() > some.len() { " ..." } else { "" };
        return Err(Failure::mistake(format!(
            "{} of the book still speak of {text}: {}{more}",
            if speaking.len() == 1 { "1 record".to_owned() } else { format!("{} records", speaking.len()) },
            some.join(", ")
        ))
        .hint(format!(
            "'remove {text} --all' takes them out too; 'undo --house' would bring all of it back"
        )));
    }
    let edits: Vec<RecordEdit> = std::iter::once(path.clone())
        .chain(speaking)
        .map(|path| RecordEdit { path, change: RecordChange::Remove })
        .collect();
    let edited = desk.keep(&format!("remove {text}"), &edits, args.dry_run)?;
    let notes = if own { Vec::new() } else { vec![format!("what the pack says of {text} counts again")] };
    let title = format!("{text}: taken out of the house book");
    Ok(kept("remove", title, &edited, args.dry_run, notes))
}

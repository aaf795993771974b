//! `rename`: another name for something of the house.

use super::joined;
use super::record::house_record;
use crate::book::{RecordChange, RecordEdit, RecordKind, RecordPath, Whose, mentions, pair_stem};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::keep::{field, id_of_name, kept, path_of, set};
use crate::console::session::Answer;

/// Gives something of the house another name, in every record that speaks of it. What is a pack's gets another name here, and
/// stays what it is.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  rename weir sour to lock sour\n  rename damson gin to weir damson gin")]
pub struct Args {
    /// The name, 'to', and the new name
    #[arg(required = true, value_name = "NAME to NEW")]
    words: Vec<String>,
    /// Show the change, and keep nothing
    #[arg(long)]
    dry_run: bool,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.words);
    let (old, new) = text.split_once(" to ").map(|(a, b)| (a.trim(), b.trim())).ok_or_else(|| {
        Failure::usage(format!("'{text}' does not say the new name: 'to' and the name are missing"))
            .hint("for example: rename damson gin to weir damson gin")
    })?;
    let (kind, id, whose) = house_record(old, desk)?;
    let path = path_of(kind, &id)?;
    let name = field(&["name"], &new);
    let mut edits = Vec::new();
    if whose == Some(Whose::House) {
        let to = id_of_name(new)?;
        let moved = path_of(kind, &to)?;
        if to != id {
            edits.extend(moved_records(kind, &id, &to, desk)?);
            edits.push(RecordEdit {
                path: moved.clone(),
                change: RecordChange::Renamed { of: path.clone(), from: id.clone(), to: to.clone() },
            });
            edits.push(RecordEdit { path, change: RecordChange::Remove });
        }
        edits.push(set(moved, vec![name]));
    } else {
        let own_id = if kind == RecordKind::Prep { "makes" } else { "id" };
        edits.push(set(path, vec![field(&[own_id], &id), name]));
    }
    let edited = desk.keep(&format!("rename {text}"), &edits, args.dry_run)?;
    let title = format!("{old} is called {new} now");
    Ok(kept("rename", title, &edited, args.dry_run, Vec::new()))
}

/// The changes of every record that speaks of what is renamed.
fn moved_records(kind: RecordKind, id: &str, to: &str, desk: &Desk<'_>) -> Result<Vec<RecordEdit>, Failure> {
    let book = &desk.library.book;
    let mut edits = Vec::new();
    for path in mentions(book, kind, id) {
        let moved = moved_path(&path, id, to)?;
        let change = RecordChange::Renamed { of: path.clone(), from: id.to_owned(), to: to.to_owned() };
        let moves = moved != path;
        edits.push(RecordEdit { path: moved, change });
        if moves {
            edits.push(RecordEdit { path, change: RecordChange::Remove });
        }
    }
    Ok(edits)
}

/// The file of a record that is named after what is renamed.
fn moved_path(path: &RecordPath, id: &str, to: &str) -> Result<RecordPath, Failure> {
    let kind = path.kind();
    match kind {
        RecordKind::Bond => {
            let (a, b) = path.stem().split_once("--").unwrap_or_default();
            let (a, b) = (if a == id { to } else { a }, if b == id { to } else { b });
            path_of(kind, &pair_stem(a, b))
        }
        RecordKind::Price | RecordKind::Stock | RecordKind::HoldBack | RecordKind::Prep
            if path.stem() == id =>
        {
            path_of(kind, to)
        }
        _ => Ok(path.clone()),
    }
}

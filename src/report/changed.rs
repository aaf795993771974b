//! What was changed in the house book.

use serde_json::{Value, json};

use super::{Cell, Column, Report, Table, Tone};
use crate::book::{Edited, FieldChange, RecordPath};

/// Most records that are named one by one.
const MOST_RECORDS: usize = 20;

/// What a command has changed, or would.
#[derive(Debug)]
pub struct Changed<'a> {
    /// The command.
    pub command: &'static str,
    /// What was done, in a few words.
    pub title: String,
    /// What it came to.
    pub edited: &'a Edited,
    /// Whether it was only tried.
    pub dry_run: bool,
    /// Remarks on it.
    pub notes: Vec<String>,
}

/// A change of the house book: each record, its fields before and after, and how to take it back.
pub fn changed(changed: &Changed<'_>) -> Report {
    let fields = changed.edited.fields();
    let mut report = Report::new(changed.title.clone(), data(changed));
    // Who says what a bottle costs knows it; a whole record, or one that is only tried, is shown.
    let is_shown = changed.dry_run || matches!(changed.command, "new" | "edit");
    report = match fields.as_slice() {
        _ if !is_shown => report,
        [] => report,
        [(path, changes)] => report.table(one_record(&path.to_string(), changes)),
        several => report.table(records(several)),
    };
    if is_shown && fields.len() > MOST_RECORDS {
        report = report.note(format!("and {} records more", fields.len() - MOST_RECORDS));
    }
    for note in &changed.notes {
        report = report.note(note.clone());
    }
    report.note(match (&changed.edited.id, changed.dry_run) {
        (Some(id), _) => format!("kept in the house book, change {id}; 'undo --house' takes it back"),
        (None, true) => "nothing was kept: --dry-run".to_owned(),
        (None, false) => "nothing was changed: the book says so already".to_owned(),
    })
}

/// A record's fields: what they are, and what they were where they were anything.
fn one_record(path: &str, changes: &[FieldChange]) -> Table {
    let is_new = changes.iter().all(|(_, before, _)| before.is_none());
    let columns = [
        Some(Column::left(path)),
        (!is_new).then(|| Column::flexible("before")),
        Some(Column::flexible(if is_new { "" } else { "now" })),
    ];
    let mut table = Table::new(columns.into_iter().flatten());
    let plain = |value: &Option<String>| {
        value.as_ref().map_or_else(|| "-".to_owned(), |v| v.split_whitespace().collect::<Vec<_>>().join(" "))
    };
    for (name, before, after) in changes {
        let before = (!is_new).then(|| Cell::new(plain(before), Tone::Quiet));
        let cells = [Some(Cell::new(name.clone(), Tone::Strong)), before, Some(Cell::from(plain(after)))];
        table.push(cells.into_iter().flatten());
    }
    table
}

/// Several records, each with what became of it.
fn records(all: &[(&RecordPath, Vec<FieldChange>)]) -> Table {
    let mut table = Table::new([Column::left("record"), Column::flexible("")]);
    for (path, changes) in all.iter().take(MOST_RECORDS) {
        let what = if changes.iter().all(|(_, before, _)| before.is_none()) {
            "new".to_owned()
        } else if changes.iter().all(|(_, _, after)| after.is_none()) {
            "taken out".to_owned()
        } else {
            changes.iter().map(|(name, _, _)| name.as_str()).collect::<Vec<_>>().join(", ")
        };
        table.push([Cell::new(path.to_string(), Tone::Strong), Cell::from(what)]);
    }
    table
}

fn data(changed: &Changed<'_>) -> Value {
    let records: Vec<Value> = changed
        .edited
        .records
        .iter()
        .map(|(path, before, after)| json!({ "file": path.to_string(), "before": before, "after": after }))
        .collect();
    json!({
        "ok": true,
        "command": changed.command,
        "title": changed.title,
        "change": changed.edited.id.as_ref().map(ToString::to_string),
        "dry_run": changed.dry_run,
        "records": records,
        "notes": changed.notes,
    })
}

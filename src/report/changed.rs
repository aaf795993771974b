//! What was changed in the house book.

use serde_json::{Value, json};

use super::{Cell, Column, Report, Table, Tone};
use crate::book::Edited;

/// Most fields that are shown one by one.
const MOST_FIELDS: usize = 24;

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
    let count: usize = fields.iter().map(|(_, changes)| changes.len()).sum();
    if count > 0 {
        let mut table = Table::new([
            Column::left("record"),
            Column::left("field"),
            Column::flexible("before"),
            Column::flexible("after"),
        ]);
        let mut left = MOST_FIELDS;
        for (path, changes) in &fields {
            for (index, (name, before, after)) in changes.iter().take(left).enumerate() {
                let record = if index == 0 { path.to_string() } else { String::new() };
                table.push([
                    Cell::new(record, Tone::Strong),
                    Cell::from(name.clone()),
                    Cell::new(before.clone().unwrap_or_else(|| "-".to_owned()), Tone::Quiet),
                    Cell::from(after.clone().unwrap_or_else(|| "-".to_owned())),
                ]);
            }
            left = left.saturating_sub(changes.len());
            if left == 0 {
                break;
            }
        }
        report = report.table(table);
        if count > MOST_FIELDS {
            report = report.note(format!("{} more fields of {} records", count - MOST_FIELDS, fields.len()));
        }
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

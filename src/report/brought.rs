//! What was brought into the house book.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use super::{Cell, Column, Report, Table, Tone};
use crate::book::exchange::{Fate, Plan};
use crate::book::{Edited, RecordKind};

/// Most records that are shown one by one.
const MOST_RECORDS: usize = 8;
/// Most faulty rows that are shown.
const MOST_FAULTS: usize = 20;
/// Most letters of a record's fields in its row.
const MOST_LETTERS: usize = 160;

/// What an import has come to, or would.
#[derive(Debug)]
pub struct BroughtIn<'a> {
    /// The file or the folder.
    pub from: String,
    /// What it came to.
    pub plan: &'a Plan,
    /// The records before and after.
    pub edited: &'a Edited,
    /// Whether it was only tried.
    pub dry_run: bool,
}

/// How many records of a kind are new, changed and the same.
#[derive(Debug, Clone, Copy, Default)]
struct Count {
    new: usize,
    changed: usize,
    same: usize,
}

/// How many rows became what, the first few, and what was left out.
pub fn brought(brought: &BroughtIn<'_>) -> Report {
    let plan = brought.plan;
    let counts = counts(plan);
    let title = if brought.dry_run {
        format!("{}: what it would bring in", brought.from)
    } else {
        format!("{}: brought in", brought.from)
    };
    let mut report = Report::new(title, data(brought, &counts));
    let mut table = Table::new([
        Column::left("records"),
        Column::right("new"),
        Column::right("changed"),
        Column::right("same"),
    ]);
    for (kind, count) in &counts {
        let words = plural(*kind);
        let figures = [count.new, count.changed, count.same].map(|n| Cell::from(n.to_string()));
        let [new, changed, same] = figures;
        table.push([Cell::new(words, Tone::Strong), new, changed, same]);
    }
    report = report.table(table);
    let first =
        Edited { id: None, records: brought.edited.records.iter().take(MOST_RECORDS).cloned().collect() };
    if !first.records.is_empty() {
        let mut table = Table::new([Column::left("record"), Column::flexible("what it says")]);
        for (path, changes) in first.fields() {
            table.push([Cell::new(path.to_string(), Tone::Strong), Cell::from(said(&changes))]);
        }
        report = report.table(table);
        let more = brought.edited.records.len() - first.records.len();
        if more > 0 {
            report = report.note(format!("and {more} more records"));
        }
    }
    let faults = plan.faults.len() + plan.more_faults;
    if faults > 0 {
        report = report.heading(format!("Left out, {faults}"));
        report = report.list(plan.faults.iter().take(MOST_FAULTS).map(ToString::to_string).collect());
        if faults > MOST_FAULTS {
            report = report.note(format!("and {} more", faults - MOST_FAULTS));
        }
    }
    for note in &plan.notes {
        report = report.note(note.clone());
    }
    report.note(match (&brought.edited.id, brought.dry_run) {
        (Some(id), _) => format!("kept in the house book, change {id}; 'undo --house' takes it back"),
        (None, true) => "nothing was kept: --dry-run".to_owned(),
        (None, false) => "nothing was changed: the book says so already".to_owned(),
    })
}

fn counts(plan: &Plan) -> BTreeMap<RecordKind, Count> {
    let mut counts: BTreeMap<RecordKind, Count> = BTreeMap::new();
    for step in &plan.steps {
        let count = counts.entry(step.edit.path.kind()).or_default();
        match step.fate {
            Fate::New => count.new += 1,
            Fate::Changed => count.changed += 1,
        }
    }
    for (kind, same) in &plan.same {
        counts.entry(*kind).or_default().same += same;
    }
    counts
}

fn plural(kind: RecordKind) -> &'static str {
    match kind {
        RecordKind::Ingredient => "ingredients",
        RecordKind::Bond => "affinities and clashes",
        RecordKind::Template => "templates",
        RecordKind::Spec => "drinks",
        RecordKind::Prep => "preparations",
        RecordKind::Price => "prices",
        RecordKind::Stock => "stock",
        RecordKind::HoldBack => "hold-backs",
        RecordKind::Tasting => "tastings",
        RecordKind::Measures => "measures",
        RecordKind::Weighing => "weighings",
    }
}

/// A record's fields in a line: what is new, or what was and is.
fn said(changes: &[crate::book::FieldChange]) -> String {
    let mut parts = Vec::new();
    for (name, before, after) in changes {
        let plain = |value: &String| value.split_whitespace().collect::<Vec<_>>().join(" ");
        parts.push(match (before, after) {
            (Some(before), Some(after)) => format!("{name}: {}, was {}", plain(after), plain(before)),
            (None, Some(after)) => format!("{name}: {}", plain(after)),
            _ => format!("{name}: gone"),
        });
    }
    let text = parts.join("; ");
    if text.chars().count() <= MOST_LETTERS {
        return text;
    }
    text.chars().take(MOST_LETTERS).chain(['…']).collect()
}

fn data(brought: &BroughtIn<'_>, counts: &BTreeMap<RecordKind, Count>) -> Value {
    let plan = brought.plan;
    let count = |(kind, count): (&RecordKind, &Count)| json!({ "kind": kind.word(), "new": count.new, "changed": count.changed, "same": count.same });
    let records: Vec<Value> = brought
        .edited
        .records
        .iter()
        .map(|(path, before, _)| json!({ "file": path.to_string(), "new": before.is_none() }))
        .collect();
    let faults: Vec<Value> = plan
        .faults
        .iter()
        .map(|f| json!({ "file": &*f.spot.file, "line": f.spot.line, "message": f.message, "hint": f.hint }))
        .collect();
    json!({
        "ok": true,
        "command": "import",
        "from": brought.from,
        "rows": plan.rows,
        "counts": counts.iter().map(count).collect::<Vec<_>>(),
        "records": records,
        "faults": faults,
        "more_faults": plan.more_faults,
        "change": brought.edited.id.as_ref().map(ToString::to_string),
        "dry_run": brought.dry_run,
        "notes": plan.notes,
    })
}

//! What was changed in the house book, and what was taken back.

use serde_json::json;

use super::{Cell, Column, Report, Table, Tone};
use crate::book::{Entry, StoreProblem, Turn};

/// Changes of the house book, the latest first.
pub fn history(entries: &[&Entry], total: usize, problems: &[StoreProblem], of: &str) -> Report {
    let rows: Vec<_> = entries
        .iter()
        .map(|e| {
            json!({
                "change": e.id.to_string(),
                "at": e.at,
                "who": e.who,
                "what": e.what,
                "turn": turn_word(e),
                "stands": e.stands,
                "files": e.files.iter().map(|f| json!({
                    "file": f.path.to_string(), "before": f.before, "after": f.after,
                })).collect::<Vec<_>>(),
            })
        })
        .collect();
    let data = json!({
        "ok": true,
        "command": "history",
        "total": total,
        "changes": rows,
        "problems": problems.iter().map(ToString::to_string).collect::<Vec<_>>(),
    });
    let title =
        if of.is_empty() { "The house book's history".to_owned() } else { format!("The history of {of}") };
    let mut report = Report::new(title, data);
    if entries.is_empty() {
        report = report.text("Nothing was changed yet.");
    } else {
        let mut table = Table::new([
            Column::left("when"),
            Column::left("who"),
            Column::flexible("what"),
            Column::left(""),
            Column::left("change"),
        ]);
        for entry in entries {
            let when = entry.at.get(..16).unwrap_or(&entry.at).replace('T', " ");
            table.push([
                Cell::from(when),
                Cell::from(entry.who.clone()),
                Cell::new(entry.what.clone(), if entry.stands { Tone::Strong } else { Tone::Quiet }),
                Cell::new(turn_word(entry), Tone::Quiet),
                Cell::new(entry.id.to_string(), Tone::Quiet),
            ]);
        }
        report = report.table(table);
    }
    if total > entries.len() {
        report = report.note(format!("{} of {total}; --limit shows more", entries.len()));
    }
    for problem in problems {
        report = report.note(problem.to_string());
    }
    report.note(
        "times are UTC; 'undo --house' takes the last change back, 'undo --house NAME' the last of a record",
    )
}

/// What there is to say of an entry: nothing for a change that stands.
fn turn_word(entry: &Entry) -> &'static str {
    match (entry.turn, entry.stands) {
        (Turn::Did, true) => "",
        (Turn::Did, false) => "undone",
        (Turn::Undid(_), _) => "undid",
        (Turn::Redid(_), _) => "redid",
    }
}

/// Changes that were taken back, or made again.
pub fn turned_back(word: &'static str, turned: &[Entry]) -> Report {
    let done = if word == "undo" { "taken back" } else { "made again" };
    let data = json!({
        "ok": true,
        "command": word,
        "changes": turned.iter().map(|e| json!({
            "change": e.id.to_string(),
            "what": e.what,
            "files": e.files.iter().map(|f| f.path.to_string()).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
    });
    let title = match turned {
        [one] => format!("In the house book, {done}: {}", one.what),
        several => format!("In the house book, {done}: {} changes", several.len()),
    };
    let mut report = Report::new(title, data);
    if turned.len() > 1 {
        report = report.list(turned.iter().map(|e| e.what.clone()).collect());
    }
    let other = if word == "undo" { "redo" } else { "undo" };
    report.note(format!("'{other} --house' turns it round again"))
}

//! What was taken out of the book.

use serde_json::json;

use super::Report;

/// A file or a folder that was written.
#[derive(Debug)]
pub struct TakenOut {
    /// Where.
    pub to: String,
    /// As what: ron, json, csv, graphml, dot.
    pub form: &'static str,
    /// The files of a folder; none for one file.
    pub files: Vec<String>,
    /// How large it is, in all.
    pub bytes: u64,
    /// How many records of each kind are in it.
    pub counts: Vec<(&'static str, usize)>,
    /// How it is read, and what is not in it.
    pub notes: Vec<String>,
}

/// What was written, and how much of it.
pub fn taken(taken: &TakenOut) -> Report {
    let what = match taken.form {
        "ron" => "a pack",
        "json" => "JSON",
        "csv" if taken.files.is_empty() => "a table",
        "csv" => "tables",
        "graphml" => "a graph (GraphML)",
        _ => "a graph (DOT)",
    };
    let counts: serde_json::Map<String, serde_json::Value> =
        taken.counts.iter().map(|(label, count)| ((*label).to_owned(), json!(count))).collect();
    let data = json!({
        "ok": true,
        "command": "export",
        "to": taken.to,
        "form": taken.form,
        "files": taken.files,
        "bytes": taken.bytes,
        "records": counts,
        "notes": taken.notes,
    });
    let mut facts: Vec<(String, String)> =
        taken.counts.iter().map(|(label, count)| ((*label).to_owned(), count.to_string())).collect();
    if facts.is_empty() {
        facts.push(("records".to_owned(), "none".to_owned()));
    }
    if !taken.files.is_empty() {
        facts.push(("files".to_owned(), taken.files.len().to_string()));
    }
    facts.push(("size".to_owned(), size(taken.bytes)));
    let mut report = Report::new(format!("{}: the book as {what}", taken.to), data).facts(facts);
    for note in &taken.notes {
        report = report.note(note.clone());
    }
    report
}

fn size(bytes: u64) -> String {
    const KIB: u64 = 1024;
    match bytes {
        0..KIB => format!("{bytes} bytes"),
        _ if bytes < KIB * KIB => format!("{} KiB", bytes.div_ceil(KIB)),
        _ => format!("{:.1} MiB", bytes as f64 / (KIB * KIB) as f64),
    }
}

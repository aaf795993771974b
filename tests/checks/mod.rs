//! Figures compared with what others published, and the table of them in docs/model.md.
//!
//! A test that compares names its source; its rows stand under that name in the document, and have to be there.
//! `MEDLAR_WRITE_CHECKS=1 cargo test` writes them anew.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::fs;
use std::path::Path;
use std::sync::Mutex;

/// Figures compared, and those that did not agree.
pub(crate) struct Checks {
    source: &'static str,
    rows: Vec<String>,
    apart: Vec<String>,
}

/// What opens the table in the document.
const HEADING: &str = "## Outside checks\n";

/// Tests of one program run side by side.
static WRITING: Mutex<()> = Mutex::new(());

impl Checks {
    /// Nothing compared yet. Each source stands once.
    pub(crate) fn against(source: &'static str) -> Self {
        Self { source, rows: Vec::new(), apart: Vec::new() }
    }

    /// Compares ours with what was published. A figure that could not be had is not a number, and fails.
    pub(crate) fn near(&mut self, what: &str, published: f64, ours: f64, within: f64) {
        let difference = format!("{:+.5}", ours - published).replace("-0.00000", "+0.00000");
        let row = format!("| {what} | {published} | {ours:.5} | {difference} | {within} |");
        println!("{row}");
        // The last part is for published decimals that binary cannot hold.
        let close = (ours - published).abs() <= within + 1e-9;
        if !close {
            self.apart.push(row.clone());
        }
        self.rows.push(row);
    }

    /// Ends the comparison: all agree, as many were compared as the source has, and the document has each of them.
    pub(crate) fn all_agree(self, expected: usize) {
        assert!(self.apart.is_empty(), "apart:\n{}", self.apart.join("\n"));
        assert_eq!(self.rows.len(), expected, "figures compared");
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/model.md");
        let section = format!(
            "### {}\n\n| quantity | published | ours | difference | allowed |\n| --- | --- | --- | --- | --- |\n{}\n",
            self.source,
            self.rows.join("\n")
        );
        let _writing = WRITING.lock();
        if std::env::var_os("MEDLAR_WRITE_CHECKS").is_some() {
            let text = fs::read_to_string(&path).unwrap();
            fs::write(&path, with_section(&text, self.source, &section)).unwrap();
        }
        let text = fs::read_to_string(&path).unwrap();
        assert!(
            text.contains(&section),
            "docs/model.md does not say this; run the tests with MEDLAR_WRITE_CHECKS=1 and read what changes:\n{section}"
        );
    }
}

/// The document with a section in place of the one of its name, or behind all others of the table.
fn with_section(text: &str, name: &str, section: &str) -> String {
    let (before, table) = text.split_once(HEADING).unwrap();
    let end = table.find("\n## ").map_or(table.len(), |at| at + 1);
    let (table, after) = table.split_at(end);
    let heading = format!("### {name}\n");
    let table = match table.find(&heading) {
        Some(start) => {
            let rest = &table[start + heading.len()..];
            let end = rest.find("\n### ").map_or(rest.len(), |at| at + 1);
            let gap = if end < rest.len() { "\n" } else { "" };
            format!("{}{section}{gap}{}", &table[..start], &rest[end..])
        }
        None => format!("{}\n\n{section}", table.trim_end()),
    };
    let gap = if after.is_empty() { "" } else { "\n" };
    format!("{before}{HEADING}{}\n{gap}{after}", table.trim_end())
}

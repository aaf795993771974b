//! What is wrong with the files of a house book, and what can be done about it.

use serde_json::{Value, json};

use super::phrase::counted;
use super::{Report, faults_text};
use crate::book::{Fault, Source, StoreProblem};

/// Everything that is wrong.
#[derive(Debug)]
pub struct HouseFaults<'a> {
    /// Faults of records.
    pub faults: &'a [Fault],
    /// The texts they are in.
    pub sources: &'a [Source],
    /// Files that are no records, and lines of the history that are none.
    pub problems: Vec<&'a StoreProblem>,
    /// Why none of it could be read, if so.
    pub closed: Option<&'a str>,
}

/// What can be done about it, and what was.
#[derive(Debug)]
pub struct Mends<'a> {
    /// What is wrong.
    pub wrong: &'a HouseFaults<'a>,
    /// What can be done.
    pub mends: Vec<String>,
    /// What only a person can.
    pub by_hand: Vec<String>,
    /// What was done.
    pub done: Vec<String>,
    /// What was tried and failed.
    pub not_done: Vec<String>,
    /// Whether anything was tried.
    pub carried_out: bool,
}

impl HouseFaults<'_> {
    fn count(&self) -> usize {
        self.faults.len() + self.problems.len() + usize::from(self.closed.is_some())
    }

    fn data(&self) -> Value {
        json!({
            "closed": self.closed,
            "faults": self.faults.iter().map(|f| json!({
                "file": f.file,
                "line": f.place.as_ref().map(|p| p.line),
                "column": f.place.as_ref().map(|p| p.column),
                "record": f.record,
                "problem": f.problem.to_string(),
                "hint": f.problem.hint(),
            })).collect::<Vec<_>>(),
            "problems": self.problems.iter().map(|p| json!({
                "file": p.path, "problem": p.trouble.to_string(),
            })).collect::<Vec<_>>(),
        })
    }

    /// Each fault in its place, each problem in a line.
    fn shown(&self, mut report: Report) -> Report {
        if let Some(why) = self.closed {
            report = report.text(format!("The house book is left out: {why}"));
        }
        if !self.faults.is_empty() {
            report = report.drawn(faults_text(self.faults, self.sources));
        }
        if !self.problems.is_empty() {
            report = report.list(self.problems.iter().map(ToString::to_string).collect());
        }
        report
    }
}

/// A report with what is wrong with the house book before it.
pub fn with_house_faults(report: Report, wrong: &HouseFaults<'_>) -> Report {
    let mut data = report.data;
    data["house"] = wrong.data();
    if wrong.count() == 0 {
        return Report { data, ..report };
    }
    let head = Report::new(report.title, data)
        .heading(format!("The house book has {}", counted(wrong.count(), "fault", "faults")));
    let mut head =
        wrong.shown(head).note("'check --mend' says how each could be mended; the rest of the book is read");
    head.blocks.extend(report.blocks);
    head
}

/// How the faults of the house book could be mended, or were.
pub fn mends(told: &Mends<'_>) -> Report {
    let data = json!({
        "ok": true,
        "command": "check",
        "house": told.wrong.data(),
        "mends": told.mends,
        "by_hand": told.by_hand,
        "done": told.done,
        "not_done": told.not_done,
        "carried_out": told.carried_out,
    });
    let count = told.wrong.count();
    let mut report = Report::new("Mending the house book", data);
    if count == 0 {
        return report.text("Nothing is broken: every file was read.");
    }
    if told.carried_out {
        if !told.done.is_empty() {
            report = report.heading("Done").list(told.done.clone());
        }
        if !told.not_done.is_empty() {
            report = report.heading("Not done").list(told.not_done.clone());
        }
    } else {
        report = told.wrong.shown(report);
        if !told.mends.is_empty() {
            report = report
                .heading("What can be done")
                .list(told.mends.clone())
                .note("'check --mend --yes' does it; nothing is deleted: what is moved is in aside/");
        }
    }
    if !told.by_hand.is_empty() {
        report = report
            .heading("What only you can mend")
            .list(told.by_hand.clone())
            .note("the files are plain text: mend them by hand, or 'edit NAME'");
    }
    report
}

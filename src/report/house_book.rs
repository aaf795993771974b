//! The house book as a whole.

use std::path::Path;

use serde_json::json;

use super::Report;
use super::phrase::counted;
use crate::book::{Book, RecordKind};

/// The files of a house book, as they are told.
#[derive(Debug)]
pub struct HouseFilesTold<'a> {
    /// Where they stand.
    pub root: Option<&'a Path>,
    /// How many there are.
    pub records: usize,
    /// How many faults.
    pub faults: usize,
    /// Why none could be read, if so.
    pub closed: Option<&'a str>,
}

/// Where the house book is and what is in it.
pub fn house_book(book: &Book, files: &HouseFilesTold<'_>) -> Report {
    let house = book.house();
    let of = |kind: RecordKind| house.all().filter(|(k, _, _)| *k == kind).count();
    let counts = [
        ("ingredients", of(RecordKind::Ingredient)),
        ("affinities and clashes", of(RecordKind::Bond)),
        ("templates", of(RecordKind::Template)),
        ("specs", of(RecordKind::Spec)),
        ("preps", of(RecordKind::Prep)),
        ("prices", house.prices().len()),
        ("on the back bar", house.stock().len()),
        ("hold-backs", house.hold_backs().len()),
        ("tastings", house.tastings().len()),
        ("weighings", house.weighings().len()),
        ("measures of its own", usize::from(house.measures().is_some())),
    ];
    let place = files.root.map(|root| root.display().to_string());
    let data = json!({
        "ok": true,
        "command": "book",
        "folder": place,
        "records": files.records,
        "faults": files.faults,
        "closed": files.closed,
        "counts": counts.iter().map(|(n, c)| ((*n).to_owned(), json!(c))).collect::<serde_json::Map<_, _>>(),
    });
    let mut facts =
        vec![("folder".to_owned(), place.unwrap_or_else(|| "none; say one with --book DIR".to_owned()))];
    facts.extend(counts.iter().filter(|(_, n)| *n > 0).map(|(name, n)| ((*name).to_owned(), n.to_string())));
    let mut report = Report::new("The house book", data).facts(facts);
    if files.records == 0 && files.closed.is_none() {
        report = report
            .text("Nothing is in it yet. 'new', 'goes', 'save', 'taste', 'price' and 'stock' write into it.");
    }
    if let Some(why) = files.closed {
        report = report.note(format!("it is left out: {why}"));
    }
    if files.faults > 0 {
        report = report.note(format!("{}; 'check' shows them", counted(files.faults, "fault", "faults")));
    }
    report.note(
        "'history' shows what was changed, 'undo --house' takes it back, 'book share' says how bars share it",
    )
}

/// What git runs to merge a record. Where the program cannot be run, git's own merge by lines stands in: without that git
/// would leave our side there as if nothing else had been written.
const DRIVER: &str = "medlar book merge %O %A %B %P || { grep -q '^<<<<<<<' %A && exit 1; git merge-file -L ours -L before -L theirs %A %O %B; }";

/// How to share a house book with git.
pub fn sharing(root: &Path) -> Report {
    let root = root.display().to_string();
    let lines = [
        format!("git -C \"{root}\" init"),
        format!("git -C \"{root}\" config merge.medlar.name \"medlar, field by field\""),
        format!("git -C \"{root}\" config merge.medlar.driver \"{DRIVER}\""),
        format!("git -C \"{root}\" add -A && git -C \"{root}\" commit -m \"the house book\""),
    ];
    let data = json!({ "ok": true, "command": "book", "job": "share", "lines": lines });
    Report::new("Sharing the house book with git", data)
        .text("Once in each bar's copy, at the shell:")
        .list(lines.to_vec())
        .text(
            "Then pull, commit and push as with any repository. Two people who change different records, or different fields of \
             one, never meet; where both changed one field differently, the file shows both and you choose.",
        )
        .note("without the two config lines git merges by lines: more conflicts, and nothing lost")
        .note("the files .gitattributes and .gitignore, which the book has already, tell git what is merged how")
}

/// That two versions of a record were merged.
pub fn merged(name: &str) -> Report {
    Report::new(
        format!("{name}: merged"),
        json!({ "ok": true, "command": "book", "job": "merge", "record": name }),
    )
}

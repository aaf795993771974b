//! Mending a house book: what could be done about each file that cannot be read.

use std::collections::BTreeSet;
use std::fmt;
use std::path::Path;

use super::desk::Desk;
use super::failure::Failure;
use super::keep::path_of;
use crate::book::{
    Leaf, Problem, RecordChange, RecordEdit, RecordKind, RecordPath, StoreProblem, Trouble, check_record,
    pair_stem,
};

/// What could be done about a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Mend {
    /// Move it into `aside`.
    Aside {
        /// The file, seen from the book.
        file: String,
        /// Why.
        why: String,
    },
    /// Move it into `aside`, and put in its place what the history knows last.
    Restore {
        /// The record.
        path: RecordPath,
        /// The text.
        text: String,
        /// Why.
        why: String,
    },
    /// Give it the name and the folder that its record belongs to.
    Move {
        /// The file, seen from the book.
        file: String,
        /// Where it belongs.
        to: RecordPath,
        /// What it says.
        text: String,
    },
}

impl fmt::Display for Mend {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Aside { file, why } => write!(f, "move {file} into aside/: {why}"),
            Self::Restore { path, why, .. } => {
                write!(
                    f,
                    "move {path} into aside/ and put the last good version from the history in its place: {why}"
                )
            }
            Self::Move { file, to, .. } => write!(f, "move {file} to {to}, where its record belongs"),
        }
    }
}

/// What could be mended, and what only a person can.
pub(super) fn mends(desk: &Desk<'_>) -> Result<(Vec<Mend>, Vec<String>), Failure> {
    let house = &desk.library.house;
    let root = desk.root()?;
    let (mut mends, mut by_hand) = (Vec::new(), Vec::new());
    for StoreProblem { path: file, trouble } in &house.problems {
        match mend_of_problem(file, trouble, root, desk)? {
            Some(mend) => mends.push(mend),
            None => by_hand.push(format!("{file}: {trouble}")),
        }
    }
    let mut seen = BTreeSet::new();
    for fault in &house.faults {
        if !seen.insert(&fault.file) {
            continue;
        }
        let inside = Path::new(&fault.file).strip_prefix(root).ok().and_then(|p| p.to_str());
        let Some(path) = inside.and_then(|p| p.parse::<RecordPath>().ok()) else {
            by_hand.push(format!("{}: {}", fault.file, fault.problem));
            continue;
        };
        let why = fault.problem.to_string();
        let mend = match &fault.problem {
            Problem::OtherFormat { found, known } if found > known => None,
            // Which of the two is right only a person knows.
            Problem::UnfinishedMerge { .. } => {
                by_hand.push(format!("{path}: {why}"));
                continue;
            }
            Problem::Misnamed { .. } | Problem::WrongFolder { .. } => moved(&path.to_string(), root, desk)?,
            _ => None,
        };
        let mend = match mend {
            None if !matches!(fault.problem, Problem::OtherFormat { .. }) => last_good(&path, &why, desk)?,
            mend => mend,
        };
        match mend {
            Some(mend) => mends.push(mend),
            None => by_hand.push(format!("{path}: {why}")),
        }
    }
    Ok((mends, by_hand))
}

fn mend_of_problem(
    file: &str,
    trouble: &Trouble,
    root: &Path,
    desk: &Desk<'_>,
) -> Result<Option<Mend>, Failure> {
    let aside = || Mend::Aside { file: file.to_owned(), why: trouble.to_string() };
    Ok(match trouble {
        Trouble::LeftOver => Some(aside()),
        Trouble::NotARecord => Some(moved(file, root, desk)?.unwrap_or_else(aside)),
        Trouble::TooLarge { .. } | Trouble::NotText { .. } | Trouble::Link | Trouble::NotAFile
            if !is_held(file) =>
        {
            match file.parse::<RecordPath>() {
                Ok(path) => Some(last_good(&path, &trouble.to_string(), desk)?.unwrap_or_else(aside)),
                Err(_) => Some(aside()),
            }
        }
        _ => None,
    })
}

/// Whether the store itself holds a file: it moves none of those.
fn is_held(file: &str) -> bool {
    let first = file.split('/').next().unwrap_or_default();
    ["history", "house.ron", ".writer", ".lock"].contains(&first)
}

/// The mend of a file that stands in the wrong place, if its right place is free.
fn moved(file: &str, root: &Path, desk: &Desk<'_>) -> Result<Option<Mend>, Failure> {
    let path = root.join(file);
    let fits = std::fs::symlink_metadata(&path)
        .is_ok_and(|f| f.is_file() && f.len() <= crate::book::MOST_RECORD_BYTES);
    let Some(text) = fits.then(|| std::fs::read_to_string(&path).ok()).flatten() else { return Ok(None) };
    let Some(to) = place_of(&text) else { return Ok(None) };
    if to.to_string() == file || desk.store()?.text(&to)?.is_some() {
        return Ok(None);
    }
    let whole = check_record(desk.library.packs_alone(), &desk.library.book, &to, &text, root).is_empty();
    Ok(whole.then(|| Mend::Move { file: file.to_owned(), to, text }))
}

/// Where a text belongs, by what it says.
fn place_of(text: &str) -> Option<RecordPath> {
    let leaf = Leaf::parse(text).ok()?;
    let kind = RecordKind::ALL.into_iter().find(|kind| kind.word() == leaf.kind())?;
    let quoted = |field: &str| leaf.get(&[field]).map(|value| value.trim_matches('"').to_owned());
    let stem = match kind {
        RecordKind::Bond => {
            let pair = leaf.get(&["between"])?;
            let ids: Vec<&str> = pair.split('"').skip(1).step_by(2).collect();
            let [a, b] = ids.as_slice() else { return None };
            pair_stem(a, b)
        }
        RecordKind::Prep => quoted("makes")?,
        RecordKind::Price | RecordKind::Stock | RecordKind::HoldBack => quoted("of")?,
        RecordKind::Measures => kind.word().to_owned(),
        _ => quoted("id")?,
    };
    path_of(kind, &stem).ok()
}

/// The mend of a record that cannot be read: the last text of the history that checks, or none.
fn last_good(path: &RecordPath, why: &str, desk: &Desk<'_>) -> Result<Option<Mend>, Failure> {
    let Some(text) = desk.store()?.last_good(path)? else { return Ok(None) };
    let root = desk.root()?;
    // Through the store, which follows no link and waits for no pipe.
    let is_same = desk.store()?.text(path).is_ok_and(|now| now.as_deref() == Some(text.as_str()));
    let whole = check_record(desk.library.packs_alone(), &desk.library.book, path, &text, root).is_empty();
    Ok((whole && !is_same).then(|| Mend::Restore { path: path.clone(), text, why: why.to_owned() }))
}

impl Mend {
    /// Does it; nothing is deleted. Says what was done.
    pub(super) fn carry_out(&self, desk: &Desk<'_>) -> Result<String, Failure> {
        let (store, occasion) = (desk.store()?, desk.occasion()?);
        match self {
            Self::Aside { file, .. } => {
                let place = store.set_aside(&occasion, file)?;
                Ok(format!("{file} is in {place} now"))
            }
            Self::Restore { path, text, .. } => {
                let place = store.set_aside(&occasion, &path.to_string())?;
                let edit = RecordEdit { path: path.clone(), change: RecordChange::Text(text.clone()) };
                desk.keep(&format!("mend {path}"), &[edit], false)?;
                Ok(format!("{path} is as the history knew it last; what stood there is in {place}"))
            }
            Self::Move { file, to, text } => {
                let edit = RecordEdit { path: to.clone(), change: RecordChange::Text(text.clone()) };
                desk.keep(&format!("mend {to}"), &[edit], false)?;
                let place = store.set_aside(&occasion, file)?;
                Ok(format!("{to} holds what {file} did; the file itself is in {place}"))
            }
        }
    }
}

//! `undo --house` and `redo --house`: a change of the house book taken back, or made again.

use super::record::record_named;
use crate::book::{ChangeId, Entry, IngredientId, RecordKind, RecordPath, StoreFault, Which, mentions};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::report;

/// Which way to go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    Back,
    Again,
}

impl Way {
    const fn word(self) -> &'static str {
        match self {
            Self::Back => "undo",
            Self::Again => "redo",
        }
    }
}

/// Most changes that are taken back at once.
const MOST: usize = 10_000;

/// Takes changes of the house book back, or makes them again: the last, a number of them, all, those of a record, or one by
/// its name in the history.
pub(super) fn turn(way: Way, text: &str, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = text.trim();
    let all = text.eq_ignore_ascii_case("all");
    let count = if all { Ok(MOST) } else { text.parse::<usize>() };
    let mut turned: Vec<Entry> = Vec::new();
    if text.is_empty() || count.as_ref().is_ok_and(|n| *n > 0) {
        for _ in 0..count.unwrap_or(1) {
            match one(way, &Which::Last, &turned, desk) {
                Ok(entry) => turned.push(entry),
                // What could be taken back is; the rest is told only if it is all there was.
                Err(failure) if turned.is_empty() => return Err(failure),
                Err(_) => break,
            }
        }
    } else {
        let which = match text.parse::<ChangeId>() {
            Ok(id) => Which::Change(id),
            Err(_) => Which::Of(record_named(text, &desk.store()?.history().map_err(Failure::from)?, desk)?),
        };
        turned.push(one(way, &which, &[], desk)?);
    }
    Ok(Answer { changed: true, ..Answer::new(report::turned_back(way.word(), &turned)) })
}

fn one(way: Way, which: &Which, before: &[Entry], desk: &Desk<'_>) -> Result<Entry, Failure> {
    let (store, occasion) = (desk.store()?, desk.occasion()?);
    let turned = match way {
        Way::Back => match store.to_undo(which) {
            Ok(entry) => {
                still_needed(&entry, before, desk)?;
                store.undo(&occasion, &Which::Change(entry.id))
            }
            Err(fault) => Err(fault),
        },
        Way::Again => store.redo(&occasion, which),
    };
    turned.map(|changed| changed.value).map_err(|fault| refused(way, fault))
}

fn refused(way: Way, fault: StoreFault) -> Failure {
    let hint = match &fault {
        StoreFault::InTheWay { by: Some(by), .. } => {
            Some(format!("'{} --house {by}' takes that one first; 'history' lists them", way.word()))
        }
        StoreFault::InTheWay { by: None, .. } => {
            Some("'history' shows what it said; bring it back by hand, or leave it".to_owned())
        }
        StoreFault::NothingToUndo | StoreFault::NothingToRedo => {
            Some("'history' shows what was done".to_owned())
        }
        _ => None,
    };
    let failure = Failure::from(fault);
    match hint {
        Some(hint) => failure.hint(hint),
        None => failure,
    }
}

/// Refuses to take away a record of which others still speak. What was taken back `before` in the same go is gone already.
fn still_needed(entry: &Entry, before: &[Entry], desk: &Desk<'_>) -> Result<(), Failure> {
    let (book, packs) = (&desk.library.book, desk.library.packs_alone());
    let gone =
        |path: &RecordPath| entry.file(path).is_some() || before.iter().any(|e| e.file(path).is_some());
    let of_packs = |path: &RecordPath| {
        let id = IngredientId::new(path.stem());
        path.kind() == RecordKind::Ingredient && id.is_ok_and(|id| packs.ingredient(&id).is_some())
    };
    for file in entry.files.iter().filter(|f| f.before.is_none() && !of_packs(&f.path)) {
        let speaks = mentions(book, file.path.kind(), file.path.stem());
        let left: Vec<String> = speaks.iter().filter(|p| !gone(p)).map(ToString::to_string).collect();
        if let Some(first) = left.first() {
            return Err(Failure::mistake(format!(
                "{} would go, but {} of the book still speak{} of it: {}",
                file.path,
                if left.len() == 1 { "a record".to_owned() } else { format!("{} records", left.len()) },
                if left.len() == 1 { "s" } else { "" },
                left.iter().take(5).cloned().collect::<Vec<_>>().join(", "),
            ))
            .hint(format!("take those back first: undo --house {first}")));
        }
    }
    Ok(())
}

impl From<StoreFault> for Failure {
    fn from(fault: StoreFault) -> Self {
        Self::mistake(fault.to_string())
    }
}

//! `undo --house` and `redo --house`: a change of the house book taken back, or made again.

use super::record::record_named;
use crate::book::{
    ChangeId, Entry, History, IngredientId, RecordKind, RecordPath, StoreFault, Which, mentions,
    mentions_of_drink,
};
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
    if way == Way::Back {
        still_needed(which, &store.history().map_err(Failure::from)?, before, desk)?;
    }
    let turned = match way {
        Way::Back => store.undo(&occasion, which),
        Way::Again => store.redo(&occasion, which),
    };
    turned.map(|changed| changed.value).map_err(|fault| refused(way, which, fault))
}

fn refused(way: Way, which: &Which, fault: StoreFault) -> Failure {
    let in_the_way = if let StoreFault::InTheWay { by, .. } = &fault { Some(*by) } else { None };
    let nothing = matches!(fault, StoreFault::NothingToUndo | StoreFault::NothingToRedo);
    let failure = Failure::from(fault);
    match (in_the_way, which) {
        (Some(Some(by)), _) => {
            failure.hint(format!("'{} --house {by}' takes that one first; 'history' lists them", way.word()))
        }
        (Some(None), _) => failure.hint("'history' shows what it said; bring it back by hand, or leave it"),
        _ if nothing => failure.hint("'history' shows what was done"),
        _ => failure,
    }
}

/// Refuses to take away a record of which others still speak. What was taken back `before` in the same go is gone already.
fn still_needed(which: &Which, history: &History, before: &[Entry], desk: &Desk<'_>) -> Result<(), Failure> {
    let mut standing = history.entries.iter().rev().filter(|e| e.stands);
    let entry = match which {
        Which::Change(id) => standing.find(|e| e.id == *id),
        Which::Of(path) => standing.find(|e| e.file(path).is_some()),
        // The last of this clone is not told apart here; the last of all is the same but for a moment.
        Which::Last => standing.next(),
    };
    let Some(entry) = entry else { return Ok(()) };
    let gone =
        |path: &RecordPath| entry.file(path).is_some() || before.iter().any(|e| e.file(path).is_some());
    for file in entry.files.iter().filter(|f| f.before.is_none()) {
        let speaks = match file.path.kind() {
            RecordKind::Ingredient => {
                let Ok(id) = IngredientId::new(file.path.stem()) else { continue };
                if desk.library.packs_alone().ingredient(&id).is_some() {
                    continue;
                }
                mentions(&desk.library.book, &id)
            }
            RecordKind::Spec | RecordKind::Template => {
                mentions_of_drink(&desk.library.book, file.path.stem())
            }
            _ => continue,
        };
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

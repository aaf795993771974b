//! Undoing a change and doing it again.

use std::collections::HashSet;

use super::disk::Disk;
use super::fault::StoreFault;
use super::history::{Entry, History};
use super::log::{ChangeId, FileChange, Turn, Writer};
use super::path::RecordPath;
use super::{Changed, Occasion, Store};

/// Which change is meant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Which {
    /// The last one that was made in this clone of the book.
    Last,
    /// The last one of a record, by anyone.
    Of(RecordPath),
    /// The one of this name.
    Change(ChangeId),
}

impl<D: Disk> Store<D> {
    /// The change that [`undo`](Self::undo) would take back now.
    ///
    /// # Errors
    /// [`StoreFault`] if there is none, or the history cannot be read.
    pub fn to_undo(&self, which: &Which) -> Result<Entry, StoreFault> {
        to_undo(&self.history()?, which, self.writer()?).cloned()
    }

    /// Takes a change back; that is a change itself, and gives back the one that was undone.
    ///
    /// # Errors
    /// [`StoreFault::InTheWay`] if one of its files has another text by now: nothing is undone then.
    /// [`StoreFault::NothingToUndo`] if there is none that stands.
    pub fn undo(&self, occasion: &Occasion, which: &Which) -> Result<Changed<Entry>, StoreFault> {
        self.turn(occasion, "undo", |history, writer| {
            let entry = to_undo(history, which, writer)?;
            let back = |file: &FileChange| FileChange {
                path: file.path.clone(),
                before: file.after.clone(),
                after: file.before.clone(),
            };
            Ok((entry, Turn::Undid(entry.id), entry.files.iter().map(back).collect()))
        })
    }

    /// Makes an undone change again; that is a change itself, and gives back the one that was made again.
    ///
    /// With [`Which::Last`] it is the one that was undone last in this clone, if nothing else was changed there since.
    ///
    /// # Errors
    /// [`StoreFault::InTheWay`] if one of its files has another text by now: nothing is done then.
    /// [`StoreFault::NothingToRedo`] if there is none that was undone.
    pub fn redo(&self, occasion: &Occasion, which: &Which) -> Result<Changed<Entry>, StoreFault> {
        self.turn(occasion, "redo", |history, writer| {
            let entry = to_redo(history, which, writer)?;
            Ok((entry, Turn::Redid(entry.id), entry.files.clone()))
        })
    }

    fn turn(
        &self,
        occasion: &Occasion,
        word: &str,
        find: impl FnOnce(&History, Option<Writer>) -> Result<(&Entry, Turn, Vec<FileChange>), StoreFault>,
    ) -> Result<Changed<Entry>, StoreFault> {
        let mut hold = self.hold(occasion, word)?;
        let history = self.histories(true)?;
        let (entry, turn, files) = find(&history, hold.writer)?;
        for file in &files {
            let now = self.now(&file.path)?;
            if now != file.before {
                return Err(StoreFault::InTheWay {
                    path: file.path.clone(),
                    by: author(&history, &file.path, now.as_ref()),
                });
            }
        }
        let id = self.commit(&mut hold, occasion, &format!("{word} {}", entry.id), turn, files)?;
        Ok(Changed { value: entry.clone(), id: Some(id) })
    }
}

/// The last change that gave a record its text; none if it was changed by hand since.
fn author(history: &History, path: &RecordPath, now: Option<&String>) -> Option<ChangeId> {
    let last = history.entries.iter().rev().find(|entry| entry.file(path).is_some())?;
    last.file(path).filter(|file| file.after.as_ref() == now).map(|_| last.id)
}

fn to_undo<'a>(history: &'a History, which: &Which, writer: Option<Writer>) -> Result<&'a Entry, StoreFault> {
    let mut standing = history.entries.iter().rev().filter(|entry| entry.stands);
    match which {
        Which::Last => standing.find(|entry| Some(entry.id.writer) == writer),
        Which::Of(path) => standing.find(|entry| entry.file(path).is_some()),
        Which::Change(id) => Some(named(history, *id)?).filter(|entry| entry.stands),
    }
    .ok_or(StoreFault::NothingToUndo)
}

fn to_redo<'a>(history: &'a History, which: &Which, writer: Option<Writer>) -> Result<&'a Entry, StoreFault> {
    let undone = |id: ChangeId| history.entry(id).filter(|entry| !entry.stands);
    match which {
        Which::Last => {
            // Back to the last change of its own, over what was undone and what of that was done again.
            let own = history.entries.iter().rev().filter(|entry| Some(entry.id.writer) == writer);
            own.take_while(|entry| entry.turn != Turn::Did).find_map(|entry| match entry.turn {
                Turn::Undid(of) => undone(of),
                Turn::Did | Turn::Redid(_) => None,
            })
        }
        Which::Of(path) => {
            let mut seen = HashSet::new();
            history.entries.iter().rev().find_map(|entry| match entry.turn {
                // The last turn of each is the one that counts.
                Turn::Undid(of) if seen.insert(of) => undone(of).filter(|entry| entry.file(path).is_some()),
                Turn::Redid(of) => {
                    seen.insert(of);
                    None
                }
                _ => None,
            })
        }
        Which::Change(id) => Some(named(history, *id)?).filter(|entry| !entry.stands),
    }
    .ok_or(StoreFault::NothingToRedo)
}

fn named(history: &History, id: ChangeId) -> Result<&Entry, StoreFault> {
    let entry = history.entry(id).ok_or(StoreFault::NoSuchChange(id))?;
    match entry.turn {
        Turn::Did => Ok(entry),
        Turn::Undid(of) | Turn::Redid(of) => Err(StoreFault::ATurn { id, of }),
    }
}

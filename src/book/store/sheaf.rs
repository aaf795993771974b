//! The records a change reads and writes.

use std::collections::BTreeMap;

use super::disk::Disk;
use super::fault::StoreFault;
use super::log::FileChange;
use super::path::RecordPath;
use super::{MOST_BYTES, Store};

/// One record in a change.
#[derive(Debug)]
struct Leaf {
    before: Option<String>,
    now: Option<String>,
}

/// The records of a book in the middle of a change: what is read is as it is now, and what is written is written when
/// the change is made.
#[derive(Debug)]
pub struct Sheaf<'a, D: Disk> {
    store: &'a Store<D>,
    leaves: BTreeMap<RecordPath, Leaf>,
}

impl<'a, D: Disk> Sheaf<'a, D> {
    pub(super) fn new(store: &'a Store<D>) -> Self {
        Self { store, leaves: BTreeMap::new() }
    }

    fn leaf(&mut self, path: &RecordPath) -> Result<&mut Leaf, StoreFault> {
        if !self.leaves.contains_key(path) {
            let before = self.store.now(path)?;
            self.leaves.insert(path.clone(), Leaf { now: before.clone(), before });
        }
        // Just put in.
        Ok(self.leaves.entry(path.clone()).or_insert(Leaf { before: None, now: None }))
    }

    /// The text of a record as it is now, with what this change wrote; none if there is no such record.
    ///
    /// # Errors
    /// [`StoreFault`] if it is there and cannot be read.
    pub fn read(&mut self, path: &RecordPath) -> Result<Option<String>, StoreFault> {
        Ok(self.leaf(path)?.now.clone())
    }

    /// Gives a record a text, new or in place of what it says.
    ///
    /// # Errors
    /// [`StoreFault`] if what is there cannot be read: it is not written over unseen. Too large a text is refused.
    pub fn write(&mut self, path: &RecordPath, text: impl Into<String>) -> Result<(), StoreFault> {
        let text = text.into();
        if text.len() as u64 > MOST_BYTES {
            return Err(StoreFault::TooLarge { path: path.clone(), bytes: text.len(), most: MOST_BYTES });
        }
        self.leaf(path)?.now = Some(text);
        Ok(())
    }

    /// Takes a record away; its text stays in the history.
    ///
    /// # Errors
    /// [`StoreFault`] if what is there cannot be read.
    pub fn remove(&mut self, path: &RecordPath) -> Result<(), StoreFault> {
        self.leaf(path)?.now = None;
        Ok(())
    }

    /// What is to be changed in the end.
    pub(super) fn net(self) -> Vec<FileChange> {
        self.leaves
            .into_iter()
            .filter(|(_, leaf)| leaf.before != leaf.now)
            .map(|(path, leaf)| FileChange { path, before: leaf.before, after: leaf.now })
            .collect()
    }
}

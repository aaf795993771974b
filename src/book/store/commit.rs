//! Making a change: files beside, the record in the history, the names.

use std::collections::BTreeSet;
use std::io::ErrorKind;
use std::path::Path;

use super::disk::{Disk, FileKind};
use super::fault::{StoreFault, Trouble};
use super::hold::{Hold, beside};
use super::log::{Change, ChangeId, FileChange, Line, Turn};
use super::path::RecordPath;
use super::start::{log_of, text_of};
use super::{MOST_BYTES, Occasion, Store};
use crate::book::record_kind::RecordKind;

impl<D: Disk> Store<D> {
    /// A record as it is now; none if it is not there.
    pub(super) fn now(&self, path: &RecordPath) -> Result<Option<String>, StoreFault> {
        let record = |trouble| StoreFault::Record { path: path.to_string(), trouble };
        let folder = Path::new(path.kind().folder());
        let file = path.file();
        for (place, wanted) in [(folder, FileKind::Folder), (&file, FileKind::File)] {
            match self.disk.facts(place) {
                Ok(facts) if facts.kind == wanted => {}
                Ok(facts) if facts.kind == FileKind::Link => return Err(record(Trouble::Link)),
                Ok(_) if wanted == FileKind::Folder => return Err(record(Trouble::NotAFolder)),
                Ok(_) => return Err(record(Trouble::NotAFile)),
                Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
                Err(error) => return Err(StoreFault::io("look at it", path, error)),
            }
        }
        match self.disk.read(&file, MOST_BYTES) {
            Ok(bytes) => text_of(bytes).map(Some).map_err(record),
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
            Err(error) => Err(StoreFault::io("read it", path, error)),
        }
    }

    /// Makes a change of files whose texts are known, under the lock.
    ///
    /// The files are written beside before the history tells of them, so that a full disk is met before anything counts.
    /// The line in the history is the moment from which the change is made.
    pub(super) fn commit(
        &self,
        hold: &mut Hold<'_, D>,
        occasion: &Occasion,
        what: &str,
        turn: Turn,
        files: Vec<FileChange>,
    ) -> Result<ChangeId, StoreFault> {
        // Until the end, the next program has to look after what a failure leaves.
        hold.clean = false;
        let writer = self.start(occasion.dice)?;
        hold.writer = Some(writer);
        let log = log_of(writer);
        let tail = self.tail(&log)?;
        self.mend_tail(&log, &tail)?;
        hold.number = hold.number.max(tail.number) + 1;
        let id = ChangeId { writer, number: hold.number };
        self.make_record_folders(&files)?;
        let change = Change {
            id,
            at: occasion.at.clone(),
            who: occasion.who.clone(),
            what: what.to_owned(),
            turn,
            files,
        };

        let recorded = self.prepare(&change).and_then(|()| {
            let start = if tail.stretch.open { "\n" } else { "" };
            self.record(&log, tail.stretch.end, start, &change)
        });
        if let Err(fault) = recorded {
            self.clear(&change);
            return Err(fault);
        }
        if let Err(fault) = self.put_in_place(&change) {
            self.take_back(&log, &change)
                .map_err(|e| StoreFault::Unfinished { id, source: e.source_error() })?;
            self.clear(&change);
            return Err(fault);
        }
        // The change is made and flushed. If this line is missing, the next program finds that out and adds it.
        hold.clean = self.note_down(&log, &Line::Done(id)).is_ok();
        Ok(id)
    }

    fn make_record_folders(&self, files: &[FileChange]) -> Result<(), StoreFault> {
        let mut made = false;
        for kind in kinds(files, |file| file.after.is_some()) {
            made |= self.make_folder(Path::new(kind.folder()))?;
        }
        if made { self.sync(Path::new("")) } else { Ok(()) }
    }

    /// Writes the new texts beside, and sees that no file was changed while they were made.
    fn prepare(&self, change: &Change) -> Result<(), StoreFault> {
        for (n, FileChange { path, after, .. }) in change.files.iter().enumerate() {
            if let Some(text) = after {
                self.write_beside(&beside(change.id, n, path.kind()), Some(&path.file()), text)?;
            }
        }
        for FileChange { path, before, .. } in &change.files {
            if self.now(path)? != *before {
                return Err(StoreFault::InTheWay { path: path.clone(), by: None });
            }
        }
        Ok(())
    }

    /// Adds the change to the history.
    fn record(&self, log: &Path, end: u64, start: &str, change: &Change) -> Result<(), StoreFault> {
        let doing = "write the history";
        let line = Line::Change(change.clone())
            .encoded()
            .map_err(|e| StoreFault::io("put the change into a line", log.display(), e))?;
        match self.disk.append(log, format!("{start}{line}").as_bytes()) {
            Ok(()) => Ok(()),
            // Some of it may be there, even all of it: what is told as failed must not come about later.
            Err(source) => match self.disk.truncate(log, end) {
                Ok(()) => Err(StoreFault::io(doing, log.display(), source)),
                Err(_) => Err(StoreFault::Unsure { id: change.id, source }),
            },
        }
    }

    /// Takes away what was written beside. What stays is swept by the next change.
    fn clear(&self, change: &Change) {
        for (n, file) in change.files.iter().enumerate() {
            let _ = self.disk.remove(&beside(change.id, n, file.path.kind()));
        }
    }

    fn put_in_place(&self, change: &Change) -> Result<(), StoreFault> {
        match self.apply(change, true)?.into_iter().next() {
            Some(path) => Err(StoreFault::InTheWay { path, by: None }),
            None => Ok(()),
        }
    }

    /// Brings the files of a change to their texts after, and flushes their names. What is neither as before nor as after
    /// was changed by hand: it stays, and is named.
    ///
    /// `ready`: the texts are written beside already.
    pub(super) fn apply(&self, change: &Change, ready: bool) -> Result<Vec<RecordPath>, StoreFault> {
        let mut by_hand = Vec::new();
        for (n, FileChange { path, before, after }) in change.files.iter().enumerate() {
            match self.now(path) {
                Ok(now) if now == *after => {}
                Ok(now) if now == *before => self.place(change.id, n, path, after.as_deref(), ready)?,
                Ok(_) | Err(StoreFault::Record { .. }) => by_hand.push(path.clone()),
                Err(fault) => return Err(fault),
            }
        }
        // Also where nothing was to be done: a program that was stopped may not have flushed it.
        for kind in kinds(&change.files, |_| true) {
            let folder = Path::new(kind.folder());
            if self.is_there(folder)? {
                self.sync(folder)?;
            }
        }
        Ok(by_hand)
    }

    /// Gives one file its text.
    fn place(
        &self,
        id: ChangeId,
        n: usize,
        path: &RecordPath,
        text: Option<&str>,
        ready: bool,
    ) -> Result<(), StoreFault> {
        let file = path.file();
        let Some(text) = text else {
            return match self.disk.remove(&file) {
                Err(error) if error.kind() == ErrorKind::NotFound => Ok(()),
                done => done.map_err(|e| StoreFault::io("take it away", path, e)),
            };
        };
        let beside = beside(id, n, path.kind());
        if !ready {
            let folder = Path::new(path.kind().folder());
            if self.make_folder(folder)? {
                self.sync(Path::new(""))?;
            }
            self.write_beside(&beside, Some(&file), text)?;
        }
        self.disk.rename(&beside, &file).map_err(|e| StoreFault::io("put the new text in place", path, e))
    }

    /// Brings the files back to their texts before, and says in the history that the change was not made.
    ///
    /// Until that line is there the change counts, whatever the files say; so a stop in between is harmless.
    fn take_back(&self, log: &Path, change: &Change) -> Result<(), StoreFault> {
        let back = |file: &FileChange| FileChange {
            path: file.path.clone(),
            before: file.after.clone(),
            after: file.before.clone(),
        };
        let reverse = Change { files: change.files.iter().map(back).collect(), ..change.clone() };
        self.apply(&reverse, false)?;
        let tail = self.tail(log)?;
        self.mend_tail(log, &tail)?;
        self.note_down(log, &Line::NotDone(change.id))
    }
}

fn kinds(files: &[FileChange], which: impl Fn(&FileChange) -> bool) -> BTreeSet<RecordKind> {
    files.iter().filter(|file| which(file)).map(|file| file.path.kind()).collect()
}

//! Reading a whole book.

use std::collections::{BTreeMap, BTreeSet};
use std::ffi::OsStr;
use std::fmt::Write;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use super::disk::{Disk, FileKind};
use super::fault::{StoreFault, StoreProblem, Trouble};
use super::hold::{Words, beside_of};
use super::log::Writer;
use super::path::RecordPath;
use super::start::{House, log_of, text_of};
use super::{ASIDE, HISTORY, HOUSE, MOST_BYTES, MOST_FILES, Store};
use crate::book::record_kind::RecordKind;

/// How often a book is read anew because its history was replaced meanwhile.
const TRIES: usize = 5;

/// From how many files on two threads are used.
const MANY: usize = 256;

/// What tells whether a book may have changed: if two are equal, no record was added, removed or changed by a program in
/// between. A file changed in place by hand does not show.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct Stamp(Vec<(String, u64, u128)>);

/// What a book holds.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Contents {
    /// The texts of the records.
    pub texts: BTreeMap<RecordPath, String>,
    /// What could not be read, or should not be there, by path.
    pub problems: Vec<StoreProblem>,
    /// Taken before reading.
    pub stamp: Stamp,
    /// Whether there is a book at all.
    pub exists: bool,
}

/// What stands where.
#[derive(Debug, Default)]
struct Survey {
    files: Vec<(RecordPath, PathBuf)>,
    problems: Vec<StoreProblem>,
    temporary: Vec<PathBuf>,
    exists: bool,
}

/// What was read.
#[derive(Debug, Default)]
pub(super) struct Found {
    pub texts: BTreeMap<RecordPath, String>,
    /// Records that are there and cannot be read.
    pub troubled: BTreeSet<RecordPath>,
    problems: Vec<StoreProblem>,
}

/// What reading one file gave; none if it was gone.
type Read = (RecordPath, Option<Result<String, Trouble>>);

/// A name as it can be shown.
pub(super) fn shown(path: &Path) -> String {
    let mut text = String::new();
    for c in path.to_string_lossy().chars() {
        if c.is_control() {
            // Writing to a string cannot fail.
            let _ = write!(text, "{}", c.escape_unicode());
        } else {
            text.push(c);
        }
    }
    text
}

fn problem(path: &Path, trouble: Trouble) -> StoreProblem {
    StoreProblem { path: shown(path), trouble }
}

fn unreadable(error: &io::Error) -> Trouble {
    Trouble::Unreadable { why: error.to_string() }
}

/// What is wrong with a file that the book needs becomes a problem.
fn told<T>(answer: Result<T, StoreFault>, problems: &mut Vec<StoreProblem>) -> Result<Option<T>, StoreFault> {
    match answer {
        Ok(value) => return Ok(Some(value)),
        Err(StoreFault::Needed { path, trouble }) => problems.push(StoreProblem { path, trouble }),
        Err(StoreFault::Io { path, source, .. }) => {
            problems.push(StoreProblem { path, trouble: unreadable(&source) });
        }
        Err(fault) => return Err(fault),
    }
    Ok(None)
}

fn is_temporary(name: &OsStr) -> bool {
    name.as_encoded_bytes().ends_with(b".tmp")
}

impl<D: Disk> Store<D> {
    /// Reads every record. No lock is needed, and the folder need not be writable; a change that is being made
    /// meanwhile is seen whole or not at all. A folder that is not there is an empty book.
    ///
    /// # Errors
    /// [`StoreFault`] if the book is of a later version, or cannot be read at all. What is wrong with single files is a
    /// problem among the contents.
    pub fn read(&self) -> Result<Contents, StoreFault> {
        for _ in 0..TRIES {
            if let Some(contents) = self.read_once()? {
                return Ok(contents);
            }
        }
        Err(StoreFault::Moving)
    }

    /// Reads every record; none if the history was replaced meanwhile.
    fn read_once(&self) -> Result<Option<Contents>, StoreFault> {
        let stamp = self.stamp().map_err(|e| StoreFault::io("read the book", ".", e))?;
        let mut problems = Vec::new();
        // One that cannot be taken as it is does not keep from reading the rest.
        let house = told(self.house(), &mut problems)?.unwrap_or(House::Good);
        let named = self.told_writer(&mut problems)?;
        let log = named.map(log_of);
        let mark = match &log {
            Some(log) => self.mark(log, &mut problems)?,
            None => None,
        };
        let survey = self.survey()?;
        let mut found = self.read_files(&survey.files);
        let settled = match (&log, mark) {
            (Some(log), Some(mark)) => self.settle(log, mark, &mut found)?,
            // The history cannot be read, which is told.
            (Some(_), None) => true,
            // A history may have been begun meanwhile.
            (None, _) => self.told_writer(&mut Vec::new())?.is_none(),
        };
        if !settled {
            return Ok(None);
        }
        problems.extend(survey.problems);
        problems.append(&mut found.problems);
        problems.extend(self.left_over(named, survey.temporary));
        match house {
            House::Missing if survey.exists => problems.push(problem(Path::new(HOUSE), Trouble::NoHouse)),
            House::Broken(why) => problems.push(problem(Path::new(HOUSE), Trouble::BrokenHouse { why })),
            House::Missing | House::Good => {}
        }
        problems.sort();
        Ok(Some(Contents { texts: found.texts, problems, stamp, exists: survey.exists }))
    }

    fn told_writer(&self, problems: &mut Vec<StoreProblem>) -> Result<Option<Writer>, StoreFault> {
        Ok(told(self.writer(), problems)?.flatten())
    }

    /// The place in the history from which on its lines say what is being changed; none if it cannot be read.
    fn mark(&self, log: &Path, problems: &mut Vec<StoreProblem>) -> Result<Option<u64>, StoreFault> {
        let Some(mut tail) = told(self.tail(log), problems)? else { return Ok(None) };
        if tail.stretch.torn {
            // Perhaps it was being written just then.
            tail = self.tail(log)?;
        }
        if tail.stretch.torn {
            problems.push(problem(log, Trouble::Torn));
        }
        for &at in &tail.stretch.bad {
            problems.push(problem(log, Trouble::BadLine { at }));
        }
        Ok(Some(tail.pending().map_or(tail.stretch.end, |(place, _)| place)))
    }

    /// Tells whether the book may have changed since; cheap.
    ///
    /// # Errors
    /// What the system says.
    pub fn stamp(&self) -> io::Result<Stamp> {
        let mut marks = Vec::new();
        let facts = |file: &Path| match self.disk.facts(file) {
            Ok(facts) => Ok(Some(facts)),
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error),
        };
        for folder in RecordKind::ALL.map(RecordKind::folder) {
            if let Some(facts) = facts(Path::new(folder))? {
                marks.push((folder.to_owned(), 0, facts.changed));
            }
        }
        if let Some(house) = facts(Path::new(HOUSE))? {
            marks.push((HOUSE.to_owned(), house.bytes, house.changed));
        }
        // A history that cannot be looked at is told of when it is read, and hides no record.
        let mut histories = self.disk.list(Path::new(HISTORY)).unwrap_or_default();
        histories.sort_by(|a, b| a.0.cmp(&b.0));
        for (name, _) in histories {
            let file = Path::new(HISTORY).join(name);
            if let Ok(facts) = self.disk.facts(&file) {
                marks.push((shown(&file), facts.bytes, 0));
            }
        }
        Ok(Stamp(marks))
    }

    /// Lists the folders of the book.
    fn survey(&self) -> Result<Survey, StoreFault> {
        let mut survey = Survey::default();
        let names = match self.disk.list(Path::new("")) {
            Ok(names) => names,
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(survey),
            Err(error) => return Err(StoreFault::io("read the book", ".", error)),
        };
        let mut count = 0;
        for (name, kind) in names {
            let path = PathBuf::from(&name);
            let folder = name.to_str().and_then(RecordKind::in_folder);
            if let Some(folder) = folder {
                survey.exists = true;
                match kind {
                    FileKind::Folder => self.survey_folder(folder, &mut count, &mut survey),
                    FileKind::Link => survey.problems.push(problem(&path, Trouble::Link)),
                    _ => survey.problems.push(problem(&path, Trouble::NotAFolder)),
                }
            } else if name == HOUSE || name == HISTORY {
                survey.exists = true;
                match kind {
                    FileKind::Link if name == HISTORY => survey.problems.push(problem(&path, Trouble::Link)),
                    FileKind::File | FileKind::Other if name == HISTORY => {
                        survey.problems.push(problem(&path, Trouble::NotAFolder));
                    }
                    _ => {}
                }
            } else if is_temporary(&name) {
                survey.temporary.push(path);
            } else if self.looks_like_records(&path, kind) {
                survey.problems.push(problem(&path, Trouble::NotARecord));
            }
        }
        Ok(survey)
    }

    /// Whether something beside the folders seems meant to be read: a record, or a folder of records.
    fn looks_like_records(&self, path: &Path, kind: FileKind) -> bool {
        let hidden = path.as_os_str().as_encoded_bytes().starts_with(b".");
        let is_record = |name: &OsStr| name.as_encoded_bytes().ends_with(b".ron");
        match kind {
            FileKind::Folder if !hidden && path != Path::new(ASIDE) => {
                self.disk.list(path).unwrap_or_default().iter().any(|(name, _)| is_record(name))
            }
            FileKind::Folder => false,
            _ => !hidden && is_record(path.as_os_str()),
        }
    }

    fn survey_folder(&self, kind: RecordKind, count: &mut usize, survey: &mut Survey) {
        let place = Path::new(kind.folder());
        let mut names = match self.disk.list(place) {
            Ok(names) => names,
            Err(error) => return survey.problems.push(problem(place, unreadable(&error))),
        };
        names.sort_unstable_by(|a, b| a.0.cmp(&b.0));
        for (name, sort) in names {
            if *count == MOST_FILES {
                survey.problems.push(problem(place, Trouble::TooMany { most: MOST_FILES }));
                return;
            }
            *count += 1;
            let file = place.join(&name);
            if is_temporary(&name) {
                survey.temporary.push(file);
                continue;
            }
            // What an editor or a file manager hides is no one's record.
            if name.as_encoded_bytes().starts_with(b".") {
                continue;
            }
            match (sort, name.to_str().and_then(|name| RecordPath::of_file(kind, name))) {
                (FileKind::File, Some(path)) => survey.files.push((path, file)),
                (FileKind::File, None) => survey.problems.push(problem(&file, Trouble::NotARecord)),
                (FileKind::Link, _) => survey.problems.push(problem(&file, Trouble::Link)),
                (FileKind::Folder | FileKind::Other, _) => {
                    survey.problems.push(problem(&file, Trouble::NotAFile));
                }
            }
        }
    }

    fn read_files(&self, files: &[(RecordPath, PathBuf)]) -> Found {
        let read = |files: &[(RecordPath, PathBuf)]| -> Vec<Read> {
            files.iter().map(|(path, file)| (path.clone(), self.read_file(file))).collect()
        };
        let all = if files.len() < MANY {
            read(files)
        } else {
            let (first, second) = files.split_at(files.len() / 2);
            std::thread::scope(|scope| {
                let other = scope.spawn(|| read(second));
                let mut all = read(first);
                match other.join() {
                    Ok(more) => all.extend(more),
                    Err(panic) => std::panic::resume_unwind(panic),
                }
                all
            })
        };
        let mut found = Found::default();
        let mut texts = Vec::with_capacity(all.len());
        for (path, read) in all {
            match read {
                Some(Ok(text)) => texts.push((path, text)),
                Some(Err(trouble)) => {
                    found.problems.push(StoreProblem { path: path.to_string(), trouble });
                    found.troubled.insert(path);
                }
                None => {}
            }
        }
        found.texts = texts.into_iter().collect();
        found
    }

    fn read_file(&self, file: &Path) -> Option<Result<String, Trouble>> {
        match self.disk.read(file, MOST_BYTES) {
            Ok(bytes) => Some(text_of(bytes)),
            Err(error) if error.kind() == ErrorKind::NotFound => None,
            Err(error) => Some(Err(unreadable(&error))),
        }
    }

    /// Temporary files that stay: those of this clone are swept by its next change if it was stopped, and are in use if
    /// it is writing.
    fn left_over(&self, writer: Option<Writer>, temporary: Vec<PathBuf>) -> Vec<StoreProblem> {
        if temporary.is_empty() {
            return Vec::new();
        }
        // Unless the last program said that it was done, one may be writing, or the next change sweeps.
        let writing = !matches!(self.lock_words(), Words::Free(_));
        let ours = |file: &PathBuf| {
            let name = file.file_name().and_then(OsStr::to_str);
            let at_root = file.parent().is_none_or(|p| p.as_os_str().is_empty());
            at_root || name.and_then(beside_of).is_some_and(|id| Some(id.writer) == writer)
        };
        temporary
            .into_iter()
            .filter(|file| !(writing && ours(file)))
            // One that was in use when it was seen is gone by now.
            .filter(|file| self.disk.facts(file).is_ok())
            .map(|file| problem(&file, Trouble::LeftOver))
            .collect()
    }

    /// The temporary files that no change needs.
    ///
    /// # Errors
    /// [`StoreFault`] if the book cannot be read.
    pub fn leftovers(&self) -> Result<Vec<StoreProblem>, StoreFault> {
        let writer = self.told_writer(&mut Vec::new())?;
        let survey = self.survey()?;
        Ok(self.left_over(writer, survey.temporary))
    }
}

//! What was changed, when and by whom.

use std::collections::{BTreeMap, HashSet};
use std::io::ErrorKind;
use std::path::Path;

use super::disk::{Disk, FileKind};
use super::fault::{StoreFault, StoreProblem, Trouble};
use super::log::{Change, ChangeId, FileChange, Line, Stretch, Turn, Writer};
use super::path::RecordPath;
use super::read::shown;
use super::{HISTORY, Store};

/// The most bytes of a history file that is read whole.
const MOST_HISTORY_BYTES: u64 = 1024 * 1024 * 1024;

/// A change that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// Its name.
    pub id: ChangeId,
    /// When: RFC 3339 in UTC.
    pub at: String,
    /// By whom.
    pub who: String,
    /// The words of the command.
    pub what: String,
    /// Whether it was a change of its own.
    pub turn: Turn,
    /// The files and their texts.
    pub files: Vec<FileChange>,
    /// Whether it is a change of its own and was not undone, or was done again.
    pub stands: bool,
}

impl Entry {
    /// What it did to a record.
    pub fn file(&self, path: &RecordPath) -> Option<&FileChange> {
        self.files.iter().find(|file| file.path == *path)
    }
}

/// The changes of a book, by everyone.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct History {
    /// The changes by time, then by clone, then by number. A clone's own are never out of their order, whatever its clock
    /// said.
    pub entries: Vec<Entry>,
    /// What could not be read of the histories.
    pub problems: Vec<StoreProblem>,
}

impl History {
    /// The change of a name.
    pub fn entry(&self, id: ChangeId) -> Option<&Entry> {
        self.entries.iter().find(|entry| entry.id == id)
    }
}

/// What the files say, by the names of the changes.
#[derive(Debug, Default)]
struct Gathered {
    changes: BTreeMap<ChangeId, Change>,
    taken_back: HashSet<ChangeId>,
    problems: Vec<StoreProblem>,
}

impl Gathered {
    fn take(&mut self, file: &str, stretch: Stretch) {
        let mut tell = |trouble| self.problems.push(StoreProblem { path: file.to_owned(), trouble });
        if stretch.torn {
            tell(Trouble::Torn);
        }
        for at in stretch.bad {
            tell(Trouble::BadLine { at });
        }
        for (_, line) in stretch.lines {
            match line {
                Line::Change(change) => match self.changes.get(&change.id) {
                    None => {
                        self.changes.insert(change.id, change);
                    }
                    // Joining two histories may repeat a line.
                    Some(same) if *same == change => {}
                    Some(_) => tell(Trouble::Doubled { id: change.id }),
                },
                Line::NotDone(id) => {
                    self.taken_back.insert(id);
                }
                Line::Done(_) => {}
            }
        }
    }

    fn sorted(self) -> History {
        // Ids come by clone and number, so the latest time so far is that of the clone's clock set right.
        let mut latest: Option<(Writer, String)> = None;
        let mut keyed = Vec::new();
        for (id, change) in self.changes {
            let at = match latest.take() {
                Some((writer, time)) if writer == id.writer && time > change.at => time,
                _ => change.at.clone(),
            };
            latest = Some((id.writer, at.clone()));
            if !self.taken_back.contains(&id) {
                keyed.push((at, change));
            }
        }
        keyed.sort_by(|a, b| (&a.0, a.1.id).cmp(&(&b.0, b.1.id)));
        // The last turn of a change decides.
        let mut undone = HashSet::new();
        for (_, change) in &keyed {
            match change.turn {
                Turn::Did => {}
                Turn::Undid(of) => {
                    undone.insert(of);
                }
                Turn::Redid(of) => {
                    undone.remove(&of);
                }
            }
        }
        let entries = keyed.into_iter().map(|(_, change)| {
            let Change { id, at, who, what, turn, files } = change;
            let stands = turn == Turn::Did && !undone.contains(&id);
            Entry { id, at, who, what, turn, files, stands }
        });
        History { entries: entries.collect(), problems: self.problems }
    }
}

impl<D: Disk> Store<D> {
    /// Every change of every clone. A change that is recorded and not finished counts.
    ///
    /// # Errors
    /// [`StoreFault`] if the folder cannot be read. What is wrong with single lines is a problem among the answer.
    pub fn history(&self) -> Result<History, StoreFault> {
        self.histories(false)
    }

    /// The same; if it is to be whole, a file that cannot be read is a fault, for what is not seen there may be the change
    /// that is looked for.
    pub(super) fn histories(&self, whole: bool) -> Result<History, StoreFault> {
        let folder = Path::new(HISTORY);
        let mut names = match self.disk.list(folder) {
            Ok(names) => names,
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(History::default()),
            Err(error) => return Err(StoreFault::io("read the histories", HISTORY, error)),
        };
        names.sort_by(|a, b| a.0.cmp(&b.0));
        let mut gathered = Gathered::default();
        for (name, kind) in names {
            let file = folder.join(&name);
            let path = shown(&file);
            let is_log = name
                .to_str()
                .and_then(|name| name.strip_suffix(".log"))
                .is_some_and(|stem| stem.parse::<Writer>().is_ok());
            let trouble = match kind {
                // Other files there are none of ours.
                _ if !is_log => continue,
                FileKind::File => match self.stretch(&file) {
                    Ok(stretch) => {
                        gathered.take(&path, stretch);
                        continue;
                    }
                    Err(error) if whole => return Err(StoreFault::io("read the history", path, error)),
                    Err(error) => Trouble::Unreadable { why: error.to_string() },
                },
                FileKind::Link => Trouble::Link,
                FileKind::Folder | FileKind::Other => Trouble::NotAFile,
            };
            gathered.problems.push(StoreProblem { path, trouble });
        }
        Ok(gathered.sorted())
    }

    /// All lines of a history file.
    fn stretch(&self, file: &Path) -> std::io::Result<Stretch> {
        let bytes = self.disk.facts(file)?.bytes;
        if bytes > MOST_HISTORY_BYTES {
            let why = format!("it is {bytes} bytes, and at most {MOST_HISTORY_BYTES} are read");
            return Err(std::io::Error::new(ErrorKind::InvalidData, why));
        }
        let read = || Ok::<_, std::io::Error>(Stretch::of(&self.disk.read_from(file, 0)?, 0));
        let stretch = read()?;
        // A torn line was perhaps being written just then.
        if stretch.torn { read() } else { Ok(stretch) }
    }

    /// The last text that the history knows of a record, be it the one before it was removed.
    ///
    /// # Errors
    /// [`StoreFault`] if the histories cannot be read.
    pub fn last_good(&self, path: &RecordPath) -> Result<Option<String>, StoreFault> {
        let history = self.history()?;
        let last = history.entries.iter().rev().find_map(|entry| entry.file(path));
        Ok(last.and_then(|file| file.after.clone().or_else(|| file.before.clone())))
    }
}

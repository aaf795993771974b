//! The lock of a book, and what is put right when it is taken.

use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use super::disk::Disk;
use super::fault::{Holder, StoreFault};
use super::log::{ChangeId, Line, Tail, Writer};
use super::start::log_of;
use super::{LOCK, Occasion, Store};
use crate::book::record_kind::RecordKind;

/// How often the lock is tried while another has it.
const PAUSE: Duration = Duration::from_millis(1);

/// The most bytes that are read of the words in the lock.
const MOST_WORDS: u64 = 4096;

/// What the words in the lock say.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Words {
    /// Nobody writes; the highest number given so far.
    Free(u64),
    /// Somebody writes, or was stopped while writing.
    Held(u64, Holder),
    /// Nothing that is understood.
    Unknown,
}

impl Words {
    fn written(&self) -> String {
        match self {
            Self::Free(number) => format!("free {number}\n"),
            Self::Held(number, Holder { pid, since, what }) => {
                let line = |text: &str| text.replace(char::is_control, " ");
                format!("held {number} {pid} {} {}\n", line(since).replace(' ', "_"), line(what))
            }
            Self::Unknown => String::new(),
        }
    }

    fn read(text: &str) -> Self {
        let Some(line) = text.strip_suffix('\n') else { return Self::Unknown };
        let mut parts = line.splitn(5, ' ');
        let state = parts.next();
        let Some(number) = parts.next().and_then(|n| n.parse().ok()) else { return Self::Unknown };
        match (state, parts.next(), parts.next(), parts.next()) {
            (Some("free"), None, ..) => Self::Free(number),
            (Some("held"), Some(pid), Some(since), Some(what)) => match pid.parse() {
                Ok(pid) => Self::Held(number, Holder { pid, since: since.to_owned(), what: what.to_owned() }),
                Err(_) => Self::Unknown,
            },
            _ => Self::Unknown,
        }
    }
}

/// The lock while it is held.
pub(super) struct Hold<'a, D: Disk> {
    store: &'a Store<D>,
    lock: D::Lock,
    /// The name of this clone, if it has one yet.
    pub writer: Option<Writer>,
    /// The highest number given so far.
    pub number: u64,
    /// Whether all is flushed and swept as the next program expects it.
    pub clean: bool,
}

impl<D: Disk> Drop for Hold<'_, D> {
    fn drop(&mut self) {
        if !self.clean {
            return;
        }
        // If these words cannot be written, the next program flushes and sweeps once more than it need.
        let _ = self.store.disk.note(&self.lock, &Words::Free(self.number).written());
    }
}

impl<D: Disk> Store<D> {
    /// Takes the lock, and puts right what a program that was stopped left behind.
    pub(super) fn hold(&self, occasion: &Occasion, what: &str) -> Result<Hold<'_, D>, StoreFault> {
        self.disk.create_root().map_err(|e| StoreFault::io("make the book's folder", ".", e))?;
        let lock = self.locked()?;
        let before = self.lock_words();
        let number = match &before {
            Words::Free(number) | Words::Held(number, _) => *number,
            Words::Unknown => 0,
        };
        let holder = Holder {
            pid: std::process::id(),
            since: occasion.at.clone(),
            what: what.chars().take(200).collect(),
        };
        // On a full disk this fails, and is only missed by those who wait.
        let _ = self.disk.note(&lock, &Words::Held(number, holder).written());
        let mut hold = Hold { store: self, lock, writer: None, number, clean: false };
        // Only a later format and what cannot be read at all keep from writing.
        self.house()?;
        hold.writer = self.writer()?;
        let stopped = !matches!(before, Words::Free(_));
        if stopped {
            self.sync_all()?;
        }
        if let Some(writer) = hold.writer {
            hold.number = number.max(self.recover(writer)?);
            if stopped {
                self.sweep(writer);
            }
        }
        hold.clean = true;
        Ok(hold)
    }

    fn locked(&self) -> Result<D::Lock, StoreFault> {
        let started = Instant::now();
        loop {
            match self.disk.try_lock(Path::new(LOCK)) {
                Ok(Some(lock)) => return Ok(lock),
                Ok(None) if started.elapsed() < self.patience => std::thread::sleep(PAUSE),
                Ok(None) => {
                    let holder = match self.lock_words() {
                        Words::Held(_, holder) => Some(holder),
                        _ => None,
                    };
                    return Err(StoreFault::Locked { holder, waited: self.patience });
                }
                Err(error) => return Err(StoreFault::io("take the lock", LOCK, error)),
            }
        }
    }

    /// What the lock says.
    pub(super) fn lock_words(&self) -> Words {
        match self.disk.read(Path::new(LOCK), MOST_WORDS) {
            Ok(bytes) => Words::read(&String::from_utf8_lossy(&bytes)),
            Err(_) => Words::Unknown,
        }
    }

    /// Finishes a change that is recorded and not done; gives the highest number in the history.
    fn recover(&self, writer: Writer) -> Result<u64, StoreFault> {
        let log = log_of(writer);
        let tail = self.tail(&log)?;
        if let Some((_, change)) = tail.pending() {
            // The record itself may not be on the disk yet, and must be before any file is touched.
            let end: &[u8] = if tail.stretch.open { b"\n" } else { b"" };
            self.mend_tail(&log, &tail)?;
            self.disk.append(&log, end).map_err(|e| StoreFault::io("flush the history", log.display(), e))?;
            self.apply(change, false)?;
            self.note_down(&log, &Line::Done(change.id))?;
        }
        Ok(tail.number)
    }

    pub(super) fn tail(&self, log: &Path) -> Result<Tail, StoreFault> {
        Tail::of(&self.disk, log).map_err(|e| StoreFault::io("read the history", log.display(), e))
    }

    /// Cuts off what was not written whole.
    pub(super) fn mend_tail(&self, log: &Path, tail: &Tail) -> Result<(), StoreFault> {
        if tail.stretch.torn {
            self.disk
                .truncate(log, tail.stretch.end)
                .map_err(|e| StoreFault::io("cut a torn line off the history", log.display(), e))?;
        }
        Ok(())
    }

    /// Adds a line that says what became of a change.
    pub(super) fn note_down(&self, log: &Path, line: &Line) -> Result<(), StoreFault> {
        line.encoded()
            .and_then(|text| self.disk.append(log, text.as_bytes()))
            .map_err(|e| StoreFault::io("write the history", log.display(), e))
    }

    /// Takes away the temporary files of this clone that a stopped program left. One that stays does no harm.
    fn sweep(&self, writer: Writer) {
        for kind in RecordKind::ALL {
            let folder = Path::new(kind.folder());
            for (name, _) in self.disk.list(folder).unwrap_or_default() {
                if name.to_str().and_then(beside_of).is_some_and(|id| id.writer == writer) {
                    let _ = self.disk.remove(&folder.join(name));
                }
            }
        }
    }

    /// Writes and flushes a temporary file. One of the same name is ours and from a change that was never made.
    pub(super) fn write_beside(
        &self,
        beside: &Path,
        like: Option<&Path>,
        text: &str,
    ) -> Result<(), StoreFault> {
        let write = || self.disk.write_new(beside, like, text.as_bytes());
        let written = match write() {
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {
                self.disk.remove(beside).and_then(|()| write())
            }
            done => done,
        };
        written.map_err(|error| {
            let _ = self.disk.remove(beside);
            StoreFault::io("write it", beside.display(), error)
        })
    }
}

/// The temporary file of a change's n-th file.
pub(super) fn beside(id: ChangeId, n: usize, kind: RecordKind) -> PathBuf {
    Path::new(kind.folder()).join(format!(".{id}-{n}.tmp"))
}

/// The change of a temporary file.
pub(super) fn beside_of(name: &str) -> Option<ChangeId> {
    let (id, n) = name.strip_prefix('.')?.strip_suffix(".tmp")?.rsplit_once('-')?;
    n.parse::<usize>().ok()?;
    id.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_in_the_lock_read_back() {
        let holder =
            |what: &str| Holder { pid: 42, since: "2027-03-01T10:00:00Z".to_owned(), what: what.to_owned() };
        for words in [Words::Free(7), Words::Held(8, holder("add quince")), Words::Held(0, holder(""))] {
            assert_eq!(Words::read(&words.written()), words);
        }
        assert_eq!(Words::read(&Words::Held(1, holder("a\nb")).written()), Words::Held(1, holder("a b")));
        for other in ["", "free", "free x\n", "free 7", "held 1 2\n", "4242"] {
            assert_eq!(Words::read(other), Words::Unknown, "{other}");
        }
    }

    #[test]
    fn a_temporary_file_tells_its_change() {
        let id: ChangeId = "1f0c9a3e-17".parse().unwrap();
        let file = beside(id, 3, RecordKind::Spec);
        assert_eq!(file, Path::new("specs/.1f0c9a3e-17-3.tmp"));
        assert_eq!(beside_of(file.file_name().unwrap().to_str().unwrap()), Some(id));
        for other in [".x.tmp", ".1f0c9a3e-17.tmp", "1f0c9a3e-17-3.tmp", ".1f0c9a3e-17-3"] {
            assert_eq!(beside_of(other), None, "{other}");
        }
    }
}

//! Weighings of drinks before and after the ice, as the house keeps them.

use std::cell::Cell;
use std::fs::{self, File, TryLockError};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::word::Method;
use crate::measure::{Mass, Strength, Volume};

/// A drink weighed before and after the ice.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Weighing {
    /// How it met the ice.
    pub method: Method,
    /// For a drink built over ice: whether it is a long one.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub long: bool,
    /// What it was, for people.
    pub drink: String,
    /// What the drink weighed before, without vessel and ice.
    pub before: Mass,
    /// What it weighed after.
    pub after: Mass,
    /// Its volume before.
    pub volume: Volume,
    /// Its strength before.
    pub strength: Strength,
}

/// The house's weighings: a file in the house's folder.
#[derive(Debug, Clone)]
pub struct Weighings {
    file: PathBuf,
}

/// Why the weighings cannot be read or kept.
#[derive(Debug, Error)]
pub enum WeighingsFault {
    /// The file or its folder cannot be read or written.
    #[error("{}: {source}", file.display())]
    Io {
        /// Which.
        file: PathBuf,
        /// Why.
        source: io::Error,
    },
    /// The file is no list of weighings.
    #[error("{}, line {line}: {why}", file.display())]
    Text {
        /// Which.
        file: PathBuf,
        /// The line, from 1.
        line: usize,
        /// Why.
        why: String,
    },
    /// Someone else is writing.
    #[error("{}: another medlar is writing here; try again in a moment", file.display())]
    Busy {
        /// Which.
        file: PathBuf,
    },
    /// The text could not be put together so that it reads back.
    #[error("{}: the file's last ']' was not found, so nothing was added; put it back by hand", file.display())]
    NoEnd {
        /// Which.
        file: PathBuf,
    },
}

/// What a new file opens with.
const OPENING: &str =
    "// Drinks weighed before and after the ice, oldest first. Grams, millilitres, % vol.\n[\n]\n";

/// How long is waited for another program to finish writing.
const PATIENCE: Duration = Duration::from_secs(2);

impl Weighings {
    /// Those of a house's folder, which need not be there yet.
    pub fn of(folder: &Path) -> Self {
        Self { file: folder.join("weighings.ron") }
    }

    /// The file.
    pub fn file(&self) -> &Path {
        &self.file
    }

    /// All of them, oldest first; none if there is no file.
    ///
    /// # Errors
    /// [`WeighingsFault`] if the file is there and cannot be read.
    pub fn read(&self) -> Result<Vec<Weighing>, WeighingsFault> {
        self.text()?.map_or_else(|| Ok(Vec::new()), |text| self.parsed(&text))
    }

    fn text(&self) -> Result<Option<String>, WeighingsFault> {
        match fs::read_to_string(&self.file) {
            Ok(text) => Ok(Some(text)),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(source) => Err(self.io(source)),
        }
    }

    fn parsed(&self, text: &str) -> Result<Vec<Weighing>, WeighingsFault> {
        ron::from_str(text).map_err(|error| WeighingsFault::Text {
            file: self.file.clone(),
            line: error.span.start.line,
            why: error.code.to_string(),
        })
    }

    fn io(&self, source: io::Error) -> WeighingsFault {
        WeighingsFault::Io { file: self.file.clone(), source }
    }

    /// Adds one at the end. What else is in the file stays as it is, remarks included; the file is replaced whole, so that
    /// a crash leaves the old one or the new.
    ///
    /// # Errors
    /// [`WeighingsFault`]; the file is then as it was.
    pub fn add(&self, weighing: &Weighing) -> Result<(), WeighingsFault> {
        self.change(|text| {
            let line = ron::ser::to_string(weighing).ok()?;
            let end = text.trim_end().strip_suffix(']')?.trim_end();
            let comma = if end.ends_with(['[', ',']) { "" } else { "," };
            Some(format!("{end}{comma}\n    {line},\n]\n"))
        })
    }

    /// Takes out those of a method; says how many there were. Remarks go with the list they stand in.
    ///
    /// # Errors
    /// [`WeighingsFault`]; the file is then as it was.
    pub fn forget(&self, gone: impl Fn(&Weighing) -> bool) -> Result<usize, WeighingsFault> {
        if !self.read()?.iter().any(&gone) {
            return Ok(0);
        }
        let count = Cell::new(0);
        self.change(|text| {
            let all: Vec<Weighing> = ron::from_str(text).ok()?;
            let kept: Vec<&Weighing> = all.iter().filter(|w| !gone(w)).collect();
            count.set(all.len() - kept.len());
            let line = |weighing: &&Weighing| Some(format!("    {},\n", ron::ser::to_string(weighing).ok()?));
            let lines: Option<Vec<String>> = kept.iter().map(line).collect();
            Some(OPENING.replace("]\n", &format!("{}]\n", lines?.concat())))
        })?;
        Ok(count.get())
    }

    /// Lock, read, change, check that it reads back, write beside, flush, rename, flush the folder.
    fn change(&self, change: impl Fn(&str) -> Option<String>) -> Result<(), WeighingsFault> {
        let folder = self.file.parent().unwrap_or(Path::new("."));
        fs::create_dir_all(folder).map_err(|e| self.io(e))?;
        let _lock = self.lock(folder)?;
        let text = self.text()?.unwrap_or_else(|| OPENING.to_owned());
        self.parsed(&text)?;
        let changed = change(&text).ok_or_else(|| WeighingsFault::NoEnd { file: self.file.clone() })?;
        self.parsed(&changed)?;
        let mut beside = tempfile::NamedTempFile::new_in(folder).map_err(|e| self.io(e))?;
        beside.write_all(changed.as_bytes()).map_err(|e| self.io(e))?;
        beside.as_file().sync_all().map_err(|e| self.io(e))?;
        beside.persist(&self.file).map_err(|e| self.io(e.error))?;
        // Some file systems cannot flush a folder; the rename is done either way.
        if let Ok(open) = File::open(folder) {
            let _ = open.sync_all();
        }
        Ok(())
    }

    /// Held until it is dropped.
    fn lock(&self, folder: &Path) -> Result<File, WeighingsFault> {
        let path = folder.join(".lock");
        let file = File::options().create(true).append(true).open(path).map_err(|e| self.io(e))?;
        let started = Instant::now();
        loop {
            match file.try_lock() {
                Ok(()) => return Ok(file),
                Err(TryLockError::WouldBlock) if started.elapsed() < PATIENCE => {
                    std::thread::sleep(Duration::from_millis(20));
                }
                Err(TryLockError::WouldBlock) => {
                    return Err(WeighingsFault::Busy { file: self.file.clone() });
                }
                Err(TryLockError::Error(source)) => return Err(self.io(source)),
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn weighing(after: f64) -> Weighing {
        Weighing {
            method: Method::Stirred,
            long: false,
            drink: "the house \"negroni\"".to_owned(),
            before: Mass::new(95.0).unwrap(),
            after: Mass::new(after).unwrap(),
            volume: Volume::new(90.0).unwrap(),
            strength: Strength::new(29.0).unwrap(),
        }
    }

    #[test]
    fn what_is_added_is_read_back_and_remarks_stay() {
        let folder = tempfile::tempdir().unwrap();
        let kept = Weighings::of(&folder.path().join("house"));
        assert_eq!(kept.read().unwrap(), []);
        kept.add(&weighing(130.0)).unwrap();
        let text = fs::read_to_string(kept.file()).unwrap();
        fs::write(kept.file(), text.replace("[\n", "[\n    // the old ice well\n")).unwrap();
        kept.add(&weighing(131.5)).unwrap();
        assert_eq!(kept.read().unwrap(), [weighing(130.0), weighing(131.5)]);
        assert!(fs::read_to_string(kept.file()).unwrap().contains("// the old ice well"));
    }

    #[test]
    fn those_of_a_method_can_be_forgotten() {
        let folder = tempfile::tempdir().unwrap();
        let kept = Weighings::of(folder.path());
        let shaken = Weighing { method: Method::Shaken, ..weighing(150.0) };
        kept.add(&weighing(130.0)).unwrap();
        kept.add(&shaken).unwrap();
        assert_eq!(kept.forget(|w| w.method == Method::Stirred).unwrap(), 1);
        assert_eq!(kept.read().unwrap(), [shaken]);
        assert_eq!(kept.forget(|w| w.method == Method::Blended).unwrap(), 0);
    }

    #[test]
    fn a_broken_file_is_told_and_never_written_over() {
        let folder = tempfile::tempdir().unwrap();
        let kept = Weighings::of(folder.path());
        for broken in ["[\n    (method: stirred,\n]", "[(method: poured)]", "not a list", ""] {
            fs::write(kept.file(), broken).unwrap();
            assert!(matches!(kept.read(), Err(WeighingsFault::Text { .. })), "{broken}");
            assert!(kept.add(&weighing(130.0)).is_err(), "{broken}");
            assert_eq!(fs::read_to_string(kept.file()).unwrap(), broken);
        }
    }

    #[test]
    fn two_at_once_lose_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let kept = Weighings::of(folder.path());
        std::thread::scope(|scope| {
            for _ in 0..4 {
                scope.spawn(|| (0..10).for_each(|_| kept.add(&weighing(130.0)).unwrap()));
            }
        });
        assert_eq!(kept.read().unwrap().len(), 40);
    }
}

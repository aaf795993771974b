//! Names of records as files of the book.

use std::fmt;
use std::path::PathBuf;
use std::str::FromStr;
use std::sync::Arc;

use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use thiserror::Error;

use crate::book::record_kind::RecordKind;

/// The most letters of a stem.
const MOST_LETTERS: usize = 140;

/// The ending of a record's file.
const ENDING: &str = ".ron";

/// The file of one record, like `ingredients/quince.ron`.
///
/// It cannot leave the book, and is a good file name on every system.
///
/// # Examples
/// ```
/// use medlar::book::RecordPath;
/// let quince = RecordPath::new("ingredients", "quince")?;
/// assert_eq!(quince.to_string(), "ingredients/quince.ron");
/// assert_eq!("ingredients/quince.ron".parse::<RecordPath>()?, quince);
/// assert!(RecordPath::new("ingredients", "../quince").is_err());
/// # Ok::<(), medlar::book::NotARecordPath>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RecordPath {
    kind: RecordKind,
    stem: Arc<str>,
}

/// What cannot be a record's file.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum NotARecordPath {
    /// No such folder.
    #[error("'{found}' is no folder of records: they are {}", RecordKind::ALL.map(RecordKind::folder).join(", "))]
    Folder {
        /// What was found.
        found: String,
    },
    /// No such name.
    #[error(
        "'{found}' cannot name a record: allowed are 1 to {MOST_LETTERS} of a to z, 0 to 9 and hyphens inside, \
         like blood-orange"
    )]
    Stem {
        /// What was found.
        found: String,
    },
    /// A name that some systems keep for a device.
    #[error("'{found}' cannot name a record: some systems keep that name for a device; add a word to it")]
    Device {
        /// What was found.
        found: String,
    },
    /// Not of the form at all.
    #[error("'{found}' is not the path of a record, like ingredients/quince.ron")]
    Form {
        /// What was found.
        found: String,
    },
}

fn is_device(stem: &str) -> bool {
    let numbered = |rest: &str| matches!(rest.as_bytes(), [b'1'..=b'9']);
    matches!(stem, "con" | "prn" | "aux" | "nul")
        || stem.strip_prefix("com").is_some_and(numbered)
        || stem.strip_prefix("lpt").is_some_and(numbered)
}

impl RecordPath {
    /// The file of a record by its folder and its name without `.ron`.
    ///
    /// # Errors
    /// [`NotARecordPath`] for other folders and names.
    pub fn new(folder: &str, stem: &str) -> Result<Self, NotARecordPath> {
        let folder = RecordKind::in_folder(folder)
            .ok_or_else(|| NotARecordPath::Folder { found: folder.to_owned() })?;
        Self::within(folder, stem)
    }

    /// The same with a folder that is known.
    ///
    /// # Errors
    /// [`NotARecordPath`] for other names.
    pub fn within(kind: RecordKind, stem: &str) -> Result<Self, NotARecordPath> {
        let letter = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-';
        let good = (1..=MOST_LETTERS).contains(&stem.len())
            && stem.bytes().all(letter)
            && !stem.starts_with('-')
            && !stem.ends_with('-');
        if !good {
            return Err(NotARecordPath::Stem { found: stem.to_owned() });
        }
        if is_device(stem) {
            return Err(NotARecordPath::Device { found: stem.to_owned() });
        }
        Ok(Self { kind, stem: Arc::from(stem) })
    }

    /// The record of a file name in a folder.
    pub(super) fn of_file(kind: RecordKind, name: &str) -> Option<Self> {
        Self::within(kind, name.strip_suffix(ENDING)?).ok()
    }

    /// What kind of record it holds; that says the folder.
    pub fn kind(&self) -> RecordKind {
        self.kind
    }

    /// Its name, without `.ron`.
    pub fn stem(&self) -> &str {
        &self.stem
    }

    /// Its file, seen from the book.
    pub(super) fn file(&self) -> PathBuf {
        PathBuf::from(self.to_string())
    }
}

impl fmt::Display for RecordPath {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}{ENDING}", self.kind.folder(), self.stem)
    }
}

impl FromStr for RecordPath {
    type Err = NotARecordPath;

    fn from_str(text: &str) -> Result<Self, NotARecordPath> {
        text.split_once('/')
            .and_then(|(folder, file)| Some((folder, file.strip_suffix(ENDING)?)))
            .ok_or_else(|| NotARecordPath::Form { found: text.to_owned() })
            .and_then(|(folder, stem)| Self::new(folder, stem))
    }
}

impl Serialize for RecordPath {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for RecordPath {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        String::deserialize(deserializer)?.parse().map_err(D::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_names_that_are_safe_everywhere() {
        let long = "a".repeat(MOST_LETTERS);
        for good in ["quince", "a", "7", "blood-orange", "a--b", "com", "com0", "com10", "console", &long] {
            let path = RecordPath::new("ingredients", good).unwrap();
            assert_eq!(path.to_string().parse::<RecordPath>().unwrap(), path);
        }
        let longer = format!("{long}a");
        for bad in
            ["", "-a", "a-", "A", "é", "a b", "a/b", "..", ".a", "a.ron", "con", "lpt9", "a\0", &longer]
        {
            assert!(RecordPath::new("ingredients", bad).is_err(), "{bad}");
        }
        for bad in ["", "history", "aside", "Ingredients", "ingredients/x", ".."] {
            assert!(RecordPath::new(bad, "quince").is_err(), "{bad}");
        }
        for bad in ["quince.ron", "ingredients/quince", "ingredients//quince.ron", "/ingredients/quince.ron"]
        {
            assert!(bad.parse::<RecordPath>().is_err(), "{bad}");
        }
    }

    #[test]
    fn folders_are_in_the_order_of_their_names() {
        assert!(RecordKind::ALL.is_sorted());
        assert!(RecordKind::ALL.map(RecordKind::folder).is_sorted());
    }
}

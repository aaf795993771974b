//! What a book has besides records: its head, what git should know, the name of this clone.

use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use serde::Deserialize;

use super::disk::{Disk, FileKind};
use super::fault::{StoreFault, Trouble};
use super::log::Writer;
use super::{HISTORY, HOUSE, MOST_BYTES, Store, WRITER};
use crate::book::record_kind::RecordKind;

/// The format that is written.
const FORMAT: u64 = 1;

/// What git must leave alone.
const IGNORE: &str = ".lock\n.writer\n*.tmp\n";

/// How git treats the files: as bytes, so that no line end is altered; histories of one clone are joined by line.
const ATTRIBUTES: &str = "*.ron -text merge=medlar\nhistory/*.log -text merge=union\n";

/// What the head of a book says.
#[derive(Debug)]
pub(super) enum House {
    /// There is none.
    Missing,
    /// It can be understood.
    Good,
    /// It cannot, for a reason.
    Broken(String),
}

#[derive(Deserialize)]
struct Head {
    format: u64,
}

/// The format in a head that cannot be understood as a whole: one of a later version may look unlike ours.
fn format_within(text: &str) -> Option<u64> {
    let rest = text.split_once("format")?.1.trim_start().strip_prefix(':')?.trim_start();
    let digits = rest.find(|c: char| !c.is_ascii_digit()).map_or(rest, |end| &rest[..end]);
    digits.parse().ok()
}

fn head(name: &str) -> String {
    format!(
        "// The house book of a bar: a record a file, in folders by kind. medlar reads and writes it, and so may you.\n\
         // history/ holds what was changed, so that it can be undone.\n\
         (format: {FORMAT}, name: {name:?})\n"
    )
}

impl<D: Disk> Store<D> {
    /// Reads the head.
    pub(super) fn house(&self) -> Result<House, StoreFault> {
        let Some(text) = self.plain(Path::new(HOUSE))? else { return Ok(House::Missing) };
        let (format, broken) = match ron::from_str::<Head>(&text) {
            Ok(head) => (Some(head.format), None),
            Err(error) => (format_within(&text), Some(error.to_string())),
        };
        match (format, broken) {
            (Some(found), _) if found > FORMAT => Err(StoreFault::LaterFormat { found, known: FORMAT }),
            (_, Some(why)) => Ok(House::Broken(why)),
            (Some(0), _) => Ok(House::Broken("there is no format 0".to_owned())),
            _ => Ok(House::Good),
        }
    }

    /// The name of this clone, if it has one.
    pub(super) fn writer(&self) -> Result<Option<Writer>, StoreFault> {
        let Some(text) = self.plain(Path::new(WRITER))? else { return Ok(None) };
        text.trim()
            .parse()
            .map(Some)
            .map_err(|_| StoreFault::Needed { path: WRITER.to_owned(), trouble: Trouble::BrokenWriter })
    }

    /// The text of a file that the book needs; none if it is not there.
    fn plain(&self, file: &Path) -> Result<Option<String>, StoreFault> {
        let needed = |trouble| StoreFault::Needed { path: file.display().to_string(), trouble };
        let unreadable = |source| StoreFault::io("read it", file.display(), source);
        match self.disk.facts(file) {
            Ok(facts) if facts.kind == FileKind::File => {}
            Ok(facts) if facts.kind == FileKind::Link => return Err(needed(Trouble::Link)),
            Ok(_) => return Err(needed(Trouble::NotAFile)),
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
            Err(error) => return Err(unreadable(error)),
        }
        let bytes = match self.disk.read(file, MOST_BYTES) {
            Ok(bytes) => bytes,
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
            Err(error) => return Err(unreadable(error)),
        };
        text_of(bytes).map(Some).map_err(needed)
    }

    /// Makes what is missing of a book besides its records, and gives this clone a name.
    pub(super) fn start(&self, dice: u64) -> Result<Writer, StoreFault> {
        let name = self.name.clone();
        let mut made = false;
        for (file, text) in [
            (HOUSE, head(&name)),
            (".gitignore", IGNORE.to_owned()),
            (".gitattributes", ATTRIBUTES.to_owned()),
        ] {
            made |= self.make(Path::new(file), &text)?;
        }
        made |= self.make_folder(Path::new(HISTORY))?;
        let writer = match self.writer()? {
            Some(writer) => writer,
            None => {
                let writer = self.free_writer(dice)?;
                made |= self.make(Path::new(WRITER), &format!("{writer}\n"))?;
                writer
            }
        };
        if made {
            self.sync(Path::new(""))?;
        }
        let log = log_of(writer);
        if !self.is_there(&log)? {
            let doing = "make the history";
            self.disk.append(&log, b"").map_err(|e| StoreFault::io(doing, log.display(), e))?;
            self.sync(Path::new(HISTORY))?;
        }
        Ok(writer)
    }

    /// A name that no history here has.
    fn free_writer(&self, dice: u64) -> Result<Writer, StoreFault> {
        // The low half of the dice, folded with the high half.
        #[expect(clippy::cast_possible_truncation, reason = "the low half is meant")]
        let mut writer = Writer((dice ^ (dice >> 32)) as u32);
        while self.is_there(&log_of(writer))? {
            writer = Writer(writer.0.wrapping_add(1));
        }
        Ok(writer)
    }

    pub(super) fn is_there(&self, file: &Path) -> Result<bool, StoreFault> {
        match self.disk.facts(file) {
            Ok(_) => Ok(true),
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(false),
            Err(error) => Err(StoreFault::io("look at it", file.display(), error)),
        }
    }

    /// Makes a small file whole, if none is there; says whether it did.
    fn make(&self, file: &Path, text: &str) -> Result<bool, StoreFault> {
        if self.is_there(file)? {
            return Ok(false);
        }
        let beside = PathBuf::from(format!(".{}.tmp", file.display().to_string().trim_start_matches('.')));
        self.write_beside(&beside, None, text)?;
        self.disk.rename(&beside, file).map_err(|e| StoreFault::io("make it", file.display(), e))?;
        Ok(true)
    }

    /// Makes a folder, if none is there; says whether it did.
    pub(super) fn make_folder(&self, folder: &Path) -> Result<bool, StoreFault> {
        match self.disk.facts(folder) {
            Ok(facts) if facts.kind == FileKind::Folder => Ok(false),
            Ok(facts) => {
                let trouble = if facts.kind == FileKind::Link { Trouble::Link } else { Trouble::NotAFolder };
                Err(StoreFault::Needed { path: folder.display().to_string(), trouble })
            }
            Err(error) if error.kind() == ErrorKind::NotFound => {
                self.disk
                    .create_folder(folder)
                    .map_err(|e| StoreFault::io("make the folder", folder.display(), e))?;
                Ok(true)
            }
            Err(error) => Err(StoreFault::io("look at the folder", folder.display(), error)),
        }
    }

    pub(super) fn sync(&self, folder: &Path) -> Result<(), StoreFault> {
        let shown = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
        self.disk.sync_folder(folder).map_err(|e| StoreFault::io("flush the folder", shown.display(), e))
    }

    /// Flushes every folder: the program that was here before may have been stopped before it did.
    pub(super) fn sync_all(&self) -> Result<(), StoreFault> {
        self.sync(Path::new(""))?;
        let folders = RecordKind::ALL.map(RecordKind::folder);
        for folder in folders.into_iter().chain([HISTORY]) {
            let folder = Path::new(folder);
            match self.disk.facts(folder) {
                Ok(facts) if facts.kind == FileKind::Folder => self.sync(folder)?,
                _ => {}
            }
        }
        Ok(())
    }
}

/// The history file of a clone.
pub(super) fn log_of(writer: Writer) -> PathBuf {
    Path::new(HISTORY).join(format!("{writer}.log"))
}

/// Bytes as the text of a record.
pub(super) fn text_of(bytes: Vec<u8>) -> Result<String, Trouble> {
    if bytes.len() as u64 > MOST_BYTES {
        return Err(Trouble::TooLarge { most: MOST_BYTES });
    }
    String::from_utf8(bytes).map_err(|error| {
        let good = error.utf8_error().valid_up_to();
        Trouble::NotText { line: 1 + error.as_bytes()[..good].iter().filter(|&&b| b == b'\n').count() }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_later_format_is_seen_in_a_head_that_is_not_understood() {
        assert_eq!(format_within("Book { format : 12, }"), Some(12));
        assert_eq!(format_within("(format: \"x\")"), None);
        assert_eq!(format_within(""), None);
    }

    #[test]
    fn a_head_reads_back_whatever_the_name() {
        for name in ["Weir House", "the \"Weir\"", "a\\b\n\u{7f}é\u{200b}"] {
            #[derive(Deserialize)]
            struct Whole {
                format: u64,
                name: String,
            }
            let whole: Whole = ron::from_str(&head(name)).unwrap();
            assert_eq!((whole.format, whole.name.as_str()), (FORMAT, name));
        }
    }
}

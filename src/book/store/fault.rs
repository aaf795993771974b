//! What keeps the store from doing what was asked, and what is wrong with single files.

use std::fmt;
use std::io;
use std::time::Duration;

use thiserror::Error;

use super::log::ChangeId;
use super::path::RecordPath;

/// Why something could not be done. The book is whole either way, and unless [`Unfinished`](Self::Unfinished) or
/// [`Unsure`](Self::Unsure) says otherwise it is as it was.
#[derive(Debug, Error)]
pub enum StoreFault {
    /// The system refused an operation.
    #[error("{path}: it was not possible to {doing}: {source}; {}", advice(source.kind()))]
    Io {
        /// What was being done.
        doing: &'static str,
        /// With what, seen from the book.
        path: String,
        /// The system's words.
        source: io::Error,
    },
    /// Someone else is writing.
    #[error(
        "another medlar has been writing in this book for {} s{}; let it finish and try again",
        waited.as_secs(),
        holder.as_ref().map_or(String::new(), |h| format!(": {h}"))
    )]
    Locked {
        /// Who, if the lock says so.
        holder: Option<Holder>,
        /// How long was waited.
        waited: Duration,
    },
    /// The book was written by a later version.
    #[error(
        "house.ron says format {found}, and this version knows formats up to {known}: nothing was touched; use a newer medlar"
    )]
    LaterFormat {
        /// What it says.
        found: u64,
        /// What is known here.
        known: u64,
    },
    /// A file that the book needs cannot be taken as it is.
    #[error("{path}: {trouble}; nothing is written until it is mended or set aside")]
    Needed {
        /// Which.
        path: String,
        /// What is wrong with it.
        trouble: Trouble,
    },
    /// A record that was asked for cannot be read.
    #[error("{path}: {trouble}; it was left alone: mend it or set it aside")]
    Record {
        /// Which.
        path: String,
        /// What is wrong with it.
        trouble: Trouble,
    },
    /// A text too large for a record.
    #[error("{path}: {bytes} bytes are too many for a record; the most is {most}")]
    TooLarge {
        /// Which.
        path: RecordPath,
        /// How many it has.
        bytes: usize,
        /// How many it may have.
        most: u64,
    },
    /// A file is not what it would have to be.
    #[error(
        "{path} {}; look at it first",
        by.as_ref().map_or("was changed by hand in the meantime".to_owned(), |by| format!("was changed since by {by}"))
    )]
    InTheWay {
        /// Which.
        path: RecordPath,
        /// By which change; none if by hand.
        by: Option<ChangeId>,
    },
    /// There is nothing that could be undone.
    #[error("there is no change to undo here")]
    NothingToUndo,
    /// There is nothing that could be done again.
    #[error("there is no undone change that could be done again")]
    NothingToRedo,
    /// The history knows no such change.
    #[error("the history has no change {0}")]
    NoSuchChange(ChangeId),
    /// The change is an undoing or redoing itself.
    #[error("{id} itself undid or redid {of}: ask for {of}")]
    ATurn {
        /// What was asked for.
        id: ChangeId,
        /// What it turned.
        of: ChangeId,
    },
    /// The change is recorded, but its files are not all in place.
    #[error(
        "the change is recorded as {id}, but its files could not be put in place nor taken back: {source}; {}; it will be finished when the book is next written, and is shown as done until then",
        advice(source.kind())
    )]
    Unfinished {
        /// Under which name.
        id: ChangeId,
        /// Why.
        source: io::Error,
    },
    /// The disk failed while the change was being recorded.
    #[error(
        "the disk failed while change {id} was being recorded: {source}; {}; it will be there whole or not at all: look before you repeat it",
        advice(source.kind())
    )]
    Unsure {
        /// Which change.
        id: ChangeId,
        /// Why.
        source: io::Error,
    },
    /// The history was replaced again and again while it was read.
    #[error("the history of this book is being replaced while it is read; try again in a moment")]
    Moving,
    /// No file of that name.
    #[error("there is no file '{found}' in the book that could be set aside")]
    NotInTheBook {
        /// What was asked for.
        found: String,
    },
}

impl StoreFault {
    pub(super) fn io(doing: &'static str, path: impl fmt::Display, source: io::Error) -> Self {
        Self::Io { doing, path: path.to_string(), source }
    }

    /// The system's error in it.
    pub(super) fn source_error(self) -> io::Error {
        match self {
            Self::Io { source, .. } | Self::Unfinished { source, .. } | Self::Unsure { source, .. } => source,
            other => io::Error::other(other.to_string()),
        }
    }
}

/// What can be done about an error of the system.
fn advice(kind: io::ErrorKind) -> &'static str {
    use io::ErrorKind as K;
    match kind {
        K::StorageFull | K::QuotaExceeded | K::WriteZero => "free some space and try again",
        K::PermissionDenied => "see who owns the folder and whether you may write there",
        K::ReadOnlyFilesystem => "the disk can only be read: make it writable or copy the book elsewhere",
        K::NotFound | K::AlreadyExists => "something else works in this folder: try again",
        K::NotADirectory | K::IsADirectory => "see what stands in its place",
        _ => "if it happens again, copy the book to another disk and check this one",
    }
}

/// Why a change was not made.
#[derive(Debug, Error)]
pub enum ChangeFault<E> {
    /// The caller's own reason.
    #[error(transparent)]
    Edit(E),
    /// The store's.
    #[error(transparent)]
    Store(#[from] StoreFault),
}

/// Who holds the lock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Holder {
    /// The process.
    pub pid: u32,
    /// Since when, in its own words.
    pub since: String,
    /// What for.
    pub what: String,
}

impl fmt::Display for Holder {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "process {} since {} ({})", self.pid, self.since, self.what)
    }
}

/// Something in the book's folder that is not as it should be. It hides nothing else.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct StoreProblem {
    /// The file as it is shown to people, seen from the book.
    pub path: String,
    /// What is wrong.
    pub trouble: Trouble,
}

impl fmt::Display for StoreProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.path, self.trouble)
    }
}

/// What can be wrong with a file.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Error)]
pub enum Trouble {
    /// Larger than a record may be.
    #[error("it is larger than {most} bytes, and was not read")]
    TooLarge {
        /// The most.
        most: u64,
    },
    /// Bytes that are no text.
    #[error("line {line} is not UTF-8 text")]
    NotText {
        /// The line, from 1.
        line: usize,
    },
    /// The system does not let it be read.
    #[error("it cannot be read: {why}")]
    Unreadable {
        /// The system's words.
        why: String,
    },
    /// A link.
    #[error("it is a link, and links are not followed")]
    Link,
    /// A folder, a pipe and the like.
    #[error("it is not a plain file")]
    NotAFile,
    /// A file where a folder should be.
    #[error("it is not a folder")]
    NotAFolder,
    /// A name that is no record's.
    #[error(
        "this is not the name of a record, and was not read: a record is named like blood-orange.ron, in one of the book's folders"
    )]
    NotARecord,
    /// More files than are read.
    #[error("there are more than {most} files; the rest was not read")]
    TooMany {
        /// The most.
        most: usize,
    },
    /// A temporary file that no change needs.
    #[error("it was left over when a program stopped in the middle; it can be set aside")]
    LeftOver,
    /// The end of a history was not written whole.
    #[error("the last line was not written whole, so its change was never made; the next change cuts it off")]
    Torn,
    /// A line of a history that is not whole.
    #[error("the line at byte {at} is not one of a history, or was altered; the others were read")]
    BadLine {
        /// Its place, from 0.
        at: u64,
    },
    /// Two changes of one name.
    #[error(
        "two different changes are named {id}: two copies of this book wrote under one name; the first was taken"
    )]
    Doubled {
        /// The name.
        id: ChangeId,
    },
    /// The book's head is missing.
    #[error("it is missing; the next change writes a new one")]
    NoHouse,
    /// The book's head cannot be understood.
    #[error("it should say (format: 1, name: \"...\"): {why}")]
    BrokenHouse {
        /// Why.
        why: String,
    },
    /// The name of this clone cannot be understood.
    #[error(
        "it should hold eight digits of 0 to 9 and a to f; remove it and this copy of the book takes a new name"
    )]
    BrokenWriter,
}

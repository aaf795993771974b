//! What is wrong with the text of a record's file.

use ron::error::SpannedError;
use thiserror::Error;

use crate::book::fault::Place;
use crate::book::list::byte_at;

/// A fault of a record's text, and where it is.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("{problem}")]
pub struct LeafFault {
    /// Where, in the text that was given.
    pub place: Place,
    /// What is wrong.
    pub problem: LeafProblem,
}

/// What can be wrong with a record's text.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum LeafProblem {
    /// Too large to read.
    #[error("the text is {bytes} bytes: a record has at most {most}")]
    TooLarge {
        /// Its size.
        bytes: usize,
        /// The most that is read.
        most: usize,
    },
    /// The marks of a conflict are in it.
    #[error(
        "the file holds an unfinished merge at line {line}: keep what is right there, and take out the lines of the marks"
    )]
    UnfinishedMerge {
        /// The line of the first mark.
        line: usize,
    },
    /// Brackets in brackets.
    #[error("brackets stand more than {most} deep in one another")]
    TooDeep {
        /// How deep they may.
        most: usize,
    },
    /// Not RON.
    #[error("{0}")]
    Text(String),
    /// No struct where one must be.
    #[error("here must be fields in parentheses, like (name: value)")]
    NotAStruct,
    /// No format.
    #[error("the file must say its format first, like (format: 1, ...)")]
    NoFormat,
    /// A format that is no number.
    #[error("the format is a whole number")]
    BadFormat,
    /// No record.
    #[error(
        "there is no record in the file: beside the format it has one field, named for the kind of record"
    )]
    NoRecord,
    /// Two records.
    #[error("'{first}' and '{second}' stand in one file: a file has one record")]
    TwoRecords {
        /// The first.
        first: String,
        /// The next.
        second: String,
    },
    /// A field twice.
    #[error("the field '{name}' stands here twice")]
    Twice {
        /// Its name.
        name: String,
    },
    /// A path that leads nowhere, or a name that is none.
    #[error("'{path}' is no name of a field: a name has letters, digits and _, and starts with no digit")]
    BadName {
        /// The path that was asked for.
        path: String,
    },
    /// A value that is none, or more than one.
    #[error("'{found}' is not one value")]
    NotAValue {
        /// What was found.
        found: String,
    },
}

impl LeafFault {
    /// A fault at some bytes of a text.
    pub(in crate::book) fn new(text: &str, bytes: std::ops::Range<usize>, problem: LeafProblem) -> Self {
        Self { place: Place::in_text(text, bytes), problem }
    }

    /// A fault that the reader of RON found in the part of a text that starts at `from`.
    pub(super) fn of_text(text: &str, from: usize, part: &str, error: &SpannedError) -> Self {
        let bytes = from + byte_at(part, error.span.start)..from + byte_at(part, error.span.end);
        Self::new(text, bytes, LeafProblem::Text(error.code.to_string()))
    }
}

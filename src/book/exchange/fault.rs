//! Why a row, or a whole file, cannot be taken.

use std::fmt;
use std::sync::Arc;

use thiserror::Error;

use crate::measure::Quoted;

/// Where something came from: a file, and the line or the record in it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Spot {
    /// The file as a person knows it.
    pub file: Arc<str>,
    /// The line, from 1; 0 for the whole file.
    pub line: u64,
}

impl fmt::Display for Spot {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.line == 0 { f.write_str(&self.file) } else { write!(f, "{}:{}", self.file, self.line) }
    }
}

/// Why a row cannot be taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RowFault {
    /// Where.
    pub spot: Spot,
    /// What was found and what is allowed.
    pub message: String,
    /// What to do, if more can be said.
    pub hint: Option<String>,
}

/// `prices.csv:3: paid: '12' is not a sum of money: ...; did you mean ...?`
impl fmt::Display for RowFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.spot, self.message)?;
        self.hint.as_ref().map_or(Ok(()), |hint| write!(f, "; {hint}"))
    }
}

/// Why a file cannot be taken at all.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum NotBrought {
    /// The system refuses.
    #[error("{file} cannot be read: {why}")]
    Unreadable {
        /// Which.
        file: String,
        /// The system's words.
        why: String,
    },
    /// Too large.
    #[error("{file} is {bytes} bytes: at most {most} are read")]
    TooLarge {
        /// Which.
        file: String,
        /// Its size.
        bytes: u64,
        /// The most.
        most: u64,
    },
    /// Not a word in it.
    #[error("{file} is empty: a table needs a line with the names of its columns")]
    Empty {
        /// Which.
        file: String,
    },
    /// Too many rows.
    #[error("{file} has more than {most} rows: part it into several files")]
    TooManyRows {
        /// Which.
        file: String,
        /// The most.
        most: usize,
    },
    /// Too many columns.
    #[error("{file} has {found} columns: at most {most} are read")]
    TooManyColumns {
        /// Which.
        file: String,
        /// How many there are.
        found: usize,
        /// The most.
        most: usize,
    },
    /// A header that is not text.
    #[error("{file}: the line with the names of the columns is not UTF-8 text: save the file as UTF-8")]
    NotText {
        /// Which.
        file: String,
    },
    /// A column that must be there.
    #[error("{file}: there is no column '{wanted}' for {table}; found are {}", found.join(", "))]
    NoColumn {
        /// Which.
        file: String,
        /// The table.
        table: &'static str,
        /// What must be there.
        wanted: &'static str,
        /// What there is.
        found: Vec<String>,
        /// What to do.
        hint: String,
    },
    /// Two columns of one meaning.
    #[error(
        "{file}: '{one}' and '{other}' both mean the column '{column}': map one of them to another, or take it out"
    )]
    ColumnTwice {
        /// Which.
        file: String,
        /// One.
        one: String,
        /// The other.
        other: String,
        /// What both mean.
        column: &'static str,
    },
    /// A name in `--map` that is not there.
    #[error("{file}: there is no column '{found}' to map; there are {}", known.join(", "))]
    NothingToMap {
        /// Which.
        file: String,
        /// What was said.
        found: String,
        /// What there is.
        known: Vec<String>,
    },
    /// A field in `--map` that is none.
    #[error("{table} have no column '{found}'; there are {}", known.join(", "))]
    NoSuchField {
        /// The table.
        table: &'static str,
        /// What was said.
        found: String,
        /// What there is.
        known: Vec<&'static str>,
    },
    /// A table that nobody can tell the kind of.
    #[error("{file}: what is in it cannot be told from its columns: {}", found.join(", "))]
    WhatTable {
        /// Which.
        file: String,
        /// What there is.
        found: Vec<String>,
    },
    /// A folder with nothing to read.
    #[error("{file} holds neither pack.ron nor a table like ingredients.csv")]
    NothingThere {
        /// Which.
        file: String,
    },
    /// JSON that is none, or of another making.
    #[error("{file}:{line}: {why}")]
    Json {
        /// Which.
        file: String,
        /// The line.
        line: usize,
        /// Why.
        why: String,
    },
    /// A pack with faults.
    #[error("{file}: {why}")]
    Pack {
        /// Which.
        file: String,
        /// Why.
        why: String,
    },
}

impl NotBrought {
    /// What to do about it.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::NoColumn { hint, .. } => Some(hint.clone()),
            Self::WhatTable { .. } => {
                Some("say what it is: --as nodes, edges, specs, prices or stock".to_owned())
            }
            Self::TooLarge { .. } => Some("part it into several files".to_owned()),
            _ => None,
        }
    }
}

/// Typed text as it may be shown back.
pub(super) fn quoted(text: &str) -> String {
    Quoted(text).to_string()
}

//! Rows and columns.

use super::Tone;

/// Rows and columns; see [`Report::table`](super::Report::table).
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Table {
    /// Left to right.
    pub columns: Vec<Column>,
    /// Top to bottom.
    pub rows: Vec<Row>,
    /// Whether each row opens with its number, so that a person can say which they mean.
    pub numbered: bool,
}

/// One column of a [`Table`].
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Column {
    /// What stands above it; may be empty.
    pub title: String,
    /// On which side its text lines up.
    pub align: Align,
    /// Whether its text may wrap when room is short.
    pub flexible: bool,
}

/// On which side a column's text lines up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Align {
    /// Words.
    #[default]
    Left,
    /// Numbers.
    Right,
}

/// The cells of one row, left to right. A row may be shorter than the table; what is missing stays empty.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Row {
    /// Left to right.
    pub cells: Vec<Cell>,
}

/// One cell of a [`Table`].
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Cell {
    /// What it says.
    pub text: String,
    /// How loud it says it.
    pub tone: Tone,
}

impl Table {
    /// A table without rows.
    pub fn new(columns: impl IntoIterator<Item = Column>) -> Self {
        Self { columns: columns.into_iter().collect(), ..Self::default() }
    }

    /// The same table with its rows numbered from 1.
    #[must_use]
    pub fn numbered(mut self) -> Self {
        self.numbered = true;
        self
    }

    /// Adds a row at the bottom.
    pub fn push<C: Into<Cell>>(&mut self, cells: impl IntoIterator<Item = C>) {
        self.rows.push(cells.into_iter().collect());
    }
}

impl Column {
    /// Words that stay on one line.
    pub fn left(title: impl Into<String>) -> Self {
        Self { title: title.into(), align: Align::Left, flexible: false }
    }

    /// Numbers.
    pub fn right(title: impl Into<String>) -> Self {
        Self { title: title.into(), align: Align::Right, flexible: false }
    }

    /// Words that may wrap.
    pub fn flexible(title: impl Into<String>) -> Self {
        Self { title: title.into(), align: Align::Left, flexible: true }
    }
}

impl<C: Into<Cell>> FromIterator<C> for Row {
    fn from_iter<I: IntoIterator<Item = C>>(cells: I) -> Self {
        Self { cells: cells.into_iter().map(Into::into).collect() }
    }
}

impl Cell {
    /// A cell in a tone of its own.
    pub fn new(text: impl Into<String>, tone: Tone) -> Self {
        Self { text: text.into(), tone }
    }
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        Self::new(text, Tone::Plain)
    }
}

impl From<String> for Cell {
    fn from(text: String) -> Self {
        Self::new(text, Tone::Plain)
    }
}

//! A table on a page.

use serde::Serialize;
use unicode_width::UnicodeWidthStr;

use super::press::Frame;
use crate::report::{Align, Column, Table, Tone, clean};

/// A word longer than this may be broken to keep a table on the page, in columns of text.
const WORD: usize = 20;
/// Columns of text across a telephone, roughly.
const TELEPHONE: usize = 40;
/// Room on both sides of a cell, in columns of text.
const GAP: usize = 2;
/// How wide a column of text is, in parts of the type's size (measured: 0.61 for
/// bold text with digits in `DejaVu` Sans, a wide face).
const LETTER: f64 = 0.62;
/// Millimetres in a point.
const MM_PER_PT: f64 = 25.4 / 72.0;

/// A table with every row as long as the longest and numbers as a column of their own.
#[derive(Debug, Serialize)]
pub(super) struct Grid {
    /// `small` fits a telephone, `middle` the sheet, and `stacked` stands row by row, each cell under its title.
    fit: &'static str,
    titled: bool,
    across: usize,
    heads: Vec<Head>,
    rows: Vec<Vec<Slot>>,
}

#[derive(Debug, Serialize)]
struct Head {
    text: String,
    right: bool,
    /// Whether its words may be broken.
    breaks: bool,
}

#[derive(Debug, Serialize)]
struct Slot {
    text: String,
    tone: &'static str,
    right: bool,
    /// Whether its words may be broken.
    breaks: bool,
    /// What stands before it where rows are stacked.
    title: String,
}

impl Grid {
    pub(super) fn new(table: &Table, frame: &Frame) -> Self {
        let count = table.rows.iter().map(|row| row.cells.len()).max().unwrap_or(0).max(table.columns.len());
        let mut columns = table.columns.clone();
        columns.resize(count, Column::flexible(""));
        let head = |column: &Column| {
            let text = clean(&column.title).trim().to_owned();
            Head { breaks: longest_word(&text) > WORD, text, right: column.align == Align::Right }
        };
        let mut heads: Vec<Head> = columns.iter().map(head).collect();
        let numbered = table.numbered && count > 0;
        if numbered {
            heads.insert(0, Head { text: String::new(), right: true, breaks: false });
        }
        let row = |(row, number): (&crate::report::Row, usize)| {
            let number = numbered.then(|| (number.to_string(), Tone::Quiet));
            let cells = row.cells.iter().map(|cell| (cell.text.clone(), cell.tone));
            let blanks = std::iter::repeat((String::new(), Tone::Plain));
            number
                .into_iter()
                .chain(cells)
                .chain(blanks)
                .zip(&heads)
                .map(|(cell, head)| slot(cell, head))
                .collect()
        };
        let rows: Vec<Vec<Slot>> = table.rows.iter().zip(1..).map(row).collect();
        let needed: usize = (0..heads.len()).map(|at| narrowest(&heads[at], &rows, at) + GAP).sum();
        let room = frame.inner_width_mm() / (frame.type_pt() * MM_PER_PT * LETTER);
        let fit = match needed {
            n if n as f64 > room => "stacked",
            n if n > TELEPHONE => "middle",
            _ => "small",
        };
        let titled = heads.iter().any(|head| !head.text.is_empty());
        Self { fit, titled, across: heads.len(), heads, rows }
    }

    /// Whether there is no column.
    pub(super) fn is_empty(&self) -> bool {
        self.heads.is_empty()
    }
}

fn slot((text, tone): (String, Tone), head: &Head) -> Slot {
    let text = clean(&text).trim().to_owned();
    let tone = match tone {
        Tone::Plain | Tone::Good => "",
        Tone::Strong => "strong",
        Tone::Quiet => "quiet",
        Tone::Warn => "warn",
    };
    Slot { breaks: longest_word(&text) > WORD, text, tone, right: head.right, title: head.text.clone() }
}

/// How far a column can be squeezed: to its longest word that is not broken.
fn narrowest(head: &Head, rows: &[Vec<Slot>], at: usize) -> usize {
    let words = rows.iter().map(|row| longest_word(&row[at].text)).chain([longest_word(&head.text)]);
    words.max().unwrap_or(0).min(WORD)
}

fn longest_word(text: &str) -> usize {
    text.split(' ').map(UnicodeWidthStr::width).max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::Sheet;

    fn grid(table: &Table) -> Grid {
        Grid::new(table, &Frame::new(Sheet::A5, 11.0, 9.5))
    }

    fn wide(columns: usize) -> Table {
        let mut table = Table::new((0..columns).map(|at| Column::right(format!("measurement {at}"))));
        table.push((0..columns).map(|at| at.to_string()));
        table
    }

    #[test]
    fn a_table_that_does_not_fit_is_stacked() {
        assert_eq!(grid(&wide(2)).fit, "small");
        assert_eq!(grid(&wide(4)).fit, "middle");
        assert_eq!(grid(&wide(9)).fit, "stacked");
    }

    #[test]
    fn rows_are_filled_up_and_numbered() {
        let mut table = Table::new([Column::right("ml")]).numbered();
        table.push(["30", "quince"]);
        table.push(["15"]);
        let grid = grid(&table);
        let texts: Vec<Vec<&str>> =
            grid.rows.iter().map(|row| row.iter().map(|slot| slot.text.as_str()).collect()).collect();
        assert_eq!(texts, [["1", "30", "quince"], ["2", "15", ""]]);
        assert_eq!(grid.rows[0].iter().map(|slot| slot.right).collect::<Vec<_>>(), [true, true, false]);
        assert!(grid.titled && !grid.is_empty());
        assert!(self::grid(&Table::default()).is_empty());
    }

    #[test]
    fn only_a_long_word_is_broken() {
        let mut table = Table::new([Column::left("name")]);
        table.push(["medlar".to_owned(), "m".repeat(21)]);
        assert_eq!(grid(&table).rows[0].iter().map(|slot| slot.breaks).collect::<Vec<_>>(), [false, true]);
    }
}

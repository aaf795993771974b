//! Laying out a table, or its rows one under the other where it does not fit.

use comfy_table::{CellAlignment, ColumnConstraint, ContentArrangement, Width, presets};

use super::paint::toned;
use super::wrap::{width_of, wrap};
use super::{Signs, beside};
use crate::report::{Align, Cell, Column, Table, Tone, clean};

/// Blanks between columns.
const GAP: u16 = 2;
/// A flexible column is not squeezed below this for the sake of the others.
const SQUEEZED: usize = 12;
/// A word up to this long is not cut to squeeze its column.
const WORD: usize = 20;
/// Below this, stacked rows are not indented.
const NARROW: usize = 16;

/// The lines of a table of at most `width` columns.
pub(super) fn table(table: &Table, width: usize, signs: &Signs) -> Vec<String> {
    let grid = Grid::new(table);
    if grid.columns.is_empty() {
        return Vec::new();
    }
    let mut lines = match grid.widths(width) {
        Some(widths) => grid.across(&widths, signs),
        None => grid.stacked(width),
    };
    if grid.rows.is_empty() {
        lines.extend(wrap("nothing to show", width).iter().map(|line| toned(line, Tone::Quiet)));
    }
    lines
}

/// A table with every row as long as the longest, numbers as a column of their own, and all text clean.
struct Grid {
    columns: Vec<Column>,
    rows: Vec<Vec<Cell>>,
    numbered: bool,
}

impl Grid {
    fn new(table: &Table) -> Self {
        let count = table.rows.iter().map(|row| row.cells.len()).max().unwrap_or(0).max(table.columns.len());
        let mut columns = table.columns.clone();
        columns.resize(count, Column::flexible(""));
        for column in &mut columns {
            column.title = clean(&column.title).trim().to_owned();
        }
        let numbered = table.numbered && count > 0;
        if numbered {
            columns.insert(0, Column::right(""));
        }
        let rows = table.rows.iter().zip(1_usize..).map(|(row, number)| {
            let number = numbered.then(|| Cell::new(number.to_string(), Tone::Quiet));
            let cells = row.cells.iter().map(|cell| Cell::new(clean(&cell.text).trim(), cell.tone));
            let mut cells: Vec<Cell> = number.into_iter().chain(cells).collect();
            cells.resize(columns.len(), Cell::default());
            cells
        });
        let rows = rows.collect();
        Self { columns, rows, numbered }
    }

    /// The texts of a column, its title first.
    fn texts(&self, column: usize) -> impl Iterator<Item = &str> {
        let title = self.columns[column].title.as_str();
        std::iter::once(title).chain(self.rows.iter().map(move |row| row[column].text.as_str()))
    }

    /// The width of each column, if the table fits: as wide as its text, flexible ones squeezed as far as bearable,
    /// the widest first.
    fn widths(&self, width: usize) -> Option<Vec<usize>> {
        let gaps = usize::from(GAP) * (self.columns.len() - 1);
        let room = width.min(usize::from(u16::MAX)).checked_sub(gaps)?;
        let mut widths: Vec<usize> =
            (0..self.columns.len()).map(|c| self.texts(c).map(width_of).fold(1, usize::max)).collect();
        if self.numbered {
            // So that single figures stand as they would with ten rows.
            widths[0] = widths[0].max(2);
        }
        let least: Vec<usize> = (0..self.columns.len()).map(|c| self.least(c, widths[c])).collect();
        if least.iter().sum::<usize>() > room {
            return None;
        }
        let mut over = widths.iter().sum::<usize>().saturating_sub(room);
        while over > 0 {
            let widest = (0..widths.len()).filter(|c| widths[*c] > least[*c]).max_by_key(|c| widths[*c])?;
            let next =
                (0..widths.len()).filter(|c| *c != widest && widths[*c] > least[*c]).map(|c| widths[c]).max();
            // Down to the next widest at once, then on together.
            let step = (widths[widest] - next.unwrap_or(0).min(widths[widest] - 1))
                .min(widths[widest] - least[widest])
                .min(over);
            widths[widest] -= step;
            over -= step;
        }
        Some(widths)
    }

    /// How narrow a column may become.
    fn least(&self, column: usize, natural: usize) -> usize {
        if !self.columns[column].flexible {
            return natural;
        }
        let longest_word =
            self.texts(column).flat_map(|text| text.split(' ')).map(width_of).max().unwrap_or(0);
        natural.min(SQUEEZED.max(longest_word.min(WORD)))
    }

    /// Columns side by side under their titles.
    fn across(&self, widths: &[usize], signs: &Signs) -> Vec<String> {
        let mut table = comfy_table::Table::new();
        table.load_style(presets::NOTHING).set_content_arrangement(ContentArrangement::Disabled);
        if self.columns.iter().any(|column| !column.title.is_empty()) {
            let heads =
                || self.columns.iter().zip(widths).map(|(column, width)| (column.title.as_str(), *width));
            let titles = heads().map(|(title, width)| cell(&wrap(title, width), Tone::Quiet));
            let rules = heads().map(|(title, width)| {
                let width = if title.is_empty() { 0 } else { width };
                cell(&[signs.rule.repeat(width)], Tone::Quiet)
            });
            table.add_row(titles.collect::<Vec<_>>());
            table.add_row(rules.collect::<Vec<_>>());
        }
        for row in &self.rows {
            let cells =
                row.iter().zip(widths).map(|(cell, width)| self::cell(&wrap(&cell.text, *width), cell.tone));
            table.add_row(cells.collect::<Vec<_>>());
        }
        let last = self.columns.len() - 1;
        for (c, column) in self.columns.iter().enumerate() {
            if let Some(laid) = table.column_mut(c) {
                let padding = if c == last { 0 } else { GAP };
                let width = u16::try_from(widths[c]).unwrap_or(u16::MAX).saturating_add(padding);
                laid.set_padding((0, padding));
                laid.set_constraint(ColumnConstraint::Absolute(Width::Fixed(width)));
                laid.set_cell_alignment(match column.align {
                    Align::Left => CellAlignment::Left,
                    Align::Right => CellAlignment::Right,
                });
            }
        }
        table.lines().collect()
    }

    /// Each row as its first text and, under it, the others with their titles.
    fn stacked(&self, width: usize) -> Vec<String> {
        let first = usize::from(self.numbered);
        let label_width = self.columns.iter().skip(first + 1).map(|c| width_of(&c.title)).max().unwrap_or(0);
        // What stands under the number or the first text is indented, where there is room.
        let digits = self.rows.len().to_string().len().max(2);
        let indent = match (self.numbered, width) {
            (_, ..NARROW) => 0,
            (true, _) => digits + usize::from(GAP),
            (false, _) => 2,
        };
        let mut lines = Vec::new();
        for row in &self.rows {
            let hang = if self.numbered { indent } else { 0 };
            let mut head = row.get(first).map(|cell| wrap(&cell.text, width - hang)).unwrap_or_default();
            if self.numbered && indent == 0 {
                lines.extend(wrap(&row[0].text, width).iter().map(|line| toned(line, Tone::Quiet)));
            } else if self.numbered && head.is_empty() {
                head.push(String::new());
            }
            for (i, line) in head.iter().enumerate() {
                let before = match i {
                    0 if hang > 0 => format!("{:>digits$}  ", row[0].text),
                    _ => " ".repeat(hang),
                };
                lines.push(toned(&before, Tone::Quiet) + &toned(line, row[first].tone));
            }
            for (column, cell) in self.columns.iter().zip(row).skip(first + 1) {
                if !cell.text.is_empty() {
                    let body = beside(&column.title, label_width, &cell.text, cell.tone, width - indent);
                    lines.extend(body.into_iter().map(|line| " ".repeat(indent) + &line));
                }
            }
        }
        lines
    }
}

/// A cell for laying out, of lines that are wrapped already.
fn cell(lines: &[String], tone: Tone) -> comfy_table::Cell {
    let marked: Vec<String> = lines.iter().map(|line| toned(line, tone)).collect();
    comfy_table::Cell::new_owned(marked.join("\n"))
}

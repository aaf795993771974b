//! Rows of tables as records.

use std::collections::HashMap;

use super::cell::{Cell, Cells};
use super::column::Table;
use super::entries::{ingredient_id, usual_roles};
use super::fault::{NotBrought, RowFault, Spot};
use super::fields::{CellFault, Taking};
use super::flat;
use super::header::{Header, Mapped, table_of};
use super::item::{Brought, Item};
use super::table::Sheet;
use super::who::Who;
use crate::book::names::Names;
use crate::book::shelf::Book;
use crate::book::word::{Kind, Role};

/// A table's file.
#[derive(Debug, Clone)]
pub struct TableFile {
    /// Its name, as a person knows it.
    pub file: String,
    /// Its name without folder and ending.
    pub stem: String,
    /// What it is, if that was said.
    pub table: Option<Table>,
    /// What is in it.
    pub bytes: Vec<u8>,
}

/// A word on how far it is: rows that are done.
pub type Progress<'p> = &'p mut dyn FnMut(usize);

/// How often it is told how far it is.
const EVERY: usize = 1000;

/// What a table is, and what its columns mean.
pub(super) struct Read {
    table: Table,
    pub(super) header: Header,
    pub(super) comma: bool,
}

/// A table that is being read.
struct Open<'t> {
    read: Read,
    sheet: Sheet<'t>,
}

/// Reads tables, those first to which others refer.
///
/// # Errors
/// [`NotBrought`] for a file that cannot be taken at all; faults of rows come with the rest.
pub fn read_tables(
    files: &[TableFile],
    mapped: &[Mapped],
    book: &Book,
    names: &Names,
    progress: Progress<'_>,
) -> Result<Brought, NotBrought> {
    let mut brought = Brought::default();
    let mut tables = Vec::new();
    for file in files {
        tables.push(open(file, mapped, &mut brought)?);
    }
    tables.sort_by_key(|open| open.read.table);
    let mut who = Who::new(book, names);
    // Rows of ingredients are gathered, for others may name them; those of other tables become records one by one.
    let mut first = Vec::new();
    for open in tables.iter_mut().filter(|open| open.read.table == Table::Ingredients) {
        let rows = open.rows(&mut brought, progress)?;
        for (_, cells) in &rows {
            let Some((id, name)) = ingredient_id(cells, &who).zip(text(cells, "name")) else { continue };
            let aliases = text(cells, "aliases").map(super::cell::items).unwrap_or_default();
            let all: Vec<&str> = std::iter::once(name).chain(aliases.iter().map(String::as_str)).collect();
            who.comes(&id, all);
        }
        first.push(rows);
    }
    let mut bringing = Bringing { who: &who, roles: usual_roles(book), brought, unsaid: Default::default() };
    let mut first = first.into_iter();
    for open in &mut tables {
        match open.read.table {
            Table::Ingredients => {
                for (spot, cells) in first.next().unwrap_or_default() {
                    bringing.row(&open.read, spot, &cells);
                }
            }
            Table::Specs => {
                let rows = open.rows(&mut bringing.brought, progress)?;
                bringing.drinks(&open.read, &rows);
            }
            _ => {
                while let Some((spot, cells)) = open.next(&mut bringing.brought, progress)? {
                    bringing.row(&open.read, spot, &cells);
                }
            }
        }
    }
    bringing.tell_unsaid();
    Ok(bringing.brought)
}

fn open<'t>(file: &'t TableFile, mapped: &[Mapped], brought: &mut Brought) -> Result<Open<'t>, NotBrought> {
    let sheet = Sheet::open(&file.file, &file.bytes)?;
    let table = match file.table {
        Some(table) => table,
        None => table_of(&file.file, &file.stem, &sheet.header)?,
    };
    let header = Header::of(&file.file, table, &sheet.header, mapped)?;
    if !header.unknown.is_empty() {
        brought.notes.push(format!("{}: columns left out: {}", file.file, header.unknown.join(", ")));
    }
    let comma = sheet.has_decimal_commas();
    Ok(Open { read: Read { table, header, comma }, sheet })
}

impl Open<'_> {
    /// The next row that can be read; the faults of others are told.
    fn next(
        &mut self,
        brought: &mut Brought,
        progress: Progress<'_>,
    ) -> Result<Option<(Spot, Cells)>, NotBrought> {
        while let Some(row) = self.sheet.next()? {
            brought.rows += 1;
            if brought.rows.is_multiple_of(EVERY) {
                progress(brought.rows);
            }
            match row {
                Ok((spot, row)) => {
                    let cells = self.read.header.cells(&row);
                    let Some(column) = broken(&cells) else { return Ok(Some((spot, cells))) };
                    let message = format!("{column}: there is a line break in the cell");
                    let hint = Some("is a quote opened and not closed?".to_owned());
                    brought.fault(RowFault { spot, message, hint });
                }
                Err(fault) => brought.fault(fault),
            }
        }
        Ok(None)
    }

    /// Every row that can be read.
    fn rows(
        &mut self,
        brought: &mut Brought,
        progress: Progress<'_>,
    ) -> Result<Vec<(Spot, Cells)>, NotBrought> {
        let mut rows = Vec::new();
        while let Some(row) = self.next(brought, progress)? {
            rows.push(row);
        }
        Ok(rows)
    }
}

/// The column of a cell with a line break in it, which no record holds.
fn broken(cells: &Cells) -> Option<&'static str> {
    let is_broken = |cell: &Cell| matches!(cell, Cell::Text(text) if text.contains(['\n', '\r']));
    cells.iter().find(|(_, cell)| is_broken(cell)).map(|(column, _)| *column)
}

/// What a row says in a column.
pub(super) fn text<'c>(cells: &'c Cells, column: &str) -> Option<&'c str> {
    match cells.get(column) {
        Some(Cell::Text(text)) => Some(text),
        _ => None,
    }
}

/// Tables on their way to records.
pub(super) struct Bringing<'w> {
    pub(super) who: &'w Who<'w>,
    pub(super) roles: HashMap<Kind, Vec<Role>>,
    pub(super) brought: Brought,
    /// How many new ingredients do not say their roles, and how many not their loudness.
    pub(super) unsaid: [std::cell::Cell<usize>; 2],
}

impl Bringing<'_> {
    fn row(&mut self, read: &Read, spot: Spot, cells: &Cells) {
        match self.record(read, cells) {
            Ok(item) => self.brought.items.push((spot, item)),
            Err(faults) => self.refuse(&spot, faults),
        }
    }

    /// Says what was taken for new ingredients that do not say it.
    fn tell_unsaid(&mut self) {
        let words = ["the roles that most of their kind have", "a loudness of 0.5"];
        for (count, words) in self.unsaid.iter().map(std::cell::Cell::get).zip(words) {
            match count {
                0 => {}
                1 => {
                    self.brought.notes.push(format!("taken for a new ingredient that does not say: {words}"))
                }
                _ => self
                    .brought
                    .notes
                    .push(format!("taken for {count} new ingredients that do not say: {words}")),
            }
        }
    }

    pub(super) fn refuse(&mut self, spot: &Spot, faults: Vec<CellFault>) {
        for CellFault { message, hint } in faults {
            self.brought.fault(RowFault { spot: spot.clone(), message, hint });
        }
    }

    fn record(&self, read: &Read, cells: &Cells) -> Result<Item, Vec<CellFault>> {
        let who = self.who;
        let book = who.book();
        let mut row = Taking::new(cells, who, read.comma);
        let item = match read.table {
            Table::Ingredients => return self.ingredient(read, cells),
            Table::Affinities => flat::bond_of(&mut row).map(Item::Bond),
            Table::Preps => {
                let Some(makes) = row.ingredient("makes") else { return Err(row.faults) };
                let under = book.prep_of(&makes).map(flat::prep_cells).unwrap_or_default();
                let whole = flat::over(under, cells.clone());
                let mut row = Taking::new(&whole, who, read.comma);
                let prep = flat::prep_of(&mut row, makes);
                return prep.map(|prep| Item::Prep(Box::new(prep))).ok_or(row.faults);
            }
            Table::Cautions => {
                let id =
                    row.needed("id").and_then(|id| row.taken("id", crate::book::id::CautionId::new(&id)));
                id.zip(row.needed("text")).map(|(id, text)| Item::Caution(id, text))
            }
            Table::Prices => row.ingredient("ingredient").and_then(|of| {
                let price = flat::price_of(&mut row, of)?;
                let note = book.house().price(&price.of).and_then(|now| now.note.clone());
                let note = if row.says("note") { price.note } else { note };
                Some(Item::Price(crate::book::price::Price { note, ..price }))
            }),
            Table::Stock => row.ingredient("ingredient").and_then(|of| {
                let stock = flat::stock_of(&mut row, of)?;
                let note = book.house().stock_of(&stock.of).and_then(|now| now.note.clone());
                let note = if row.says("note") { stock.note } else { note };
                Some(Item::Stock(crate::book::stock::Stock { note, ..stock }))
            }),
            Table::HoldBacks => row.ingredient("ingredient").and_then(|of| {
                let held = flat::hold_back_of(&mut row, of)?;
                let why = book.house().hold_back(&held.of).and_then(|now| now.why.clone());
                let why = if row.says("why") { held.why } else { why };
                Some(Item::HoldBack(crate::book::hold_back::HoldBack { why, ..held }))
            }),
            Table::Tastings => flat::tasting_of(&mut row).map(|t| Item::Tasting(Box::new(t))),
            Table::Weighings => flat::weighing_of(&mut row).map(|w| Item::Weighing(Box::new(w))),
            Table::Measures => {
                let now = book.house().measures().copied().unwrap_or_default();
                flat::measures_of(&mut row, now).map(Item::Measures)
            }
            Table::Specs => None,
        };
        item.filter(|_| row.faults.is_empty()).ok_or(row.faults)
    }
}

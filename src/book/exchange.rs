//! Bringing records into a house book, and taking them out of a book: as a pack folder, as JSON, as CSV tables, and as a graph.
//!
//! Nothing is read from the screen and nothing is printed here; results are values, files are texts by name.

mod bundle;
mod cell;
mod change;
mod column;
mod differ;
mod drinks;
mod entries;
mod fault;
mod fields;
mod filling;
mod flat;
mod graph;
mod graphml;
mod header;
mod item;
mod json;
mod pack;
mod plan;
mod rows;
mod slug;
mod table;
mod tables;
#[cfg(test)]
mod tests;
mod who;

pub use bundle::{Bonds, Bundle, Part, WrittenBond};
pub use column::Table;
pub use fault::{NotBrought, RowFault, Spot};
pub use header::Mapped;
pub use item::Brought;
pub use json::{json_text, read_json};
pub use pack::{Files, pack_files, read_pack};
pub use plan::{Fate, Plan, Step, plan};
pub use rows::{Progress, TableFile, read_tables};
pub use table::{MOST_CELL_BYTES, MOST_COLUMNS, MOST_FILE_BYTES, MOST_ROWS};
pub use tables::{csv_files, csv_table};

use super::shelf::Book;

/// The most records that a house book holds.
pub const MOST_RECORDS: usize = super::store::MOST_FILES;

/// The graph of a bundle as `GraphML` 1.0.
///
/// # Errors
/// None that writing into memory has.
pub fn graphml(bundle: &Bundle, book: &Book) -> std::io::Result<Vec<u8>> {
    graphml::graphml_text(&graph::Picture::of(bundle, book))
}

/// The graph of a bundle in the DOT language.
pub fn dot(bundle: &Bundle, book: &Book) -> String {
    graph::dot_text(&graph::Picture::of(bundle, book))
}

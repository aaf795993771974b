//! A bundle as CSV tables.

use super::bundle::Bundle;
use super::cell::Cells;
use super::column::Table;
use super::flat;
use super::pack::Files;
use super::table::table_text;
use super::who::Who;
use crate::book::names::Names;
use crate::book::shelf::Book;

/// The rows of a table. What the packs say and the house does not is told with `-`, so that it is not there either when the
/// table is laid over the same packs.
fn rows(table: Table, bundle: &Bundle, packs: &Book, who: &Who<'_>) -> Vec<Cells> {
    match table {
        Table::Ingredients => {
            let row = |i: &crate::book::ingredient::Ingredient| {
                let under = packs.ingredient(&i.id).map(flat::ingredient_cells).unwrap_or_default();
                flat::explicit(flat::ingredient_cells(i), &under)
            };
            bundle.ingredients.iter().map(row).collect()
        }
        Table::Affinities => bundle.bonds.iter().map(|b| flat::bond_cells(b, who)).collect(),
        Table::Specs => {
            let rows = |template: &crate::book::template::Template| {
                let under =
                    packs.template(&template.id).map(|t| flat::drink_rows(t, who)).unwrap_or_default();
                let mut rows = flat::drink_rows(template, who);
                if let (Some(first), Some(under)) = (rows.first_mut(), under.first()) {
                    let mut under = under.clone();
                    under.retain(|column, _| matches!(*column, "garnish" | "aliases" | "from"));
                    *first = flat::explicit(std::mem::take(first), &under);
                }
                rows
            };
            bundle.templates.iter().flat_map(rows).collect()
        }
        Table::Preps => {
            let row = |prep: &crate::book::prep::Prep| {
                let under = packs.prep_of(&prep.makes).map(flat::prep_cells).unwrap_or_default();
                flat::explicit(flat::prep_cells(prep), &under)
            };
            bundle.preps.iter().map(row).collect()
        }
        Table::Cautions => bundle.cautions.iter().map(flat::caution_cells).collect(),
        Table::Prices => bundle.prices.iter().map(|p| flat::price_cells(p, who)).collect(),
        Table::HoldBacks => bundle.hold_backs.iter().map(|h| flat::hold_back_cells(h, who)).collect(),
        Table::Stock => bundle.stock.iter().map(|s| flat::stock_cells(s, who)).collect(),
        Table::Tastings => bundle.tastings.iter().map(flat::tasting_cells).collect(),
        Table::Weighings => bundle.weighings.iter().map(flat::weighing_cells).collect(),
        Table::Measures => bundle.measures.iter().map(flat::measures_cells).collect(),
    }
}

/// One table of a bundle.
///
/// # Errors
/// None that writing into memory has.
pub fn csv_table(
    table: Table,
    bundle: &Bundle,
    (packs, book): (&Book, &Book),
    names: &Names,
) -> Result<Vec<u8>, csv::Error> {
    table_text(table, &rows(table, bundle, packs, &Who::new(book, names)))
}

/// Every table of a bundle that has a row, as files.
///
/// # Errors
/// As for [`csv_table`].
pub fn csv_files(bundle: &Bundle, books: (&Book, &Book), names: &Names) -> Result<Files, csv::Error> {
    let who = Who::new(books.1, names);
    let mut files = Files::new();
    for table in Table::ALL {
        let rows = rows(table, bundle, books.0, &who);
        if !rows.is_empty() {
            files.push((format!("{}.csv", table.name()), table_text(table, &rows)?));
        }
    }
    Ok(files)
}

//! Records as rows of cells and back.

mod drink;
mod facts;
mod ingredient;
mod making;

pub(super) use drink::{drink_of, drink_rows};
pub(super) use facts::{
    BondRow, bond_cells, bond_of, hold_back_cells, hold_back_of, measures_cells, measures_of, price_cells,
    price_of, stock_cells, stock_of, tasting_cells, tasting_of, weighing_cells, weighing_of,
};
pub(super) use ingredient::{ingredient_cells, ingredient_of};
pub(super) use making::{caution_cells, prep_cells, prep_of};

use super::cell::Cells;

/// Cells of a row over those that stood there: what the row says counts.
pub(super) fn over(under: Cells, row: Cells) -> Cells {
    let mut all = under;
    all.extend(row);
    all
}

/// Cells with a word for what is gone: columns in which something stood before, and nothing stands now.
pub(super) fn explicit(mut cells: Cells, under: &Cells) -> Cells {
    for (column, cell) in under {
        if *cell != super::cell::Cell::None {
            cells.entry(column).or_insert(super::cell::Cell::None);
        }
    }
    cells
}

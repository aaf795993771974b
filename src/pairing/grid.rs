//! What every two of two lists of ingredients are to each other, laid out for a search that asks by the thousand.

use super::graph::Graph;
use crate::book::IngredientId;

/// What a pair is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Pair {
    /// It has an affinity, 0 to 1.
    Affinity(f64),
    /// It is a clash.
    Clash,
    /// Nothing is known of it.
    Unknown,
    /// One ingredient twice.
    Same,
}

/// The pairs of two lists, by row and column.
#[derive(Debug, Clone)]
pub struct Grid {
    columns: usize,
    pairs: Vec<Pair>,
}

impl Grid {
    /// The pair of a row and a column of the lists that the grid was made of.
    pub fn pair(&self, row: usize, column: usize) -> Pair {
        self.pairs[row * self.columns + column]
    }
}

impl Graph<'_> {
    /// The pairs of two lists of ingredients. Of an id that is not in the book nothing is known.
    pub fn grid(&self, rows: &[&IngredientId], columns: &[&IngredientId]) -> Grid {
        let places: Vec<Option<u32>> = columns.iter().map(|id| self.position(id)).collect();
        let mut all = vec![Pair::Unknown; self.len() as usize];
        let mut pairs = Vec::with_capacity(rows.len() * columns.len());
        for id in rows {
            let Some(at) = self.position(id) else {
                pairs.extend(std::iter::repeat_n(Pair::Unknown, columns.len()));
                continue;
            };
            all.fill(Pair::Unknown);
            for (other, strand) in self.neighbours(at) {
                all[other as usize] = Pair::Affinity(strand.affinity);
            }
            for (other, _) in self.clash_neighbours(at) {
                all[other as usize] = Pair::Clash;
            }
            all[at as usize] = Pair::Same;
            pairs.extend(places.iter().map(|place| place.map_or(Pair::Unknown, |p| all[p as usize])));
        }
        Grid { columns: columns.len(), pairs }
    }
}

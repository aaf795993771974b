//! What two ingredients are to each other: known, or inferred where the book knows nothing.

use std::cell::OnceCell;

use super::graph::{Graph, Tie};
use super::likeness;
use crate::book::{Edge, IngredientId};
use crate::measure::Affinity;

/// What two ingredients are to each other.
#[derive(Debug, Clone, Copy)]
pub enum Agreement<'b> {
    /// The book has their affinity.
    Known(Tie<'b>),
    /// The book has them as a clash.
    Clash(&'b Edge),
    /// The book has neither: what would be expected of them, discounted. Always to be shown as inferred.
    Inferred(Affinity),
}

impl Agreement<'_> {
    /// The affinity, known or inferred; 0 for a clash.
    pub fn value(&self) -> f64 {
        match self {
            Self::Known(tie) => tie.affinity.value(),
            Self::Clash(_) => 0.0,
            Self::Inferred(affinity) => affinity.value(),
        }
    }
}

/// The most that is inferred. A pack is asked to leave out what goes together less well than this (data/README.md),
/// so a pair that it leaves out is taken to be no better.
const MOST_INFERRED: f64 = 0.45;

/// The power to which likeness is raised, so that only what is very like an ingredient speaks for it.
const SHARPNESS: i32 = 8;

/// How every two ingredients of a graph agree, with what is missing inferred.
///
/// # Model
/// For a and b with neither an affinity nor a clash:
/// ```text
/// inferred = 0.45 √(like · company)
/// like     = mean of the two ways of Σ l(a, x)⁸ a(x, b) / Σ l(a, x)⁸ over all x but a and b
/// company  = cosine of the affinities to third ingredients
/// ```
/// with l the cosine of the facet grades, and a(x, b) taken as 0 where there is no affinity. In words: what is like a
/// goes with b, what is like b goes with a, and the two keep the same company. It is symmetric, and at least 0.01.
///
/// # Limits
/// It ranks pairs; it is no probability, and no measure of taste. An ingredient without affinities, or without facets, gets the least.
#[derive(Debug)]
pub struct Agreements<'g, 'b> {
    graph: &'g Graph<'b>,
    /// For each ingredient, once it is asked for, its likeness to all, raised.
    rows: Vec<OnceCell<Vec<f64>>>,
}

impl<'g, 'b> Agreements<'g, 'b> {
    /// Ready to be asked; what is needed is reckoned when it is.
    pub fn new(graph: &'g Graph<'b>) -> Self {
        Self { graph, rows: (0..graph.len()).map(|_| OnceCell::new()).collect() }
    }

    /// What two ingredients are to each other. None if one is not in the book, or both are the same.
    pub fn between(&self, a: &IngredientId, b: &IngredientId) -> Option<Agreement<'b>> {
        let (a, b) = (self.graph.position(a)?, self.graph.position(b)?);
        if a == b {
            return None;
        }
        if let Some(strand) = self.graph.strand(a, b) {
            return Some(Agreement::Known(self.graph.tie_of(b, strand)));
        }
        if let Some(edge) = self.graph.clash_at(a, b) {
            return Some(Agreement::Clash(edge));
        }
        Some(Agreement::Inferred(Affinity::clamped(MOST_INFERRED * self.expected(a, b))))
    }

    fn expected(&self, a: u32, b: u32) -> f64 {
        // One order, so that rounding cannot tell the two apart.
        let (a, b) = (a.min(b), a.max(b));
        let like = f64::midpoint(self.like_goes_with(a, b), self.like_goes_with(b, a));
        (like * likeness::company(self.graph, a, b)).sqrt()
    }

    /// How well what is like `a` goes with `b`, 0 to 1.
    fn like_goes_with(&self, a: u32, b: u32) -> f64 {
        let row = self.row(a);
        let all: f64 = row.iter().sum::<f64>() - row[b as usize];
        let sum: f64 = self
            .graph
            .neighbours(b)
            .filter(|(x, _)| *x != a)
            .map(|(x, s)| row[x as usize] * s.affinity)
            .sum();
        if all > 0.0 { (sum / all).clamp(0.0, 1.0) } else { 0.0 }
    }

    fn row(&self, a: u32) -> &[f64] {
        self.rows[a as usize].get_or_init(|| {
            let own = self.graph.ingredient(a);
            (0..self.graph.len())
                .map(|x| {
                    if x == a { 0.0 } else { likeness::facets(own, self.graph.ingredient(x)).powi(SHARPNESS) }
                })
                .collect()
        })
    }
}

#[cfg(test)]
mod tests;

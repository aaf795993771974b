//! What a kind of variant promises of the drink in the glass, and which variants keep it.

use super::{Turned, dish};
use crate::book::Ingredient;
use crate::drink::Figures;
use crate::pairing::{Graph, Tie};
use crate::riff::{Riff, Riffs};

/// A figure of a drink.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Figure {
    /// Strength, % vol.
    Strength,
    /// Sugars, g/L.
    Sugar,
    /// Acid as citric, g/L.
    Acid,
    /// Volume in the glass, ml.
    Served,
}

impl Figure {
    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Strength => "strength",
            Self::Sugar => "sugar",
            Self::Acid => "acid",
            Self::Served => "volume",
        }
    }

    /// Its unit.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Strength => "% vol",
            Self::Sugar | Self::Acid => "g/L",
            Self::Served => "ml",
        }
    }

    /// Its value in a drink.
    pub fn of(self, figures: &Figures) -> f64 {
        match self {
            Self::Strength => figures.strength.percent_vol(),
            Self::Sugar => figures.sugar.grams_per_litre(),
            Self::Acid => figures.acid.grams_per_litre(),
            Self::Served => figures.served.ml(),
        }
    }
}

/// Limits of a figure that every variant of a kind must keep.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Promise {
    /// Which figure.
    pub figure: Figure,
    /// The least.
    pub least: f64,
    /// The most; infinite where there is none.
    pub most: f64,
}

impl Promise {
    /// Whether a drink keeps it.
    pub fn kept_by(&self, figures: &Figures) -> bool {
        let value = self.figure.of(figures);
        value >= self.least - 1e-9 && value <= self.most + 1e-9
    }
}

/// The variants that keep what was promised.
#[derive(Debug, Clone)]
pub struct Kept<'b> {
    /// They, and what the search did; ranked with the dish where there is one.
    pub riffs: Riffs<'b>,
    /// How many were left out since they did not keep it.
    pub broken: usize,
    /// For each variant, the pairs of it with the dish, best first; empty without a dish.
    pub with_dish: Vec<Vec<(&'b Ingredient, Tie<'b>)>>,
}

impl<'b> Turned<'b> {
    /// The variants that keep every promise, `count` at most, what they bring told against the classic as it was; for a
    /// dish, in the order of their harmony with it and in themselves.
    pub fn keep(&self, graph: &Graph<'b>, mut found: Riffs<'b>, count: usize) -> Kept<'b> {
        let all = found.found.len();
        found.found.retain(|riff| self.promises.iter().all(|p| p.kept_by(&riff.figures)));
        let broken = all - found.found.len();
        if !self.dish.is_empty() {
            let rank = |riff: &Riff<'b>| riff.score.total + dish::harmony_with(graph, &riff.spec, &self.dish);
            found.found.sort_by(|a, b| rank(b).total_cmp(&rank(a)));
        }
        found.found.truncate(count);
        for riff in &mut found.found {
            let (had, has) = (self.classic.allergens(), riff.spec.allergens());
            riff.allergens_gained = has.difference(&had).copied().collect();
            riff.allergens_lost = had.difference(&has).copied().collect();
        }
        let with_dish = found.found.iter().map(|r| dish::pairs_with(graph, &r.spec, &self.dish)).collect();
        Kept { riffs: found, broken, with_dish }
    }
}

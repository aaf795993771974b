//! How much each line counts in a drink's harmony.

use crate::book::Ingredient;
use crate::drink::Spec;

/// Even the quietest ingredient counts this much.
const LEAST_LOUDNESS: f64 = 0.05;

/// A line as it is heard among the others.
#[derive(Debug, Clone, Copy)]
pub struct Voice<'b> {
    /// What it is.
    pub ingredient: &'b Ingredient,
    /// How loud it is, 0.05 at least.
    pub loudness: f64,
    /// Its share of the volume poured, before the amounts are found.
    pub share: f64,
}

impl<'b> Voice<'b> {
    /// An ingredient at a share of the poured volume.
    pub(super) fn of(ingredient: &'b Ingredient, share: f64) -> Self {
        Self { ingredient, loudness: ingredient.loudness.value().max(LEAST_LOUDNESS), share }
    }

    /// How much it counts: what is loud or plentiful counts most.
    pub fn weight(&self) -> f64 {
        self.loudness * self.share.sqrt()
    }
}

/// Every line of a spec that has a volume.
pub(super) fn voices<'b>(spec: &Spec<'b>) -> Vec<Voice<'b>> {
    let total: f64 = spec.lines.iter().filter_map(|l| l.volume).map(|v| v.ml()).sum();
    spec.lines.iter().filter_map(|l| Some(Voice::of(l.ingredient, l.volume?.ml() / total))).collect()
}

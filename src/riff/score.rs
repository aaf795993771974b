//! What a variant is ranked by.

use crate::book::{Ingredient, Presence, When};

/// What being like the classic's own filler is worth against harmony.
pub(super) const KINSHIP: f64 = 0.20;
/// What one just-noticeable difference from the classic costs.
pub(super) const BALANCE: f64 = 0.10;
/// What a change nobody asked for is worth: a riff should be one.
pub(super) const NOVELTY: f64 = 0.03;
/// What a garnish costs where a wanted ingredient could be tasted in the drink itself.
pub(super) const ONLY_ON_TOP: f64 = 0.40;
/// What a fresh ingredient at its peak is worth; half of it if only to be had.
const IN_PEAK: f64 = 0.04;

/// What the season of an ingredient is worth.
pub(super) fn season(ingredient: &Ingredient, when: When) -> f64 {
    if !ingredient.is_fresh_in(when.climate) {
        return 0.0;
    }
    match ingredient.presence(when) {
        Presence::Peak => IN_PEAK,
        Presence::Available => IN_PEAK / 2.0,
        Presence::None => -IN_PEAK,
    }
}

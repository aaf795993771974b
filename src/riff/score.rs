//! What a riff is ranked by, term by term.

use super::candidate::{Candidate, Change};
use crate::book::{Ingredient, Presence, When};

/// What a riff is ranked by. Each term as it is added, costs with their minus; what they come from is on the riff.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Score {
    /// How well it goes together, 0 to 1.
    pub harmony: f64,
    /// For how like the classic's own the fillers are that nobody asked for.
    pub kinship: f64,
    /// For each change that nobody asked for: a riff should be one.
    pub novelty: f64,
    /// For what is fresh, and against what is out of season.
    pub season: f64,
    /// Against every just-noticeable difference from the classic.
    pub balance: f64,
    /// Against a wanted ingredient that is only a garnish.
    pub only_on_top: f64,
    /// All terms together.
    pub total: f64,
}

impl Score {
    /// What being like the classic's own filler is worth against harmony.
    pub const A_LIKENESS: f64 = 0.20;
    /// What a change nobody asked for is worth.
    pub const A_CHANGE: f64 = 0.03;
    /// What a fresh ingredient at its peak is worth; half of it if only to be had, and as much against it if not.
    pub const A_PEAK: f64 = 0.04;
    /// What one just-noticeable difference from the classic costs.
    pub const A_DIFFERENCE: f64 = 0.10;
    /// What a garnish costs where a wanted ingredient could be tasted in the drink itself.
    pub const A_GARNISH: f64 = 0.40;

    /// The score of a candidate whose amounts come out exactly as the classic's balance: the most it can have.
    pub(super) fn at_most(candidate: &Candidate<'_>, harmony: f64, when: When) -> Self {
        let unasked = candidate.unasked as f64;
        let likeness = if candidate.unasked == 0 { 1.0 } else { candidate.kinship / unasked };
        let on_top = candidate.changes.iter().filter(|c| matches!(c, Change::Garnish { .. })).count();
        let season = candidate.spec.ingredients().filter_map(|i| Self::season_of(i, when)).map(|(_, w)| w);
        Self {
            harmony,
            kinship: Self::A_LIKENESS * likeness,
            novelty: Self::A_CHANGE * unasked,
            season: season.sum(),
            balance: 0.0,
            only_on_top: -Self::A_GARNISH * on_top as f64,
            total: 0.0,
        }
        .added()
    }

    /// The same with what a distance from the classic costs.
    pub(super) fn at_distance(self, distance: f64) -> Self {
        Self { balance: -Self::A_DIFFERENCE * distance, ..self }.added()
    }

    fn added(self) -> Self {
        let total: f64 = self.terms().iter().sum();
        Self { total, ..self }
    }

    /// The terms in the order in which they are listed.
    pub fn terms(&self) -> [f64; 6] {
        [self.harmony, self.kinship, self.novelty, self.season, self.balance, self.only_on_top]
    }

    /// What an ingredient's season adds; none for what is not fresh.
    pub fn season_of(ingredient: &Ingredient, when: When) -> Option<(Presence, f64)> {
        let presence = ingredient.presence(when);
        let worth = match presence {
            Presence::Peak => Self::A_PEAK,
            Presence::Available => Self::A_PEAK / 2.0,
            Presence::None => -Self::A_PEAK,
        };
        ingredient.is_fresh_in(when.climate).then_some((presence, worth))
    }
}

//! What a drink should come to, and how far another is from it.

use super::palate::{Direction, Palate};
use crate::drink::figures::Figures;

/// What a drink should come to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Aim {
    /// Strength, % vol.
    pub strength: f64,
    /// Sugars, g/L.
    pub sugar: f64,
    /// Acid as citric, g/L.
    pub acid: f64,
    /// Bitterness, points of our scale.
    pub bitterness: f64,
    /// Volume in the glass, ml: a pull, not a part of the distance.
    pub served: f64,
    /// What the taster notices.
    pub palate: Palate,
}

/// By what share the glass may be fuller or emptier before that costs a just-noticeable difference.
pub(super) const A_FULL_GLASS: f64 = 0.15;

impl Aim {
    /// The aim of coming out like a drink.
    pub fn of(figures: &Figures) -> Self {
        Self {
            strength: figures.strength.percent_vol(),
            sugar: figures.sugar.grams_per_litre(),
            acid: figures.acid.grams_per_litre(),
            bitterness: figures.bitterness.points(),
            served: figures.served.ml(),
            palate: Palate::default(),
        }
    }

    /// The same for a taster who notices more, or less.
    #[must_use]
    pub fn tasted_by(self, palate: Palate) -> Self {
        Self { palate, ..self }
    }

    /// What it is in each direction, in their order.
    pub fn values(&self) -> [f64; 4] {
        [self.strength, self.sugar, self.acid, self.bitterness]
    }

    /// What it is in a direction, to be moved.
    pub(in crate::drink) fn taste_mut(&mut self, direction: Direction) -> &mut f64 {
        match direction {
            Direction::Strength => &mut self.strength,
            Direction::Sugar => &mut self.sugar,
            Direction::Acid => &mut self.acid,
            Direction::Bitterness => &mut self.bitterness,
        }
    }

    /// The just-noticeable difference in each direction.
    pub fn steps(&self) -> [f64; 4] {
        let values = self.values();
        Direction::ALL.map(|direction| self.palate.step(direction, values[direction as usize]))
    }

    /// How far a drink is from the aim: the sum over strength, sugar, acid and bitterness, each in just-noticeable
    /// differences.
    pub fn distance(&self, figures: &Figures) -> f64 {
        self.distance_of(&Self::of(figures).values())
    }

    /// The distance of figures in the order of the directions.
    pub(super) fn distance_of(&self, figures: &[f64; 4]) -> f64 {
        let (values, steps) = (self.values(), self.steps());
        (0..4).map(|d| (figures[d] - values[d]).abs() / steps[d]).sum()
    }

    /// The pull towards the volume in the glass: 1 for every 15 % off, at least, of any volume between two.
    pub(super) fn glass_pull(&self, least_ml: f64, most_ml: f64) -> f64 {
        if self.served <= 0.0 {
            return 0.0;
        }
        (least_ml - self.served).max(self.served - most_ml).max(0.0) / (A_FULL_GLASS * self.served)
    }
}

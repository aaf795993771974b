//! What lines add up to before anything is mixed.

use super::palate::Direction;
use crate::book::Makeup;
use crate::drink::figures::parts_of;
use crate::liquid::{contraction, ethanol::PURE_20};
use crate::measure::Volume;

/// How volumes come together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Mixing {
    /// As they do: by mass, ethanol and water contracting.
    #[default]
    True,
    /// As on the back of a coaster: they add up. Up to 2 % off (4 % above 65 % vol); a linear solver can follow it.
    Summed,
}

/// The room that lines take with their ethanol kept apart from the rest, and what they carry.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Sums {
    /// Before the ice, ml.
    pub(super) before: f64,
    /// After it, ml.
    pub(super) after: f64,
    /// Of what is before the ice, ethanol times 100, ml: over the volume it is the strength in % vol.
    pub(super) before_ethanol: f64,
    /// What each direction is made of: over the volume in ml it is the figure in its unit.
    pub(super) carried: [f64; 4],
}

impl Sums {
    pub(super) fn of(makeup: &Makeup, volume: Volume, lengthens: bool, mixing: Mixing) -> Self {
        // A liquid takes what it is measured as; dry sugar less than its heap.
        let ml =
            if makeup.solid { parts_of(makeup, volume).map_or(volume, |p| p.volume()) } else { volume }.ml();
        let apart = match mixing {
            Mixing::True => ml * (1.0 + contraction(makeup.strength)),
            Mixing::Summed => ml,
        };
        let ethanol = volume.ml() * makeup.strength.percent_vol();
        let carried = [
            ethanol,
            volume.ml() * makeup.sugar.grams_per_litre(),
            volume.ml() * makeup.acid.grams_per_litre(),
            volume.ml() * makeup.bitterness.points(),
        ];
        if lengthens {
            Self { before: 0.0, after: apart, before_ethanol: 0.0, carried }
        } else {
            Self { before: apart, after: 0.0, before_ethanol: ethanol, carried }
        }
    }

    pub(super) fn plus(&self, other: &Self) -> Self {
        let mut carried = self.carried;
        for (own, more) in carried.iter_mut().zip(other.carried) {
            *own += more;
        }
        Self {
            before: self.before + other.before,
            after: self.after + other.after,
            before_ethanol: self.before_ethanol + other.before_ethanol,
            carried,
        }
    }

    /// Ethanol, g.
    pub(super) fn alcohol(&self) -> f64 {
        self.carried[Direction::Strength as usize] / 100.0 * PURE_20 / 1000.0
    }
}

//! How much of something is needed, and how one way of counting it turns into another.

use std::sync::LazyLock;

use serde::Deserialize;

use super::rules::read;
use crate::book::{Ingredient, IngredientId};
use crate::drink::{Line, parts_of};
use crate::measure::{Amount, Mass, Measures, Unit, Volume};

/// How much of something is needed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Need {
    /// By volume.
    Volume(Volume),
    /// By weight.
    Mass(Mass),
    /// Counted: pieces, leaves, sprigs, slices, pinches.
    Count(f64, Unit),
}

/// Slices or wedges that a piece of fruit gives, leaves on a sprig, peels to a piece, grams in a pinch; *common practice, no
/// source*.
const SLICES_A_PIECE: f64 = 8.0;
const LEAVES_A_SPRIG: f64 = 8.0;
const PEELS_A_PIECE: f64 = 8.0;
const GRAMS_A_PINCH: f64 = 0.3;

/// What a piece of something weighs.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct Piece {
    of: IngredientId,
    grams: Mass,
}

/// The weights.
static PIECES: LazyLock<Vec<Piece>> =
    LazyLock::new(|| read("pieces.ron", include_str!("../../data/service/pieces.ron")));

/// What a piece weighs, g, if that is known.
fn piece_grams(of: &Ingredient) -> Option<f64> {
    let own = of.juice.as_ref().and_then(|juice| juice.weighs);
    own.or_else(|| PIECES.iter().find(|p| p.of == of.id).map(|p| p.grams)).map(Mass::grams)
}

impl Need {
    /// So much, as it is written.
    pub fn of_amount(amount: Amount, measures: &Measures) -> Self {
        match (amount.volume(measures), amount.mass()) {
            (Some(volume), _) => Self::Volume(volume),
            (None, Some(mass)) => Self::Mass(mass),
            (None, None) => Self::Count(amount.count(), amount.unit()),
        }
    }

    /// What a serve takes of a line.
    pub(super) fn of_line(line: &Line<'_>, measures: &Measures) -> Self {
        line.volume.map_or_else(|| Self::of_amount(line.amount, measures), Self::Volume)
    }

    /// What a garnish takes of its ingredient, by the form it has: a peel is an eighth of a fruit, a leaf a leaf, anything
    /// else a piece.
    pub fn of_garnish(form: &str) -> Self {
        let has = |words: &[&str]| words.iter().any(|w| form.to_lowercase().contains(w));
        if has(&["peel", "twist", "zest", "coin", "slice", "wedge", "wheel", "half", "ribbon"]) {
            Self::Count(1.0 / PEELS_A_PIECE, Unit::Piece)
        } else if has(&["leaf", "leaves"]) {
            Self::Count(1.0, Unit::Leaf)
        } else if has(&["sprig"]) {
            Self::Count(1.0, Unit::Sprig)
        } else if has(&["grated", "dust", "rim", "powder", "pinch"]) {
            Self::Count(1.0, Unit::Pinch)
        } else {
            Self::Count(1.0, Unit::Piece)
        }
    }

    /// So many times as much.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        match self {
            Self::Volume(volume) => Self::Volume(Volume::clamped(volume.ml() * factor)),
            Self::Mass(mass) => Self::Mass(Mass::clamped(mass.grams() * factor)),
            Self::Count(count, unit) => Self::Count(count * factor, unit),
        }
    }

    /// Both together, where they are counted alike or can be.
    pub(super) fn plus(self, other: Self, of: &Ingredient) -> Option<Self> {
        match (self, other) {
            (Self::Volume(a), Self::Volume(b)) => Some(Self::Volume(a + b)),
            (Self::Mass(a), Self::Mass(b)) => Some(Self::Mass(a + b)),
            (Self::Count(a, unit), Self::Count(b, same)) if unit == same => Some(Self::Count(a + b, unit)),
            (a, b) => {
                let share = b.over(a, of)?;
                Some(a.times(1.0 + share))
            }
        }
    }

    /// How many times `one` this is, if the two can be counted alike.
    pub fn over(self, one: Self, of: &Ingredient) -> Option<f64> {
        let ratio = match (self, one) {
            (Self::Volume(a), Self::Volume(b)) => a.ml() / b.ml(),
            (Self::Count(a, unit), Self::Count(b, same)) if unit == same => a / b,
            (Self::Count(a, unit), Self::Count(b, other)) => {
                let (a, b) = (a * pieces_in(unit, of)?, b * pieces_in(other, of)?);
                a / b
            }
            (a, b) => a.grams(of)? / b.grams(of)?,
        };
        ratio.is_finite().then_some(ratio)
    }

    /// What it takes up, for what is poured.
    pub(super) fn volume(self, of: &Ingredient) -> Option<Volume> {
        match self {
            Self::Volume(volume) => Some(volume),
            Self::Mass(mass) => {
                let a_litre = Self::Volume(Volume::clamped(1000.0)).grams(of)?;
                Some(Volume::clamped(1000.0 * mass.grams() / a_litre))
            }
            Self::Count(..) => None,
        }
    }

    /// What it weighs, if that is known, g.
    pub fn grams(self, of: &Ingredient) -> Option<f64> {
        match self {
            Self::Mass(mass) => Some(mass.grams()),
            Self::Volume(volume) => {
                let grams = parts_of(of.makeup.as_ref()?, volume).ok()?.mass().grams();
                (grams > 0.0).then_some(grams)
            }
            Self::Count(count, Unit::Pinch) => Some(count * GRAMS_A_PINCH),
            Self::Count(count, unit) => Some(count * pieces_in(unit, of)? * piece_grams(of)?),
        }
    }
}

/// Pieces in one of a unit.
fn pieces_in(unit: Unit, of: &Ingredient) -> Option<f64> {
    match unit {
        Unit::Piece | Unit::Sprig => Some(1.0),
        Unit::Slice => Some(1.0 / SLICES_A_PIECE),
        Unit::Leaf => Some(1.0 / LEAVES_A_SPRIG),
        Unit::Pinch => Some(GRAMS_A_PINCH / piece_grams(of)?),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_weights_of_pieces_are_read() {
        assert!(PIECES.len() > 10 && PIECES.iter().all(|p| p.grams.grams() > 0.0));
    }
}

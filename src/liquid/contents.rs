//! What a litre of a liquid holds beside water.

use super::solute::Solute;
use crate::measure::{Concentration, Strength};

/// What a litre of a liquid holds beside water, at 20 °C.
///
/// ```
/// use medlar::liquid::{Contents, Solute};
/// use medlar::measure::{Concentration, Strength};
///
/// let vermouth = Contents::of_strength(Strength::new(16.0)?)
///     .with(Solute::Sucrose, Concentration::new(160.0)?)
///     .with(Solute::Tartaric, Concentration::new(6.0)?);
/// assert_eq!(vermouth.of(Solute::Sucrose).grams_per_litre(), 160.0);
/// # Ok::<(), medlar::measure::range::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contents {
    strength: Strength,
    dissolved: [Concentration; Solute::COUNT],
}

impl Contents {
    /// A spirit: ethanol and water alone.
    pub const fn of_strength(strength: Strength) -> Self {
        Self { strength, dissolved: [Concentration::ZERO; Solute::COUNT] }
    }

    /// The same with so much of something dissolved, whatever it held of it before.
    #[must_use]
    pub const fn with(mut self, solute: Solute, concentration: Concentration) -> Self {
        self.dissolved[solute.index()] = concentration;
        self
    }

    /// The same at another strength.
    #[must_use]
    pub const fn at_strength(mut self, strength: Strength) -> Self {
        self.strength = strength;
        self
    }

    /// Its strength.
    pub const fn strength(&self) -> Strength {
        self.strength
    }

    /// How much it holds of something.
    pub const fn of(&self, solute: Solute) -> Concentration {
        self.dissolved[solute.index()]
    }
}

impl Default for Contents {
    /// Plain water.
    fn default() -> Self {
        Self::of_strength(Strength::ZERO)
    }
}

//! Single numbers with a unit: finite and inside their [range] by construction.
//!
//! Each prints as a number and its unit, and is read from that text again. Unlike ones do not mix.

use std::fmt;
use std::iter::Sum;
use std::ops::Add;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::quantity::{self, NotAQuantity};
use super::range::{self, OutOfRange, Range};
use super::unit::ML_PER_OUNCE;

macro_rules! scalar {
    ($(#[$doc:meta])* $name:ident, $unit:ident, $range:expr) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
        #[serde(try_from = "f64", into = "f64")]
        pub struct $name(f64);

        impl $name {
            /// The legal range.
            pub const RANGE: &'static Range = &$range;

            /// Takes a number in the type's unit.
            ///
            /// # Errors
            /// [`OutOfRange`] if it is not finite or lies outside the type's range.
            pub fn new($unit: f64) -> Result<Self, OutOfRange> {
                Self::RANGE.check($unit).map(Self)
            }

            /// Takes a number that arithmetic may have pushed past an end of the range, and moves it to that end.
            /// NaN becomes the least value.
            pub fn clamped($unit: f64) -> Self {
                Self($unit.max(Self::RANGE.least).min(Self::RANGE.most) + 0.0)
            }

            /// The number in the type's unit.
            #[must_use]
            pub const fn $unit(self) -> f64 {
                self.0
            }
        }

        impl TryFrom<f64> for $name {
            type Error = OutOfRange;
            fn try_from(value: f64) -> Result<Self, OutOfRange> {
                Self::new(value)
            }
        }

        impl From<$name> for f64 {
            fn from(value: $name) -> f64 {
                value.0
            }
        }

        /// The number with its unit; a precision rounds it: `format!("{:.1}", strength)`.
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                quantity::write(f, self.0, Self::RANGE.unit)
            }
        }

        /// Reads a number with or without its unit.
        impl FromStr for $name {
            type Err = NotAQuantity;

            fn from_str(text: &str) -> Result<Self, NotAQuantity> {
                quantity::read(text, Self::RANGE).map(Self)
            }
        }

        /// Never NaN, so equality is honest.
        impl Eq for $name {}

        impl PartialOrd for $name {
            fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
                Some(self.cmp(other))
            }
        }

        impl Ord for $name {
            fn cmp(&self, other: &Self) -> std::cmp::Ordering {
                self.0.total_cmp(&other.0)
            }
        }
    };
}

scalar!(
    /// A volume at 20 °C.
    ///
    /// # Units
    /// Millilitres.
    ///
    /// # Limits
    /// Volumes of unlike liquids do not strictly add up when mixed; `+` puts volumes of the same liquid, or what stands
    /// in a list, together.
    ///
    /// ```
    /// use medlar::measure::Volume;
    ///
    /// let glass = Volume::from_ounces(1.5)? + Volume::from_ounces(0.5)?;
    /// assert_eq!(format!("{glass:.1}"), "59.1 ml");
    /// # Ok::<(), medlar::measure::range::OutOfRange>(())
    /// ```
    ///
    /// A volume and a strength do not add up, nor does a volume and a bare number:
    ///
    /// ```compile_fail,E0308
    /// use medlar::measure::{Strength, Volume};
    /// let _ = Volume::clamped(45.0) + Strength::clamped(40.0);
    /// ```
    ///
    /// ```compile_fail,E0308
    /// use medlar::measure::Volume;
    /// let _ = Volume::clamped(45.0) + 1.0;
    /// ```
    ///
    /// Nor can a mass be handed over as a volume:
    ///
    /// ```compile_fail,E0308
    /// use medlar::measure::{Mass, Volume};
    /// fn pour(_: Volume) {}
    /// pour(Mass::clamped(45.0));
    /// ```
    Volume,
    ml,
    range::VOLUME
);
scalar!(
    /// A mass.
    ///
    /// # Units
    /// Grams.
    Mass,
    grams,
    range::MASS
);
scalar!(
    /// Alcoholic strength by volume at 20 °C.
    ///
    /// # Units
    /// % vol: ml of pure ethanol in 100 ml of the liquid.
    ///
    /// # Source
    /// OIML R 22 (1975) for the definition at 20 °C.
    ///
    /// Strengths do not add up at all:
    ///
    /// ```compile_fail,E0369
    /// use medlar::measure::Strength;
    /// let _ = Strength::clamped(20.0) + Strength::clamped(20.0);
    /// ```
    Strength,
    percent_vol,
    range::STRENGTH
);
scalar!(
    /// How much of something is dissolved in a liquid.
    ///
    /// # Units
    /// g/L of the finished liquid at 20 °C.
    Concentration,
    grams_per_litre,
    range::CONCENTRATION
);
scalar!(
    /// A temperature.
    ///
    /// # Units
    /// °C.
    Temperature,
    celsius,
    range::TEMPERATURE
);
scalar!(
    /// A pressure, counted from a vacuum, as a gas law wants it; a gauge reads 1.01325 bar less.
    ///
    /// # Units
    /// bar.
    Pressure,
    bar,
    range::PRESSURE
);
scalar!(
    /// Sugar in a solution by mass, as a refractometer or hydrometer for sugar reads it.
    ///
    /// # Units
    /// °Bx: grams of sugar in 100 g of solution.
    Brix,
    degrees,
    range::BRIX
);
scalar!(
    /// What 100 g of something hold of something else.
    ///
    /// # Units
    /// g in 100 g.
    MassShare,
    in_100_g,
    range::MASS_SHARE
);
scalar!(
    /// How much of a quality something has, 0 to 1.
    Grade,
    value,
    range::GRADE
);
scalar!(
    /// How well two ingredients go together, above 0 and at most 1.
    Affinity,
    value,
    range::AFFINITY
);
scalar!(
    /// What a taster gives a pair or a drink, on our own scale: 0 undrinkable, 5 neither way, 10 could not be better.
    Score,
    points,
    range::SCORE
);
scalar!(
    /// Bitterness on our own scale: 0 water, 10 tonic water, 40 red bitter liqueur, 100 aromatic bitters.
    /// It mixes linearly by volume.
    Bitterness,
    points,
    range::BITTERNESS
);

/// Quantities of which there can be more: `+` and `sum`, which stop at the end of the range.
macro_rules! adds_up {
    ($($name:ident)*) => {$(
        /// Stops at the end of the range.
        impl Add for $name {
            type Output = Self;

            fn add(self, other: Self) -> Self {
                Self::clamped(self.0 + other.0)
            }
        }

        /// Stops at the end of the range.
        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
                all.fold(Self::ZERO, Self::add)
            }
        }
    )*};
}

adds_up!(Volume Mass);

impl Pressure {
    pub(super) const fn of(bar: f64) -> Self {
        Self(bar)
    }
}

impl Default for MassShare {
    /// None.
    fn default() -> Self {
        Self(0.0)
    }
}

impl Volume {
    /// No volume.
    pub const ZERO: Self = Self(0.0);

    /// So many US fluid ounces.
    ///
    /// # Errors
    /// [`OutOfRange`] as for [`new`](Self::new).
    pub fn from_ounces(ounces: f64) -> Result<Self, OutOfRange> {
        Self::new(ounces * ML_PER_OUNCE)
    }

    /// The volume in US fluid ounces.
    pub const fn ounces(self) -> f64 {
        self.0 / ML_PER_OUNCE
    }
}

impl Mass {
    /// No mass.
    pub const ZERO: Self = Self(0.0);
}

impl Strength {
    /// No alcohol.
    pub const ZERO: Self = Self(0.0);
}

impl Concentration {
    /// None dissolved.
    pub const ZERO: Self = Self(0.0);
}

#[cfg(test)]
mod tests;

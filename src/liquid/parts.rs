//! A liquid taken apart into what it weighs.

use super::error::LiquidError;
use super::ethanol::{self, density_20, density_of};
use super::salt;
use super::sucrose::raises_by;
use crate::measure::{Concentration, Mass, Strength, Volume};

/// A liquid as the masses of what is in it.
///
/// # Model
/// Mixing adds masses. Volume comes back through the Tabarié relation: the density is that of ethanol and water at
/// the liquid's strength, plus what its sugar would add to water at the same g/L. Acid is taken to raise the density
/// as the same mass of sugar does; salt by its own formula, 1.8 times as much.
///
/// # Units
/// Grams; everything at 20 °C.
///
/// # Accuracy
/// Contraction of ethanol and water within the tables of OIML R 22. With sugar the relation is good to about 1 kg/m³
/// for wines and liqueurs. Acid for sugar is within a tenth of the effect (*from memory*): 2 kg/m³ for lime juice,
/// under 0.1 % of a drink's volume.
///
/// # Limits
/// Dry sugar and salt without any liquid are given the volume they would take in solution, not that of the heap.
///
/// # Source
/// OIV-MA-AS2-03B for the relation; *from memory*, since the formula is an image there.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Parts {
    ethanol: f64,
    water: f64,
    sugar: f64,
    acid: f64,
    salt: f64,
}

/// A liquid as it would be measured at 20 °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// Its volume.
    pub volume: Volume,
    /// Its strength, as a label would state it.
    pub strength: Strength,
    /// Sugars.
    pub sugar: Concentration,
    /// Acid, as citric.
    pub acid: Concentration,
    /// Salt.
    pub salt: Concentration,
}

/// Volume that a gram of sugar takes in solution, ml: 0.616 dilute to 0.631 at 70 °Bx.
const SUGAR_ML: f64 = 0.62;

/// Volume that a gram of salt takes in solution, ml: 0.30 dilute to 0.35 near saturation.
const SALT_ML: f64 = 0.31;

/// Where the search for the volume starts: a gram of sugar in solution weighs so much more than the water it displaces.
const HEAVIER: f64 = 0.38;

impl Parts {
    /// A volume of liquid of a given makeup; what is not ethanol, sugar, acid or salt is water.
    ///
    /// # Errors
    /// [`LiquidError::NoWater`] if they leave less than no room for it.
    pub fn of_liquid(
        volume: Volume,
        strength: Strength,
        sugar: Concentration,
        acid: Concentration,
        salt: Concentration,
    ) -> Result<Self, LiquidError> {
        let litres = volume.ml() / 1000.0;
        let dissolved = sugar.grams_per_litre() + acid.grams_per_litre() + salt.grams_per_litre();
        let density = density_of(strength)
            + raises_by(sugar.grams_per_litre() + acid.grams_per_litre())
            + salt::raises_by(salt.grams_per_litre());
        let ethanol = ethanol::PURE_20 * strength.percent_vol() / 100.0;
        let water = density - ethanol - dissolved;
        if water < -1e-6 {
            return Err(LiquidError::NoWater { strength: strength.percent_vol(), dissolved });
        }
        Ok(Self {
            ethanol: ethanol * litres,
            water: water.max(0.0) * litres,
            sugar: sugar.grams_per_litre() * litres,
            acid: acid.grams_per_litre() * litres,
            salt: salt.grams_per_litre() * litres,
        })
    }

    /// Dry sugar and salt.
    pub fn dry(sugar: Mass, salt: Mass) -> Self {
        Self { sugar: sugar.grams(), salt: salt.grams(), ..Self::default() }
    }

    /// A volume of water.
    pub fn water(volume: Volume) -> Self {
        Self { water: density_20(0.0) * volume.ml() / 1000.0, ..Self::default() }
    }

    /// Both together.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Self {
        Self {
            ethanol: self.ethanol + other.ethanol,
            water: self.water + other.water,
            sugar: self.sugar + other.sugar,
            acid: self.acid + other.acid,
            salt: self.salt + other.salt,
        }
    }

    /// So many times as much; a negative factor gives nothing.
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        let factor = factor.max(0.0);
        Self {
            ethanol: self.ethanol * factor,
            water: self.water * factor,
            sugar: self.sugar * factor,
            acid: self.acid * factor,
            salt: self.salt * factor,
        }
    }

    /// What it weighs.
    pub fn mass(&self) -> Mass {
        Mass::clamped(self.grams())
    }

    fn grams(&self) -> f64 {
        self.ethanol + self.water + self.sugar + self.acid + self.salt
    }

    /// The ethanol in it.
    pub fn ethanol(&self) -> Mass {
        Mass::clamped(self.ethanol)
    }

    /// Volume, ml.
    ///
    /// The unknown is the mass of the ethanol and water that would fill the same volume at the same strength: its
    /// density then needs no inverse, and what is dissolved hardly depends on it, so each step leaves a few hundredths
    /// of the miss.
    fn ml(&self) -> f64 {
        let mass = self.grams();
        if mass <= 0.0 {
            return 0.0;
        }
        let like_sugar = self.sugar + self.acid;
        if self.ethanol + self.water <= 0.0 {
            return like_sugar * SUGAR_ML + self.salt * SALT_ML;
        }
        let volume_of = |filling: f64| 1000.0 * filling / density_20((self.ethanol / filling).min(1.0));
        if like_sugar + self.salt <= 0.0 {
            return volume_of(mass);
        }
        let mut filling = mass - HEAVIER * (like_sugar + self.salt);
        for _ in 0..40 {
            let ml = volume_of(filling);
            let heavier = raises_by(1000.0 * like_sugar / ml) + salt::raises_by(1000.0 * self.salt / ml);
            let next = mass - ml * heavier / 1000.0;
            if (next - filling).abs() < 1e-14 * mass {
                return volume_of(next);
            }
            filling = next;
        }
        volume_of(filling)
    }

    /// Volume, strength and what is dissolved, found together.
    pub fn measured(&self) -> Measured {
        let ml = self.ml();
        let per_litre = |grams: f64| if ml > 0.0 { 1000.0 * grams / ml } else { 0.0 };
        Measured {
            volume: Volume::clamped(ml),
            strength: Strength::clamped(per_litre(self.ethanol) * 100.0 / ethanol::PURE_20),
            sugar: Concentration::clamped(per_litre(self.sugar)),
            acid: Concentration::clamped(per_litre(self.acid)),
            salt: Concentration::clamped(per_litre(self.salt)),
        }
    }

    /// Its volume at 20 °C.
    pub fn volume(&self) -> Volume {
        Volume::clamped(self.ml())
    }

    /// Its strength as a label would state it.
    pub fn strength(&self) -> Strength {
        self.measured().strength
    }

    /// Sugars.
    pub fn sugar(&self) -> Concentration {
        self.measured().sugar
    }

    /// Acid, as citric.
    pub fn acid(&self) -> Concentration {
        self.measured().acid
    }

    /// Salt.
    pub fn salt(&self) -> Concentration {
        self.measured().salt
    }
}

#[cfg(test)]
mod tests;

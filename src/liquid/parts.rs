//! A liquid taken apart into what it weighs.

use super::contents::Contents;
use super::error::LiquidError;
use super::ethanol::{self, density_20, density_of};
use super::salt;
use super::solute::Solute;
use super::sucrose::raises_by;
use crate::measure::{Concentration, Mass, Strength, Volume};

/// A liquid as the masses of what is in it.
///
/// # Model
/// Mixing adds masses. Volume comes back through the Tabarié relation: the density is that of ethanol and water at
/// the liquid's strength, plus what its sugar would add to water at the same g/L. Every sugar and acid is taken to raise
/// the density as the same mass of sucrose does; salt by its own formula, 1.8 times as much.
///
/// # Units
/// Grams; everything at 20 °C.
///
/// # Accuracy
/// Contraction of ethanol and water within the tables of OIML R 22. With sugar the relation is good to about 1 kg/m³
/// for wines and liqueurs. Glucose, fructose and acids for sucrose are within a tenth of the effect (*from memory*):
/// 2 kg/m³ for lime juice, under 0.1 % of a drink's volume.
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
    dissolved: [f64; Solute::COUNT],
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
    /// Acid, as citric: what a titration finds.
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
    /// A volume of liquid that holds so much in a litre; the rest is water.
    ///
    /// # Errors
    /// [`LiquidError::NoWater`] if that leaves less than no room for it.
    pub fn of_liquid(volume: Volume, contents: &Contents) -> Result<Self, LiquidError> {
        let litres = volume.ml() / 1000.0;
        let strength = contents.strength();
        let dissolved = Solute::ALL.map(|solute| contents.of(solute).grams_per_litre());
        let salty = dissolved[Solute::Salt.index()];
        let all: f64 = dissolved.iter().sum();
        let density = density_of(strength) + raises_by(all - salty) + salt::raises_by(salty);
        let ethanol = ethanol::PURE_20 * strength.percent_vol() / 100.0;
        let water = density - ethanol - all;
        if water < -1e-6 {
            return Err(LiquidError::NoWater { strength: strength.percent_vol(), dissolved: all });
        }
        Ok(Self {
            ethanol: ethanol * litres,
            water: water.max(0.0) * litres,
            dissolved: dissolved.map(|grams| grams * litres),
        })
    }

    /// Something dry, to be dissolved.
    pub fn dry(solute: Solute, mass: Mass) -> Self {
        let mut parts = Self::default();
        parts.dissolved[solute.index()] = mass.grams();
        parts
    }

    /// A volume of water.
    pub fn water(volume: Volume) -> Self {
        Self::water_grams(density_20(0.0) * volume.ml() / 1000.0)
    }

    /// A mass of water.
    pub fn water_weighing(mass: Mass) -> Self {
        Self::water_grams(mass.grams())
    }

    pub(super) fn water_grams(water: f64) -> Self {
        Self { water, ..Self::default() }
    }

    /// Both together.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Self {
        Self {
            ethanol: self.ethanol + other.ethanol,
            water: self.water + other.water,
            dissolved: std::array::from_fn(|i| self.dissolved[i] + other.dissolved[i]),
        }
    }

    /// So many times as much; a negative factor gives nothing.
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        let factor = factor.max(0.0);
        Self {
            ethanol: self.ethanol * factor,
            water: self.water * factor,
            dissolved: self.dissolved.map(|grams| grams * factor),
        }
    }

    /// The same with so much water gone, or all of it if that is less.
    #[must_use]
    pub fn without_water(&self, gone: Mass) -> Self {
        self.with_water(self.water - gone.grams())
    }

    /// What it weighs.
    pub fn mass(&self) -> Mass {
        Mass::clamped(self.grams())
    }

    pub(super) fn grams(&self) -> f64 {
        self.ethanol + self.water + self.dissolved.iter().sum::<f64>()
    }

    /// The ethanol in it.
    pub fn ethanol(&self) -> Mass {
        Mass::clamped(self.ethanol)
    }

    /// The water in it.
    pub fn water_mass(&self) -> Mass {
        Mass::clamped(self.water)
    }

    /// The same with another mass of water, g.
    pub(super) fn with_water(&self, water: f64) -> Self {
        Self { water: water.max(0.0), ..*self }
    }

    /// What a litre of it holds.
    pub fn contents(&self) -> Contents {
        let measured = self.measured();
        let ml = measured.volume.ml();
        let held = |solute: Solute| {
            let grams = self.dissolved[solute.index()];
            Concentration::clamped(if ml > 0.0 { 1000.0 * grams / ml } else { 0.0 })
        };
        let spirit = Contents::of_strength(measured.strength);
        Solute::ALL.into_iter().fold(spirit, |all, solute| all.with(solute, held(solute)))
    }

    /// How much of something is dissolved in it.
    pub fn dissolved(&self, solute: Solute) -> Mass {
        Mass::clamped(self.dissolved[solute.index()])
    }

    fn salt_grams(&self) -> f64 {
        self.dissolved[Solute::Salt.index()]
    }

    /// Grams that raise the density as sugar does: sugars and acids.
    fn like_sugar(&self) -> f64 {
        self.dissolved[..Solute::Salt.index()].iter().sum()
    }

    fn sugar_grams(&self) -> f64 {
        Solute::SUGARS.iter().map(|s| self.dissolved[s.index()]).sum()
    }

    fn citric_grams(&self) -> f64 {
        Solute::ACIDS.iter().map(|s| self.dissolved[s.index()] * s.as_citric()).sum()
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
        let (like_sugar, salty) = (self.like_sugar(), self.salt_grams());
        if self.ethanol + self.water <= 0.0 {
            return like_sugar * SUGAR_ML + salty * SALT_ML;
        }
        let volume_of = |filling: f64| 1000.0 * filling / density_20((self.ethanol / filling).min(1.0));
        if like_sugar + salty <= 0.0 {
            return volume_of(mass);
        }
        let mut filling = mass - HEAVIER * (like_sugar + salty);
        for _ in 0..40 {
            let ml = volume_of(filling);
            let heavier = raises_by(1000.0 * like_sugar / ml) + salt::raises_by(1000.0 * salty / ml);
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
            sugar: Concentration::clamped(per_litre(self.sugar_grams())),
            acid: Concentration::clamped(per_litre(self.citric_grams())),
            salt: Concentration::clamped(per_litre(self.salt_grams())),
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

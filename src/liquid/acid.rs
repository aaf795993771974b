//! Juice made sourer with acid powders, to an acidity asked for.

use super::error::LiquidError;
use super::ethanol::density_20;
use super::parts::Parts;
use super::solute::Solute;
use crate::measure::{Concentration, Mass, Volume};

/// Acid powders in fixed shares by mass.
///
/// # Model
/// Acids count in citric terms, gram for gram as [`Solute::as_citric`] has it, which is what a titration finds.
///
/// # Limits
/// Equal titration is not equal sourness, and what a juice's own acids and salts do to the pH is left out.
///
/// ```
/// use medlar::liquid::{AcidMix, Parts, Solute};
/// use medlar::measure::{Concentration, Volume};
///
/// // A litre as sour as lime juice of 45.9 g/L.
/// let mix = AcidMix::of_parts(&[(Solute::Citric, 2.0), (Solute::Malic, 1.0)])?;
/// let acid_water = mix.in_water(Volume::new(1000.0)?, Concentration::new(45.9)?)?;
/// assert_eq!(format!("{:.1}", acid_water.weighed(Solute::Citric)), "31.1 g");
/// assert_eq!(format!("{:.1}", acid_water.weighed(Solute::Malic)), "15.5 g");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AcidMix {
    /// In the order of [`Solute::ACIDS`]; together 1.
    shares: [f64; Solute::ACIDS.len()],
    citric: CitricForm,
}

/// The two powders that citric acid is sold as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum CitricForm {
    /// Without water.
    #[default]
    Anhydrous,
    /// With a molecule of water to each of acid.
    Monohydrate,
}

/// What makes a juice sourer, and what comes of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Soured {
    /// Pure acids added, g, in the order of [`Solute::ACIDS`].
    acids: [f64; Solute::ACIDS.len()],
    citric: CitricForm,
    juice: Parts,
}

/// Grams in a mole of water.
///
/// # Source
/// The formula.
const WATER_MOLE: f64 = 18.015;

/// The least and the most acid asked for, g/L as citric: less is not tasted (0.025 g/L is, *from memory*), and near 30
/// g in 100 g the CRC Handbook's table of citric acid solutions ends.
const ACIDITIES: (f64, f64) = (0.01, 300.0);

/// How near the acidity wanted is met, g/L.
const NEAR: f64 = 1e-9;

/// How far from 1 shares may add up, for decimals that binary cannot hold.
const WHOLE: f64 = 1e-9;

impl CitricForm {
    /// Grams of powder for a gram of anhydrous acid: 1 or 1.094.
    ///
    /// # Source
    /// The formulas: C6H8O7 and C6H8O7·H2O. 1.094 also stands on a juice trade's page.
    pub const fn grams_per_gram(self) -> f64 {
        match self {
            Self::Anhydrous => 1.0,
            Self::Monohydrate => 1.0 + WATER_MOLE / Solute::Citric.molar_mass(),
        }
    }

    /// Powder to weigh for so much anhydrous acid.
    ///
    /// # Errors
    /// [`LiquidError::Quantity`] past the greatest mass.
    pub fn for_anhydrous(self, acid: Mass) -> Result<Mass, LiquidError> {
        Ok(Mass::new(acid.grams() * self.grams_per_gram())?)
    }

    /// Anhydrous acid in so much powder; the rest is water.
    pub fn anhydrous_in(self, powder: Mass) -> Mass {
        Mass::clamped(powder.grams() / self.grams_per_gram())
    }
}

impl AcidMix {
    /// One powder alone.
    ///
    /// # Errors
    /// [`LiquidError::NotAnAcid`].
    pub fn of(acid: Solute) -> Result<Self, LiquidError> {
        Self::of_shares(&[(acid, 1.0)])
    }

    /// Shares by mass that make 1, of citric acid as anhydrous. An acid named twice counts twice.
    ///
    /// # Errors
    /// [`LiquidError::NotAnAcid`] for anything else, [`LiquidError::Share`] for a share below 0,
    /// [`LiquidError::Shares`] for shares that do not make 1.
    pub fn of_shares(shares: &[(Solute, f64)]) -> Result<Self, LiquidError> {
        let (placed, sum) = placed(shares)?;
        if (sum - 1.0).abs() > WHOLE {
            return Err(LiquidError::Shares { found: sum });
        }
        Ok(Self::of_placed(placed, sum))
    }

    /// Parts by mass that may make any sum, as in 2 citric : 1 malic.
    ///
    /// # Errors
    /// [`LiquidError::NotAnAcid`] for anything else, [`LiquidError::Share`] for a part below 0,
    /// [`LiquidError::Shares`] for no parts at all.
    pub fn of_parts(parts: &[(Solute, f64)]) -> Result<Self, LiquidError> {
        let (placed, sum) = placed(parts)?;
        if sum <= 0.0 || !sum.is_finite() {
            return Err(LiquidError::Shares { found: sum });
        }
        Ok(Self::of_placed(placed, sum))
    }

    fn of_placed(placed: [f64; Solute::ACIDS.len()], sum: f64) -> Self {
        Self { shares: placed.map(|share| share / sum), citric: CitricForm::Anhydrous }
    }

    /// The same with its citric acid weighed as another powder. The shares stay those of the anhydrous acid: there is
    /// more to weigh, and its water goes into the juice.
    #[must_use]
    pub const fn with_citric(mut self, form: CitricForm) -> Self {
        self.citric = form;
        self
    }

    /// The share of an acid; 0 for anything else.
    pub fn share(&self, acid: Solute) -> f64 {
        Solute::ACIDS.iter().zip(self.shares).filter(|(a, _)| **a == acid).map(|(_, share)| share).sum()
    }

    /// Grams of anhydrous citric acid that a gram of the acids counts for in a titration.
    pub fn as_citric(&self) -> f64 {
        Solute::ACIDS.iter().zip(self.shares).map(|(acid, share)| share * acid.as_citric()).sum()
    }

    fn weighing(&self, grams: f64, juice: &Parts) -> Soured {
        Soured { acids: self.shares.map(|share| share * grams), citric: self.citric, juice: *juice }
    }

    /// The powders that bring a juice to an acidity.
    ///
    /// # Model
    /// The grams x for which `citric(juice) + x × as_citric = wanted × V(juice + x)`: what is dissolved makes the juice
    /// more, so it takes more than the difference. Found by steps of x from the last volume; each leaves less than a
    /// third of the miss.
    ///
    /// # Units
    /// g/L of the finished liquid, as citric.
    ///
    /// # Errors
    /// [`LiquidError::SourAlready`] if the juice is as sour, with the water that would bring it down;
    /// [`LiquidError::Dry`] if it has no water, [`LiquidError::Acidity`] outside 0.01 to 300 g/L,
    /// [`LiquidError::Quantity`] past the greatest mass, [`LiquidError::AcidNotFound`] for amounts too small to reckon
    /// with.
    ///
    /// # Accuracy
    /// The finished [`acid`](Parts::acid) is what was wanted, within 1e-9 g/L. How sour fruit is differs by a quarter
    /// between the published figures for it, which is more than all of this.
    ///
    /// # Limits
    /// Whether so much dissolves is not asked: in water all of them do (*from memory*), in strong spirit they may not.
    pub fn added_to(&self, juice: &Parts, wanted: Concentration) -> Result<Soured, LiquidError> {
        let target = checked(wanted)?;
        if juice.water_mass() <= Mass::ZERO {
            return Err(LiquidError::Dry);
        }
        let whole = Mass::new(juice.grams())?.grams();
        let kilogram = juice.times(1000.0 / whole);
        let found = kilogram.acid().grams_per_litre();
        if found >= target {
            let water = water_to_bring_down(&kilogram, found, target) * whole / 1000.0;
            return Err(LiquidError::SourAlready { found, wanted: target, water });
        }
        let held = found * kilogram.volume().ml() / 1000.0;
        let each = self.as_citric();
        let mut grams = 0.0;
        for _ in 0..80 {
            let ml = self.weighing(grams, &kilogram).finished().volume().ml();
            let next = (target * ml / 1000.0 - held) / each;
            if (next - grams).abs() < 1e-14 * (next + 1.0) {
                grams = next;
                break;
            }
            grams = next;
        }
        let reached = self.weighing(grams, &kilogram).finished().acid().grams_per_litre();
        if (reached - target).abs() > NEAR {
            return Err(LiquidError::AcidNotFound { wanted: target });
        }
        let soured = self.weighing(grams * whole / 1000.0, juice);
        Mass::new(soured.finished().grams())?;
        Ok(soured)
    }

    /// Acid water: the powders and the water that make so much of an acidity, for instance that of lime juice.
    ///
    /// # Errors
    /// As for [`added_to`](Self::added_to); [`LiquidError::Dry`] if no volume is to be made.
    pub fn in_water(&self, made: Volume, wanted: Concentration) -> Result<Soured, LiquidError> {
        if made <= Volume::ZERO {
            return Err(LiquidError::Dry);
        }
        let some = self.added_to(&Parts::water_grams(1000.0), wanted)?;
        let factor = made.ml() / some.volume().ml();
        let scaled =
            Soured { acids: some.acids.map(|g| g * factor), juice: some.juice.times(factor), ..some };
        Mass::new(scaled.finished().grams())?;
        Ok(scaled)
    }
}

impl Soured {
    /// Powder of an acid to weigh: of citric acid in the form the mix has it. None for what is not in the mix.
    pub fn weighed(&self, acid: Solute) -> Mass {
        self.powders().filter(|(found, _)| *found == acid).map(|(_, mass)| mass).sum()
    }

    /// Every powder to weigh, in the order of [`Solute::ACIDS`].
    pub fn powders(&self) -> impl Iterator<Item = (Solute, Mass)> + '_ {
        Solute::ACIDS.into_iter().zip(self.acids).filter(|(_, grams)| *grams > 0.0).map(|(acid, grams)| {
            let more = if acid == Solute::Citric { self.citric.grams_per_gram() } else { 1.0 };
            (acid, Mass::clamped(grams * more))
        })
    }

    /// The form that its citric acid is weighed in.
    pub const fn citric(&self) -> CitricForm {
        self.citric
    }

    /// What the powders went into.
    pub const fn juice(&self) -> Parts {
        self.juice
    }

    /// Juice and powders together.
    pub fn finished(&self) -> Parts {
        self.powders().fold(self.juice, |sum, (acid, powder)| {
            let pure = if acid == Solute::Citric { self.citric.anhydrous_in(powder) } else { powder };
            let water = powder.grams() - pure.grams();
            sum.plus(&Parts::dry(acid, pure)).plus(&Parts::water_grams(water))
        })
    }

    /// How much there is in the end: more than there was of the juice.
    pub fn volume(&self) -> Volume {
        self.finished().volume()
    }
}

/// Shares in the order of [`Solute::ACIDS`], and their sum.
fn placed(shares: &[(Solute, f64)]) -> Result<([f64; Solute::ACIDS.len()], f64), LiquidError> {
    let mut placed = [0.0; Solute::ACIDS.len()];
    for (found, share) in shares.iter().copied() {
        let place = Solute::ACIDS.iter().position(|acid| *acid == found);
        let place = place.ok_or(LiquidError::NotAnAcid { found })?;
        if !(0.0..).contains(&share) {
            return Err(LiquidError::Share { found: share });
        }
        placed[place] += share;
    }
    Ok((placed, placed.iter().sum()))
}

fn checked(wanted: Concentration) -> Result<f64, LiquidError> {
    let found = wanted.grams_per_litre();
    let (least, most) = ACIDITIES;
    if (least..=most).contains(&found) { Ok(found) } else { Err(LiquidError::Acidity { found, least, most }) }
}

/// Grams of water that bring a juice down to an acidity below its own.
///
/// The volume wanted is known; water is added for what is missing from it until nothing is. So much juice is taken as
/// ends as one that had the same volume before, to stay inside every range.
fn water_to_bring_down(juice: &Parts, found: f64, wanted: f64) -> f64 {
    let share = wanted / found;
    let ml = juice.volume().ml();
    let juice = juice.times(share);
    let mut grams = 0.0;
    for _ in 0..80 {
        let missing = ml - juice.plus(&Parts::water_grams(grams)).volume().ml();
        grams += missing * density_20(0.0) / 1000.0;
        if missing.abs() < 1e-13 * ml {
            break;
        }
    }
    grams.max(0.0) / share
}

#[cfg(test)]
mod tests;

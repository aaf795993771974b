//! Sugar syrup: from its making to its figures and back, and whether it crystallises.

use super::error::LiquidError;
use super::parts::Parts;
use super::solute::Solute;
use super::sucrose;
use crate::measure::{Brix, Concentration, ML_PER_OUNCE, Mass, Temperature, Volume};

/// Table sugar dissolved in water, by what went in.
///
/// # Model
/// Masses add up; the volume is the mass over the density of [`sucrose::density`] at 20 °C. Nothing boils off.
///
/// # Accuracy
/// That of the density, 0.05 kg/m³, which is 1 ml in 20 litres. The same syrup as [`parts`](Self::parts) has its volume
/// from a table, within 1 part in 100,000 of that.
///
/// # Limits
/// Sucrose alone. Of a syrup cooked with acid a part turns into glucose and fructose, which is not counted.
///
/// # Source
/// Bubník, Kadlec, Urban, Bruhns: Sugar Technologists Manual (1995), p. 164 (ICUMSA SPS-4).
///
/// ```
/// use medlar::liquid::Syrup;
/// use medlar::measure::Mass;
///
/// let simple = Syrup::by_mass(Mass::new(100.0)?, Mass::new(100.0)?)?;
/// assert_eq!(format!("{:.2}", simple.brix()), "50.00 °Bx");
/// assert_eq!(format!("{:.0}", simple.sugar_per_litre()), "615 g/L");
/// assert_eq!(format!("{:.1}", simple.volume()), "162.6 ml");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Syrup {
    /// g.
    sugar: f64,
    /// g.
    water: f64,
    /// kg/m³ at 20 °C.
    density: f64,
}

/// What brings a syrup to another Brix.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Addition {
    /// It is there already.
    Nothing,
    /// So much water, to thin it.
    Water(Mass),
    /// So much sugar, to thicken it.
    Sugar(Mass),
}

/// A syrup against what water holds at a temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Saturation {
    /// The temperature.
    pub at: Temperature,
    /// What water holds there at most.
    pub holds: Brix,
    /// By how many °Bx the syrup is over that; below 0 there is so much room left.
    pub degrees_over: f64,
}

/// Granulated sugar as it is poured, g/ml: 200 g a cup of 8 US fluid ounces, which is 0.8454.
///
/// USDA National Nutrient Database for Standard Reference, release 28, food 19335, "Sugars, granulated". How it is
/// scooped moves it by a few percent (*common practice, no source*).
const GRANULATED: f64 = 200.0 / (8.0 * ML_PER_OUNCE);

/// The temperature of the figures, °C.
const FIGURES_AT: f64 = 20.0;

impl Syrup {
    /// Sugar and water as weighed. For a ratio any masses do: 2:1 is 2 g and 1 g.
    ///
    /// # Errors
    /// [`LiquidError::NoSyrup`] for nothing at all, [`LiquidError::Sugar`] above 85 g of sugar in 100 g,
    /// [`LiquidError::Quantity`] past the greatest mass or volume.
    pub fn by_mass(sugar: Mass, water: Mass) -> Result<Self, LiquidError> {
        Self::of_grams(sugar.grams(), water.grams())
    }

    /// Granulated sugar and water by the measuring cup.
    ///
    /// # Model
    /// A cup of sugar weighs 200 g, of water at 20 °C 236.2 g: 1:1 is 45.9 °Bx, not 50.
    ///
    /// # Errors
    /// As for [`by_mass`](Self::by_mass).
    ///
    /// # Accuracy
    /// A scoop may hold a few percent more or less (*common practice, no source*): 1 °Bx. Weigh it if you can.
    ///
    /// # Source
    /// USDA National Nutrient Database for Standard Reference, release 28, food 19335: 200 g a cup.
    pub fn by_volume(sugar: Volume, water: Volume) -> Result<Self, LiquidError> {
        Self::of_grams(GRANULATED * sugar.ml(), Parts::water(water).water_mass().grams())
    }

    /// What makes a volume of a wanted Brix.
    ///
    /// # Errors
    /// As for [`by_mass`](Self::by_mass).
    pub fn of_brix(wanted: Brix, made: Volume) -> Result<Self, LiquidError> {
        Self::of_fraction(wanted.degrees() / 100.0, made)
    }

    /// What makes a volume of a wanted concentration.
    ///
    /// # Errors
    /// As for [`by_mass`](Self::by_mass).
    pub fn of_concentration(wanted: Concentration, made: Volume) -> Result<Self, LiquidError> {
        Self::of_fraction(sucrose::mass_fraction(wanted)?, made)
    }

    fn of_fraction(fraction: f64, made: Volume) -> Result<Self, LiquidError> {
        let grams = density(fraction)? * made.ml() / 1000.0;
        Self::of_grams(fraction * grams, (1.0 - fraction) * grams)
    }

    fn of_grams(sugar: f64, water: f64) -> Result<Self, LiquidError> {
        let whole = Mass::new(sugar + water)?.grams();
        if whole <= 0.0 {
            return Err(LiquidError::NoSyrup);
        }
        let density = density(sugar / whole)?;
        Volume::new(1000.0 * whole / density)?;
        Ok(Self { sugar, water, density })
    }

    /// The same syrup, as much of it as fills a volume.
    ///
    /// # Errors
    /// [`LiquidError::NoSyrup`] for no volume, [`LiquidError::Quantity`] past the greatest mass.
    pub fn made_to(&self, made: Volume) -> Result<Self, LiquidError> {
        let factor = made.ml() / self.ml();
        Self::of_grams(factor * self.sugar, factor * self.water)
    }

    /// The sugar in it.
    pub fn sugar(&self) -> Mass {
        Mass::clamped(self.sugar)
    }

    /// The water in it.
    pub fn water(&self) -> Mass {
        Mass::clamped(self.water)
    }

    /// What it weighs.
    pub fn mass(&self) -> Mass {
        Mass::clamped(self.grams())
    }

    fn grams(&self) -> f64 {
        self.sugar + self.water
    }

    /// Its sugar by mass.
    pub fn brix(&self) -> Brix {
        Brix::clamped(self.degrees())
    }

    fn degrees(&self) -> f64 {
        100.0 * self.sugar / self.grams()
    }

    /// Its sugar by volume.
    pub fn sugar_per_litre(&self) -> Concentration {
        Concentration::clamped(self.sugar / self.grams() * self.density)
    }

    /// Its density at 20 °C.
    ///
    /// # Units
    /// kg/m³.
    pub const fn density(&self) -> f64 {
        self.density
    }

    /// The volume it makes.
    pub fn volume(&self) -> Volume {
        Volume::clamped(self.ml())
    }

    fn ml(&self) -> f64 {
        1000.0 * self.grams() / self.density
    }

    /// It as a liquid that can be mixed with others.
    pub fn parts(&self) -> Parts {
        Parts::dry(Solute::Sucrose, self.sugar()).plus(&Parts::water_weighing(self.water()))
    }

    /// What brings it to another Brix.
    ///
    /// # Model
    /// Sugar and water stand as Brix to 100 less Brix; what is there stays.
    ///
    /// # Errors
    /// [`LiquidError::SugarStays`] if 0 °Bx is wanted of what has sugar; [`LiquidError::Quantity`] if it takes more
    /// than the greatest mass.
    pub fn to_reach(&self, wanted: Brix) -> Result<Addition, LiquidError> {
        let (now, wanted) = (self.degrees(), wanted.degrees());
        if wanted.total_cmp(&now).is_eq() {
            Ok(Addition::Nothing)
        } else if wanted > now {
            let sugar = self.water * wanted / (100.0 - wanted) - self.sugar;
            Ok(Addition::Sugar(Mass::new(sugar.max(0.0))?))
        } else if wanted > 0.0 {
            let water = self.sugar * (100.0 - wanted) / wanted - self.water;
            Ok(Addition::Water(Mass::new(water.max(0.0))?))
        } else {
            Err(LiquidError::SugarStays { found: now })
        }
    }

    /// It with something added.
    ///
    /// # Errors
    /// As for [`by_mass`](Self::by_mass).
    pub fn with(&self, addition: Addition) -> Result<Self, LiquidError> {
        match addition {
            Addition::Nothing => Ok(*self),
            Addition::Water(more) => Self::of_grams(self.sugar, self.water + more.grams()),
            Addition::Sugar(more) => Self::of_grams(self.sugar + more.grams(), self.water),
        }
    }

    /// It against what water holds at a temperature.
    ///
    /// # Errors
    /// [`LiquidError::Solubility`] outside 0 to 90 °C.
    ///
    /// # Accuracy
    /// That of [`saturated_brix`]: near saturation, 0.4 °Bx either way.
    pub fn saturation(&self, at: Temperature) -> Result<Saturation, LiquidError> {
        let holds = saturated_brix(at)?;
        Ok(Saturation { at, holds, degrees_over: self.degrees() - holds.degrees() })
    }
}

impl Saturation {
    /// Whether sugar will crystallise out of it, sooner or later.
    ///
    /// # Limits
    /// Not when: without a crystal to start from, a syrup a few °Bx over may stay clear for weeks (*common practice, no
    /// source*).
    pub fn will_crystallise(&self) -> bool {
        self.degrees_over > 0.0
    }
}

fn density(fraction: f64) -> Result<f64, LiquidError> {
    sucrose::density(fraction, Temperature::clamped(FIGURES_AT))
}

/// `Σ a_k t^k`, % by mass.
const SOLUBILITY: [f64; 5] = [64.447, 0.082_22, 0.001_616_9, -1.558e-6, -4.63e-8];

/// Least and most temperature of the formula, °C.
const SOLUBILITY_AT: (f64, f64) = (0.0, 90.0);

/// The most sucrose that water holds at a temperature.
///
/// # Model
/// `64.447 + 0.08222 t + 0.0016169 t² − 1.558e-6 t³ − 4.63e-8 t⁴`, t in °C.
///
/// # Errors
/// [`LiquidError::Solubility`] outside 0 to 90 °C.
///
/// # Accuracy
/// 0.4 °Bx: this gives 66.72 at 20 °C, another published table, derived from the CRC Handbook, has 67.09. A syrup of
/// 2:1 by mass, 66.67 °Bx, is so just under saturation at 20 °C by either, and over it in a fridge, where 64.80 is the
/// most at 4 °C.
///
/// # Limits
/// Sucrose in water. Beside glucose and fructose less sucrose dissolves, but more sugar in all, and beside ethanol less
/// (*from memory*).
///
/// # Source
/// A formula in public reference code; to be that of Bubník, Kadlec, Urban, Bruhns: Sugar Technologists Manual (1995)
/// is *from memory*.
///
/// ```
/// use medlar::liquid::{Syrup, saturated_brix};
/// use medlar::measure::{Mass, Temperature};
///
/// let fridge = Temperature::new(4.0)?;
/// assert_eq!(format!("{:.1}", saturated_brix(fridge)?), "64.8 °Bx");
/// let rich = Syrup::by_mass(Mass::new(2.0)?, Mass::new(1.0)?)?;
/// assert!(rich.saturation(fridge)?.will_crystallise());
/// assert!(!rich.saturation(Temperature::new(20.0)?)?.will_crystallise());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn saturated_brix(at: Temperature) -> Result<Brix, LiquidError> {
    let t = at.celsius();
    let (least, most) = SOLUBILITY_AT;
    if t < least || t > most {
        return Err(LiquidError::Solubility { found: t, least, most });
    }
    Ok(Brix::clamped(SOLUBILITY.iter().rev().fold(0.0, |sum, a| sum * t + a)))
}

#[cfg(test)]
mod tests;

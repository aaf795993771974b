//! How sweet sugars taste beside table sugar.

use super::error::LiquidError;
use super::parts::Parts;
use super::solute::Solute;
use crate::measure::{Concentration, Mass};

/// How sweet glucose and fructose taste, gram for gram, beside sucrose.
///
/// # Model
/// `Σ factor × grams`, sucrose 1: linear, each sugar for itself.
///
/// # Limits
/// Taste only, and never used for the mass of sugar: density, Brix and freezing go by grams. What tastes sweet beside
/// sugars, and how acid, cold and ethanol change it, is left out.
///
/// # Source
/// [`Panel`]; people differ more than the sugars do, so give the [`Spread`] beside the figure.
///
/// ```
/// use medlar::liquid::{Parts, Solute, Sweetness};
/// use medlar::measure::Mass;
///
/// let fructose = Parts::dry(Solute::Fructose, Mass::new(10.0)?);
/// assert_eq!(Sweetness::WORKING.as_sucrose(&fructose)?.grams(), 12.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sweetness {
    glucose: f64,
    fructose: f64,
}

/// Relative sweetness as a published panel found it, sucrose 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Panel {
    /// Where it is published.
    pub source: &'static str,
    /// Glucose.
    pub glucose: f64,
    /// Fructose.
    pub fructose: f64,
    /// Lactose, where it was tasted. Data only: it is none of the [`Solute`]s.
    pub lactose: Option<f64>,
    /// Maltose, where it was tasted. Data only: it is none of the [`Solute`]s.
    pub maltose: Option<f64>,
}

/// Sucrose as sweet by the published panels, from the one that finds least to the one that finds most.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spread {
    /// By the panel that finds least.
    pub least: Concentration,
    /// By the panel that finds most.
    pub most: Concentration,
}

/// Least and most that a factor may be: half of what any panel found, and something over the most (*ours*).
const FACTORS: (f64, f64) = (0.25, 3.0);

impl Panel {
    /// Those that are published.
    ///
    /// # Source
    /// Three classical panels, tabulated side by side in public sources without their tasters' names; that the first is
    /// Biester, Wood and Wahlin (1925) is *from memory*. The fourth: PMC10346066, Table 2, where glucose stands as
    /// dextrose.
    pub const ALL: [Self; 4] = [
        Self {
            source: "first of three classical panels",
            glucose: 0.74,
            fructose: 1.73,
            lactose: Some(0.16),
            maltose: Some(0.33),
        },
        Self {
            source: "second of three classical panels",
            glucose: 0.50,
            fructose: 1.50,
            lactose: None,
            maltose: Some(0.50),
        },
        Self {
            source: "third of three classical panels",
            glucose: 0.52,
            fructose: 1.03,
            lactose: Some(0.28),
            maltose: None,
        },
        Self {
            source: "PMC10346066, Table 2",
            glucose: 0.8,
            fructose: 1.7,
            lactose: Some(0.2),
            maltose: None,
        },
    ];

    /// Its factors.
    pub const fn sweetness(&self) -> Sweetness {
        Sweetness { glucose: self.glucose, fructose: self.fructose }
    }
}

impl Sweetness {
    /// What we work with: glucose 0.74 as the first classical panel has it, fructose 1.2, the usual value in cold acid
    /// drinks (*from memory*).
    pub const WORKING: Self = Self { glucose: 0.74, fructose: 1.2 };

    /// Factors of one's own, sucrose 1.
    ///
    /// # Errors
    /// [`LiquidError::Sweetness`] for a factor that is not finite or lies outside 0.25 to 3.
    pub fn new(glucose: f64, fructose: f64) -> Result<Self, LiquidError> {
        let (least, most) = FACTORS;
        for found in [glucose, fructose] {
            if !(least..=most).contains(&found) {
                return Err(LiquidError::Sweetness { found, least, most });
            }
        }
        Ok(Self { glucose, fructose })
    }

    /// How sweet a gram of something is beside a gram of sucrose; 0 for what is no sugar.
    pub const fn factor(&self, solute: Solute) -> f64 {
        match solute {
            Solute::Sucrose => 1.0,
            Solute::Glucose => self.glucose,
            Solute::Fructose => self.fructose,
            _ => 0.0,
        }
    }

    /// The sucrose that would taste as sweet as all the sugar in a liquid or a powder: sweetness by weight.
    ///
    /// # Errors
    /// [`LiquidError::Quantity`] past the greatest mass.
    ///
    /// # Limits
    /// A taste, not a mass of sugar.
    pub fn as_sucrose(&self, parts: &Parts) -> Result<Mass, LiquidError> {
        Ok(Mass::new(Solute::SUGARS.iter().map(|s| self.factor(*s) * parts.dissolved(*s).grams()).sum())?)
    }

    /// The sucrose in a litre that would taste as sweet as a liquid: sweetness by volume.
    ///
    /// # Errors
    /// [`LiquidError::Quantity`] if it is sweeter than solid sucrose, as thick fructose is.
    ///
    /// # Accuracy
    /// Not known; see [`spread`](Self::spread).
    ///
    /// # Limits
    /// A taste, not a mass of sugar. [`Parts::sugar`] is that.
    pub fn of(&self, parts: &Parts) -> Result<Concentration, LiquidError> {
        let grams: f64 = Solute::SUGARS.iter().map(|s| parts.dissolved(*s).grams()).sum();
        if grams <= 0.0 {
            return Ok(Concentration::ZERO);
        }
        let per_gram = self.as_sucrose(parts)?.grams() / grams;
        Ok(Concentration::new(per_gram * parts.sugar().grams_per_litre())?)
    }

    /// The same by every published panel: the least and the most that they find.
    ///
    /// # Errors
    /// As for [`of`](Self::of).
    pub fn spread(parts: &Parts) -> Result<Spread, LiquidError> {
        let [first, others @ ..] = Panel::ALL.map(|panel| panel.sweetness().of(parts));
        let first = first?;
        let mut spread = Spread { least: first, most: first };
        for found in others {
            let found = found?;
            spread = Spread { least: spread.least.min(found), most: spread.most.max(found) };
        }
        Ok(spread)
    }
}

impl Default for Sweetness {
    fn default() -> Self {
        Self::WORKING
    }
}

#[cfg(test)]
mod tests;

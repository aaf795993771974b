//! Freezing: where ice begins, how much of a drink is ice in a freezer, and the room it needs.

mod table;

use self::table::Depression;
use super::contents::Contents;
use super::error::LiquidError;
use super::parts::Parts;
use super::solute::Solute;
use super::syrup::saturated_brix;
use crate::measure::{Concentration, Mass, Strength, Temperature, Volume};

/// Density of ice at 0 °C, kg/m³.
///
/// # Source
/// IAPWS, by the reference library `iapws` 1.5.5.
pub const ICE_DENSITY: f64 = 916.72;

/// Density of water at 0 °C, kg/m³.
///
/// # Source
/// As for ice.
const COLD_WATER_DENSITY: f64 = 999.84;

/// Coldest freezer that is answered for, °C: what of the drink is still liquid there is past every table.
const COLDEST: f64 = -40.0;

/// How far the sum of depressions may be off in a mixture, K.
///
/// # Source
/// Not checked in print for ethanol with sugar; Kleinhans and Mazur (2007, PMC2730495) find summed depressions close to
/// measured ones for sucrose or glycerol with salt up to about 55 % by mass. Half a kelvin is *ours*.
pub const UNCERTAIN_KELVIN: f64 = 0.5;

/// Where a liquid begins to freeze.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FreezingPoint {
    /// The temperature.
    pub at: Temperature,
    /// Whether more is dissolved than a table goes to, so that it was carried straight on.
    pub beyond_tables: bool,
}

/// A liquid in a freezer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frozen {
    /// Where it began to freeze.
    pub point: FreezingPoint,
    /// What has turned to ice.
    pub ice: Mass,
    /// What has not.
    pub liquid: Parts,
    /// What the ice takes more than the water it was.
    pub expansion: Volume,
    /// Whether what is left liquid is stronger or sweeter than a table goes to.
    pub beyond_tables: bool,
}

/// Whether it can be poured from the freezer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pours {
    /// No ice.
    Freely,
    /// The freezing point is too near to say.
    AtTheEdge,
    /// Some of it is ice.
    NotFreely,
}

impl Frozen {
    /// The ice as a share of the whole mass, 0 to 1.
    pub fn share(&self) -> f64 {
        let whole = self.ice.grams() + self.liquid.mass().grams();
        if whole > 0.0 { self.ice.grams() / whole } else { 0.0 }
    }
}

/// Sum of the depressions with so much water, K.
fn depression(parts: &Parts, water: f64) -> f64 {
    let ethanol = Depression::of_ethanol().kelvin(parts.ethanol().grams() / water);
    let others =
        Solute::ALL.into_iter().map(|s| Depression::of(s).kelvin(parts.dissolved(s).grams() / water));
    ethanol + others.sum::<f64>()
}

fn beyond_tables(parts: &Parts, water: f64) -> bool {
    let all = Solute::ALL.into_iter();
    !Depression::of_ethanol().covers(parts.ethanol().grams() / water)
        || all.into_iter().any(|s| !Depression::of(s).covers(parts.dissolved(s).grams() / water))
}

/// Where a liquid begins to freeze.
///
/// # Model
/// Each thing in it lowers the freezing point as it would alone in all the water; the depressions are added up. Malic
/// and tartaric acid count mole for mole as citric, acetic as lactic.
///
/// # Errors
/// [`LiquidError::NothingToFreeze`] without any water.
///
/// # Accuracy
/// 0.15 K of the table for one thing alone; [`UNCERTAIN_KELVIN`] for mixtures. Handbooks differ by up to 1.4 K on ethanol
/// near 36 % vol.
///
/// # Source
/// CRC Handbook of Chemistry and Physics, 102nd edition, concentrative properties of aqueous solutions: ethanol to 50 %
/// by mass, sucrose 42, glucose 30, fructose 28, citric acid 30, salt 10. Beyond them the last step is carried on.
///
/// ```
/// use medlar::liquid::{Contents, Parts, freezing};
/// use medlar::measure::{Strength, Volume};
///
/// let gin = Parts::of_liquid(Volume::new(700.0)?, &Contents::of_strength(Strength::new(40.0)?))?;
/// assert_eq!(format!("{:.1}", freezing::point(&gin)?.at), "-23.6 °C");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn point(parts: &Parts) -> Result<FreezingPoint, LiquidError> {
    let water = parts.water_mass().grams();
    if water <= 0.0 {
        return Err(LiquidError::NothingToFreeze);
    }
    Ok(FreezingPoint {
        at: Temperature::clamped(-depression(parts, water)),
        beyond_tables: beyond_tables(parts, water),
    })
}

/// How much of a liquid is ice at a temperature.
///
/// # Model
/// The lever rule: ice is pure water, and it grows until what is left liquid freezes at that very temperature. Ice
/// takes 0.0907 ml/g more than the water it was.
///
/// # Errors
/// [`LiquidError::Freezer`] below −40 °C; [`LiquidError::NothingToFreeze`] without any water.
///
/// # Accuracy
/// The mass balance closes to 1e-9. The share of ice is as good as the freezing curve.
///
/// # Limits
/// Equilibrium: a bottle may stay liquid below its freezing point for hours, and freeze when it is knocked. Sugar that
/// crystallises out of what is left is not counted.
///
/// # Source
/// As for [`point`]; densities of ice and water at 0 °C by IAPWS.
pub fn at(parts: &Parts, temperature: Temperature) -> Result<Frozen, LiquidError> {
    if temperature.celsius() < COLDEST {
        return Err(LiquidError::Freezer { found: temperature.celsius(), least: COLDEST });
    }
    let point = point(parts)?;
    let water = parts.water_mass().grams();
    let target = -temperature.celsius();
    let left = if target <= depression(parts, water) { water } else { water_left(parts, water, target) };
    let ice = water - left;
    Ok(Frozen {
        point,
        ice: Mass::clamped(ice),
        liquid: parts.with_water(left),
        expansion: Volume::clamped(ice * 1000.0 * (1.0 / ICE_DENSITY - 1.0 / COLD_WATER_DENSITY)),
        beyond_tables: ice > 0.0 && left > 0.0 && beyond_tables(parts, left),
    })
}

/// Grams of water that stay liquid, by halving: less water freezes lower.
fn water_left(parts: &Parts, water: f64, kelvin: f64) -> f64 {
    if parts.grams() - water <= 0.0 {
        return 0.0;
    }
    let (mut low, mut high) = (0.0, water);
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            break;
        }
        if depression(parts, middle) > kelvin { low = middle } else { high = middle }
    }
    f64::midpoint(low, high)
}

/// Whether a liquid pours from a freezer of that temperature.
///
/// # Errors
/// As for [`at`].
pub fn pours(parts: &Parts, temperature: Temperature) -> Result<Pours, LiquidError> {
    let above = at(parts, temperature)?.point.at.celsius() - temperature.celsius();
    Ok(if above < -UNCERTAIN_KELVIN {
        Pours::Freely
    } else if above <= UNCERTAIN_KELVIN {
        Pours::AtTheEdge
    } else {
        Pours::NotFreely
    })
}

/// How full a bottle may be so that ice does not burst it: its liquid over its brim, 0 to 1.
///
/// # Errors
/// As for [`at`].
///
/// # Limits
/// Reckoned at 20 °C for the liquid, which shrinks a little on its way down: to the safe side. Nothing is kept back for
/// a freezer that runs colder; ask for a colder one.
pub fn fill_share(parts: &Parts, temperature: Temperature) -> Result<f64, LiquidError> {
    let expansion = at(parts, temperature)?.expansion.ml();
    let volume = parts.volume().ml();
    Ok(if volume > 0.0 { volume / (volume + expansion) } else { 1.0 })
}

/// A household freezer, °C, where nobody says how cold theirs is.
pub const HOUSEHOLD: f64 = -18.0;

/// By how much a freezer may run colder than it says, K; *ours*. Bottles are filled for that.
pub const RUNS_COLDER: f64 = 6.0;

/// The most that any bottle is filled, of its brim, so that it can grow as it warms again; *ours*.
pub const MOST_FILL: f64 = 0.98;

/// How full a bottle may be in a freezer of that temperature, of its brim: for one that runs [`RUNS_COLDER`], and never more
/// than [`MOST_FILL`].
///
/// # Errors
/// As for [`at`].
pub fn safe_fill(parts: &Parts, temperature: Temperature) -> Result<f64, LiquidError> {
    let colder = Temperature::clamped((temperature.celsius() - RUNS_COLDER).max(COLDEST));
    Ok(fill_share(parts, colder)?.min(MOST_FILL))
}

/// The strength from which a liquid with the same things dissolved does not freeze at a temperature; none if no
/// strength that leaves room for water does.
///
/// # Accuracy
/// 1e-9 % vol of the model.
pub fn strength_to_pour(contents: &Contents, temperature: Temperature) -> Option<Strength> {
    let stays = |percent: f64| stays_liquid(&contents.at_strength(Strength::clamped(percent)), temperature);
    least_of(contents.strength().percent_vol(), 100.0, stays).map(Strength::clamped)
}

/// The sucrose, kept beside whatever else is dissolved, from which a liquid does not freeze at a temperature; none if no
/// amount that stays dissolved at 0 °C does.
///
/// # Accuracy
/// 1e-9 g/L of the model.
pub fn sucrose_to_pour(contents: &Contents, temperature: Temperature) -> Option<Concentration> {
    let stays = |grams: f64| {
        stays_liquid(&contents.with(Solute::Sucrose, Concentration::clamped(grams)), temperature)
    };
    let from = contents.of(Solute::Sucrose).grams_per_litre();
    least_of(from, Concentration::RANGE.most, stays).map(Concentration::clamped)
}

/// Whether a liquid has its freezing point at or below a temperature; none if there is no such liquid.
fn stays_liquid(contents: &Contents, temperature: Temperature) -> Option<bool> {
    let parts = Parts::of_liquid(Volume::clamped(100.0), contents).ok()?;
    let sucrose = parts.dissolved(Solute::Sucrose).grams();
    let most = saturated_brix(Temperature::clamped(0.0)).ok()?.degrees() / 100.0;
    if sucrose > most * (sucrose + parts.water_mass().grams()) {
        return None;
    }
    let at = point(&parts).ok()?;
    Some(at.at <= temperature)
}

/// The least value that stays liquid, by halving: what cannot be lies above what can.
fn least_of(from: f64, to: f64, stays: impl Fn(f64) -> Option<bool>) -> Option<f64> {
    let (mut low, mut high) = (from, to);
    if stays(low)? {
        return Some(low);
    }
    for _ in 0..100 {
        let middle = f64::midpoint(low, high);
        if stays(middle) == Some(false) { low = middle } else { high = middle }
    }
    (stays(high) == Some(true)).then_some(high)
}

#[cfg(test)]
mod tests;

//! A closed bottle, warmed or cooled.

use super::gas::{Carbonation, MOLAR_MASS};
use super::solubility::{Ground, KELVIN, Solubility};
use crate::liquid::error::LiquidError;
use crate::measure::{Mass, Pressure, Strength, Temperature, Volume};

/// The gas constant, L bar/(mol K).
const R: f64 = 0.083_144_626;

/// A closed bottle of a drink with carbon dioxide in it.
///
/// # Model
/// All the gas stays in, and is at rest between liquid and headspace: `P = n / (kH(T) V_liq + 44.01 V_head / (R T))`, n
/// its grams, kH the [`Solubility`].
///
/// # Units
/// P in bar from a vacuum; volumes in litres, T in K.
///
/// # Accuracy
/// Within 0.3 bar of a sparkling-wine bottle from 6 to 20 °C; see also the solubility.
///
/// # Limits
/// P is the pressure of carbon dioxide alone: air shut in at closing adds its own, about 1 bar. The volumes are taken as
/// they are at 20 °C: as the liquid grows a headspace shrinks, and **a bottle with next to none bursts from that alone**, at
/// no pressure that this formula knows; [`advise`](super::advise) refuses it. Ice, too, is not counted.
///
/// # Source
/// Mass balance with Henry's law and the ideal gas, as in Liger-Belair and others, Scientific Reports 7 (2017),
/// s41598-017-10702-6.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bottle {
    strength: Strength,
    liquid: Volume,
    headspace: Volume,
    grams: f64,
    filled: Option<Temperature>,
}

impl Bottle {
    /// A bottle filled with a liquid that holds so much gas, and closed; what the headspace comes to hold, the liquid loses.
    ///
    /// # Errors
    /// [`LiquidError::NoLiquid`] without any liquid.
    pub fn filled_with(
        strength: Strength,
        liquid: Volume,
        headspace: Volume,
        holds: Carbonation,
    ) -> Result<Self, LiquidError> {
        let grams = holds.grams_per_litre() * litres(some(liquid)?);
        Ok(Self { strength, liquid, headspace, grams, filled: None })
    }

    /// A bottle closed at rest under a pressure of the gas at a temperature, headspace and all.
    ///
    /// # Errors
    /// [`LiquidError::NoLiquid`] without any liquid, [`LiquidError::GasTemperature`] outside −1 to 40 °C,
    /// [`LiquidError::Carbonation`] if the liquid would hold more than 20 volumes.
    pub fn filled_at(
        strength: Strength,
        liquid: Volume,
        headspace: Volume,
        gas: Pressure,
        at: Temperature,
    ) -> Result<Self, LiquidError> {
        let solubility = Solubility::of(strength, at)?;
        solubility.held_at(gas)?;
        let empty = Self { strength, liquid: some(liquid)?, headspace, grams: 0.0, filled: Some(at) };
        Ok(Self { grams: gas.bar() * empty.grams_a_bar(solubility, at), ..empty })
    }

    /// The pressure of the gas at a temperature, when all is at rest.
    ///
    /// # Errors
    /// [`LiquidError::GasTemperature`] outside −1 to 40 °C.
    ///
    /// ```
    /// use medlar::liquid::carbonation::{Bottle, Carbonation};
    /// use medlar::measure::{Strength, Temperature, Volume};
    ///
    /// let soda = Carbonation::from_volumes(4.0)?;
    /// let bottle = Bottle::filled_with(Strength::ZERO, Volume::clamped(1000.0), Volume::clamped(50.0), soda)?;
    /// let warm = bottle.pressure(Temperature::clamped(30.0))?;
    /// assert_eq!(format!("{warm:.1}, {:.0} psi on a gauge", warm.gauge_psi()), "5.7 bar, 68 psi on a gauge");
    /// # Ok::<(), medlar::liquid::LiquidError>(())
    /// ```
    pub fn pressure(&self, at: Temperature) -> Result<Pressure, LiquidError> {
        let solubility = Solubility::of(self.strength, at)?;
        // Never past the range of pressures: a headspace only lessens what 20 volumes come to.
        Ok(Pressure::clamped(self.grams / self.grams_a_bar(solubility, at)))
    }

    /// What the liquid holds at a temperature; the rest is in the headspace.
    ///
    /// # Errors
    /// [`LiquidError::GasTemperature`] outside −1 to 40 °C.
    pub fn carbonation(&self, at: Temperature) -> Result<Carbonation, LiquidError> {
        Solubility::of(self.strength, at)?.held_at(self.pressure(at)?)
    }

    /// What the solubility rests on, and so its pressures.
    pub fn ground(&self) -> Ground {
        Ground::of(self.strength)
    }

    /// All the gas in it.
    pub fn gas(&self) -> Mass {
        Mass::clamped(self.grams)
    }

    /// The liquid's strength.
    #[must_use]
    pub const fn strength(&self) -> Strength {
        self.strength
    }

    /// The liquid's volume.
    #[must_use]
    pub const fn liquid(&self) -> Volume {
        self.liquid
    }

    /// The room above the liquid.
    #[must_use]
    pub const fn headspace(&self) -> Volume {
        self.headspace
    }

    /// The temperature at which it was put under pressure, if that is how it was filled.
    #[must_use]
    pub const fn filled(&self) -> Option<Temperature> {
        self.filled
    }

    /// Grams that liquid and headspace take for each bar.
    fn grams_a_bar(&self, solubility: Solubility, at: Temperature) -> f64 {
        solubility.grams_per_litre_bar() * litres(self.liquid)
            + MOLAR_MASS * litres(self.headspace) / (R * (at.celsius() + KELVIN))
    }
}

fn litres(volume: Volume) -> f64 {
    volume.ml() / 1000.0
}

/// The volume, if there is any.
fn some(liquid: Volume) -> Result<Volume, LiquidError> {
    if liquid > Volume::ZERO { Ok(liquid) } else { Err(LiquidError::NoLiquid) }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn at(celsius: f64) -> Temperature {
        Temperature::clamped(celsius)
    }

    fn closed(strength: f64, headspace: f64, bar: f64, celsius: f64) -> Bottle {
        let (liquid, headspace) = (Volume::clamped(750.0), Volume::clamped(headspace));
        Bottle::filled_at(Strength::clamped(strength), liquid, headspace, Pressure::clamped(bar), at(celsius))
            .unwrap()
    }

    #[test]
    fn no_liquid_is_refused_by_name() {
        let soda = Carbonation::from_volumes(4.0).unwrap();
        let none = Bottle::filled_with(Strength::ZERO, Volume::ZERO, Volume::ZERO, soda);
        assert_eq!(none, Err(LiquidError::NoLiquid));
        let none = Bottle::filled_at(
            Strength::ZERO,
            Volume::ZERO,
            Volume::clamped(5.0),
            Pressure::clamped(2.0),
            at(4.0),
        );
        assert_eq!(none, Err(LiquidError::NoLiquid));
    }

    #[test]
    fn without_a_headspace_the_liquid_keeps_all() {
        let soda = Carbonation::from_volumes(4.0).unwrap();
        let full = Bottle::filled_with(Strength::ZERO, Volume::clamped(750.0), Volume::ZERO, soda).unwrap();
        for celsius in [-1.0, 4.0, 40.0] {
            let needed = Solubility::of(Strength::ZERO, at(celsius)).unwrap().pressure_for(soda);
            assert!((full.pressure(at(celsius)).unwrap().bar() - needed.bar()).abs() < 1e-9);
            assert!((full.carbonation(at(celsius)).unwrap().volumes() - 4.0).abs() < 1e-9);
        }
    }

    #[test]
    fn beyond_the_formula_is_refused_by_name() {
        let bottle = closed(0.0, 20.0, 3.0, 4.0);
        assert!(matches!(bottle.pressure(at(50.0)), Err(LiquidError::GasTemperature { .. })));
        assert!(matches!(bottle.carbonation(at(-5.0)), Err(LiquidError::GasTemperature { .. })));
    }

    /// CODATA 2018: an ideal gas takes 22.710 95 L/mol at 0 °C and 1 bar.
    #[test]
    fn a_headspace_holds_an_ideal_gas() {
        let gas = |headspace: f64| closed(0.0, headspace, 1.0, 0.0).gas().grams();
        assert!((gas(1000.0) - gas(0.0) - 44.01 / 22.710_95).abs() < 1e-5, "{}", gas(1000.0) - gas(0.0));
    }

    proptest! {
        #[test]
        fn it_comes_back_to_the_pressure_it_was_filled_at(
            strength in 0.0..=40.0_f64, headspace in 0.0..500.0_f64, bar in 0.0..10.0_f64, celsius in -1.0..=40.0_f64,
        ) {
            let bottle = closed(strength, headspace, bar, celsius);
            prop_assert!((bottle.pressure(at(celsius)).unwrap().bar() - bar).abs() < 1e-9);
        }

        #[test]
        fn pressure_rises_with_warmth_and_less_with_more_headspace(
            strength in 0.0..=40.0_f64, headspace in 0.0..300.0_f64, more in 1.0..300.0_f64,
            bar in 1.0..6.0_f64, celsius in -1.0..30.0_f64, warmer in 0.1..10.0_f64,
        ) {
            let warm = |headspace| {
                closed(strength, headspace, bar, celsius).pressure(at(celsius + warmer)).unwrap().bar()
            };
            prop_assert!(warm(headspace) > bar);
            prop_assert!(warm(headspace + more) < warm(headspace));
        }

        #[test]
        fn what_the_liquid_loses_is_in_the_headspace(
            headspace in 0.0..300.0_f64, volumes in 0.1..8.0_f64, celsius in -1.0..=40.0_f64,
        ) {
            let filled = Carbonation::from_volumes(volumes).unwrap();
            let (liquid, room) = (Volume::clamped(750.0), Volume::clamped(headspace));
            let bottle = Bottle::filled_with(Strength::ZERO, liquid, room, filled).unwrap();
            let kept = bottle.carbonation(at(celsius)).unwrap().concentration().grams_per_litre() * 0.75;
            let moles = bottle.pressure(at(celsius)).unwrap().bar() * headspace / 1000.0 / (R * (celsius + 273.15));
            prop_assert!((kept + moles * 44.01 - bottle.gas().grams()).abs() < 1e-9);
            prop_assert!((bottle.gas().grams() - 0.75 * filled.concentration().grams_per_litre()).abs() < 1e-9);
        }
    }
}

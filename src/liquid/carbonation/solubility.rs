//! How much carbon dioxide a liquid holds for each bar.

use super::gas::{Carbonation, MOLAR_MASS};
use crate::liquid::error::LiquidError;
use crate::measure::{Pressure, Strength, Temperature};

/// Least and most temperature of the formula, °C.
const TEMPERATURES: (f64, f64) = (-1.0, 40.0);

/// °C to K.
pub(super) const KELVIN: f64 = 273.15;

/// Weiss's coefficients for pure water, mol/(L atm).
const A: [f64; 3] = [-58.0931, 90.5069, 22.2940];

/// Least and most strength, % vol, at which drinks were measured.
const MEASURED: (f64, f64) = (10.0, 16.0);

/// What a drink of that strength holds, as a share of what water does.
const SHARE: f64 = 0.90;

/// What a solubility rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ground {
    /// The published formula for water.
    Water,
    /// Between water and 10 % vol: a straight line, ours.
    Between,
    /// A plain share of water's, from drinks of 10 to 16 % vol.
    Share,
    /// The same share above 16 % vol, where nobody has verified it.
    Unverified,
}

impl Ground {
    /// That of a liquid of a strength.
    pub fn of(strength: Strength) -> Self {
        let (least, most) = MEASURED;
        match strength.percent_vol() {
            q if q > most => Self::Unverified,
            q if q >= least => Self::Share,
            q if q > 0.0 => Self::Between,
            _ => Self::Water,
        }
    }
}

/// How much carbon dioxide a liquid holds for each bar of the gas, at a temperature.
///
/// # Model
/// `ln K0 = −58.0931 + 90.5069 (100/T) + 22.2940 ln(T/100)` for water, times 44.01 over 1.01325; then times 0.90 from 10 %
/// vol on, and by a straight line from 1 at 0 % vol to 0.90 at 10. What is held is proportional to the pressure of the gas.
///
/// # Units
/// T in K; K0 in mol/(L atm); here g/L for each bar, counted from a vacuum.
///
/// # Accuracy
/// Water within 1 % near 1 bar. Higher up, the gas is not ideal and less dissolves than in proportion: 3 % less at 5 bar and
/// about 5 % at 10 (second virial coefficient, Weiss 1974; *from memory*). The share of 0.90 is from a champagne at 10 °C
/// (2.1 g/L for each bar) and a beer at 6 °C (2.4, of which the straight line makes 2.55).
///
/// # Limits
/// Sugar, acid and extract are not counted; all make a liquid hold less, so that a given content presses more than is said
/// here. Strong spirits are said to hold more than water: above 16 % vol the share is only carried on, and
/// [`ground`](Self::ground) says so.
///
/// # Source
/// R. F. Weiss, Carbon dioxide in water and seawater, Marine Chemistry 2 (1974) 203-215. The share: PMC8047704, Table 1.
/// The straight line is ours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Solubility {
    grams_per_litre_bar: f64,
    ground: Ground,
}

impl Solubility {
    /// That of a liquid of a strength at a temperature.
    ///
    /// # Errors
    /// [`LiquidError::GasTemperature`] outside −1 to 40 °C, the range of the formula.
    ///
    /// ```
    /// use medlar::liquid::carbonation::Solubility;
    /// use medlar::measure::{Pressure, Strength, Temperature};
    ///
    /// let fridge = Solubility::of(Strength::ZERO, Temperature::clamped(4.0))?;
    /// assert_eq!(format!("{:.2}", fridge.held_at(Pressure::clamped(3.0))?.volumes()), "4.38");
    /// # Ok::<(), medlar::liquid::LiquidError>(())
    /// ```
    pub fn of(strength: Strength, at: Temperature) -> Result<Self, LiquidError> {
        let grams_per_litre_bar =
            share_of_water(strength) * in_water(at)? * MOLAR_MASS / Pressure::OPEN_AIR.bar();
        Ok(Self { grams_per_litre_bar, ground: Ground::of(strength) })
    }

    /// g/L for each bar.
    #[must_use]
    pub const fn grams_per_litre_bar(self) -> f64 {
        self.grams_per_litre_bar
    }

    /// What it rests on.
    #[must_use]
    pub const fn ground(self) -> Ground {
        self.ground
    }

    /// What the liquid holds at rest under a pressure of the gas.
    ///
    /// # Errors
    /// [`LiquidError::Carbonation`] if that is more than 20 volumes.
    pub fn held_at(self, gas: Pressure) -> Result<Carbonation, LiquidError> {
        Carbonation::from_grams_per_litre(self.grams_per_litre_bar * gas.bar())
    }

    /// The pressure of the gas under which the liquid holds so much at rest.
    pub fn pressure_for(self, held: Carbonation) -> Pressure {
        // 20 volumes at 40 °C need 43 bar, inside the range of pressures.
        Pressure::clamped(held.grams_per_litre() / self.grams_per_litre_bar)
    }
}

/// K0 of water, mol/(L atm).
fn in_water(at: Temperature) -> Result<f64, LiquidError> {
    let t = at.celsius();
    if t < TEMPERATURES.0 || t > TEMPERATURES.1 {
        return Err(LiquidError::GasTemperature { found: t, least: TEMPERATURES.0, most: TEMPERATURES.1 });
    }
    let hundreds = (t + KELVIN) / 100.0;
    Ok((A[0] + A[1] / hundreds + A[2] * hundreds.ln()).exp())
}

/// What a liquid holds as a share of what water does.
fn share_of_water(strength: Strength) -> f64 {
    match Ground::of(strength) {
        Ground::Water => 1.0,
        Ground::Between => 1.0 - (1.0 - SHARE) * strength.percent_vol() / MEASURED.0,
        Ground::Share | Ground::Unverified => SHARE,
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn solubility(strength: f64, celsius: f64) -> Result<Solubility, LiquidError> {
        Solubility::of(Strength::clamped(strength), Temperature::clamped(celsius))
    }

    #[test]
    fn outside_the_formula_is_refused_by_name() {
        for found in [-1.1, 40.1, 50.0] {
            let error = solubility(0.0, found).unwrap_err();
            assert_eq!(error, LiquidError::GasTemperature { found, least: -1.0, most: 40.0 });
        }
        assert!(solubility(0.0, -1.0).is_ok() && solubility(0.0, 40.0).is_ok());
    }

    #[test]
    fn what_it_rests_on_is_said() {
        for (strength, ground) in [
            (0.0, Ground::Water),
            (0.5, Ground::Between),
            (9.9, Ground::Between),
            (10.0, Ground::Share),
            (16.0, Ground::Share),
            (16.1, Ground::Unverified),
            (100.0, Ground::Unverified),
        ] {
            assert_eq!(solubility(strength, 10.0).unwrap().ground(), ground, "{strength}");
        }
    }

    #[test]
    fn more_than_a_bottle_is_made_for_is_refused() {
        let cold = solubility(0.0, 0.0).unwrap();
        assert!(matches!(cold.held_at(Pressure::clamped(50.0)), Err(LiquidError::Carbonation { .. })));
        let most = Carbonation::from_volumes(20.0).unwrap();
        let warm = solubility(12.0, 40.0).unwrap().pressure_for(most);
        assert!(warm.bar() < Pressure::RANGE.most, "not held at the end of the range: {warm}");
    }

    proptest! {
        #[test]
        fn colder_holds_more(strength in 0.0..=100.0_f64, celsius in -1.0..39.9_f64, warmer in 0.01..10.0_f64) {
            let cold = solubility(strength, celsius).unwrap();
            let warm = solubility(strength, (celsius + warmer).min(40.0)).unwrap();
            prop_assert!(cold.grams_per_litre_bar() > warm.grams_per_litre_bar());
        }

        #[test]
        fn alcohol_holds_no_more_and_without_a_jump(strength in 0.0..99.0_f64, celsius in -1.0..=40.0_f64) {
            let weak = solubility(strength, celsius).unwrap().grams_per_litre_bar();
            let strong = solubility(strength + 0.01, celsius).unwrap().grams_per_litre_bar();
            prop_assert!(strong <= weak && strong > weak * 0.9998, "{weak} {strong}");
        }

        #[test]
        fn volumes_to_pressure_and_back(volumes in 0.0..19.99_f64, strength in 0.0..=100.0_f64, celsius in -1.0..=40.0_f64) {
            let solubility = solubility(strength, celsius).unwrap();
            let held = Carbonation::from_volumes(volumes).unwrap();
            let back = solubility.held_at(solubility.pressure_for(held)).unwrap();
            prop_assert!((back.volumes() - volumes).abs() < 1e-9);
        }
    }
}

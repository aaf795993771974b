//! What a lengthener's gas comes to in a drink.

use super::gas::Carbonation;
use super::solubility::{Ground, Solubility};
use crate::liquid::error::LiquidError;
use crate::liquid::parts::Parts;
use crate::measure::{Mass, Pressure, Strength, Temperature, Volume};

/// A flat drink with a fizzy lengthener in it, before any gas has gone.
///
/// # Model
/// The lengthener's grams of gas in the volume of both, which contract as they mix.
///
/// # Limits
/// An upper bound: what escapes on pouring and stirring, and on ice, is not counted, and is much of it.
///
/// # Source
/// Mass balance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lengthened {
    /// The volume of both.
    pub volume: Volume,
    /// The strength of both.
    pub strength: Strength,
    /// The most gas it can hold on to.
    pub at_most: Carbonation,
}

/// A fizzy drink in an open glass.
///
/// # Model
/// A bubble is carbon dioxide at 1 atm. Above what the drink holds under that it is supersaturated: bubbles grow and gas
/// goes. Below, it goes on through the surface alone, until the drink is flat; that is not counted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpenGlass {
    /// What it holds under 1 atm of the gas.
    pub saturated: Carbonation,
    /// That as a share of what is in it: over 1 no bubble grows.
    pub share: f64,
    /// What the solubility rests on.
    pub ground: Ground,
}

impl OpenGlass {
    /// Whether bubbles grow in it.
    pub fn is_supersaturated(&self) -> bool {
        self.share < 1.0
    }
}

impl Lengthened {
    /// A lengthener that holds so much gas, and a flat drink.
    ///
    /// # Errors
    /// [`LiquidError::NoLiquid`] if both are empty.
    ///
    /// ```
    /// use medlar::liquid::carbonation::{Carbonation, Lengthened};
    /// use medlar::liquid::Parts;
    /// use medlar::measure::Volume;
    ///
    /// let water = |ml| Parts::water(Volume::clamped(ml));
    /// let glass = Lengthened::of(&water(90.0), Carbonation::from_volumes(4.0)?, &water(90.0))?;
    /// assert_eq!(format!("{:.2}", glass.at_most.volumes()), "2.00");
    /// # Ok::<(), medlar::liquid::LiquidError>(())
    /// ```
    pub fn of(lengthener: &Parts, holds: Carbonation, flat: &Parts) -> Result<Self, LiquidError> {
        let both = lengthener.plus(flat).measured();
        if both.volume <= Volume::ZERO {
            return Err(LiquidError::NoLiquid);
        }
        let grams = holds.grams_per_litre() * lengthener.volume().ml();
        let at_most = Carbonation::from_grams_per_litre(grams / both.volume.ml())?;
        Ok(Self { volume: both.volume, strength: both.strength, at_most })
    }

    /// All the gas in it.
    pub fn gas(&self) -> Mass {
        Mass::clamped(self.at_most.grams_per_litre() * self.volume.ml() / 1000.0)
    }

    /// Where it stands in an open glass at a temperature.
    ///
    /// # Errors
    /// [`LiquidError::GasTemperature`] outside −1 to 40 °C.
    pub fn in_open_glass(&self, at: Temperature) -> Result<OpenGlass, LiquidError> {
        let solubility = Solubility::of(self.strength, at)?;
        let saturated = solubility.held_at(Pressure::OPEN_AIR)?;
        // Without gas the share is infinite, and no bubble grows.
        let share = if self.at_most > Carbonation::NONE {
            saturated.volumes() / self.at_most.volumes()
        } else {
            f64::INFINITY
        };
        Ok(OpenGlass { saturated, share, ground: solubility.ground() })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::liquid::Contents;

    fn spirit(ml: f64, strength: f64) -> Parts {
        Parts::of_liquid(Volume::clamped(ml), &Contents::of_strength(Strength::clamped(strength))).unwrap()
    }

    fn soda(volumes: f64) -> Carbonation {
        Carbonation::from_volumes(volumes).unwrap()
    }

    #[test]
    fn two_empty_glasses_are_refused_by_name() {
        let none = Parts::default();
        assert_eq!(Lengthened::of(&none, soda(4.0), &none), Err(LiquidError::NoLiquid));
    }

    #[test]
    fn a_highball_fizzes_and_a_dash_of_soda_does_not() {
        let cold = Temperature::clamped(4.0);
        let highball = Lengthened::of(&spirit(120.0, 0.0), soda(4.0), &spirit(45.0, 40.0)).unwrap();
        assert!(highball.in_open_glass(cold).unwrap().is_supersaturated());
        let dash = Lengthened::of(&spirit(15.0, 0.0), soda(4.0), &spirit(90.0, 25.0)).unwrap();
        let glass = dash.in_open_glass(cold).unwrap();
        assert!(!glass.is_supersaturated(), "{glass:?}");
        assert_eq!(glass.ground, Ground::Unverified, "{}", dash.strength);
    }

    #[test]
    fn a_flat_drink_is_never_supersaturated() {
        let flat = Lengthened::of(&spirit(90.0, 0.0), Carbonation::NONE, &spirit(45.0, 40.0)).unwrap();
        assert!(!flat.in_open_glass(Temperature::clamped(30.0)).unwrap().is_supersaturated());
    }

    proptest! {
        #[test]
        fn no_gas_is_made_or_lost(
            ml in 1.0..500.0_f64, volumes in 0.0..10.0_f64, flat in 0.0..500.0_f64, strength in 0.0..=60.0_f64,
        ) {
            let lengthener = spirit(ml, 5.0);
            let mixed = Lengthened::of(&lengthener, soda(volumes), &spirit(flat, strength)).unwrap();
            let poured = soda(volumes).concentration().grams_per_litre() * ml / 1000.0;
            prop_assert!((mixed.gas().grams() - poured).abs() < 1e-9, "{} {poured}", mixed.gas());
        }

        #[test]
        fn the_share_is_what_a_glass_under_one_atmosphere_keeps(volumes in 0.1..10.0_f64, celsius in -1.0..=40.0_f64) {
            let mixed = Lengthened::of(&spirit(100.0, 0.0), soda(volumes), &spirit(50.0, 40.0)).unwrap();
            let at = Temperature::clamped(celsius);
            let glass = mixed.in_open_glass(at).unwrap();
            let pressure = Solubility::of(mixed.strength, at).unwrap().pressure_for(mixed.at_most);
            prop_assert_eq!(glass.is_supersaturated(), pressure.bar() > 1.01325);
            prop_assert!((glass.share * mixed.at_most.volumes() - glass.saturated.volumes()).abs() < 1e-9);
        }
    }
}

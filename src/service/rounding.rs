//! Amounts that can be measured, and what rounding them does.

use crate::measure::{HouseUnit, Volume};

/// An amount as it is measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rounded {
    /// To be measured.
    pub volume: Volume,
    /// How far that is off, as a share of what was wanted.
    pub error: f64,
}

/// The most that rounding may be off, as a share of a line, where a finer mark is to be had; *ours*.
pub(super) const MOST_OFF: f64 = 0.005;

/// Steps of a jug or a scale, ml, the roundest first.
const MILLILITRES: [f64; 10] = [500.0, 250.0, 100.0, 50.0, 25.0, 10.0, 5.0, 1.0, 0.5, 0.1];
/// The same in US fluid ounces.
const OUNCES: [f64; 9] = [16.0, 8.0, 4.0, 2.0, 1.0, 0.5, 0.25, 0.125, 0.01];

/// A volume on the roundest step that is off by at most half a per cent; on the finest where none is.
///
/// # Accuracy
/// Half a per cent of the volume, or half of 0.1 ml or 0.01 oz.
///
/// ```
/// use medlar::measure::{HouseUnit, Volume};
/// use medlar::service::rounded;
///
/// let lime = rounded(Volume::new(901.0)?, HouseUnit::Millilitre);
/// assert_eq!(lime.volume, Volume::new(900.0)?);
/// assert!(lime.error.abs() < 0.005);
/// # Ok::<(), medlar::measure::range::OutOfRange>(())
/// ```
pub fn rounded(volume: Volume, unit: HouseUnit) -> Rounded {
    let (steps, one): (&[f64], f64) = match unit {
        HouseUnit::Millilitre => (&MILLILITRES, 1.0),
        HouseUnit::Ounce => (&OUNCES, unit.ml()),
    };
    let on = |step: &f64| (volume.ml() / (step * one)).round() * step * one;
    let off = |ml: f64| if volume.ml() > 0.0 { ml / volume.ml() - 1.0 } else { 0.0 };
    let fine = steps.iter().map(on).find(|ml| off(*ml).abs() <= MOST_OFF);
    let ml = fine.unwrap_or_else(|| on(&steps[steps.len() - 1]));
    // What is needed is never rounded to nothing.
    let ml = if ml > 0.0 || volume.ml() <= 0.0 { ml } else { volume.ml() };
    Rounded { volume: Volume::clamped(ml), error: off(ml) }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn round_numbers_where_they_are_near_enough() {
        let ml = |ml: f64| rounded(Volume::clamped(ml), HouseUnit::Millilitre).volume.ml();
        for (wanted, measured) in
            [(1183.0, 1180.0), (1199.0, 1200.0), (35.5, 35.5), (3.33, 3.3), (0.02, 0.02)]
        {
            assert!((ml(wanted) - measured).abs() < 1e-9, "{wanted}: {}", ml(wanted));
        }
        let ounces = rounded(Volume::from_ounces(40.1).unwrap(), HouseUnit::Ounce).volume.ounces();
        assert!((ounces - 40.0).abs() < 1e-9, "{ounces}");
    }

    proptest! {
        #[test]
        fn the_error_is_what_it_says_and_small(ml in 1.0_f64..1e6, ounces in any::<bool>()) {
            let unit = if ounces { HouseUnit::Ounce } else { HouseUnit::Millilitre };
            let found = rounded(Volume::clamped(ml), unit);
            prop_assert!((found.volume.ml() / ml - 1.0 - found.error).abs() < 1e-9);
            let finest = if ounces { 0.01 * unit.ml() } else { 0.1 };
            prop_assert!(found.error.abs() <= MOST_OFF + 1e-12 || (found.volume.ml() - ml).abs() <= finest / 2.0 + 1e-9);
        }
    }
}

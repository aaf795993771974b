//! How much gas a liquid holds.

use crate::liquid::error::LiquidError;
use crate::measure::Concentration;

/// Grams of carbon dioxide in a mole.
pub(super) const MOLAR_MASS: f64 = 44.01;

/// Litres that a mole of carbon dioxide takes at 0 °C and 1 atm; it is no ideal gas, which would take 22.414.
const MOLAR_LITRES: f64 = 22.263;

/// Grams of carbon dioxide in a litre of the gas at 0 °C and 1 atm.
const GRAMS_A_VOLUME: f64 = MOLAR_MASS / MOLAR_LITRES;

/// Most that a liquid is taken to hold, volumes.
const MOST: f64 = 20.0;

/// Carbon dioxide dissolved in a liquid.
///
/// # Units
/// Volumes: litres of the gas, at 0 °C and 1 atm, in a litre of the liquid; or g/L. One volume is 1.977 g/L.
///
/// # Limits
/// 0 to 20 volumes: no bottle for drinks is made for more, and the gas no longer dissolves in proportion to its pressure.
///
/// # Source
/// 22.263 L/mol at 0 °C and 1 atm for the gas as it is: Weiss (1974).
///
/// ```
/// use medlar::liquid::carbonation::Carbonation;
///
/// let soda = Carbonation::from_volumes(4.0)?;
/// assert_eq!(format!("{:.2}", soda.concentration()), "7.91 g/L");
/// # Ok::<(), medlar::liquid::LiquidError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Carbonation(f64);

impl Carbonation {
    /// No gas.
    pub const NONE: Self = Self(0.0);

    /// So many volumes of gas.
    ///
    /// # Errors
    /// [`LiquidError::Carbonation`] outside 0 to 20.
    pub fn from_volumes(volumes: f64) -> Result<Self, LiquidError> {
        if (0.0..=MOST).contains(&volumes) {
            Ok(Self(volumes + 0.0))
        } else {
            Err(LiquidError::Carbonation { found: volumes, most: MOST })
        }
    }

    /// So many grams of gas in a litre.
    ///
    /// # Errors
    /// [`LiquidError::Carbonation`] if that is more than 20 volumes.
    pub fn from_concentration(held: Concentration) -> Result<Self, LiquidError> {
        Self::from_grams_per_litre(held.grams_per_litre())
    }

    pub(super) fn from_grams_per_litre(grams_per_litre: f64) -> Result<Self, LiquidError> {
        Self::from_volumes(grams_per_litre / GRAMS_A_VOLUME)
    }

    /// The gas in volumes.
    #[must_use]
    pub const fn volumes(self) -> f64 {
        self.0
    }

    /// The gas in g/L.
    pub fn concentration(self) -> Concentration {
        Concentration::clamped(self.grams_per_litre())
    }

    pub(super) fn grams_per_litre(self) -> f64 {
        self.0 * GRAMS_A_VOLUME
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn outside_the_range_is_refused_by_name() {
        for found in [-0.1, 20.1, f64::NAN, f64::INFINITY] {
            assert!(
                matches!(Carbonation::from_volumes(found), Err(LiquidError::Carbonation { .. })),
                "{found}"
            );
        }
        let error = Carbonation::from_concentration(Concentration::clamped(197.68)).unwrap_err();
        assert_eq!(
            error.to_string(),
            "100.00 volumes of gas: allowed is 0 to 20, since no bottle for drinks is made for more"
        );
    }

    proptest! {
        #[test]
        fn grams_lead_back(volumes in 0.0..=19.99_f64) {
            let held = Carbonation::from_volumes(volumes).unwrap();
            let back = Carbonation::from_concentration(held.concentration()).unwrap();
            prop_assert!((back.volumes() - volumes).abs() < 1e-9);
        }
    }
}

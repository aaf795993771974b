//! Ethanol and water: density, and strength by volume against share by mass.
#![expect(clippy::unreadable_literal, reason = "coefficients stand as they are published")]

use std::sync::LazyLock;

use super::error::LiquidError;
use crate::measure::{Strength, Temperature};

/// Density of pure ethanol at 20 °C, kg/m³.
///
/// # Source
/// OIML R 22 (1975), the general formula at p = 1.
pub const PURE_20: f64 = 789.239_123_3;

/// Least and most temperature of the formula, °C.
const TEMPERATURES: (f64, f64) = (-20.0, 40.0);

/// Terms in the mass fraction alone, kg/m³.
const A: [f64; 12] = [
    998.201_23,
    -192.976_949_5,
    389.123_895_8,
    -1_668.103_923,
    13_522.154_41,
    -88_292.783_88,
    306_287.404_2,
    -613_838.123_4,
    747_017.299_8,
    -547_846.135_4,
    223_446.033_4,
    -39_032.854_26,
];

/// Terms in the temperature alone.
const B: [f64; 6] =
    [-0.206_185_13, -0.005_268_254_2, 3.6130013e-05, -3.8957702e-07, 7.169354e-09, -9.9739231e-11];

/// Mixed terms: row i goes with (t − 20)^i, column k with p^k, both from 1.
const C: [&[f64]; 5] = [
    &[
        0.169_344_346_153_008_7,
        -10.469_147_434_551_69,
        71.963_534_695_465_23,
        -704.747_805_427_279_2,
        3_924.090_430_035_045,
        -12_101.646_590_687_47,
        22_486.465_504_007_88,
        -26_055.629_821_881_64,
        18_523.739_220_694_67,
        -7_420.201_433_430_137,
        1_285.617_841_998_974,
    ],
    &[
        -0.011_930_130_050_570_1,
        0.251_739_963_380_346_1,
        -2.170_575_700_536_993,
        13.530_349_888_430_29,
        -50.299_887_585_470_14,
        109.635_566_657_757,
        -142.275_394_642_115_5,
        108.043_594_285_623,
        -44.141_532_368_173_92,
        7.442_971_530_188_783,
    ],
    &[
        -0.000_680_299_573_350_380_3,
        0.018_768_377_902_896_64,
        -0.200_256_181_373_415_6,
        1.022_992_966_719_22,
        -2.895_696_483_903_638,
        4.810_060_584_300_675,
        -4.672_147_440_794_683,
        2.458_043_105_903_461,
        -0.541_122_762_143_681_2,
    ],
    &[4.075376675622027e-06, -8.76305857347111e-06, 6.515031360099368e-06, -1.51578483698721e-06],
    &[-2.788074354782409e-08, 1.345612883493354e-08],
];

/// `Σ a_k x^k` from the power of the first coefficient on.
fn polynomial(coefficients: &[f64], x: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, a| sum * x + a)
}

/// Density of a mixture of ethanol and water.
///
/// # Model
/// The general formula: `ρ(p, t) = A1 + Σ A_k p^(k−1) + Σ B_k (t−20)^k + Σ Σ C_ik p^k (t−20)^i`.
///
/// # Units
/// Mass fraction of ethanol 0 to 1; kg/m³.
///
/// # Errors
/// [`LiquidError`] outside 0 to 1 or −20 to 40 °C. The formula also holds only above the freezing curve, which is not
/// checked here.
///
/// # Accuracy
/// 0.01 kg/m³ of the published tables at 20 °C.
///
/// # Source
/// OIML R 22 (1975); coefficients A and B also in the Annex of Council Directive 76/766/EEC.
pub fn density(mass_fraction: f64, at: Temperature) -> Result<f64, LiquidError> {
    let p = checked(mass_fraction)?;
    let t = at.celsius();
    if t < TEMPERATURES.0 || t > TEMPERATURES.1 {
        return Err(LiquidError::Temperature { found: t, least: TEMPERATURES.0, most: TEMPERATURES.1 });
    }
    let warmer = t - 20.0;
    let mut sum = density_20(p) + warmer * polynomial(&B, warmer);
    let mut power = 1.0;
    for row in C {
        power *= warmer;
        sum += power * p * polynomial(row, p);
    }
    Ok(sum)
}

fn checked(mass_fraction: f64) -> Result<f64, LiquidError> {
    if (0.0..=1.0).contains(&mass_fraction) {
        Ok(mass_fraction)
    } else {
        Err(LiquidError::MassFraction { found: mass_fraction })
    }
}

/// The same at 20 °C, for a fraction that is known to be one.
pub(super) fn density_20(p: f64) -> f64 {
    polynomial(&A, p)
}

/// Slope of the density at 20 °C against the mass fraction.
fn density_20_slope(p: f64) -> f64 {
    A.iter().enumerate().skip(1).rev().fold(0.0, |sum, (k, a)| sum * p + a * k as f64)
}

/// Strength of a mixture from its mass fraction of ethanol.
///
/// # Model
/// q = 100 p ρ(p, 20) / ρ(1, 20).
///
/// # Errors
/// [`LiquidError::MassFraction`] outside 0 to 1.
pub fn strength(mass_fraction: f64) -> Result<Strength, LiquidError> {
    let p = checked(mass_fraction)?;
    Ok(Strength::clamped(100.0 * p * density_20(p) / density_20(1.0)))
}

/// Mass fraction of ethanol from the strength.
///
/// # Model
/// [`strength`] turned round: a cubic through the two nearest rows of a table, then one step of Newton's method.
///
/// # Accuracy
/// 1e-12 of the mass fraction, over 100,001 strengths from 0 to 100 % vol, against a search by halving.
pub fn mass_fraction(strength: Strength) -> f64 {
    let q = strength.percent_vol() / 100.0;
    let p = seed(q);
    let slope = density_20(p) + p * density_20_slope(p);
    (p - (p * density_20(p) - q * density_20(1.0)) / slope).clamp(0.0, 1.0)
}

/// Steps of the table.
const STEPS: usize = 1024;

/// Mass fraction, and its slope times a step, at strengths 0, 1/1024, ... 1.
static TABLE: LazyLock<Vec<(f64, f64)>> = LazyLock::new(|| {
    let pure = density_20(1.0);
    (0..=STEPS)
        .map(|step| {
            let p = by_halving(step as f64 / STEPS as f64);
            let slope = (density_20(p) + p * density_20_slope(p)) / pure;
            (p, 1.0 / (slope * STEPS as f64))
        })
        .collect()
});

/// The mass fraction of a strength (0 to 1), slowly.
fn by_halving(q: f64) -> f64 {
    let pure = density_20(1.0);
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..100 {
        let middle = f64::midpoint(low, high);
        if middle * density_20(middle) / pure < q { low = middle } else { high = middle }
    }
    f64::midpoint(low, high)
}

/// The mass fraction of a strength (0 to 1) to about 1e-10: the cubic with the slopes of the rows beside it.
fn seed(q: f64) -> f64 {
    let at = q * STEPS as f64;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 1024: the row below")]
    let row = (at as usize).min(STEPS - 1);
    let ((low, rise_low), (high, rise_high)) = (TABLE[row], TABLE[row + 1]);
    let t = at - row as f64;
    let rise = high - low;
    let bend = 3.0 * rise - 2.0 * rise_low - rise_high;
    let twist = rise_low + rise_high - 2.0 * rise;
    low + t * (rise_low + t * (bend + t * twist))
}

/// Density at 20 °C of ethanol and water by strength, kg/m³.
pub(super) fn density_of(strength: Strength) -> f64 {
    density_20(mass_fraction(strength))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn pure_ethanol_is_what_the_formula_gives() {
        assert!((density_20(1.0) - PURE_20).abs() < 1e-3, "{}", density_20(1.0));
    }

    #[test]
    fn the_ends_are_exact() {
        for (q, p) in [(0.0, 0.0), (100.0, 1.0)] {
            assert!((mass_fraction(Strength::new(q).unwrap()) - p).abs() < 1e-12);
            assert!((strength(p).unwrap().percent_vol() - q).abs() < 1e-12);
        }
    }

    #[test]
    fn outside_the_range_is_refused_by_name() {
        let at = |t| Temperature::new(t).unwrap();
        assert!(matches!(density(1.2, at(20.0)), Err(LiquidError::MassFraction { .. })));
        assert!(matches!(density(f64::NAN, at(20.0)), Err(LiquidError::MassFraction { .. })));
        assert!(matches!(density(0.4, at(60.0)), Err(LiquidError::Temperature { .. })));
        assert!(strength(-0.1).is_err());
    }

    #[test]
    fn the_quick_inverse_is_the_slow_one() {
        let worst = (0..=100_000).map(|step| {
            let q = f64::from(step) / 100_000.0;
            (mass_fraction(Strength::clamped(100.0 * q)) - by_halving(q)).abs()
        });
        let worst = worst.fold(0.0, f64::max);
        assert!(worst < 1e-12, "{worst}");
    }

    #[test]
    fn the_seed_is_within_a_step_of_newton() {
        let worst = (0..=100_000).map(|step| {
            let q = f64::from(step) / 100_000.0;
            (seed(q) - by_halving(q)).abs()
        });
        let worst = worst.fold(0.0, f64::max);
        assert!(worst < 1e-9, "{worst}");
    }

    proptest! {
        #[test]
        fn the_mass_fraction_is_found_to_twelve_places(p in 0.0..=1.0_f64) {
            let found = mass_fraction(strength(p).unwrap());
            prop_assert!((found - p).abs() < 1e-12, "{p} {found}");
        }

        #[test]
        fn stronger_is_heavier_in_ethanol_and_lighter_as_a_whole(q in 0.0..99.0_f64) {
            let (weak, strong) = (Strength::new(q).unwrap(), Strength::new(q + 1.0).unwrap());
            prop_assert!(mass_fraction(weak) < mass_fraction(strong));
            prop_assert!(density_of(weak) > density_of(strong), "at {q}");
        }

        #[test]
        fn the_slope_is_that_of_the_density(p in 0.01..0.99_f64) {
            let step = 1e-5;
            let chord = (density_20(p + step) - density_20(p - step)) / (2.0 * step);
            prop_assert!((density_20_slope(p) - chord).abs() < 1e-3, "{p}: {} {chord}", density_20_slope(p));
        }

        #[test]
        fn strength_and_mass_fraction_turn_each_other_round(q in 0.0..=100.0_f64) {
            let given = Strength::new(q).unwrap();
            let back = strength(mass_fraction(given)).unwrap();
            prop_assert!((back.percent_vol() - q).abs() < 1e-9, "{q} {back:?}");
        }
    }
}

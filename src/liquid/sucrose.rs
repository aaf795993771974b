//! Sugar and water: density, and grams a litre against share by mass.

use super::error::LiquidError;
use crate::measure::{Concentration, Temperature};

/// Most of the formula: 85 g of sugar in 100 g of solution.
const MOST: f64 = 0.85;

/// Row k goes with ((t − 20)/100)^k, column i with w^i from 1; kg/m³.
const TERMS: [&[f64]; 5] = [
    &[385.176_1, 135.370_5, 40.929_9, -3.964_3, 13.485_3, -17.289],
    &[-46.272, -7.172, 1.159_7, 5.112_6, 17.525_4],
    &[59.771_2, 7.249_1, 12.363, -35.479_1],
    &[-47.220_7, -21.697_7, 27.630_1],
    &[18.318_4, 12.308_1],
];

/// Density of water, kg/m³.
///
/// # Source
/// Bubník, Kadlec, Urban, Bruhns: Sugar Technologists Manual (1995), p. 164, with the density of water it uses.
fn water(t: f64) -> f64 {
    let upper = 999.839_52
        + t * (16.952_577
            + t * (-7.990_512_7e-3 + t * (-46.241_757e-6 + t * (105.846_01e-9 - 281.030_06e-12 * t))));
    upper / (1.0 + 16.887_236e-3 * t)
}

/// Density of a solution of sucrose in water.
///
/// # Model
/// `ρ = ρ_water(t) + Σ τ^k Σ c_ki w^i`, `τ = (t − 20)/100`, `w` the mass fraction of sucrose.
///
/// # Units
/// Mass fraction 0 to 0.85 (85 °Bx); kg/m³.
///
/// # Errors
/// [`LiquidError::Sugar`] outside that.
///
/// # Accuracy
/// 0.05 kg/m³ of the published formula; 0.3 of the CRC Handbook, 102nd edition.
///
/// # Source
/// Bubník, Kadlec, Urban, Bruhns: Sugar Technologists Manual (1995), p. 164 (ICUMSA SPS-4).
pub fn density(mass_fraction: f64, at: Temperature) -> Result<f64, LiquidError> {
    if !(0.0..=MOST).contains(&mass_fraction) {
        return Err(LiquidError::Sugar { found: mass_fraction, most: MOST });
    }
    Ok(density_at(mass_fraction, at.celsius()))
}

fn density_at(w: f64, t: f64) -> f64 {
    let tau = (t - 20.0) / 100.0;
    let mut sum = water(t);
    let mut power = 1.0;
    for row in TERMS {
        sum += power * w * row.iter().rev().fold(0.0, |sum, c| sum * w + c);
        power *= tau;
    }
    sum
}

/// Grams of sugar in a litre of a solution at 20 °C, by its mass fraction.
///
/// # Errors
/// [`LiquidError::Sugar`] outside 0 to 0.85.
pub fn grams_per_litre(mass_fraction: f64) -> Result<Concentration, LiquidError> {
    let at_20 = Temperature::clamped(20.0);
    Ok(Concentration::clamped(mass_fraction * density(mass_fraction, at_20)?))
}

/// Mass fraction of sugar in a solution at 20 °C, by its grams a litre; the inverse of [`grams_per_litre`].
///
/// # Errors
/// [`LiquidError::Sugar`] above what 0.85 holds.
pub fn mass_fraction(sugar: Concentration) -> Result<f64, LiquidError> {
    let wanted = sugar.grams_per_litre();
    let most = MOST * density_at(MOST, 20.0);
    if wanted > most {
        return Err(LiquidError::Sugar { found: wanted / density_at(MOST, 20.0), most: MOST });
    }
    let mut w = wanted / 1000.0;
    for _ in 0..60 {
        let next = wanted / density_at(w.min(MOST), 20.0);
        if (next - w).abs() < 1e-15 {
            break;
        }
        w = next;
    }
    Ok(w)
}

/// By how much sugar raises the density of a solution in water at 20 °C, kg/m³, by its grams a litre.
///
/// Found from a table over the range that drinks and syrups have; what is beyond 0.85 by mass goes on straight.
pub(super) fn raises_by(grams_per_litre: f64) -> f64 {
    let at = (grams_per_litre / TABLE_STEP).clamp(0.0, (TABLE_SIZE - 1) as f64);
    let below = at.floor();
    // Truncation is what is wanted: the table's row below.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "clamped to the table just above"
    )]
    let row = (below as usize).min(TABLE_SIZE - 2);
    let (low, high) = (TABLE[row], TABLE[row + 1]);
    low + (grams_per_litre / TABLE_STEP - row as f64) * (high - low)
}

/// g/L from one row of the table to the next.
const TABLE_STEP: f64 = 4.0;
/// Rows up to 1,228 g/L, which is 0.85 by mass.
const TABLE_SIZE: usize = 308;

static TABLE: std::sync::LazyLock<Vec<f64>> = std::sync::LazyLock::new(|| {
    let plain = density_at(0.0, 20.0);
    (0..TABLE_SIZE)
        .map(|row| {
            let sugar = Concentration::clamped(row as f64 * TABLE_STEP);
            mass_fraction(sugar).map_or(f64::NAN, |w| density_at(w, 20.0) - plain)
        })
        .collect()
});

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn the_table_is_whole_and_near_the_formula() {
        assert!(TABLE.iter().all(|row| row.is_finite()));
        for grams in [0.0, 3.0, 95.0, 240.5, 614.8, 884.5, 1190.0, 1226.0] {
            let w = mass_fraction(Concentration::new(grams).unwrap()).unwrap();
            let exact = density_at(w, 20.0) - density_at(0.0, 20.0);
            assert!((raises_by(grams) - exact).abs() < 0.01, "{grams}: {} {exact}", raises_by(grams));
        }
    }

    #[test]
    fn too_much_is_refused_by_name() {
        assert!(matches!(density(0.86, Temperature::clamped(20.0)), Err(LiquidError::Sugar { .. })));
        assert!(matches!(density(f64::NAN, Temperature::clamped(20.0)), Err(LiquidError::Sugar { .. })));
        assert!(matches!(mass_fraction(Concentration::clamped(1500.0)), Err(LiquidError::Sugar { .. })));
    }

    /// Water: 4 °C is where it is densest, 999.97 kg/m³; 998.20 at 20 °C, 958.4 at 100 °C, as any handbook has it.
    #[test]
    fn without_sugar_it_is_water() {
        for (t, published, within) in [(4.0, 999.97, 0.01), (20.0, 998.20, 0.01), (100.0, 958.4, 0.1)] {
            let ours = density(0.0, Temperature::clamped(t)).unwrap();
            assert!((ours - published).abs() < within, "{t}: {ours}");
        }
    }

    proptest! {
        #[test]
        fn more_sugar_is_heavier_and_warmer_is_lighter(w in 0.0..0.84_f64, t in 5.0..99.0_f64) {
            let at = |w, t| density(w, Temperature::clamped(t)).unwrap();
            prop_assert!(at(w + 0.01, t) > at(w, t));
            prop_assert!(at(w, t + 1.0) < at(w, t));
        }

        #[test]
        fn grams_a_litre_and_mass_fraction_turn_each_other_round(w in 0.0..=0.85_f64) {
            let back = mass_fraction(grams_per_litre(w).unwrap()).unwrap();
            prop_assert!((back - w).abs() < 1e-12, "{w} {back}");
        }
    }
}

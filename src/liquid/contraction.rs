//! How far ethanol and water shrink together.

use std::sync::LazyLock;

use super::ethanol::{PURE_20, density_of};
use crate::measure::Strength;

/// Density of water at 20 °C, g/ml, as the relation of ethanol and water has it.
static WATER: LazyLock<f64> = LazyLock::new(|| density_of(Strength::clamped(0.0)) / 1000.0);

/// The share by which ethanol and water take more room apart than mixed, for each whole % vol.
static SHARES: LazyLock<Vec<f64>> = LazyLock::new(|| {
    let share = |percent_vol: u8| {
        let strength = f64::from(percent_vol) / 100.0;
        let density = density_of(Strength::clamped(f64::from(percent_vol))) / 1000.0;
        strength + (density - strength * PURE_20 / 1000.0) / *WATER - 1.0
    };
    (0..=100).map(share).collect()
});

/// By what share of a mixture's volume its ethanol and its water take more room apart, at 20 °C: 0.0145 at 20 % vol,
/// 0.0285 at 40 % vol.
///
/// # Accuracy
/// Between whole % vol by a straight line: within 6e-5 of the density's relation.
pub fn contraction(strength: Strength) -> f64 {
    let at = strength.percent_vol();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "0 to 100: the whole % vol below"
    )]
    let below = (at as usize).min(99);
    let (low, high) = (SHARES[below], SHARES[below + 1]);
    low + (high - low) * (at - below as f64)
}

/// Where it is most, % vol.
static PEAK: LazyLock<u8> = LazyLock::new(|| {
    let at = |percent_vol: &u8| SHARES[usize::from(*percent_vol)];
    (0..=100).max_by(|a, b| at(a).total_cmp(&at(b))).unwrap_or(50)
});

/// What the contraction lies between for every strength between two, % vol.
pub fn contraction_between(least: f64, most: f64) -> (f64, f64) {
    let share = |percent_vol: f64| contraction(Strength::clamped(percent_vol));
    let (low, high) = (share(least), share(most));
    // It rises to its peak and falls from there.
    let top = f64::from(*PEAK).clamp(least.min(100.0), most.min(100.0));
    (low.min(high), share(top))
}

/// Between what factors of it the volume of a mixture lies that is reckoned so: from the room that the ethanol and the rest
/// of each part take apart, over one and the contraction at its strength.
///
/// # Accuracy
/// Sugar takes a little less room the thinner it gets, which is left out: 0.9962 to 1.000 005 in 200,000 mixtures of up to
/// 850 g/L of sugar, 70 of acid and 30 of salt.
pub const MIXED: (f64, f64) = (0.995, 1.0002);

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::liquid::{Contents, Parts, Solute};
    use crate::measure::{Concentration, Volume};

    #[test]
    fn half_and_half_of_ethanol_and_water_shrink_as_the_handbooks_say() {
        // 50 ml of each make 96.4 ml or so (*from memory*): 51.9 % vol.
        let share = contraction(Strength::clamped(51.9));
        assert!((100.0 / (1.0 + share) - 96.4).abs() < 0.1, "{share}");
        assert!(
            contraction(Strength::clamped(0.0)).abs() < 1e-12
                && contraction(Strength::clamped(100.0)).abs() < 1e-9
        );
    }

    #[test]
    fn between_whole_percents_a_line_is_near_enough() {
        let mut worst = 0.0_f64;
        for at in 0..1000 {
            let strength = Strength::clamped(f64::from(at) / 10.0 + 0.05);
            let q = strength.percent_vol() / 100.0;
            let right = q + (density_of(strength) - q * PURE_20) / 1000.0 / *WATER - 1.0;
            worst = worst.max((contraction(strength) - right).abs());
        }
        assert!(worst < 6e-5, "{worst}");
    }

    proptest! {
        #[test]
        fn it_lies_between_what_is_said_of_a_range(ends in (0.0..=100.0_f64, 0.0..=100.0_f64), at in 0.0..=1.0_f64) {
            let (least, most) = (ends.0.min(ends.1), ends.0.max(ends.1));
            let (low, high) = contraction_between(least, most);
            let share = contraction(Strength::clamped(least + at * (most - least)));
            prop_assert!(low <= share + 1e-12 && share <= high + 1e-12, "{low} {share} {high}");
        }

        #[test]
        fn mixtures_come_out_within_half_a_percent_of_what_it_says(
            lines in prop::collection::vec((5.0..90.0_f64, 0.0..95.0_f64, 0.0..850.0_f64, 0.0..70.0_f64, 0.0..30.0_f64), 1..6),
            water in 0.0..100.0_f64,
        ) {
            let mut all = Parts::water(Volume::clamped(water));
            let mut apart = water;
            for (ml, strength, sugar, acid, salt) in &lines {
                let strength = Strength::clamped(*strength * (1.0 - sugar / 900.0));
                let contents = Contents::of_strength(strength)
                    .with(Solute::Sucrose, Concentration::clamped(*sugar))
                    .with(Solute::Citric, Concentration::clamped(*acid))
                    .with(Solute::Salt, Concentration::clamped(*salt));
                let Ok(parts) = Parts::of_liquid(Volume::clamped(*ml), &contents) else { return Ok(()) };
                apart += ml * (1.0 + contraction(strength));
                all = all.plus(&parts);
            }
            let mixed = all.measured();
            let r = mixed.volume.ml() * (1.0 + contraction(mixed.strength)) / apart;
            let (least, most) = MIXED;
            prop_assert!((least..=most).contains(&r), "{r}");
        }
    }
}

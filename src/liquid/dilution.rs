//! What the ice adds, by method.

use crate::measure::Strength;

/// How a drink meets ice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Melt {
    /// Stirred over ice and strained.
    Stirred,
    /// Shaken with ice and strained.
    Shaken,
    /// Built in a short glass over ice.
    BuiltShort,
    /// Built in a tall glass over ice, before the lengthener.
    BuiltLong,
    /// Blended with ice.
    Blended,
    /// No ice.
    None,
}

/// Where a dilution comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// The published fit.
    Fit,
    /// The published fit, at the end of its range.
    FitOutsideRange,
    /// A plain figure for the method.
    Figure,
    /// Nothing melts.
    None,
}

/// What the ice adds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dilution {
    /// Water as a share of the volume before ice.
    pub share: f64,
    /// Where it comes from.
    pub basis: Basis,
}

/// The range of strengths before ice, % vol, that the fits were made on; *from memory*.
const FITTED: (f64, f64) = (15.0, 45.0);

/// Share of water of a stirred drink.
///
/// # Model
/// −1.21 a² + 1.246 a + 0.145, a the strength before ice as a fraction.
///
/// # Source
/// D. Arnold, a handbook of 2014 on the physics of mixed drinks; *from memory*.
pub fn stirred_share(initial: Strength) -> f64 {
    let a = initial.percent_vol() / 100.0;
    -1.21 * a * a + 1.246 * a + 0.145
}

/// Share of water of a shaken drink.
///
/// # Model
/// −1.567 a² + 1.742 a + 0.203, a the strength before ice as a fraction.
///
/// # Source
/// The same handbook; *from memory*.
pub fn shaken_share(initial: Strength) -> f64 {
    let a = initial.percent_vol() / 100.0;
    -1.567 * a * a + 1.742 * a + 0.203
}

/// Built over ice in a short glass: 24 % (same handbook, *from memory*).
const BUILT_SHORT: f64 = 0.24;
/// Built tall, before the lengthener: about a tenth (*common practice, no source*: the lengthener is cold already).
const BUILT_LONG: f64 = 0.10;
/// Blended with ice: 90 % (same handbook, *from memory*).
const BLENDED: f64 = 0.90;

/// What the ice adds to a drink.
///
/// Outside 15 to 45 % vol the fits are held at the end of their range rather than carried on.
pub fn dilution(melt: Melt, initial: Strength) -> Dilution {
    let inside = Strength::clamped(initial.percent_vol().clamp(FITTED.0, FITTED.1));
    let fit = |share| Dilution {
        share,
        basis: if inside == initial { Basis::Fit } else { Basis::FitOutsideRange },
    };
    let figure = |share| Dilution { share, basis: Basis::Figure };
    match melt {
        Melt::Stirred => fit(stirred_share(inside)),
        Melt::Shaken => fit(shaken_share(inside)),
        Melt::BuiltShort => figure(BUILT_SHORT),
        Melt::BuiltLong => figure(BUILT_LONG),
        Melt::Blended => figure(BLENDED),
        Melt::None => Dilution { share: 0.0, basis: Basis::None },
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn shaking_adds_more_than_stirring_and_more_to_a_stronger_drink(a in 0.0..=100.0_f64, b in 0.0..=100.0_f64) {
            let share = |melt, strength| dilution(melt, Strength::clamped(strength)).share;
            prop_assert!(share(Melt::Shaken, a) > share(Melt::Stirred, a));
            let (weak, strong) = (a.min(b), a.max(b));
            for melt in [Melt::Stirred, Melt::Shaken] {
                prop_assert!(share(melt, weak) <= share(melt, strong), "{melt:?} {weak} {strong}");
                prop_assert!((0.0..1.0).contains(&share(melt, a)));
            }
        }
    }

    #[test]
    fn the_figures_are_the_same_at_any_strength_and_say_what_they_are() {
        for strength in [0.0, 12.0, 40.0, 70.0] {
            for (melt, share) in [(Melt::BuiltShort, 0.24), (Melt::BuiltLong, 0.10), (Melt::Blended, 0.90)] {
                let added = dilution(melt, Strength::clamped(strength));
                assert_eq!(added, Dilution { share, basis: Basis::Figure });
            }
        }
    }

    #[test]
    fn the_stronger_before_ice_the_more_melts_inside_the_range() {
        for melt in [Melt::Stirred, Melt::Shaken] {
            let shares: Vec<f64> =
                (15..=45).map(|a| dilution(melt, Strength::clamped(f64::from(a))).share).collect();
            assert!(shares.windows(2).all(|w| w[0] < w[1]), "{shares:?}");
        }
    }

    #[test]
    fn outside_the_range_the_end_is_held_and_said() {
        let weak = dilution(Melt::Stirred, Strength::clamped(5.0));
        assert_eq!(weak.basis, Basis::FitOutsideRange);
        assert!((weak.share - stirred_share(Strength::clamped(15.0))).abs() < 1e-12);
        assert_eq!(dilution(Melt::None, Strength::clamped(40.0)).share.to_bits(), 0.0_f64.to_bits());
    }
}

//! What the ice adds, by method.

use super::error::LiquidError;
use super::parts::Parts;
use crate::measure::{Mass, Strength, Volume};

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

impl Melt {
    /// Those of which a house can measure its own.
    pub const MEASURED: [Self; 5] =
        [Self::Stirred, Self::Shaken, Self::BuiltShort, Self::BuiltLong, Self::Blended];

    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Stirred => "stirred",
            Self::Shaken => "shaken",
            Self::BuiltShort => "built short",
            Self::BuiltLong => "built long",
            Self::Blended => "blended",
            Self::None => "no ice",
        }
    }

    /// The share of the published fit, held at the ends of its range; none where there is no fit.
    fn fitted(self, initial: Strength) -> Option<f64> {
        let inside = Strength::clamped(initial.percent_vol().clamp(FITTED.0, FITTED.1));
        match self {
            Self::Stirred => Some(stirred_share(inside)),
            Self::Shaken => Some(shaken_share(inside)),
            _ => None,
        }
    }
}

/// A dilution that a house has measured for itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuredDilution {
    /// Water as a share of the volume before ice.
    pub share: f64,
    /// The strength before ice of the drink it was measured on.
    pub strength: Strength,
}

impl MeasuredDilution {
    /// What two weighings of a drink of a known volume and strength say.
    ///
    /// # Model
    /// Its water is what it weighs more after the ice, over 0.9982 g/ml.
    ///
    /// # Errors
    /// [`LiquidError::LostWeight`] if it weighs less after than before; [`LiquidError::NoDilution`] if it took more than
    /// three times its own volume of water, which no ice does.
    pub fn from_weighings(
        before: Mass,
        after: Mass,
        volume: Volume,
        strength: Strength,
    ) -> Result<Self, LiquidError> {
        let gained = after.grams() - before.grams();
        if gained < 0.0 {
            return Err(LiquidError::LostWeight { before: before.grams(), after: after.grams() });
        }
        let share = Parts::water_weighing(Mass::clamped(gained)).volume().ml() / volume.ml();
        if share.is_finite() && share <= MOST_SHARE {
            Ok(Self { share, strength })
        } else {
            Err(LiquidError::NoDilution { found: share })
        }
    }

    /// What several measurements of a method come to: the mean of how far each lies from the fit, or of the shares where
    /// there is none. None of none.
    pub fn mean(melt: Melt, all: &[Self]) -> Option<Self> {
        let last = all.last()?;
        let shares = all.iter().map(|one| one.at(melt, last.strength));
        Some(Self { share: shares.sum::<f64>() / all.len() as f64, strength: last.strength })
    }

    /// The share for a drink of another strength: the fit, bent by what was measured; plain where there is no fit.
    fn at(&self, melt: Melt, initial: Strength) -> f64 {
        match (melt.fitted(initial), melt.fitted(self.strength)) {
            (Some(here), Some(there)) => self.share * here / there,
            _ => self.share,
        }
    }
}

/// Most water, as a share of the volume before ice, that a measured dilution may be.
const MOST_SHARE: f64 = 3.0;

/// What a house has measured of its own ice, by method.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct HouseIce([Option<MeasuredDilution>; Melt::MEASURED.len()]);

impl HouseIce {
    /// The same with a figure for a method.
    #[must_use]
    pub fn with(mut self, melt: Melt, measured: MeasuredDilution) -> Self {
        if let Some(place) = Melt::MEASURED.iter().position(|m| *m == melt) {
            self.0[place] = Some(measured);
        }
        self
    }

    /// How a drink of a method meets this house's ice.
    pub fn of(&self, melt: Melt) -> Ice {
        let place = Melt::MEASURED.iter().position(|m| *m == melt);
        Ice { melt, measured: place.and_then(|p| self.0[p]) }
    }
}

/// How a drink meets ice in a house.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ice {
    /// The method.
    pub melt: Melt,
    /// What the house has measured of it.
    pub measured: Option<MeasuredDilution>,
}

impl From<Melt> for Ice {
    /// Nothing measured.
    fn from(melt: Melt) -> Self {
        Self { melt, measured: None }
    }
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
    /// The house's own measurement.
    House,
    /// A balance of heat.
    Heat,
    /// Given by the person who asks.
    Given,
    /// Nothing melts.
    None,
}

impl Basis {
    /// The word for it in data.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Fit => "fit",
            Self::FitOutsideRange => "fit outside its range",
            Self::Figure => "figure",
            Self::House => "house",
            Self::Heat => "heat balance",
            Self::Given => "given",
            Self::None => "none",
        }
    }
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
/// The house's own figure where it has one; else the published fit, held at its ends outside 15 to 45 % vol rather than
/// carried on; else a plain figure.
pub fn dilution(ice: impl Into<Ice>, initial: Strength) -> Dilution {
    let Ice { melt, measured } = ice.into();
    if let Some(measured) = measured.filter(|_| melt != Melt::None) {
        return Dilution { share: measured.at(melt, initial), basis: Basis::House };
    }
    if let Some(share) = melt.fitted(initial) {
        let inside = (FITTED.0..=FITTED.1).contains(&initial.percent_vol());
        return Dilution { share, basis: if inside { Basis::Fit } else { Basis::FitOutsideRange } };
    }
    let figure = |share| Dilution { share, basis: Basis::Figure };
    match melt {
        Melt::BuiltShort => figure(BUILT_SHORT),
        Melt::BuiltLong => figure(BUILT_LONG),
        Melt::Blended => figure(BLENDED),
        Melt::Stirred | Melt::Shaken | Melt::None => Dilution { share: 0.0, basis: Basis::None },
    }
}

/// Two lines, each as share at 0 % vol and slope per % vol, between which the share of water lies for every strength
/// between two, % vol: below and above it.
///
/// # Model
/// A fit is a parabola that bends down, held at the ends of its range. A chord lies below it, a tangent above; the tangent
/// in the middle of a chord is parallel to it.
pub fn share_between(ice: Ice, least: f64, most: f64) -> [(f64, f64); 2] {
    let share = |strength: f64| dilution(ice, Strength::clamped(strength)).share;
    let (low, high) = (least.clamp(FITTED.0, FITTED.1), most.clamp(FITTED.0, FITTED.1));
    if ice.melt.fitted(Strength::clamped(low)).is_none() || high - low < 1e-9 {
        return [(share(low), 0.0); 2];
    }
    let through = |at: f64, slope: f64| (share(at) - slope * at, slope);
    // Past the range the share stays what it is at its end: a chord to there still lies below, since it bends down there.
    let end = most.max(high);
    let below = through(low, (share(end) - share(low)) / (end - low));
    let slope = (share(high) - share(low)) / (high - low);
    let (at_none, slope) = through(f64::midpoint(low, high), slope);
    // Below the range it stays too, which is above a tangent.
    let short = (share(least) - (at_none + slope * least)).max(0.0);
    [below, (at_none + short, slope)]
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

    proptest! {
        #[test]
        fn the_share_lies_between_its_two_lines(
            ends in (0.0..=100.0_f64, 0.0..=100.0_f64),
            at in 0.0..=1.0_f64,
            measured in prop::option::of((0.05..1.5_f64, 1.0..60.0_f64)),
        ) {
            let (least, most) = (ends.0.min(ends.1), ends.0.max(ends.1));
            let strength = least + at * (most - least);
            for melt in Melt::MEASURED {
                let measured =
                    measured.map(|(share, a)| MeasuredDilution { share, strength: Strength::clamped(a) });
                let ice = Ice { melt, measured };
                let share = dilution(ice, Strength::clamped(strength)).share;
                let [below, above] = share_between(ice, least, most).map(|(none, slope)| none + slope * strength);
                prop_assert!(below <= share + 1e-12 && share <= above + 1e-12, "{melt:?}: {below} {share} {above}");
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

    fn drink(strength: f64) -> Parts {
        let contents = crate::liquid::Contents::of_strength(Strength::clamped(strength));
        Parts::of_liquid(Volume::clamped(100.0), &contents).unwrap()
    }

    fn weighed(poured: &Parts, before: Mass, after: Mass) -> Result<MeasuredDilution, LiquidError> {
        MeasuredDilution::from_weighings(before, after, poured.volume(), poured.strength())
    }

    #[test]
    fn two_weighings_give_back_the_water_that_came_in() {
        let poured = drink(30.0);
        let (before, water) = (poured.mass(), Parts::water(Volume::clamped(38.0)).mass());
        let measured = weighed(&poured, before, before + water).unwrap();
        assert!((measured.share - 0.38).abs() < 1e-9, "{measured:?}");
        let ice = HouseIce::default().with(Melt::Stirred, measured);
        let own = dilution(ice.of(Melt::Stirred), poured.strength());
        assert_eq!(own.basis, Basis::House);
        assert!((own.share - 0.38).abs() < 1e-9);
        assert_eq!(dilution(ice.of(Melt::Shaken), Strength::clamped(30.0)).basis, Basis::Fit);
    }

    #[test]
    fn several_weighings_come_to_their_mean() {
        let one = |factor: f64, a: f64| {
            let strength = Strength::clamped(a);
            MeasuredDilution { share: factor * stirred_share(strength), strength }
        };
        let mean = MeasuredDilution::mean(Melt::Stirred, &[one(0.8, 20.0), one(1.0, 40.0)]).unwrap();
        assert!((mean.share - 0.9 * stirred_share(Strength::clamped(40.0))).abs() < 1e-12);
        let plain = |share| MeasuredDilution { share, strength: Strength::clamped(30.0) };
        let mean = MeasuredDilution::mean(Melt::BuiltShort, &[plain(0.2), plain(0.3)]).unwrap();
        assert!((mean.share - 0.25).abs() < 1e-12);
        assert_eq!(MeasuredDilution::mean(Melt::Stirred, &[]), None);
    }

    #[test]
    fn a_measured_figure_bends_the_fit_and_keeps_its_shape() {
        let fit = |a| stirred_share(Strength::clamped(a));
        let measured = MeasuredDilution { share: 0.9 * fit(30.0), strength: Strength::clamped(30.0) };
        let ice = HouseIce::default().with(Melt::Stirred, measured);
        let own = dilution(ice.of(Melt::Stirred), Strength::clamped(40.0));
        assert!((own.share - 0.9 * fit(40.0)).abs() < 1e-12);
    }

    #[test]
    fn weighings_that_cannot_be_are_refused_by_name() {
        let (less, more) = (Mass::clamped(90.0), Mass::clamped(100.0));
        let refused = weighed(&drink(30.0), more, less);
        assert!(matches!(refused, Err(LiquidError::LostWeight { .. })));
        let refused = weighed(&drink(30.0), less, Mass::clamped(900.0));
        assert!(matches!(refused, Err(LiquidError::NoDilution { .. })));
        let refused = weighed(&Parts::default(), Mass::ZERO, less);
        assert!(matches!(refused, Err(LiquidError::NoDilution { .. })));
    }

    #[test]
    fn outside_the_range_the_end_is_held_and_said() {
        let weak = dilution(Melt::Stirred, Strength::clamped(5.0));
        assert_eq!(weak.basis, Basis::FitOutsideRange);
        assert!((weak.share - stirred_share(Strength::clamped(15.0))).abs() < 1e-12);
        assert_eq!(dilution(Melt::None, Strength::clamped(40.0)).share.to_bits(), 0.0_f64.to_bits());
    }
}

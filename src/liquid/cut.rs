//! Bringing a strength down with water, or up with a stronger spirit.

use super::error::LiquidError;
use super::parts::Parts;
use crate::measure::{Strength, Volume};

/// Water that brings a liquid down to a strength.
///
/// # Model
/// By mass: the water is what the weaker liquid weighs more. Without contraction it would be `V (q₁/q₂ − 1)`, which is
/// too little: [`naive_water`].
///
/// # Errors
/// [`LiquidError::NotWeaker`] if it is no stronger than that already; [`LiquidError::NoStrengthZero`] for 0 % vol, which
/// no water reaches.
///
/// # Accuracy
/// 1e-9 of the volume, of the densities of OIML R 22.
///
/// # Source
/// The gauging manual of the United States (27 CFR 30.66) does the same by table.
///
/// ```
/// use medlar::liquid::{Contents, Parts, water_to_cut};
/// use medlar::measure::{Strength, Volume};
///
/// let rum = Parts::of_liquid(Volume::new(700.0)?, &Contents::of_strength(Strength::new(57.7)?))?;
/// assert_eq!(format!("{:.1}", water_to_cut(&rum, Strength::new(43.0)?)?), "246.3 ml");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn water_to_cut(liquid: &Parts, to: Strength) -> Result<Volume, LiquidError> {
    let from = liquid.strength();
    if to >= from {
        return Err(LiquidError::NotWeaker { from: from.percent_vol(), to: to.percent_vol() });
    }
    if to == Strength::ZERO {
        return Err(LiquidError::NoStrengthZero);
    }
    let weaker = |water: f64| liquid.plus(&Parts::water(Volume::clamped(water))).strength() < to;
    let mut high = liquid.volume().ml() * from.percent_vol() / to.percent_vol();
    while !weaker(high) && high < Volume::RANGE.most {
        high *= 2.0;
    }
    Ok(Volume::clamped(halved(0.0, high, weaker)))
}

/// Water as plain arithmetic would have it, contraction left out: too little, and worth showing beside the true figure.
pub fn naive_water(liquid: &Parts, to: Strength) -> Volume {
    let (from, to) = (liquid.strength().percent_vol(), to.percent_vol());
    Volume::clamped(if to > 0.0 { liquid.volume().ml() * (from / to - 1.0) } else { 0.0 })
}

/// Volume of a stronger liquid that brings another up to a strength.
///
/// # Model
/// By mass, as [`water_to_cut`]; the stronger liquid may be sweet.
///
/// # Errors
/// [`LiquidError::NotStronger`] if the liquid is as strong already, or the other no stronger than what is wanted.
///
/// # Accuracy
/// 1e-9 of the volume.
pub fn spirit_to_fortify(liquid: &Parts, spirit: &Parts, to: Strength) -> Result<Volume, LiquidError> {
    let (from, strong) = (liquid.strength(), spirit.strength());
    if to <= from || strong <= to {
        let (from, with) = (from.percent_vol(), strong.percent_vol());
        return Err(LiquidError::NotStronger { from, to: to.percent_vol(), with });
    }
    let own = spirit.volume().ml();
    let enough = |ml: f64| liquid.plus(&spirit.times(ml / own)).strength() >= to;
    let mut high = liquid.volume().ml().max(1.0);
    while !enough(high) && high < Volume::RANGE.most {
        high *= 2.0;
    }
    Ok(Volume::clamped(halved(0.0, high, enough)))
}

/// Where a condition that comes to hold does so, by halving.
fn halved(mut low: f64, mut high: f64, holds: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            break;
        }
        if holds(middle) { high = middle } else { low = middle }
    }
    high
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::liquid::{Contents, Solute};
    use crate::measure::Concentration;

    fn liquid(ml: f64, strength: f64, sugar: f64) -> Parts {
        let contents = Contents::of_strength(Strength::new(strength).unwrap())
            .with(Solute::Sucrose, Concentration::new(sugar).unwrap());
        Parts::of_liquid(Volume::new(ml).unwrap(), &contents).unwrap()
    }

    fn strength(percent: f64) -> Strength {
        Strength::new(percent).unwrap()
    }

    #[test]
    fn what_water_or_spirit_cannot_do_is_refused_by_name() {
        let gin = liquid(700.0, 47.0, 0.0);
        assert_eq!(
            water_to_cut(&gin, strength(50.0)).unwrap_err().to_string(),
            "47.0 % vol to 50.0 % vol: water only brings a strength down"
        );
        assert_eq!(water_to_cut(&gin, Strength::ZERO), Err(LiquidError::NoStrengthZero));
        let vodka = liquid(700.0, 40.0, 0.0);
        assert_eq!(
            spirit_to_fortify(&gin, &vodka, strength(50.0)).unwrap_err().to_string(),
            "47.0 % vol to 50.0 % vol with 40.0 % vol: what is added must be stronger than what is wanted, and that stronger \
             than what is there"
        );
    }

    proptest! {
        #[test]
        fn with_that_water_it_has_that_strength(ml in 10.0..5000.0_f64, from in 5.0..96.0_f64, part in 0.05..0.95_f64, sugar in 0.0..150.0_f64) {
            let strong = liquid(ml, from, if from < 60.0 { sugar } else { 0.0 });
            let to = strength(from * part);
            let water = water_to_cut(&strong, to).unwrap();
            let cut = strong.plus(&Parts::water(water));
            prop_assert!((cut.strength().percent_vol() - to.percent_vol()).abs() < 1e-9);
            // Sugar shrinks less than spirit does, but water is never less than plain arithmetic has it by more than the relation errs.
            prop_assert!(water.ml() > naive_water(&strong, to).ml() - 0.01 * cut.volume().ml());
        }

        #[test]
        fn with_that_spirit_it_has_that_strength(ml in 10.0..5000.0_f64, from in 0.0..20.0_f64, more in 0.5..15.0_f64, sugar in 0.0..150.0_f64) {
            let (wine, spirit) = (liquid(ml, from, sugar), liquid(1.0, 60.0, 0.0));
            let to = strength(from + more);
            let added = spirit_to_fortify(&wine, &spirit, to).unwrap();
            let stronger = wine.plus(&spirit.times(added.ml()));
            prop_assert!((stronger.strength().percent_vol() - to.percent_vol()).abs() < 1e-9);
        }

        #[test]
        fn cut_twice_is_cut_once(ml in 10.0..5000.0_f64, first in 0.6..0.95_f64, second in 0.6..0.95_f64) {
            let strong = liquid(ml, 60.0, 0.0);
            let (half_way, to) = (strength(60.0 * first), strength(60.0 * first * second));
            let one = water_to_cut(&strong, half_way).unwrap();
            let weaker = strong.plus(&Parts::water(one));
            let two = water_to_cut(&weaker, to).unwrap();
            let at_once = water_to_cut(&strong, to).unwrap();
            prop_assert!((one.ml() + two.ml() - at_once.ml()).abs() < 1e-8 * ml, "{one} {two} {at_once}");
        }
    }
}

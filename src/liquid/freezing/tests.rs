//! Laws of freezing.

use proptest::prelude::*;

use super::*;

fn contents(strength: f64, sugar: f64, acid: f64) -> Contents {
    Contents::of_strength(Strength::new(strength).unwrap())
        .with(Solute::Sucrose, Concentration::new(sugar).unwrap())
        .with(Solute::Citric, Concentration::new(acid).unwrap())
}

fn drink(strength: f64, sugar: f64, acid: f64) -> Parts {
    Parts::of_liquid(Volume::new(100.0).unwrap(), &contents(strength, sugar, acid)).unwrap()
}

fn celsius(t: f64) -> Temperature {
    Temperature::new(t).unwrap()
}

#[test]
fn water_freezes_at_nought_and_grows_by_nine_percent() {
    let water = Parts::water(Volume::new(100.0).unwrap());
    assert!(point(&water).unwrap().at.celsius().abs() < 1e-12);
    let frozen = at(&water, celsius(-5.0)).unwrap();
    assert!((frozen.share() - 1.0).abs() < 1e-12);
    assert!((frozen.expansion.ml() / frozen.ice.grams() - 0.0907).abs() < 5e-5);
    assert_eq!(at(&water, celsius(0.0)).unwrap().ice, Mass::ZERO);
}

#[test]
fn without_water_or_too_cold_it_is_refused_by_name() {
    let ethanol = drink(100.0, 0.0, 0.0);
    assert_eq!(point(&ethanol), Err(LiquidError::NothingToFreeze));
    assert_eq!(point(&Parts::default()), Err(LiquidError::NothingToFreeze));
    let error = at(&drink(20.0, 0.0, 0.0), celsius(-60.0)).unwrap_err();
    assert_eq!(
        error.to_string(),
        "a freezer at -60 °C: allowed is -40 °C and warmer, since no table of freezing goes lower"
    );
}

#[test]
fn past_a_table_it_says_so() {
    assert!(!point(&drink(57.0, 0.0, 0.0)).unwrap().beyond_tables);
    assert!(point(&drink(63.0, 0.0, 0.0)).unwrap().beyond_tables);
    assert!(point(&drink(0.0, 900.0, 0.0)).unwrap().beyond_tables);
    // What is left of an ice pop at −18 °C is a syrup past the table, though the pop itself is not.
    let pop = at(&drink(0.0, 160.0, 4.0), celsius(-18.0)).unwrap();
    assert!(pop.beyond_tables && !pop.point.beyond_tables);
}

#[test]
fn near_the_freezing_point_it_does_not_decide() {
    let martini = drink(33.0, 3.0, 0.0);
    assert_eq!(pours(&martini, celsius(-15.0)), Ok(Pours::Freely));
    assert_eq!(pours(&martini, celsius(-17.8)), Ok(Pours::AtTheEdge));
    assert_eq!(pours(&martini, celsius(-25.0)), Ok(Pours::NotFreely));
}

#[test]
fn no_sugar_that_dissolves_keeps_water_liquid_in_a_freezer_and_a_spirit_needs_nothing() {
    assert_eq!(sucrose_to_pour(&contents(0.0, 0.0, 0.0), celsius(-18.0)), None);
    let already = contents(40.0, 0.0, 0.0);
    assert_eq!(strength_to_pour(&already, celsius(-18.0)), Some(already.strength()));
}

fn any_drink() -> impl Strategy<Value = (f64, f64, f64)> {
    (0.0..45.0_f64, 0.0..250.0_f64, 0.0..12.0_f64)
}

proptest! {
    #[test]
    fn stronger_sweeter_and_sourer_freeze_lower((a, s, c) in any_drink()) {
        let of = |a, s, c| point(&drink(a, s, c)).unwrap().at;
        prop_assert!(of(a + 1.0, s, c) < of(a, s, c));
        prop_assert!(of(a, s + 5.0, c) < of(a, s, c));
        prop_assert!(of(a, s, c + 1.0) < of(a, s, c));
    }

    #[test]
    fn twice_as_much_freezes_at_the_same_point((a, s, c) in any_drink(), factor in 0.01..100.0_f64) {
        let one = drink(a, s, c);
        let more = point(&one.times(factor)).unwrap().at.celsius();
        prop_assert!((more - point(&one).unwrap().at.celsius()).abs() < 1e-9);
    }

    #[test]
    fn ice_and_what_is_left_are_the_whole_and_freeze_right_there((a, s, c) in any_drink(), t in -38.0..-0.5_f64) {
        let whole = drink(a, s, c);
        let frozen = at(&whole, celsius(t)).unwrap();
        let sum = frozen.ice.grams() + frozen.liquid.mass().grams();
        prop_assert!((sum - whole.mass().grams()).abs() < 1e-9);
        prop_assert!((frozen.liquid.ethanol().grams() - whole.ethanol().grams()).abs() < 1e-9);
        if frozen.ice.grams() > 0.0 {
            let left = point(&frozen.liquid).unwrap().at.celsius();
            prop_assert!((left - t).abs() < 1e-9, "{left} {t}");
        } else {
            prop_assert!(frozen.point.at.celsius() <= t);
        }
    }

    #[test]
    fn colder_makes_more_ice_and_needs_more_room((a, s, c) in any_drink(), t in -35.0..-0.5_f64) {
        let whole = drink(a, s, c);
        let (warm, cold) = (at(&whole, celsius(t)).unwrap(), at(&whole, celsius(t - 3.0)).unwrap());
        prop_assert!(cold.ice >= warm.ice && cold.expansion >= warm.expansion);
        prop_assert!(fill_share(&whole, celsius(t - 3.0)).unwrap() <= fill_share(&whole, celsius(t)).unwrap());
    }

    #[test]
    fn at_the_strength_or_sugar_that_pours_it_just_does((a, s, c) in any_drink(), t in -30.0..-3.0_f64) {
        let given = contents(a, s, c);
        let freezes = point(&drink(a, s, c)).unwrap().at.celsius();
        let strong = strength_to_pour(&given, celsius(t)).map(|strength| given.at_strength(strength));
        let sweet = sucrose_to_pour(&given, celsius(t)).map(|sugar| given.with(Solute::Sucrose, sugar));
        prop_assert!(strong.is_some());
        for found in strong.into_iter().chain(sweet) {
            let parts = Parts::of_liquid(Volume::clamped(100.0), &found).unwrap();
            let now = point(&parts).unwrap().at.celsius();
            prop_assert!(now <= t + 1e-9 && (freezes <= t || now > t - 1e-6), "{now} {t} {freezes}");
        }
    }
}

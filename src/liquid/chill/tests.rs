//! Laws of chilling, and the balance closed by hand.

use proptest::prelude::*;

use super::*;
use crate::liquid::{Contents, Solute};
use crate::measure::{Concentration, Strength, Volume};

fn drink(ml: f64, strength: f64, sugar: f64) -> Parts {
    let contents = Contents::of_strength(Strength::new(strength).unwrap())
        .with(Solute::Sucrose, Concentration::new(sugar).unwrap());
    Parts::of_liquid(Volume::new(ml).unwrap(), &contents).unwrap()
}

fn celsius(t: f64) -> Temperature {
    Temperature::new(t).unwrap()
}

fn grams(g: f64) -> Mass {
    Mass::new(g).unwrap()
}

fn with(change: impl FnOnce(&mut Conditions)) -> Conditions {
    let mut conditions = Conditions::default();
    change(&mut conditions);
    conditions
}

/// Sum of where the heat came from: the melt itself, or less than nothing where nothing melts.
fn sum(by: &MeltedBy) -> f64 {
    by.drink_grams + by.mixing_grams + by.vessel_grams + by.room_grams + by.ice_grams
}

#[test]
fn a_shaken_drink_ends_at_its_freezing_point_and_a_stirred_one_short_of_it() {
    let poured = drink(90.0, 29.0, 133.0);
    for (melt, least, most) in [(Melt::Shaken, 0.999_999, 1.000_001), (Melt::Stirred, 0.319_999, 0.320_001)] {
        let chilled = chill(&poured, melt, &Conditions::default()).unwrap();
        let freezes = freezing::point(&chilled.drink).unwrap().at.celsius();
        let way = chilled.at.celsius() / freezes;
        assert!((least..=most).contains(&way), "{melt:?}: {way}");
    }
}

#[test]
fn ice_that_does_not_suffice_all_melts_and_the_drink_stays_warmer() {
    let few = with(|c| c.ice = grams(10.0));
    let chilled = chill(&drink(90.0, 30.0, 50.0), Melt::Shaken, &few).unwrap();
    assert!((chilled.melt.grams() - 10.0).abs() < 1e-9 && chilled.ice_left.grams() < 1e-9);
    assert!((5.0..20.0).contains(&chilled.at.celsius()), "{:?}", chilled.at);
    assert!((sum(&chilled.by) - 10.0).abs() < 1e-6, "{:?}", chilled.by);
    let none = with(|c| c.ice = Mass::ZERO);
    let chilled = chill(&drink(90.0, 0.0, 50.0), Melt::Shaken, &none).unwrap();
    assert!((chilled.at.celsius() - 20.0).abs() < 1e-6 && chilled.water() == Mass::ZERO);
}

#[test]
fn very_cold_ice_does_all_the_chilling_and_nothing_melts() {
    let deep = with(|c| {
        c.ice_at = celsius(-60.0);
        c.ice = grams(800.0);
    });
    let chilled = chill(&drink(90.0, 30.0, 50.0), Melt::Stirred, &deep).unwrap();
    assert_eq!(chilled.melt, Mass::ZERO);
    assert!(sum(&chilled.by) < 0.0);
}

#[test]
fn warm_ice_and_impossible_ends_are_refused_by_name() {
    let warm = with(|c| c.ice_at = celsius(4.0));
    let poured = drink(90.0, 30.0, 50.0);
    assert_eq!(
        chill(&poured, Melt::Stirred, &warm).unwrap_err().to_string(),
        "ice at 4 °C: allowed is -80 to 0 °C, since it is water above that"
    );
    let none = ends_at(&poured, Melt::Stirred, grams(500.0), &Conditions::default());
    assert!(matches!(none, Err(LiquidError::NoSuchMelt { .. })));
    let dry = chill(&drink(90.0, 100.0, 0.0), Melt::Stirred, &Conditions::default());
    assert!(dry.is_ok(), "the melt brings the water: {dry:?}");
}

fn any_drink() -> impl Strategy<Value = Parts> {
    (30.0..250.0_f64, 5.0..50.0_f64, 0.0..200.0_f64).prop_map(|(ml, a, s)| drink(ml, a, s))
}

fn any_melt() -> impl Strategy<Value = Melt> {
    prop_oneof![Just(Melt::Stirred), Just(Melt::Shaken), Just(Melt::BuiltShort)]
}

proptest! {
    #[test]
    fn the_heat_adds_up_and_mass_is_conserved(poured in any_drink(), melt in any_melt(), t in -15.0..0.0_f64, wet in 0.0..0.2_f64) {
        let conditions = with(|c| {
            c.ice_at = celsius(t);
            c.wet = Grade::new(wet).unwrap();
        });
        let chilled = chill(&poured, melt, &conditions).unwrap();
        if chilled.melt.grams() > 0.0 {
            prop_assert!((sum(&chilled.by) - chilled.melt.grams()).abs() < 1e-6, "{chilled:?}");
        }
        let after = chilled.drink.mass().grams() + chilled.ice_left.grams();
        prop_assert!((after - poured.mass().grams() - 250.0).abs() < 1e-9);
    }

    /// With ice at 0 °C and a given end.
    #[test]
    fn more_ice_never_dilutes_less(poured in any_drink(), melt in any_melt(), ice in 20.0..400.0_f64, more in 0.0..400.0_f64, wet in 0.0..0.2_f64) {
        let of = |g: f64| {
            let conditions = with(|c| {
                c.ice = grams(g);
                c.wet = Grade::new(wet).unwrap();
            });
            chill(&poured, melt, &conditions).unwrap().water().grams()
        };
        prop_assert!(of(ice + more) >= of(ice) - 1e-6, "{} {}", of(ice + more), of(ice));
    }

    #[test]
    fn colder_ice_never_dilutes_more(poured in any_drink(), melt in any_melt(), t in -20.0..0.0_f64, colder in 0.0..15.0_f64) {
        let of = |t: f64| chill(&poured, melt, &with(|c| c.ice_at = celsius(t))).unwrap().melt.grams();
        prop_assert!(of(t - colder) <= of(t) + 1e-6);
    }

    #[test]
    fn a_warmer_drink_a_warm_vessel_and_wet_ice_dilute_more(poured in any_drink(), melt in any_melt(), warmer in 1.0..10.0_f64) {
        let plain = chill(&poured, melt, &Conditions::default()).unwrap().water();
        let vessel = Vessel { mass: grams(300.0), stuff: Stuff::Steel, temperature: celsius(22.0) };
        for conditions in [
            with(|c| c.drink = celsius(20.0 + warmer)),
            with(|c| c.vessel = Some(vessel)),
            with(|c| c.wet = Grade::new(0.05).unwrap()),
        ] {
            prop_assert!(chill(&poured, melt, &conditions).unwrap().water() > plain);
        }
    }

    #[test]
    fn what_stands_longer_is_more_diluted_and_colder_at_first(poured in any_drink(), minutes in 0.0..20.0_f64) {
        let at = |m: f64| chill(&poured, Melt::BuiltShort, &with(|c| c.minutes = m)).unwrap();
        prop_assert!(at(minutes + 1.0).melt > at(minutes).melt);
        prop_assert!(at(3.0).at < at(0.0).at);
    }

    #[test]
    fn a_dilution_gives_back_the_end_that_it_came_from(poured in any_drink(), end in -8.0..2.0_f64) {
        let conditions = with(|c| c.ends = Some(Ends::At(celsius(end))));
        let chilled = chill(&poured, Melt::Stirred, &conditions).unwrap();
        prop_assume!(chilled.ice_left.grams() > 1.0);
        let back = ends_at(&poured, Melt::Stirred, chilled.water(), &conditions).unwrap();
        prop_assert!((back.celsius() - end).abs() < 1e-6, "{back:?} {end}");
    }
}

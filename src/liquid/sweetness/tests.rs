//! Laws of sweetness, and what is refused. Published figures are in `tests/outside_syrup.rs`.

use proptest::prelude::*;

use super::*;
use crate::liquid::Contents;
use crate::measure::{Strength, Volume};

fn dry(solute: Solute, grams: f64) -> Parts {
    Parts::dry(solute, Mass::new(grams).unwrap())
}

/// Sucrose, glucose and fructose, with something in it that has no sweetness.
fn drink(sugars: [f64; 3]) -> Parts {
    let [sucrose, glucose, fructose] = sugars.map(|grams| Concentration::new(grams).unwrap());
    let contents = Contents::of_strength(Strength::new(20.0).unwrap())
        .with(Solute::Sucrose, sucrose)
        .with(Solute::Glucose, glucose)
        .with(Solute::Fructose, fructose)
        .with(Solute::Citric, Concentration::new(8.0).unwrap())
        .with(Solute::Salt, Concentration::new(1.0).unwrap());
    Parts::of_liquid(Volume::new(90.0).unwrap(), &contents).unwrap()
}

fn sweet(parts: &Parts) -> f64 {
    Sweetness::WORKING.of(parts).unwrap().grams_per_litre()
}

#[test]
fn a_factor_that_is_none_is_refused_by_name() {
    for (glucose, fructose) in [(0.0, 1.2), (0.74, -1.0), (0.74, f64::NAN), (3.1, 1.2), (0.74, f64::INFINITY)]
    {
        assert!(matches!(Sweetness::new(glucose, fructose), Err(LiquidError::Sweetness { .. })));
    }
    assert_eq!(Sweetness::new(0.74, 1.2), Ok(Sweetness::default()));
    assert_eq!(
        Sweetness::new(0.74, 12.0).unwrap_err().to_string(),
        "12 times as sweet as table sugar: allowed is 0.25 to 3, since published panels put glucose and fructose between \
         0.5 and 1.73"
    );
}

#[test]
fn every_panel_may_be_worked_with_and_lies_where_the_message_says() {
    for panel in Panel::ALL {
        assert_eq!(Sweetness::new(panel.glucose, panel.fructose), Ok(panel.sweetness()), "{panel:?}");
        assert!((0.5..=1.73).contains(&panel.glucose), "{panel:?}");
        assert!((0.5..=1.73).contains(&panel.fructose), "{panel:?}");
    }
}

#[test]
fn what_is_no_sugar_is_not_sweet() {
    assert_eq!(Sweetness::WORKING.of(&drink([0.0; 3])), Ok(Concentration::ZERO));
    assert_eq!(Sweetness::WORKING.as_sucrose(&dry(Solute::Citric, 10.0)), Ok(Mass::ZERO));
    assert_eq!(Sweetness::spread(&Parts::default()).unwrap().most, Concentration::ZERO);
}

#[test]
fn sweeter_than_any_sucrose_is_refused() {
    let refused = Panel::ALL[0].sweetness().of(&dry(Solute::Fructose, 100.0));
    assert!(matches!(refused, Err(LiquidError::Quantity(_))), "{refused:?}");
}

proptest! {
    #[test]
    fn sucrose_alone_is_as_sweet_as_it_is_heavy(grams in 0.0..400.0_f64) {
        let parts = drink([grams, 0.0, 0.0]);
        prop_assert!((sweet(&parts) - grams).abs() < 1e-9);
        let spread = Sweetness::spread(&parts).unwrap();
        prop_assert!((spread.most.grams_per_litre() - grams).abs() < 1e-9);
        prop_assert!((spread.least.grams_per_litre() - grams).abs() < 1e-9);
    }

    #[test]
    fn it_is_linear(a in 0.0..150.0_f64, b in 0.0..150.0_f64, c in 0.0..150.0_f64, factor in 0.0..2.0_f64) {
        let apart = sweet(&drink([a, 0.0, 0.0])) + sweet(&drink([0.0, b, 0.0])) + sweet(&drink([0.0, 0.0, c]));
        prop_assert!((sweet(&drink([a, b, c])) - apart).abs() < 1e-9, "{apart}");
        let scaled = sweet(&drink([a, b, c].map(|grams| factor * grams)));
        prop_assert!((scaled - factor * apart).abs() < 1e-9);
    }

    #[test]
    fn more_of_any_sugar_is_sweeter(a in 1.0..100.0_f64, b in 1.0..100.0_f64, c in 1.0..100.0_f64) {
        let start = drink([a, b, c]);
        for solute in Solute::SUGARS {
            let more = start.plus(&dry(solute, 1.0));
            prop_assert!(sweet(&more) > sweet(&start), "{solute}");
        }
    }

    #[test]
    fn the_spread_holds_every_panel_and_the_mass_is_untouched(a in 0.0..150.0_f64, b in 0.0..150.0_f64, c in 0.0..150.0_f64) {
        let parts = drink([a, b, c]);
        let spread = Sweetness::spread(&parts).unwrap();
        let mut touched = (false, false);
        for panel in Panel::ALL {
            let found = panel.sweetness().of(&parts).unwrap();
            prop_assert!((spread.least..=spread.most).contains(&found), "{panel:?}");
            touched = (touched.0 || found == spread.least, touched.1 || found == spread.most);
        }
        prop_assert_eq!(touched, (true, true));
        prop_assert!((parts.sugar().grams_per_litre() - (a + b + c)).abs() < 1e-9);
    }
}

//! Laws of syrups, round trips, and what is refused. Figures that others published are in `tests/outside_syrup.rs`.

use proptest::prelude::*;

use super::*;

fn syrup(sugar: f64, water: f64) -> Syrup {
    Syrup::by_mass(Mass::new(sugar).unwrap(), Mass::new(water).unwrap()).unwrap()
}

fn brix(degrees: f64) -> Brix {
    Brix::new(degrees).unwrap()
}

fn ml(ml: f64) -> Volume {
    Volume::new(ml).unwrap()
}

/// Apart by no more than 1e-9 of the greater.
fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1.0)
}

#[test]
fn what_is_no_syrup_is_refused_by_name() {
    let none = Syrup::by_mass(Mass::ZERO, Mass::ZERO);
    assert_eq!(none, Err(LiquidError::NoSyrup));
    assert_eq!(Syrup::of_brix(brix(50.0), Volume::ZERO), Err(LiquidError::NoSyrup));
    assert_eq!(syrup(1.0, 1.0).made_to(Volume::ZERO), Err(LiquidError::NoSyrup));
    let dry = Syrup::by_mass(Mass::new(90.0).unwrap(), Mass::new(10.0).unwrap());
    assert_eq!(dry, Err(LiquidError::Sugar { found: 0.9, most: 0.85 }));
    let most = Mass::new(10_000_000.0).unwrap();
    assert!(matches!(Syrup::by_mass(most, most), Err(LiquidError::Quantity(_))));
    // Ten tonnes of water are more than ten cubic metres.
    assert!(matches!(Syrup::by_mass(Mass::ZERO, most), Err(LiquidError::Quantity(_))));
}

#[test]
fn a_syrup_is_not_thinned_to_water() {
    let refused = syrup(2.0, 1.0).to_reach(brix(0.0)).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "a syrup of 66.67 °Bx cannot be thinned to 0 °Bx: its sugar stays in it, however much water goes in"
    );
    assert_eq!(syrup(0.0, 1.0).to_reach(brix(0.0)), Ok(Addition::Nothing));
}

#[test]
fn solubility_is_refused_outside_its_range() {
    for outside in [-0.001, 90.001, -18.0] {
        let refused = saturated_brix(Temperature::new(outside).unwrap());
        assert_eq!(refused, Err(LiquidError::Solubility { found: outside, least: 0.0, most: 90.0 }));
    }
    for end in [0.0, 90.0] {
        assert!(saturated_brix(Temperature::new(end).unwrap()).is_ok());
    }
    let refused = syrup(1.0, 1.0).saturation(Temperature::new(-5.0).unwrap()).unwrap_err();
    assert_eq!(refused.to_string(), "-5 °C: the solubility of sugar in water is published from 0 to 90 °C");
}

#[test]
fn a_cup_of_sugar_weighs_what_it_is_published_to() {
    let cups = Syrup::by_volume(ml(2.0 * 236.588_236_5), ml(236.588_236_5)).unwrap();
    assert!(same(cups.sugar().grams(), 400.0), "{cups:?}");
    assert!((cups.water().grams() - 236.16).abs() < 0.01, "{cups:?}");
}

proptest! {
    #[test]
    fn more_sugar_is_denser_and_holds_more_in_a_litre(degrees in 0.0..84.0_f64) {
        let thin = Syrup::of_brix(brix(degrees), ml(1000.0)).unwrap();
        let thick = Syrup::of_brix(brix(degrees + 1.0), ml(1000.0)).unwrap();
        prop_assert!(thick.density() > thin.density());
        prop_assert!(thick.sugar_per_litre() > thin.sugar_per_litre());
        prop_assert!(thick.water() < thin.water());
    }

    #[test]
    fn mass_is_conserved_and_no_other_figure_disagrees(sugar in 0.0..500.0_f64, water in 100.0..900.0_f64) {
        let made = syrup(sugar, water);
        prop_assert!(same(made.mass().grams(), sugar + water));
        prop_assert!(same(made.sugar_per_litre().grams_per_litre() * made.volume().ml() / 1000.0, sugar));
        prop_assert!(same(made.density() * made.volume().ml() / 1000.0, sugar + water));
        prop_assert!(same(made.brix().degrees() * made.mass().grams() / 100.0, sugar));
    }

    /// A heap of sugar is nearly half air, and what dissolves takes less room than its crystals, 1.59 g/ml, up to 60
    /// °Bx.
    #[test]
    fn the_volume_made_is_less_than_apart_and_more_than_the_water(degrees in 1.0..60.0_f64) {
        let made = Syrup::of_brix(brix(degrees), ml(1000.0)).unwrap();
        let sugar = made.sugar().grams();
        let water = made.water().grams() / 0.998_2;
        prop_assert!(made.volume().ml() < water + sugar / 1.587);
        prop_assert!(made.volume().ml() < water + sugar / GRANULATED);
        prop_assert!(made.volume().ml() > water);
    }

    #[test]
    fn brix_and_volume_come_back(degrees in 0.0..=85.0_f64, volume in 1.0..5000.0_f64) {
        let made = Syrup::of_brix(brix(degrees), ml(volume)).unwrap();
        prop_assert!(same(made.brix().degrees(), degrees), "{made:?}");
        prop_assert!(same(made.volume().ml(), volume), "{made:?}");
        let again = Syrup::by_mass(made.sugar(), made.water()).unwrap();
        prop_assert!(same(again.brix().degrees(), degrees));
        prop_assert!(same(again.volume().ml(), volume));
    }

    #[test]
    fn concentration_and_volume_come_back(grams in 0.0..1200.0_f64, volume in 1.0..5000.0_f64) {
        let made = Syrup::of_concentration(Concentration::new(grams).unwrap(), ml(volume)).unwrap();
        prop_assert!(same(made.sugar_per_litre().grams_per_litre(), grams), "{made:?}");
        prop_assert!(same(made.volume().ml(), volume), "{made:?}");
    }

    #[test]
    fn a_ratio_is_made_to_any_volume(sugar in 0.1..4.0_f64, volume in 1.0..5000.0_f64) {
        let ratio = syrup(sugar, 1.0);
        let made = ratio.made_to(ml(volume)).unwrap();
        prop_assert!(same(made.volume().ml(), volume));
        prop_assert!(same(made.brix().degrees(), ratio.brix().degrees()));
        prop_assert!(same(made.sugar().grams(), sugar * made.water().grams()));
    }

    #[test]
    fn it_is_brought_to_any_brix_and_back(from in 0.5..84.0_f64, to in 0.5..84.0_f64, grams in 1.0..2000.0_f64) {
        let start = syrup(from / 100.0 * grams, (1.0 - from / 100.0) * grams);
        let added = start.to_reach(brix(to)).unwrap();
        let reached = start.with(added).unwrap();
        prop_assert!(same(reached.brix().degrees(), to), "{start:?} {added:?}");
        match added {
            Addition::Water(more) => {
                prop_assert!(to < from && same(reached.sugar().grams(), start.sugar().grams()));
                prop_assert!(same(reached.mass().grams(), grams + more.grams()));
            }
            Addition::Sugar(more) => {
                prop_assert!(to > from && same(reached.water().grams(), start.water().grams()));
                prop_assert!(same(reached.mass().grams(), grams + more.grams()));
            }
            Addition::Nothing => prop_assert!(same(from, to)),
        }
        let back = reached.with(reached.to_reach(brix(from)).unwrap()).unwrap();
        prop_assert!(same(back.brix().degrees(), from), "{back:?}");
    }

    #[test]
    fn as_parts_it_is_the_same_liquid(degrees in 0.0..=85.0_f64) {
        let made = Syrup::of_brix(brix(degrees), ml(1000.0)).unwrap();
        let parts = made.parts();
        prop_assert!(same(parts.mass().grams(), made.mass().grams()));
        let within = 0.01;
        prop_assert!((parts.volume().ml() - 1000.0).abs() < within, "{}", parts.volume());
    }

    #[test]
    fn warm_water_holds_more_and_the_margin_is_what_is_missing(t in 0.0..89.0_f64, degrees in 50.0..85.0_f64) {
        let at = |t| Temperature::new(t).unwrap();
        prop_assert!(saturated_brix(at(t + 1.0)).unwrap() > saturated_brix(at(t)).unwrap());
        let made = Syrup::of_brix(brix(degrees), ml(100.0)).unwrap();
        let (cold, warm) = (made.saturation(at(t)).unwrap(), made.saturation(at(t + 1.0)).unwrap());
        prop_assert!(warm.degrees_over < cold.degrees_over);
        prop_assert!(same(cold.holds.degrees() + cold.degrees_over, degrees));
        prop_assert_eq!(cold.will_crystallise(), made.brix() > cold.holds);
    }
}

//! Laws of souring, and what is refused. Figures that others published are in `tests/outside_syrup.rs`.

use proptest::prelude::*;

use super::*;
use crate::liquid::Contents;
use crate::measure::Strength;

fn g_l(grams: f64) -> Concentration {
    Concentration::new(grams).unwrap()
}

fn juice(ml: f64, strength: f64, sugar: f64, citric: f64, malic: f64) -> Parts {
    let contents = Contents::of_strength(Strength::new(strength).unwrap())
        .with(Solute::Sucrose, g_l(sugar))
        .with(Solute::Citric, g_l(citric))
        .with(Solute::Malic, g_l(malic));
    Parts::of_liquid(Volume::new(ml).unwrap(), &contents).unwrap()
}

fn citric() -> AcidMix {
    AcidMix::of(Solute::Citric).unwrap()
}

fn any_mix() -> impl Strategy<Value = AcidMix> {
    (proptest::array::uniform6(0.01..5.0_f64), any::<bool>()).prop_map(|(parts, dry)| {
        let parts: Vec<_> = Solute::ACIDS.into_iter().zip(parts).collect();
        let form = if dry { CitricForm::Anhydrous } else { CitricForm::Monohydrate };
        AcidMix::of_parts(&parts).unwrap().with_citric(form)
    })
}

fn any_juice() -> impl Strategy<Value = Parts> {
    (1.0..5000.0_f64, 0.0..40.0_f64, 0.0..300.0_f64, 0.0..20.0_f64, 0.0..10.0_f64)
        .prop_map(|(v, a, s, c, m)| juice(v, a, s, c, m))
}

#[test]
fn what_is_no_acid_is_refused_by_name() {
    for found in [Solute::Sucrose, Solute::Salt, Solute::Glucose] {
        assert_eq!(AcidMix::of(found), Err(LiquidError::NotAnAcid { found }));
        let beside = [(Solute::Citric, 1.0), (found, 0.0)];
        assert_eq!(AcidMix::of_parts(&beside), Err(LiquidError::NotAnAcid { found }));
    }
    assert_eq!(
        AcidMix::of(Solute::Salt).unwrap_err().to_string(),
        "salt is no acid: allowed are acids, since nothing else makes a juice sourer"
    );
}

#[test]
fn shares_make_a_whole() {
    let shares = |citric, malic| AcidMix::of_shares(&[(Solute::Citric, citric), (Solute::Malic, malic)]);
    assert!(shares(0.7, 0.3).is_ok());
    assert_eq!(shares(0.5, 0.25), Err(LiquidError::Shares { found: 0.75 }));
    assert_eq!(shares(1.5, -0.5), Err(LiquidError::Share { found: -0.5 }));
    assert!(matches!(shares(f64::NAN, 1.0), Err(LiquidError::Share { .. })));
    assert_eq!(AcidMix::of_shares(&[]), Err(LiquidError::Shares { found: 0.0 }));
    let parts = |citric, malic| AcidMix::of_parts(&[(Solute::Citric, citric), (Solute::Malic, malic)]);
    assert_eq!(parts(0.0, 0.0), Err(LiquidError::Shares { found: 0.0 }));
    assert_eq!(parts(f64::INFINITY, 1.0), Err(LiquidError::Shares { found: f64::INFINITY }));
    assert_eq!(parts(-2.0, 3.0), Err(LiquidError::Share { found: -2.0 }));
    let mix = parts(2.0, 1.0).unwrap();
    assert!((mix.share(Solute::Citric) - 2.0 / 3.0).abs() < 1e-12);
    assert!((mix.share(Solute::Malic) - 1.0 / 3.0).abs() < 1e-12);
    assert!(mix.share(Solute::Sucrose).abs() < 1e-12);
}

#[test]
fn sour_already_says_how_much_water_brings_it_down() {
    let lime = juice(100.0, 0.0, 16.0, 60.0, 0.0);
    let refused = citric().added_to(&lime, g_l(40.0)).unwrap_err();
    let LiquidError::SourAlready { found, wanted, water } = refused else { panic!("{refused:?}") };
    assert!((found - 60.0).abs() < 1e-9 && (wanted - 40.0).abs() < 1e-9);
    let thinned = lime.plus(&Parts::water_weighing(Mass::new(water).unwrap()));
    assert!((thinned.acid().grams_per_litre() - 40.0).abs() < 1e-9, "{}", thinned.acid());
    assert_eq!(
        refused.to_string(),
        "the juice has 60.0 g/L of acid and 40.0 are wanted: acid only makes it sourer; 50 g of water would bring it down"
    );
}

#[test]
fn what_cannot_be_soured_is_refused_by_name() {
    let water = Parts::water(Volume::new(100.0).unwrap());
    assert_eq!(citric().added_to(&Parts::default(), g_l(40.0)), Err(LiquidError::Dry));
    let sugar = Parts::dry(Solute::Sucrose, Mass::new(10.0).unwrap());
    assert_eq!(citric().added_to(&sugar, g_l(40.0)), Err(LiquidError::Dry));
    assert_eq!(citric().in_water(Volume::ZERO, g_l(40.0)), Err(LiquidError::Dry));
    for found in [0.0, 0.009, 300.1] {
        let refused = citric().added_to(&water, g_l(found));
        assert_eq!(refused, Err(LiquidError::Acidity { found, least: 0.01, most: 300.0 }));
    }
    let next_to_nothing = Parts::water_weighing(Mass::new(f64::from_bits(1)).unwrap());
    let refused = citric().added_to(&next_to_nothing, g_l(40.0));
    assert_eq!(refused, Err(LiquidError::AcidNotFound { wanted: 40.0 }));
    let lake = Parts::water(Volume::new(9_990_000.0).unwrap());
    assert!(matches!(citric().added_to(&lake, g_l(40.0)), Err(LiquidError::Quantity(_))));
}

proptest! {
    #[test]
    fn the_finished_liquid_has_the_acidity_wanted(juice in any_juice(), mix in any_mix(), more in 0.001..200.0_f64) {
        let wanted = juice.acid().grams_per_litre() + more;
        let soured = mix.added_to(&juice, g_l(wanted)).unwrap();
        let finished = soured.finished();
        prop_assert!((finished.acid().grams_per_litre() - wanted).abs() < 1e-9, "{}", finished.acid());
        // Grams are added to grams, the powders' water with them.
        let powder: f64 = soured.powders().map(|(_, mass)| mass.grams()).sum();
        let whole = juice.mass().grams() + powder;
        prop_assert!((finished.mass().grams() - whole).abs() < 1e-9 * whole);
        prop_assert!(soured.volume() > juice.volume());
    }

    #[test]
    fn the_acids_stand_as_their_shares(juice in any_juice(), mix in any_mix()) {
        let soured = mix.added_to(&juice, g_l(100.0)).unwrap();
        let pure = |acid| soured.finished().dissolved(acid).grams() - juice.dissolved(acid).grams();
        let all: f64 = Solute::ACIDS.into_iter().map(pure).sum();
        for acid in Solute::ACIDS {
            prop_assert!((pure(acid) - mix.share(acid) * all).abs() < 1e-9 * all.max(1.0), "{acid}");
        }
    }

    #[test]
    fn twice_the_juice_takes_twice_the_powder(juice in any_juice(), mix in any_mix(), factor in 0.1..50.0_f64) {
        let one = mix.added_to(&juice, g_l(80.0)).unwrap();
        let many = mix.added_to(&juice.times(factor), g_l(80.0)).unwrap();
        for acid in Solute::ACIDS {
            let (one, many) = (factor * one.weighed(acid).grams(), many.weighed(acid).grams());
            prop_assert!((one - many).abs() < 1e-9 * many.max(1.0), "{acid} {one} {many}");
        }
    }

    #[test]
    fn sourer_takes_more_than_in_proportion(juice in any_juice(), more in 1.0..100.0_f64) {
        let now = juice.acid().grams_per_litre();
        let grams = |wanted| citric().added_to(&juice, g_l(wanted)).unwrap().weighed(Solute::Citric).grams();
        let (once, twice) = (grams(now + more), grams(now + 2.0 * more));
        prop_assert!(twice > 2.0 * once, "{once} {twice}");
        // More than the difference by volume, since the powder takes up room.
        prop_assert!(once > more * juice.volume().ml() / 1000.0);
    }

    #[test]
    fn the_monohydrate_brings_the_same_acidity_with_its_water(juice in any_juice(), wanted in 31.0..150.0_f64) {
        let dry = citric().added_to(&juice, g_l(wanted)).unwrap();
        let wet = citric().with_citric(CitricForm::Monohydrate).added_to(&juice, g_l(wanted)).unwrap();
        prop_assert!((wet.finished().acid().grams_per_litre() - wanted).abs() < 1e-9);
        // A little more than 1.094 times as much: the crystal's water thins the juice.
        let times = wet.weighed(Solute::Citric).grams() / dry.weighed(Solute::Citric).grams();
        prop_assert!(times > CitricForm::Monohydrate.grams_per_gram() && times < 1.12, "{times}");
        prop_assert!(wet.finished().water_mass() > dry.finished().water_mass());
    }

    #[test]
    fn the_forms_of_citric_acid_turn_each_other_round(grams in 0.0..1000.0_f64) {
        for form in [CitricForm::Anhydrous, CitricForm::Monohydrate] {
            let powder = form.for_anhydrous(Mass::new(grams).unwrap()).unwrap();
            prop_assert!((form.anhydrous_in(powder).grams() - grams).abs() < 1e-9);
        }
    }

    #[test]
    fn water_brings_a_sour_juice_down(juice in any_juice(), share in 1e-4..0.999_f64) {
        let now = juice.acid().grams_per_litre();
        prop_assume!(now * share > 0.01);
        let refused = citric().added_to(&juice, g_l(now * share)).unwrap_err();
        let LiquidError::SourAlready { water, .. } = refused else { panic!("{refused:?}") };
        let thinned = juice.plus(&Parts::water_weighing(Mass::new(water).unwrap()));
        prop_assert!((thinned.acid().grams_per_litre() - now * share).abs() < 1e-9);
    }

    #[test]
    fn acid_water_is_what_was_asked(mix in any_mix(), made in 1.0..5000.0_f64, wanted in 1.0..=300.0_f64) {
        let acid_water = mix.in_water(Volume::new(made).unwrap(), g_l(wanted)).unwrap();
        prop_assert!((acid_water.volume().ml() - made).abs() < 1e-9 * made.max(1.0));
        prop_assert!((acid_water.finished().acid().grams_per_litre() - wanted).abs() < 1e-9);
        // The same as water made sourer.
        let again = mix.added_to(&acid_water.juice(), g_l(wanted)).unwrap();
        for acid in Solute::ACIDS {
            prop_assert!((again.weighed(acid).grams() - acid_water.weighed(acid).grams()).abs() < 1e-9 * made);
        }
    }
}

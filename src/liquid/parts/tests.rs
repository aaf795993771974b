//! Laws of mixing, and the volume against a slower search for it.

use proptest::prelude::*;

use super::*;

fn liquid(ml: f64, strength: f64, sugar: f64, acid: f64, salt: f64) -> Parts {
    let contents = Contents::of_strength(Strength::new(strength).unwrap())
        .with(Solute::Sucrose, Concentration::new(sugar).unwrap())
        .with(Solute::Citric, Concentration::new(acid).unwrap())
        .with(Solute::Salt, Concentration::new(salt).unwrap());
    Parts::of_liquid(Volume::new(ml).unwrap(), &contents).unwrap()
}

fn any_liquid() -> impl Strategy<Value = Parts> {
    (1.0..500.0_f64, 0.0..65.0_f64, 0.0..400.0_f64, 0.0..60.0_f64, 0.0..30.0_f64)
        .prop_map(|(v, a, s, c, n)| liquid(v, a, s, c, n))
}

/// The volume by halving, straight from the relation: the mass in a volume grows with it.
fn volume_by_halving(parts: &Parts) -> f64 {
    let grams_in = |ml: f64| {
        let strength = Strength::clamped(1e5 * parts.ethanol / (ethanol::PURE_20 * ml));
        let sugar = 1000.0 * (parts.like_sugar()) / ml;
        let salt = 1000.0 * parts.salt_grams() / ml;
        ml / 1000.0 * (density_of(strength) + raises_by(sugar) + salt::raises_by(salt))
    };
    let (mut low, mut high) = (0.3 * parts.grams(), 2.0 * parts.grams());
    for _ in 0..100 {
        let middle = f64::midpoint(low, high);
        if grams_in(middle) < parts.grams() { low = middle } else { high = middle }
    }
    f64::midpoint(low, high)
}

#[test]
fn what_cannot_be_is_refused() {
    let contents = Contents::of_strength(Strength::new(95.0).unwrap())
        .with(Solute::Sucrose, Concentration::new(900.0).unwrap());
    let refused = Parts::of_liquid(Volume::new(30.0).unwrap(), &contents);
    let error = refused.unwrap_err();
    assert_eq!(error.to_string(), "95 % vol with 900 g/L dissolved cannot be: no water would be left");
}

#[test]
fn nothing_has_no_volume_and_dry_sugar_and_salt_have_some() {
    assert!(Parts::default().volume().ml() <= 0.0);
    let dry = Parts::dry(Solute::Sucrose, Mass::new(10.0).unwrap());
    assert!((dry.volume().ml() - 6.2).abs() < 1e-9);
    let salt = Parts::dry(Solute::Salt, Mass::new(10.0).unwrap());
    assert!((salt.volume().ml() - 3.1).abs() < 1e-9);
}

/// What dry sugar and salt are counted as is what they take up once dissolved, within 0.01 ml/g at a drink's strength.
#[test]
fn dry_things_take_in_a_drink_what_they_are_counted_as() {
    let drink = liquid(100.0, 20.0, 0.0, 0.0, 0.0);
    for (solute, grams) in [(Solute::Sucrose, 10.0), (Solute::Salt, 2.0)] {
        let dry = Parts::dry(solute, Mass::new(grams).unwrap());
        let taken = drink.plus(&dry).volume().ml() - 100.0;
        assert!((taken - dry.volume().ml()).abs() < 0.01 * grams, "{taken} {}", dry.volume().ml());
    }
}

#[test]
fn a_liquid_keeps_its_strength_to_the_ends_of_the_range() {
    for strength in [0.0, 1e-9, 96.0, 99.999, 100.0] {
        let parts = liquid(700.0, strength, 0.0, 0.0, 0.0);
        assert!(
            (parts.strength().percent_vol() - strength).abs() < 1e-9,
            "{strength} {:?}",
            parts.strength()
        );
        assert!((parts.volume().ml() - 700.0).abs() < 1e-9);
    }
}

/// A few drops of water on a heap of sugar is no solution, but still has a volume near that of the sugar.
#[test]
fn beyond_any_solution_the_volume_still_settles() {
    for water in [1e-6, 0.1, 1.0] {
        let kilogram = Mass::new(1000.0).unwrap();
        let heap = Parts::dry(Solute::Sucrose, kilogram).plus(&Parts::dry(Solute::Salt, kilogram));
        let wet = heap.plus(&Parts::water(Volume::new(water).unwrap()));
        let slow = volume_by_halving(&wet);
        assert!((wet.volume().ml() - slow).abs() < 1e-6 * slow, "{water}: {} {slow}", wet.volume().ml());
    }
}

proptest! {
    #[test]
    fn the_volume_is_that_of_a_slower_search(a in any_liquid(), b in any_liquid()) {
        let mixed = a.plus(&b);
        let slow = volume_by_halving(&mixed);
        prop_assert!((mixed.volume().ml() - slow).abs() < 1e-9 * slow, "{} {slow}", mixed.volume().ml());
    }

    #[test]
    fn taken_apart_and_put_together_it_is_the_same(
        v in 1.0..500.0_f64, a in 0.0..65.0_f64, s in 0.0..400.0_f64, c in 0.0..60.0_f64, n in 0.0..200.0_f64,
    ) {
        let parts = liquid(v, a, s, c, n);
        prop_assert!((parts.volume().ml() - v).abs() < 1e-10 * v, "{} {v}", parts.volume().ml());
        prop_assert!((parts.strength().percent_vol() - a).abs() < 1e-9);
        prop_assert!((parts.sugar().grams_per_litre() - s).abs() < 1e-7);
        prop_assert!((parts.acid().grams_per_litre() - c).abs() < 1e-7);
        prop_assert!((parts.salt().grams_per_litre() - n).abs() < 1e-7);
    }

    #[test]
    fn mixing_conserves_mass_and_does_not_mind_the_order(a in any_liquid(), b in any_liquid(), c in any_liquid()) {
        let one = a.plus(&b).plus(&c);
        let sum = a.mass().grams() + b.mass().grams() + c.mass().grams();
        prop_assert!((one.mass().grams() - sum).abs() < 1e-9 * sum);
        for other in [c.plus(&b).plus(&a), a.plus(&b.plus(&c))] {
            prop_assert!((one.volume().ml() - other.volume().ml()).abs() < 1e-9 * sum);
            let apart = one.strength().percent_vol() - other.strength().percent_vol();
            prop_assert!(apart.abs() < 1e-9, "{apart}");
        }
    }

    #[test]
    fn ethanol_and_sugar_are_conserved_whatever_the_volume_does(a in any_liquid(), b in any_liquid()) {
        let whole = a.plus(&b);
        let litres = |p: &Parts| p.volume().ml() / 1000.0;
        let pure = |p: &Parts| litres(p) * p.strength().percent_vol();
        let sugar = |p: &Parts| litres(p) * p.sugar().grams_per_litre();
        prop_assert!((pure(&whole) - pure(&a) - pure(&b)).abs() < 1e-9 * (1.0 + pure(&whole)));
        prop_assert!((sugar(&whole) - sugar(&a) - sugar(&b)).abs() < 1e-9 * (1.0 + sugar(&whole)));
    }

    #[test]
    fn twice_as_much_is_twice_the_volume_and_no_stronger(a in any_liquid(), factor in 0.01..1000.0_f64) {
        let more = a.times(factor);
        prop_assert!((more.volume().ml() - factor * a.volume().ml()).abs() < 1e-9 * more.volume().ml());
        prop_assert!((more.strength().percent_vol() - a.strength().percent_vol()).abs() < 1e-9);
    }

    #[test]
    fn water_fills_the_glass_and_weakens(a in any_liquid(), ml in 0.1..500.0_f64) {
        let weaker = a.plus(&Parts::water(Volume::new(ml).unwrap()));
        prop_assert!(weaker.volume() > a.volume());
        prop_assert!(weaker.strength() <= a.strength());
        prop_assert!(weaker.sugar() <= a.sugar() && weaker.salt() <= a.salt());
    }

    #[test]
    fn a_mixture_is_never_larger_than_its_parts_by_more_than_the_relation_errs(a in any_liquid(), b in any_liquid()) {
        let apart = a.volume().ml() + b.volume().ml();
        let together = a.plus(&b).volume().ml();
        prop_assert!(together <= apart * 1.01 && together >= apart * 0.96, "{together} {apart}");
    }
}

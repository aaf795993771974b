//! What a pour that is off does to a drink: a drink by hand, and laws that hold whatever is poured.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]
#![allow(clippy::float_cmp, reason = "what is the same sum is the same to the last digit")]

use std::path::Path;
use std::sync::LazyLock;

use medlar::book::{Book, Climate, Method, Names, When, read_packs};
use medlar::drink::{Alone, House, Melting, Miss, Over, Spec, Tolerance, read_spec, tolerance};
use medlar::liquid::{Basis, Dilution};
use medlar::measure::{Hemisphere, Jigger, Measures, Month, Volume};
use proptest::prelude::*;

static WEIR: LazyLock<(Book, Names)> = LazyLock::new(|| {
    let reading = read_packs(&[Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/packs/weir"))], false);
    assert!(reading.faults.is_empty(), "{:?}", reading.faults);
    let names = Names::new(&reading.book);
    (reading.book, names)
});

fn drink(text: &str, method: Method) -> Spec<'static> {
    let house = House::new(
        Jigger::ounces(),
        When { month: Month::Oct, hemisphere: Hemisphere::North, climate: Climate::Cool },
    );
    read_spec(text, &WEIR.0, &WEIR.1, Some(method), &house).unwrap()
}

fn ml(ml: f64) -> Volume {
    Volume::new(ml).unwrap()
}

fn off<'b>(spec: &Spec<'b>, over: Over, serves: u32) -> Tolerance<'b> {
    tolerance(spec, over, serves, Melting::Over(spec.over_ice()), &Measures::default()).unwrap()
}

fn near(found: f64, by_hand: f64, within: f64) {
    assert!((found - by_hand).abs() <= within, "{found}, by hand {by_hand}");
}

/// A daiquiri of 60 ml spirit of 40 %, 22.5 ml lime (16 g/L sugar, 60 g/L acid) and 22.5 ml syrup (614.8 g/L), with
/// half as much water: by hand, contraction left out, which is why the last digit differs.
///
/// ```text
///            poured  water  served   ethanol       sugar                    acid
/// as written 105     52.5   157.5    24 ml 15.24 % 0.36 + 13.83 g  90.1 g/L 1.35 g 8.57 g/L
/// syrup +7.5 112.5   56.25  168.75   24 ml 14.22 % 0.36 + 18.44 g 111.4 g/L 1.35 g 8.00 g/L
/// syrup -7.5  97.5   48.75  146.25   24 ml 16.41 % 0.36 +  9.22 g  65.5 g/L 1.35 g 9.23 g/L
/// ```
/// Steps that are noticed: 1 % vol; a tenth of 90.1 = 9.0 g/L; 0.15 of 8.57 = 1.29 g/L. So the syrup is noticed
/// +7.5: 1.02 + 21.3/9.0 = 2.37 + 0.57/1.29 = 0.44, in all 3.8; -7.5: 1.17 + 24.6/9.0 = 2.73 + 0.66/1.29 = 0.51,
/// in all 4.4.
///
/// At worst the spirit is over and the rest short: 67.5 + 15 + 15 = 97.5 ml, 146.25 ml served, 27 ml ethanol 18.46 %,
/// 0.24 + 9.22 g sugar 64.7 g/L, 0.9 g acid 6.15 g/L: 3.22 + 25.4/9.0 = 2.82 + 2.42/1.29 = 1.88, in all 7.9. The other
/// way round (spirit and lime short, syrup over) it is 0.88 + 4.18 + 1.88 = 6.9.
#[test]
fn a_daiquiri_comes_out_as_it_does_by_hand() {
    let spec = drink("60 ml blanco tequila, 22.5 ml lime juice, 22.5 ml simple syrup", Method::Shaken);
    let half = Melting::Held(Dilution { share: 0.5, basis: Basis::Given });
    let found = tolerance(&spec, Over::Volume(ml(7.5)), 1, half, &Measures::default()).unwrap();
    near(found.figures.strength.percent_vol(), 15.24, 0.15);
    near(found.figures.sugar.grams_per_litre(), 90.1, 0.9);
    near(found.figures.acid.grams_per_litre(), 8.57, 0.09);
    let syrup = &found.alone[2];
    assert_eq!(syrup.ingredient.id.as_str(), "simple-syrup");
    near(syrup.more.figures.strength.percent_vol(), 14.22, 0.15);
    near(syrup.more.figures.served.ml(), 168.75, 1.7);
    for (effect, [strength, sugar, acid, all]) in
        [(syrup.more, [1.02, 2.37, 0.44, 3.83]), (syrup.less, [1.17, 2.73, 0.51, 4.41])]
    {
        near(effect.strength, strength, 0.03);
        near(effect.sugar, sugar, 0.03);
        near(effect.acid, acid, 0.02);
        near(effect.noticed, all, 0.05);
    }
    // Noticed 4.41 at 7.5 ml too little: about 7.5 / 4.41 = 1.7 ml go unnoticed, a little more since it bends.
    let unnoticed = syrup.unnoticed.unwrap().ml();
    near(unnoticed, 1.8, 0.12);
    assert!(!syrup.by_eye);
    assert_eq!(found.together.combinations, 27);
    assert_eq!(found.together.misses, [Miss::More, Miss::Less, Miss::Less]);
    near(found.together.worst.noticed, 7.92, 0.1);
    // Shared out among 8 that is 0.99, if it were straight.
    assert!(matches!(found.unnoticed_from, Some(7..=8)), "{:?}", found.unnoticed_from);
}

#[test]
fn a_dash_is_half_a_dash_short_or_one_over_and_nothing_goes_below_none() {
    let text = "2 oz rye whiskey, 1 oz sweet vermouth, 2 dashes aromatic bitters, 1 barspoon simple syrup, 4 ml lime juice";
    let spec = drink(text, Method::Stirred);
    let found = off(&spec, Over::Volume(ml(7.5)), 1);
    let slips: Vec<(f64, f64)> = found.alone.iter().map(|a| (a.slip.less.ml(), a.slip.more.ml())).collect();
    assert_eq!(slips, [(7.5, 7.5), (7.5, 7.5), (0.4, 0.8), (2.0, 2.0), (4.0, 7.5)]);
    let found = off(&spec, Over::Volume(ml(7.5)), 10);
    assert_eq!(found.alone[2].slip.more.ml(), 0.08);
    assert_eq!(found.alone[4].slip.less.ml(), 0.4);
    let found = off(&spec, Over::Share(0.1), 10);
    assert!((found.alone[2].slip.more.ml() - 0.16).abs() < 1e-9, "a share is a share of a dash too");
}

/// A quarter ounce of syrup is noticed; a dash of bitters hardly in the figures, but it has a taste of its own; what is left is poured by eye.
#[test]
fn what_is_to_be_measured_is_told_from_what_is_poured_by_eye() {
    let spec = drink(
        "2 oz rye whiskey, 1/4 oz simple syrup, 2 dashes aromatic bitters, 1 barspoon rye whiskey",
        Method::Stirred,
    );
    let found = off(&spec, Over::Volume(ml(7.4)), 1);
    assert_eq!(found.alone.iter().map(|a| a.by_eye).collect::<Vec<_>>(), [false, false, false, true]);
    assert!(found.alone[2].more.noticed < 1.0 && found.alone[2].uncounted);
    let in_a_batch = off(&spec, Over::Volume(ml(7.4)), 40);
    assert_eq!(in_a_batch.alone.iter().map(|a| a.by_eye).collect::<Vec<_>>(), [true, true, false, true]);
}

#[test]
fn a_drink_of_one_line_keeps_its_figures() {
    let spec = drink("5 ml lime juice", Method::NoIce);
    let found = off(&spec, Over::Volume(ml(7.5)), 1);
    assert_eq!(found.alone[0].slip.less.ml(), 2.5);
    assert!(found.together.worst.noticed < 1e-9);
}

/// Ten lines are mixed in every combination; an eleventh, the one that matters least, stays as written.
#[test]
fn more_than_ten_lines_leave_out_what_matters_least() {
    let lines: Vec<String> = (0..10).map(|n| format!("{} ml blanco tequila", 10 + n)).collect();
    let spec = drink(&format!("{}, 1 drop aromatic bitters", lines.join(", ")), Method::NoIce);
    let half = Melting::Held(Dilution { share: 0.0, basis: Basis::Given });
    let found = tolerance(&spec, Over::Volume(ml(1.0)), 1, half, &Measures::default()).unwrap();
    assert_eq!((found.alone.len(), found.together.combinations), (11, 3_u64.pow(10)));
}

const NAMES: [&str; 6] =
    ["blanco tequila", "lime juice", "simple syrup", "sweet vermouth", "london dry gin", "honey syrup"];

fn some_drink() -> impl Strategy<Value = String> {
    let line = (5.0..60.0_f64, 0..NAMES.len());
    prop::collection::vec(line, 2..5).prop_map(|lines| {
        let words: Vec<String> =
            lines.iter().map(|(ml, name)| format!("{ml:.1} ml {}", NAMES[*name])).collect();
        words.join(", ")
    })
}

fn method() -> impl Strategy<Value = Method> {
    prop::sample::select(vec![Method::Stirred, Method::Shaken, Method::Built, Method::NoIce])
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn no_error_does_nothing(text in some_drink(), method in method()) {
        let found = off(&drink(&text, method), Over::Volume(Volume::ZERO), 1);
        prop_assert_eq!(found.together.worst.noticed, 0.0);
        for alone in &found.alone {
            prop_assert_eq!((alone.less.noticed, alone.more.noticed), (0.0, 0.0));
            prop_assert_eq!(alone.more.figures, found.figures);
            prop_assert!(alone.by_eye != alone.uncounted);
        }
    }

    #[test]
    fn all_at_once_are_at_worst_at_least_as_bad_as_each(
        text in some_drink(), method in method(), over in 0.5..15.0_f64, serves in 1..30_u32
    ) {
        let found = off(&drink(&text, method), Over::Volume(ml(over)), serves);
        let spread = &found.together.spread;
        for effect in found.alone.iter().flat_map(|a| [&a.less, &a.more]) {
            // Sums are taken in another order, so the last digit may differ.
            prop_assert!(found.together.worst.noticed >= effect.noticed - 1e-9);
            let held = |least: f64, value: f64, most: f64| value >= least - 1e-9 && value <= most + 1e-9;
            prop_assert!(held(spread.strength.least, effect.figures.strength.percent_vol(), spread.strength.most));
            prop_assert!(held(spread.served.least, effect.figures.served.ml(), spread.served.most));
        }
        let parts = found.together.worst;
        prop_assert!((parts.strength + parts.sugar + parts.acid + parts.bitterness - parts.noticed).abs() < 1e-9);
    }

    #[test]
    fn a_batch_is_never_worse_than_one(
        text in some_drink(), method in method(), over in 0.5..15.0_f64, serves in 2..50_u32
    ) {
        let spec = drink(&text, method);
        let (one, many) = (off(&spec, Over::Volume(ml(over)), 1), off(&spec, Over::Volume(ml(over)), serves));
        prop_assert!(many.together.worst.noticed <= one.together.worst.noticed + 1e-9);
        prop_assert_eq!(many.one_serve, one.together.worst.noticed);
        let from = one.unnoticed_from.unwrap();
        prop_assert_eq!(many.unnoticed_from, Some(from));
        prop_assert!(off(&spec, Over::Volume(ml(over)), from).together.worst.noticed <= 1.0);
        prop_assert!(from == 1 || off(&spec, Over::Volume(ml(over)), from - 1).together.worst.noticed > 1.0);
        for (one, many) in one.alone.iter().zip(&many.alone) {
            prop_assert!(many.more.noticed <= one.more.noticed + 1e-9);
            prop_assert!(many.less.noticed <= one.less.noticed + 1e-9);
            if let (Some(one), Some(many)) = (one.unnoticed, many.unnoticed) {
                prop_assert!((many.ml() - f64::from(serves) * one.ml()).abs() < 1e-6 * many.ml() + 1e-9);
            }
        }
    }

    /// Two lines of the same thing and amount do the same; the order of lines does not matter.
    #[test]
    fn alike_lines_do_alike(text in some_drink(), over in 0.5..5.0_f64) {
        let twice = format!("15 ml lime juice, {text}, 15 ml lime juice");
        let found = off(&drink(&twice, Method::Shaken), Over::Volume(ml(over)), 1);
        let (first, last) = (&found.alone[0], found.alone.last().unwrap());
        prop_assert!((first.more.noticed - last.more.noticed).abs() < 1e-9);
        prop_assert!((first.less.noticed - last.less.noticed).abs() < 1e-9);
        let reversed: Vec<&str> = text.rsplit(", ").collect();
        let over = Over::Volume(ml(over));
        let one = off(&drink(&text, Method::Shaken), over, 1);
        let other = off(&drink(&reversed.join(", "), Method::Shaken), over, 1);
        prop_assert!((one.together.worst.noticed - other.together.worst.noticed).abs() < 1e-9);
    }

    /// What is said to go unnoticed is within one just-noticeable difference, and a little more is not.
    #[test]
    fn what_goes_unnoticed_is_the_most_that_does(text in some_drink(), method in method()) {
        let spec = drink(&text, method);
        let worse = |alone: &Alone<'_>| alone.less.noticed.max(alone.more.noticed);
        for (at, alone) in off(&spec, Over::Volume(ml(1.0)), 1).alone.iter().enumerate() {
            let Some(most) = alone.unnoticed else { continue };
            let within = off(&spec, Over::Volume(most), 1);
            prop_assert!(worse(&within.alone[at]) <= 1.0, "{text}: {} of line {at}", most.ml());
            let past = off(&spec, Over::Volume(ml(most.ml() + 0.01)), 1);
            prop_assert!(worse(&past.alone[at]) > 1.0, "{text}: {} of line {at}", most.ml());
        }
    }
}

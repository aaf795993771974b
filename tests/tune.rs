//! `tune`: what it promises holds on every template, what it says would free it does, and answers are read as a bartender
//! would read them.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::sync::{Arc, LazyLock};

use medlar::book::{Climate, When, read_built_in};
use medlar::console::{Library, Session, Settings, Today};
use medlar::drink::{
    Aim, CannotTune, Equal, Glass, Held, House, Palate, Spec, Tune, Tuned, WayOut, Wish, figures, tune,
};
use medlar::measure::{Hemisphere, Jigger, Mass, Measures, Month, Unit, Volume};
use medlar::report::Style;

static LIBRARY: LazyLock<Arc<Library>> = LazyLock::new(|| Arc::new(Library::of(read_built_in()).unwrap()));

fn house() -> House {
    House::new(
        Jigger::ounces(),
        When { month: Month::Oct, hemisphere: Hemisphere::North, climate: Climate::Cool },
    )
}

fn asked(spec: Spec<'static>) -> Tune<'static> {
    Tune {
        spec,
        wishes: Vec::new(),
        keep: Vec::new(),
        most: Vec::new(),
        least: Vec::new(),
        glass: None,
        alcohol: None,
        uneven: false,
        palate: Palate::default(),
        count: 2,
    }
}

fn classics() -> Vec<Spec<'static>> {
    let house = house();
    let templates = LIBRARY.book.templates().iter();
    templates.map(|t| house.in_pours(&Spec::of_template(&LIBRARY.book, t, &house))).collect()
}

/// A figure that a wish moves, and its just-noticeable difference, or a twelfth of the glass.
fn moved(wish: Wish, before: &medlar::drink::Figures, after: &medlar::drink::Figures) -> f64 {
    let (held, up) = wish.moves();
    let (from, to) = (Aim::of(before), Aim::of(after));
    let by = match held {
        Held::Taste(direction) => {
            let at = direction as usize;
            (to.values()[at] - from.values()[at]) / from.steps()[at]
        }
        Held::Glass | Held::Alcohol => (to.served - from.served) / (0.08 * from.served),
    };
    if up { by } else { -by }
}

/// What must hold of every answer.
fn keeps(asked: &Tune<'_>, found: &Tuned<'_>) {
    assert!(!found.drinks.is_empty() && found.drinks.len() <= asked.count);
    let name = &asked.spec.name;
    for drink in &found.drinks {
        assert_eq!(figures(&drink.spec).unwrap(), drink.figures, "{name}");
        for wish in &asked.wishes {
            let by = moved(*wish, &found.figures, &drink.figures);
            assert!(by >= 1.0 - 1e-6, "{name} {}: {by}", wish.name());
        }
        if let Some(glass) = asked.glass {
            assert!(drink.figures.served <= glass.takes(), "{name}");
        }
        if let Some(most) = asked.alcohol {
            assert!(drink.figures.ethanol.grams() <= most.grams() + 0.05, "{name}");
        }
        for (line, amount) in &asked.keep {
            let own = amount.or(asked.spec.lines[*line].volume);
            assert_eq!(drink.spec.lines[*line].volume, own, "{name}");
        }
        for (before, after) in asked.spec.lines.iter().zip(&drink.spec.lines) {
            assert_eq!((&before.ingredient.id, before.role), (&after.ingredient.id, after.role));
            if matches!(after.amount.unit(), Unit::Dash | Unit::Drop | Unit::Barspoon) {
                let count = after.amount.count();
                assert!(
                    before.amount == after.amount || (count - count.round()).abs() < 1e-9,
                    "{name} {count}"
                );
            }
            assert_eq!(
                after.amount.volume(&Measures::default()).map(|v| v.ml().round()),
                after.volume.map(|v| v.ml().round()),
                "{name}"
            );
        }
        if found.equal == Some(Equal::Stay) {
            let parts = asked.spec.equal_parts().unwrap();
            let ml = |at: usize| drink.spec.lines[at].volume.unwrap().ml();
            assert!(parts.iter().all(|at| (ml(*at) - ml(parts[0])).abs() < 1e-6), "{name}");
        }
    }
}

/// Does what a way out says.
fn freed(asked: &Tune<'static>, way: &WayOut) -> Option<Tune<'static>> {
    let mut freed = asked.clone();
    match way {
        WayOut::Glass { rim } => {
            let on_ice = asked.glass?.on_ice;
            freed.glass = Some(Glass { rim: Volume::new(rim.ml() + 1e-6).unwrap(), on_ice });
        }
        WayOut::Alcohol { most } => freed.alcohol = Some(Mass::new(most.grams() + 1e-6).unwrap()),
        WayOut::Line { line, to } => {
            freed.keep.retain(|(at, _)| at != line);
            freed.most.retain(|(at, _)| at != line);
            freed.least.retain(|(at, _)| at != line);
            freed.keep.push((*line, Some(*to)));
        }
        WayOut::Uneven => freed.uneven = true,
        // Half a wish cannot be said.
        WayOut::LessOf { .. } => return None,
    }
    Some(freed)
}

#[test]
fn each_wish_is_kept_on_every_template_or_what_is_in_the_way_is_told() {
    let house = house();
    let (mut kept, mut blocked, mut none, mut freed_by) = (0, 0, 0, 0);
    for spec in classics() {
        for wish in Wish::ALL {
            let asked = Tune { wishes: vec![wish], ..asked(spec.clone()) };
            match tune(&asked, &house) {
                Ok(found) => {
                    kept += 1;
                    keeps(&asked, &found);
                }
                Err(CannotTune::Blocked { ways }) => {
                    blocked += 1;
                    for way in ways.iter().filter_map(|way| freed(&asked, way)) {
                        freed_by += 1;
                        keeps(&way, &tune(&way, &house).unwrap());
                    }
                }
                Err(CannotTune::NothingOfIt(_)) => none += 1,
                Err(other) => panic!("{} {}: {other}", spec.name, wish.name()),
            }
        }
    }
    println!("{kept} kept, {blocked} blocked, {freed_by} ways out tried, {none} have none of it");
    assert!(kept > 1000 && blocked > 10 && none > 10, "{kept} {blocked} {none}");
}

#[test]
fn a_small_glass_little_alcohol_and_a_lock_are_kept_or_the_way_out_works() {
    let house = house();
    let (mut kept, mut ways_tried) = (0, 0);
    for spec in classics() {
        let rim = Volume::new(120.0).unwrap();
        let lock = |spec: &Spec<'_>| spec.lines.iter().position(|l| l.volume.is_some_and(|v| v.ml() > 14.0));
        let locked = lock(&spec).map(|at| (at, Some(Volume::new(59.147).unwrap())));
        let alike = asked(spec.clone());
        let all = [
            Tune { glass: Some(Glass::for_drink(rim, &spec)), ..alike.clone() },
            Tune { alcohol: Some(Mass::new(14.0).unwrap()), ..alike.clone() },
            Tune { keep: locked.into_iter().collect(), wishes: vec![Wish::Weaker], ..alike.clone() },
            Tune {
                keep: locked.into_iter().collect(),
                glass: Some(Glass::for_drink(rim, &spec)),
                ..alike.clone()
            },
        ];
        for asked in all {
            match tune(&asked, &house) {
                Ok(found) => {
                    kept += 1;
                    keeps(&asked, &found);
                }
                Err(CannotTune::Blocked { ways }) => {
                    for way in ways.iter().filter_map(|way| freed(&asked, way)) {
                        ways_tried += 1;
                        keeps(&way, &tune(&way, &house).unwrap());
                    }
                }
                Err(CannotTune::NothingOfIt(_)) => {}
                Err(other) => panic!("{}: {other}", spec.name),
            }
        }
    }
    println!("{kept} kept, {ways_tried} ways out tried");
    assert!(kept > 250 && ways_tried > 50, "{kept} {ways_tried}");
}

#[test]
fn who_notices_sugar_less_is_given_more_of_a_change() {
    let house = house();
    let classics = classics();
    let daiquiri = classics.iter().find(|s| s.name.starts_with("Daiquiri")).unwrap();
    let drier = |palate: &str| {
        let palate: Palate = palate.parse().unwrap();
        let asked = Tune { wishes: vec![Wish::Drier], palate, ..asked(daiquiri.clone()) };
        tune(&asked, &house).unwrap().drinks[0].figures.sugar.grams_per_litre()
    };
    assert!(drier("sugar=25") < drier("sugar=5") - 5.0, "{} {}", drier("sugar=25"), drier("sugar=5"));
}

fn talk(lines: &[&str]) -> String {
    let style = Style { width: 80, colour: false, unicode: true };
    let mut session = Session::new(Arc::clone(&LIBRARY), Settings::default(), Today(Month::Oct), style);
    let answer = |line: &&str| {
        let outcome = session.answer(line);
        format!("> {line}\n{}{}", outcome.out, outcome.err)
    };
    lines.iter().map(answer).collect::<Vec<_>>().join("\n")
}

#[test]
fn answers_as_a_bartender_reads_them() {
    insta::assert_snapshot!(talk(&[
        "tune daiquiri too sweet",
        "tune negroni drier and less bitter",
        "tune 2 oz gin, 1 oz lime juice, 1 oz simple syrup, 2 dashes orange bitters, too sweet",
        "tune margarita weaker --keep tequila 2 oz",
        "tune manhattan --fit 4 oz",
        "tune negroni --fit 120 ml --units ml",
        "tune last word --alcohol 14",
        "tune gin and tonic too strong",
        "tune daiquiri drier --palate sugar=20 --count 1",
    ]));
}

#[test]
fn what_is_in_the_way_is_named() {
    insta::assert_snapshot!(talk(&[
        "tune margarita weaker --keep tequila 2 oz --fit 5 oz",
        "tune negroni --keep gin 2 oz",
        "tune daiquiri stronger --alcohol 10",
        "tune daiquiri sweeter --most simple syrup 1/2 oz --least lime juice 1 oz",
        "tune old fashioned longer --keep bourbon 2 oz --fit 3 oz",
    ]));
}

#[test]
fn a_drink_in_hand_is_tuned_and_taken() {
    insta::assert_snapshot!(talk(&[
        "work daiquiri",
        "tune too sweet",
        "take 1",
        "tune stronger and shorter",
        "take 2",
        "undo",
        "steps",
    ]));
}

#[test]
fn what_cannot_be_read_is_told() {
    insta::assert_snapshot!(talk(&[
        "tune",
        "tune too sweet",
        "tune daiquiri",
        "tune daiquiri drier and sweeter",
        "tune daiquiri too spicy",
        "tune daiquiri too swete",
        "tune gin too strong",
        "tune virgin mary weaker",
        "tune daiquiri --fit 5",
        "tune daiquiri --fit cups",
        "tune daiquiri --keep mezcal",
        "tune daiquiri --keep rum 2 cups",
        "tune daiquiri drier --most lime",
        "tune daiquiri drier --keep rum, rum",
        "tune mojito drier --keep mint 3 oz",
        "tune daiquiri drier --most lime 1 ml",
        "tune daiquiri drier --alcohol lots",
        "tune daiquiri drier --alcohol 9999",
        "tune daiquiri drier --palate umami=3",
        "tune daiquiri drier --palate sugar=0",
        "tune daiquiri drier --count 9",
        "tune hot toddy --fit 0 oz",
    ]));
}

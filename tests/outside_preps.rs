//! Preparations: figures from their making against published ones, and the built-in pack's records against their making.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod checks;

use std::fs;

use checks::Checks;
use medlar::book::{Book, IngredientId, read_built_in, read_packs};
use medlar::drink::{Made, made};
use medlar::measure::Measures;

/// A pack with plain things and the preparations given.
fn book(preps: &str) -> Book {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    };
    let plain = |id: &str, kind: &str, rest: &str, origin: &str| {
        format!(
            "(id: \"{id}\", name: \"{id}\", kind: {kind}, roles: [sweet], facets: {{}}, loudness: 0.1, season: all_year, {rest} allergens: [], diet: [], origin: (flavour: demo{origin})),\n"
        )
    };
    let poured =
        |id: &str, makeup: &str| plain(id, "syrup", &format!("makeup: ({makeup}),"), ", makeup: practice");
    write("pack.ron", "(format: 1, name: \"preps\")");
    write(
        "ingredients/all.ron",
        &format!(
            "[{}{}{}{}{}{}{}]",
            poured("water", ""),
            poured("sugar", "sugar: 845.4, solid: true"),
            poured("salt", "salt: 1217, solid: true"),
            poured("gin", "strength: 40"),
            poured("vinegar", "acid: 47, acetic: 47"),
            poured("made", "sugar: 1"),
            // USDA SR28, NDB 09302, raspberries, raw: 85.75 g of water, 4.42 g of sugars in 100 g.
            plain(
                "raspberry",
                "fruit",
                "flesh: (water: 85.75, sugar: 4.42),",
                ", fruit: published(\"USDA SR28, NDB 09302\")"
            ),
        ),
    );
    write("preps/all.ron", preps);
    let reading = read_packs(&[folder.path()], false);
    assert!(reading.faults.is_empty(), "{:?}", reading.faults);
    reading.book
}

fn prep(lines: &str, more: &str) -> Book {
    book(&format!(
        "[(makes: \"made\", way: syrup, lines: [{lines}], {more} steps: [\"Stir.\"], keeps: (store: fridge, opened: 30), origin: practice)]"
    ))
}

fn the_one(book: &Book) -> Made<'_> {
    made(book, &book.preps()[0], &Measures::default()).unwrap()
}

/// Source: Bubník, Kadlec, Urban, Bruhns: Sugar Technologists Manual (1995), worked apart from this program: g of sugar and
/// of water, g/L, ml made.
#[test]
fn syrups_come_to_what_the_sugar_manual_says() {
    let mut checks =
        Checks::against("Preparations, syrups by weight: Sugar Technologists Manual (1995), worked apart");
    for (sugar, water, per_litre, ml) in
        [(100.0, 100.0, 614.8, 162.6), (200.0, 100.0, 884.5, 226.1), (150.0, 100.0, 772.0, 194.3)]
    {
        let book = prep(
            &format!("(of: \"sugar\", amount: \"{sugar} g\"), (of: \"water\", amount: \"{water} g\")"),
            "",
        );
        let made = the_one(&book);
        let what = format!("{sugar} g of sugar and {water} g of water");
        checks.near(&format!("g/L of {what}"), per_litre, made.measured.sugar.grams_per_litre(), 0.1);
        checks.near(&format!("ml of {what}"), ml, made.volume.ml(), 0.06);
    }
    checks.all_agree(6);
}

/// Worked by hand. A shrub of 300 g raspberries of which 0.8 stays (205.8 g of water, 10.6 g of sugar), 300 g of sugar and
/// 300 ml of vinegar of 47 g/L acetic acid as citric: 310.6 g of sugar in all, 14.1 g of acid. Saline of 20 g in 100 g.
/// Gin that loses a tenth to the cloth keeps its strength. Syrup boiled down by 50 g of water.
#[test]
fn makings_come_to_what_is_worked_by_hand() {
    let mut checks = Checks::against("Preparations: USDA SR28 and sums, worked by hand");
    let book = prep(
        "(of: \"raspberry\", amount: \"300 g\", stays: 0.8), (of: \"sugar\", amount: \"300 g\"), (of: \"vinegar\", amount: \"300 ml\")",
        "lost: 0.1,",
    );
    let shrub = the_one(&book);
    let whole = shrub.measured.volume.ml() / 1000.0;
    checks.near("g of sugar in the shrub", 310.6, shrub.measured.sugar.grams_per_litre() * whole, 0.05);
    checks.near("g of acid in the shrub", 14.1, shrub.measured.acid.grams_per_litre() * whole, 0.01);
    checks.near("share of the shrub left", 0.9, shrub.volume.ml() / shrub.measured.volume.ml(), 1e-9);
    let book = prep("(of: \"salt\", amount: \"20 g\"), (of: \"water\", amount: \"80 g\")", "");
    let saline = the_one(&book);
    let grams = saline.measured.salt.grams_per_litre() * saline.measured.volume.ml() / 1000.0;
    checks.near("g of salt in the saline", 20.0, grams, 1e-6);
    let book =
        prep("(of: \"gin\", amount: \"700 ml\"), (of: \"raspberry\", amount: \"5 leaves\")", "lost: 0.1,");
    let infused = the_one(&book);
    checks.near("% vol of the infused gin", 40.0, infused.measured.strength.percent_vol(), 1e-9);
    checks.near("ml of the infused gin", 630.0, infused.volume.ml(), 1e-6);
    let book =
        prep("(of: \"sugar\", amount: \"100 g\"), (of: \"water\", amount: \"150 g\")", "boils_off: 50,");
    checks.near("g/L of the syrup boiled down", 614.8, the_one(&book).measured.sugar.grams_per_litre(), 0.1);
    checks.all_agree(7);
}

/// Every record that is made so says what its making comes to.
#[test]
fn the_built_in_records_are_what_their_making_comes_to() {
    let reading = read_built_in();
    let measures = Measures::default();
    let mut apart = Vec::new();
    for prep in reading.book.preps() {
        match made(&reading.book, prep, &measures) {
            Some(made) => apart.extend(made.apart().into_iter().map(|a| format!("{}: {a:?}", prep.makes))),
            None => apart.push(format!("{}: makes nothing", prep.makes)),
        }
    }
    assert!(apart.is_empty(), "{}", apart.join("\n"));
}

/// What goes in brings its allergens along: the made ingredient's record has them too.
#[test]
fn the_built_in_records_carry_the_allergens_of_what_goes_in() {
    let reading = read_built_in();
    let measures = Measures::default();
    let mut missing = Vec::new();
    for made in reading.book.preps().iter().filter_map(|prep| made(&reading.book, prep, &measures)) {
        let lost: Vec<_> = made.allergens.difference(&made.ingredient.allergens).collect();
        if !lost.is_empty() {
            missing.push(format!("{}: {lost:?}", made.ingredient.id));
        }
    }
    assert!(missing.is_empty(), "{}", missing.join("\n"));
}

#[test]
fn a_preparation_is_found_by_what_it_makes() {
    let book = prep("(of: \"sugar\", amount: \"100 g\"), (of: \"water\", amount: \"100 g\")", "");
    assert!(book.prep_of(&IngredientId::new("made").unwrap()).is_some());
    assert!(book.prep_of(&IngredientId::new("gin").unwrap()).is_none());
}

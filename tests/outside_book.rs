//! The built-in pack against the outside: sugar tables, the law's list of allergens, trade facts.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::collections::BTreeSet;

use medlar::book::{Allergen, Book, IngredientId, read_built_in};

fn sugar(book: &Book, id: &str) -> f64 {
    let ingredient = book.ingredient(&IngredientId::new(id).unwrap()).unwrap();
    ingredient.makeup.unwrap().sugar.grams_per_litre()
}

/// Source: USDA National Nutrient Database, Standard Reference 28 (2015), public domain: sugars, g in 100 g. Densities, g/ml,
/// are those of household measures there or of sugar solutions as strong, good to 2 %; agave's is *from memory*.
/// Tolerance: 5 %.
#[test]
fn sugar_of_juices_and_syrups_is_that_of_the_tables() {
    let book = read_built_in().book;
    let table = [
        // NDB 09016, Apple juice, canned or bottled, unsweetened, without added ascorbic acid.
        ("apple-juice", 9.62, 1.0482),
        // NDB 11655, Carrot juice, canned.
        ("carrot-juice", 3.91, 1.03),
        // NDB 14090, Beverages, Coconut water, ready-to-drink, unsweetened.
        ("coconut-water", 3.92, 1.0356),
        // NDB 14242, Cranberry juice cocktail, bottled.
        ("cranberry-juice", 11.87, 1.0685),
        // NDB 09135, Grape juice, canned or bottled, unsweetened, without added ascorbic acid.
        ("grape-juice", 14.2, 1.0685),
        // NDB 09128, Grapefruit juice, white, raw.
        ("grapefruit-juice", 9.1, 1.0449),
        // NDB 09152, Lemon juice, raw.
        ("lemon-juice", 2.52, 1.0313),
        // NDB 09160, Lime juice, raw.
        ("lime-juice", 1.69, 1.0415),
        // NDB 09206, Orange juice, raw.
        ("orange-juice", 8.4, 1.0482),
        // NDB 09273, Pineapple juice, canned or bottled, unsweetened, without added ascorbic acid.
        ("pineapple-juice", 9.98, 1.0584),
        // NDB 09442, Pomegranate juice, bottled.
        ("pomegranate-juice", 12.65, 1.0618),
        // NDB 11540, Tomato juice, canned, with salt added.
        ("tomato-juice", 2.58, 1.0257),
        // NDB 19912, Sweetener, syrup, agave.
        ("agave-syrup", 68.03, 1.37),
        // NDB 19296, Honey.
        ("honey", 82.12, 1.4329),
        // NDB 19296, Honey (two parts in three with water).
        ("honey-syrup", 54.75, 1.259),
        // NDB 19353, Syrups, maple.
        ("maple-syrup", 60.46, 1.3314),
    ];
    assert!(table.len() >= 12);
    for (id, grams_in_100, density) in table {
        let published = grams_in_100 * 10.0 * density;
        let ours = sugar(&book, id);
        assert!((ours / published - 1.0).abs() <= 0.05, "{id}: {ours} against {published}");
    }
}

/// Source: Regulation (EU) No 1169/2011, Annex II: fourteen groups.
#[test]
fn the_allergens_are_those_of_the_law() {
    let law = [
        "gluten",
        "crustaceans",
        "eggs",
        "fish",
        "peanuts",
        "soybeans",
        "milk",
        "nuts",
        "celery",
        "mustard",
        "sesame",
        "sulphites",
        "lupin",
        "molluscs",
    ];
    let ours: Vec<&str> = Allergen::ALL.iter().map(|a| a.name()).collect();
    assert_eq!(ours, law);
}

/// Source: the same Annex, for what each group covers.
#[test]
fn what_the_law_names_is_marked() {
    let book = read_built_in().book;
    let cases = [
        ("orgeat", Allergen::Nuts),
        ("almond", Allergen::Nuts),
        ("peanut", Allergen::Peanuts),
        ("sesame", Allergen::Sesame),
        ("egg-white", Allergen::Eggs),
        ("whole-egg", Allergen::Eggs),
        ("cream", Allergen::Milk),
        ("butter", Allergen::Milk),
        ("cream-liqueur", Allergen::Milk),
        ("soy-sauce", Allergen::Soybeans),
        ("soy-sauce", Allergen::Gluten),
        ("worcestershire-type-sauce", Allergen::Fish),
        ("celery-bitters", Allergen::Celery),
        ("lager", Allergen::Gluten),
        ("stout", Allergen::Gluten),
        ("sweet-vermouth", Allergen::Sulphites),
        ("red-wine", Allergen::Sulphites),
        ("oyster", Allergen::Molluscs),
        ("scallop", Allergen::Molluscs),
        ("crab", Allergen::Crustaceans),
        ("lobster", Allergen::Crustaceans),
        ("anchovy", Allergen::Fish),
    ];
    for (id, allergen) in cases {
        let ingredient = book.ingredient(&IngredientId::new(id).unwrap()).unwrap();
        assert!(ingredient.allergens.contains(&allergen), "{id} {allergen}");
    }
}

/// *Common practice, no source*: pairs that the trade takes for granted stand high.
#[test]
fn pairs_that_the_trade_takes_for_granted_stand_high() {
    let book = read_built_in().book;
    let graph = medlar::pairing::Graph::new(&book);
    let pairs = [
        ("mint", "lime"),
        ("london-dry-gin", "tonic-water"),
        ("rye-whiskey", "sweet-vermouth"),
        ("white-rum", "lime-juice"),
        ("tomato", "basil"),
        ("oyster", "lemon"),
        ("pear", "blue-cheese"),
        ("quince", "aged-hard-cheese"),
        ("coffee", "cacao"),
        ("strawberry", "cream"),
    ];
    for (a, b) in pairs {
        let id = |text: &str| IngredientId::new(text).unwrap();
        let tie = graph.tie(&id(a), &id(b));
        assert!(tie.is_some_and(|t| t.affinity.value() >= 0.75), "{a} {b} {:?}", tie.map(|t| t.affinity));
    }
}

/// Every fact has an origin, and what is demo says so: flavour of the built-in pack is never called published.
#[test]
fn flavour_is_never_dressed_up_as_measurement() {
    let book = read_built_in().book;
    let origins: BTreeSet<String> = book.ingredients().iter().map(|i| i.origin.flavour.to_string()).collect();
    assert_eq!(origins.into_iter().collect::<Vec<_>>(), ["demo (invented)"]);
    assert!(book.edges().iter().all(|e| e.origin.to_string() == "demo (invented)"));
}

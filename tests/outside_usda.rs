//! Every record that names a food of USDA SR28 against that food.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::collections::BTreeMap;

use medlar::book::{Ingredient, Origin, read_built_in};
use medlar::drink::contents_of;
use medlar::liquid::Parts;
use medlar::measure::Volume;

/// Water and sugars, g in 100 g.
struct Food {
    water: Option<f64>,
    sugars: Option<f64>,
}

/// USDA National Nutrient Database for Standard Reference, release 28 (2015), public domain: the rows that the pack names.
const TABLE: &str = include_str!("outside/usda_sr28.csv");

fn foods() -> BTreeMap<&'static str, Food> {
    let row = |line: &'static str| {
        let (ndb, rest) = line.split_once(',').unwrap();
        // The name may hold commas; the figures are the last two fields.
        let mut fields = rest.rsplitn(3, ',');
        let (sugars, water) = (fields.next().unwrap(), fields.next().unwrap());
        (ndb, Food { water: water.parse().ok(), sugars: sugars.parse().ok() })
    };
    TABLE.lines().skip(1).map(row).collect()
}

/// The number of the food that an origin names first.
fn named(origin: Option<&Origin>) -> Option<&str> {
    let Some(Origin::Published(source)) = origin else { return None };
    source.split_once("NDB ").map(|(_, rest)| &rest[..5])
}

/// Why a record's sugar is not that of the food it names.
const EXPLAINED: [(&str, &str); 5] = [
    ("honey-syrup", "two parts of honey in three with water"),
    ("malted-milk", "powder, by its bulk"),
    ("molasses", "the table's sugars are all its carbohydrate; the kinds add up to 54.1 g"),
    ("pomegranate-molasses", "five volumes of the juice boiled down to one"),
    ("sugar", "dry, by its bulk"),
];

/// Those of which only the shares of the kinds are taken: the origin says so.
fn shares_alone(ingredient: &Ingredient) -> bool {
    matches!(&ingredient.origin.makeup, Some(Origin::Published(source)) if source.contains("shares of glucose"))
}

/// Sugars within 15 % (or 0.5 g in 100 g) of the food that the record names, but for those explained.
#[test]
fn sugar_is_that_of_the_food_named() {
    let (book, foods) = (read_built_in().book, foods());
    let (mut compared, mut apart) = (0, Vec::new());
    for ingredient in book.ingredients() {
        let (Some(ndb), Some(makeup)) = (named(ingredient.origin.makeup.as_ref()), ingredient.makeup) else {
            continue;
        };
        if shares_alone(ingredient) || EXPLAINED.iter().any(|(id, _)| *id == ingredient.id.as_str()) {
            continue;
        }
        let food = &foods[ndb];
        let litre = Parts::of_liquid(Volume::clamped(1000.0), &contents_of(&makeup)).unwrap();
        let ours = 100.0 * makeup.sugar.grams_per_litre() / litre.mass().grams();
        let published = food.sugars.unwrap();
        println!("{} | NDB {ndb} | {published} | {ours:.2} g sugar in 100 g", ingredient.id);
        compared += 1;
        if (ours - published).abs() > (0.15 * published).max(0.5) {
            apart.push(format!("{}: {ours:.2} against {published}", ingredient.id));
        }
    }
    assert!(apart.is_empty(), "{}", apart.join("\n"));
    assert!(compared >= 60, "{compared}");
}

/// Water within 1 g and sugars within 15 % (or 0.5 g) of the food that the record names.
#[test]
fn flesh_is_that_of_the_food_named() {
    let (book, foods) = (read_built_in().book, foods());
    let (mut compared, mut apart) = (0, Vec::new());
    for ingredient in book.ingredients() {
        let (Some(ndb), Some(flesh)) = (named(ingredient.origin.fruit.as_ref()), ingredient.flesh) else {
            continue;
        };
        let food = &foods[ndb];
        compared += 1;
        let water = food.water.unwrap();
        if (flesh.water.in_100_g() - water).abs() > 1.0 {
            apart.push(format!("{}: {} of water against {water}", ingredient.id, flesh.water));
        }
        let Some(sugars) = food.sugars else { continue };
        println!("{} | NDB {ndb} | {water} {sugars} | {} {}", ingredient.id, flesh.water, flesh.sugar);
        if (flesh.sugar.in_100_g() - sugars).abs() > (0.15 * sugars).max(0.5) {
            apart.push(format!("{}: {} of sugar against {sugars}", ingredient.id, flesh.sugar));
        }
    }
    assert!(apart.is_empty(), "{}", apart.join("\n"));
    assert!(compared >= 60, "{compared}");
}

/// What is explained is really apart, so that no explanation outlives its reason.
#[test]
fn what_is_explained_needs_explaining() {
    let (book, foods) = (read_built_in().book, foods());
    for (id, why) in EXPLAINED {
        let ingredient = book.ingredients().iter().find(|i| i.id.as_str() == id).unwrap();
        let ndb = named(ingredient.origin.makeup.as_ref()).unwrap();
        let makeup = ingredient.makeup.unwrap();
        let litre = Parts::of_liquid(Volume::clamped(1000.0), &contents_of(&makeup))
            .map_or(1000.0, |p| p.mass().grams());
        let ours = 100.0 * makeup.sugar.grams_per_litre() / litre;
        let published = foods[ndb].sugars.unwrap();
        assert!(
            makeup.solid || (ours - published).abs() > (0.15 * published).max(0.5),
            "{id} ({why}): {ours} {published}"
        );
    }
}

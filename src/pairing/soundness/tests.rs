use std::borrow::Cow;

use super::*;
use crate::book::{Book, Content, Kind, Source, read};

/// An ingredient with nothing in it; a test replaces the field it is about.
fn thing(id: &str, kind: &str) -> String {
    format!(
        "(id: \"{id}\", name: \"{id}\", kind: {kind}, roles: [base, sweet], facets: {{honey: 0.5}}, loudness: 0.5, \
         season: all_year, allergens: [], diet: [], made_from: [], cautions: [], origin: (flavour: demo))"
    )
}

fn made(id: &str, kind: &str, from: &str) -> String {
    thing(id, kind).replace("made_from: []", &format!("made_from: [\"{from}\"]"))
}

fn poured(id: &str, kind: &str, sugar: f64, origin: &str) -> String {
    thing(id, kind)
        .replace("season:", &format!("makeup: (sugar: {sugar:?}), season:"))
        .replace("(flavour: demo)", &format!("(flavour: demo, makeup: {origin})"))
}

fn sheet(of: &str, with: &[(&str, f64)], clashes: &[&str]) -> String {
    let with: Vec<String> = with.iter().map(|(id, value)| format!("(\"{id}\", {value:?})")).collect();
    let clashes: Vec<String> = clashes.iter().map(|id| format!("(\"{id}\", \"because\")")).collect();
    format!(
        "(of: \"{of}\", origin: demo, goes_with: [{}], clashes: [{}])",
        with.join(", "),
        clashes.join(", ")
    )
}

fn book(ingredients: &[String], sheets: &[String], templates: &[String]) -> Book {
    let cautions = ["(id: \"hot\", text: \"Ask your local authority.\", origin: practice)".to_owned()];
    let source = |content: Content, records: &[String]| Source {
        path: format!("{content:?}"),
        content,
        text: Cow::Owned(format!("[{}]", records.join(",\n"))),
    };
    let reading = read(
        vec![
            source(Content::Cautions, &cautions),
            source(Content::Ingredients, ingredients),
            source(Content::Affinities, sheets),
            source(Content::Templates, templates),
        ],
        Vec::new(),
    );
    assert!(reading.faults.is_empty(), "{:?}", reading.faults);
    reading.book
}

fn ids(ingredients: &[&Ingredient]) -> Vec<String> {
    ingredients.iter().map(|i| i.id.to_string()).collect()
}

fn untold<T: Clone>(all: &[Untold<'_, T>]) -> Vec<(String, String, Vec<T>)> {
    all.iter().map(|u| (u.made.id.to_string(), u.from.id.to_string(), u.what.clone())).collect()
}

/// What is told of a book of ingredients and sheets.
fn told(ingredients: &[String], sheets: &[String], tell: impl Fn(&Soundness<'_>)) {
    let book = book(ingredients, sheets, &[]);
    tell(&Graph::new(&book).soundness());
}

#[test]
fn allergens_are_followed_through_what_a_thing_is_made_from() {
    let almond = thing("almond", "nut_and_seed").replace("allergens: []", "allergens: [nuts]");
    let telling = made("orgeat", "syrup", "almond").replace("allergens: []", "allergens: [nuts]");
    let ingredients =
        [almond, telling, made("paste", "sweetener", "almond"), made("biscuit", "savoury_food", "paste")];
    told(&ingredients, &[], |sound| {
        let expected =
            ["biscuit", "paste"].map(|m| (m.to_owned(), "almond".to_owned(), vec![Allergen::Nuts]));
        assert_eq!(untold(&sound.untold_allergens), expected);
    });
}

#[test]
fn distilling_lets_go_what_the_rule_lets_go_and_nothing_else() {
    // The malt tells all it should, so that what lies beyond it is reached through two steps under the spirit.
    let brings = "allergens: [gluten, sulphites]";
    let barley =
        thing("barley", "savoury_food").replace("allergens: []", "allergens: [gluten, sulphites, milk]");
    let malt = made("malt", "savoury_food", "barley").replace("allergens: []", brings);
    let ingredients = [barley, malt, made("whisky", "spirit", "malt"), made("cream", "liqueur", "whisky")];
    told(&ingredients, &[], |sound| {
        let row = |made: &str, from: &str, what| (made.to_owned(), from.to_owned(), vec![what]);
        let expected = [
            row("cream", "malt", Allergen::Sulphites),
            row("malt", "barley", Allergen::Milk),
            row("whisky", "malt", Allergen::Sulphites),
        ];
        assert_eq!(untold(&sound.untold_allergens), expected);
    });
}

#[test]
fn things_made_from_each_other_come_to_an_end() {
    let hen = made("hen", "savoury_food", "egg").replace("allergens: []", "allergens: [eggs]");
    told(&[hen, made("egg", "dairy_and_egg", "hen")], &[], |sound| {
        let expected = [("egg".to_owned(), "hen".to_owned(), vec![Allergen::Eggs])];
        assert_eq!(untold(&sound.untold_allergens), expected);
    });
}

#[test]
fn cautions_are_followed_too() {
    let root = thing("root", "spice").replace("cautions: []", "cautions: [\"hot\"]");
    let telling = made("tea", "tea_and_coffee", "root").replace("cautions: []", "cautions: [\"hot\"]");
    told(&[root, telling, made("syrup", "syrup", "root")], &[], |sound| {
        let expected = [("syrup".to_owned(), "root".to_owned(), vec![CautionId::new("hot").unwrap()])];
        assert_eq!(untold(&sound.untold_cautions), expected);
    });
}

#[test]
fn a_vegan_mark_on_what_is_made_from_something_that_is_not_is_told() {
    let honest = thing("honey", "sweetener").replace("diet: []", "diet: [vegetarian]");
    let marked = made("honey-syrup", "syrup", "honey").replace("diet: []", "diet: [vegan, vegetarian]");
    let right = made("mead", "wine", "honey").replace("diet: []", "diet: [vegetarian]");
    told(&[honest, marked, right], &[], |sound| {
        let expected = [("honey-syrup".to_owned(), "honey".to_owned(), vec![Diet::Vegan])];
        assert_eq!(untold(&sound.untrue_diets), expected);
    });
}

#[test]
fn what_is_poured_needs_a_makeup() {
    let ingredients =
        [thing("gin", "spirit"), poured("rum", "spirit", 1.0, "practice"), thing("ham", "savoury_food")];
    told(&ingredients, &[], |sound| assert_eq!(ids(&sound.without_makeup), ["gin"]));
}

/// Gin with lime, a clash with syrup; bitters known to nobody; lime and its juice are one to each other.
#[test]
fn lines_of_a_classic_that_clash_or_stand_alone_are_told() {
    let spirit = |id: &str| poured(id, "spirit", 1.0, "practice");
    let juice =
        poured("lime-juice", "juice", 1.0, "practice").replace("made_from: []", "made_from: [\"lime\"]");
    let ingredients = [spirit("gin"), spirit("lime"), juice, spirit("syrup"), spirit("bitters")];
    let sheets = [sheet("gin", &[("lime", 0.9)], &["syrup"]), sheet("syrup", &[("lime", 0.8)], &[])];
    let template = |id: &str, classics: &[&str]| {
        let slots: Vec<String> =
            classics.iter().map(|c| format!("(role: base, classic: \"{c}\", amount: \"1 oz\")")).collect();
        format!(
            "(id: \"{id}\", name: \"{id}\", family: sour, method: shaken, glass: \"coupe\", slots: [{}], garnish: [], \
             essence: \"x\", origin: practice)",
            slots.join(", ")
        )
    };
    let templates = [
        template("gimlet", &["gin", "lime", "syrup", "bitters", "gin"]),
        template("forms", &["lime", "lime-juice"]),
        template("neat", &["bitters"]),
    ];
    let book = book(&ingredients, &sheets, &templates);
    let sound = Graph::new(&book).soundness();
    let at_odds: Vec<_> = sound
        .at_odds
        .iter()
        .map(|a| (a.template.id.as_str(), a.filler.id.as_str(), a.with.id.as_str()))
        .collect();
    assert_eq!(at_odds, [("gimlet", "gin", "syrup")]);
    let alone: Vec<_> = sound.alone.iter().map(|a| (a.template.id.as_str(), a.filler.id.as_str())).collect();
    assert_eq!(alone, [("gimlet", "bitters")]);
}

#[test]
fn forms_that_disagree_with_their_source_are_told_widest_first() {
    let mut ingredients = vec![thing("pear", "fruit"), made("pear-brandy", "spirit", "pear")];
    ingredients.extend(["cheese", "walnut", "mint", "oyster", "honey"].map(|id| thing(id, "savoury_food")));
    let sheets = [
        sheet("pear", &[("cheese", 0.9), ("walnut", 0.8), ("mint", 0.7), ("honey", 0.9)], &["oyster"]),
        // 0.9 to a clash, 0.8 to 0.44, 0.7 to 0.36 (within), a clash to 0.5; of honey nothing is known.
        sheet("pear-brandy", &[("walnut", 0.44), ("mint", 0.36), ("oyster", 0.5)], &["cheese"]),
    ];
    told(&ingredients, &sheets, |sound| {
        let found: Vec<_> = sound.contradictions.iter().map(|c| (c.other.id.as_str(), c.gap())).collect();
        let names: Vec<&str> = found.iter().map(|(id, _)| *id).collect();
        assert_eq!(names, ["cheese", "oyster", "walnut"]);
        for ((_, gap), expected) in found.iter().zip([0.9, 0.5, 0.36]) {
            assert!((gap - expected).abs() < 1e-12, "{gap} {expected}");
        }
        assert!(sound.contradictions.iter().all(|c| c.form.id.as_str() == "pear-brandy"));
    });
}

/// A hub with eight spokes, of which one has a companion of its own; and one that stands apart.
fn wheel() -> (Vec<String>, Vec<String>) {
    let spokes: Vec<String> = (0..8).map(|n| format!("spoke-{n}")).collect();
    let mut ingredients: Vec<String> = spokes.iter().map(|id| thing(id, "herb")).collect();
    ingredients.extend([thing("hub", "fruit"), thing("hermit", "flower")]);
    let with: Vec<(&str, f64)> = spokes.iter().map(|id| (id.as_str(), 0.6)).collect();
    let noted = sheet("spoke-0", &[("spoke-1", 0.5)], &["hermit"]).replace("0.5)", "0.5, \"why\")");
    (ingredients, vec![sheet("hub", &with, &[]), noted])
}

#[test]
fn under_eight_affinities_are_few() {
    let (ingredients, sheets) = wheel();
    told(&ingredients, &sheets, |sound| {
        let few: Vec<_> =
            sound.few_affinities.iter().map(|f| (f.ingredient.id.as_str(), f.affinities)).collect();
        assert_eq!(few[0], ("hermit", 0));
        assert_eq!(few[1], ("spoke-2", 1), "fewest first, then by id");
        assert_eq!(few[8], ("spoke-1", 2));
        assert_eq!(few.len(), 9, "the hub's eight are enough");
    });
}

#[test]
fn affinities_with_one_kind_alone_are_lopsided() {
    let (ingredients, sheets) = wheel();
    told(&ingredients, &sheets, |sound| {
        let found: Vec<_> =
            sound.one_kind.iter().map(|o| (o.ingredient.id.as_str(), o.kind, o.affinities)).collect();
        // Spokes 0 and 1 have a herb and a fruit; the others have one affinity, which says nothing.
        assert_eq!(found, [("hub", Kind::Herb, 8)]);
    });
}

#[test]
fn affinities_without_a_note_are_told() {
    let (ingredients, sheets) = wheel();
    told(&ingredients, &sheets, |sound| {
        let silent = ids(&sound.without_note);
        assert_eq!(silent.len(), 7);
        for absent in ["spoke-0", "spoke-1", "hermit"] {
            assert!(!silent.contains(&absent.to_owned()), "{absent}");
        }
    });
}

#[test]
fn what_has_no_clash_is_told() {
    let (ingredients, sheets) = wheel();
    told(&ingredients, &sheets, |sound| {
        let without = ids(&sound.without_clash);
        assert_eq!(without.len(), 8);
        assert!(!without.contains(&"hermit".to_owned()) && !without.contains(&"spoke-0".to_owned()));
    });
}

#[test]
fn practice_sugar_is_told_of_juices_and_syrups_that_have_some() {
    let ingredients = [
        poured("juice", "juice", 90.0, "practice"),
        poured("dry-juice", "juice", 0.0, "practice"),
        poured("known-juice", "juice", 90.0, "published(\"a table\")"),
        poured("liqueur", "liqueur", 90.0, "practice"),
        poured("syrup", "syrup", 600.0, "practice"),
    ];
    told(&ingredients, &[], |sound| assert_eq!(ids(&sound.practice_sugar), ["juice", "syrup"]));
}

#[test]
fn what_grows_and_comes_all_year_is_told() {
    let fresh = thing("cherry", "fruit")
        .replace("all_year", "months(peak: [jun])")
        .replace("(flavour: demo)", "(flavour: demo, season: practice)");
    let ingredients = [thing("lemon", "fruit"), fresh, thing("ham", "savoury_food"), thing("rose", "flower")];
    told(&ingredients, &[], |sound| assert_eq!(ids(&sound.all_year), ["lemon", "rose"]));
}

#[test]
fn kinds_with_few_ingredients_are_told() {
    let herbs = (0..5).map(|n| thing(&format!("herb-{n}"), "herb"));
    let fruit = (0..4).map(|n| thing(&format!("fruit-{n}"), "fruit"));
    told(&herbs.chain(fruit).collect::<Vec<_>>(), &[], |sound| {
        let small = |kind| sound.small_kinds.iter().find(|k| k.kind == kind).map(|k| k.ingredients);
        assert_eq!(small(Kind::Herb), None);
        assert_eq!(small(Kind::Fruit), Some(4));
        assert_eq!(small(Kind::Spirit), Some(0));
        assert_eq!(sound.small_kinds.last().map(|k| k.kind), Some(Kind::Fruit), "smallest first");
    });
}

#[test]
fn the_shape_and_the_counts_are_those_of_the_wheel() {
    let (ingredients, sheets) = wheel();
    told(&ingredients, &sheets, |sound| {
        let pieces: Vec<usize> = sound.shape.pieces.iter().map(Vec::len).collect();
        assert_eq!(pieces, [9, 1]);
        assert_eq!(ids(&sound.shape.pieces[1]), ["hermit"]);
        assert_eq!(sound.shape.kinds_cut_off, [Kind::Flower]);
        // Degrees: 0, six of 1, two of 2, 8.
        let steps = vec![Step { from: 0, to: 7, ingredients: 9 }, Step { from: 8, to: 15, ingredients: 1 }];
        assert_eq!(sound.shape.degrees, Degrees { least: 0, median: 1.0, most: 8, steps });
        assert_eq!((sound.counts.affinities, sound.counts.noted_affinities), (9, 1));
        assert_eq!((sound.counts.clashes, sound.counts.noted_clashes), (1, 1));
        assert_eq!((sound.counts.ingredients, sound.counts.kinds), (10, 3));
        assert!((sound.counts.noted_share().unwrap() - 1.0 / 9.0).abs() < 1e-12);
    });
}

#[test]
fn the_median_of_an_even_number_lies_between() {
    // A path of four: two have one, two have two.
    let ingredients = ["a", "b", "c", "d"].map(|id| thing(id, "herb"));
    let sheets = [sheet("a", &[("b", 0.5)], &[]), sheet("c", &[("b", 0.5), ("d", 0.5)], &[])];
    told(&ingredients, &sheets, |sound| {
        assert!((sound.shape.degrees.median - 1.5).abs() < 1e-12);
        assert_eq!(sound.shape.kinds_cut_off, [], "one kind is cut off from nothing");
    });
}

#[test]
fn an_empty_book_has_no_shape() {
    told(&[], &[], |sound| {
        assert!(sound.shape.pieces.is_empty());
        assert_eq!(sound.shape.degrees.steps, [Step { from: 0, to: 7, ingredients: 0 }]);
        assert_eq!(sound.counts.noted_share(), None);
    });
}

#[test]
fn the_built_in_pack_hangs_together() {
    let book = crate::book::read_built_in().book;
    let sound = Graph::new(&book).soundness();
    assert_eq!(sound.shape.pieces.len(), 1);
    assert_eq!(sound.shape.kinds_cut_off, []);
    assert!(sound.shape.degrees.median > 20.0, "{}", sound.shape.degrees.median);
    let few: Vec<_> = sound.few_affinities.iter().map(|f| f.ingredient.id.as_str()).collect();
    assert_eq!(few, [""; 0]);
}

//! Stand-ins with what follows from them: read as a bartender would read them, and laws over the whole built-in pack.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::collections::BTreeSet;
use std::sync::{Arc, LazyLock};

use medlar::book::{
    Allergen, Book, Climate, Content, Diet, Ingredient, IngredientId, Reading, Source, Template, When, read,
    read_built_in,
};
use medlar::console::{Library, Session, Settings, Today};
use medlar::drink::{House, Spec, figures};
use medlar::measure::{Hemisphere, Jigger, Month, Volume};
use medlar::pairing::{Filter, Graph};
use medlar::report::Style;
use medlar::riff::{Alike, SwapIn, SwappedIn, equivalents, spooned, swap_in};

static READING: LazyLock<Reading> = LazyLock::new(read_built_in);
static LIBRARY: LazyLock<Arc<Library>> = LazyLock::new(|| Arc::new(Library::of(read_built_in()).unwrap()));

fn book() -> &'static Book {
    &READING.book
}

fn house(jigger: Jigger) -> House {
    House::new(jigger, When { month: Month::Oct, hemisphere: Hemisphere::North, climate: Climate::Cool })
}

fn talk(width: usize, lines: &[&str]) -> String {
    let style = Style { width, colour: false, unicode: true };
    let mut session = Session::new(Arc::clone(&LIBRARY), Settings::default(), Today(Month::Oct), style);
    let told: Vec<String> = lines
        .iter()
        .map(|line| {
            let outcome = session.answer(line);
            assert_eq!(outcome.status == 0, outcome.err.is_empty(), "{line}");
            for text in outcome.out.lines().filter(|_| !line.contains("--json")) {
                assert!(text.chars().count() <= width, "{line}: too wide: {text}");
            }
            format!("> {line}\n{}{}", outcome.out, outcome.err)
        })
        .collect();
    told.join("\n")
}

#[test]
fn drinks_with_a_stand_in_read_well() {
    let drinks = [
        ("margarita", "swap orange liqueur --in margarita --without nuts"),
        (
            "margarita_without_curacao",
            "swap orange liqueur --in margarita --no curaçao, limoncello, grapefruit liqueur",
        ),
        ("mai_tai_without_nuts", "swap orgeat --in mai tai --without nuts"),
        ("boston_sour_without_egg", "swap egg white --in boston sour --without eggs --suits vegan"),
        ("daiquiri_lime", "swap lime juice --in daiquiri"),
        ("daiquiri_syrup", "swap simple syrup --in daiquiri --units ml"),
        ("negroni_bitter", "swap red bitter liqueur --in negroni --limit 4"),
        ("negroni_vermouth", "swap sweet vermouth --in negroni --limit 4"),
        ("brandy_alexander_without_milk", "swap cream --in brandy alexander --without milk --suits vegan"),
    ];
    for (name, line) in drinks {
        insta::assert_snapshot!(format!("in_{name}"), talk(80, &[line]));
    }
}

#[test]
fn six_stand_ins_in_a_drink_fit_a_page() {
    for line in [
        "swap orange liqueur --in margarita",
        "swap lime juice --in daiquiri",
        "swap egg white --in boston sour",
    ] {
        let told = talk(80, &[line]);
        let sixth = told.lines().position(|l| l.starts_with("6 ")).unwrap();
        // The sixth takes four lines at most.
        assert!(sixth + 4 <= 44, "{line}: the sixth begins in line {sixth}");
    }
}

#[test]
fn amounts_that_are_worth_a_measure_read_well() {
    let lines = [
        "swap lime juice",
        "swap simple syrup",
        "swap honey syrup --units ml",
        "swap lemon juice --without sulphites",
    ];
    for (name, line) in ["lime_juice", "simple_syrup", "honey_syrup_ml", "lemon_juice"].iter().zip(lines) {
        insta::assert_snapshot!(format!("alone_{name}"), talk(80, &[line]));
    }
}

#[test]
fn a_mixture_can_be_taken_explained_and_balanced() {
    insta::assert_snapshot!(talk(
        60,
        &[
            "swap orange liqueur --in margarita --have vodka, orange oleo saccharum",
            "explain 1",
            "take 1",
            "swap falernum",
            "balance 7",
            "explain 7",
        ]
    ));
}

#[test]
fn bad_questions_get_a_clear_answer() {
    insta::assert_snapshot!(talk(
        80,
        &[
            "swap orange liqueur --no unobtainium",
            "swap orange liqueur --in margarita --no curacoa, cognacc",
            "swap orange liqueur --in margarita --have",
            "swap orange liqueur --have ,",
            "swap orange liqueur --in margarita --have cognac, phlogiston",
            "swap egg white --in whiskey sour --without eggs",
            "swap orange liqueur --in margarita --without oranges",
            "swap orange liqueur --explain 40",
            "swap orange liqueur --in margarita --explain 40",
            "swap lime juice --have vodka",
            "swap lime juice --in daiquiri --have vodka",
            "swap margarita",
            "swap aromatic bitters --in manhattan --have angelica",
        ]
    ));
}

#[test]
fn json_has_what_the_text_says() {
    let told = |line: &str| -> serde_json::Value {
        let text = talk(80, &[line]);
        serde_json::from_str(text.lines().nth(1).unwrap()).unwrap()
    };
    let swap = told("swap egg white --in boston sour --without eggs --json");
    assert_eq!(swap["stand_ins"][0]["id"], "chickpea-water");
    assert_eq!(swap["stand_ins"][0]["changes"]["allergens_lost"], serde_json::json!(["eggs"]));
    assert_eq!(swap["stand_ins"][0]["changes"]["diets_gained"], serde_json::json!(["vegan"]));
    assert_eq!(swap["stand_ins"][0]["changes"]["cautions_lost"], serde_json::json!(["raw-egg"]));
    let swap = told("swap maraschino --in aviation --json");
    let first = &swap["mixtures"][0];
    let shares: f64 = first["parts"].as_array().unwrap().iter().map(|p| p["share"].as_f64().unwrap()).sum();
    assert!((shares - 1.0).abs() < 1e-12);
    let closer = first["score"].as_f64().unwrap() - swap["stand_ins"][0]["score"].as_f64().unwrap();
    assert!((closer - first["closer_by"].as_f64().unwrap()).abs() < 1e-12);
    let alone = told("swap lime juice --json");
    assert_eq!(alone["equivalents"]["alike"], "sour");
    assert_eq!(alone["equivalents"]["found"][0]["id"], "lemon-juice");
}

/// A small pack in which a syrup forgets the nuts that it is made from.
fn forgetful() -> Reading {
    let one = |id: &str, kind: &str, roles: &str, facets: &str, more: &str| {
        format!(
            "(id: \"{id}\", name: \"{id}\", kind: {kind}, roles: [{roles}], facets: {{{facets}}}, loudness: 0.4, \
             season: all_year, diet: [], origin: (flavour: demo, makeup: practice), makeup: (sugar: 600), {more})"
        )
    };
    let all = [
        one("walnut", "nut_and_seed", "garnish", "nut: 0.8", "allergens: [nuts]"),
        one("walnut-paste", "nut_and_seed", "", "nut: 0.8", "allergens: [], made_from: [\"walnut\"]"),
        one("paste-syrup", "syrup", "sweet", "nut: 0.9", "allergens: [], made_from: [\"walnut-paste\"]"),
        one("nut-syrup", "syrup", "sweet", "nut: 0.8, spice: 0.5", "allergens: [nuts]"),
        one("spice-syrup", "syrup", "sweet", "spice: 0.9", "allergens: []"),
        one("other-syrup", "syrup", "sweet", "nut: 0.4, honey: 0.6", "allergens: []"),
    ];
    let source = |content, text: String| Source { path: "pack".to_owned(), content, text: text.into() };
    read(vec![source(Content::Ingredients, format!("[{}]", all.join(",\n")))], Vec::new())
}

#[test]
fn what_is_made_from_an_allergen_is_out_though_its_record_forgets_it() {
    let reading = forgetful();
    assert!(reading.faults.is_empty(), "{:?}", reading.faults);
    let graph = Graph::new(&reading.book);
    let of = IngredientId::new("nut-syrup").unwrap();
    let names = |filter: &Filter| -> Vec<String> {
        let found = graph.stand_ins(&of, &[], filter, 9).unwrap();
        found.found.iter().map(|s| s.ingredient.id.to_string()).collect()
    };
    assert!(names(&Filter::default()).contains(&"paste-syrup".to_owned()));
    let filter = Filter { without: BTreeSet::from([Allergen::Nuts]), ..Filter::default() };
    assert_eq!(names(&filter), ["spice-syrup", "other-syrup"]);
    let share = [0.5];
    let parts = |filter: &Filter| -> Vec<String> {
        let found = graph.mixtures(&of, &[], filter, &share, 9);
        found.iter().flat_map(|m| m.parts.map(|(i, _)| i.id.to_string())).collect()
    };
    assert_eq!(
        parts(&Filter::default()),
        ["paste-syrup", "spice-syrup"],
        "neither walnut nor paste goes into a drink"
    );
    assert_eq!(parts(&filter), ["other-syrup", "spice-syrup"]);
    // Unwanted by name: what is made from it goes as well.
    let no = BTreeSet::from([IngredientId::new("walnut-paste").unwrap()]);
    assert!(!names(&Filter { no, ..Filter::default() }).contains(&"paste-syrup".to_owned()));
}

/// Numbers from a seed (splitmix64, *from memory*).
struct Dice(u64);

impl Dice {
    fn of<'t, T>(&mut self, all: &'t [T]) -> &'t T {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        &all[usize::try_from((z ^ (z >> 31)) >> 33).unwrap() % all.len()]
    }
}

/// Whether an ingredient, or anything that it is made from, brings an allergen.
fn brings(ingredient: &Ingredient, allergen: Allergen, depth: usize) -> bool {
    assert!(depth < 20, "{}: made from itself", ingredient.id);
    ingredient.allergens.contains(&allergen)
        || ingredient
            .made_from
            .iter()
            .filter_map(|id| book().ingredient(id))
            .any(|source| brings(source, allergen, depth + 1))
}

/// What holds of every answer.
fn keeps_the_law(
    graph: &Graph<'static>,
    house: &House,
    found: &SwappedIn<'static>,
    filter: &Filter,
    line: usize,
) {
    let rest: Vec<&Ingredient> = found
        .spec
        .lines
        .iter()
        .enumerate()
        .filter(|(at, _)| *at != line)
        .map(|(_, l)| l.ingredient)
        .collect();
    let sides = found.drinks.iter().map(|d| &d.beside).chain(found.mixtures.iter().map(|m| &m.beside));
    for (riff, side) in found.riffs().zip(sides) {
        let name = format!("{}: {:?}", found.spec.name, riff.changes);
        let came: Vec<&Ingredient> = riff
            .spec
            .lines
            .iter()
            .map(|l| l.ingredient)
            .filter(|i| !rest.iter().any(|r| r.id == i.id))
            .collect();
        assert!(!came.is_empty(), "{name}");
        for new in &came {
            for allergen in &filter.without {
                assert!(!brings(new, *allergen, 0), "{name}: {} brings {allergen}", new.id);
            }
            assert!(filter.suits.iter().all(|d| new.diet.contains(d)), "{name}: {}", new.id);
            assert!(!filter.no.contains(&new.id), "{name}: {}", new.id);
            for other in rest.iter().chain(&came).filter(|o| o.id != new.id) {
                assert!(graph.clash(&new.id, &other.id).is_none(), "{name}: {} with {}", new.id, other.id);
            }
        }
        let again = figures(&riff.spec).unwrap();
        assert_eq!(again, riff.figures, "{name}");
        assert_eq!((found.figures, again), side.figures, "{name}");
        let suits = |spec: &Spec<'_>, diet: Diet| spec.ingredients().all(|i| i.diet.contains(&diet));
        for diet in Diet::ALL {
            let (was, is) = (suits(&found.spec, *diet), suits(&riff.spec, *diet));
            assert_eq!(side.diets_gained.contains(diet), is && !was, "{name}: {diet}");
            assert_eq!(side.diets_lost.contains(diet), was && !is, "{name}: {diet}");
        }
        let cautions = |spec: &Spec<'static>| -> BTreeSet<String> {
            spec.ingredients().flat_map(|i| i.cautions.iter().map(ToString::to_string)).collect()
        };
        let ids = |set: &BTreeSet<&medlar::book::CautionId>| -> BTreeSet<String> {
            set.iter().map(ToString::to_string).collect()
        };
        let (had, has) = (cautions(&found.spec), cautions(&riff.spec));
        assert_eq!(ids(&side.cautions_gained), &has - &had, "{name}");
        assert_eq!(ids(&side.cautions_lost), &had - &has, "{name}");
    }
    for mixed in &found.mixtures {
        let closest = found.drinks.first().map(|d| d.stand_in.likeness.score());
        assert!(mixed.mixture.is_worth_it(closest), "{}", found.spec.name);
        let [(one, share), (other, _)] = mixed.mixture.parts;
        let poured = |id: &IngredientId| {
            mixed.riff.spec.lines.iter().find(|l| l.ingredient.id == *id).and_then(|l| l.volume).unwrap()
        };
        let (first, second) = (poured(&one.id), poured(&other.id));
        for volume in [first, second] {
            let marks = volume.ml() / house.jigger.marks()[0].ml();
            let from_the_bottle =
                found.spec.lines[line].is_lengthener() && (marks - marks.round()).abs() < 1e-6;
            assert!(house.jigger.is_pourable(volume) || from_the_bottle, "{}: {volume:?}", found.spec.name);
            assert!(volume > Volume::ZERO, "{}", found.spec.name);
        }
        assert!((first.ml() / (first.ml() + second.ml()) - share).abs() < 1e-9, "{}", found.spec.name);
    }
}

#[test]
fn no_stand_in_breaks_a_wish_or_clashes_and_its_figures_are_its_own() {
    let graph = Graph::new(book());
    let mut dice = Dice(7);
    let (mut answers, mut mixtures) = (0, 0);
    let templates: Vec<&Template> = book().templates().iter().collect();
    for _ in 0..40 {
        let house = house(if *dice.of(&[true, false]) { Jigger::ounces() } else { Jigger::millilitres() });
        let template = *dice.of(&templates);
        let spec = house.in_pours(&Spec::of_template(book(), template, &house));
        let places: Vec<usize> = (0..spec.lines.len()).collect();
        let line = *dice.of(&places);
        let mut filter = Filter::default();
        if *dice.of(&[true, false]) {
            filter.without.insert(*dice.of(Allergen::ALL));
        }
        if *dice.of(&[true, false, false]) {
            filter.suits.insert(*dice.of(Diet::ALL));
        }
        if *dice.of(&[true, false]) {
            let own = &spec.lines[line].ingredient.id;
            let closest = graph.stand_ins(own, &[], &Filter::default(), 4).unwrap();
            filter.no = closest.found.iter().map(|s| s.ingredient.id.clone()).collect();
        }
        let asked = SwapIn { spec, line, filter: filter.clone(), count: 6, mixtures: 2 };
        let found = swap_in(&graph, &asked, &house).unwrap();
        answers += found.drinks.len();
        mixtures += found.mixtures.len();
        keeps_the_law(&graph, &house, &found, &filter, line);
    }
    assert!(answers > 120 && mixtures > 6, "{answers} stand-ins, {mixtures} mixtures");
}

#[test]
fn an_equivalent_holds_as_much_within_half_a_mark() {
    let graph = Graph::new(book());
    let (mut amounts, mut juices) = (0, 0);
    for jigger in [Jigger::ounces(), Jigger::millilitres()] {
        let house = house(jigger);
        let half_ml = house.jigger.marks()[0].ml() / 2.0;
        for ingredient in book().ingredients().iter().filter(|i| Alike::of(i).is_some()) {
            let filter = Filter::default();
            let stand_ins = graph.stand_ins(&ingredient.id, &[], &filter, 8).unwrap();
            let Some(found) = equivalents(book(), &stand_ins, &filter, &house) else { continue };
            for one in &found.found {
                let each = found.alike.in_a_litre(one.ingredient.makeup.as_ref().unwrap());
                let within = each * half_ml / 1000.0 + 1e-9;
                let name = format!("{} for {}", one.ingredient.id, ingredient.id);
                assert!((one.holds - found.holds).abs() <= within, "{name}: {:?}", one.amount);
                assert!((one.holds - each * one.amount.volume.ml() / 1000.0).abs() < 1e-9, "{name}");
                amounts += 1;
            }
            for soured in &found.soured {
                let wanted = ingredient.makeup.unwrap().acid.grams_per_litre();
                assert!((soured.acid - wanted).abs() < 1e-6, "{} for {}", soured.juice.id, ingredient.id);
                juices += 1;
            }
        }
    }
    assert!(amounts > 300 && juices > 10, "{amounts} amounts, {juices} juices");
}

#[test]
fn a_spooned_volume_is_a_pour_and_barspoons() {
    for jigger in [Jigger::ounces(), Jigger::millilitres()] {
        let house = house(jigger);
        for tenths in 20..=900_u16 {
            let ml = f64::from(tenths) / 10.0;
            let found = spooned(ml, &house);
            let spoons = f64::from(found.barspoons) * house.measures.barspoon.ml();
            assert!((found.volume.ml() - found.pour.ml() - spoons).abs() < 1e-9);
            assert!(house.jigger.is_pourable(found.pour), "{ml}: {found:?}");
            let half = house.jigger.marks()[0].ml() / 2.0;
            assert!((found.volume.ml() - ml).abs() <= half, "{ml}: {found:?}");
        }
    }
}

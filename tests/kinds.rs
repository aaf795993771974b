//! Kinds of variant: what each promises holds on every template of the built-in pack, and two of each are read as a
//! bartender would read them.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, LazyLock};

use medlar::book::{
    Book, Climate, Diet, Ingredient, IngredientId, Kind, Method, Reading, When, read_built_in,
};
use medlar::console::{Library, Session, Settings, Today};
use medlar::drink::{Figures, House, Spec, figures};
use medlar::measure::{Hemisphere, Jigger, Month};
use medlar::pairing::Graph;
use medlar::report::Style;
use medlar::riff::{Change, Kept, Length, Request, RiffError, Strong, Turned, Turns, riffs, turned};

static READING: LazyLock<Reading> = LazyLock::new(read_built_in);

fn book() -> &'static Book {
    &READING.book
}

fn house() -> House {
    House::new(
        Jigger::ounces(),
        When { month: Month::Oct, hemisphere: Hemisphere::North, climate: Climate::Cool },
    )
}

fn of(id: &str) -> &'static Ingredient {
    book().ingredient(&IngredientId::new(id).unwrap()).unwrap()
}

/// What a kind comes to on one template.
type Came = Result<(Turned<'static>, Kept<'static>), RiffError>;

fn come(graph: &Graph<'static>, classic: &Spec<'static>, asked: &Turns<'static>) -> Came {
    let house = house();
    let turned = turned(graph, classic, asked, &house)?;
    let request = Request {
        aim: Some(turned.aim),
        with: turned.with.clone(),
        no: turned.no.clone(),
        filter: turned.filter.clone(),
        count: 2,
        ..Request::new(turned.spec.clone())
    };
    let found = riffs(graph, &request, &house)?;
    let kept = turned.keep(graph, found, 2);
    Ok((turned, kept))
}

/// A law that a variant must keep against its classic.
type Law<'l> = &'l dyn Fn(&Figures, &Spec<'static>, &Figures) -> bool;

/// Asks a kind of every template, holds each variant to the law, prints how many came and how many were refused and
/// why, and gives how many templates came out.
fn on_all(name: &str, asked: &dyn Fn(&Spec<'static>) -> Turns<'static>, law: Law<'_>) -> usize {
    let graph = Graph::new(book());
    let house = house();
    let (mut came, mut empty, mut variants) = (0, Vec::new(), 0);
    let mut refused: BTreeMap<String, Vec<&str>> = BTreeMap::new();
    for template in book().templates() {
        let classic = house.in_pours(&Spec::of_template(book(), template, &house));
        let before = figures(&classic).unwrap();
        match come(&graph, &classic, &asked(&classic)) {
            Ok((_, kept)) => {
                if kept.riffs.found.is_empty() {
                    empty.push(template.id.as_str());
                } else {
                    came += 1;
                }
                for riff in &kept.riffs.found {
                    variants += 1;
                    let lines: Vec<String> = riff
                        .spec
                        .lines
                        .iter()
                        .map(|l| format!("{} {}", l.amount, l.ingredient.id.as_str()))
                        .collect();
                    assert!(
                        law(&before, &riff.spec, &riff.figures),
                        "{name}: {}: {} at {:.1} % vol, {:.0} g/L (was {:.1}, {:.0})",
                        template.name,
                        lines.join(", "),
                        riff.figures.strength.percent_vol(),
                        riff.figures.sugar.grams_per_litre(),
                        before.strength.percent_vol(),
                        before.sugar.grams_per_litre(),
                    );
                }
            }
            Err(error) => {
                let why = match &error {
                    RiffError::Blocked { why, .. } => why.clone(),
                    other => other.to_string(),
                };
                refused.entry(why).or_default().push(template.id.as_str());
            }
        }
    }
    let all = book().templates().len();
    println!("{name}: {came} of {all} templates, {variants} variants; refused:");
    for (why, ids) in &refused {
        println!("  {} ({}): {why}", ids.len(), ids.join(" "));
    }
    println!("  nothing left of {}: {}", empty.len(), empty.join(" "));
    came
}

fn only(kinds: Turns<'static>) -> impl Fn(&Spec<'static>) -> Turns<'static> {
    move |_| kinds.clone()
}

#[test]
fn without_alcohol_nothing_holds_any() {
    let asked = Turns { strength: Some(Strong::None), ..Turns::default() };
    let came = on_all("no alcohol", &only(asked), &|_, spec, now| {
        now.strength.percent_vol() <= 0.5 && spec.ingredients().all(|i| i.diet.contains(&Diet::NoAlcohol))
    });
    assert!(came >= 100, "{came}");
}

#[test]
fn half_as_strong_is_about_half() {
    let asked = Turns { strength: Some(Strong::Half), ..Turns::default() };
    let came = on_all("half strength", &only(asked), &|before, _, now| {
        let share = now.strength.percent_vol() / before.strength.percent_vol();
        (0.35..=0.65).contains(&share)
    });
    assert!(came >= 100, "{came}");
}

#[test]
fn less_sugar_is_at_most_two_thirds() {
    let asked = Turns { less_sugar: true, ..Turns::default() };
    let came = on_all("less sugar", &only(asked), &|before, _, now| {
        now.sugar.grams_per_litre() <= 0.65 * before.sugar.grams_per_litre() + 1e-9
    });
    assert!(came >= 90, "{came}");
}

#[test]
fn longer_is_more_and_shorter_is_less_and_stronger() {
    let asked = Turns { length: Some(Length::Longer), ..Turns::default() };
    let came = on_all("longer", &only(asked), &|before, _, now| now.served.ml() > before.served.ml());
    assert!(came >= 100, "{came}");
    let asked = Turns { length: Some(Length::Shorter), ..Turns::default() };
    let came = on_all("shorter", &only(asked), &|before, _, now| {
        now.served.ml() < before.served.ml() && now.strength.percent_vol() > before.strength.percent_vol()
    });
    assert!(came >= 100, "{came}");
}

#[test]
fn frozen_is_blended_and_sparkling_sparkles() {
    let asked = Turns { frozen: true, ..Turns::default() };
    let came = on_all("frozen", &only(asked), &|_, spec, _| {
        spec.method == Method::Blended
            && spec.lines.iter().all(|l| l.ingredient.makeup.is_none_or(|m| !m.carbonated))
    });
    assert!(came >= 50, "{came}");
    let asked = Turns { sparkling: true, ..Turns::default() };
    let came = on_all("sparkling", &only(asked), &|_, spec, _| {
        spec.lines.iter().any(|l| l.is_lengthener() && l.ingredient.makeup.is_some_and(|m| m.carbonated))
    });
    assert!(came >= 60, "{came}");
}

#[test]
fn a_split_base_has_two() {
    let asked = Turns { split: Some(of("mezcal")), ..Turns::default() };
    let came = on_all("split base", &only(asked), &|_, spec, _| {
        let mezcal = spec.lines.iter().find(|l| l.ingredient.id.as_str() == "mezcal");
        mezcal.is_some_and(|l| l.volume.is_some_and(|v| v.ml() > 0.0))
    });
    assert!(came >= 80, "{came}");
}

#[test]
fn for_a_dish_nothing_clashes_with_it() {
    let graph = Graph::new(book());
    let dish = vec![of("oyster"), of("lemon")];
    let asked = Turns { dish: dish.clone(), ..Turns::default() };
    let clashes = |i: &Ingredient| dish.iter().any(|d| graph.clash(&d.id, &i.id).is_some());
    let came = on_all("for oyster and lemon", &only(asked), &|_, spec, _| !spec.ingredients().any(clashes));
    assert!(came >= 60, "{came}");
    assert!(book().ingredients().iter().any(clashes), "the dish clashes with nothing: nothing was tested");
}

/// What a small bar has.
const BACK_BAR: [&str; 24] = [
    "london-dry-gin",
    "white-rum",
    "bourbon",
    "cognac",
    "blanco-tequila",
    "sweet-vermouth",
    "dry-vermouth",
    "fino-sherry",
    "red-bitter-liqueur",
    "orange-liqueur",
    "coffee-liqueur",
    "aromatic-bitters",
    "lemon-juice",
    "lime-juice",
    "orange-juice",
    "simple-syrup",
    "honey-syrup",
    "egg-white",
    "cream",
    "soda-water",
    "tonic-water",
    "ginger-beer",
    "sparkling-wine",
    "mint",
];

#[test]
fn from_the_back_bar_everything_is_there() {
    let asked = Turns { have: Some(BACK_BAR.iter().map(|id| of(id)).collect()), ..Turns::default() };
    let came = on_all("from the back bar", &only(asked), &|_, spec, _| {
        // Every bar has water.
        let had = |i: &Ingredient| BACK_BAR.contains(&i.id.as_str()) || i.id.as_str() == "hot-water";
        spec.ingredients().all(had)
    });
    assert!(came >= 50, "{came}");
}

#[test]
fn a_seed_brings_the_same_twice_and_seeds_differ() {
    let graph = Graph::new(book());
    let house = house();
    let drawn = |template: &str, seed: u64| {
        let template = book().templates().iter().find(|t| t.id.as_str() == template).unwrap();
        let classic = house.in_pours(&Spec::of_template(book(), template, &house));
        let asked = Turns { surprise: Some(seed), ..Turns::default() };
        let (turned, kept) = come(&graph, &classic, &asked).unwrap();
        let lines = |spec: &Spec<'_>| {
            spec.lines
                .iter()
                .map(|l| format!("{} {}", l.amount, l.ingredient.id.as_str()))
                .collect::<Vec<_>>()
        };
        let found: Vec<_> = kept.riffs.found.iter().map(|r| lines(&r.spec)).collect();
        (turned.with.iter().map(|i| i.id.as_str().to_owned()).collect::<Vec<_>>(), found)
    };
    let mut all = BTreeSet::new();
    for template in ["daiquiri", "manhattan", "negroni", "whiskey-sour"] {
        for seed in 0..6 {
            let first = drawn(template, seed);
            assert_eq!(first, drawn(template, seed), "{template}, seed {seed}");
            assert!(!first.1.is_empty(), "{template}, seed {seed}");
            all.insert((template, first.0));
        }
    }
    println!("24 draws brought {} ingredients for their drinks", all.len());
    assert!(all.len() >= 12, "{all:?}");
}

#[test]
fn kinds_go_together_or_say_why_not() {
    let graph = Graph::new(book());
    let house = house();
    let template = book().templates().iter().find(|t| t.id.as_str() == "daiquiri").unwrap();
    let classic = house.in_pours(&Spec::of_template(book(), template, &house));
    let both = Turns { strength: Some(Strong::None), less_sugar: true, ..Turns::default() };
    let (_, kept) = come(&graph, &classic, &both).unwrap();
    let best = &kept.riffs.found[0];
    assert!(best.figures.strength.percent_vol() <= 0.5);
    assert!(best.figures.sugar.grams_per_litre() <= 0.65 * 89.4);
    let sparkling = Turns { strength: Some(Strong::None), sparkling: true, ..Turns::default() };
    let (_, kept) = come(&graph, &classic, &sparkling).unwrap();
    assert!(kept.riffs.found[0].spec.lines.iter().all(|l| l.ingredient.kind != Kind::Wine));
    let against = [
        Turns { frozen: true, sparkling: true, ..Turns::default() },
        Turns { length: Some(Length::Longer), frozen: true, ..Turns::default() },
        Turns { length: Some(Length::Shorter), strength: Some(Strong::None), ..Turns::default() },
        Turns { strength: Some(Strong::None), split: Some(of("mezcal")), ..Turns::default() },
    ];
    for asked in against {
        assert!(matches!(turned(&graph, &classic, &asked, &house), Err(RiffError::Contradicts { .. })));
    }
}

#[test]
fn fruit_is_muddled_in_shaken_drinks_and_never_in_stirred_ones() {
    let graph = Graph::new(book());
    let house = house();
    let (mut muddled, mut stirred) = (0, 0);
    for template in book().templates() {
        let classic = house.in_pours(&Spec::of_template(book(), template, &house));
        let request = Request { with: vec![of("blackberry")], count: 6, ..Request::new(classic.clone()) };
        let Ok(found) = riffs(&graph, &request, &house) else { continue };
        stirred += usize::from(classic.method == Method::Stirred);
        for riff in &found.found {
            for change in &riff.changes {
                if let Change::Muddled { pieces, gives, .. } = change {
                    muddled += 1;
                    assert_eq!(classic.method, Method::Shaken, "{}", template.name);
                    let line = riff.spec.lines.iter().find(|l| l.ingredient.id == gives.id).unwrap();
                    // A blackberry gives 4 ml; what is poured is the nearest mark.
                    assert!((line.volume.unwrap().ml() - 4.0 * pieces).abs() < 4.0, "{}", template.name);
                }
            }
        }
    }
    println!("muddled in {muddled} variants; {stirred} stirred templates looked at");
    assert!(muddled > 5 && stirred > 5, "{muddled} {stirred}");
}

fn talk(line: &str) -> String {
    static LIBRARY: LazyLock<Arc<Library>> =
        LazyLock::new(|| Arc::new(Library::of(read_built_in()).unwrap()));
    let style = Style { width: 80, colour: false, unicode: true };
    let mut session = Session::new(Arc::clone(&LIBRARY), Settings::default(), Today(Month::Oct), style);
    let outcome = session.answer(line);
    format!("{}{}", outcome.out, outcome.err)
}

#[test]
fn two_of_each_kind() {
    let lines = [
        "riff daiquiri --swap white rum=mezcal",
        "riff old fashioned --swap bourbon=aged rum",
        "riff mai tai --without nuts",
        "riff boston sour --without eggs",
        "riff daiquiri --with pear --count 4",
        "riff margarita --with quince --count 4",
        "riff daiquiri --strength none",
        "riff negroni --strength none",
        "riff manhattan --strength half",
        "riff gin and tonic --strength half",
        "riff paloma --less-sugar",
        "riff negroni --less-sugar",
        "riff daiquiri --split gin --count 1",
        "riff old fashioned --split mezcal --count 1",
        "riff negroni --longer",
        "riff mojito --longer",
        "riff mule --shorter",
        "riff manhattan --stronger",
        "riff margarita --frozen",
        "riff negroni --frozen",
        "riff daiquiri --sparkling",
        "riff negroni --sparkling",
        "riff gimlet --dish oyster, cucumber",
        "riff manhattan --dish duck",
        "riff sidecar --have bourbon, lemon juice, honey syrup, orange liqueur, gin",
        "riff negroni --have mezcal, sweet vermouth, amaro, soda water",
        "riff daiquiri --surprise 7",
        "riff manhattan --surprise 7",
        "riff daiquiri --with blackberry",
        "riff gimlet --with cucumber --count 1",
        "riff daiquiri --strength none --less-sugar",
        "riff margarita --strength none --sparkling",
    ];
    for line in lines {
        let name = line.replace([' ', ','], "_").replace("--", "");
        insta::assert_snapshot!(name, talk(line));
    }
}

#[test]
fn refusals() {
    let lines = [
        "riff daiquiri --longer --shorter",
        "riff daiquiri --strength none --swap white rum=vodka",
        "riff daiquiri --strength some",
        "riff virgin mary --strength none",
        "riff gin and tonic --frozen",
        "riff hot toddy --sparkling",
        "riff daiquiri --frozen --sparkling",
        "riff daiquiri --split lime juice",
        "riff negroni --have gin",
        "riff dry martini --less-sugar",
        "riff mai tai --shorter --strength half",
        "riff --surprise daiquiri",
    ];
    let told: Vec<String> = lines.iter().map(|line| format!("> {line}\n{}", talk(line))).collect();
    insta::assert_snapshot!(told.join("\n"));
}

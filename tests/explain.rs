//! What is explained adds up: by value to the last digits, and as printed within the rounding that is stated.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::sync::LazyLock;

use medlar::book::{Book, Climate, IngredientId, When, read_built_in};
use medlar::drink::{Aim, House, Spec};
use medlar::measure::{Hemisphere, Jigger, Month};
use medlar::pairing::{Filter, Graph};
use medlar::report::{
    Block, Report, Standing, Table, View, companion_explained, riff_explained, stand_in_explained,
};
use medlar::riff::{Explained, Request, explained, riffs};

static BUILT_IN: LazyLock<Book> = LazyLock::new(|| read_built_in().book);

const WHEN: When = When { month: Month::Oct, hemisphere: Hemisphere::North, climate: Climate::Cool };

fn house() -> House {
    House::new(Jigger::ounces(), WHEN)
}

fn tables(report: &Report) -> Vec<&Table> {
    report.blocks.iter().filter_map(|b| if let Block::Table(t) = b { Some(t) } else { None }).collect()
}

/// A column as numbers, top to bottom; units behind them are left out.
fn column(table: &Table, title: &str) -> Vec<f64> {
    let at = table.columns.iter().position(|c| c.title == title).unwrap();
    let number = |text: &str| text.split(' ').next().unwrap().parse::<f64>().ok();
    table.rows.iter().filter_map(|r| number(&r.cells[at].text)).collect()
}

/// The last is the sum of the others, each rounded to a step.
fn adds_up(numbers: &[f64], step: f64, what: &str) {
    let (total, terms) = numbers.split_last().unwrap();
    let sum: f64 = terms.iter().sum();
    let allowed = step / 2.0 * numbers.len() as f64 + 1e-9;
    assert!((sum - total).abs() <= allowed, "{what}: {terms:?} is {sum}, not {total}");
}

fn near(a: f64, b: f64, within: f64, what: &str) {
    assert!((a - b).abs() <= within, "{what}: {a} and {b}");
}

fn some_riffs() -> Vec<(String, Explained<'static>)> {
    let book = &*BUILT_IN;
    let graph = Graph::new(book);
    let pear = book.ingredient(&IngredientId::new("pear").unwrap()).unwrap();
    let mut all = Vec::new();
    // With pear, the manhattan's second has it only on top.
    let manhattan = book.templates().iter().filter(|t| t.id.as_str() == "manhattan");
    for (index, template) in manhattan.chain(book.templates().iter().step_by(11)).enumerate() {
        let classic = house().in_pours(&Spec::of_template(book, template, &house()));
        let with = if index % 3 == 0 { vec![pear] } else { Vec::new() };
        let request = Request { with, ..Request::new(classic) };
        let Ok(found) = riffs(&graph, &request, &house()) else { continue };
        let aim = Aim::of(&found.figures);
        all.extend(found.found.iter().map(|r| (template.name.clone(), explained(r, &aim, WHEN).unwrap())));
    }
    all
}

#[test]
fn the_terms_of_a_riff_add_up_to_what_it_was_ranked_by() {
    let all = some_riffs();
    assert!(all.len() >= 20, "{}", all.len());
    let (mut on_top, mut replaced) = (0, 0);
    for (name, found) in &all {
        let riff = &found.riff;
        near(riff.score.terms().iter().sum(), riff.score.total, 1e-12, name);
        near(riff.score.harmony, riff.harmony.score, 1e-12, name);
        let (weights, products) =
            found.pairs.iter().fold((0.0, 0.0), |(w, p), t| (w + t.weight, p + t.product()));
        near(riff.harmony.score, if weights > 0.0 { products / weights } else { 0.0 }, 1e-9, name);
        near(found.differences.iter().map(|d| d.noticed()).sum(), riff.distance, 1e-9, name);
        near(found.seasons.iter().map(|s| s.2).sum(), riff.score.season, 1e-12, name);
        for d in &found.differences {
            near((d.figure - d.aim).abs() / d.step, d.noticed(), 1e-9, name);
        }
        // The steps as docs/model.md states them.
        let [strength, sugar, acid, bitterness] = found.differences;
        near(strength.step, 1.0, 1e-6, name);
        near(sugar.step, (0.10 * sugar.aim).max(3.0), 1e-6, name);
        near(acid.step, (0.15 * acid.aim).max(0.5), 1e-6, name);
        near(bitterness.step, (0.25 * bitterness.aim).max(2.0), 1e-6, name);
        // What is in the glass is what was brought and what melted, and makes the figures.
        let (account, figures) = (&found.account, &riff.figures);
        let brought: f64 = account.lines.iter().map(|l| l.brings.mass_g).sum();
        near(brought + account.melted.mass_g, account.glass.mass_g, 1e-9, name);
        near(account.glass.ethanol_g, figures.ethanol.grams(), 1e-9, name);
        near(account.glass.ml, figures.served.ml(), 1e-9, name);
        near(1000.0 * account.glass.sugar_g / account.glass.ml, figures.sugar.grams_per_litre(), 1e-9, name);
        near(1000.0 * account.glass.acid_g / account.glass.ml, figures.acid.grams_per_litre(), 1e-9, name);
        on_top += found.on_top.len();
        replaced += found.kinships.len();
    }
    assert!(on_top > 0 && replaced > 0, "{on_top} {replaced}");
}

#[test]
fn what_is_printed_of_a_riff_adds_up_within_its_rounding() {
    let view = View { unit: medlar::measure::HouseUnit::Ounce, when: WHEN };
    for (name, found) in &some_riffs() {
        let report = riff_explained(&BUILT_IN, name, 1, found, view);
        let tables = tables(&report);
        let [score, _, pairs, balance, glass] = tables[..] else { panic!("{name}: {} tables", tables.len()) };
        let adds = column(score, "adds");
        assert!(adds.len() >= 6, "{name}: {adds:?}");
        adds_up(&adds, 0.001, name);
        near(adds[adds.len() - 1], found.riff.score.total, 0.0005 + 1e-9, name);

        let (weights, products) = (column(pairs, "weight"), column(pairs, "product"));
        let affinities = column(pairs, "affinity");
        let sum: f64 = found.pairs.iter().map(|p| p.weight).sum();
        let step = if sum >= 0.1 {
            1e-3
        } else if sum >= 0.01 {
            1e-4
        } else {
            1e-5
        };
        adds_up(&weights, step, name);
        adds_up(&products, step, name);
        for ((affinity, weight), product) in affinities.iter().zip(&weights).zip(&products) {
            near(affinity * weight, *product, step + 0.005 * weight, name);
        }
        let harmony = report.blocks.iter().find_map(|b| match b {
            Block::Text(text) => text.strip_prefix("harmony = "),
            _ => None,
        });
        let parts: Vec<f64> =
            harmony.unwrap().split([' ', '/', '=']).filter_map(|w| w.parse().ok()).collect();
        let [product, weight, mean] = parts[..] else { panic!("{name}: {harmony:?}") };
        near(product / weight, mean, step / weight + 0.0005, name);
        near(mean, adds[0], 1e-9, name);

        adds_up(&column(balance, "noticed"), 0.001, name);
        for (title, step) in [("g", 0.1), ("ethanol", 0.1), ("water", 0.1), ("sugar", 0.1), ("acid", 0.01)] {
            let numbers = column(glass, title);
            let mixed = glass.rows.iter().position(|r| r.cells[0].text == "mixed, before the ice").unwrap();
            adds_up(&numbers[..=mixed], step, &format!("{name}: {title} before the ice"));
            if numbers.len() > mixed + 1 {
                adds_up(&numbers[mixed..], step, &format!("{name}: {title} in the glass"));
            }
        }
    }
}

#[test]
fn the_parts_of_a_likeness_add_up_to_it() {
    let graph = Graph::new(&BUILT_IN);
    let id = |text: &str| IngredientId::new(text).unwrap();
    let vermouth = id("sweet-vermouth");
    let mut tried = 0;
    for rest in [&[][..], &[&vermouth]] {
        let found = graph.stand_ins(&id("rye-whiskey"), rest, &Filter::default(), 10).unwrap();
        for stand_in in &found.found {
            let report = stand_in_explained(found.of, 1, &Standing::One(stand_in));
            adds_up(&column(tables(&report)[0], "adds"), 0.001, &stand_in.ingredient.name);
            let terms = stand_in.likeness.terms();
            near(terms.iter().map(|t| t.2).sum(), 1.0, 1e-12, "weights");
            near(terms.iter().map(|t| t.1 * t.2).sum(), stand_in.likeness.score(), 1e-12, "likeness");
            tried += 1;
        }
    }
    assert_eq!(tried, 20);
}

/// 1 / √((1.487 + 1.826) / 2) is reckoned again from what is printed.
#[test]
fn the_power_mean_is_what_is_written_out() {
    let graph = Graph::new(&BUILT_IN);
    let ids = [IngredientId::new("quince").unwrap(), IngredientId::new("mezcal").unwrap()];
    let found = graph.companions(&[&ids[0], &ids[1]], &Filter::default(), 20);
    assert_eq!(found.found.len(), 20);
    for companion in &found.found {
        let report = companion_explained(&found.set, 1, companion);
        let squares = column(tables(&report)[0], "1/affinity²");
        for (affinity, square) in column(tables(&report)[0], "affinity").iter().zip(&squares) {
            near(affinity.powi(-2), *square, 0.0005 + 0.01 * square / affinity, "square");
        }
        let text =
            report.blocks.iter().find_map(|b| if let Block::Text(t) = b { Some(t) } else { None }).unwrap();
        let last: f64 = text.rsplit(' ').next().unwrap().parse().unwrap();
        let mean: f64 = squares.iter().sum::<f64>() / squares.len() as f64;
        near(mean.powf(-0.5), last, 0.001, text);
        near(last, companion.score, 0.0005 + 1e-9, text);
    }
}

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::path::PathBuf;

use super::*;
use crate::book::{Book, Ingredient, IngredientId, When, read_packs};
use crate::drink::Spec;
use crate::measure::{Jigger, Measures, Month};

fn weir() -> Book {
    read_packs(&[&PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/packs/weir"))], false).book
}

/// Every combination solved, best first; then chosen as the search says it chooses.
fn by_going_through_all<'b>(graph: &Graph<'b>, request: &Request<'b>, house: &House) -> Vec<Riff<'b>> {
    let aim = Aim::of(&figures(&request.classic).unwrap());
    let agreements = Agreements::new(graph);
    let shapes = shapes(graph, request, house).unwrap();
    let fewest = shapes.iter().map(Shape::must_change).min().unwrap();
    let mut all: Vec<(usize, (usize, Vec<usize>), Riff<'b>)> = Vec::new();
    for (drink, shape) in shapes.iter().enumerate() {
        let open = shape.in_numbers(graph, house.when);
        let sizes: Vec<usize> = open.lines.iter().map(Vec::len).collect();
        for number in 0..sizes.iter().product::<usize>() {
            let mut left = number;
            let picks: Vec<usize> = sizes.iter().map(|size| (left % size, left /= size).0).collect();
            if open.score(&picks) == f64::NEG_INFINITY {
                continue;
            }
            let mut candidate = shape.filled(&picks);
            let (unasked, together) = (candidate.unasked, harmony(&agreements, &candidate.spec));
            let most = Score::at_most(&candidate, together.score, house.when);
            let Ok(solved) = candidate.solve(aim, house) else { continue };
            let riff =
                candidate.finish(&request.classic, together, solved, most, house, graph.book()).unwrap();
            if is_other(&riff) {
                all.push((unasked, (drink, picks), riff));
            }
        }
    }
    all.sort_by(|a, b| b.2.score.total.total_cmp(&a.2.score.total).then_with(|| a.1.cmp(&b.1)));
    let mut chosen: Vec<Riff<'b>> = Vec::new();
    if let Some((_, _, plainest)) = all.iter().find(|(unasked, _, _)| *unasked <= fewest) {
        chosen.push(plainest.clone());
    }
    while chosen.len() < request.count {
        let new_form = |r: &Riff<'b>| chosen.iter().all(|c| other_forms(&c.changes, &r.changes));
        let differs = |r: &Riff<'b>| chosen.iter().all(|c| differs(c, r, request.overlap));
        let next = all.iter().map(|(_, _, r)| r);
        let found =
            next.clone().find(|r| new_form(r) && differs(r)).or_else(|| next.clone().find(|r| differs(r)));
        let Some(found) = found.cloned() else { break };
        chosen.push(found);
    }
    chosen
}

fn house() -> House {
    let when = When {
        month: Month::Oct,
        hemisphere: crate::measure::Hemisphere::North,
        climate: crate::book::Climate::Cool,
    };
    House {
        jigger: Jigger::ounces(),
        measures: Measures::default(),
        ice: crate::liquid::HouseIce::default(),
        when,
    }
}

fn id(text: &str) -> IngredientId {
    IngredientId::new(text).unwrap()
}

/// The search against going through all, over every classic of a small pack, with one line more opened in turn, with
/// and without something to work in, and for several counts and overlaps.
#[test]
fn suggestions_are_those_of_solving_every_combination() {
    let book = weir();
    let graph = Graph::new(&book);
    let house = house();
    let wanted: Vec<Option<&Ingredient>> =
        ["pear", "quince"].map(|w| book.ingredient(&id(w))).into_iter().collect();
    let (mut compared, mut suggestions) = (0, 0);
    for template in book.templates() {
        let classic = house.in_pours(&Spec::of_template(&book, template, &house));
        for opened in 0..=classic.lines.len() {
            let mut classic = classic.clone();
            if let Some(line) = classic.lines.get_mut(opened) {
                line.open = true;
            }
            for with in wanted.iter().copied().chain([None]) {
                for (count, overlap) in [(1, 0), (3, 0), (6, 1)] {
                    let with = with.into_iter().collect();
                    let request = Request { with, count, overlap, ..Request::new(classic.clone()) };
                    let Ok(found) = riffs(&graph, &request, &house) else { continue };
                    let expected = by_going_through_all(&graph, &request, &house);
                    let scores = |riffs: &[Riff<'_>]| -> Vec<String> {
                        riffs.iter().map(|r| format!("{:.9}", r.score.total)).collect()
                    };
                    assert_eq!(scores(&found.found), scores(&expected), "{} {opened} {count}", template.name);
                    assert!(found.looked.solved <= found.looked.combinations);
                    compared += 1;
                    suggestions += expected.len();
                }
            }
        }
    }
    assert!(compared > 100 && suggestions > 200, "{compared} {suggestions}");
}

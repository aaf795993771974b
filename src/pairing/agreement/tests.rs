#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::collections::BTreeSet;

use super::*;
use crate::book::{Bond, Book, read_built_in};

fn id(text: &str) -> IngredientId {
    IngredientId::new(text).unwrap()
}

/// The built-in book without every `n`th of its affinities, and those.
fn held_out(n: usize) -> (Book, Vec<(IngredientId, IngredientId)>) {
    let book = read_built_in().book;
    let (mut kept, mut out) = (Vec::new(), Vec::new());
    let mut count = 0;
    for edge in book.edges() {
        count += usize::from(matches!(edge.bond, Bond::Affinity(_)));
        if matches!(edge.bond, Bond::Affinity(_)) && count % n == 0 {
            out.push(edge.pair.clone());
        } else {
            kept.push(edge.clone());
        }
    }
    (Book::new(book.ingredients().to_vec(), kept, Vec::new(), Vec::new()), out)
}

/// Share of comparisons in which the first list is above the second, ties half.
fn ranked_right(above: &[f64], below: &[f64]) -> f64 {
    let mut sorted = below.to_vec();
    sorted.sort_by(f64::total_cmp);
    let won: usize =
        above.iter().map(|v| sorted.partition_point(|w| w < v) + sorted.partition_point(|w| w <= v)).sum();
    won as f64 / (2 * above.len() * below.len()) as f64
}

#[test]
fn what_the_book_knows_comes_first() {
    let book = read_built_in().book;
    let graph = Graph::new(&book);
    let agreements = Agreements::new(&graph);
    let (mut known, mut clashes) = (0, 0);
    for edge in book.edges().iter().step_by(50) {
        let (a, b) = &edge.pair;
        match (edge.bond, agreements.between(b, a).unwrap()) {
            (Bond::Affinity(affinity), Agreement::Known(tie)) => {
                assert_eq!(tie.affinity, affinity);
                assert_eq!(&tie.other.id, a);
                known += 1;
            }
            (Bond::Clash, Agreement::Clash(found)) => {
                assert_eq!(found, edge);
                clashes += 1;
            }
            (bond, found) => panic!("{a} {b}: {bond:?}, {found:?}"),
        }
    }
    assert!(known > 100 && clashes > 10, "{known} {clashes}");
}

#[test]
fn nothing_is_said_of_a_thing_and_itself_or_of_what_is_not_there() {
    let book = read_built_in().book;
    let graph = Graph::new(&book);
    let agreements = Agreements::new(&graph);
    assert!(agreements.between(&id("quince"), &id("quince")).is_none());
    assert!(agreements.between(&id("quince"), &id("no-such-thing")).is_none());
}

#[test]
fn what_is_inferred_is_discounted_and_the_same_both_ways() {
    let book = read_built_in().book;
    let graph = Graph::new(&book);
    let agreements = Agreements::new(&graph);
    let mut values = BTreeSet::new();
    for (at, a) in book.ingredients().iter().enumerate().step_by(7) {
        for b in book.ingredients()[at + 1..].iter().step_by(11) {
            let Some(Agreement::Inferred(there)) = agreements.between(&a.id, &b.id) else { continue };
            let Some(Agreement::Inferred(back)) = agreements.between(&b.id, &a.id) else {
                panic!("{}", a.id)
            };
            assert_eq!(there, back);
            assert!((0.01..=MOST_INFERRED).contains(&there.value()), "{} {} {there:?}", a.id, b.id);
            values.insert(there);
        }
    }
    assert!(values.len() > 1000, "{}", values.len());
}

#[test]
fn an_ingredient_that_goes_with_nothing_gets_the_least() {
    let book = read_built_in().book;
    let alone = Book::new(book.ingredients().to_vec(), Vec::new(), Vec::new(), Vec::new());
    let graph = Graph::new(&alone);
    let found = Agreements::new(&graph).between(&id("quince"), &id("mezcal")).unwrap();
    assert!((found.value() - 0.01).abs() < 1e-12, "{found:?}");
}

/// A fifth of the affinities taken out, against as many pairs of which nothing is written, their ends drawn as often as they stand
/// in what was taken out: what is inferred tells them apart, and better than counting does.
#[test]
fn affinities_held_out_are_found_again() {
    let (book, out) = held_out(5);
    let whole = read_built_in().book;
    let (graph, full) = (Graph::new(&book), Graph::new(&whole));
    let agreements = Agreements::new(&graph);
    let ends: Vec<&IngredientId> = out.iter().flat_map(|(a, b)| [a, b]).collect();
    // A full cycle through the ends with a stride, instead of chance.
    let unknown: Vec<(&IngredientId, &IngredientId)> = (0..ends.len())
        .map(|k| (ends[k], ends[(k * 7919 + 4001) % ends.len()]))
        .filter(|(a, b)| a != b && full.tie(a, b).is_none() && full.clash(a, b).is_none())
        .take(out.len())
        .collect();
    assert!(out.len() > 3000 && unknown.len() > 3000, "{} {}", out.len(), unknown.len());
    let measure = |score: &dyn Fn(&IngredientId, &IngredientId) -> f64| {
        let above: Vec<f64> = out.iter().map(|(a, b)| score(a, b)).collect();
        let below: Vec<f64> = unknown.iter().map(|(a, b)| score(a, b)).collect();
        ranked_right(&above, &below)
    };
    let inferred = measure(&|a, b| agreements.between(a, b).unwrap().value());
    let degree = |a: &IngredientId| graph.neighbours(graph.position(a).unwrap()).count();
    let popularity = measure(&|a, b| (degree(a) * degree(b)) as f64);
    let shared = measure(&|a, b| {
        let (a, b) = (graph.position(a).unwrap(), graph.position(b).unwrap());
        graph.neighbours(a).filter(|(x, _)| graph.strand(b, *x).is_some()).count() as f64
    });
    println!("held out: inferred {inferred:.3}, shared neighbours {shared:.3}, popularity {popularity:.3}");
    assert!(inferred > 0.84, "{inferred}");
    assert!(inferred > shared + 0.1 && inferred > popularity + 0.2, "{inferred} {shared} {popularity}");
}

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::collections::BTreeSet;

use super::*;
use crate::book::{Bond, Book, read_built_in};

fn id(text: &str) -> IngredientId {
    IngredientId::new(text).unwrap()
}

type Pairs = Vec<(u32, u32)>;

/// The built-in book without a fifth of its affinities, and those; positions of ingredients are the same in both.
fn without_a_fifth(book: &Book, fifth: usize) -> (Book, Vec<(IngredientId, IngredientId)>) {
    let (mut kept, mut out) = (Vec::new(), Vec::new());
    let mut count = 0;
    for edge in book.edges() {
        let is_affinity = matches!(edge.bond, Bond::Affinity(_));
        count += usize::from(is_affinity);
        if is_affinity && count % 5 == fifth {
            out.push(edge.pair.clone());
        } else {
            kept.push(edge.clone());
        }
    }
    (Book::new(book.ingredients().to_vec(), kept, Vec::new(), Vec::new()), out)
}

/// Pairs of which nothing is written, whose ends are drawn as often as they stand in others: a full cycle through the ends with a
/// stride, instead of chance.
fn unknown_like(graph: &Graph<'_>, pairs: &Pairs) -> Pairs {
    let ends: Vec<u32> = pairs.iter().flat_map(|(a, b)| [*a, *b]).collect();
    (0..ends.len())
        .map(|k| (ends[k], ends[(k * 7919 + 4001) % ends.len()]))
        .filter(|(a, b)| a != b && graph.strand(*a, *b).is_none() && graph.clash_at(*a, *b).is_none())
        .take(pairs.len())
        .collect()
}

/// Fits the log odds by Newton's method: with a constant, and a ridge so small that it only keeps the sums in reach.
fn fitted(above: &[[f64; SIGNS]], below: &[[f64; SIGNS]]) -> [f64; SIGNS + 1] {
    const ALL: usize = SIGNS + 1;
    let with_constant =
        |s: &[f64; SIGNS]| std::array::from_fn::<f64, ALL, _>(|i| if i == 0 { 1.0 } else { s[i - 1] });
    let rows: Vec<([f64; ALL], f64)> = above
        .iter()
        .map(|s| (with_constant(s), 1.0))
        .chain(below.iter().map(|s| (with_constant(s), 0.0)))
        .collect();
    let mut fit = [0.0; ALL];
    for _ in 0..30 {
        let (mut gradient, mut curve) = ([0.0; ALL], [[0.0; ALL]; ALL]);
        for (signs, is_there) in &rows {
            let odds: f64 = fit.iter().zip(signs).map(|(c, s)| c * s).sum();
            let likely = 1.0 / (1.0 + (-odds).exp());
            for i in 0..ALL {
                gradient[i] += (is_there - likely) * signs[i];
                for j in 0..ALL {
                    curve[i][j] += likely * (1.0 - likely) * signs[i] * signs[j];
                }
            }
        }
        for (i, row) in curve.iter_mut().enumerate() {
            row[i] += 1e-6;
        }
        let step = solved(curve, gradient);
        for i in 0..ALL {
            fit[i] += step[i];
        }
        if step.iter().all(|s| s.abs() < 1e-10) {
            break;
        }
    }
    fit
}

/// A system of linear equations, by elimination.
fn solved<const N: usize>(mut of: [[f64; N]; N], mut right: [f64; N]) -> [f64; N] {
    for i in 0..N {
        let pivot = (i..N).max_by(|a, b| of[*a][i].abs().total_cmp(&of[*b][i].abs())).unwrap();
        of.swap(i, pivot);
        right.swap(i, pivot);
        for row in i + 1..N {
            let factor = of[row][i] / of[i][i];
            let above = of[i];
            of[row].iter_mut().zip(above).skip(i).for_each(|(value, above)| *value -= factor * above);
            right[row] -= factor * right[i];
        }
    }
    for i in (0..N).rev() {
        let known: f64 = (i + 1..N).map(|j| of[i][j] * right[j]).sum();
        right[i] = (right[i] - known) / of[i][i];
    }
    right
}

fn signs_of(agreements: &Agreements<'_, '_>, pairs: &Pairs) -> Vec<[f64; SIGNS]> {
    pairs.iter().map(|(a, b)| agreements.signs(*a, *b)).collect()
}

/// Every so many of the affinities of a graph.
fn affinities(graph: &Graph<'_>, every: usize) -> Pairs {
    let pairs =
        (0..graph.len()).flat_map(|a| graph.neighbours(a).map(move |(b, _)| (a, b)).filter(|(a, b)| a < b));
    pairs.step_by(every).collect()
}

/// Every fourth affinity against as many unknown pairs.
fn fitted_on(graph: &Graph<'_>) -> [f64; SIGNS + 1] {
    let agreements = Agreements::new(graph);
    let there = affinities(graph, 4);
    let unknown = unknown_like(graph, &there);
    fitted(&signs_of(&agreements, &there), &signs_of(&agreements, &unknown))
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

#[test]
fn what_is_fitted_is_what_the_pack_gives() {
    let book = read_built_in().book;
    let graph = Graph::new(&book);
    let fit = fitted_on(&graph);
    println!("fitted: {fit:.4?}");
    for (fitted, used) in fit.iter().zip(FITTED) {
        assert!((fitted - used).abs() < 0.1, "{fit:.3?}");
    }
}

/// Five times a fifth of the affinities is taken out, the log odds are fitted on the rest, and what was taken out is told from pairs of
/// which nothing is written, their ends drawn as often: better than counting does.
#[test]
fn affinities_held_out_are_found_again() {
    let whole = read_built_in().book;
    let full = Graph::new(&whole);
    let mut figures = Vec::new();
    for fifth in 0..5 {
        let (book, out) = without_a_fifth(&whole, fifth);
        let graph = Graph::new(&book);
        let agreements = Agreements::new(&graph);
        let at = |id: &IngredientId| graph.position(id).unwrap();
        let out: Pairs = out.iter().step_by(2).map(|(a, b)| (at(a), at(b))).collect();
        let unknown = unknown_like(&full, &out);
        assert!(out.len() > 3000 && unknown.len() > 3000, "{} {}", out.len(), unknown.len());
        let fit = fitted_on(&graph);
        let odds = |s: [f64; SIGNS]| fit[0] + fit[1..].iter().zip(s).map(|(c, s)| c * s).sum::<f64>();
        let measure = |score: &dyn Fn(u32, u32) -> f64| {
            let of = |pairs: &Pairs| pairs.iter().map(|(a, b)| score(*a, *b)).collect::<Vec<f64>>();
            ranked_right(&of(&out), &of(&unknown))
        };
        let degree = |x: u32| graph.neighbours(x).len() as f64;
        figures.push([
            measure(&|a, b| odds(agreements.signs(a, b))),
            measure(&|a, b| {
                graph.neighbours(a).filter(|(x, _)| graph.strand(b, *x).is_some()).count() as f64
            }),
            measure(&|a, b| degree(a) * degree(b)),
        ]);
        println!(
            "fifth {}: inferred {:.4}, shared neighbours {:.4}, popularity {:.4}; {fit:.3?}",
            fifth + 1,
            figures[fifth][0],
            figures[fifth][1],
            figures[fifth][2]
        );
    }
    for [inferred, shared, popularity] in figures {
        assert!(inferred >= 0.85, "{inferred}");
        assert!(inferred > shared + 0.1 && inferred > popularity + 0.2, "{inferred} {shared} {popularity}");
    }
}

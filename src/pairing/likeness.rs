//! How alike two ingredients are.

use crate::book::{Facet, Ingredient, Makeup};

use super::graph::Graph;

/// A facet that both must have at least this strongly to be named as shared.
pub(super) const SHARED_FROM: f64 = 0.25;

/// Facets that an ingredient shares with any of a set, strongest first, three at most.
pub fn shared_facets(ingredient: &Ingredient, set: &[&Ingredient]) -> Vec<Facet> {
    let mut shared: Vec<(f64, Facet)> = ingredient
        .facets
        .iter()
        .filter_map(|(facet, own)| {
            let theirs =
                set.iter().filter_map(|i| i.facets.get(facet)).map(|g| g.value()).fold(0.0, f64::max);
            let both = own.value().min(theirs);
            (both >= SHARED_FROM).then_some((both, *facet))
        })
        .collect();
    shared.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    shared.into_iter().take(3).map(|(_, facet)| facet).collect()
}

/// An ingredient's own strongest facets, strongest first.
pub fn strongest_facets(ingredient: &Ingredient, count: usize) -> Vec<Facet> {
    let mut all: Vec<_> = ingredient.facets.iter().map(|(facet, grade)| (grade.value(), *facet)).collect();
    all.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    all.into_iter().take(count).map(|(_, facet)| facet).collect()
}

/// Cosine of the facet grades: 1 for the same directions in the same proportions, 0 for none shared.
pub fn facets(a: &Ingredient, b: &Ingredient) -> f64 {
    let dot: f64 = a.facets.iter().filter_map(|(f, g)| b.facets.get(f).map(|h| g.value() * h.value())).sum();
    let size = |i: &Ingredient| i.facets.values().map(|g| g.value().powi(2)).sum::<f64>().sqrt();
    cosine(dot, size(a), size(b))
}

/// Cosine of the affinities to third ingredients: 1 for the same company.
pub(super) fn company(graph: &Graph<'_>, a: u32, b: u32) -> f64 {
    let of = |at: u32, other: u32| graph.neighbours(at).filter(move |(n, _)| *n != other);
    let size = |at, other| of(at, other).map(|(_, s)| s.affinity.powi(2)).sum::<f64>().sqrt();
    let dot: f64 = of(a, b).filter_map(|(n, s)| graph.strand(b, n).map(|t| s.affinity * t.affinity)).sum();
    cosine(dot, size(a, b), size(b, a))
}

pub(super) fn cosine(dot: f64, a: f64, b: f64) -> f64 {
    if a > 0.0 && b > 0.0 { (dot / (a * b)).clamp(0.0, 1.0) } else { 0.0 }
}

/// Closeness of makeup: 1 for the same, falling by a factor e for each of these steps: 20 % vol, 150 g/L sugar,
/// 20 g/L acid, 25 points of bitterness, 50 g/L salt; sparkling against still counts half a step.
///
/// # Source
/// *Common practice, no source*: the steps are ours.
pub(super) fn makeup(a: Option<&Makeup>, b: Option<&Makeup>) -> f64 {
    let (a, b) = match (a, b) {
        (Some(a), Some(b)) => (a, b),
        (None, None) => return 1.0,
        _ => return 0.0,
    };
    closeness(levels(a), a.carbonated, levels(b), b.carbonated)
}

/// How many figures of a makeup count.
pub(super) const LEVELS: usize = 5;

/// The figures of a makeup that count, each in its steps.
pub(super) fn levels(makeup: &Makeup) -> [f64; LEVELS] {
    [
        makeup.strength.percent_vol() / 20.0,
        makeup.sugar.grams_per_litre() / 150.0,
        makeup.acid.grams_per_litre() / 20.0,
        makeup.bitterness.points() / 25.0,
        makeup.salt.grams_per_litre() / 50.0,
    ]
}

/// Closeness of two makeups by their levels, and by whether each sparkles.
pub(super) fn closeness(a: [f64; LEVELS], a_sparkles: bool, b: [f64; LEVELS], b_sparkles: bool) -> f64 {
    let steps: f64 = a.iter().zip(b).map(|(x, y)| (x - y).abs()).sum();
    (-steps - if a_sparkles == b_sparkles { 0.0 } else { 0.5 }).exp()
}

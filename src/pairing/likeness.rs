//! How alike two ingredients are.

use crate::book::{Facet, Ingredient, Makeup};

use super::graph::Graph;

/// A facet that both must have at least this strongly to be named as shared.
const SHARED_FROM: f64 = 0.25;

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

fn cosine(dot: f64, a: f64, b: f64) -> f64 {
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
    let step = |x: f64, y: f64, size: f64| (x - y).abs() / size;
    let steps = step(a.strength.percent_vol(), b.strength.percent_vol(), 20.0)
        + step(a.sugar.grams_per_litre(), b.sugar.grams_per_litre(), 150.0)
        + step(a.acid.grams_per_litre(), b.acid.grams_per_litre(), 20.0)
        + step(a.bitterness.points(), b.bitterness.points(), 25.0)
        + step(a.salt.grams_per_litre(), b.salt.grams_per_litre(), 50.0)
        + if a.carbonated == b.carbonated { 0.0 } else { 0.5 };
    (-steps).exp()
}

//! How well everything in a drink goes together.

use crate::book::Ingredient;
use crate::drink::Spec;
use crate::pairing::{Graph, Tie};

/// What an unknown pair counts as, at most.
pub(super) const MOST_UNKNOWN: f64 = 0.35;
/// Even the quietest ingredient counts this much.
const LEAST_LOUDNESS: f64 = 0.05;

/// A pair in a drink, with what the book says of it.
#[derive(Debug, Clone, Copy)]
pub struct PairFound<'b> {
    /// One.
    pub one: &'b Ingredient,
    /// The other, and how well they go together.
    pub tie: Tie<'b>,
    /// How much the pair counts in this drink.
    pub weight: f64,
}

/// The pairs of a drink.
#[derive(Debug, Clone)]
pub struct Harmony<'b> {
    /// Weighted mean affinity, 0 to 1; unknown pairs count 0.35.
    pub score: f64,
    /// Known pairs, by what they carry (weight times affinity), most first.
    pub pairs: Vec<PairFound<'b>>,
    /// Pairs of which the book knows nothing.
    pub unknown: Vec<(&'b Ingredient, &'b Ingredient)>,
    /// Pairs that clash.
    pub clashes: Vec<(&'b Ingredient, &'b Ingredient)>,
}

/// How much an ingredient counts at a share of the poured volume, 0 to 1.
pub(super) fn weight(ingredient: &Ingredient, share: f64) -> f64 {
    ingredient.loudness.value().max(LEAST_LOUDNESS) * share.sqrt()
}

/// The harmony of a spec.
///
/// # Model
/// Mean affinity over all pairs of lines, each weighted by the product of both loudnesses and the square roots of
/// both shares of the poured volume: what is loud or plentiful counts most.
pub(super) fn harmony<'b>(graph: &Graph<'b>, spec: &Spec<'b>) -> Harmony<'b> {
    let total: f64 = spec.lines.iter().filter_map(|l| l.volume).map(|v| v.ml()).sum();
    let lines: Vec<(&'b Ingredient, f64)> = spec
        .lines
        .iter()
        .filter_map(|line| Some((line.ingredient, weight(line.ingredient, line.volume?.ml() / total))))
        .collect();
    let mut found = Harmony { score: 0.0, pairs: Vec::new(), unknown: Vec::new(), clashes: Vec::new() };
    let mut sum = 0.0;
    let mut weights = 0.0;
    for (index, (a, loud_a)) in lines.iter().enumerate() {
        for (b, loud_b) in &lines[index + 1..] {
            let weight = loud_a * loud_b;
            weights += weight;
            if let Some(tie) = graph.tie(&a.id, &b.id) {
                sum += weight * tie.affinity.value();
                found.pairs.push(PairFound { one: a, tie, weight });
            } else if graph.clash(&a.id, &b.id).is_some() {
                found.clashes.push((a, b));
            } else {
                sum += weight * MOST_UNKNOWN;
                found.unknown.push((a, b));
            }
        }
    }
    found.score = if weights > 0.0 { sum / weights } else { 0.0 };
    let carried = |p: &PairFound<'_>| p.weight * p.tie.affinity.value();
    found.pairs.sort_by(|x, y| carried(y).total_cmp(&carried(x)).then_with(|| x.one.id.cmp(&y.one.id)));
    found
}

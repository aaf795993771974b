//! How well everything in a drink goes together.

use super::voice::{Voice, voices};
use crate::book::Ingredient;
use crate::drink::Spec;
use crate::pairing::{Graph, Tie};

/// What an unknown pair counts as.
pub const UNKNOWN_PAIR: f64 = 0.35;

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
    /// Every line as it counted.
    pub voices: Vec<Voice<'b>>,
}

/// The harmony of a spec.
///
/// # Model
/// Mean affinity over all pairs of lines, each weighted by the product of both loudnesses and the square roots of
/// both shares of the poured volume: what is loud or plentiful counts most.
pub(super) fn harmony<'b>(graph: &Graph<'b>, spec: &Spec<'b>) -> Harmony<'b> {
    let voices = voices(spec);
    let lines: Vec<(&'b Ingredient, f64)> = voices.iter().map(|v| (v.ingredient, v.weight())).collect();
    let mut found =
        Harmony { score: 0.0, pairs: Vec::new(), unknown: Vec::new(), clashes: Vec::new(), voices };
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
                sum += weight * UNKNOWN_PAIR;
                found.unknown.push((a, b));
            }
        }
    }
    found.score = if weights > 0.0 { sum / weights } else { 0.0 };
    let carried = |p: &PairFound<'_>| p.weight * p.tie.affinity.value();
    found.pairs.sort_by(|x, y| carried(y).total_cmp(&carried(x)).then_with(|| x.one.id.cmp(&y.one.id)));
    found
}

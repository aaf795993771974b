//! How well everything in a drink goes together.

use super::voice::{Voice, voices};
use crate::book::Ingredient;
use crate::drink::Spec;
use crate::measure::Affinity;
use crate::pairing::{Agreement, Agreements, Tie};

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

/// A pair in a drink of which the book knows nothing.
#[derive(Debug, Clone, Copy)]
pub struct PairInferred<'b> {
    /// One.
    pub one: &'b Ingredient,
    /// The other.
    pub other: &'b Ingredient,
    /// What is inferred of the two.
    pub affinity: Affinity,
    /// How much the pair counts in this drink.
    pub weight: f64,
}

/// The pairs of a drink.
#[derive(Debug, Clone)]
pub struct Harmony<'b> {
    /// Weighted mean affinity, 0 to 1; a clash counts nothing, an unknown pair what is inferred.
    pub score: f64,
    /// Known pairs, by what they carry (weight times affinity), most first.
    pub pairs: Vec<PairFound<'b>>,
    /// Pairs of which the book knows nothing, with what is inferred, by what they carry, most first.
    pub unknown: Vec<PairInferred<'b>>,
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
pub(super) fn harmony<'b>(agreements: &Agreements<'_, 'b>, spec: &Spec<'b>) -> Harmony<'b> {
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
            match agreements.between(&a.id, &b.id) {
                Some(Agreement::Known(tie)) => {
                    sum += weight * tie.affinity.value();
                    found.pairs.push(PairFound { one: a, tie, weight });
                }
                Some(Agreement::Clash(_)) => found.clashes.push((a, b)),
                Some(Agreement::Inferred(affinity)) => {
                    sum += weight * affinity.value();
                    found.unknown.push(PairInferred { one: a, other: b, affinity, weight });
                }
                None => {}
            }
        }
    }
    found.score = if weights > 0.0 { sum / weights } else { 0.0 };
    let carried = |p: &PairFound<'_>| p.weight * p.tie.affinity.value();
    let inferred = |p: &PairInferred<'_>| p.weight * p.affinity.value();
    found.unknown.sort_by(|x, y| inferred(y).total_cmp(&inferred(x)).then_with(|| x.one.id.cmp(&y.one.id)));
    found.pairs.sort_by(|x, y| carried(y).total_cmp(&carried(x)).then_with(|| x.one.id.cmp(&y.one.id)));
    found
}

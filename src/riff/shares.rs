//! How much each pair of a drink has to do with how the whole tastes.

use super::voice::voices;
use crate::book::Ingredient;
use crate::drink::Spec;

/// A pair of a drink, and its share of the whole.
#[derive(Debug, Clone, Copy)]
pub struct PairShare<'b> {
    /// One.
    pub one: &'b Ingredient,
    /// The other.
    pub other: &'b Ingredient,
    /// Its share; those of all pairs are 1 together.
    pub share: f64,
}

/// The pairs of a drink with their shares, greatest first: what a tasting of the whole tells of each.
///
/// # Model
/// As in the harmony of a drink: the product of both loudnesses and of the square roots of both shares of the poured volume,
/// divided by the sum over all pairs. Nothing for a drink of one ingredient.
pub fn pair_shares<'b>(spec: &Spec<'b>) -> Vec<PairShare<'b>> {
    let voices = voices(spec);
    let mut shares = Vec::new();
    for (index, a) in voices.iter().enumerate() {
        for b in voices[index + 1..].iter().filter(|b| b.ingredient.id != a.ingredient.id) {
            shares.push(PairShare { one: a.ingredient, other: b.ingredient, share: a.weight() * b.weight() });
        }
    }
    let sum: f64 = shares.iter().map(|s| s.share).sum();
    for pair in &mut shares {
        pair.share /= sum;
    }
    shares.sort_by(|a, b| b.share.total_cmp(&a.share));
    shares
}

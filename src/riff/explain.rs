//! How a riff came to its figures: the whole arithmetic, as a value.

use super::candidate::{Change, Riff};
use super::harmony::Harmony;
use super::score::Score;
use crate::book::{Ingredient, Presence, When};
use crate::drink::{Account, Aim, Difference, NothingPoured, account, differences};

/// How the affinity of a pair is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Knowledge {
    /// The book has it.
    Known,
    /// The book has it as a clash: it counts nothing.
    Clash,
    /// The book has neither: it is inferred.
    Inferred,
}

/// One pair of a drink, as it counts in the harmony.
#[derive(Debug, Clone, Copy)]
pub struct PairTerm<'b> {
    /// The pair.
    pub pair: (&'b Ingredient, &'b Ingredient),
    /// What it counts as.
    pub affinity: f64,
    /// How that is known.
    pub knowledge: Knowledge,
    /// The product of both weights.
    pub weight: f64,
}

impl PairTerm<'_> {
    /// Affinity times weight.
    pub fn product(&self) -> f64 {
        self.affinity * self.weight
    }
}

/// A riff with everything that its figures are made of.
#[derive(Debug, Clone)]
pub struct Explained<'b> {
    /// The riff.
    pub riff: Riff<'b>,
    /// Every pair, by what it carries, most first.
    pub pairs: Vec<PairTerm<'b>>,
    /// Each change that nobody asked for, and how alike the two are.
    pub kinships: Vec<(&'b Ingredient, &'b Ingredient, f64)>,
    /// What is fresh in it, and what that adds to the score.
    pub seasons: Vec<(&'b Ingredient, Presence, f64)>,
    /// Wanted ingredients that are only a garnish.
    pub on_top: Vec<&'b Ingredient>,
    /// Strength, sugar and acid against the aim.
    pub differences: [Difference; 4],
    /// How the figures come about.
    pub account: Account<'b>,
}

/// The arithmetic of a riff that was built towards an aim.
///
/// # Errors
/// [`NothingPoured`] if it has no figures.
pub fn explained<'b>(riff: &Riff<'b>, aim: &Aim, when: When) -> Result<Explained<'b>, NothingPoured> {
    let mut kinships = Vec::new();
    let mut on_top = Vec::new();
    for change in &riff.changes {
        match change {
            Change::Instead { from, to, likeness } => kinships.push((*from, *to, *likeness)),
            Change::Garnish { what } => on_top.push(*what),
            _ => {}
        }
    }
    let season = |i: &'b Ingredient| Score::season_of(i, when).map(|(presence, worth)| (i, presence, worth));
    Ok(Explained {
        pairs: pair_terms(&riff.harmony),
        kinships,
        seasons: riff.spec.ingredients().filter_map(season).collect(),
        on_top,
        differences: differences(aim, &riff.figures),
        account: account(&riff.spec)?,
        riff: riff.clone(),
    })
}

fn pair_terms<'b>(harmony: &Harmony<'b>) -> Vec<PairTerm<'b>> {
    let mut terms = Vec::new();
    for (index, one) in harmony.voices.iter().enumerate() {
        for other in &harmony.voices[index + 1..] {
            let pair = (one.ingredient, other.ingredient);
            let (affinity, knowledge) = agreed(harmony, pair);
            terms.push(PairTerm { pair, affinity, knowledge, weight: one.weight() * other.weight() });
        }
    }
    terms.sort_by(|a, b| b.product().total_cmp(&a.product()));
    terms
}

/// What a pair counts as, and how that is known.
fn agreed(harmony: &Harmony<'_>, (a, b): (&Ingredient, &Ingredient)) -> (f64, Knowledge) {
    let same =
        |x: &Ingredient, y: &Ingredient| (x.id == a.id && y.id == b.id) || (x.id == b.id && y.id == a.id);
    if let Some(found) = harmony.pairs.iter().find(|p| same(p.one, p.tie.other)) {
        return (found.tie.affinity.value(), Knowledge::Known);
    }
    if harmony.clashes.iter().any(|(x, y)| same(x, y)) {
        return (0.0, Knowledge::Clash);
    }
    let inferred = harmony.unknown.iter().find(|p| same(p.one, p.other));
    (inferred.map_or(0.0, |p| p.affinity.value()), Knowledge::Inferred)
}

//! Companions: what goes with one ingredient, or with several at once.

use std::collections::BTreeMap;

use super::agreement::{Agreement, Agreements};
use super::filter::{Filter, Ruled};
use super::graph::{Graph, Tie, power_mean};
use super::likeness::shared_facets;
use crate::book::{Edge, Facet, Ingredient, IngredientId};
use crate::measure::Affinity;

/// An ingredient that goes with every one of a set.
#[derive(Debug, Clone)]
pub struct Companion<'b> {
    /// The ingredient.
    pub ingredient: &'b Ingredient,
    /// Power mean (exponent −2) of its affinities to the set.
    pub score: f64,
    /// Its affinity to each of the set, in the set's order; `other` is the one of the set.
    pub ties: Vec<Tie<'b>>,
    /// Facets it shares with the set.
    pub shared: Vec<Facet>,
}

/// An ingredient that goes with all of a set but one, of which nothing is known.
#[derive(Debug, Clone)]
pub struct Nearly<'b> {
    /// The ingredient.
    pub ingredient: &'b Ingredient,
    /// Power mean of the affinities that are known and the one that is inferred.
    pub score: f64,
    /// The one of the set with which it has neither affinity nor clash.
    pub unknown: &'b Ingredient,
    /// What is inferred of those two.
    pub inferred: Affinity,
}

/// An ingredient that clashes with one of a set.
#[derive(Debug, Clone, Copy)]
pub struct Clashing<'b> {
    /// The ingredient.
    pub ingredient: &'b Ingredient,
    /// The one of the set it clashes with.
    pub with: &'b Ingredient,
    /// The record: why, and who says so.
    pub edge: &'b Edge,
}

/// The companions of a set.
#[derive(Debug, Clone)]
pub struct Companions<'b> {
    /// The set asked about, in the order asked.
    pub set: Vec<&'b Ingredient>,
    /// Companions, best first, as many as asked for.
    pub found: Vec<Companion<'b>>,
    /// How many there are in all that pass the filter.
    pub total: usize,
    /// What goes with all but one, and by what is inferred with that, when there were fewer companions than asked for.
    pub nearly: Vec<Nearly<'b>>,
    /// What clashes with one of the set.
    pub clashes: Vec<Clashing<'b>>,
    /// Clashes inside the set itself.
    pub within: Vec<Clashing<'b>>,
    /// How many companions the filter ruled out, by reason.
    pub ruled_out: BTreeMap<Ruled, usize>,
}

impl<'b> Graph<'b> {
    /// The best companions of a set of ingredients.
    ///
    /// # Model
    /// The score of c is the power mean, exponent −2, of its affinities to the set; an affinity that is missing or
    /// a clash rules c out. Order of the set does not matter; equal scores are listed by id.
    pub fn companions(&self, set: &[&IngredientId], filter: &Filter, most: usize) -> Companions<'b> {
        let mut positions: Vec<u32> = Vec::new();
        for at in set.iter().filter_map(|id| self.position(id)) {
            if !positions.contains(&at) {
                positions.push(at);
            }
        }
        let members: Vec<&'b Ingredient> = positions.iter().map(|p| self.ingredient(*p)).collect();
        let mut found = Vec::new();
        let mut ruled_out = BTreeMap::new();
        let mut almost = Vec::new();
        for candidate in self.touching(&positions) {
            let known: Vec<Option<Tie<'b>>> =
                positions.iter().map(|p| self.strand(candidate, *p).map(|s| self.tie_of(*p, s))).collect();
            let missing = known.iter().filter(|t| t.is_none()).count();
            if missing > 1 || (missing == 1 && positions.len() == 1) {
                continue;
            }
            if positions.iter().any(|p| self.clash_at(candidate, *p).is_some()) {
                continue;
            }
            let ingredient = self.ingredient(candidate);
            if let Some(reason) = filter.rules_out(ingredient) {
                if missing == 0 {
                    *ruled_out.entry(reason).or_insert(0) += 1;
                }
                continue;
            }
            let unknown = known.iter().position(Option::is_none).map(|index| members[index]);
            let ties: Vec<Tie<'b>> = known.into_iter().flatten().collect();
            let affinities: Vec<f64> = ties.iter().map(|t| t.affinity.value()).collect();
            match unknown {
                Some(unknown) => almost.push((ingredient, affinities, unknown)),
                None => {
                    let (score, shared) = (power_mean(&affinities), shared_facets(ingredient, &members));
                    found.push(Companion { ingredient, score, ties, shared });
                }
            }
        }
        found.sort_by(|a, b| b.score.total_cmp(&a.score).then_with(|| a.ingredient.id.cmp(&b.ingredient.id)));
        let total = found.len();
        let nearly = if total < most { self.nearly(almost, most - total) } else { Vec::new() };
        found.truncate(most);
        let (within, clashes) = self.clashes_of(&positions, filter);
        Companions { set: members, found, total, nearly, clashes, within, ruled_out }
    }

    /// The best of those that go with all but one of a set, what is missing inferred.
    fn nearly(
        &self,
        almost: Vec<(&'b Ingredient, Vec<f64>, &'b Ingredient)>,
        most: usize,
    ) -> Vec<Nearly<'b>> {
        let agreements = Agreements::new(self);
        let mut nearly: Vec<Nearly<'b>> = almost
            .into_iter()
            .filter_map(|(ingredient, mut affinities, unknown)| {
                let Agreement::Inferred(inferred) = agreements.between(&ingredient.id, &unknown.id)? else {
                    return None;
                };
                affinities.push(inferred.value());
                Some(Nearly { ingredient, score: power_mean(&affinities), unknown, inferred })
            })
            .collect();
        nearly
            .sort_by(|a, b| b.score.total_cmp(&a.score).then_with(|| a.ingredient.id.cmp(&b.ingredient.id)));
        nearly.truncate(most);
        nearly
    }

    /// Everything with an affinity to any of the set, the set left out, by position.
    fn touching(&self, set: &[u32]) -> Vec<u32> {
        let mut all: Vec<u32> = set.iter().flat_map(|p| self.neighbours(*p).map(|(n, _)| n)).collect();
        all.sort_unstable();
        all.dedup();
        all.retain(|p| !set.contains(p));
        all
    }

    fn clashes_of(&self, set: &[u32], filter: &Filter) -> (Vec<Clashing<'b>>, Vec<Clashing<'b>>) {
        let mut within = Vec::new();
        let mut outside = Vec::new();
        for at in set {
            for (other, edge) in self.clash_neighbours(*at) {
                let clash = Clashing { ingredient: self.ingredient(other), with: self.ingredient(*at), edge };
                if !set.contains(&other) {
                    if filter.admits(clash.ingredient) {
                        outside.push(clash);
                    }
                } else if at < &other {
                    within.push(clash);
                }
            }
        }
        (within, outside)
    }
}

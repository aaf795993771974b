//! Accords: small groups in which every pair agrees.

use super::filter::Filter;
use super::graph::{Graph, power_mean};
use crate::book::{Ingredient, IngredientId};

/// Largest accord that is looked for.
pub const MOST_SIZE: usize = 6;

/// A group in which every pair agrees.
#[derive(Debug, Clone)]
pub struct Accord<'b> {
    /// The members: those asked about first, then the others by id.
    pub members: Vec<&'b Ingredient>,
    /// Power mean (exponent −2) over all pairs.
    pub score: f64,
    /// The pair that agrees least, and how well.
    pub weakest: (&'b Ingredient, &'b Ingredient, f64),
}

/// The accords around a set.
#[derive(Debug, Clone)]
pub struct Accords<'b> {
    /// The set asked about.
    pub set: Vec<&'b Ingredient>,
    /// The best accords, best first.
    pub found: Vec<Accord<'b>>,
    /// Pairs of the set itself that do not agree: no accord can hold them.
    pub apart: Vec<(&'b Ingredient, &'b Ingredient)>,
    /// How many groups were looked at.
    pub looked_at: usize,
}

struct Search<'g, 'b> {
    graph: &'g Graph<'b>,
    least: f64,
    most: usize,
    size: usize,
    best: Vec<(f64, Vec<u32>)>,
    looked_at: usize,
}

impl<'b> Graph<'b> {
    /// The best groups of `size` around a set, in which every pair has at least the affinity `least`.
    ///
    /// # Model
    /// Score is the power mean, exponent −2, over all pairs of the group. Exact: a group is given up only when even
    /// perfect further pairs could not bring it among the best. Sizes above [`MOST_SIZE`] are cut to it. Of an
    /// ingredient and a form of it only one is taken, unless both were asked about.
    pub fn accords(
        &self,
        set: &[&IngredientId],
        size: usize,
        least: f64,
        filter: &Filter,
        most: usize,
    ) -> Accords<'b> {
        let mut members: Vec<u32> = set.iter().filter_map(|id| self.position(id)).collect();
        members.sort_unstable();
        members.dedup();
        let apart: Vec<_> = pairs(&members)
            .filter(|(a, b)| self.strand(*a, *b).is_none_or(|s| s.affinity < least))
            .map(|(a, b)| (self.ingredient(a), self.ingredient(b)))
            .collect();
        let size = size.min(MOST_SIZE);
        let mut search = Search { graph: self, least, most, size, best: Vec::new(), looked_at: 0 };
        if apart.is_empty() && !members.is_empty() && size > members.len() {
            let candidates: Vec<u32> = self
                .neighbours(members[0])
                .map(|(n, _)| n)
                .filter(|n| !members.contains(n) && search.agrees(&members, *n))
                .filter(|n| filter.admits(self.ingredient(*n)))
                .collect();
            let ties: Vec<f64> =
                pairs(&members).filter_map(|(a, b)| self.strand(a, b)).map(|s| s.affinity).collect();
            search.grow(&members, &ties, &candidates);
        }
        let found = search.best.iter().map(|(score, group)| self.accord_of(*score, group)).collect();
        Accords {
            set: members.iter().map(|p| self.ingredient(*p)).collect(),
            found,
            apart,
            looked_at: search.looked_at,
        }
    }

    fn accord_of(&self, score: f64, group: &[u32]) -> Accord<'b> {
        let weakest = pairs(group)
            .filter_map(|(a, b)| {
                self.strand(a, b).map(|s| (self.ingredient(a), self.ingredient(b), s.affinity))
            })
            .min_by(|x, y| x.2.total_cmp(&y.2));
        let first = self.ingredient(group[0]);
        Accord {
            members: group.iter().map(|p| self.ingredient(*p)).collect(),
            score,
            weakest: weakest.unwrap_or((first, first, 0.0)),
        }
    }
}

fn pairs(group: &[u32]) -> impl Iterator<Item = (u32, u32)> + '_ {
    group.iter().enumerate().flat_map(|(i, a)| group[i + 1..].iter().map(|b| (*a, *b)))
}

impl Search<'_, '_> {
    fn agrees(&self, group: &[u32], candidate: u32) -> bool {
        group.iter().all(|m| {
            self.graph.strand(*m, candidate).is_some_and(|s| s.affinity >= self.least)
                && !self.graph.kin_at(*m, candidate)
        })
    }

    fn grow(&mut self, group: &[u32], ties: &[f64], candidates: &[u32]) {
        self.looked_at += 1;
        if group.len() == self.size {
            let score = power_mean(ties);
            self.best.push((score, group.to_vec()));
            self.best.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
            self.best.truncate(self.most);
            return;
        }
        if self.hopeless(ties) {
            return;
        }
        for (index, candidate) in candidates.iter().enumerate() {
            let mut wider = group.to_vec();
            wider.push(*candidate);
            let mut more = ties.to_vec();
            more.extend(group.iter().filter_map(|m| self.graph.strand(*m, *candidate)).map(|s| s.affinity));
            let rest: Vec<u32> =
                candidates[index + 1..].iter().copied().filter(|c| self.agrees(&[*candidate], *c)).collect();
            if rest.len() + wider.len() >= self.size {
                self.grow(&wider, &more, &rest);
            }
        }
    }

    /// Whether even perfect pairs from here on would not bring the group among the best.
    fn hopeless(&self, ties: &[f64]) -> bool {
        let Some((worst, _)) = self.best.get(self.most.saturating_sub(1)) else { return false };
        let all_pairs = self.size * (self.size - 1) / 2;
        let mut hoped = ties.to_vec();
        hoped.resize(all_pairs, 1.0);
        power_mean(&hoped) < *worst
    }
}

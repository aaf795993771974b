//! What two ingredients are to each other: known, or inferred where the book knows nothing.

use std::cell::{OnceCell, RefCell};
use std::collections::{BTreeMap, HashMap};

use super::filter::Filter;
use super::graph::{Graph, Tie};
use super::likeness;
use crate::book::{Edge, Facet, Ingredient, IngredientId, Kind};
use crate::measure::Affinity;

/// What two ingredients are to each other.
#[derive(Debug, Clone, Copy)]
pub enum Agreement<'b> {
    /// The book has their affinity.
    Known(Tie<'b>),
    /// The book has them as a clash.
    Clash(&'b Edge),
    /// The book has neither: what would be expected of them, discounted. Always to be shown as inferred.
    Inferred(Affinity),
}

impl Agreement<'_> {
    /// The affinity, known or inferred; 0 for a clash.
    pub fn value(&self) -> f64 {
        match self {
            Self::Known(tie) => tie.affinity.value(),
            Self::Clash(_) => 0.0,
            Self::Inferred(affinity) => affinity.value(),
        }
    }
}

/// The most that is inferred. A pack is asked to leave out what goes together less well than this (data/README.md),
/// so a pair that it leaves out is taken to be no better.
pub const MOST_INFERRED: f64 = 0.45;

/// The power to which likeness is raised, so that only what is very like an ingredient speaks for it.
const SHARPNESS: i32 = 8;

/// Added to a sign before its logarithm is taken.
const LEAST_SIGN: f64 = 0.005;

/// Pairs without an affinity added to each two kinds, so that small kinds say little.
const FEW_PAIRS: f64 = 10.0;

/// What tells on whether two ingredients go together.
const SIGNS: usize = 4;

/// Log odds of an affinity: a constant, then what each sign adds. Fitted on the built-in pack's own affinities; a test fits
/// them again and finds the same.
const FITTED: [f64; SIGNS + 1] = [5.93, 1.35, 1.37, 0.58, 0.42];

/// How every two ingredients of a graph agree, with what is missing inferred.
///
/// # Model
/// For a and b with neither an affinity nor a clash:
/// ```text
/// inferred = 0.45 / (1 + exp(−odds)),   odds = c₀ + Σ cᵢ signᵢ
/// like     = mean of the two ways of Σ l(a, x)⁸ a(x, b) / Σ l(a, x)⁸ over all x but a and b
/// company  = cosine of the affinities to third ingredients
/// facets   = cosine of the facet grades
/// kinds    = share of the pairs of their two kinds that have an affinity
/// ```
/// with l the cosine of the facet grades, and a(x, b) taken as 0 where there is no affinity; like, company and kinds go in
/// as logarithms. In words: what is like a goes with b, what is like b goes with a, the two keep the same company, and things of their kinds go
/// together. It is symmetric, and at least 0.01.
///
/// # Limits
/// It ranks pairs; it is no probability, and no measure of taste. An ingredient without affinities, or without facets,
/// gets next to the least.
#[derive(Debug)]
pub struct Agreements<'g, 'b> {
    graph: &'g Graph<'b>,
    /// The facet grades of each ingredient, by facet, as a vector of length 1.
    profiles: OnceCell<Vec<[f64; Facet::ALL.len()]>>,
    /// For each ingredient, once it is asked for, its likeness to all, raised.
    rows: Vec<OnceCell<Vec<f64>>>,
    /// For each two kinds, the share of pairs with an affinity.
    kinds: OnceCell<BTreeMap<(Kind, Kind), f64>>,
    /// What was inferred before: a search asks for the same pairs over and over.
    inferred: RefCell<HashMap<(u32, u32), Affinity>>,
}

impl<'g, 'b> Agreements<'g, 'b> {
    /// Ready to be asked; what is needed is reckoned when it is.
    pub fn new(graph: &'g Graph<'b>) -> Self {
        Self {
            graph,
            profiles: OnceCell::new(),
            rows: (0..graph.len()).map(|_| OnceCell::new()).collect(),
            kinds: OnceCell::new(),
            inferred: RefCell::default(),
        }
    }

    /// What two ingredients are to each other. None if one is not in the book, or both are the same.
    pub fn between(&self, a: &IngredientId, b: &IngredientId) -> Option<Agreement<'b>> {
        let (a, b) = (self.graph.position(a)?, self.graph.position(b)?);
        if a == b {
            return None;
        }
        if let Some(strand) = self.graph.strand(a, b) {
            return Some(Agreement::Known(self.graph.tie_of(b, strand)));
        }
        if let Some(edge) = self.graph.clash_at(a, b) {
            return Some(Agreement::Clash(edge));
        }
        let pair = (a.min(b), a.max(b));
        let mut inferred = self.inferred.borrow_mut();
        let expected = || Affinity::clamped(MOST_INFERRED * self.expected(a, b));
        Some(Agreement::Inferred(*inferred.entry(pair).or_insert_with(expected)))
    }

    /// What an ingredient should go with although the book knows neither affinity nor clash of the two: best first, no more than
    /// asked for.
    pub fn expected_with(
        &self,
        id: &IngredientId,
        filter: &Filter,
        most: usize,
    ) -> Vec<(&'b Ingredient, Affinity)> {
        let others = self.graph.book().ingredients().iter().filter(|i| filter.admits(i));
        let mut expected: Vec<(&'b Ingredient, Affinity)> = others
            .filter_map(|other| match self.between(id, &other.id)? {
                Agreement::Inferred(affinity) => Some((other, affinity)),
                Agreement::Known(_) | Agreement::Clash(_) => None,
            })
            .collect();
        expected.sort_by(|a, b| b.1.cmp(&a.1).then_with(|| a.0.id.cmp(&b.0.id)));
        expected.truncate(most);
        expected
    }

    /// How likely an affinity is, 0 to 1.
    fn expected(&self, a: u32, b: u32) -> f64 {
        let odds = FITTED[0] + FITTED[1..].iter().zip(self.signs(a, b)).map(|(c, s)| c * s).sum::<f64>();
        1.0 / (1.0 + (-odds).exp())
    }

    fn signs(&self, a: u32, b: u32) -> [f64; SIGNS] {
        // One order, so that rounding cannot tell the two apart.
        let (a, b) = (a.min(b), a.max(b));
        let like = f64::midpoint(self.like_goes_with(a, b), self.like_goes_with(b, a));
        let company = likeness::company(self.graph, a, b);
        let facets = self.facets(a, b);
        let log = |sign: f64| (sign + LEAST_SIGN).ln();
        [log(like), log(company), log(self.kinds_agree(a, b)), facets]
    }

    /// The share of the pairs of two ingredients' kinds that have an affinity.
    fn kinds_agree(&self, a: u32, b: u32) -> f64 {
        let kind = |x: u32| self.graph.ingredient(x).kind;
        let pair = |a: Kind, b: Kind| (a.min(b), a.max(b));
        let shares = self.kinds.get_or_init(|| {
            let (mut members, mut bonds) =
                (BTreeMap::<Kind, f64>::new(), BTreeMap::<(Kind, Kind), f64>::new());
            for x in 0..self.graph.len() {
                *members.entry(kind(x)).or_default() += 1.0;
                for (y, _) in self.graph.neighbours(x).filter(|(y, _)| *y > x) {
                    *bonds.entry(pair(kind(x), kind(y))).or_default() += 1.0;
                }
            }
            let possible = |(a, b): (Kind, Kind)| {
                let (m, n) = (members[&a], members[&b]);
                if a == b { m * (m - 1.0) / 2.0 } else { m * n }
            };
            bonds.into_iter().map(|(kinds, count)| (kinds, count / (possible(kinds) + FEW_PAIRS))).collect()
        });
        shares.get(&pair(kind(a), kind(b))).copied().unwrap_or(0.0)
    }

    /// Cosine of the facet grades of two.
    fn facets(&self, a: u32, b: u32) -> f64 {
        let profiles = self
            .profiles
            .get_or_init(|| (0..self.graph.len()).map(|x| profile(self.graph.ingredient(x))).collect());
        profiles[a as usize].iter().zip(&profiles[b as usize]).map(|(x, y)| x * y).sum()
    }

    /// How well what is like `a` goes with `b`, 0 to 1.
    fn like_goes_with(&self, a: u32, b: u32) -> f64 {
        let row = self.row(a);
        let all: f64 = row.iter().sum::<f64>() - row[b as usize];
        let sum: f64 = self
            .graph
            .neighbours(b)
            .filter(|(x, _)| *x != a)
            .map(|(x, s)| row[x as usize] * s.affinity)
            .sum();
        if all > 0.0 { (sum / all).clamp(0.0, 1.0) } else { 0.0 }
    }

    fn row(&self, a: u32) -> &[f64] {
        self.rows[a as usize].get_or_init(|| {
            (0..self.graph.len())
                .map(|x| if x == a { 0.0 } else { self.facets(a, x).powi(SHARPNESS) })
                .collect()
        })
    }
}

/// The facet grades of an ingredient as a vector of length 1; of none, nothing.
fn profile(of: &Ingredient) -> [f64; Facet::ALL.len()] {
    let grades = std::array::from_fn(|at| of.facets.get(&Facet::ALL[at]).map_or(0.0, |g| g.value()));
    let size = grades.iter().map(|g: &f64| g * g).sum::<f64>().sqrt();
    if size > 0.0 { grades.map(|g| g / size) } else { grades }
}

#[cfg(test)]
mod tests;

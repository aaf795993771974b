//! Bridges: ingredients that join two that do not obviously meet.

use std::cmp::{Ordering, Reverse};
use std::collections::BinaryHeap;

use super::graph::{Graph, Tie};
use crate::book::{Edge, Ingredient, IngredientId};

/// Most edges of a bridge.
pub const MOST_STEPS: usize = 4;

/// One way from one ingredient to another.
#[derive(Debug, Clone)]
pub struct Bridge<'b> {
    /// The ingredients passed, both ends included.
    pub path: Vec<&'b Ingredient>,
    /// The affinity of each step; `other` is the ingredient stepped to.
    pub ties: Vec<Tie<'b>>,
    /// Product of the affinities, 0 to 1.
    pub strength: f64,
}

/// The bridges between two ingredients.
#[derive(Debug, Clone)]
pub struct Bridges<'b> {
    /// Where they start.
    pub from: &'b Ingredient,
    /// Where they end.
    pub to: &'b Ingredient,
    /// The affinity of the two themselves, if known.
    pub direct: Option<Tie<'b>>,
    /// The clash of the two, if known.
    pub clash: Option<&'b Edge>,
    /// The best ways through other ingredients, best first.
    pub found: Vec<Bridge<'b>>,
}

/// A way begun: what it costs, what it will cost at least.
struct Begun {
    least: f64,
    cost: f64,
    path: Vec<u32>,
}

impl PartialEq for Begun {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Begun {}

impl PartialOrd for Begun {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Begun {
    fn cmp(&self, other: &Self) -> Ordering {
        self.least.total_cmp(&other.least).then_with(|| self.path.cmp(&other.path))
    }
}

impl<'b> Graph<'b> {
    /// The best bridges from one ingredient to another.
    ///
    /// # Model
    /// Simple paths of two to [`MOST_STEPS`] edges that minimise the sum of −ln affinity. What clashes with either
    /// end, or is a form of it, is no bridge. Exact: ways are continued in the order of what they must cost at least,
    /// found by walking back from the far end, so the first to arrive are the best. Equal ones are listed by id.
    ///
    /// None if either id is not in the book.
    pub fn bridges(&self, from: &IngredientId, to: &IngredientId, most: usize) -> Option<Bridges<'b>> {
        let (start, end) = (self.position(from)?, self.position(to)?);
        let found = if start == end { Vec::new() } else { self.cheapest(start, end, most) };
        Some(Bridges {
            from: self.ingredient(start),
            to: self.ingredient(end),
            direct: self.tie(from, to),
            clash: self.clash_at(start, end),
            found: found.into_iter().map(|path| self.bridge_of(&path)).collect(),
        })
    }

    fn cheapest(&self, start: u32, end: u32, most: usize) -> Vec<Vec<u32>> {
        let to_go = self.least_to(end);
        let unfit = |at: u32| {
            [start, end].into_iter().any(|tip| self.clash_at(at, tip).is_some() || self.kin_at(at, tip))
        };
        let mut heap = BinaryHeap::from([Reverse(Begun {
            least: to_go[MOST_STEPS][start as usize],
            cost: 0.0,
            path: vec![start],
        })]);
        let mut found = Vec::new();
        while let Some(Reverse(begun)) = heap.pop() {
            let Some(&at) = begun.path.last() else { continue };
            if at == end {
                found.push(begun.path);
                if found.len() == most {
                    break;
                }
                continue;
            }
            let left = MOST_STEPS - begun.path.len();
            for (next, strand) in self.neighbours(at) {
                let direct = at == start && next == end;
                if direct || begun.path.contains(&next) || (next != end && unfit(next)) {
                    continue;
                }
                let cost = begun.cost - strand.affinity.ln();
                let least = cost + to_go[left][next as usize];
                if least.is_finite() {
                    let mut path = begun.path.clone();
                    path.push(next);
                    heap.push(Reverse(Begun { least, cost, path }));
                }
            }
        }
        found
    }

    /// `[steps][ingredient]`: what the way to `end` costs at least in so many steps or fewer.
    fn least_to(&self, end: u32) -> Vec<Vec<f64>> {
        let mut rounds = vec![vec![f64::INFINITY; self.len() as usize]];
        rounds[0][end as usize] = 0.0;
        for round in 0..MOST_STEPS {
            let mut next = rounds[round].clone();
            for at in 0..self.len() {
                let known = rounds[round][at as usize];
                if known.is_finite() {
                    for (other, strand) in self.neighbours(at) {
                        let cost = known - strand.affinity.ln();
                        let best = &mut next[other as usize];
                        *best = best.min(cost);
                    }
                }
            }
            rounds.push(next);
        }
        rounds
    }

    fn bridge_of(&self, path: &[u32]) -> Bridge<'b> {
        let ties: Vec<Tie<'b>> = path
            .windows(2)
            .filter_map(|step| self.strand(step[0], step[1]).map(|s| self.tie_of(step[1], s)))
            .collect();
        Bridge {
            path: path.iter().map(|p| self.ingredient(*p)).collect(),
            strength: ties.iter().map(|t| t.affinity.value()).product(),
            ties,
        }
    }
}

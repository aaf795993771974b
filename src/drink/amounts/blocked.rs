//! Why no amounts keep all limits, and what would free them.

use super::choice::Goal;
use super::limit::Limit;
use super::puzzle::{Free, Puzzle, Solution};
use super::search::Search;
use crate::measure::Pour;

/// One change that alone would let the limits be kept.
#[derive(Debug, Clone, PartialEq)]
pub enum Frees {
    /// A limit moved to where it is just kept.
    Limit {
        /// The limit as it was.
        from: Limit,
        /// The nearest that can be kept.
        to: Limit,
    },
    /// A line poured in another amount than it may.
    Line {
        /// Which free line, by place.
        line: usize,
        /// The amount nearest its usual one that would do.
        to: Pour,
    },
    /// Equal parts given up.
    Uneven,
}

/// Limits that no amounts keep together.
#[derive(Debug, Clone, PartialEq)]
pub struct Blocked {
    /// Every single change that would free them, each the least of its kind. Empty if it takes two at least.
    pub frees: Vec<Frees>,
}

impl Blocked {
    /// What would free a puzzle that has no answer.
    pub(super) fn of(puzzle: &Puzzle<'_>) -> Self {
        let limits = puzzle.limits.iter().enumerate().filter_map(|(index, from)| {
            let by = best(puzzle, Goal::Breaking(index))?.cost;
            Some(Frees::Limit { from: *from, to: from.eased(by) })
        });
        let lines = puzzle.lifted.iter().filter_map(|(line, pours)| {
            let mut lifted = puzzle.clone();
            let Free { pours: own, .. } = lifted.free.get_mut(*line)?;
            own.clone_from(pours);
            let to = *best(&lifted, Goal::Moving(*line))?.pours.get(*line)?;
            Some(Frees::Line { line: *line, to })
        });
        let uneven = || {
            let uneven = Puzzle { equal: Vec::new(), ..puzzle.clone() };
            (!puzzle.equal.is_empty() && best(&uneven, Goal::Cost).is_some()).then_some(Frees::Uneven)
        };
        Self { frees: limits.chain(lines).chain(uneven()).collect() }
    }
}

fn best(puzzle: &Puzzle<'_>, goal: Goal) -> Option<Solution> {
    let mut search = Search::new(puzzle, goal, 1).ok()?;
    search.run();
    search.found.into_iter().next()
}

//! A drink whose amounts are to be found, and what was found.

use thiserror::Error;

use super::aim::Aim;
use super::blocked::Blocked;
use super::bounds::Bounds;
use super::choice::Goal;
use super::limit::Limit;
use super::search::Search;
use super::sums::{Mixing, Sums};
use crate::book::Makeup;
use crate::liquid::Ice;
use crate::measure::{Pour, Volume};

/// A line whose amount is to be found.
#[derive(Debug, Clone)]
pub struct Free<'m> {
    /// What it is.
    pub makeup: &'m Makeup,
    /// Whether it goes in after the ice.
    pub lengthens: bool,
    /// Amounts it may take.
    pub pours: Vec<Pour>,
    /// The amount the template would give it.
    pub usual: Volume,
}

/// A line whose amount stays.
#[derive(Debug, Clone, Copy)]
pub struct Fixed<'m> {
    /// What it is.
    pub makeup: &'m Makeup,
    /// Whether it goes in after the ice.
    pub lengthens: bool,
    /// How much.
    pub volume: Volume,
}

/// A drink whose amounts are to be found.
#[derive(Debug, Clone)]
pub struct Puzzle<'m> {
    /// Lines to be found.
    pub free: Vec<Free<'m>>,
    /// Lines that stay.
    pub fixed: Vec<Fixed<'m>>,
    /// What melts in.
    pub ice: Ice,
    /// What it should come to.
    pub aim: Aim,
    /// Free lines, by place, that must come out equal; each in one group at most.
    pub equal: Vec<Vec<usize>>,
    /// What must be kept besides.
    pub limits: Vec<Limit>,
    /// Free lines, by place, whose amounts somebody has limited, each with what it could take otherwise: to say what
    /// would free a puzzle that has no answer.
    pub lifted: Vec<(usize, Vec<Pour>)>,
    /// How volumes come together.
    pub mixing: Mixing,
}

/// One answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Solution {
    /// The amount of each free line, in the order of the puzzle.
    pub pours: Vec<Pour>,
    /// How far the drink is from the aim, in just-noticeable differences.
    pub distance: f64,
    /// Distance, pulls and second marks together: what was minimised.
    pub cost: f64,
}

/// The best answers, best first, and what was done to find them.
#[derive(Debug, Clone, PartialEq)]
pub struct Solved {
    /// Best first; never empty.
    pub best: Vec<Solution>,
    /// How many combinations of amounts there are.
    pub combinations: u64,
    /// How many of them had to be mixed; the others were ruled out by bounds.
    pub mixed: u64,
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum Unsolvable {
    /// A line whose limits hold no mark of the jigger.
    #[error("no mark of the jigger lies within the limits of line {line}")]
    NoPour {
        /// Which free line, from 1.
        line: usize,
    },
    /// Nothing with a volume.
    #[error("nothing is poured")]
    NothingPoured,
    /// No amounts keep all limits, or what should stay equal has none in common.
    #[error("no amounts keep all limits")]
    Blocked(Blocked),
}

impl<'m> Puzzle<'m> {
    /// A puzzle without limits.
    pub fn new(free: Vec<Free<'m>>, fixed: Vec<Fixed<'m>>, ice: Ice, aim: Aim) -> Self {
        let (equal, limits, lifted) = (Vec::new(), Vec::new(), Vec::new());
        Self { free, fixed, ice, aim, equal, limits, lifted, mixing: Mixing::True }
    }

    /// No amounts come nearer to the aim than this, in just-noticeable differences: a bound, found without looking at them
    /// one by one.
    pub fn least_distance(&self) -> f64 {
        let sums = |makeup, volume, lengthens| Sums::of(makeup, volume, lengthens, self.mixing);
        let fixed = self.fixed.iter().map(|f| sums(f.makeup, f.volume, f.lengthens));
        let fixed = fixed.fold(Sums::default(), |a, b| a.plus(&b));
        let ends = self.free.iter().filter_map(|f| {
            let volumes = || f.pours.iter().map(|p| p.volume);
            let end = |volume| sums(f.makeup, volume, f.lengthens);
            Some((end(volumes().min()?), end(volumes().max()?)))
        });
        // A glass of any size will do.
        let aim = Aim { served: 0.0, ..self.aim };
        let bounds = Bounds { aim: &aim, limits: &[], ice: self.ice, mixing: self.mixing };
        bounds.least(&fixed, &ends.collect::<Vec<_>>()).unwrap_or(f64::INFINITY)
    }

    /// The best amounts, and the next best, `most` in all.
    ///
    /// # Model
    /// Minimises the distance to the aim (see [`Aim::distance`]) plus half a just-noticeable difference for every
    /// quarter ounce by which a line leaves its usual amount, plus a quarter for a pour of two marks
    /// that is not the usual amount, plus one for every 15 % by which the glass comes out fuller or emptier.
    /// Exact over all combinations of the pours given that keep the limits: branch and bound, where a branch is left out
    /// only if no drink in it could come among the best. Equal costs are ordered by the amounts.
    ///
    /// # Errors
    /// [`Unsolvable`], by name; where limits cannot be kept, with what would free them.
    pub fn solve(&self, most: usize) -> Result<Solved, Unsolvable> {
        let mut search = match Search::new(self, Goal::Cost, most.max(1)) {
            Err(Unsolvable::Blocked(_)) => return Err(Unsolvable::Blocked(Blocked::of(self))),
            search => search?,
        };
        search.run();
        if search.found.is_empty() {
            let kept = !self.limits.is_empty();
            return Err(if kept {
                Unsolvable::Blocked(Blocked::of(self))
            } else {
                Unsolvable::NothingPoured
            });
        }
        let (combinations, mixed) = (search.combinations(), search.mixed);
        let mut best = search.found;
        best.truncate(most.max(1));
        Ok(Solved { best, combinations, mixed })
    }
}

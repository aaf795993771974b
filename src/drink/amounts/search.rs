//! Branch and bound over the pours.

use super::aim::Aim;
use super::bounds::Bounds;
use super::choice::{Choice, Goal, choices};
use super::dual::{Dual, Term};
use super::glass::{InGlass, Range};
use super::limit::{Held, Limit};
use super::puzzle::{Puzzle, Solution, Unsolvable};
use super::sums::{Mixing, Sums};
use crate::drink::figures::Poured;
use crate::measure::{Pour, Volume};

/// Bounds are right to this; a branch is left out only if it is worse by more.
const ROUNDING: f64 = 1e-9;

/// From so many combinations on a proof of their own pays.
const WORTH_A_PROOF: usize = 60;

/// A search under way.
#[derive(Debug)]
pub(super) struct Search<'p> {
    puzzle: &'p Puzzle<'p>,
    goal: Goal,
    limits: Vec<Limit>,
    choices: Vec<Choice>,
    /// The least and most of each choice, and the least pull of those from each on.
    ranges: Vec<Range>,
    pulls: Vec<f64>,
    /// How many combinations of the choices from each on there are.
    left: Vec<usize>,
    /// The proof for all there is, and those for ever fewer open choices.
    duals: Vec<Dual<'p>>,
    /// The amounts of each choice, those first that promise most.
    order: Vec<Vec<usize>>,
    most: usize,
    /// What was mixed before the search began.
    tried: Vec<usize>,
    /// Which amount of each choice so far.
    chosen: Vec<usize>,
    /// Best first.
    pub(super) found: Vec<Solution>,
    pub(super) mixed: u64,
}

impl<'p> Search<'p> {
    pub(super) fn new(puzzle: &'p Puzzle<'p>, goal: Goal, most: usize) -> Result<Self, Unsolvable> {
        if let Some(line) = puzzle.free.iter().position(|f| f.pours.is_empty()) {
            return Err(Unsolvable::NoPour { line: line + 1 });
        }
        let mut choices = choices(puzzle, goal)?;
        // What can move the drink most is decided first.
        choices.sort_by(|a, b| b.room().total_cmp(&a.room()).then(a.lines.cmp(&b.lines)));
        let mut pulls = vec![0.0; choices.len() + 1];
        for (index, choice) in choices.iter().enumerate().rev() {
            pulls[index] = pulls[index + 1] + choice.least_pull();
        }
        let mut limits = puzzle.limits.clone();
        if let Goal::Breaking(index) = goal {
            limits.remove(index);
        }
        let mut left = vec![1; choices.len() + 1];
        for (index, choice) in choices.iter().enumerate().rev() {
            left[index] = choice.steps.len().saturating_mul(left[index + 1]);
        }
        let fixed = puzzle.fixed.iter().map(|f| Sums::of(f.makeup, f.volume, f.lengthens, puzzle.mixing));
        let fixed = fixed.fold(Sums::default(), |a, b| a.plus(&b));
        let ranges: Vec<Range> = choices.iter().map(Choice::range).collect();
        let glass = InGlass::of(puzzle.mixing, puzzle.ice, &fixed, &ranges);
        Ok(Self {
            duals: vec![Dual::new(&puzzle.aim, glass, (fixed, 0.0), &choices, &ranges)],
            left,
            order: choices.iter().map(|c| (0..c.steps.len()).collect()).collect(),
            goal,
            limits,
            ranges,
            pulls,
            choices,
            most,
            tried: Vec::new(),
            chosen: Vec::new(),
            found: Vec::new(),
            mixed: 0,
            puzzle,
        })
    }

    /// How many combinations of amounts there are.
    pub(super) fn combinations(&self) -> u64 {
        self.left[0] as u64
    }

    pub(super) fn run(&mut self) {
        if self.goal == Goal::Cost {
            let (picks, about) = self.near_the_best();
            let dual = &mut self.duals[0];
            dual.beat(about);
            for (order, terms) in self.order.iter_mut().zip(dual.terms()) {
                order.sort_by(|a, b| dual.value(&terms[*a]).total_cmp(&dual.value(&terms[*b])));
            }
            // Nothing has that cost yet: it served to put the amounts in order.
            dual.forget();
            if self.most == 1 && !self.choices.is_empty() {
                let pull = self.choices.iter().zip(&picks).map(|(c, pick)| c.steps[*pick].pull).sum();
                self.chosen = picks;
                self.weigh(pull);
                self.tried = std::mem::take(&mut self.chosen);
            }
        }
        let fixed = self.dual().fixed();
        self.go_on(&fixed);
    }

    /// The proof for the choices that are open.
    fn dual(&self) -> &Dual<'p> {
        &self.duals[self.duals.len() - 1]
    }

    fn go_on(&mut self, poured: &Term) {
        let at = self.chosen.len();
        if at == self.choices.len() {
            if self.choices.is_empty() || self.chosen != self.tried {
                self.weigh(poured.pull);
            }
            return;
        }
        for turn in 0..self.order[at].len() {
            let index = self.order[at][turn];
            let next = poured.plus(self.dual().term(at, index));
            if self.is_ruled_out(&next, at + 1) {
                continue;
            }
            self.chosen.push(index);
            if self.left[at + 1] >= WORTH_A_PROOF && self.to_beat().is_finite() && self.goal == Goal::Cost {
                self.go_on_narrowed(&next);
            } else {
                self.go_on(&next);
            }
            self.chosen.pop();
        }
    }

    /// Goes on with a proof that knows what is poured: its bounds are closer.
    fn go_on_narrowed(&mut self, poured: &Term) {
        let at = self.chosen.len();
        let (open, choices) = (&self.ranges[at..], &self.choices[at..]);
        let glass = InGlass::of(self.puzzle.mixing, self.puzzle.ice, &poured.sums, open);
        let mut dual = self.dual().narrowed(glass, (poured.sums, poured.pull), choices, open);
        dual.beat(self.to_beat());
        let fixed = dual.fixed();
        if dual.rules_out(&fixed, at) {
            return;
        }
        self.duals.push(dual);
        self.go_on(&fixed);
        self.duals.pop();
        let to_beat = self.to_beat();
        if let Some(dual) = self.duals.last_mut() {
            dual.beat(to_beat);
        }
    }

    /// Whether nothing that comes of so much poured, and the choices from `open` on, can be among the best.
    fn is_ruled_out(&self, poured: &Term, open: usize) -> bool {
        let (to_beat, pull) = (self.to_beat(), poured.pull + self.pulls[open]);
        if pull > to_beat || self.dual().rules_out(poured, open) {
            return true;
        }
        if self.limits.is_empty() && open < self.choices.len() {
            return false;
        }
        self.least(&poured.sums, open).is_none_or(|least| pull + least > to_beat)
    }

    /// A good choice and about what it costs, by bettering one after the other.
    fn near_the_best(&self) -> (Vec<usize>, f64) {
        let dual = self.dual();
        let terms = dual.terms();
        let mut picks: Vec<usize> = vec![0; terms.len()];
        let mut best = f64::INFINITY;
        for _ in 0..6 {
            let before = best;
            for at in 0..terms.len() {
                let others = (0..terms.len()).filter(|other| *other != at);
                let rest = others.fold(dual.fixed(), |sum, other| sum.plus(&terms[other][picks[other]]));
                for (index, term) in terms[at].iter().enumerate() {
                    let cost = dual.about(&rest.plus(term));
                    if cost < best {
                        (best, picks[at]) = (cost, index);
                    }
                }
            }
            if best >= before {
                break;
            }
        }
        (picks, best)
    }

    /// What is not to be exceeded: the cost of the worst of the best so far, if there are enough of them.
    fn to_beat(&self) -> f64 {
        self.found.get(self.most - 1).map_or(f64::INFINITY, |s| s.cost + ROUNDING)
    }

    /// The least that the goal can come to beside the pulls, with so much poured and the choices from `open` on open.
    fn least(&self, sums: &Sums, open: usize) -> Option<f64> {
        let bounds = Bounds {
            aim: &self.puzzle.aim,
            limits: &self.limits,
            ice: self.puzzle.ice,
            mixing: self.puzzle.mixing,
        };
        let open = &self.ranges[open..];
        match self.goal {
            Goal::Cost => bounds.least(sums, open),
            Goal::Breaking(index) => bounds.least_broken(sums, open, &self.puzzle.limits[index]),
            Goal::Moving(_) => bounds.may_be(sums, open).then_some(0.0),
        }
    }

    /// Mixes what is chosen.
    fn weigh(&mut self, pull: f64) {
        self.mixed += 1;
        let Some(glass) = self.glass() else { return };
        if self.limits.iter().any(|limit| limit.excess(glass.held(limit.of())) > 0.0) {
            return;
        }
        let aim: &Aim = &self.puzzle.aim;
        let distance = aim.distance_of(&glass.tastes);
        let cost = match self.goal {
            Goal::Cost => distance + pull + aim.glass_pull(glass.served, glass.served),
            Goal::Breaking(index) => {
                let limit = &self.puzzle.limits[index];
                limit.excess(glass.held(limit.of()))
            }
            Goal::Moving(_) => pull,
        };
        let solution = Solution { pours: self.pours(), distance, cost };
        let at = self.found.partition_point(|s| before(s, &solution));
        self.found.insert(at, solution);
        self.found.truncate(self.most);
        let to_beat = self.to_beat();
        if let Some(dual) = self.duals.last_mut().filter(|_| self.goal == Goal::Cost) {
            dual.beat(to_beat);
        }
    }

    /// The pour of each free line, in the order of the puzzle.
    fn pours(&self) -> Vec<Pour> {
        let mut pours = vec![Pour { volume: Volume::clamped(0.0), marks: 0 }; self.puzzle.free.len()];
        for (choice, index) in self.choices.iter().zip(&self.chosen) {
            for line in &choice.lines {
                pours[*line] = choice.steps[*index].pour;
            }
        }
        pours
    }

    /// What a full choice comes to; none if that is nothing.
    fn glass(&self) -> Option<Glass> {
        let Puzzle { fixed, ice, mixing, .. } = self.puzzle;
        let chosen = self.choices.iter().zip(&self.chosen).map(|(choice, index)| &choice.steps[*index]);
        if *mixing == Mixing::Summed {
            let fixed = fixed.iter().map(|f| Sums::of(f.makeup, f.volume, f.lengthens, *mixing));
            let sums = fixed.chain(chosen.map(|s| s.sums)).fold(Sums::default(), |a, b| a.plus(&b));
            let served = InGlass::of(*mixing, *ice, &sums, &[]).below.at(&sums);
            let tastes = sums.carried.map(|carried| carried / served);
            return (served > 0.0).then(|| Glass { tastes, served, alcohol: sums.alcohol() });
        }
        let fixed = fixed.iter().filter_map(|f| Poured::of(f.makeup, f.volume, f.lengthens));
        let poured = fixed.chain(chosen.map(|s| s.poured)).fold(Poured::default(), |a, b| a.plus(&b));
        let figures = poured.over_ice(*ice)?;
        Some(Glass {
            tastes: Aim::of(&figures).values(),
            served: figures.served.ml(),
            alcohol: figures.ethanol.grams(),
        })
    }
}

/// What is in the glass.
struct Glass {
    tastes: [f64; 4],
    served: f64,
    alcohol: f64,
}

impl Glass {
    fn held(&self, held: Held) -> f64 {
        match held {
            Held::Taste(direction) => self.tastes[direction as usize],
            Held::Glass => self.served,
            Held::Alcohol => self.alcohol,
        }
    }
}

fn before(a: &Solution, b: &Solution) -> bool {
    let volumes = |s: &Solution| s.pours.iter().map(|p| p.volume).collect::<Vec<_>>();
    a.cost.total_cmp(&b.cost).then_with(|| volumes(a).cmp(&volumes(b))).is_lt()
}

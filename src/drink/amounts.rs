//! The amounts that bring a drink nearest to its aim, on the marks of a jigger: exact.

use thiserror::Error;

use super::figures::{Figures, Poured, parts_of};
use crate::book::Makeup;
use crate::liquid::{Ice, dilution};
use crate::measure::{Pour, Strength, Volume};

/// What a drink should come to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Aim {
    /// Strength, % vol.
    pub strength: f64,
    /// Sugars, g/L.
    pub sugar: f64,
    /// Acid as citric, g/L.
    pub acid: f64,
    /// Volume in the glass, ml: a pull, not a part of the distance.
    pub served: f64,
}

/// Just-noticeable difference of strength, % vol: 1.03 to 1.32 in the mouth for wine (a published abstract).
const NOTICED_STRENGTH: f64 = 1.0;
/// Just-noticeable difference of sugar, as a share of the aim: 9 % in a cola (Journal of Sensory Studies, abstract).
const NOTICED_SUGAR: f64 = 0.10;
/// Just-noticeable difference of acid, as a share of the aim: 0.15 to 0.3, *from memory*.
const NOTICED_ACID: f64 = 0.15;
/// Least steps, in g/L, where the aim is near nothing: a few times the detection thresholds.
const LEAST_SUGAR_STEP: f64 = 3.0;
const LEAST_ACID_STEP: f64 = 0.5;
/// What moving a line by a quarter ounce costs, in just-noticeable differences: the pull towards the template.
const PULL_A_QUARTER: f64 = 0.5;
/// By what share the glass may be fuller or emptier before that costs a just-noticeable difference.
const A_FULL_GLASS: f64 = 0.15;
/// A quarter of a US fluid ounce, ml.
const QUARTER_ML: f64 = 29.573_529_562_5 / 4.0;
/// What a pour of two marks costs where the usual amount is another: a second pour takes time and can go wrong.
const SECOND_MARK: f64 = 0.25;

impl Aim {
    /// The aim of coming out like a drink.
    pub fn of(figures: &Figures) -> Self {
        Self {
            strength: figures.strength.percent_vol(),
            sugar: figures.sugar.grams_per_litre(),
            acid: figures.acid.grams_per_litre(),
            served: figures.served.ml(),
        }
    }

    /// The pull towards the volume in the glass: 1 for every 15 % off, at least, of any volume between two.
    fn glass_pull(&self, least: f64, most: f64) -> f64 {
        if self.served <= 0.0 {
            return 0.0;
        }
        (least - self.served).max(self.served - most).max(0.0) / (A_FULL_GLASS * self.served)
    }

    fn steps(&self) -> [(f64, f64); 3] {
        [
            (self.strength, NOTICED_STRENGTH),
            (self.sugar, (NOTICED_SUGAR * self.sugar).max(LEAST_SUGAR_STEP)),
            (self.acid, (NOTICED_ACID * self.acid).max(LEAST_ACID_STEP)),
        ]
    }

    /// How far a drink is from the aim: the sum over strength, sugar and acid, each in just-noticeable differences.
    pub fn distance(&self, figures: &Figures) -> f64 {
        let own = Self::of(figures);
        let found = [own.strength, own.sugar, own.acid];
        self.steps().iter().zip(found).map(|((aim, step), value)| (value - aim).abs() / step).sum()
    }

    /// The least distance of any drink whose strength, sugar and acid lie between `value / up` and `value / down`.
    fn least_distance(&self, values: [f64; 3], down: f64, up: f64) -> f64 {
        let gap = |aim: f64, value: f64| (value / up - aim).max(aim - value / down).max(0.0);
        self.steps().iter().zip(values).map(|((aim, step), value)| gap(*aim, value) / step).sum()
    }
}

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
}

/// One answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Solution {
    /// The amount of each free line, in the order of the puzzle.
    pub pours: Vec<Pour>,
    /// What the drink comes to.
    pub figures: Figures,
    /// How far that is from the aim, in just-noticeable differences.
    pub distance: f64,
    /// Distance, pull towards the usual amounts, and second marks together: what was minimised.
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
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
}

/// One amount of one line, taken apart beforehand.
#[derive(Debug, Clone, Copy)]
struct Step {
    pour: Pour,
    pull: f64,
    sums: Sums,
    poured: Poured,
}

/// Volumes added as if nothing contracted, and what they carry.
#[derive(Debug, Clone, Copy, Default)]
struct Sums {
    before_ml: f64,
    after_ml: f64,
    before_ethanol_ml: f64,
    ethanol_ml: f64,
    sugar_g: f64,
    acid_g: f64,
}

impl Sums {
    fn of(makeup: &Makeup, volume: Volume, lengthens: bool) -> Self {
        let ml = parts_of(makeup, volume).map_or(volume, |p| p.volume()).ml();
        let litres = volume.ml() / 1000.0;
        let ethanol_ml = volume.ml() * makeup.strength.percent_vol() / 100.0;
        Self {
            before_ml: if lengthens { 0.0 } else { ml },
            after_ml: if lengthens { ml } else { 0.0 },
            before_ethanol_ml: if lengthens { 0.0 } else { ethanol_ml },
            ethanol_ml,
            sugar_g: litres * makeup.sugar.grams_per_litre(),
            acid_g: litres * makeup.acid.grams_per_litre(),
        }
    }

    fn plus(self, other: Self) -> Self {
        Self {
            before_ml: self.before_ml + other.before_ml,
            after_ml: self.after_ml + other.after_ml,
            before_ethanol_ml: self.before_ethanol_ml + other.before_ethanol_ml,
            ethanol_ml: self.ethanol_ml + other.ethanol_ml,
            sugar_g: self.sugar_g + other.sugar_g,
            acid_g: self.acid_g + other.acid_g,
        }
    }
}

/// How far the true volume may lie below and above the sum of the volumes, as factors.
///
/// Ethanol and water contract by at most 3.7 % of their volume, and by at most 1.3 % where nothing poured is above
/// 65 % vol; the strength before ice, and with it the dilution, moves by as little.
fn volume_bounds(strongest: f64) -> (f64, f64) {
    if strongest <= 65.0 { (0.98, 1.015) } else { (0.955, 1.04) }
}

struct Search<'p> {
    puzzle: &'p Puzzle<'p>,
    steps: Vec<Vec<Step>>,
    bounds: (f64, f64),
    most: usize,
    chosen: Vec<Pour>,
    best: Vec<Solution>,
    mixed: u64,
}

impl Puzzle<'_> {
    /// The best amounts, and the next best, `most` in all.
    ///
    /// # Model
    /// Minimises the distance to the aim (see [`Aim::distance`]) plus half a just-noticeable difference for every
    /// quarter ounce by which a line leaves its usual amount, plus a quarter for a pour of two marks
    /// that is not the usual amount, plus one for every 15 % by which the glass comes out fuller or emptier.
    /// Exact over all combinations of the pours given: a combination is left out only if no true volume between its
    /// bounds could bring it among the best. Equal costs are ordered by the amounts.
    ///
    /// # Errors
    /// [`Unsolvable`], by name.
    pub fn solve(&self, most: usize) -> Result<Solved, Unsolvable> {
        if let Some(line) = self.free.iter().position(|f| f.pours.is_empty()) {
            return Err(Unsolvable::NoPour { line: line + 1 });
        }
        let steps: Vec<Vec<Step>> = self.free.iter().map(steps_of).collect();
        let combinations = steps.iter().map(|s| s.len() as u64).product();
        let strengths = self.free.iter().map(|f| f.makeup).chain(self.fixed.iter().map(|f| f.makeup));
        let strongest = strengths.map(|m| m.strength.percent_vol()).fold(0.0, f64::max);
        let base = self
            .fixed
            .iter()
            .map(|f| Sums::of(f.makeup, f.volume, f.lengthens))
            .fold(Sums::default(), Sums::plus);
        let mut search = Search {
            puzzle: self,
            steps,
            bounds: volume_bounds(strongest),
            most: most.max(1),
            chosen: Vec::new(),
            best: Vec::new(),
            mixed: 0,
        };
        let stays = self
            .fixed
            .iter()
            .filter_map(|f| Poured::of(f.makeup, f.volume, f.lengthens))
            .fold(Poured::default(), |sum, one| sum.plus(&one));
        search.go_on(base, &stays, 0.0);
        if search.best.is_empty() {
            return Err(Unsolvable::NothingPoured);
        }
        Ok(Solved { best: search.best, combinations, mixed: search.mixed })
    }
}

/// The amounts of a line, the usual one first, then by how far they are from it.
fn steps_of(free: &Free<'_>) -> Vec<Step> {
    let mut steps: Vec<Step> = free
        .pours
        .iter()
        .map(|pour| {
            let moved = (pour.volume.ml() - free.usual.ml()).abs() / QUARTER_ML;
            let extra = if pour.marks > 1 && moved > 1e-6 { SECOND_MARK } else { 0.0 };
            Step {
                pour: *pour,
                pull: PULL_A_QUARTER * moved + extra,
                sums: Sums::of(free.makeup, pour.volume, free.lengthens),
                poured: Poured::of(free.makeup, pour.volume, free.lengthens).unwrap_or_default(),
            }
        })
        .collect();
    steps.sort_by(|a, b| a.pull.total_cmp(&b.pull).then(a.pour.volume.cmp(&b.pour.volume)));
    steps
}

impl Search<'_> {
    fn go_on(&mut self, sums: Sums, poured: &Poured, pull: f64) {
        let line = self.chosen.len();
        if line == self.steps.len() {
            self.weigh(sums, poured, pull);
            return;
        }
        for index in 0..self.steps[line].len() {
            let step = self.steps[line][index];
            if pull + step.pull > self.to_beat() {
                break;
            }
            self.chosen.push(step.pour);
            self.go_on(sums.plus(step.sums), &poured.plus(&step.poured), pull + step.pull);
            self.chosen.pop();
        }
    }

    /// The cost of the worst of the best so far, if there are enough of them.
    fn to_beat(&self) -> f64 {
        self.best.get(self.most - 1).map_or(f64::INFINITY, |s| s.cost)
    }

    fn weigh(&mut self, sums: Sums, poured: &Poured, pull: f64) {
        if self.least_cost(sums, pull) > self.to_beat() {
            return;
        }
        self.mixed += 1;
        let Some(figures) = poured.over_ice(self.puzzle.ice) else { return };
        let distance = self.puzzle.aim.distance(&figures);
        let served = figures.served.ml();
        let cost = distance + pull + self.puzzle.aim.glass_pull(served, served);
        let solution = Solution { pours: self.chosen.clone(), figures, distance, cost };
        let at = self.best.partition_point(|s| before(s, &solution));
        self.best.insert(at, solution);
        self.best.truncate(self.most);
    }

    fn least_cost(&self, sums: Sums, pull: f64) -> f64 {
        let strength =
            if sums.before_ml > 0.0 { 100.0 * sums.before_ethanol_ml / sums.before_ml } else { 0.0 };
        let share = dilution(self.puzzle.ice, Strength::clamped(strength)).share;
        let ml = sums.before_ml * (1.0 + share) + sums.after_ml;
        if ml <= 0.0 {
            return 0.0;
        }
        let values = [100.0 * sums.ethanol_ml / ml, 1000.0 * sums.sugar_g / ml, 1000.0 * sums.acid_g / ml];
        let (down, up) = self.bounds;
        let aim = &self.puzzle.aim;
        pull + aim.least_distance(values, down, up) + aim.glass_pull(ml * down, ml * up)
    }
}

fn before(a: &Solution, b: &Solution) -> bool {
    let volumes = |s: &Solution| s.pours.iter().map(|p| p.volume).collect::<Vec<_>>();
    a.cost.total_cmp(&b.cost).then_with(|| volumes(a).cmp(&volumes(b))).is_lt()
}

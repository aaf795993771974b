//! What is chosen: an amount of a line, or of lines that stay equal.

use super::blocked::Blocked;
use super::glass::Range;
use super::puzzle::{Free, Puzzle, Unsolvable};
use super::sums::Sums;
use crate::drink::figures::Poured;
use crate::measure::Pour;

/// What is minimised.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Goal {
    /// The cost.
    Cost,
    /// By how much one limit is broken, the others kept.
    Breaking(usize),
    /// By how many ml a free line leaves its usual amount, all limits kept.
    Moving(usize),
}

/// What moving a line by a quarter ounce costs, in just-noticeable differences: the pull towards the template.
const PULL_A_QUARTER: f64 = 0.5;
/// A quarter of a US fluid ounce, ml.
const QUARTER_ML: f64 = 29.573_529_562_5 / 4.0;
/// What a pour of two marks costs where the usual amount is another: a second pour takes time and can go wrong.
const SECOND_MARK: f64 = 0.25;

/// One amount of one choice, taken apart beforehand.
#[derive(Debug, Clone, Copy)]
pub(super) struct Step {
    pub(super) pour: Pour,
    pub(super) pull: f64,
    pub(super) sums: Sums,
    pub(super) poured: Poured,
}

/// A line, or lines that stay equal.
#[derive(Debug)]
pub(super) struct Choice {
    pub(super) lines: Vec<usize>,
    pub(super) steps: Vec<Step>,
}

impl Choice {
    /// How far it can move the drink, ml.
    pub(super) fn room(&self) -> f64 {
        let volumes = self.steps.iter().map(|s| s.pour.volume.ml());
        let (least, most) = volumes.fold((f64::MAX, 0.0_f64), |(a, b), ml| (a.min(ml), b.max(ml)));
        (most - least) * self.lines.len() as f64
    }

    pub(super) fn least_pull(&self) -> f64 {
        self.steps.iter().map(|s| s.pull).fold(f64::MAX, f64::min)
    }

    /// The least and the most that it brings.
    pub(super) fn range(&self) -> Range {
        let by_volume = |a: &&Step, b: &&Step| a.pour.volume.cmp(&b.pour.volume);
        let least = self.steps.iter().min_by(by_volume).map(|s| s.sums).unwrap_or_default();
        let most = self.steps.iter().max_by(by_volume).map(|s| s.sums).unwrap_or_default();
        (least, most)
    }
}

/// The choices of a puzzle: each group of equal lines one, each other line one.
pub(super) fn choices(puzzle: &Puzzle<'_>, goal: Goal) -> Result<Vec<Choice>, Unsolvable> {
    let grouped = |line: &usize| puzzle.equal.iter().any(|group| group.contains(line));
    let alone = (0..puzzle.free.len()).filter(|line| !grouped(line)).map(|line| vec![line]);
    let groups = puzzle.equal.iter().filter(|group| !group.is_empty()).cloned();
    groups
        .chain(alone)
        .map(|lines| {
            let steps = steps_of(puzzle, &lines, goal);
            if steps.is_empty() {
                Err(Unsolvable::Blocked(Blocked { frees: Vec::new() }))
            } else {
                Ok(Choice { lines, steps })
            }
        })
        .collect()
}

/// The amounts that all the lines can take.
fn steps_of(puzzle: &Puzzle<'_>, lines: &[usize], goal: Goal) -> Vec<Step> {
    let same = |a: &Pour, b: &Pour| (a.volume.ml() - b.volume.ml()).abs() < 1e-6;
    let pull = |line: usize, pour: &Pour| {
        let free = &puzzle.free[line];
        match goal {
            Goal::Cost => pull_of(free, pour),
            Goal::Moving(moving) if moving == line => (pour.volume.ml() - free.usual.ml()).abs(),
            Goal::Breaking(_) | Goal::Moving(_) => 0.0,
        }
    };
    let Some((first, others)) = lines.split_first() else { return Vec::new() };
    let shared = puzzle.free[*first]
        .pours
        .iter()
        .filter(|pour| others.iter().all(|line| puzzle.free[*line].pours.iter().any(|p| same(p, pour))));
    let step = |pour: &Pour| {
        lines.iter().fold(
            Step { pour: *pour, pull: 0.0, sums: Sums::default(), poured: Poured::default() },
            |step, line| {
                let Free { makeup, lengthens, .. } = puzzle.free[*line];
                let poured = Poured::of(makeup, pour.volume, lengthens).unwrap_or_default();
                Step {
                    pull: step.pull + pull(*line, pour),
                    sums: step.sums.plus(&Sums::of(makeup, pour.volume, lengthens, puzzle.mixing)),
                    poured: step.poured.plus(&poured),
                    ..step
                }
            },
        )
    };
    shared.map(step).collect()
}

fn pull_of(free: &Free<'_>, pour: &Pour) -> f64 {
    let moved = (pour.volume.ml() - free.usual.ml()).abs() / QUARTER_ML;
    PULL_A_QUARTER * moved + if pour.marks > 1 && moved > 1e-6 { SECOND_MARK } else { 0.0 }
}

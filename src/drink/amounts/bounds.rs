//! What the drinks that can still come of a choice can cost at least.

use super::aim::Aim;
use super::glass::{InGlass, Range, Span, ratio};
use super::limit::{Held, Limit};
use super::sums::{Mixing, Sums};
use crate::liquid::Ice;

/// The bounds of a puzzle.
#[derive(Debug)]
pub(super) struct Bounds<'p> {
    pub(super) aim: &'p Aim,
    pub(super) limits: &'p [Limit],
    pub(super) ice: Ice,
    pub(super) mixing: Mixing,
}

/// What is poured, what is open, and what that may come to in the glass.
struct Branch<'b> {
    sums: &'b Sums,
    open: &'b [Range],
    glass: InGlass,
}

impl Bounds<'_> {
    /// The least that distance and pull of the glass can be, once `sums` are poured and the ranges are open; none if a
    /// limit cannot be kept.
    pub(super) fn least(&self, sums: &Sums, open: &[Range]) -> Option<f64> {
        let branch = self.branch(sums, open);
        if !self.kept(&branch) {
            return None;
        }
        let (low, high) = branch.volume();
        if high <= 0.0 {
            return Some(0.0);
        }
        let mut cost = self.aim.glass_pull(low, high);
        let steps = self.aim.steps();
        for (direction, aim) in self.aim.values().into_iter().enumerate() {
            if open.is_empty() || !branch.surrounds(direction, aim) {
                let (low, high) = branch.figure(direction);
                cost += (low - aim).max(aim - high).max(0.0) / steps[direction];
            }
        }
        Some(cost)
    }

    /// By how much another limit must be broken at least; none if one of its own cannot be kept.
    pub(super) fn least_broken(&self, sums: &Sums, open: &[Range], limit: &Limit) -> Option<f64> {
        let branch = self.branch(sums, open);
        self.kept(&branch).then(|| limit.least_excess(branch.held(limit.of())))
    }

    /// Whether every limit may be kept.
    pub(super) fn may_be(&self, sums: &Sums, open: &[Range]) -> bool {
        self.limits.is_empty() || self.kept(&self.branch(sums, open))
    }

    fn branch<'b>(&self, sums: &'b Sums, open: &'b [Range]) -> Branch<'b> {
        Branch { sums, open, glass: InGlass::of(self.mixing, self.ice, sums, open) }
    }

    fn kept(&self, branch: &Branch<'_>) -> bool {
        self.limits.iter().all(|limit| limit.least_excess(branch.held(limit.of())) <= 0.0)
    }
}

impl Branch<'_> {
    fn held(&self, held: Held) -> Span {
        let Self { sums, open, .. } = self;
        match held {
            Held::Taste(direction) => self.figure(direction as usize),
            Held::Glass => self.volume(),
            Held::Alcohol => open.iter().fold((sums.alcohol(), sums.alcohol()), |(low, high), (lo, hi)| {
                (low + lo.alcohol(), high + hi.alcohol())
            }),
        }
    }

    /// What is in the glass, ml.
    fn volume(&self) -> Span {
        self.glass.span(self.sums, self.open)
    }

    /// Whether a figure can come out on both sides of a value: then nothing is known of its distance.
    fn surrounds(&self, direction: usize, value: f64) -> bool {
        let over = |s: &Sums| s.carried[direction] - value * self.glass.below.at(s);
        let under = |s: &Sums| value * self.glass.above.at(s) - s.carried[direction];
        let most = |f: &dyn Fn(&Sums) -> f64| {
            self.open.iter().fold(f(self.sums), |sum, (lo, hi)| sum + f(lo).max(f(hi)))
        };
        most(&over) >= 0.0 && most(&under) >= 0.0
    }

    /// The least and most that a figure can come to.
    fn figure(&self, direction: usize) -> Span {
        let end = |most: bool| {
            let form = if most { self.glass.below } else { self.glass.above };
            let of = |s: &Sums| (s.carried[direction], form.at(s));
            ratio(most, of(self.sums), self.open, of)
        };
        (end(false), end(true))
    }
}

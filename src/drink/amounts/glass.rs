//! How much ends up in the glass: linear bounds on a volume that is not.

use super::sums::{Mixing, Sums};
use crate::liquid::{Ice, MIXED, contraction_between, share_between};

/// Choices that are open: each some least and most of what one thing, or things that stay equal, bring. What lies between
/// is in proportion.
pub(super) type Range = (Sums, Sums);

/// The least and the most of something.
pub(super) type Span = (f64, f64);

/// A linear form of the sums.
#[derive(Debug, Clone, Copy)]
pub(super) struct Form {
    before: f64,
    before_ethanol: f64,
    after: f64,
}

impl Form {
    pub(super) fn at(&self, sums: &Sums) -> f64 {
        self.before * sums.before + self.before_ethanol * sums.before_ethanol + self.after * sums.after
    }

    fn times(self, factor: f64) -> Self {
        Self {
            before: self.before * factor,
            before_ethanol: self.before_ethanol * factor,
            after: self.after * factor,
        }
    }
}

/// What is in the glass, ml, lies between two forms of what was poured.
///
/// # Model
/// Lines with their ethanol apart take the room that is summed; mixed they take less by the contraction at the strength of
/// the mixture. The water from the ice is a share of the volume before it, which lies between two lines of the strength;
/// strength times volume is ethanol, so each is linear in what is summed.
#[derive(Debug, Clone, Copy)]
pub(super) struct InGlass {
    /// No less than this.
    pub(super) below: Form,
    /// No more than this.
    pub(super) above: Form,
}

impl InGlass {
    /// Bounds that hold for every drink that can still come of what is poured and what is open.
    pub(super) fn of(mixing: Mixing, ice: Ice, sums: &Sums, open: &[Range]) -> Self {
        let short = |s: &Sums| (s.before_ethanol, s.before);
        let ends = |of: &dyn Fn(&Sums) -> (f64, f64)| {
            (ratio(false, of(sums), open, of), ratio(true, of(sums), open, of))
        };
        let (strengths, contracts) = strengths(mixing, ends(&short));
        let [least, most] = share_between(ice, strengths.0, strengths.1);
        // Mixed, what is before the ice takes this share of its room.
        let factors = mixed(mixing);
        let shrinks = (factors.0 / (1.0 + contracts.1), factors.1 / (1.0 + contracts.0));
        let form = |(at_none, slope): (f64, f64), shrinks: f64| Form {
            before: 1.0 + at_none * shrinks,
            before_ethanol: slope,
            after: 1.0,
        };
        let side = |at_none: f64, low: f64, high: f64| if at_none >= 0.0 { low } else { high };
        let below = form(least, side(least.0, shrinks.0, shrinks.1));
        let above = form(most, side(most.0, shrinks.1, shrinks.0));
        let end = |most: bool, form: Form| {
            let of = |s: &Sums| (s.carried[0], form.at(s));
            ratio(most, of(sums), open, of)
        };
        let (_, contracts) = self::strengths(mixing, (end(false, above), end(true, below)));
        Self {
            below: below.times(factors.0 / (1.0 + contracts.1)),
            above: above.times(factors.1 / (1.0 + contracts.0)),
        }
    }

    /// What it can come to.
    pub(super) fn span(&self, sums: &Sums, open: &[Range]) -> Span {
        open.iter().fold((self.below.at(sums), self.above.at(sums)), |(low, high), (lo, hi)| {
            (low + self.below.at(lo), high + self.above.at(hi))
        })
    }
}

fn mixed(mixing: Mixing) -> Span {
    match mixing {
        Mixing::True => MIXED,
        Mixing::Summed => (1.0, 1.0),
    }
}

/// The strengths, % vol, and the contractions of mixtures whose ethanol is such a share of the room that it and the rest take
/// apart, in per cent.
fn strengths(mixing: Mixing, apart: Span) -> (Span, Span) {
    if mixing == Mixing::Summed {
        return (apart, (0.0, 0.0));
    }
    let factors = mixed(mixing);
    // The contraction of the mixture is no more than at the most that its strength can be.
    let (least, most) = contraction_between(apart.0, (apart.1 * 1.05).min(100.0));
    let strengths = (apart.0 * (1.0 + least) / factors.1, (apart.1 * (1.0 + most) / factors.0).min(100.0));
    (strengths, contraction_between(strengths.0, strengths.1))
}

/// The most, or least, of a ratio of sums to which each range brings its least or its most: by turns the ratio and the
/// choice that betters it, until none does. 0 where the lower sum is 0.
pub(super) fn ratio(most: bool, fixed: (f64, f64), open: &[Range], of: impl Fn(&Sums) -> (f64, f64)) -> f64 {
    let over = |(upper, lower): (f64, f64)| if lower > 0.0 { upper / lower } else { 0.0 };
    let mut best = over(open.iter().map(|(lo, _)| of(lo)).fold(fixed, |a, b| (a.0 + b.0, a.1 + b.1)));
    if open.is_empty() {
        return best;
    }
    // Each turn is strictly better, and no choice comes twice; a few are enough.
    for _ in 0..64 {
        let next = open.iter().fold(fixed, |sum, (lo, hi)| {
            let (lo, hi) = (of(lo), of(hi));
            let gain = |end: (f64, f64)| end.0 - best * end.1;
            let takes_most = if most { gain(hi) > gain(lo) } else { gain(hi) < gain(lo) };
            let end = if takes_most { hi } else { lo };
            (sum.0 + end.0, sum.1 + end.1)
        });
        let next = over(next);
        let better = if most { next > best * (1.0 + 1e-12) } else { next < best * (1.0 - 1e-12) };
        if !better {
            return if most { best.max(next) } else { best.min(next) };
        }
        best = next;
    }
    if most { f64::INFINITY } else { 0.0 }
}

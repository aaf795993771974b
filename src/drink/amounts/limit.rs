//! A figure that must not go past an end.

use super::palate::Direction;

/// What can be held within limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Held {
    /// Strength, sugar, acid or bitterness, each in its unit.
    Taste(Direction),
    /// What is in the glass, ice left out, ml.
    Glass,
    /// Ethanol in the glass, g.
    Alcohol,
}

/// A figure that must not go past an end, in its unit. The end itself is allowed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Limit {
    /// No more than so much.
    Most(Held, f64),
    /// No less than so much.
    Least(Held, f64),
}

/// How far past an end still counts as on it: what rounding does to a figure.
const AT_THE_END: f64 = 1e-9;

impl Limit {
    /// Which figure it holds.
    pub const fn of(&self) -> Held {
        match self {
            Self::Most(held, _) | Self::Least(held, _) => *held,
        }
    }

    /// How far a figure is past the end; 0 if it keeps it.
    pub fn excess(&self, figure: f64) -> f64 {
        let past = match self {
            Self::Most(_, end) => figure - end,
            Self::Least(_, end) => end - figure,
        };
        if past > AT_THE_END { past } else { 0.0 }
    }

    /// The least excess of any figure between two.
    pub(super) fn least_excess(&self, (low, high): (f64, f64)) -> f64 {
        match self {
            Self::Most(..) => self.excess(low),
            Self::Least(..) => self.excess(high),
        }
    }

    /// The same with an end that is just kept by what breaks it by so much.
    pub(super) fn eased(&self, by: f64) -> Self {
        match *self {
            Self::Most(held, end) => Self::Most(held, end + by),
            Self::Least(held, end) => Self::Least(held, end - by),
        }
    }
}

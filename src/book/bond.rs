//! What two ingredients can be to each other.

use crate::measure::Affinity;

/// What two ingredients are to each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bond {
    /// They go together this well.
    Affinity(Affinity),
    /// They do not go together.
    Clash,
}

impl Bond {
    /// How well they go together; none for a clash.
    pub fn affinity(&self) -> Option<Affinity> {
        match self {
            Self::Affinity(affinity) => Some(*affinity),
            Self::Clash => None,
        }
    }
}

/// What the record of a pair is named after: both ids, the lesser first. An id has no two hyphens together, so that the two
/// can be told apart again.
pub fn pair_stem(a: &str, b: &str) -> String {
    let (a, b) = if a <= b { (a, b) } else { (b, a) };
    format!("{a}--{b}")
}

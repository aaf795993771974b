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

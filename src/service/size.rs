//! How much is made.

use crate::measure::Volume;

/// How much is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Size {
    /// So many serves.
    Serves(f64),
    /// So much in the containers, before anything goes in at service.
    Volume(Volume),
    /// What the containers at hand take.
    Containers,
}

impl Size {
    /// Most serves of a batch.
    pub const MOST_SERVES: u32 = 100_000;
}

//! Affinities and clashes between two ingredients.

use std::borrow::Cow;

use super::id::IngredientId;
use super::origin::Origin;
use crate::measure::Affinity;

/// What two ingredients are to each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bond {
    /// They go together this well.
    Affinity(Affinity),
    /// They do not go together.
    Clash,
}

/// A bond between two different ingredients; the order of the two means nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    /// The two, the lesser id first.
    pub pair: (IngredientId, IngredientId),
    /// What they are to each other.
    pub bond: Bond,
    /// Why, in a few words.
    pub note: Option<Cow<'static, str>>,
    /// Who says so.
    pub origin: Origin,
}

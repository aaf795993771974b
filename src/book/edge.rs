//! Affinities and clashes between two ingredients.

use std::borrow::Cow;

use super::bond::Bond;
use super::id::IngredientId;
use super::origin::Origin;
use super::tasting::Tasted;

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
    /// What the house has to say of it, beside the pack.
    pub said: Option<Box<Said>>,
}

/// What the house has to say of a pair.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Said {
    /// What the pack says, where it says anything.
    pub pack: Option<(Bond, Origin)>,
    /// Who of the house wrote it down, if they said.
    pub by: Option<String>,
    /// What tastings have made of it.
    pub tasted: Option<Tasted>,
}

//! What a fruit or vegetable holds, and what juice a piece gives.

use serde::{Deserialize, Serialize};

use super::id::IngredientId;
use crate::measure::{Mass, MassShare, Volume};

/// What 100 g of something that is eaten holds.
///
/// # Units
/// Grams in 100 g of the edible part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Flesh {
    /// Water.
    pub water: MassShare,
    /// Sugars, all kinds together.
    pub sugar: MassShare,
    /// How much of the sugar is glucose.
    #[serde(default)]
    pub glucose: MassShare,
    /// How much of the sugar is fructose.
    #[serde(default)]
    pub fructose: MassShare,
    /// Titratable acid, as anhydrous citric.
    #[serde(default)]
    pub acid: MassShare,
}

/// What juice a piece of fruit gives.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Yield {
    /// The juice.
    pub gives: IngredientId,
    /// How much a piece gives as a rule.
    pub ml: Volume,
    /// What a poor piece gives.
    pub least: Volume,
    /// What a good piece gives.
    pub most: Volume,
    /// What a piece weighs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weighs: Option<Mass>,
}

//! What a house holds back of an ingredient in a batch, against the rules that come with the program.

use super::id::IngredientId;
use crate::measure::Grade;

/// How much of an ingredient may go into a batch in this house.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HoldBack {
    /// What it is.
    pub of: IngredientId,
    /// The share that goes into the batch: 1 all of it, 0 none; the rest goes in at service.
    pub goes_in: Grade,
    /// Why.
    pub why: Option<String>,
}

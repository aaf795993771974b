//! What something costs, as it is bought.

use super::id::IngredientId;
use crate::measure::{Amount, Money};

/// What a bottle, a bag or a piece of an ingredient costs.
#[derive(Debug, Clone, PartialEq)]
pub struct Price {
    /// What is bought.
    pub of: IngredientId,
    /// What is paid for one, as the house counts it (with or without tax, as it says in the note).
    pub paid: Money,
    /// How much is in one: a bottle of 700 ml, a bag of 1000 g, 1 piece.
    pub size: Amount,
    /// Where from, with or without tax.
    pub note: Option<String>,
}

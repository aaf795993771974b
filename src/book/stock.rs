//! What stands on the back bar.

use super::id::IngredientId;
use super::word::Level;

/// An ingredient on the back bar.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stock {
    /// What it is.
    pub of: IngredientId,
    /// How much of it there is.
    pub level: Level,
    /// Where it stands, who orders it.
    pub note: Option<String>,
}

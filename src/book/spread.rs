//! How far published figures of one thing lie apart.

use serde::{Deserialize, Serialize};

use crate::measure::{Concentration, Strength};

/// Least and most that sources print, where they disagree; the makeup keeps the one for use.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Spread {
    /// Strength.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub strength: Option<(Strength, Strength)>,
    /// Sugars.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sugar: Option<(Concentration, Concentration)>,
    /// Acid, as citric.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub acid: Option<(Concentration, Concentration)>,
}

impl Spread {
    /// Whether nothing is said.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

//! An ingredient as a guest reads it.

use serde::Serialize;

/// An ingredient as a guest reads it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Part {
    /// Its name; for an allergen with its group behind it: `orgeat (tree nuts)`.
    pub name: String,
    /// Whether it is, or holds, an allergen: it is then set in bold.
    pub allergen: bool,
}

impl Part {
    /// What stands on the paper for all of them, for finding out how much room it takes.
    pub(super) fn listed(parts: &[Self]) -> String {
        parts.iter().map(|part| part.name.as_str()).collect::<Vec<_>>().join(", ")
    }
}

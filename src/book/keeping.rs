//! How long something keeps, and where.

use serde::{Deserialize, Serialize};

use super::word::Storage;

/// How long something keeps, and where it stands once it is opened or cut.
///
/// # Limits
/// What is usual with clean hands and a cold fridge: local rules and the maker's own date come first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Keeping {
    /// Where it stands once it is opened, cut or made.
    pub store: Storage,
    /// Days it keeps so; none where it keeps for years.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opened: Option<u16>,
    /// Days it keeps sealed or whole; none where it keeps for years.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sealed: Option<u16>,
}

//! A drink weighed before and after the ice: what the house knows of its own dilution.

use serde::{Deserialize, Serialize};

use super::word::Method;
use crate::measure::{Mass, Strength, Volume};

/// A drink weighed before and after the ice.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Weighing {
    /// Its name among the weighings: the day and a few letters.
    pub id: String,
    /// How it met the ice.
    pub method: Method,
    /// For a drink built over ice: whether it is a long one.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub long: bool,
    /// What it was, for people.
    pub drink: String,
    /// What the drink weighed before, without vessel and ice.
    pub before: Mass,
    /// What it weighed after.
    pub after: Mass,
    /// Its volume before.
    pub volume: Volume,
    /// Its strength before.
    pub strength: Strength,
}

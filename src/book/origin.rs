//! Where a fact comes from.

use std::fmt;

use serde::{Deserialize, Serialize};

/// Where a group of facts comes from; every group on every record has one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Origin {
    /// A published source, named so that a person can find the figure again.
    Published(String),
    /// Common practice in the trade; no source.
    Practice,
    /// Remembered from a published source, not checked against it.
    FromMemory,
    /// This bar's own.
    House,
    /// Worked out from a preparation, by the physics.
    Computed,
    /// Invented for the built-in pack by people who know the trade.
    Demo,
}

impl fmt::Display for Origin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Published(source) => write!(f, "published: {source}"),
            Self::Practice => f.write_str("common practice, no source"),
            Self::FromMemory => f.write_str("from memory"),
            Self::House => f.write_str("house"),
            Self::Computed => f.write_str("worked out from its making"),
            Self::Demo => f.write_str("demo (invented)"),
        }
    }
}

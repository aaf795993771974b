//! The cautions of what is made ahead.

use std::sync::LazyLock;

use super::rules::read;
use crate::book::Caution;

/// When a caution of what is made ahead is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum AheadCaution {
    /// With every date.
    Keeping,
    /// With everything that goes into a freezer.
    FreezerGlass,
    /// With gas, kegs and what is sparkling.
    Gas,
    /// With every label.
    Label,
    /// With what holds many serves ready to drink.
    Strength,
    /// With a take-home kit.
    TakeHome,
}

impl AheadCaution {
    /// All of them.
    pub const ALL: [Self; 6] =
        [Self::Keeping, Self::FreezerGlass, Self::Gas, Self::Label, Self::Strength, Self::TakeHome];

    /// Its id in `data/service/cautions.ron`.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Keeping => "batch-keeping",
            Self::FreezerGlass => "freezer-glass",
            Self::Gas => "gas-pressure",
            Self::Label => "label-law",
            Self::Strength => "ready-to-serve-strength",
            Self::TakeHome => "take-home-law",
        }
    }
}

static ALL: LazyLock<Vec<Caution>> =
    LazyLock::new(|| read("cautions.ron", include_str!("../../data/service/cautions.ron")));

/// The cautions, in the order asked.
pub fn ahead_cautions(of: impl IntoIterator<Item = AheadCaution>) -> Vec<&'static Caution> {
    of.into_iter().filter_map(|one| ALL.iter().find(|c| c.id.as_str() == one.id())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_is_in_the_data_and_nothing_else_is() {
        assert_eq!(ahead_cautions(AheadCaution::ALL).len(), AheadCaution::ALL.len());
        assert_eq!(ALL.len(), AheadCaution::ALL.len());
        for caution in ALL.iter() {
            assert!(caution.text.contains("local"), "defers to local rules: {}", caution.id);
        }
    }
}

//! Standard drinks: how countries count ethanol.

use crate::measure::Mass;

/// A country or body with a standard drink of its own.
///
/// # Source
/// Figures as on public health pages (NIAAA for the United States; WHO's AUDIT manual).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Country {
    /// United States: 14 g.
    UnitedStates,
    /// United Kingdom: a unit of 8 g.
    UnitedKingdom,
    /// Australia, New Zealand, Ireland, and the World Health Organization: 10 g.
    Australia,
    /// Canada: 13.6 g (13.45 since 2023).
    Canada,
    /// Japan: 20 g.
    Japan,
}

impl Country {
    /// All of them.
    pub const ALL: [Self; 5] =
        [Self::UnitedStates, Self::UnitedKingdom, Self::Australia, Self::Canada, Self::Japan];

    /// Grams of ethanol in one.
    pub fn grams(self) -> f64 {
        match self {
            Self::UnitedStates => 14.0,
            Self::UnitedKingdom => 8.0,
            Self::Australia => 10.0,
            Self::Canada => 13.6,
            Self::Japan => 20.0,
        }
    }

    /// What it is called.
    pub fn name(self) -> &'static str {
        match self {
            Self::UnitedStates => "US standard drinks",
            Self::UnitedKingdom => "UK units",
            Self::Australia => "AU standard drinks",
            Self::Canada => "CA standard drinks",
            Self::Japan => "JP standard drinks",
        }
    }

    /// How many of its standard drinks so much ethanol is.
    pub fn drinks(self, ethanol: Mass) -> f64 {
        ethanol.grams() / self.grams()
    }
}

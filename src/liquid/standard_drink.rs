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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_standard_drink_is_one_and_none_is_none() {
        for country in Country::ALL {
            assert!((country.drinks(Mass::clamped(country.grams())) - 1.0).abs() < 1e-12, "{country:?}");
            assert!(country.drinks(Mass::ZERO).abs() < 1e-12);
        }
    }

    #[test]
    fn the_smaller_the_standard_drink_the_more_there_are() {
        let served = Mass::clamped(20.82);
        assert!(Country::UnitedKingdom.drinks(served) > Country::Australia.drinks(served));
        assert!(Country::Australia.drinks(served) > Country::Canada.drinks(served));
        assert!(Country::Canada.drinks(served) > Country::UnitedStates.drinks(served));
        assert!(Country::UnitedStates.drinks(served) > Country::Japan.drinks(served));
    }
}

//! Months, sets of months and the half of the world they are read in.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::quoted::Quoted;

/// One month of the year.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs, reason = "the names say it")]
pub enum Month {
    Jan,
    Feb,
    Mar,
    Apr,
    May,
    Jun,
    Jul,
    Aug,
    Sep,
    Oct,
    Nov,
    Dec,
}

/// Text that is not a month.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotAMonth {
    /// What was found.
    pub found: String,
}

impl fmt::Display for NotAMonth {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} is not a month: give a name (october, oct) or a number from 1 to 12",
            Quoted(&self.found)
        )
    }
}

impl std::error::Error for NotAMonth {}

impl Month {
    /// January to December.
    pub const ALL: [Self; 12] = [
        Self::Jan,
        Self::Feb,
        Self::Mar,
        Self::Apr,
        Self::May,
        Self::Jun,
        Self::Jul,
        Self::Aug,
        Self::Sep,
        Self::Oct,
        Self::Nov,
        Self::Dec,
    ];

    /// From 1 (January) to 12 (December).
    pub fn from_number(number: u8) -> Option<Self> {
        Self::ALL.get(usize::from(number).checked_sub(1)?).copied()
    }

    /// 1 to 12.
    pub fn number(self) -> u8 {
        self as u8 + 1
    }

    /// The full English name.
    pub fn name(self) -> &'static str {
        const NAMES: [&str; 12] = [
            "January",
            "February",
            "March",
            "April",
            "May",
            "June",
            "July",
            "August",
            "September",
            "October",
            "November",
            "December",
        ];
        NAMES[self as usize]
    }

    /// The month so many later; the year wraps, negative goes back.
    #[must_use]
    pub fn plus(self, months: i32) -> Self {
        let index = (i32::from(self as u8) + months.rem_euclid(12)).rem_euclid(12);
        Self::ALL[usize::try_from(index).unwrap_or(0)]
    }
}

impl fmt::Display for Month {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}

impl FromStr for Month {
    type Err = NotAMonth;

    fn from_str(text: &str) -> Result<Self, NotAMonth> {
        let wanted = text.trim().to_lowercase();
        let by_name = || {
            let long_enough = wanted.chars().count() >= 3;
            Self::ALL.into_iter().find(|m| long_enough && m.name().to_lowercase().starts_with(&wanted))
        };
        let by_number = || wanted.parse().ok().and_then(Self::from_number);
        by_name().or_else(by_number).ok_or_else(|| NotAMonth { found: text.trim().to_owned() })
    }
}

/// A set of months.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash)]
pub struct MonthSet(u16);

impl MonthSet {
    /// No month.
    pub const NONE: Self = Self(0);
    /// The whole year.
    pub const YEAR: Self = Self(0x0fff);

    /// Whether the month is in the set.
    pub fn contains(self, month: Month) -> bool {
        self.0 & (1 << month as u16) != 0
    }

    /// The set with one month more.
    #[must_use]
    pub fn with(self, month: Month) -> Self {
        Self(self.0 | (1 << month as u16))
    }

    /// Months in either set.
    #[must_use]
    pub fn union(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// Months in both sets.
    #[must_use]
    pub fn intersection(self, other: Self) -> Self {
        Self(self.0 & other.0)
    }

    /// Whether it holds no month.
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// How many months it holds.
    pub fn len(self) -> u32 {
        self.0.count_ones()
    }

    /// January first.
    pub fn iter(self) -> impl Iterator<Item = Month> {
        Month::ALL.into_iter().filter(move |m| self.contains(*m))
    }
}

impl FromIterator<Month> for MonthSet {
    fn from_iter<I: IntoIterator<Item = Month>>(months: I) -> Self {
        months.into_iter().fold(Self::NONE, Self::with)
    }
}

/// Which half of the world the months are read in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Hemisphere {
    /// Records are written for the north.
    #[default]
    North,
    /// Six months later.
    South,
}

impl Hemisphere {
    /// The month in which the north has the season that this half has in `month`.
    #[must_use]
    pub fn northern(self, month: Month) -> Month {
        match self {
            Self::North => month,
            Self::South => month.plus(6),
        }
    }

    /// The word on the screen.
    pub fn name(self) -> &'static str {
        match self {
            Self::North => "north",
            Self::South => "south",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn months_are_read_by_name_prefix_and_number() {
        for (text, month) in
            [("october", Month::Oct), ("OCT", Month::Oct), (" 10 ", Month::Oct), ("mar", Month::Mar)]
        {
            assert_eq!(text.parse(), Ok(month), "{text}");
        }
        for text in ["", "ju", "13", "0", "octember"] {
            assert!(text.parse::<Month>().is_err(), "{text}");
        }
    }

    #[test]
    fn the_south_is_six_months_off() {
        assert_eq!(Hemisphere::South.northern(Month::Apr), Month::Oct);
        assert_eq!(Hemisphere::North.northern(Month::Apr), Month::Apr);
        for month in Month::ALL {
            assert_eq!(Hemisphere::South.northern(Hemisphere::South.northern(month)), month);
        }
    }

    #[test]
    fn a_month_is_read_from_its_own_name_and_number() {
        for month in Month::ALL {
            assert_eq!(month.to_string().parse(), Ok(month));
            assert_eq!(month.number().to_string().parse(), Ok(month));
            let written = ron::to_string(&month).unwrap();
            assert_eq!(ron::from_str(&written), Ok(month), "{written}");
        }
        assert_eq!((Month::Jan.plus(-1), Month::Dec.plus(13)), (Month::Dec, Month::Jan));
        assert_eq!(Month::Mar.plus(i32::MAX).plus(i32::MIN), Month::Mar.plus(-1));
    }

    #[test]
    fn the_message_draws_no_control_character() {
        let message = "octo\u{1b}[2Jber".parse::<Month>().unwrap_err().to_string();
        assert_eq!(
            message,
            r"'octo\u{1b}[2Jber' is not a month: give a name (october, oct) or a number from 1 to 12"
        );
    }

    #[test]
    fn a_set_holds_what_was_put_in() {
        let set: MonthSet = [Month::Oct, Month::Nov].into_iter().collect();
        assert!(set.contains(Month::Oct) && !set.contains(Month::Dec));
        assert_eq!(set.len(), 2);
        assert_eq!(set.iter().collect::<Vec<_>>(), [Month::Oct, Month::Nov]);
        assert_eq!(MonthSet::YEAR.len(), 12);
    }
}

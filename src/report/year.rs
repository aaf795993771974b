//! Seasons across the year.

use crate::measure::Month;

/// Seasons across the year; see [`Report::year`](super::Report::year).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Year {
    /// A name and its twelve marks, **January first** whatever `start` is.
    pub rows: Vec<(String, [Mark; 12])>,
    /// The month drawn leftmost.
    pub start: Month,
    /// The month pointed at.
    pub now: Option<Month>,
}

/// What a month is for an ingredient.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Mark {
    /// Not to be had fresh.
    #[default]
    None,
    /// To be had.
    Available,
    /// At its best.
    Peak,
}

impl Mark {
    /// Quietest first.
    pub const ALL: [Self; 3] = [Self::None, Self::Available, Self::Peak];

    /// What the legend calls it.
    pub fn name(self) -> &'static str {
        match self {
            Self::None => "out of season",
            Self::Available => "available",
            Self::Peak => "at its peak",
        }
    }
}

impl Year {
    /// The twelve months in the order they are drawn.
    pub fn months(&self) -> [Month; 12] {
        let mut months = Month::ALL;
        months.rotate_left(usize::from(self.start.number() - 1));
        months
    }
}

/// The mark of a month among twelve that start in January.
pub(super) fn mark_of(marks: &[Mark; 12], month: Month) -> Mark {
    marks[usize::from(month.number() - 1)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_year_is_drawn_from_its_start() {
        let year = Year { rows: vec![], start: Month::Oct, now: None };
        let months = year.months();
        assert_eq!((months[0], months[3], months[11]), (Month::Oct, Month::Jan, Month::Sep));
    }

    #[test]
    fn marks_are_found_by_month_from_january() {
        let mut marks = [Mark::None; 12];
        marks[9] = Mark::Peak;
        assert_eq!(mark_of(&marks, Month::Oct), Mark::Peak);
        assert_eq!(mark_of(&marks, Month::Jan), Mark::None);
    }
}

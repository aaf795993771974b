//! Seasons as a table of months.

use serde::Serialize;

use crate::measure::Month;
use crate::report::year::mark_of;
use crate::report::{Mark, Year};

/// Seasons as a table of months.
#[derive(Debug, Serialize)]
pub(super) struct Twelve<'r> {
    months: Vec<Head>,
    rows: Vec<(&'r str, Vec<Sign>)>,
    legend: Vec<(&'static str, &'static str)>,
    /// The month pointed at.
    now: Option<&'static str>,
}

/// The head of a month's column.
#[derive(Debug, Serialize)]
struct Head {
    name: &'static str,
    initial: &'static str,
    now: bool,
}

/// What a month is.
#[derive(Debug, Serialize)]
struct Sign {
    sign: &'static str,
    name: &'static str,
}

impl<'r> Twelve<'r> {
    pub(super) fn new(year: &'r Year) -> Self {
        let head = |month: Month| Head {
            name: month.name(),
            initial: &month.name()[..1],
            now: year.now == Some(month),
        };
        let signs = |marks: &[Mark; 12]| {
            year.months()
                .map(|month| mark_of(marks, month))
                .map(|mark| Sign { sign: sign(mark), name: mark.name() })
        };
        let used = |mark: &Mark| year.rows.iter().any(|(_, marks)| marks.contains(mark));
        Self {
            months: year.months().map(head).into(),
            rows: year.rows.iter().map(|(name, marks)| (name.as_str(), signs(marks).into())).collect(),
            legend: Mark::ALL.into_iter().filter(used).map(|mark| (sign(mark), mark.name())).collect(),
            now: year.now.map(Month::name),
        }
    }

    /// Whether there is nothing to show.
    pub(super) fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }
}

/// The sign of a mark, told from the others by its shape.
fn sign(mark: Mark) -> &'static str {
    match mark {
        Mark::None => "·",
        Mark::Available => "○",
        Mark::Peak => "●",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn months_run_from_the_start_and_only_signs_in_use_are_explained() {
        let mut marks = [Mark::None; 12];
        marks[9] = Mark::Peak;
        let year =
            Year { rows: vec![("medlar".to_owned(), marks)], start: Month::Oct, now: Some(Month::Nov) };
        let twelve = Twelve::new(&year);
        assert_eq!(twelve.rows[0].1.iter().map(|s| s.sign).collect::<String>(), "●···········");
        assert_eq!(twelve.months.iter().map(|m| m.initial).collect::<String>(), "ONDJFMAMJJAS");
        assert_eq!(twelve.months.iter().position(|m| m.now), Some(1));
        assert_eq!(twelve.legend, [("·", "out of season"), ("●", "at its peak")]);
    }
}

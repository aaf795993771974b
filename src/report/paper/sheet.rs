//! The paper that goes into the printer.

use std::fmt;
use std::str::FromStr;

use crate::measure::Quoted;

/// The paper that goes into the printer, upright.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Sheet {
    /// 210 x 297 mm.
    #[default]
    A4,
    /// 148 x 210 mm.
    A5,
    /// 105 x 148 mm.
    A6,
    /// 8.5 x 11 inches.
    Letter,
}

/// Text that names no sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotASheet {
    /// What was found.
    pub found: String,
}

impl Sheet {
    /// Every sheet.
    pub const ALL: [Self; 4] = [Self::A4, Self::A5, Self::A6, Self::Letter];

    /// What it is called, as it is typed: `a4`.
    pub fn name(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::A5 => "a5",
            Self::A6 => "a6",
            Self::Letter => "letter",
        }
    }

    /// Width and height in mm.
    ///
    /// # Source
    /// ISO 216, series A; ANSI/ASME Y14.1, size A (both from memory).
    pub fn size_mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::A5 => (148.0, 210.0),
            Self::A6 => (105.0, 148.0),
            Self::Letter => (215.9, 279.4),
        }
    }
}

impl fmt::Display for Sheet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Self::A4 => "A4",
            Self::A5 => "A5",
            Self::A6 => "A6",
            Self::Letter => "letter",
        })
    }
}

impl FromStr for Sheet {
    type Err = NotASheet;

    fn from_str(text: &str) -> Result<Self, NotASheet> {
        let wanted = text.trim();
        Self::ALL
            .into_iter()
            .find(|sheet| sheet.name().eq_ignore_ascii_case(wanted))
            .ok_or_else(|| NotASheet { found: wanted.to_owned() })
    }
}

impl fmt::Display for NotASheet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let names: Vec<&str> = Sheet::ALL.into_iter().map(Sheet::name).collect();
        write!(f, "{} is not a sheet of paper: it can be {}", Quoted(&self.found), names.join(", "))
    }
}

impl std::error::Error for NotASheet {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sheet_is_read_by_its_name_in_any_case() {
        for sheet in Sheet::ALL {
            assert_eq!(sheet.name().parse(), Ok(sheet));
            assert_eq!(format!(" {} ", sheet.name().to_uppercase()).parse(), Ok(sheet));
            assert!(sheet.to_string().eq_ignore_ascii_case(sheet.name()));
            let (width, height) = sheet.size_mm();
            assert!(width < height, "{sheet} stands upright");
        }
    }

    #[test]
    fn what_is_no_sheet_is_told_with_those_that_are() {
        let fault = "b5\u{1b}".parse::<Sheet>().unwrap_err();
        assert_eq!(fault.to_string(), "'b5\\u{1b}' is not a sheet of paper: it can be a4, a5, a6, letter");
    }

    #[test]
    fn a_sheet_of_the_series_halves_the_one_before() {
        for (large, small) in [(Sheet::A4, Sheet::A5), (Sheet::A5, Sheet::A6)] {
            assert!((large.size_mm().1 / 2.0 - small.size_mm().0).abs() < 1.0);
            assert!((large.size_mm().0 - small.size_mm().1).abs() < 1.0);
        }
    }
}

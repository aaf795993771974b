//! Reading and writing one number with its unit.

use std::fmt;

use super::measures::Measures;
use super::number::split_number;
use super::quoted::Quoted;
use super::range::{OutOfRange, Range, VOLUME, grouped};
use super::scalar::Volume;
use super::unit::Unit;

/// Text that is not a number in the unit of a [`Range`].
#[derive(Debug, Clone, PartialEq)]
pub struct NotAQuantity {
    /// What was found.
    pub found: String,
    /// The row it should have met.
    pub range: &'static Range,
    /// How far out it is, if it is a number at all.
    pub out: Option<OutOfRange>,
}

impl fmt::Display for NotAQuantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(out) = &self.out {
            return out.fmt(f);
        }
        let Range { what, unit, least, most, .. } = self.range;
        let (gap, most) = (if unit.is_empty() { "" } else { " " }, grouped(*most));
        write!(f, "{} is not {what}: write a number from {least} to {most}{gap}{unit}", Quoted(&self.found))
    }
}

impl std::error::Error for NotAQuantity {}

/// Reads a number with or without its unit: `22.4 % vol`, `22,4%`, `22.4`.
pub(super) fn read(text: &str, range: &'static Range) -> Result<f64, NotAQuantity> {
    let fault = |out| NotAQuantity { found: text.trim().to_owned(), range, out };
    let (sign, unsigned) = match text.trim().strip_prefix(['-', '−']) {
        Some(unsigned) => (-1.0, unsigned),
        None => (1.0, text.trim()),
    };
    // A unit that is no letter (`%`, `°C`) may be stuck to the number, so the two are parted before the number is read.
    let end = unsigned.find(['%', '°']).unwrap_or(unsigned.len());
    let (number, symbol) = unsigned.split_at(end);
    let (value, word) = split_number(number).map_err(|_| fault(None))?;
    let scale = scale_of(&format!("{word}{symbol}"), range).ok_or_else(|| fault(None))?;
    range.check(sign * value * scale).map_err(|out| fault(Some(out)))
}

/// What a number in the written unit is multiplied by to be in the row's.
fn scale_of(written: &str, range: &'static Range) -> Option<f64> {
    let plain = |unit: &str| unit.replace([' ', '°', '\u{a0}'], "").to_lowercase();
    let (written_plain, own) = (plain(written), plain(range.unit));
    let is_own =
        written_plain.is_empty() || written_plain == own || (written_plain == "%" && own.starts_with('%'));
    if is_own {
        return Some(1.0);
    }
    if range != &VOLUME {
        return None;
    }
    let (unit, rest) = Unit::split_from(written)?;
    let fixed = rest.is_empty() && !Measures::is_house(unit);
    Measures::default().one(unit).filter(|_| fixed).map(Volume::ml)
}

/// Writes the number and its unit, rounded if the caller asked for a precision; −0.0 is written 0.0.
pub(super) fn write(f: &mut fmt::Formatter<'_>, value: f64, unit: &str) -> fmt::Result {
    let digits = match f.precision() {
        Some(places) => format!("{value:.places$}"),
        None => value.to_string(),
    };
    let is_zero = !digits.bytes().any(|digit| (b'1'..=b'9').contains(&digit));
    let digits = if is_zero { digits.trim_start_matches('-') } else { &digits };
    if unit.is_empty() { write!(f, "{digits}") } else { write!(f, "{digits} {unit}") }
}

#[cfg(test)]
mod tests {
    use super::super::range::{GRADE, STRENGTH, TEMPERATURE};
    use super::super::unit::ML_PER_OUNCE;
    use super::*;

    #[test]
    fn a_number_is_read_with_or_without_its_unit() {
        for (text, range, value) in [
            ("22.4 % vol", &STRENGTH, 22.4),
            ("22,4%", &STRENGTH, 22.4),
            (" 40 ", &STRENGTH, 40.0),
            ("40%vol", &STRENGTH, 40.0),
            ("-6 °C", &TEMPERATURE, -6.0),
            ("−6°c", &TEMPERATURE, -6.0),
            ("-6 C", &TEMPERATURE, -6.0),
            ("0.5", &GRADE, 0.5),
            ("½", &GRADE, 0.5),
            ("45 ml", &VOLUME, 45.0),
            ("4.5 cl", &VOLUME, 45.0),
            ("1 1/2 oz", &VOLUME, 1.5 * ML_PER_OUNCE),
        ] {
            assert_eq!(read(text, range), Ok(value), "{text}");
        }
        for (text, range) in
            [("", &STRENGTH), ("x", &STRENGTH), ("40 ml", &STRENGTH), ("2 dashes", &VOLUME), ("1e3", &VOLUME)]
        {
            assert_eq!(read(text, range).unwrap_err().out, None, "{text}");
        }
    }

    #[test]
    fn a_number_outside_names_its_range() {
        let message = read("120 %", &STRENGTH).unwrap_err().to_string();
        assert_eq!(
            message,
            "120 % vol is not a strength: allowed is 0 to 100 % vol (100 % vol is pure ethanol)"
        );
        assert!(read("-1 ml", &VOLUME).unwrap_err().out.is_some());
        assert_eq!(
            read("lots\u{7}", &STRENGTH).unwrap_err().to_string(),
            r"'lots\u{7}' is not a strength: write a number from 0 to 100 % vol"
        );
    }
}

//! Legal ranges of every quantity, in one table: constructors, messages and tests read the same row.

use std::fmt;

/// What a quantity may be, and why not more.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// What a person calls it, with its article: "a strength".
    pub what: &'static str,
    /// The unit it is counted in, as printed: "% vol".
    pub unit: &'static str,
    /// Least legal value.
    pub least: f64,
    /// Greatest legal value.
    pub most: f64,
    /// Why the range ends there.
    pub reason: &'static str,
}

/// A number outside its [`Range`], or not a number at all.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutOfRange {
    /// The row that was broken.
    pub range: &'static Range,
    /// What was found.
    pub found: f64,
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Range { what, unit, least, most, reason } = self.range;
        let gap = if unit.is_empty() { "" } else { " " };
        let (found, least, most) = (self.found_words(), grouped(*least), grouped(*most));
        write!(f, "{found}{gap}{unit} is not {what}: allowed is {least} to {most}{gap}{unit} ({reason})")
    }
}

impl std::error::Error for OutOfRange {}

/// A number with its thousands parted: `10,000,000`.
pub(super) fn grouped(number: f64) -> String {
    let plain = number.to_string();
    if !number.is_finite() {
        return plain;
    }
    let (whole, rest) = plain.split_once('.').map_or((plain.as_str(), ""), |(whole, rest)| (whole, rest));
    let mut parted = String::new();
    for (place, digit) in whole.chars().enumerate() {
        let behind = whole.len() - place;
        if place > 0 && behind % 3 == 0 && digit.is_ascii_digit() && !parted.ends_with('-') {
            parted.push(',');
        }
        parted.push(digit);
    }
    if rest.is_empty() { parted } else { format!("{parted}.{rest}") }
}

impl OutOfRange {
    /// The number as found; one too large for any range is only that.
    fn found_words(&self) -> String {
        if self.found.is_infinite() { "so much".to_owned() } else { grouped(self.found) }
    }

    /// The message's second half, for a message that has named the text already.
    pub(super) fn outside(&self) -> String {
        let Range { unit, least, most, reason, .. } = self.range;
        let gap = if unit.is_empty() { "" } else { " " };
        let (found, least, most) = (self.found_words(), grouped(*least), grouped(*most));
        format!("{found} is outside {least} to {most}{gap}{unit} ({reason})")
    }
}

impl Range {
    /// Gives the value back if it is finite and inside the range; −0 becomes 0.
    ///
    /// # Errors
    /// [`OutOfRange`] for anything else, NaN and infinity included.
    pub fn check(&'static self, value: f64) -> Result<f64, OutOfRange> {
        if value.is_finite() && value >= self.least && value <= self.most {
            Ok(value + 0.0)
        } else {
            Err(OutOfRange { range: self, found: value })
        }
    }
}

/// Volume, in ml at 20 °C.
pub const VOLUME: Range = Range {
    what: "a volume",
    unit: "ml",
    least: 0.0,
    most: 10_000_000.0,
    reason: "ten cubic metres is more than any cellar mixes at once",
};
/// Mass, in g.
pub const MASS: Range = Range {
    what: "a mass",
    unit: "g",
    least: 0.0,
    most: 10_000_000.0,
    reason: "ten tonnes is more than any cellar weighs at once",
};
/// Strength, in % vol at 20 °C.
pub const STRENGTH: Range =
    Range { what: "a strength", unit: "% vol", least: 0.0, most: 100.0, reason: "100 % vol is pure ethanol" };
/// Concentration of something dissolved, in g/L of the liquid.
pub const CONCENTRATION: Range = Range {
    what: "a concentration",
    unit: "g/L",
    least: 0.0,
    most: 1_600.0,
    reason: "solid sugar itself is 1,590 g/L",
};
/// Temperature, in °C.
pub const TEMPERATURE: Range = Range {
    what: "a temperature",
    unit: "°C",
    least: -80.0,
    most: 150.0,
    reason: "from dry ice to boiling syrup",
};
/// Pressure, in bar, counted from a vacuum.
pub const PRESSURE: Range = Range {
    what: "a pressure",
    unit: "bar",
    least: 0.0,
    most: 100.0,
    reason: "0 is a vacuum, 1.01 the open air, and a full gas cylinder is not a drink",
};
/// Sugar by mass, in degrees Brix.
pub const BRIX: Range = Range {
    what: "a Brix",
    unit: "°Bx",
    least: 0.0,
    most: 85.0,
    reason: "grams of sugar in 100 g of solution; its density is published up to 85",
};
/// What 100 g of something hold of something else.
pub const MASS_SHARE: Range = Range {
    what: "a share by mass",
    unit: "g in 100 g",
    least: 0.0,
    most: 100.0,
    reason: "100 g hold at most 100",
};
/// A grade, without unit: facets, loudness.
pub const GRADE: Range = Range {
    what: "a grade",
    unit: "",
    least: 0.0,
    most: 1.0,
    reason: "0 is not at all, 1 is as much as can be",
};
/// An affinity, without unit.
pub const AFFINITY: Range = Range {
    what: "an affinity",
    unit: "",
    least: 0.01,
    most: 1.0,
    reason: "1 goes together as well as can be; what does not go is a clash, not a low number",
};
/// What a taster gives, 0 to 10.
pub const SCORE: Range = Range {
    what: "a score",
    unit: "",
    least: 0.0,
    most: 10.0,
    reason: "0 is undrinkable, 5 neither way, 10 could not be better",
};
/// Bitterness, on our own scale.
pub const BITTERNESS: Range = Range {
    what: "a bitterness",
    unit: "points",
    least: 0.0,
    most: 100.0,
    reason: "0 is water, 10 tonic water, 100 aromatic bitters from the bottle",
};

/// A count of anything but millilitres and grams: ounces, dashes, leaves.
pub const COUNT: Range = Range {
    what: "an amount",
    unit: "",
    least: 0.001,
    most: 10_000.0,
    reason: "less cannot be measured, more is not one line of a spec",
};
/// A count of millilitres.
pub const MILLILITRES: Range = Range {
    what: "an amount",
    unit: "ml",
    least: 0.001,
    most: 10_000_000.0,
    reason: "less cannot be measured, more is no volume any cellar mixes at once",
};
/// A count of grams.
pub const GRAMS: Range = Range {
    what: "an amount",
    unit: "g",
    least: 0.001,
    most: 10_000_000.0,
    reason: "less cannot be measured, more is no mass any cellar weighs at once",
};

/// A sum of money, in the currency's main unit.
pub const MONEY: Range = Range {
    what: "a sum of money",
    unit: "",
    least: -100_000_000_000.0,
    most: 100_000_000_000.0,
    reason: "a hundred thousand million is more than any bar turns over, in any currency",
};

/// Every row, for tests and for the documentation.
pub const TABLE: [&Range; 16] = [
    &VOLUME,
    &MASS,
    &STRENGTH,
    &CONCENTRATION,
    &TEMPERATURE,
    &PRESSURE,
    &BRIX,
    &MASS_SHARE,
    &GRADE,
    &AFFINITY,
    &SCORE,
    &BITTERNESS,
    &COUNT,
    &MILLILITRES,
    &GRAMS,
    &MONEY,
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_takes_its_ends_and_nothing_beyond() {
        for range in TABLE {
            assert!(
                range.least < range.most && !range.what.is_empty() && !range.reason.is_empty(),
                "{range:?}"
            );
            for inside in [range.least, range.most, f64::midpoint(range.least, range.most)] {
                assert_eq!(range.check(inside), Ok(inside), "{}", range.what);
            }
            let outside =
                [range.least.next_down(), range.most.next_up(), f64::NAN, f64::INFINITY, f64::NEG_INFINITY];
            for found in outside {
                assert!(range.check(found).is_err(), "{} {found}", range.what);
            }
        }
    }

    #[test]
    fn thousands_are_parted() {
        for (number, shown) in [
            (0.0, "0"),
            (999.0, "999"),
            (1600.0, "1,600"),
            (1e7, "10,000,000"),
            (-1e11, "-100,000,000,000"),
            (0.01, "0.01"),
            (1234.5, "1,234.5"),
        ] {
            assert_eq!(grouped(number), shown);
        }
    }

    #[test]
    fn minus_zero_becomes_zero() {
        assert_eq!(TEMPERATURE.check(-0.0).map(f64::to_bits), Ok(0));
    }

    #[test]
    fn the_message_says_what_was_found_and_what_is_allowed() {
        assert_eq!(
            AFFINITY.check(0.0).unwrap_err().to_string(),
            "0 is not an affinity: allowed is 0.01 to 1 (1 goes together as well as can be; what does not go is a clash, \
             not a low number)"
        );
    }
}

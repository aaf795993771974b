//! Quantities typed in a row, as people say them at the bench: `700 ml of 57.7 % at 4 C`.

use std::fmt;

use super::measures::Measures;
use super::number::{NoNumber, VULGAR, split_number};
use super::quoted::Quoted;
use super::range::OutOfRange;
use super::scalar::{Brix, Concentration, Mass, Pressure, Temperature, Volume};
use super::unit::Unit;

/// One typed thing.
#[derive(Debug, Clone, PartialEq)]
pub enum Given {
    /// A volume.
    Volume(Volume),
    /// A mass.
    Mass(Mass),
    /// So many per cent; what of, only the question knows.
    Percent(f64),
    /// Something dissolved.
    Concentration(Concentration),
    /// Sugar by mass.
    Brix(Brix),
    /// A temperature.
    Temperature(Temperature),
    /// A pressure; `psi` and `bar` are read as a gauge shows them.
    Pressure(Pressure),
    /// Volumes of gas in one of liquid.
    GasVolumes(f64),
    /// Minutes.
    Minutes(f64),
    /// `2:1`.
    Ratio(f64, f64),
    /// A number alone.
    Number(f64),
    /// A word that is no quantity, in small letters.
    Word(String),
}

/// Text in which a quantity cannot be read.
#[derive(Debug, Clone, PartialEq)]
pub enum NotGiven {
    /// Digits that make no number.
    Number {
        /// From the digits on.
        found: String,
    },
    /// A quantity outside its range.
    Range(OutOfRange),
}

impl fmt::Display for NotGiven {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Number { found } => {
                write!(
                    f,
                    "{} does not start with a number that can be read: write 1.5, 1 1/2 or 1½",
                    Quoted(found)
                )
            }
            Self::Range(out) => out.fmt(f),
        }
    }
}

impl std::error::Error for NotGiven {}

impl From<OutOfRange> for NotGiven {
    fn from(out: OutOfRange) -> Self {
        Self::Range(out)
    }
}

/// Reads quantities and words in a row. Commas part them and are left out.
///
/// ```
/// use medlar::measure::{Given, Measures, read_given};
///
/// let given = read_given("500 ml of 40 %", &Measures::default())?;
/// assert_eq!(given[1], Given::Word("of".to_owned()));
/// assert_eq!(given[2], Given::Percent(40.0));
/// # Ok::<(), medlar::measure::NotGiven>(())
/// ```
///
/// # Errors
/// [`NotGiven`] for the first that cannot be read.
pub fn read_given(text: &str, measures: &Measures) -> Result<Vec<Given>, NotGiven> {
    let mut given = Vec::new();
    let mut rest = skip(text);
    while !rest.is_empty() {
        let (one, behind) = if starts_quantity(rest) { quantity(rest, measures)? } else { word(rest) };
        given.push(one);
        rest = skip(behind);
    }
    Ok(given)
}

fn skip(text: &str) -> &str {
    text.trim_start_matches(parts)
}

/// What parts one thing from the next.
fn parts(letter: char) -> bool {
    letter.is_whitespace() || matches!(letter, ',' | ';' | '(' | ')' | '@')
}

fn unsigned(text: &str) -> (f64, &str) {
    match text.strip_prefix(['-', '−', '–']) {
        Some(unsigned) => (-1.0, unsigned.trim_start()),
        None => (1.0, text),
    }
}

fn starts_quantity(text: &str) -> bool {
    let (_, text) = unsigned(text);
    let mut letters = text.chars();
    let first = letters.next();
    let starts =
        |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit() || VULGAR.iter().any(|(sign, ..)| *sign == c));
    starts(first) || (first == Some('.') && starts(letters.next()))
}

fn word(text: &str) -> (Given, &str) {
    let end = text.find(parts).unwrap_or(text.len());
    (Given::Word(text[..end].to_lowercase()), &text[end..])
}

/// A number and what stands directly behind it.
fn number<'t>(text: &'t str, whole: &str) -> Result<(f64, &'t str), NotGiven> {
    // `%`, `°` and `:` may be stuck to it, which elsewhere would make it no number.
    let end = text.find(['%', '°', ':']).unwrap_or(text.len());
    let fault = |_: NoNumber| NotGiven::Number { found: whole.trim().to_owned() };
    // A comma behind a number parts, unless decimals follow.
    let head = text[..end].trim_end_matches(',');
    let head = match head.find(", ") {
        Some(at) => &head[..at],
        None => head,
    };
    let (value, behind) = split_number(head).map_err(fault)?;
    Ok((value, &text[head.len() - behind.len()..]))
}

fn quantity<'t>(text: &'t str, measures: &Measures) -> Result<(Given, &'t str), NotGiven> {
    let (sign, plain) = unsigned(text);
    let (value, behind) = number(plain, text)?;
    let value = sign * value;
    if let Some(second) =
        behind.trim_start().strip_prefix(':').map(str::trim_start).filter(|t| starts_quantity(t))
    {
        let (other, behind) = number(second, text)?;
        return Ok((Given::Ratio(value, other), behind));
    }
    let rest = behind.trim_start();
    if let Some(rest) = rest.strip_prefix('%') {
        return Ok((Given::Percent(value), without_words(rest, &["vol", "abv", "alc"])));
    }
    if let Some((given, rest)) = symbol(value, rest)? {
        return Ok((given, rest));
    }
    if let Some((unit, rest)) = Unit::split_from(rest) {
        if unit == Unit::Gram {
            return Ok((Given::Mass(Mass::new(value)?), rest));
        }
        if let Some(one) = measures.one(unit) {
            return Ok((Given::Volume(Volume::new(value * one.ml())?), rest));
        }
    }
    Ok((Given::Number(value), behind))
}

/// What is no bar measure: temperatures, concentrations, pressures.
fn symbol(value: f64, text: &str) -> Result<Option<(Given, &str)>, NotGiven> {
    for (written, per_litre) in
        [("g/100 ml", 10.0), ("g/100ml", 10.0), ("g/l", 1.0), ("g per litre", 1.0), ("g per liter", 1.0)]
    {
        if let Some(rest) = without(text, written) {
            return Ok(Some((Given::Concentration(Concentration::new(value * per_litre)?), rest)));
        }
    }
    let (plain, degrees) = match text.strip_prefix('°') {
        Some(rest) => (rest.trim_start(), true),
        None => (text, false),
    };
    let celsius = |t: f64| Temperature::new(t).map(Given::Temperature);
    for (words, given) in [
        (&["c", "celsius"][..], celsius as fn(f64) -> Result<Given, OutOfRange>),
        (&["f", "fahrenheit"], |t| Temperature::new((t - 32.0) / 1.8).map(Given::Temperature)),
        (&["bx", "brix"], |b| Brix::new(b).map(Given::Brix)),
    ] {
        for written in words {
            if let Some(rest) = without(plain, written) {
                return Ok(Some((given(value)?, rest)));
            }
        }
    }
    if degrees {
        return Ok(None);
    }
    for (words, given) in [
        (
            &["bar"][..],
            (|p| Pressure::from_gauge_bar(p).map(Given::Pressure)) as fn(f64) -> Result<Given, OutOfRange>,
        ),
        (&["psi"], |p| Pressure::from_gauge_psi(p).map(Given::Pressure)),
        (&["kg"], |m| Mass::new(1000.0 * m).map(Given::Mass)),
        (&["proof"], |p| Ok(Given::Percent(p / 2.0))),
        (&["volumes", "volume", "vols"], |v| Ok(Given::GasVolumes(v))),
        (&["minutes", "minute", "min", "mins"], |m| Ok(Given::Minutes(m))),
    ] {
        for written in words {
            if let Some(rest) = without(plain, written) {
                // `3 bar spoons` are no pressure.
                let spoons = *written == "bar" && rest.trim_start().to_lowercase().starts_with("spoon");
                if !spoons {
                    return Ok(Some((given(value)?, rest)));
                }
            }
        }
    }
    Ok(None)
}

/// The text behind a word, in any case, that stands at the start and ends there.
fn without<'t>(text: &'t str, word: &str) -> Option<&'t str> {
    let start = text.get(..word.len())?;
    let rest = &text[word.len()..];
    let ended = rest.chars().next().is_none_or(|c| !c.is_alphanumeric());
    (start.eq_ignore_ascii_case(word) && ended).then_some(rest)
}

fn without_words<'t>(text: &'t str, words: &[&str]) -> &'t str {
    words.iter().find_map(|word| without(text.trim_start(), word)).unwrap_or(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn given(text: &str) -> Vec<Given> {
        read_given(text, &Measures::default()).unwrap()
    }

    fn word(text: &str) -> Given {
        Given::Word(text.to_owned())
    }

    #[test]
    fn quantities_in_a_row_are_told_apart() {
        assert_eq!(
            given("700 ml of 57.7% to 43 % vol"),
            [
                Given::Volume(Volume::new(700.0).unwrap()),
                word("of"),
                Given::Percent(57.7),
                word("to"),
                Given::Percent(43.0)
            ]
        );
        assert_eq!(
            given("20%, 95 g/L at -18 °C"),
            [
                Given::Percent(20.0),
                Given::Concentration(Concentration::new(95.0).unwrap()),
                word("at"),
                Given::Temperature(Temperature::new(-18.0).unwrap())
            ]
        );
        assert_eq!(given("-18C"), [Given::Temperature(Temperature::new(-18.0).unwrap())]);
        assert_eq!(given("50 °Bx"), [Given::Brix(Brix::new(50.0).unwrap())]);
        assert_eq!(given("2:1 by volume"), [Given::Ratio(2.0, 1.0), word("by"), word("volume")]);
        assert_eq!(given("1.5:1"), [Given::Ratio(1.5, 1.0)]);
        assert_eq!(given("100 proof"), [Given::Percent(50.0)]);
        assert_eq!(given("1½ kg, 5 min"), [Given::Mass(Mass::new(1500.0).unwrap()), Given::Minutes(5.0)]);
        assert_eq!(given("6 g/100 ml"), [Given::Concentration(Concentration::new(60.0).unwrap())]);
        assert_eq!(given("2 bar spoons"), [Given::Volume(Volume::new(8.0).unwrap())]);
        assert_eq!(given("4,5 cl, 3"), [Given::Volume(Volume::new(45.0).unwrap()), Given::Number(3.0)]);
        assert_eq!(given("750ml@63%"), [Given::Volume(Volume::new(750.0).unwrap()), Given::Percent(63.0)]);
        assert_eq!(given("  "), []);
    }

    #[test]
    fn a_gauge_counts_from_the_open_air() {
        let [Given::Pressure(pressure)] = given("30 psi")[..] else { panic!("a pressure") };
        assert!((pressure.bar() - 3.0817).abs() < 1e-4 && (pressure.gauge_psi() - 30.0).abs() < 1e-9);
        assert_eq!(given("0 bar"), [Given::Pressure(Pressure::OPEN_AIR)]);
    }

    #[test]
    fn fahrenheit_is_turned_into_celsius() {
        let [Given::Temperature(freezer)] = given("0 F")[..] else { panic!("a temperature") };
        assert!((freezer.celsius() + 17.777_777_8).abs() < 1e-6);
    }

    #[test]
    fn out_of_range_and_no_number_are_told() {
        let error = |text: &str| read_given(text, &Measures::default()).unwrap_err().to_string();
        assert_eq!(
            error("at -300 C"),
            "-300 °C is not a temperature: allowed is -80 to 150 °C (from dry ice to boiling syrup)"
        );
        assert_eq!(
            error("95 Brix"),
            "95 °Bx is not a Brix: allowed is 0 to 85 °Bx (grams of sugar in 100 g of solution; its density is published up to 85)"
        );
        assert!(error("-5 g ice").starts_with("-5 g is not a mass"));
        assert_eq!(
            error("1.2.3 ml"),
            "'1.2.3 ml' does not start with a number that can be read: write 1.5, 1 1/2 or 1½"
        );
    }
}

//! How much of an ingredient a line asks for, as it was written.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::measures::Measures;
use super::number::{NoNumber, VULGAR, split_number, starts_number};
use super::quoted::Quoted;
use super::range::{self, OutOfRange, Range};
use super::scalar::{Mass, Volume};
use super::unit::Unit;

/// A count of a unit, kept as written: `1 1/2 oz` is not turned into millilitres.
///
/// Printed and read back it is the same amount to the last bit.
///
/// # Units
/// Its own [`Unit`]; [`volume`](Self::volume) and [`mass`](Self::mass) convert.
///
/// # Limits
/// The count is above 0 and ends where its row of the [range table](range) ends.
///
/// ```
/// use medlar::measure::{Amount, Measures, Unit};
///
/// let (amount, name) = Amount::split_from("1½ oz of rye")?;
/// assert_eq!((amount.unit(), name), (Unit::Ounce, "rye"));
/// assert_eq!(amount.to_string(), "1 1/2 oz");
/// assert_eq!(format!("{:.1}", amount.volume(&Measures::default()).unwrap().ml()), "44.4");
/// # Ok::<(), medlar::measure::NotAnAmount>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Amount {
    count: f64,
    unit: Unit,
}

/// The count is never NaN.
impl Eq for Amount {}

/// Text that is not an amount.
#[derive(Debug, Clone, PartialEq)]
pub struct NotAnAmount {
    /// What was found, as it was typed.
    pub found: String,
    /// What is wrong with it.
    pub why: AmountFault,
}

/// What is wrong with text that should be an amount.
#[derive(Debug, Clone, PartialEq)]
pub enum AmountFault {
    /// There is nothing.
    Empty,
    /// It does not start with a number.
    NoNumber,
    /// The number has a sign.
    Signed,
    /// The fraction is over zero.
    OverZero,
    /// A comma may part decimals or thousands: `1,500`.
    Comma,
    /// The digits make no one number: `1.2.3`, `1-2`.
    Malformed,
    /// A number stands alone.
    NoUnit,
    /// The letters stuck to the number are not a unit: `1e400`, `2nd`.
    Glued,
    /// A measure that is not read.
    NotRead {
        /// The measure.
        word: String,
        /// What to write in its place.
        advice: &'static str,
    },
    /// The number is outside the range.
    Range(OutOfRange),
    /// Something stands behind the amount where nothing may.
    Leftover {
        /// What stands there.
        rest: String,
    },
}

impl fmt::Display for AmountFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str("there is nothing"),
            Self::NoNumber => f.write_str("it does not start with a number"),
            Self::Signed => f.write_str("a sign is not allowed, only a number above 0"),
            Self::OverZero => f.write_str("a fraction over 0 is no number"),
            Self::Comma => f.write_str(
                "the comma may mean decimals or thousands: use a point for decimals, nothing for thousands",
            ),
            Self::Malformed => f.write_str("the digits do not make one number"),
            Self::NoUnit => f.write_str("a unit or a name is missing behind the number"),
            Self::Glued => f.write_str("what is stuck to the number is not a unit"),
            Self::NotRead { word, advice } => write!(f, "{} is not read, {advice}", Quoted(word)),
            Self::Range(out) => out.outside().fmt(f),
            Self::Leftover { rest } => write!(f, "{} is left behind it", Quoted(rest)),
        }
    }
}

impl fmt::Display for NotAnAmount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} is not an amount: {}; write a number and a unit, like '1 1/2 oz', '45 ml' or '2 dashes'",
            Quoted(&self.found),
            self.why
        )
    }
}

impl std::error::Error for NotAnAmount {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match &self.why {
            AmountFault::Range(out) => Some(out),
            _ => None,
        }
    }
}

impl From<NoNumber> for AmountFault {
    fn from(why: NoNumber) -> Self {
        match why {
            NoNumber::Missing => Self::NoNumber,
            NoNumber::Signed => Self::Signed,
            NoNumber::OverZero => Self::OverZero,
            NoNumber::Comma => Self::Comma,
            NoNumber::Malformed => Self::Malformed,
        }
    }
}

impl Amount {
    /// The legal range of counts of a unit.
    pub fn range(unit: Unit) -> &'static Range {
        match unit {
            Unit::Millilitre => &range::MILLILITRES,
            Unit::Gram => &range::GRAMS,
            _ => &range::COUNT,
        }
    }

    /// So many of a unit.
    ///
    /// # Errors
    /// [`OutOfRange`] for a count that is not finite, not above 0 or above the unit's range.
    pub fn new(count: f64, unit: Unit) -> Result<Self, OutOfRange> {
        Ok(Self { count: Self::range(unit).check(count)?, unit })
    }

    /// How many of the unit.
    pub const fn count(self) -> f64 {
        self.count
    }

    /// The unit.
    pub const fn unit(self) -> Unit {
        self.unit
    }

    /// Reads the amount at the start of a line and gives the rest, which is the ingredient's name.
    ///
    /// `45 ml gin`, `1½ oz of rye`, `a dash of bitters`, `top with soda water`. A count without a unit counts
    /// pieces: `1 egg white`. The rest is trimmed and may be empty.
    ///
    /// # Errors
    /// [`NotAnAmount`] if the line does not start with an amount.
    pub fn split_from(text: &str) -> Result<(Self, &str), NotAnAmount> {
        split(text.trim()).map_err(|why| NotAnAmount { found: text.trim().to_owned(), why })
    }

    /// The volume it stands for, at 20 °C, or nothing for leaves, sprigs, slices, pieces, pinches and grams.
    ///
    /// # Limits
    /// Nothing, too, where a house measure so big that the product leaves [`Volume`]'s range was set.
    pub fn volume(&self, measures: &Measures) -> Option<Volume> {
        Volume::new(self.count * measures.one(self.unit)?.ml()).ok()
    }

    /// The mass it stands for, for an amount in grams.
    pub fn mass(&self) -> Option<Mass> {
        if self.unit == Unit::Gram { Mass::new(self.count).ok() } else { None }
    }
}

fn split(text: &str) -> Result<(Amount, &str), AmountFault> {
    if text.is_empty() {
        return Err(AmountFault::Empty);
    }
    if let Some((unit, rest)) = split_uncounted(text) {
        return Ok((Amount { count: 1.0, unit }, name_behind(unit, rest)));
    }
    let (count, rest) = split_number(text)?;
    let (unit, rest) = match Unit::split_from(rest) {
        Some((unit, rest)) => (unit, name_behind(unit, rest)),
        None => (Unit::Piece, name_of_piece(rest)?),
    };
    let amount = Amount::new(count, unit).map_err(AmountFault::Range)?;
    Ok((amount, rest))
}

/// `top soda water`, `a dash of bitters`: a unit without a number.
fn split_uncounted(text: &str) -> Option<(Unit, &str)> {
    let article = ["a ", "an "].into_iter().find_map(|article| {
        text.get(..article.len()).filter(|start| start.eq_ignore_ascii_case(article))?;
        Unit::split_from(&text[article.len()..])
    });
    article.or_else(|| Unit::split_from(text).filter(|(unit, _)| *unit == Unit::Top))
}

/// The name behind a unit, without the small words that join the two.
fn name_behind(unit: Unit, rest: &str) -> &str {
    let joins: &[&str] = if unit == Unit::Top { &["up", "off", "with", "of"] } else { &["of"] };
    joins.iter().fold(rest, |rest, join| {
        let (word, behind) = rest.split_once(char::is_whitespace).unwrap_or((rest, ""));
        if word.eq_ignore_ascii_case(join) && !behind.trim().is_empty() { behind.trim() } else { rest }
    })
}

/// The name of what is counted in pieces.
fn name_of_piece(rest: &str) -> Result<&str, AmountFault> {
    if let Some((word, advice)) = Unit::advice_against(rest) {
        return Err(AmountFault::NotRead { word: word.to_owned(), advice });
    }
    if rest.starts_with(char::is_alphabetic) {
        return Err(AmountFault::Glued);
    }
    let name = rest.trim();
    let (first, behind) = name.split_once(char::is_whitespace).unwrap_or((name, ""));
    let is_span = matches!(first, "to" | "or") && behind.trim_start().starts_with(starts_number);
    if name.is_empty() {
        Err(AmountFault::NoUnit)
    } else if is_span || !name.starts_with(char::is_alphabetic) {
        Err(AmountFault::Malformed)
    } else {
        Ok(name)
    }
}

impl FromStr for Amount {
    type Err = NotAnAmount;

    /// Reads text that is an amount and nothing else.
    fn from_str(text: &str) -> Result<Self, NotAnAmount> {
        let (amount, rest) = Self::split_from(text)?;
        if rest.is_empty() {
            return Ok(amount);
        }
        let why = AmountFault::Leftover { rest: rest.to_owned() };
        Err(NotAnAmount { found: text.trim().to_owned(), why })
    }
}

impl TryFrom<String> for Amount {
    type Error = NotAnAmount;

    fn try_from(text: String) -> Result<Self, NotAnAmount> {
        text.parse()
    }
}

impl From<Amount> for String {
    fn from(amount: Amount) -> Self {
        amount.to_string()
    }
}

/// In plain letters, as files hold it: `1 1/2 oz`, `7.5 ml`, `2 dashes`, `top`.
impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let written = self.unit.written(self.count);
        match exact_fraction(self.count).filter(|_| !self.unit.is_metric()) {
            Some((1, None)) if self.unit == Unit::Top => f.write_str(written),
            Some((0, Some((above, below)))) => write!(f, "{above}/{below} {written}"),
            Some((whole, Some((above, below)))) => write!(f, "{whole} {above}/{below} {written}"),
            Some((whole, None)) => write!(f, "{whole} {written}"),
            None => write!(f, "{} {written}", self.count),
        }
    }
}

/// The count as a whole and a fraction, if that is read back as the very same number.
pub(super) fn exact_fraction(count: f64) -> Option<(u32, Option<(u8, u8)>)> {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "counts are above 0 and end at 1e7"
    )]
    let whole = count.trunc() as u32;
    let exactly = |value: f64| value.to_bits() == count.to_bits();
    if exactly(f64::from(whole)) {
        return Some((whole, None));
    }
    VULGAR
        .into_iter()
        .map(|(_, above, below)| (above, below))
        .find(|(above, below)| exactly(f64::from(whole) + f64::from(*above) / f64::from(*below)))
        .map(|part| (whole, Some(part)))
}

#[cfg(test)]
mod tests;

//! Money: exact sums in one currency.

use std::cmp::Ordering;
use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::currency::Currency;
use super::quoted::Quoted;
use super::range::{self, OutOfRange, Range};
use super::scalar::Volume;

/// A sum of money, exact to a ten-thousandth of the currency's main unit.
///
/// # Units
/// Ten-thousandths of the main unit (of a pound, of a dollar), with the currency beside them.
///
/// # Limits
/// No conversion between currencies: sums in two of them do not add up.
///
/// ```
/// use medlar::measure::{Money, Volume};
///
/// let bottle: Money = "24.50 GBP".parse()?;
/// let pour = bottle.share(Volume::new(50.0)?, Volume::new(700.0)?)?;
/// assert_eq!(pour.to_string(), "1.75 GBP");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// Money and bare numbers do not mix:
///
/// ```compile_fail,E0369
/// use medlar::measure::Money;
/// let price: Money = "4.50 GBP".parse().unwrap();
/// let _ = price + 1;
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Money {
    ten_thousandths: i64,
    currency: Currency,
}

/// Ten-thousandths in one.
const ONE: i64 = 10_000;

/// Sums that cannot be reckoned together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MoneyFault {
    /// The sums are in two currencies.
    Currencies {
        /// Of the one sum.
        left: Currency,
        /// Of the other.
        right: Currency,
    },
    /// The result leaves the range.
    Range(OutOfRange),
    /// A share of nothing.
    OverZero,
}

impl fmt::Display for MoneyFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Currencies { left, right } => {
                write!(f, "{left} and {right} cannot be added up: give both sums in one currency")
            }
            Self::Range(out) => out.fmt(f),
            Self::OverZero => f.write_str("a price cannot be divided by 0: give a size above 0"),
        }
    }
}

impl std::error::Error for MoneyFault {}

/// Text that is not a sum of money.
#[derive(Debug, Clone, PartialEq)]
pub struct NotMoney {
    /// What was found.
    pub found: String,
    /// What is wrong with it.
    pub why: NotMoneyFault,
}

/// What is wrong with text that should be a sum of money.
#[derive(Debug, Clone, PartialEq)]
pub enum NotMoneyFault {
    /// The currency is missing or not three letters.
    Currency,
    /// There is no one plain number.
    Number,
    /// A comma may part decimals or thousands: `1,500`.
    Comma,
    /// There are more decimals than are kept.
    Decimals,
    /// The sum is outside the range.
    Range(OutOfRange),
}

impl fmt::Display for NotMoney {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} is not a sum of money: ", Quoted(&self.found))?;
        match &self.why {
            NotMoneyFault::Currency => f.write_str("the three letters of the currency are missing")?,
            NotMoneyFault::Number => f.write_str("there is no plain number beside the currency")?,
            NotMoneyFault::Comma => f.write_str(
                "the comma may mean decimals or thousands: use a point for decimals, nothing for thousands",
            )?,
            NotMoneyFault::Decimals => f.write_str("at most four decimals are kept")?,
            NotMoneyFault::Range(out) => out.outside().fmt(f)?,
        }
        f.write_str("; write it like '4.50 GBP'")
    }
}

impl std::error::Error for NotMoney {}

impl Money {
    /// The legal range, in main units.
    pub const RANGE: &'static Range = &range::MONEY;

    /// So many ten-thousandths of the main unit.
    ///
    /// # Errors
    /// [`OutOfRange`] beyond the range.
    pub fn new(ten_thousandths: i64, currency: Currency) -> Result<Self, OutOfRange> {
        Self::from_wide(ten_thousandths.into(), currency)
    }

    /// The range's ends times [`ONE`] are whole numbers that a float holds exactly.
    fn from_wide(ten_thousandths: i128, currency: Currency) -> Result<Self, OutOfRange> {
        let main = ten_thousandths as f64 / ONE as f64;
        let out = OutOfRange { range: Self::RANGE, found: main };
        Self::RANGE.check(main)?;
        let ten_thousandths = i64::try_from(ten_thousandths).map_err(|_| out)?;
        Ok(Self { ten_thousandths, currency })
    }

    /// The sum in ten-thousandths of the main unit.
    pub const fn ten_thousandths(self) -> i64 {
        self.ten_thousandths
    }

    /// The currency.
    pub const fn currency(self) -> Currency {
        self.currency
    }

    /// The two sums together.
    ///
    /// # Errors
    /// [`MoneyFault`] for two currencies or a sum beyond the range.
    pub fn plus(self, other: Self) -> Result<Self, MoneyFault> {
        self.same_currency(other)?;
        let sum = i128::from(self.ten_thousandths) + i128::from(other.ten_thousandths);
        Self::from_wide(sum, self.currency).map_err(MoneyFault::Range)
    }

    /// What is left when the other sum is taken away; below 0 if that was more.
    ///
    /// # Errors
    /// [`MoneyFault`] for two currencies or a sum beyond the range.
    pub fn minus(self, other: Self) -> Result<Self, MoneyFault> {
        self.same_currency(other)?;
        let left = i128::from(self.ten_thousandths) - i128::from(other.ten_thousandths);
        Self::from_wide(left, self.currency).map_err(MoneyFault::Range)
    }

    /// So many times the sum.
    ///
    /// # Errors
    /// [`MoneyFault`] for a sum beyond the range.
    pub fn times(self, count: i64) -> Result<Self, MoneyFault> {
        let product = i128::from(self.ten_thousandths) * i128::from(count);
        Self::from_wide(product, self.currency).map_err(MoneyFault::Range)
    }

    /// The sum times `above` over `below`, to the nearest ten-thousandth; halves go to the even one, so that many
    /// roundings do not drift.
    ///
    /// # Errors
    /// [`MoneyFault`] for `below` 0 or a sum beyond the range.
    pub fn times_ratio(self, above: i64, below: i64) -> Result<Self, MoneyFault> {
        if below == 0 {
            return Err(MoneyFault::OverZero);
        }
        let product = i128::from(self.ten_thousandths) * i128::from(above);
        Self::from_wide(divided(product, below.into()), self.currency).map_err(MoneyFault::Range)
    }

    /// What a part of a bottle costs, if the sum is the whole bottle's price.
    ///
    /// # Accuracy
    /// The volumes are taken to the nearest millionth of a millilitre, the result to the nearest ten-thousandth.
    ///
    /// # Errors
    /// [`MoneyFault`] for an empty bottle or a sum beyond the range.
    pub fn share(self, part: Volume, whole: Volume) -> Result<Self, MoneyFault> {
        #[expect(clippy::cast_possible_truncation, reason = "volumes end at 1e7 ml, so at 1e13 millionths")]
        let millionths = |volume: Volume| (volume.ml() * 1e6).round() as i64;
        self.times_ratio(millionths(part), millionths(whole))
    }

    /// The sum to the currency's own smallest unit, halves to the even one: for the screen, not for further sums.
    #[must_use]
    pub fn rounded(self) -> Self {
        let step = 10_i64.pow(4 - self.currency.decimals());
        let steps = divided(self.ten_thousandths.into(), step.into());
        // The ends of the range are multiples of every step, so rounding stays inside.
        Self::from_wide(steps * i128::from(step), self.currency).unwrap_or(self)
    }

    fn same_currency(self, other: Self) -> Result<(), MoneyFault> {
        if self.currency == other.currency {
            return Ok(());
        }
        Err(MoneyFault::Currencies { left: self.currency, right: other.currency })
    }
}

/// The nearest whole quotient, of two equally near the even one; `below` is not 0.
fn divided(above: i128, below: i128) -> i128 {
    let (above, below) = if below < 0 { (-above, -below) } else { (above, below) };
    let (quotient, rest) = (above.div_euclid(below), above.rem_euclid(below));
    match (rest * 2).cmp(&below) {
        Ordering::Less => quotient,
        Ordering::Greater => quotient + 1,
        Ordering::Equal => quotient + quotient.rem_euclid(2),
    }
}

/// Sums in two currencies have no order.
impl PartialOrd for Money {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        (self.currency == other.currency).then(|| self.ten_thousandths.cmp(&other.ten_thousandths))
    }
}

/// Exact: as many decimals as the currency has, and more where the sum has them.
impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let size = self.ten_thousandths.unsigned_abs();
        let (whole, part) = (size / ONE.unsigned_abs(), size % ONE.unsigned_abs());
        let four = format!("{part:04}");
        let needed = four.trim_end_matches('0').len().max(self.currency.decimals() as usize);
        let sign = if self.ten_thousandths < 0 { "-" } else { "" };
        let point = if needed == 0 { "" } else { "." };
        f.pad(&format!("{sign}{whole}{point}{} {}", &four[..needed], self.currency))
    }
}

impl FromStr for Money {
    type Err = NotMoney;

    /// Reads `4.50 GBP` or `GBP 4.50`; the decimals may stand behind a comma.
    fn from_str(text: &str) -> Result<Self, NotMoney> {
        let text = text.trim();
        read(text).map_err(|why| NotMoney { found: text.to_owned(), why })
    }
}

fn read(text: &str) -> Result<Money, NotMoneyFault> {
    let is_letter = |letter: char| letter.is_alphabetic();
    let number = text.trim_matches(is_letter).trim();
    let codes = [
        text.trim_start_matches(|letter| !is_letter(letter)),
        text.trim_end_matches(|letter| !is_letter(letter)),
    ];
    let code =
        codes.into_iter().find_map(|code| code.parse::<Currency>().ok()).ok_or(NotMoneyFault::Currency)?;
    let (sign, number) = match number.strip_prefix(['-', '−']) {
        Some(number) => (-1, number),
        None => (1, number),
    };
    let (whole, part) = number.split_once(['.', ',']).unwrap_or((number, ""));
    let is_digits = |digits: &str| digits.bytes().all(|digit| digit.is_ascii_digit());
    if !is_digits(whole) || !is_digits(part) || (whole.is_empty() && part.is_empty()) {
        return Err(NotMoneyFault::Number);
    }
    if number.contains(',') && part.len() == 3 && whole.bytes().any(|digit| digit != b'0') {
        return Err(NotMoneyFault::Comma);
    }
    if part.len() > 4 {
        return Err(NotMoneyFault::Decimals);
    }
    let too_much = NotMoneyFault::Range(OutOfRange { range: Money::RANGE, found: f64::INFINITY });
    let digits = format!("{whole}{part:0<4}").parse::<i128>().map_err(|_| too_much)?;
    Money::from_wide(sign * digits, code).map_err(NotMoneyFault::Range)
}

impl TryFrom<String> for Money {
    type Error = NotMoney;

    fn try_from(text: String) -> Result<Self, NotMoney> {
        text.parse()
    }
}

impl From<Money> for String {
    fn from(money: Money) -> Self {
        money.to_string()
    }
}

#[cfg(test)]
mod tests;

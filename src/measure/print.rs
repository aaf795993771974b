//! Volumes and amounts as a bar reads them: fractions of an ounce, whole millilitres.
//!
//! Rounding happens here and nowhere earlier.

use std::fmt;

use super::amount::{Amount, exact_fraction};
use super::jigger::{HouseUnit, OUNCE_MARKS};
use super::number::VULGAR;
use super::scalar::Volume;
use super::unit::{ML_PER_OUNCE, Unit};

/// A volume, printed in the house's unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ShownVolume {
    volume: Volume,
    unit: HouseUnit,
}

/// An amount, printed in the house's unit where it is a plain volume and in its own otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ShownAmount {
    amount: Amount,
    unit: HouseUnit,
}

/// The volume as the house reads it.
///
/// Ounces are printed as a fraction (`1½ oz`) where an eighth, a third or the sum of two jigger marks (`¼ + ⅓ oz`) is
/// near enough, and with at most two decimals otherwise; millilitres whole where near enough, and with one decimal
/// otherwise. A volume that would round to nothing is printed as being under the last digit.
///
/// # Accuracy
/// 0.01 oz; 0.05 ml.
///
/// ```
/// use medlar::measure::{HouseUnit, Volume, in_unit};
///
/// let volume = Volume::from_ounces(1.5)?;
/// assert_eq!(in_unit(volume, HouseUnit::Ounce).to_string(), "1½ oz");
/// assert_eq!(in_unit(volume, HouseUnit::Millilitre).to_string(), "44.4 ml");
/// # Ok::<(), medlar::measure::range::OutOfRange>(())
/// ```
pub fn in_unit(volume: Volume, unit: HouseUnit) -> ShownVolume {
    ShownVolume { volume, unit }
}

impl Amount {
    /// The amount as the house reads it: `1½ oz`, `2 dashes`, `top`.
    ///
    /// Ounces and metric volumes are turned into the house's unit; ounces in a house of millilitres to the nearest half
    /// millilitre, for nobody pours finer. Kitchen and house measures stay as written. Pieces are a bare count, for the
    /// name follows: `1` in `1 egg white`.
    ///
    /// ```
    /// use medlar::measure::{Amount, HouseUnit};
    ///
    /// let amount: Amount = "1 1/2 oz".parse()?;
    /// assert_eq!(amount.shown(HouseUnit::Ounce).to_string(), "1½ oz");
    /// assert_eq!(amount.shown(HouseUnit::Millilitre).to_string(), "44.5 ml");
    /// # Ok::<(), medlar::measure::NotAnAmount>(())
    /// ```
    pub fn shown(self, unit: HouseUnit) -> ShownAmount {
        ShownAmount { amount: self, unit }
    }
}

impl fmt::Display for ShownVolume {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = match self.unit {
            HouseUnit::Ounce => ounces(self.volume.ounces()),
            HouseUnit::Millilitre => millilitres(self.volume.ml()),
        };
        f.pad(&text)
    }
}

impl fmt::Display for ShownAmount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&amount_text(self.amount, self.unit))
    }
}

fn amount_text(amount: Amount, house: HouseUnit) -> String {
    let count = amount.count();
    match (amount.unit(), house) {
        (Unit::Ounce, HouseUnit::Ounce) => ounces(count),
        (Unit::Ounce, HouseUnit::Millilitre) => millilitres(to_half(count * ML_PER_OUNCE)),
        (Unit::Millilitre, HouseUnit::Millilitre) => millilitres(count),
        (Unit::Centilitre, HouseUnit::Millilitre) => millilitres(count * 10.0),
        (Unit::Millilitre, HouseUnit::Ounce) => ounces(count / ML_PER_OUNCE),
        (Unit::Centilitre, HouseUnit::Ounce) => ounces(count * 10.0 / ML_PER_OUNCE),
        (Unit::Litre, HouseUnit::Ounce) => ounces(count * 1000.0 / ML_PER_OUNCE),
        (Unit::Top, _) if exact_fraction(count) == Some((1, None)) => Unit::Top.name().to_owned(),
        (Unit::Piece, _) => counted(amount),
        (unit, _) => format!("{} {}", counted(amount), unit.written(count)),
    }
}

/// The nearest half, but never nothing.
fn to_half(ml: f64) -> f64 {
    let half = (ml * 2.0).round() / 2.0;
    if half > 0.0 { half } else { ml }
}

/// A count: fractions in one character where they are exact, at most two decimals otherwise.
fn counted(amount: Amount) -> String {
    let count = amount.count();
    let fraction = exact_fraction(count).filter(|_| !amount.unit().is_metric());
    if let Some((whole, part)) = fraction {
        return mixed(whole.into(), part);
    }
    let short = decimals(count, 2);
    if short == "0" { count.to_string() } else { short }
}

fn ounces(oz: f64) -> String {
    let fraction = [8_u8, 3].into_iter().filter_map(|below| near_fraction(oz, below));
    let sums = OUNCE_MARKS
        .into_iter()
        .enumerate()
        .flat_map(|(index, first)| OUNCE_MARKS[index + 1..].iter().map(move |second| (first, *second)));
    let nearest = fraction.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, text)| text);
    let text = nearest.or_else(|| {
        sums.filter(|(first, second)| is_near(oz, first + second))
            .min_by(|a, b| (oz - a.0 - a.1).abs().total_cmp(&(oz - b.0 - b.1).abs()))
            .and_then(|(first, second)| Some(format!("{} + {}", mark(first)?, mark(second)?)))
    });
    match text {
        Some(text) => format!("{text} oz"),
        None => with_decimals(oz, 2, "oz"),
    }
}

fn millilitres(ml: f64) -> String {
    let whole = ml.round();
    if (ml - whole).abs() <= 0.05 && (whole > 0.0 || ml <= 0.0) {
        return format!("{whole:.0} ml");
    }
    with_decimals(ml, 1, "ml")
}

/// Within the printed accuracy of an ounce, and not nothing.
fn is_near(oz: f64, mark: f64) -> bool {
    mark > 0.0 && (oz - mark).abs() <= 0.01
}

/// The distance to the nearest fraction over `below`, and the fraction in print.
fn near_fraction(oz: f64, below: u8) -> Option<(f64, String)> {
    let above = (oz * f64::from(below)).round();
    let value = above / f64::from(below);
    if !is_near(oz, value) {
        return None;
    }
    let whole = value.trunc();
    let part = value - whole;
    let sign = VULGAR.into_iter().find(|(_, a, b)| (f64::from(*a) / f64::from(*b) - part).abs() < 1e-6);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "volumes are above 0 and end at 1e7 ml"
    )]
    let text = mixed(whole as u64, sign.map(|(_, a, b)| (a, b)));
    Some(((oz - value).abs(), text))
}

/// A jigger's mark in print.
fn mark(oz: f64) -> Option<String> {
    exact_fraction(oz).map(|(whole, part)| mixed(whole.into(), part))
}

/// `1`, `½`, `1½`.
fn mixed(whole: u64, part: Option<(u8, u8)>) -> String {
    let sign = part.and_then(|part| VULGAR.into_iter().find(|(_, a, b)| (*a, *b) == part));
    match (whole, sign) {
        (whole, None) => whole.to_string(),
        (0, Some((sign, ..))) => sign.to_string(),
        (whole, Some((sign, ..))) => format!("{whole}{sign}"),
    }
}

/// At most so many decimals, without zeros at the end.
fn decimals(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A number that is something is not printed as 0.
fn with_decimals(value: f64, places: usize, unit: &str) -> String {
    match decimals(value, places).as_str() {
        "0" if value > 0.0 => format!("under 0.{:0>places$} {unit}", 1),
        text => format!("{text} {unit}"),
    }
}

#[cfg(test)]
mod tests;

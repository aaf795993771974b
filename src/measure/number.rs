//! Reading the number at the start of an amount, the way bar people write it.

/// Why text does not start with a number that can be an amount.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum NoNumber {
    /// It starts with something else.
    Missing,
    /// It starts with a sign.
    Signed,
    /// A fraction of nothing: `1/0`.
    OverZero,
    /// A comma that may part decimals or thousands: `1,500`.
    Comma,
    /// Digits that make no one number: `1.2.3`, `1-2`, `1 3/2`.
    Malformed,
}

/// Fractions with a character of their own.
pub(super) const VULGAR: [(char, u8, u8); 18] = [
    ('½', 1, 2),
    ('⅓', 1, 3),
    ('⅔', 2, 3),
    ('¼', 1, 4),
    ('¾', 3, 4),
    ('⅕', 1, 5),
    ('⅖', 2, 5),
    ('⅗', 3, 5),
    ('⅘', 4, 5),
    ('⅙', 1, 6),
    ('⅚', 5, 6),
    ('⅐', 1, 7),
    ('⅛', 1, 8),
    ('⅜', 3, 8),
    ('⅝', 5, 8),
    ('⅞', 7, 8),
    ('⅑', 1, 9),
    ('⅒', 1, 10),
];

/// Reads the number at the start of the text: `45`, `.75`, `4,5`, `1/2`, `½`, `1 1/2`, `1-1/2`, `1½`.
///
/// Gives the number and what stands directly behind it, which is the end, a blank or a letter.
pub(super) fn split_number(text: &str) -> Result<(f64, &str), NoNumber> {
    if let Some(unsigned) = text.strip_prefix(['-', '−', '–', '+']) {
        let number_follows = unsigned.trim_start().starts_with(starts_number);
        return Err(if number_follows { NoNumber::Signed } else { NoNumber::Missing });
    }
    let (digits, rest) = split_digits(text);
    if let Some((value, rest)) = split_decimals(digits, rest)? {
        return ended(value, rest);
    }
    if let Some((value, rest)) = split_fraction(text)? {
        return ended(value, rest);
    }
    if digits.is_empty() {
        return Err(NoNumber::Missing);
    }
    let whole = parse(digits)?;
    let behind = rest.trim_start();
    let behind = behind.strip_prefix(['-', '–']).filter(|_| behind.len() == rest.len()).unwrap_or(behind);
    match split_fraction(behind)? {
        Some((part, rest)) if part < 1.0 => ended(whole + part, rest),
        Some(_) => Err(NoNumber::Malformed),
        None => ended(whole, rest),
    }
}

/// Whether a number could start with the character.
pub(super) fn starts_number(letter: char) -> bool {
    letter.is_ascii_digit()
        || letter == '.'
        || letter == ','
        || VULGAR.iter().any(|(sign, ..)| *sign == letter)
}

fn split_digits(text: &str) -> (&str, &str) {
    text.split_at(text.find(|letter: char| !letter.is_ascii_digit()).unwrap_or(text.len()))
}

/// The decimals behind whole digits, if there are any.
fn split_decimals<'a>(whole: &str, rest: &'a str) -> Result<Option<(f64, &'a str)>, NoNumber> {
    let Some(behind) = rest.strip_prefix(['.', ',']) else { return Ok(None) };
    let (decimals, behind) = split_digits(behind);
    if decimals.is_empty() {
        return Ok(None);
    }
    let may_be_thousands =
        rest.starts_with(',') && decimals.len() == 3 && whole.bytes().any(|digit| digit != b'0');
    if may_be_thousands {
        return Err(NoNumber::Comma);
    }
    Ok(Some((parse(&format!("{whole}.{decimals}"))?, behind)))
}

/// A fraction in one character, or two numbers with a slash.
fn split_fraction(text: &str) -> Result<Option<(f64, &str)>, NoNumber> {
    let mut letters = text.chars();
    let first = letters.next();
    if let Some((_, above, below)) = VULGAR.into_iter().find(|(sign, ..)| Some(*sign) == first) {
        return Ok(Some((f64::from(above) / f64::from(below), letters.as_str())));
    }
    let (above, rest) = split_digits(text);
    let Some(behind) = rest.strip_prefix(['/', '⁄']).filter(|_| !above.is_empty()) else { return Ok(None) };
    let (below, rest) = split_digits(behind);
    let (above, below) = (parse(above)?, parse(below)?);
    if below > 0.0 { Ok(Some((above / below, rest))) } else { Err(NoNumber::OverZero) }
}

/// Digits too many for a float become infinity, which the range check refuses.
fn parse(digits: &str) -> Result<f64, NoNumber> {
    digits.parse().map_err(|_| NoNumber::Malformed)
}

fn ended(value: f64, rest: &str) -> Result<(f64, &str), NoNumber> {
    let ends = rest.chars().next().is_none_or(|next| next.is_whitespace() || next.is_alphabetic());
    if ends { Ok((value, rest)) } else { Err(NoNumber::Malformed) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_as_written() {
        for (text, value, rest) in [
            ("45 ml", 45.0, " ml"),
            ("45ml", 45.0, "ml"),
            (".75 oz", 0.75, " oz"),
            ("0.75", 0.75, ""),
            ("4,5 cl", 4.5, " cl"),
            ("0,125 oz", 0.125, " oz"),
            ("1/2 oz", 0.5, " oz"),
            ("1⁄2 oz", 0.5, " oz"),
            ("3/2", 1.5, ""),
            ("½oz", 0.5, "oz"),
            ("1½ oz", 1.5, " oz"),
            ("1 ½ oz", 1.5, " oz"),
            ("1 1/2oz", 1.5, "oz"),
            ("1-1/2 oz", 1.5, " oz"),
            ("1-½ oz", 1.5, " oz"),
            ("1\u{a0}1/2 oz", 1.5, " oz"),
            ("2 limes", 2.0, " limes"),
            ("007", 7.0, ""),
        ] {
            assert_eq!(split_number(text), Ok((value, rest)), "{text}");
        }
    }

    #[test]
    fn what_is_no_number_says_why() {
        for (text, why) in [
            ("", NoNumber::Missing),
            ("oz", NoNumber::Missing),
            ("NaN", NoNumber::Missing),
            ("- gin", NoNumber::Missing),
            (".", NoNumber::Missing),
            ("/2", NoNumber::Missing),
            ("٣ oz", NoNumber::Missing),
            ("-1", NoNumber::Signed),
            ("−½", NoNumber::Signed),
            ("+1", NoNumber::Signed),
            ("1/0", NoNumber::OverZero),
            ("0/0", NoNumber::OverZero),
            ("1,500 ml", NoNumber::Comma),
            ("1.2.3", NoNumber::Malformed),
            ("1-2", NoNumber::Malformed),
            ("1/2/3", NoNumber::Malformed),
            ("1/", NoNumber::Malformed),
            ("1 3/2", NoNumber::Malformed),
            ("45. gin", NoNumber::Malformed),
            ("40% gin", NoNumber::Malformed),
            ("½½", NoNumber::Malformed),
        ] {
            assert_eq!(split_number(text), Err(why), "{text}");
        }
    }
}

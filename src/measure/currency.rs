//! Currencies, by their codes.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::quoted::Quoted;

/// A currency's code.
///
/// # Source
/// ISO 4217 for the form: three capital letters. Whether a code is in use is not checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Currency([u8; 3]);

/// Text that is not a currency's code.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotACurrency {
    /// What was found.
    pub found: String,
}

impl fmt::Display for NotACurrency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} is not a currency: write its three letters, like GBP, EUR or USD", Quoted(&self.found))
    }
}

impl std::error::Error for NotACurrency {}

/// Currencies that have no smaller unit, and those that have a thousand of them.
///
/// # Source
/// ISO 4217, from memory.
const WHOLE: [&str; 17] = [
    "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "UYI", "VND", "VUV", "XAF",
    "XOF", "XPF",
];
const THOUSANDTHS: [&str; 7] = ["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"];

impl Currency {
    /// The three letters.
    pub fn code(&self) -> &str {
        // Only ASCII letters are ever stored.
        str::from_utf8(&self.0).unwrap_or_default()
    }

    /// How many decimals its prices are printed with.
    pub fn decimals(self) -> u32 {
        if WHOLE.contains(&self.code()) {
            0
        } else if THOUSANDTHS.contains(&self.code()) {
            3
        } else {
            2
        }
    }
}

impl FromStr for Currency {
    type Err = NotACurrency;

    /// Reads three letters of either case.
    fn from_str(text: &str) -> Result<Self, NotACurrency> {
        let letters: Option<[u8; 3]> = text.trim().as_bytes().try_into().ok();
        letters
            .filter(|letters| letters.iter().all(u8::is_ascii_alphabetic))
            .map(|letters| Self(letters.map(|letter| letter.to_ascii_uppercase())))
            .ok_or_else(|| NotACurrency { found: text.trim().to_owned() })
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.code())
    }
}

impl TryFrom<String> for Currency {
    type Error = NotACurrency;

    fn try_from(text: String) -> Result<Self, NotACurrency> {
        text.parse()
    }
}

impl From<Currency> for String {
    fn from(currency: Currency) -> Self {
        currency.code().to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_three_letters_of_either_case() {
        for text in ["GBP", " gbp "] {
            assert_eq!(text.parse::<Currency>().unwrap().code(), "GBP");
        }
        for text in ["", "GB", "GBPS", "G1P", "£££", "€"] {
            assert!(text.parse::<Currency>().is_err(), "{text}");
        }
    }

    #[test]
    fn prices_have_the_currency_s_own_decimals() {
        for (code, decimals) in [("GBP", 2), ("JPY", 0), ("KWD", 3), ("EUR", 2)] {
            assert_eq!(code.parse::<Currency>().unwrap().decimals(), decimals, "{code}");
        }
    }
}

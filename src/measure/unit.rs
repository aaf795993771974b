//! The units a spec's lines are written in.

use std::fmt;

use serde::{Deserialize, Serialize};

/// Millilitres in one US fluid ounce.
///
/// # Source
/// Exact by definition: a US gallon is 231 cubic inches, an inch 2.54 cm, and a gallon 128 fluid ounces.
/// NIST Special Publication 430, *Household Weights and Measures*, gives it rounded to 30 ml.
pub const ML_PER_OUNCE: f64 = 29.573_529_562_5;

/// What an amount is counted in.
///
/// Volumes are US customary or metric; dash, drop, barspoon, part and top are the house's own
/// ([`Measures`](super::Measures)); the rest have no volume.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    /// US fluid ounce.
    Ounce,
    /// Millilitre.
    Millilitre,
    /// Centilitre, 10 ml.
    Centilitre,
    /// Litre, 1,000 ml.
    Litre,
    /// US cup, 8 fl oz.
    Cup,
    /// US tablespoon, ½ fl oz.
    Tablespoon,
    /// US teaspoon, ⅙ fl oz.
    Teaspoon,
    /// A bar spoon's bowl, as the house has measured it.
    Barspoon,
    /// A dash from the bottle's own top, as the house has measured it.
    Dash,
    /// A drop from a pipette, as the house has measured it.
    Drop,
    /// One part of a drink written in proportions.
    Part,
    /// Gram.
    Gram,
    /// A leaf.
    Leaf,
    /// A sprig.
    Sprig,
    /// A slice; a wedge is read as one too.
    Slice,
    /// So many of the thing itself: `1 egg white`.
    Piece,
    /// A pinch between two fingers; not weighed.
    Pinch,
    /// As much as fills the glass.
    Top,
}

/// How a unit is written and read.
struct Row {
    one: &'static str,
    many: &'static str,
    short: Option<&'static str>,
    also: &'static [&'static str],
}

/// A measure people write that is not read, because it has no one size or there is a better unit for it.
const NOT_READ: [(&[&str], &str); 6] = [
    (&["shot", "shots", "jigger", "jiggers", "measure", "measures"], "it has no one size: write oz or ml"),
    (&["splash", "splashes", "glug", "glugs"], "it has no size: write barspoons, oz or ml"),
    (&["pint", "pints", "pt", "quart", "quarts", "qt", "gallon", "gallons", "gal"], "write cups, oz or l"),
    (&["dl", "decilitre", "decilitres", "deciliter", "deciliters"], "write cl or ml"),
    (&["kg", "mg", "kilogram", "kilograms", "milligram", "milligrams"], "write g"),
    (&["lb", "lbs", "pound", "pounds"], "write g"),
];

impl Unit {
    /// Every unit.
    pub const ALL: [Self; 18] = [
        Self::Ounce,
        Self::Millilitre,
        Self::Centilitre,
        Self::Litre,
        Self::Cup,
        Self::Tablespoon,
        Self::Teaspoon,
        Self::Barspoon,
        Self::Dash,
        Self::Drop,
        Self::Part,
        Self::Gram,
        Self::Leaf,
        Self::Sprig,
        Self::Slice,
        Self::Piece,
        Self::Pinch,
        Self::Top,
    ];

    fn row(self) -> Row {
        let row = |one, many, short, also| Row { one, many, short, also };
        match self {
            Self::Ounce => row("ounce", "ounces", Some("oz"), &["ozs"]),
            Self::Millilitre => {
                row("millilitre", "millilitres", Some("ml"), &["milliliter", "milliliters", "mls"])
            }
            Self::Centilitre => {
                row("centilitre", "centilitres", Some("cl"), &["centiliter", "centiliters", "cls"])
            }
            Self::Litre => row("litre", "litres", Some("l"), &["liter", "liters"]),
            Self::Cup => row("cup", "cups", None, &[]),
            Self::Tablespoon => row("tablespoon", "tablespoons", Some("tbsp"), &["tbsps", "tbs"]),
            Self::Teaspoon => row("teaspoon", "teaspoons", Some("tsp"), &["tsps"]),
            Self::Barspoon => row("barspoon", "barspoons", None, &["bsp", "bsps"]),
            Self::Dash => row("dash", "dashes", None, &[]),
            Self::Drop => row("drop", "drops", None, &[]),
            Self::Part => row("part", "parts", None, &[]),
            Self::Gram => row("gram", "grams", Some("g"), &["gramme", "grammes"]),
            Self::Leaf => row("leaf", "leaves", None, &[]),
            Self::Sprig => row("sprig", "sprigs", None, &[]),
            Self::Slice => row("slice", "slices", None, &["wedge", "wedges"]),
            Self::Piece => row("piece", "pieces", None, &[]),
            Self::Pinch => row("pinch", "pinches", None, &[]),
            Self::Top => row("top", "tops", None, &[]),
        }
    }

    /// The English name of one.
    pub fn name(self) -> &'static str {
        self.row().one
    }

    /// The English name of many.
    pub fn plural(self) -> &'static str {
        self.row().many
    }

    /// The abbreviation it is written with, if it has one: `oz`, `ml`.
    pub fn abbreviation(self) -> Option<&'static str> {
        self.row().short
    }

    /// The word written after a count: the abbreviation, or the name in the right number.
    pub fn written(self, count: f64) -> &'static str {
        let row = self.row();
        row.short.unwrap_or(if count > 1.0 { row.many } else { row.one })
    }

    /// Whether its counts are written as decimals (`7.5 ml`) and not as fractions (`7 1/2 oz`).
    pub fn is_metric(self) -> bool {
        matches!(self, Self::Millilitre | Self::Centilitre | Self::Litre | Self::Gram)
    }

    /// The unit written by one word, in any case: `oz`, `Dashes`.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|unit| {
            let Row { one, many, short, also } = unit.row();
            let mut words = [one, many].into_iter().chain(short).chain(also.iter().copied());
            words.any(|known| known.eq_ignore_ascii_case(word))
        })
    }

    /// Reads the unit at the start of the text and gives the trimmed text behind it.
    ///
    /// A full stop behind an abbreviation goes with it, and `fl oz`, `fluid ounces` and `bar spoons` are one unit.
    /// A word that only starts like a unit (`topping`, `top-shelf`) is none.
    pub fn split_from(text: &str) -> Option<(Self, &str)> {
        let (first, rest) = word_at(text.trim_start())?;
        let (unit, rest) = match first.to_ascii_lowercase().as_str() {
            "fl" | "fluid" => {
                let (second, rest) = word_at(without_stop(rest).trim_start())?;
                (Self::from_word(second).filter(|unit| *unit == Self::Ounce)?, rest)
            }
            "bar" => {
                let (second, rest) = word_at(rest.trim_start())?;
                let spoon = ["spoon", "spoons"].into_iter().any(|spoon| spoon.eq_ignore_ascii_case(second));
                (spoon.then_some(Self::Barspoon)?, rest)
            }
            word => (Self::from_word(word)?, rest),
        };
        let rest = without_stop(rest);
        let glued = |next: char| next.is_alphanumeric() || matches!(next, '-' | '\'' | '’' | '_');
        (!rest.starts_with(glued)).then(|| (unit, rest.trim()))
    }

    /// What to write in place of a measure that is not read (`shot`, `pint`), if the text starts with one.
    pub(super) fn advice_against(text: &str) -> Option<(&str, &'static str)> {
        let (word, rest) = word_at(text.trim_start())?;
        if rest.starts_with(['-', '\'', '’']) {
            return None;
        }
        NOT_READ
            .into_iter()
            .find(|(words, _)| words.iter().any(|known| known.eq_ignore_ascii_case(word)))
            .map(|(_, advice)| (word, advice))
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}

/// The letters at the start, and what is behind them.
fn word_at(text: &str) -> Option<(&str, &str)> {
    let end = text.find(|letter: char| !letter.is_alphabetic()).unwrap_or(text.len());
    (end > 0).then(|| text.split_at(end))
}

fn without_stop(text: &str) -> &str {
    text.strip_prefix('.').unwrap_or(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ounce_is_the_gallon_s_128th() {
        let gallon_ml = 231.0 * 2.54_f64.powi(3);
        assert!((ML_PER_OUNCE - gallon_ml / 128.0).abs() < 1e-12);
    }

    #[test]
    fn every_unit_reads_its_own_names_and_no_word_means_two() {
        let mut seen = std::collections::BTreeMap::new();
        for unit in Unit::ALL {
            let Row { one, many, short, also } = unit.row();
            for word in [one, many].into_iter().chain(short).chain(also.iter().copied()) {
                assert_eq!(Unit::from_word(word), Some(unit), "{word}");
                assert_eq!(Unit::from_word(&word.to_uppercase()), Some(unit), "{word}");
                assert_eq!(seen.insert(word, unit), None, "{word} is there twice");
                assert!(Unit::advice_against(word).is_none(), "{word} is also refused");
            }
            for count in [0.5, 1.0, 1.5, 2.0] {
                assert_eq!(Unit::from_word(unit.written(count)), Some(unit));
            }
        }
    }

    #[test]
    fn a_unit_is_read_from_the_start_of_text() {
        for (text, unit, rest) in [
            ("oz rye", Unit::Ounce, "rye"),
            ("fl oz rye", Unit::Ounce, "rye"),
            ("fl. oz. rye", Unit::Ounce, "rye"),
            ("Fluid Ounces  rye ", Unit::Ounce, "rye"),
            ("bar spoons syrup", Unit::Barspoon, "syrup"),
            ("tsp. salt", Unit::Teaspoon, "salt"),
            ("L", Unit::Litre, ""),
            ("dashes, heavy", Unit::Dash, ", heavy"),
        ] {
            assert_eq!(Unit::split_from(text), Some((unit, rest)), "{text}");
        }
        for text in
            ["", "lemon", "topping", "top-shelf rum", "fl", "bar", "bar syrup", "ml2", "fluid ml", "cup's"]
        {
            assert_eq!(Unit::split_from(text), None, "{text}");
        }
    }

    #[test]
    fn measures_without_a_size_come_with_advice() {
        assert_eq!(
            Unit::advice_against("Shots espresso"),
            Some(("Shots", "it has no one size: write oz or ml"))
        );
        assert_eq!(Unit::advice_against("pint-sized"), None);
        assert_eq!(Unit::advice_against("limes"), None);
    }
}

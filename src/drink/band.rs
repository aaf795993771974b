//! Bands: where the drinks of a family lie.

use super::figures::{Figures, figures};
use super::house::House;
use super::spec::Spec;
use crate::book::{Book, Family};

/// A least and a most.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// The least.
    pub least: f64,
    /// The most.
    pub most: f64,
}

impl Interval {
    /// Whether a value lies in it, ends included.
    pub fn holds(&self, value: f64) -> bool {
        value >= self.least && value <= self.most
    }

    pub(super) fn widened(self, value: f64) -> Self {
        Self { least: self.least.min(value), most: self.most.max(value) }
    }
}

/// Where a family's drinks lie, each after dilution; what is not known is left out.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// Strength, % vol.
    pub strength: Option<Interval>,
    /// Sugars, g/L.
    pub sugar: Option<Interval>,
    /// Acid as citric, g/L.
    pub acid: Option<Interval>,
    /// Volume in the glass, ml.
    pub served: Option<Interval>,
    /// Where the band comes from.
    pub source: String,
}

/// A row of the published table: strength % vol, sugar g/L, acid g/L, volume ml.
type Row = [(f64, f64); 4];

/// The published band of a family, if there is one.
///
/// # Source
/// D. Arnold, a handbook of 2014 on the physics of mixed drinks, structure table, pp. 125-126; *from memory*, to
/// be treated as soft.
pub fn published_band(family: Family) -> Option<Band> {
    let row: Row = match family {
        Family::BuiltShort => [(27.0, 32.0), (70.0, 80.0), (0.0, 0.5), (88.0, 93.0)],
        Family::Stirred => [(21.0, 29.0), (37.0, 56.0), (1.0, 1.4), (130.0, 142.0)],
        Family::Sour => [(15.0, 19.7), (50.0, 89.0), (7.6, 9.4), (156.0, 178.0)],
        Family::SourWithEgg => [(12.1, 15.2), (67.0, 90.0), (4.9, 6.8), (198.0, 209.0)],
        Family::Blended => [(14.3, 15.0), (79.0, 81.0), (6.7, 7.6), (150.0, 165.0)],
        Family::Sparkling => [(14.0, 16.0), (50.0, 75.0), (3.8, 5.1), (140.0, 160.0)],
        Family::EqualParts | Family::BuiltLong | Family::FlipAndCream | Family::Hot | Family::Punch => {
            return None;
        }
    };
    let [strength, sugar, acid, served] = row.map(|(least, most)| Some(Interval { least, most }));
    Some(Band { strength, sugar, acid, served, source: "handbook of 2014, from memory".to_owned() })
}

/// The band of a family's classics in the book: from the least to the most of each figure. None if the book has
/// none of that family.
pub fn classic_band(book: &Book, family: Family, house: &House) -> Option<Band> {
    let all: Vec<Figures> = book
        .templates()
        .iter()
        .filter(|t| t.family == family && !t.kept)
        .filter_map(|t| figures(&Spec::of_template(book, t, house)).ok())
        .collect();
    let span = |value: fn(&Figures) -> f64| {
        all.iter().map(value).fold(None, |so_far: Option<Interval>, v| {
            Some(so_far.map_or(Interval { least: v, most: v }, |i| i.widened(v)))
        })
    };
    let drinks = all.len();
    (drinks > 0).then(|| Band {
        strength: span(|f| f.strength.percent_vol()),
        sugar: span(|f| f.sugar.grams_per_litre()),
        acid: span(|f| f.acid.grams_per_litre()),
        served: span(|f| f.served.ml()),
        source: if drinks == 1 {
            "1 classic of the book".to_owned()
        } else {
            format!("{drinks} classics of the book")
        },
    })
}

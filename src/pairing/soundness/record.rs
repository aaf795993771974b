//! Soft spots of single records and of kinds.

use crate::book::{Book, Ingredient, Kind, Origin};
use crate::measure::Concentration;

use super::SMALL_KIND;

/// Kinds that are poured or dissolved.
const POURED: [Kind; 11] = [
    Kind::Spirit,
    Kind::Liqueur,
    Kind::FortifiedWine,
    Kind::Wine,
    Kind::BeerAndCider,
    Kind::Bitters,
    Kind::Juice,
    Kind::Syrup,
    Kind::Sweetener,
    Kind::Acid,
    Kind::Mixer,
];

/// Kinds that grow, and mostly come and go with the year.
const GROWN: [Kind; 4] = [Kind::Fruit, Kind::Vegetable, Kind::Herb, Kind::Flower];

/// Kinds whose sugar stands in published tables of food.
const TABLED: [Kind; 2] = [Kind::Juice, Kind::Syrup];

/// A kind with few ingredients.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SmallKind {
    /// The kind.
    pub kind: Kind,
    /// How many ingredients it has; may be none.
    pub ingredients: usize,
}

pub(super) fn without_makeup(book: &Book) -> Vec<&Ingredient> {
    book.ingredients().iter().filter(|i| POURED.contains(&i.kind) && i.makeup.is_none()).collect()
}

pub(super) fn practice_sugar(book: &Book) -> Vec<&Ingredient> {
    let sugared = |i: &Ingredient| i.makeup.is_some_and(|m| m.sugar > Concentration::ZERO);
    book.ingredients()
        .iter()
        .filter(|i| TABLED.contains(&i.kind) && sugared(i) && i.origin.makeup == Some(Origin::Practice))
        .collect()
}

pub(super) fn all_year(book: &Book) -> Vec<&Ingredient> {
    book.ingredients().iter().filter(|i| GROWN.contains(&i.kind) && !i.season.is_fresh()).collect()
}

/// Small kinds, smallest first.
pub(super) fn small_kinds(book: &Book) -> Vec<SmallKind> {
    let of = |kind: Kind| book.ingredients().iter().filter(|i| i.kind == kind).count();
    let mut small: Vec<SmallKind> = Kind::ALL
        .iter()
        .map(|kind| SmallKind { kind: *kind, ingredients: of(*kind) })
        .filter(|k| k.ingredients < SMALL_KIND)
        .collect();
    small.sort_by_key(|k| (k.ingredients, k.kind));
    small
}

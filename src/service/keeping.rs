//! How long a batch keeps.

use std::sync::LazyLock;

use serde::Deserialize;

use super::cost::is_water;
use super::rules::read;
use super::style::Style;
use crate::book::{Ingredient, Kind, Origin, Storage};
use crate::liquid::Measured;
use crate::measure::{Concentration, Strength};

/// How long a mixture keeps at most, as data.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct KeepingRules {
    keeps_by_strength: Strength,
    weak_days: u16,
    strong_days: u16,
    undiluted_days: u16,
    fresh_days: u16,
    pub(super) sour_acid: Concentration,
    #[expect(dead_code, reason = "for the reader of the file")]
    origin: Origin,
}

pub(super) static RULES: LazyLock<KeepingRules> =
    LazyLock::new(|| read("keeping.ron", include_str!("../../data/service/keeping.ron")));

/// What makes a date the latest.
#[derive(Debug, Clone, PartialEq)]
pub enum Limit<'b> {
    /// A part that keeps no longer.
    Part(&'b Ingredient),
    /// A part of which nobody has said how long it keeps.
    Unknown(&'b Ingredient),
    /// Fresh juice, purée or fruit.
    Fresh,
    /// A weak mixture.
    Weak,
    /// A strong one.
    Strong,
    /// A strong one without water.
    Undiluted,
}

/// How long it keeps, and where.
#[derive(Debug, Clone, PartialEq)]
pub struct Kept<'b> {
    /// Days from the day it is made.
    pub days: u16,
    /// What sets that.
    pub limit: Limit<'b>,
    /// Where it stands.
    pub store: Storage,
    /// Whether it is strong enough to keep at room temperature by the trade's rule.
    pub strong: bool,
    /// Whether it is sour enough for that to be said.
    pub sour: bool,
}

/// How long a mixture keeps: the shortest of its parts once they are opened, and of what mixtures of its sort keep at all.
///
/// # Limits
/// Common practice with clean bottles. Strength and acidity are told and never reckoned as proof that it is safe.
pub(super) fn kept<'b>(
    parts: &[&'b Ingredient],
    measured: &Measured,
    watered: bool,
    style: Style,
) -> Kept<'b> {
    let rules = &*RULES;
    let strong = measured.strength >= rules.keeps_by_strength;
    let fresh = parts.iter().any(|i| {
        matches!(i.kind, Kind::Juice | Kind::Fruit | Kind::Vegetable | Kind::DairyAndEgg | Kind::Herb)
    });
    let (days, limit) = match (fresh, strong, watered) {
        (true, ..) => (rules.fresh_days, Limit::Fresh),
        (_, false, _) => (rules.weak_days, Limit::Weak),
        (_, true, true) => (rules.strong_days, Limit::Strong),
        (_, true, false) => (rules.undiluted_days, Limit::Undiluted),
    };
    let shortest = parts.iter().filter_map(|i| Some((i.keeps?.opened?, *i))).min_by_key(|(days, _)| *days);
    let (days, limit) = match shortest {
        Some((least, part)) if least < days => (least, Limit::Part(part)),
        _ => (days, limit),
    };
    // What is no spirit, and of which nothing is on record, is taken to keep like any weak mixture.
    let unsaid = parts.iter().find(|i| {
        i.keeps.is_none() && !matches!(i.kind, Kind::Spirit | Kind::Liqueur | Kind::Bitters) && !is_water(i)
    });
    let (days, limit) = match unsaid {
        Some(part) if days > rules.weak_days => (rules.weak_days, Limit::Unknown(part)),
        _ => (days, limit),
    };
    let store = match (style, strong && !watered && !fresh) {
        (Style::Freezer, _) => Storage::Freezer,
        (_, true)
            if unsaid.is_none()
                && parts.iter().all(|i| i.keeps.is_none_or(|k| k.store == Storage::Shelf)) =>
        {
            Storage::Shelf
        }
        _ => Storage::Fridge,
    };
    Kept { days, limit, store, strong, sour: measured.acid >= rules.sour_acid }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_data_is_read() {
        assert_eq!(
            (RULES.weak_days, RULES.strong_days, RULES.undiluted_days, RULES.fresh_days),
            (14, 90, 180, 3)
        );
    }
}

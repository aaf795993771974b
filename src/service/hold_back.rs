//! What stays out of a batch and goes in at service, and why.

use std::sync::LazyLock;

use serde::Deserialize;

use super::rules::read;
use super::style::Style;
use crate::book::{Book, HoldBack, Kind, Origin, Role};
use crate::drink::Line;
use crate::measure::{Grade, Unit};

/// What a rule meets.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Meets {
    /// What sparkles.
    Sparkling,
    /// What lengthens a drink, sparkling or not.
    Lengthener,
    /// Egg, milk, cream.
    EggAndDairy,
    /// Leaves and sprigs, herbs and flowers.
    Herbs,
    /// Fruit and vegetables that are not juice.
    Muddled,
    /// Whatever else is counted rather than poured.
    Pieces,
    /// Salt, dry or in solution.
    Salt,
    /// Bitters, and whatever is written in dashes or drops.
    Dashes,
    /// Fresh sour juice.
    Citrus,
}

/// A rule of what is held back.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HoldRule {
    /// Its id.
    pub id: String,
    /// What it meets.
    pub meets: Meets,
    /// The share that may go into the batch.
    #[serde(default = "none_of_it")]
    pub goes_in: Grade,
    /// It counts only for what must keep longer than this, in days.
    #[serde(default)]
    pub past_days: Option<u16>,
    /// The styles it counts for; all of them where none is named.
    #[serde(default)]
    pub styles: Vec<Style>,
    /// Why.
    pub why: String,
    /// Where it comes from.
    pub origin: Origin,
}

fn none_of_it() -> Grade {
    Grade::clamped(0.0)
}

/// The rules, the first that meets a line first.
static RULES: LazyLock<Vec<HoldRule>> =
    LazyLock::new(|| read("hold_backs.ron", include_str!("../../data/service/hold_backs.ron")));

/// Every rule, in the order in which they are asked.
pub fn rules() -> &'static [HoldRule] {
    &RULES
}

/// Why a line is held back, and how much of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Held {
    /// The rule's id; `house` where the house says so.
    pub rule: String,
    /// The share that goes into the batch.
    pub goes_in: f64,
    /// Why.
    pub why: String,
    /// Where that comes from.
    pub origin: Origin,
}

/// Sour juice that a day spoils has at least this much acid, g/L as citric; *ours*.
const SOUR_JUICE: f64 = 20.0;
/// Salt solutions and salty things from this much salt on, g/L; *ours*.
const SALTY: f64 = 25.0;
/// What of a bitters is poured rather than dashed, ml a serve; *ours*.
const POURED_ML: f64 = 5.0;

impl HoldRule {
    fn meets(&self, line: &Line<'_>) -> bool {
        let (of, unit) = (line.ingredient, line.amount.unit());
        let makeup = of.makeup.as_ref();
        let small = line.volume.is_none_or(|v| v.ml() < POURED_ML);
        match self.meets {
            Meets::Sparkling => makeup.is_some_and(|m| m.carbonated),
            Meets::Lengthener => line.is_lengthener(),
            Meets::EggAndDairy => of.kind == Kind::DairyAndEgg,
            Meets::Herbs => {
                matches!(unit, Unit::Leaf | Unit::Sprig) || matches!(of.kind, Kind::Herb | Kind::Flower)
            }
            Meets::Muddled => matches!(of.kind, Kind::Fruit | Kind::Vegetable),
            Meets::Pieces => line.volume.is_none(),
            Meets::Salt => makeup.is_some_and(|m| m.salt.grams_per_litre() >= SALTY) && small,
            Meets::Dashes => small && (of.kind == Kind::Bitters || matches!(unit, Unit::Dash | Unit::Drop)),
            Meets::Citrus => {
                of.kind == Kind::Juice && makeup.is_some_and(|m| m.acid.grams_per_litre() >= SOUR_JUICE)
            }
        }
    }
}

/// What is held back of a line in a batch that must keep so many days; none if it goes in whole.
pub(super) fn held(book: &Book, line: &Line<'_>, style: Style, days: u16) -> Option<Held> {
    if let Some(HoldBack { goes_in, why, .. }) = book.house().hold_back(&line.ingredient.id) {
        // Nothing makes a bottle of soda keep its gas.
        let goes_in = goes_in.value();
        let why = why.clone().unwrap_or_else(|| "the house's own rule".to_owned());
        return (goes_in < 1.0).then_some(Held {
            rule: "house".to_owned(),
            goes_in,
            why,
            origin: Origin::House,
        });
    }
    if line.role == Role::Garnish {
        return Some(Held {
            rule: "garnish".to_owned(),
            goes_in: 0.0,
            why: "goes on at the table".to_owned(),
            origin: Origin::Practice,
        });
    }
    let counts = |rule: &&HoldRule| {
        let late = rule.past_days.is_none_or(|past| days > past);
        late && (rule.styles.is_empty() || rule.styles.contains(&style)) && rule.meets(line)
    };
    RULES.iter().find(counts).map(|rule| Held {
        rule: rule.id.clone(),
        goes_in: rule.goes_in.value(),
        why: rule.why.clone(),
        origin: rule.origin.clone(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_data_is_read_and_every_rule_has_its_reason() {
        assert_eq!(rules().len(), 9);
        for rule in rules() {
            assert!(!rule.why.is_empty() && rule.goes_in.value() < 1.0, "{}", rule.id);
        }
    }
}

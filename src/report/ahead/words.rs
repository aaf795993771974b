//! Words and figures that several answers on what is made ahead need.

use jiff::ToSpan;
use jiff::civil::Date;
use serde_json::{Value, json};

use crate::book::{Book, Ingredient, Storage};
use crate::drink::Spec;
use crate::liquid::{Country, Measured};
use crate::measure::{HouseUnit, Mass, Money, Unit, Volume};
use crate::report::describe::cautions;
use crate::report::phrase::{trimmed, volume};
use crate::service::{AheadCaution, Kept, Limit, Need, PracticeWater, ahead_cautions};

/// A volume of a batch in the house's unit, the other behind it: `3.02 l (102 oz)`.
pub(super) fn much(of: Volume, unit: HouseUnit) -> String {
    let ml = of.ml();
    let metric = if ml >= 1000.0 { format!("{} l", trimmed(ml / 1000.0, 2)) } else { format!("{ml:.0} ml") };
    let ounces = |digits| format!("{} oz", trimmed(of.ounces(), digits));
    match unit {
        HouseUnit::Ounce => format!("{} ({metric})", ounces(usize::from(of.ounces() < 100.0))),
        HouseUnit::Millilitre => format!("{metric} ({})", ounces(usize::from(of.ounces() < 100.0))),
    }
}

/// A volume of a batch in the house's unit alone.
pub(super) fn short(of: Volume, unit: HouseUnit) -> String {
    match unit {
        HouseUnit::Ounce => format!("{} oz", trimmed(of.ounces(), 2)),
        HouseUnit::Millilitre => format!("{} ml", trimmed(of.ml(), usize::from(of.ml() < 100.0))),
    }
}

/// A volume as a hand measures it: whole millilitres, or eighths of an ounce.
pub(super) fn by_hand(of: Volume, unit: HouseUnit) -> String {
    let step = match unit {
        HouseUnit::Millilitre => 1.0,
        HouseUnit::Ounce => unit.ml() / 8.0,
    };
    let steps = (of.ml() / step).round();
    // Dashes are smaller than any step.
    if steps < 1.0 { volume(of, unit) } else { volume(Volume::clamped(steps * step), unit) }
}

/// What a small paper has room for: the first sentence.
pub(super) fn first_sentence(text: &str) -> String {
    text.split_once(". ").map_or(text, |(first, _)| first).trim_end_matches('.').to_owned() + "."
}

/// The cautions of a drink as a small paper has room for them. Those on allergens are left out: a paper names the allergens
/// themselves.
pub(super) fn small_cautions(book: &Book, spec: &Spec<'_>) -> Vec<String> {
    let of_allergens = |id: &str| id.contains("allergen") || id.contains("sulphites");
    cautions(book, spec.cautions().into_iter())
        .into_iter()
        .filter(|c| !of_allergens(c.id.as_str()))
        .map(|c| first_sentence(&c.text))
        .collect()
}

/// `28 %`, `0.4 %`.
pub(super) fn percent(share: f64) -> String {
    let hundred = 100.0 * share;
    format!("{} %", trimmed(hundred, usize::from(hundred.abs() < 10.0)))
}

/// Money to the currency's smallest unit; a sum smaller than that as it is.
pub(super) fn money(sum: Money) -> String {
    let rounded = sum.rounded();
    if rounded.ten_thousandths() == 0 && sum.ten_thousandths() != 0 {
        format!("{sum}")
    } else {
        format!("{rounded}")
    }
}

/// How many serves, as a person says it.
pub(super) fn serves_words(serves: f64) -> String {
    // Never a serve more than there is.
    let text = trimmed((serves * 10.0 + 1e-6).floor() / 10.0, 1);
    if text == "1" { "1 serve".to_owned() } else { format!("{text} serves") }
}

/// So much of something.
pub(super) fn need_words(need: Need, unit: HouseUnit) -> String {
    match need {
        Need::Volume(of) if of.ml() >= 5.0 => short(of, unit),
        Need::Volume(of) => volume(of, unit),
        Need::Mass(mass) => grams(mass),
        Need::Count(count, Unit::Piece) if (count - 0.125).abs() < 1e-9 => "⅛".to_owned(),
        Need::Count(count, Unit::Piece) => trimmed(count, if count < 1.0 { 2 } else { 1 }),
        Need::Count(count, unit) => format!("{} {}", trimmed(count, 1), unit.written(count)),
    }
}

/// `430 g`, `1.2 kg`.
pub(super) fn grams(mass: Mass) -> String {
    if mass.grams() >= 1000.0 {
        format!("{} kg", trimmed(mass.grams() / 1000.0, 2))
    } else {
        format!("{} g", trimmed(mass.grams(), usize::from(mass.grams() < 100.0)))
    }
}

/// So much of something, for another program.
pub(super) fn need_data(need: Need) -> Value {
    match need {
        Need::Volume(of) => json!({ "ml": of.ml() }),
        Need::Mass(mass) => json!({ "g": mass.grams() }),
        Need::Count(count, unit) => json!({ "count": count, "unit": unit.name() }),
    }
}

/// Where it stands, in words.
pub(super) const fn place_words(store: Storage) -> &'static str {
    match store {
        Storage::Shelf => "on the shelf, out of the light",
        Storage::Cellar => "cool and dark",
        Storage::Fridge => "in the fridge",
        Storage::Freezer => "in the freezer",
    }
}

/// `14 days in the fridge, for the sweet vermouth`.
pub(super) fn keeps_words(kept: &Kept<'_>) -> String {
    let why = match &kept.limit {
        Limit::Part(part) => format!("as long as the {} does once it is open", part.name),
        Limit::Unknown(part) => format!("how long the {} keeps is not on record", part.name),
        Limit::Fresh => "fresh juice is in it".to_owned(),
        Limit::Weak => "under 20 % vol".to_owned(),
        Limit::Strong | Limit::Undiluted => "strong enough to keep".to_owned(),
    };
    format!("{} {}: {why}", days_words(kept.days), place_words(kept.store))
}

pub(super) fn days_words(days: u16) -> String {
    if days == 1 { "1 day".to_owned() } else { format!("{days} days") }
}

/// What the trade's rules make of its strength and acidity.
pub(super) fn keeping_facts(kept: &Kept<'_>, measured: &Measured) -> String {
    let strong = if kept.strong { "over" } else { "under" };
    let sour = if kept.sour { "sour" } else { "hardly sour" };
    format!(
        "{:.1}, {strong} the 20 % vol that keeps by the trade's rule; {sour} ({:.1} acid); no proof that it is safe",
        measured.strength, measured.acid
    )
}

/// The day it is thrown out.
pub(super) fn keep_by(made: Date, days: u16) -> Date {
    made.checked_add(i64::from(days).days()).unwrap_or(made)
}

/// `2026-11-27`, as ISO 8601 has it.
pub(super) fn day(date: Date) -> String {
    date.to_string()
}

/// `UK units 2.6, US standard drinks 1.5, AU standard drinks 2.1`.
pub(super) fn standard_drinks(ethanol: Mass) -> Vec<String> {
    [Country::UnitedKingdom, Country::UnitedStates, Country::Australia]
        .into_iter()
        .map(|country| format!("{:.1} {}", country.drinks(ethanol), country.name()))
        .collect()
}

pub(super) fn standard_drinks_data(ethanol: Mass) -> Value {
    Country::ALL
        .into_iter()
        .map(|c| (c.name().to_owned(), json!(c.drinks(ethanol))))
        .collect::<serde_json::Map<_, _>>()
        .into()
}

/// Where physics and common practice part over the water.
pub(super) fn practice_words(
    practice: &PracticeWater,
    physics: Volume,
    poured_cold: bool,
    unit: HouseUnit,
) -> String {
    let (least, most) = practice.a_serve;
    let span = if (least.ml() - most.ml()).abs() < 0.05 {
        short(least, unit)
    } else {
        format!("{} to {}", short(least, unit), short(most, unit))
    };
    let stands = if physics < least {
        "less than that"
    } else if physics > most {
        "more than that"
    } else {
        "within that"
    };
    let strength = if (least.ml() - most.ml()).abs() < 0.05 {
        format!("{:.1}", practice.strength.0)
    } else {
        format!("{:.1} to {:.1}", practice.strength.0, practice.strength.1)
    };
    let less = if poured_cold {
        ". A bottle that is poured ice cold and thinned no further is often made with less"
    } else {
        ""
    };
    format!(
        "common practice measures {} ({span}), which makes {strength}; the method's own water is {stands}{less}",
        practice.rule
    )
}

/// Ingredients that cautions of a record go with, and those of making ahead, once each, in order.
pub(super) fn ahead_texts(of: Vec<AheadCaution>) -> Vec<String> {
    ahead_cautions(of).into_iter().map(|c| c.text.clone()).collect()
}

/// A name and the allergens that it brings, as a label says them.
pub(super) fn label_name(ingredient: &Ingredient) -> String {
    if ingredient.allergens.is_empty() {
        return ingredient.name.clone();
    }
    let groups: Vec<&str> = ingredient.allergens.iter().map(|a| a.name()).collect();
    format!("{} ({})", ingredient.name, groups.join(", "))
}

//! A juice made sourer, as a report.

use serde_json::json;

use super::measured;
use crate::liquid::{CitricForm, Solute, Soured};
use crate::measure::{Concentration, HouseUnit};
use crate::report::Report;

/// A juice with its powders.
#[derive(Debug, Clone)]
pub struct Adjusted {
    /// The juice.
    pub name: String,
    /// What it should be as sour as.
    pub target: String,
    /// Its acid, as citric.
    pub wanted: Concentration,
    /// The juice and what goes in.
    pub soured: Soured,
}

/// Acid powders for a juice.
pub fn adjusted(adjusted: &Adjusted, unit: HouseUnit) -> Report {
    let Adjusted { name, target, wanted, soured } = adjusted;
    let (before, after) = (soured.juice().measured(), soured.finished().measured());
    let fact = |label: &str, value: String| (label.to_owned(), value);
    let mut facts = vec![fact(
        "take",
        format!("{} of {name}, {:.1} of acid", measured(before.volume, unit), before.acid),
    )];
    for (acid, mass) in soured.powders() {
        let water = acid == Solute::Citric && soured.citric() == CitricForm::Monohydrate;
        let form = if water { ", monohydrate" } else { "" };
        facts.push(fact("add", format!("{mass:.1} of {acid}{form}")));
    }
    facts.push(fact("makes", format!("{}, {:.1} of acid", measured(after.volume, unit), after.acid)));
    if after.sugar.grams_per_litre() > 0.5 {
        facts.push(fact("sugar", format!("{:.0}, was {:.0}", after.sugar, before.sugar)));
    }
    let data = json!({
        "ok": true,
        "command": "bench",
        "job": "acid",
        "juice": name,
        "as_sour_as": target,
        "wanted_g_per_l": wanted.grams_per_litre(),
        "juice_ml": before.volume.ml(),
        "juice_acid_g_per_l": before.acid.grams_per_litre(),
        "powders": soured.powders().map(|(acid, mass)| json!({ "acid": acid.name(), "g": mass.grams() })).collect::<Vec<_>>(),
        "citric_form": if soured.citric() == CitricForm::Monohydrate { "monohydrate" } else { "anhydrous" },
        "made_ml": after.volume.ml(),
        "made_acid_g_per_l": after.acid.grams_per_litre(),
    });
    Report::new(format!("As sour as {target}"), data)
        .facts(facts)
        .note("acid as anhydrous citric, by titration: equal titration is not quite equal sourness, so taste it")
        .note("fruit differs by a quarter: published lime and lemon juice run from 35 to 60 g/L")
        .caution("use food-grade acid, weigh it, and keep the dry powder and strong solutions off skin and eyes")
}

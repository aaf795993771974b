//! How an ingredient is made, as blocks of a report.

use serde_json::{Value, json};

use super::phrase::{View, listed};
use super::{Cell, Column, Report, Table, Tone};
use crate::book::{Book, Keeping};
use crate::drink::Made;
use crate::measure::HouseUnit;

/// `30 days in the fridge once opened, 365 sealed`.
pub(super) fn keeping_words(keeping: &Keeping) -> String {
    let days = |days: u16| match days {
        1 => "1 day".to_owned(),
        2..=59 => format!("{days} days"),
        60..=729 => format!("{} months", (f64::from(days) / 30.44).round()),
        _ => format!("{} years", (f64::from(days) / 365.25).round()),
    };
    let place = match keeping.store {
        crate::book::Storage::Shelf => "on the shelf",
        crate::book::Storage::Cellar => "cool and dark",
        crate::book::Storage::Fridge => "in the fridge",
        crate::book::Storage::Freezer => "in the freezer",
    };
    let opened =
        keeping.opened.map_or_else(|| format!("{place}, for years"), |d| format!("{} {place}", days(d)));
    match keeping.sealed {
        Some(sealed) => format!("{opened}; sealed or whole {}", days(sealed)),
        None => opened,
    }
}

/// Adds how something is made to its report.
pub(super) fn with_making(mut report: Report, made: &Made<'_>, view: View) -> Report {
    let prep = made.prep;
    let mut table = Table::new([Column::right("amount"), Column::left("goes in"), Column::flexible("")]);
    for (of, line) in &made.lines {
        let stays = if line.stays.value() < 1.0 {
            format!("of it {:.0} % stays", 100.0 * line.stays.value())
        } else {
            String::new()
        };
        let own = if line.amount.unit().is_metric() { HouseUnit::Millilitre } else { HouseUnit::Ounce };
        let amount = line.amount.shown(own).to_string();
        table.push([
            Cell::from(amount),
            Cell::new(of.name.clone(), Tone::Strong),
            Cell::new(stays, Tone::Quiet),
        ]);
    }
    let m = &made.measured;
    let figures = format!("{:.1}, sugar {:.0}, acid {:.1}", m.strength, m.sugar, m.acid);
    let mut facts = vec![
        ("makes".to_owned(), makes_words(made, view.unit)),
        ("comes to".to_owned(), figures),
        ("keeps".to_owned(), keeping_words(&prep.keeps)),
    ];
    if !made.allergens.is_empty() {
        let names: Vec<&str> = made.allergens.iter().map(|a| a.name()).collect();
        facts.push(("brings along".to_owned(), listed(&names)));
    }
    let steps: Vec<String> =
        prep.steps.iter().enumerate().map(|(i, step)| format!("{}. {step}", i + 1)).collect();
    report = report
        .heading(format!("How it is made: {}", prep.way))
        .table(table)
        .text(steps.join("\n"))
        .facts(facts);
    let apart: Vec<String> = made
        .apart()
        .iter()
        .map(|a| format!("{}: {:.1} by its making, {:.1} on record", a.what, a.computed, a.recorded))
        .collect();
    if !apart.is_empty() {
        report = report.note(apart.join("; "));
    }
    report.note(format!(
        "figures from its making; the making: {}; keep hands and bottles clean, label it with its day",
        prep.origin
    ))
}

fn makes_words(made: &Made<'_>, unit: HouseUnit) -> String {
    let grams = made.liquid.mass().grams() * (1.0 - made.prep.lost.value());
    let lost = if made.prep.lost.value() > 0.0 {
        format!(", {:.0} % lost on the way", 100.0 * made.prep.lost.value())
    } else {
        String::new()
    };
    let ounces = match unit {
        HouseUnit::Ounce => format!(" ({:.0} oz)", made.volume.ounces()),
        HouseUnit::Millilitre => String::new(),
    };
    format!("about {:.0} ml{ounces}, {grams:.0} g{lost}", made.volume.ml())
}

/// The making as data.
pub(super) fn making_data(made: &Made<'_>) -> Value {
    let prep = made.prep;
    json!({
        "way": prep.way.name(),
        "lines": made.lines.iter().map(|(of, line)| json!({
            "id": of.id.as_str(), "name": of.name, "amount": line.amount.to_string(), "stays": line.stays.value(),
        })).collect::<Vec<_>>(),
        "boils_off_g": prep.boils_off.grams(),
        "lost": prep.lost.value(),
        "steps": prep.steps,
        "makes_ml": made.volume.ml(),
        "strength_percent_vol": made.measured.strength.percent_vol(),
        "sugar_g_per_l": made.measured.sugar.grams_per_litre(),
        "acid_g_per_l": made.measured.acid.grams_per_litre(),
        "allergens": made.allergens.iter().map(|a| a.name()).collect::<Vec<_>>(),
        "keeps": keeping_data(&prep.keeps),
        "origin": prep.origin.to_string(),
    })
}

pub(super) fn keeping_data(keeping: &Keeping) -> Value {
    json!({ "store": keeping.store.name(), "opened_days": keeping.opened, "sealed_days": keeping.sealed })
}

/// Every preparation, by its way of making.
pub fn preps(book: &Book) -> Report {
    let mut table = Table::new([Column::left("makes"), Column::left("way"), Column::flexible("from")]);
    let mut rows = Vec::new();
    for prep in book.preps() {
        let Some(makes) = book.ingredient(&prep.makes) else { continue };
        let from: Vec<&str> =
            prep.lines.iter().filter_map(|l| book.ingredient(&l.of)).map(|i| i.name.as_str()).collect();
        rows.push(json!({ "id": makes.id.as_str(), "name": makes.name, "way": prep.way.name() }));
        table.push([makes.name.clone(), prep.way.name().to_owned(), listed(&from)]);
    }
    let count = rows.len();
    let data = json!({ "ok": true, "command": "list", "preps": rows });
    Report::new(super::phrase::counted(count, "preparation", "preparations"), data)
        .table(table.numbered())
        .note("'show NAME' shows how one is made")
}

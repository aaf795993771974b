//! What the house keeps count of: prices, the back bar, its own measures.

use serde_json::json;

use super::{Cell, Column, Report, Table, Tone};
use crate::book::{Book, Ingredient, Stock};
use crate::measure::Measures;

/// What ingredients cost.
pub fn prices(book: &Book, all: &[&Ingredient], title: &str) -> Report {
    let rows: Vec<_> = all
        .iter()
        .map(|i| {
            let price = book.house().price(&i.id);
            json!({
                "id": i.id.as_str(),
                "name": i.name,
                "paid": price.map(|p| p.paid.to_string()),
                "size": price.map(|p| p.size.to_string()),
                "note": price.and_then(|p| p.note.clone()),
            })
        })
        .collect();
    let report = Report::new(title, json!({ "ok": true, "command": "price", "prices": rows }));
    if all.is_empty() {
        return report
            .text("None.")
            .note("write one down: price mezcal 34.50 EUR for 700 ml; or many: import prices.csv");
    }
    let mut table = Table::new([
        Column::left("ingredient"),
        Column::right("costs"),
        Column::left("for"),
        Column::flexible("note"),
    ])
    .numbered();
    for ingredient in all {
        let price = book.house().price(&ingredient.id);
        let said = |text: Option<String>| text.unwrap_or_else(|| "-".to_owned());
        table.push([
            Cell::new(ingredient.name.clone(), Tone::Strong),
            Cell::from(said(price.map(|p| p.paid.to_string()))),
            Cell::from(said(price.map(|p| p.size.to_string()))),
            Cell::new(price.and_then(|p| p.note.clone()).unwrap_or_default(), Tone::Quiet),
        ]);
    }
    report.table(table)
}

/// What stands on the back bar, in the order given.
pub fn stock(book: &Book, all: &[&Stock]) -> Report {
    let name = |s: &Stock| book.ingredient(&s.of).map_or_else(|| s.of.to_string(), |i| i.name.clone());
    let rows: Vec<_> = all
        .iter()
        .map(|s| json!({ "id": s.of.as_str(), "name": name(s), "level": s.level.name(), "note": s.note }))
        .collect();
    let report = Report::new("The back bar", json!({ "ok": true, "command": "stock", "stock": rows }));
    if all.is_empty() {
        return report
            .text("Nobody has said what there is.")
            .note("say it: stock mezcal have; stock quince out");
    }
    let mut table =
        Table::new([Column::left("ingredient"), Column::left("there is"), Column::flexible("note")])
            .numbered();
    for stock in all {
        table.push([
            Cell::new(name(stock), Tone::Strong),
            Cell::from(stock.level.name()),
            Cell::new(stock.note.clone().unwrap_or_default(), Tone::Quiet),
        ]);
    }
    report.table(table)
}

/// What the house's measures hold.
pub fn measures(measures: &Measures, own: bool) -> Report {
    let usual = Measures::default();
    let all = [
        ("dash", measures.dash, usual.dash),
        ("barspoon", measures.barspoon, usual.barspoon),
        ("drop", measures.drop, usual.drop),
        ("top", measures.top, usual.top),
        ("part", measures.part, usual.part),
    ];
    let data = json!({
        "ok": true,
        "command": "measure",
        "measures_ml": all.iter().map(|(n, v, _)| ((*n).to_owned(), json!(v.ml()))).collect::<serde_json::Map<_, _>>(),
        "of_the_house": own,
    });
    let facts = all
        .iter()
        .map(|(name, volume, usual)| {
            let whose = if volume == usual { "usual" } else { "the house's own" };
            ((*name).to_owned(), format!("{volume:.2} ({whose})"))
        })
        .collect();
    Report::new("Measures", data)
        .facts(facts)
        .note("the usual ones are common practice: there is no standard; 'measure dash 1 ml' says yours")
}

//! A tasting, and what it moved.

use serde_json::json;

use super::{Cell, Column, Report, Table, Tone};
use crate::book::{Bond, Book, Ingredient, IngredientId, Tasted, TastedThing, Tasting};
use crate::measure::Score;

/// A pair that a tasting moved.
#[derive(Debug)]
pub struct Moved<'b> {
    /// One.
    pub one: &'b Ingredient,
    /// The other.
    pub other: &'b Ingredient,
    /// How much of the tasting counts for it.
    pub share: f64,
    /// What the two were to each other.
    pub before: Option<Bond>,
    /// What they are now, and why.
    pub after: Tasted,
}

/// A tasting that was kept, or only tried.
#[derive(Debug)]
pub struct TastingKept<'b> {
    /// What was tasted.
    pub name: String,
    /// How it was liked.
    pub score: Score,
    /// In words.
    pub words: Option<String>,
    /// Who tasted.
    pub by: Option<String>,
    /// The day.
    pub on: String,
    /// The pairs it tells of, greatest share first.
    pub moved: Vec<Moved<'b>>,
    /// The change's name in the history; none if nothing was kept.
    pub change: Option<String>,
}

fn bond_words(bond: Option<Bond>) -> String {
    match bond {
        None => "-".to_owned(),
        Some(Bond::Clash) => "clash".to_owned(),
        Some(Bond::Affinity(affinity)) => format!("{:.2}", affinity.value()),
    }
}

/// What was tasted, and every pair it moved: from where, to where, and by how many tastings.
pub fn tasted(kept: &TastingKept<'_>) -> Report {
    let by = kept.by.as_ref().map_or_else(String::new, |by| format!(", {by}"));
    let pairs: Vec<_> = kept
        .moved
        .iter()
        .map(|m| {
            json!({
                "pair": [m.one.id.as_str(), m.other.id.as_str()],
                "share": m.share,
                "before": m.before.and_then(|b| b.affinity()).map(|a| a.value()),
                "after": m.after.mean(),
                "words": m.after.to_string(),
            })
        })
        .collect();
    let data = json!({
        "ok": true,
        "command": "taste",
        "of": kept.name,
        "score": kept.score.points(),
        "words": kept.words,
        "by": kept.by,
        "on": kept.on,
        "pairs": pairs,
        "change": kept.change,
    });
    let title = format!("{}: {} of 10, {}{by}", kept.name, kept.score.points(), kept.on);
    let mut report = Report::new(title, data);
    if let Some(words) = &kept.words {
        report = report.text(words.clone());
    }
    let mut table = Table::new([
        Column::left("pair"),
        Column::right("share"),
        Column::right("before"),
        Column::right("now"),
        Column::flexible("why"),
    ]);
    for moved in &kept.moved {
        table.push([
            Cell::new(format!("{}, {}", moved.one.name, moved.other.name), Tone::Strong),
            Cell::from(format!("{:.2}", moved.share)),
            Cell::new(bond_words(moved.before), Tone::Quiet),
            Cell::from(bond_words(Some(moved.after.bond()))),
            Cell::from(moved.after.to_string()),
        ]);
    }
    report = report.table(table);
    if kept.moved.len() > 1 {
        report = report
            .note("of a drink, each pair gets a share of the tasting: by how loud and how much of it both are in the glass");
    }
    report.note(match &kept.change {
        Some(id) => format!("kept in the house book, change {id}; 'undo --house' takes it back"),
        None => "nothing was kept: --dry-run".to_owned(),
    })
}

/// Tastings, the latest first.
pub fn tastings(book: &Book, all: &[&Tasting]) -> Report {
    let name = |id: &IngredientId| book.ingredient(id).map_or_else(|| id.to_string(), |i| i.name.clone());
    let of = |t: &Tasting| match &t.of {
        TastedThing::Pair(a, b) => format!("{}, {}", name(a), name(b)),
        TastedThing::Drink(id) => book.template(id).map_or_else(|| id.to_string(), |t| t.name.clone()),
        TastedThing::Other(name) => name.clone(),
    };
    let rows: Vec<_> = all
        .iter()
        .map(|t| {
            json!({
                "id": t.id, "of": of(t), "score": t.score.points(), "words": t.words, "by": t.by, "on": t.on,
                "told": t.told.iter().map(|told| json!({
                    "pair": [told.0.as_str(), told.1.as_str()], "share": told.2.value(),
                })).collect::<Vec<_>>(),
            })
        })
        .collect();
    let report = Report::new("Tastings", json!({ "ok": true, "command": "taste", "tastings": rows }));
    if all.is_empty() {
        return report
            .text("None yet.")
            .note("write one down: taste quince, mezcal 9 smoke under baked fruit");
    }
    let mut table = Table::new([
        Column::left("day"),
        Column::left("what"),
        Column::right("of 10"),
        Column::left("who"),
        Column::flexible("words"),
    ]);
    for tasting in all {
        table.push([
            Cell::new(tasting.on.clone(), Tone::Quiet),
            Cell::new(of(tasting), Tone::Strong),
            Cell::from(format!("{}", tasting.score.points())),
            Cell::from(tasting.by.clone().unwrap_or_default()),
            Cell::from(tasting.words.clone().unwrap_or_default()),
        ]);
    }
    report.table(table)
}

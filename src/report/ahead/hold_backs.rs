//! The rules of what is held back, as a report.

use serde_json::json;

use super::words::percent;
use crate::book::Book;
use crate::report::{Cell, Column, Report, Table, Tone};
use crate::service::{Meets, rules};

/// What is held back of a batch by the rules, and what the house does otherwise.
pub fn hold_backs(book: &Book) -> Report {
    let house: Vec<_> = book.house().hold_backs().collect();
    let name = |id: &crate::book::IngredientId| {
        book.ingredient(id).map_or_else(|| id.to_string(), |i| i.name.clone())
    };
    let data = json!({
        "ok": true,
        "command": "hold",
        "rules": rules().iter().map(|r| json!({
            "id": r.id, "goes_in": r.goes_in.value(), "past_days": r.past_days,
            "styles": r.styles.iter().map(|s| s.name()).collect::<Vec<_>>(),
            "why": r.why, "origin": r.origin.to_string(),
        })).collect::<Vec<_>>(),
        "house": house.iter().map(|h| json!({
            "id": h.of.as_str(), "name": name(&h.of), "goes_in": h.goes_in.value(), "why": h.why,
        })).collect::<Vec<_>>(),
    });
    let mut table = Table::new([Column::flexible("what"), Column::right("goes in"), Column::flexible("why")]);
    for rule in rules() {
        let when = match (rule.past_days, rule.styles.as_slice()) {
            (Some(days), _) => {
                format!(", in what must keep over {days} day{}", if days == 1 { "" } else { "s" })
            }
            (None, []) => String::new(),
            (None, styles) => {
                format!(", in {}", styles.iter().map(|s| s.name()).collect::<Vec<_>>().join(", "))
            }
        };
        table.push([
            Cell::new(format!("{}{when}", met(rule.meets)), Tone::Strong),
            percent(rule.goes_in.value()).into(),
            Cell::new(rule.why.clone(), Tone::Quiet),
        ]);
    }
    let mut report = Report::new("Held back of a batch", data).table(table);
    if !house.is_empty() {
        let mut own =
            Table::new([Column::left("in this house"), Column::right("goes in"), Column::flexible("why")])
                .numbered();
        for held in house {
            own.push([
                Cell::new(name(&held.of), Tone::Strong),
                percent(held.goes_in.value()).into(),
                Cell::new(held.why.clone().unwrap_or_default(), Tone::Quiet),
            ]);
        }
        report = report.table(own);
    }
    report.note("common practice, no source; 'hold aromatic bitters in' sets a rule aside for one ingredient")
}

const fn met(meets: Meets) -> &'static str {
    match meets {
        Meets::Sparkling => "what sparkles",
        Meets::Lengthener => "what lengthens it",
        Meets::EggAndDairy => "egg and dairy",
        Meets::Herbs => "herbs and flowers",
        Meets::Muddled => "fruit to muddle",
        Meets::Pieces => "what is counted",
        Meets::Salt => "salt",
        Meets::Dashes => "bitters and dashes",
        Meets::Citrus => "sour citrus juice",
    }
}

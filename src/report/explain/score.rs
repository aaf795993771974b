//! The terms by which a variant was ranked.

use serde_json::{Value, json};

use super::terms_table;
use crate::report::phrase::{affinity, counted, presence_words, signed};
use crate::report::riffs::score_data;
use crate::report::{Cell, Table, Tone};
use crate::riff::{Explained, Score};

/// Every term, how it comes about and what it adds; the total last.
pub(super) fn score_table(found: &Explained<'_>) -> Table {
    let score = &found.riff.score;
    let mut table = terms_table("term", "adds");
    let mut term = |name: &str, how: String, adds: f64| {
        table.push([Cell::new(name, Tone::Strong), how.into(), signed(adds, 3).into()]);
    };
    term("harmony", "how well it goes together, below".to_owned(), score.harmony);
    term("kinship", kinship_words(found), score.kinship);
    term("novelty", novelty_words(found), score.novelty);
    term("season", season_words(found), score.season);
    term("balance", balance_words(found), score.balance);
    if !found.on_top.is_empty() {
        term("only on top", on_top_words(found), score.only_on_top);
    }
    term("together", String::new(), score.total);
    table
}

fn kinship_words(found: &Explained<'_>) -> String {
    let worth = Score::A_LIKENESS;
    if found.kinships.is_empty() {
        return format!("{worth:.2} × 1: nothing was replaced that was not asked for");
    }
    let one = |(from, to, likeness): &(&crate::book::Ingredient, &crate::book::Ingredient, f64)| {
        format!("{} ({} for {})", affinity(*likeness), to.name, from.name)
    };
    let likenesses: Vec<String> = found.kinships.iter().map(one).collect();
    match likenesses.as_slice() {
        [only] => format!("{worth:.2} × likeness {only}"),
        several => format!("{worth:.2} × the mean likeness, ({}) / {}", several.join(" + "), several.len()),
    }
}

fn novelty_words(found: &Explained<'_>) -> String {
    let changes = counted(found.kinships.len(), "change", "changes");
    format!("{:.2} × {changes} that nobody asked for", Score::A_CHANGE)
}

fn season_words(found: &Explained<'_>) -> String {
    if found.seasons.is_empty() {
        return "nothing in it comes and goes with the year".to_owned();
    }
    let one = |(ingredient, presence, worth): &(&crate::book::Ingredient, crate::book::Presence, f64)| {
        format!("{} {} {worth:+.3}", ingredient.name, presence_words(*presence))
    };
    found.seasons.iter().map(one).collect::<Vec<_>>().join(", ")
}

fn balance_words(found: &Explained<'_>) -> String {
    format!(
        "{:.2} × {:.3} just-noticeable differences, below, against it",
        Score::A_DIFFERENCE,
        found.riff.distance
    )
}

fn on_top_words(found: &Explained<'_>) -> String {
    let names: Vec<&str> = found.on_top.iter().map(|i| i.name.as_str()).collect();
    format!("{:.2} × {}, against it: only a garnish is {}", Score::A_GARNISH, names.len(), names.join(", "))
}

pub(super) fn score_rows_data(found: &Explained<'_>) -> Value {
    json!({
        "terms": score_data(&found.riff.score),
        "total": found.riff.score.total,
        "kinships": found.kinships.iter().map(|(from, to, likeness)| json!({
            "from": from.id.as_str(), "to": to.id.as_str(), "likeness": likeness,
        })).collect::<Vec<_>>(),
        "seasons": found.seasons.iter().map(|(ingredient, presence, worth)| json!({
            "id": ingredient.id.as_str(), "now": presence_words(*presence), "adds": worth,
        })).collect::<Vec<_>>(),
        "only_on_top": found.on_top.iter().map(|i| i.id.as_str()).collect::<Vec<_>>(),
    })
}

//! Variants of a classic, as a report.

use std::collections::BTreeSet;

use serde_json::{Value, json};

use super::balance::{figures_data, line_data};
use super::describe::{cautions, garnish_words};
use super::phrase::{
    View, acid, affinity, counted, facet_names, listed, note_of, presence_words, served, strength, sugar,
};
use super::{Column, Report, Table};
use crate::book::{Allergen, Book, CautionId, Facet, Ingredient, Presence};
use crate::drink::{Figures, Spec};
use crate::riff::{Change, Riff, Riffs, Score};

/// Variants of a classic.
pub fn riffs(book: &Book, found: &Riffs<'_>, view: View) -> Report {
    let mut report = Report::new(format!("{}: variants", found.classic.name), riffs_data(found));
    report = report.facts(vec![
        ("the classic".to_owned(), spec_words(&found.classic, view)),
        ("comes to".to_owned(), comes_to(&found.figures, view)),
    ]);
    if found.found.is_empty() {
        report = report.text("Nothing else in the book fits. --with, --swap or --no may open more.");
    }
    for (index, riff) in found.found.iter().enumerate() {
        let away = distance_words(riff.distance);
        report = report
            .heading(format!("{}  {}", index + 1, change_names(riff)))
            .text(format!(
                "{}\n{}: {away}",
                variant_words(riff, &found.classic, view),
                comes_to(&riff.figures, view)
            ))
            .note(why(riff));
        if let Some(words) = warnings(riff) {
            report = report.note(words);
        }
    }
    report = report.text(looked_words(found));
    with_cautions(report, book, found.found.iter().flat_map(|r| r.spec.cautions()))
}

/// `19.8 % vol, sugar 96 g/L, acid 1.4 g/L, bitter 13.9, 4.2 oz`.
pub(super) fn comes_to(figures: &Figures, view: View) -> String {
    let bitter = figures.bitterness.points();
    let bitter = if bitter >= 0.5 { format!(", bitter {bitter:.1}") } else { String::new() };
    format!(
        "{} % vol, sugar {} g/L, acid {} g/L{bitter}, {}",
        strength(figures),
        sugar(figures),
        acid(figures),
        served(figures, view.unit)
    )
}

pub(super) fn with_cautions<'b>(
    mut report: Report,
    book: &'b Book,
    ids: impl Iterator<Item = &'b CautionId>,
) -> Report {
    for caution in cautions(book, ids) {
        report = report.caution(caution.text.clone());
    }
    report
}

/// `1 oz mezcal, 1 oz red bitter liqueur, 1 oz sweet vermouth; stirred; orange peel`.
pub(super) fn spec_words(spec: &Spec<'_>, view: View) -> String {
    let garnish = garnish_words(spec);
    let garnish = if garnish.is_empty() { String::new() } else { format!("; {garnish}") };
    format!("{}; {}{garnish}", line_words(spec, view), spec.method)
}

pub(super) fn line_words(spec: &Spec<'_>, view: View) -> String {
    let lines: Vec<String> =
        spec.lines.iter().map(|l| format!("{} {}", l.amount.shown(view.unit), l.ingredient.name)).collect();
    lines.join(", ")
}

/// A variant's lines, and its garnish where that is not the classic's.
pub(super) fn variant_words(riff: &Riff<'_>, classic: &Spec<'_>, view: View) -> String {
    let garnish = garnish_words(&riff.spec);
    let lines = line_words(&riff.spec, view);
    match garnish.as_str() {
        same if same == garnish_words(classic) => lines,
        "" => format!("{lines}; nothing on top"),
        other => format!("{lines}; {other} on top"),
    }
}

/// A name for a riff, from what changed.
pub(super) fn change_names(riff: &Riff<'_>) -> String {
    let parts: Vec<String> = riff
        .changes
        .iter()
        .filter_map(|change| match change {
            Change::Asked { from, to } | Change::Worked { from, to } | Change::Instead { from, to, .. } => {
                Some(format!("{} for {}", to.name, from.name))
            }
            Change::Split { base, second } => Some(format!("{} beside {}", second.name, base.name)),
            Change::Added { what } => Some(format!("{} added", what.name)),
            Change::Muddled { fruit, pieces, .. } => Some(muddled_words(fruit, *pieces)),
            Change::Garnish { what } => Some(format!("{} on top", what.name)),
            Change::Amount { .. } => None,
        })
        .collect();
    if parts.is_empty() { "as the classic".to_owned() } else { parts.join(", ") }
}

/// `6 pieces of blackberry muddled`, `1/4 of a pear muddled`.
fn muddled_words(fruit: &Ingredient, pieces: f64) -> String {
    let name = &fruit.name;
    match pieces {
        p if p < 0.375 => format!("a quarter of a {name} muddled"),
        p if p < 0.625 => format!("half a {name} muddled"),
        p if p < 0.875 => format!("three quarters of a {name} muddled"),
        p if p < 1.5 => format!("1 {name} muddled"),
        p => format!("{p:.0} pieces of {name} muddled"),
    }
}

/// The pairs that carry it, what was moved, and what is in season.
pub(super) fn why(riff: &Riff<'_>) -> String {
    let new: Vec<&str> = riff
        .changes
        .iter()
        .filter_map(|c| match c {
            Change::Asked { to, .. } | Change::Worked { to, .. } | Change::Instead { to, .. } => {
                Some(to.id.as_str())
            }
            Change::Split { second, .. } => Some(second.id.as_str()),
            Change::Added { what } | Change::Muddled { gives: what, .. } => Some(what.id.as_str()),
            Change::Garnish { .. } | Change::Amount { .. } => None,
        })
        .collect();
    let is_new = |id: &str| new.is_empty() || new.contains(&id);
    let carried: Vec<String> = riff
        .harmony
        .pairs
        .iter()
        .filter(|p| is_new(p.one.id.as_str()) || is_new(p.tie.other.id.as_str()))
        .take(2)
        .map(|p| {
            let note = note_of(&p.tie).map_or(String::new(), |n| format!(", {n}"));
            format!("{} + {} {}{note}", p.one.name, p.tie.other.name, affinity(p.tie.affinity.value()))
        })
        .collect();
    let mut parts = vec![if carried.is_empty() {
        "the book knows none of its new pairs".to_owned()
    } else {
        format!("carried by {}", carried.join("; "))
    }];
    let in_season: Vec<String> = riff
        .seasons
        .iter()
        .filter(|(_, presence)| *presence != Presence::None)
        .map(|(i, presence)| format!("{} {}", i.name, presence_words(*presence)))
        .collect();
    if !in_season.is_empty() {
        parts.push(in_season.join(", "));
    }
    parts.join("; ")
}

/// What a person should know before pouring it: clashes, gaps, allergens that came or went.
pub(super) fn warnings(riff: &Riff<'_>) -> Option<String> {
    let mut parts = Vec::new();
    for (a, b) in &riff.harmony.clashes {
        parts.push(format!("{} and {} clash", a.name, b.name));
    }
    if !riff.harmony.unknown.is_empty() {
        let pairs: Vec<String> = riff
            .harmony
            .unknown
            .iter()
            .take(2)
            .map(|p| format!("{} + {} {}", p.one.name, p.other.name, affinity(p.affinity.value())))
            .collect();
        let more = riff.harmony.unknown.len().saturating_sub(2);
        let more = if more > 0 { format!(" and {more} more") } else { String::new() };
        parts.push(format!("not in the book, inferred: {}{more}", pairs.join(", ")));
    }
    let words = |set: &BTreeSet<Allergen>| listed(&set.iter().map(|a| a.name()).collect::<Vec<_>>());
    if !riff.allergens_gained.is_empty() {
        parts.push(format!("brings {}", words(&riff.allergens_gained)));
    }
    if !riff.allergens_lost.is_empty() {
        parts.push(format!("free of {}", words(&riff.allergens_lost)));
    }
    (!parts.is_empty()).then(|| parts.join("; "))
}

pub(super) fn looked_words(found: &Riffs<'_>) -> String {
    let looked = &found.looked;
    format!(
        "{}: {} looked at one by one, amounts solved for {}; none of the rest could come among these",
        counted(usize::try_from(looked.combinations).unwrap_or(usize::MAX), "combination", "combinations"),
        looked.looked,
        looked.solved
    )
}

pub(super) fn figures_table(classic: &Figures, label: &str, view: View) -> Table {
    let mut table = Table::new([
        Column::left(""),
        Column::right("% vol"),
        Column::right("sugar g/L"),
        Column::right("acid g/L"),
        Column::right("bitter"),
        Column::right("glass"),
        Column::flexible("against it"),
    ]);
    push_figures(&mut table, label.to_owned(), classic, None, view);
    table
}

pub(super) fn push_figures(
    table: &mut Table,
    label: String,
    figures: &Figures,
    distance: Option<f64>,
    view: View,
) {
    let stand = distance.map_or("", distance_words);
    table.push([
        label,
        strength(figures),
        sugar(figures),
        acid(figures),
        format!("{:.1}", figures.bitterness.points()),
        served(figures, view.unit),
        stand.to_owned(),
    ]);
}

/// How far a drink is from the one it comes from, in words; the distance is in just-noticeable differences.
pub(super) fn distance_words(distance: f64) -> &'static str {
    match distance {
        d if d < 0.05 => "the same balance",
        d if d < 1.0 => "too close to taste",
        d if d < 2.5 => "a little off",
        _ => "another balance",
    }
}

fn change_data(change: &Change<'_>) -> Value {
    match change {
        Change::Asked { from, to } => {
            json!({ "kind": "asked", "from": from.id.as_str(), "to": to.id.as_str() })
        }
        Change::Worked { from, to } => {
            json!({ "kind": "worked in", "from": from.id.as_str(), "to": to.id.as_str() })
        }
        Change::Instead { from, to, likeness } => {
            json!({ "kind": "instead", "from": from.id.as_str(), "to": to.id.as_str(), "likeness": likeness })
        }
        Change::Split { base, second } => {
            json!({ "kind": "split", "base": base.id.as_str(), "second": second.id.as_str() })
        }
        Change::Added { what } => json!({ "kind": "added", "what": what.id.as_str() }),
        Change::Muddled { fruit, pieces, gives } => json!({
            "kind": "muddled", "what": fruit.id.as_str(), "pieces": pieces, "gives": gives.id.as_str(),
        }),
        Change::Garnish { what } => json!({ "kind": "garnish", "what": what.id.as_str() }),
        Change::Amount { what, from, to } => {
            json!({ "kind": "amount", "what": what.id.as_str(), "from_ml": from.ml(), "to_ml": to.ml() })
        }
    }
}

/// The terms of a score, by name.
pub(super) fn score_data(score: &Score) -> Value {
    json!({
        "harmony": score.harmony,
        "kinship": score.kinship,
        "novelty": score.novelty,
        "season": score.season,
        "balance": score.balance,
        "only_on_top": score.only_on_top,
    })
}

pub(super) fn riff_data(riff: &Riff<'_>) -> Value {
    json!({
        "method": riff.spec.method.name(),
        "lines": riff.spec.lines.iter().map(line_data).collect::<Vec<_>>(),
        "garnish": garnish_words(&riff.spec),
        "figures": figures_data(&riff.figures),
        "distance": riff.distance,
        "score": riff.score.total,
        "score_terms": score_data(&riff.score),
        "harmony": riff.harmony.score,
        "changes": riff.changes.iter().map(change_data).collect::<Vec<_>>(),
        "pairs": riff.harmony.pairs.iter().map(|p| json!({
            "pair": [p.one.id.as_str(), p.tie.other.id.as_str()],
            "affinity": p.tie.affinity.value(),
            "note": p.tie.edge.note,
        })).collect::<Vec<_>>(),
        "unknown_pairs": riff.harmony.unknown.iter().map(|p| json!({ "pair": [p.one.id.as_str(), p.other.id.as_str()], "inferred": p.affinity.value() })).collect::<Vec<_>>(),
        "clashes": riff.harmony.clashes.iter().map(|(a, b)| json!([a.id.as_str(), b.id.as_str()])).collect::<Vec<_>>(),
        "season": riff.seasons.iter().map(|(i, p)| json!({ "id": i.id.as_str(), "now": presence_words(*p) })).collect::<Vec<_>>(),
        "allergens": riff.spec.allergens().iter().map(|a| a.name()).collect::<Vec<_>>(),
        "allergens_gained": riff.allergens_gained.iter().map(|a| a.name()).collect::<Vec<_>>(),
        "allergens_lost": riff.allergens_lost.iter().map(|a| a.name()).collect::<Vec<_>>(),
        "cautions": riff.spec.cautions().iter().map(|c| c.as_str()).collect::<Vec<_>>(),
    })
}

pub(super) fn classic_data(classic: &Spec<'_>, figures: &Figures) -> Value {
    json!({
        "name": classic.name,
        "lines": classic.lines.iter().map(line_data).collect::<Vec<_>>(),
        "figures": figures_data(figures),
    })
}

pub(super) fn riffs_data(found: &Riffs<'_>) -> Value {
    json!({
        "ok": true,
        "command": "riff",
        "classic": classic_data(&found.classic, &found.figures),
        "riffs": found.found.iter().map(riff_data).collect::<Vec<_>>(),
        "looked": {
            "combinations": found.looked.combinations,
            "looked": found.looked.looked,
            "solved": found.looked.solved,
        },
    })
}

/// `more smoke; less green`; none where neither is.
pub(super) fn facet_words(gained: &[Facet], lost: &[Facet]) -> Option<String> {
    let mut parts = Vec::new();
    if !gained.is_empty() {
        parts.push(format!("more {}", listed(&facet_names(gained))));
    }
    if !lost.is_empty() {
        parts.push(format!("less {}", listed(&facet_names(lost))));
    }
    (!parts.is_empty()).then(|| parts.join("; "))
}

/// `brings nuts, free of eggs`; none where nothing came or went.
pub(super) fn allergen_words(gained: &BTreeSet<Allergen>, lost: &BTreeSet<Allergen>) -> Option<String> {
    let words = |set: &BTreeSet<Allergen>| listed(&set.iter().map(|a| a.name()).collect::<Vec<_>>());
    let mut parts = Vec::new();
    if !gained.is_empty() {
        parts.push(format!("brings {}", words(gained)));
    }
    if !lost.is_empty() {
        parts.push(format!("free of {}", words(lost)));
    }
    (!parts.is_empty()).then(|| parts.join(", "))
}

//! Bridges and accords, as reports.

use serde_json::{Value, json};

use super::companions::named;
use super::phrase::{affinity, listed, note_of};
use super::{Cell, Column, Report, Table, Tone};
use crate::pairing::{Accords, Bridges};

/// The bridges between two ingredients.
pub fn bridges(found: &Bridges<'_>) -> Report {
    let mut report =
        Report::new(format!("From {} to {}", found.from.name, found.to.name), bridge_data(found));
    if let Some(tie) = &found.direct {
        let note = note_of(tie).map_or(String::new(), |n| format!(": {n}"));
        report =
            report.note(format!("they go together by themselves, {}{note}", affinity(tie.affinity.value())));
    }
    if let Some(edge) = found.clash {
        let note = edge.note.as_ref().map_or(String::new(), |n| format!(": {n}"));
        report = report.note(format!("side by side they clash{note}"));
    }
    if found.found.is_empty() {
        let why = if found.from.id == found.to.id {
            "One ingredient needs no bridge to itself."
        } else {
            "The book knows no way from one to the other in four steps or fewer."
        };
        return report.text(why);
    }
    let mut table = Table::new([
        Column::flexible("by way of"),
        Column::right("strength"),
        Column::flexible("step by step"),
    ])
    .numbered();
    for bridge in &found.found {
        let inner: Vec<&str> =
            bridge.path[1..bridge.path.len() - 1].iter().map(|i| i.name.as_str()).collect();
        let mut steps = Vec::new();
        for tie in &bridge.ties {
            let note = note_of(tie).map_or(String::new(), |n| format!(" ({n})"));
            steps.push(format!("{}{note}", affinity(tie.affinity.value())));
        }
        table.push([
            Cell::new(inner.join(", then "), Tone::Strong),
            affinity(bridge.strength).into(),
            steps.join(", ").into(),
        ]);
    }
    report
        .table(table)
        .note("strength: the affinities of the steps multiplied; a bridge shares something with both ends")
}

fn bridge_data(found: &Bridges<'_>) -> Value {
    let bridges: Vec<Value> = found
        .found
        .iter()
        .map(|b| {
            json!({
                "path": b.path.iter().map(|i| i.id.as_str()).collect::<Vec<_>>(),
                "strength": b.strength,
                "steps": b.ties.iter().map(|t| json!({
                    "to": t.other.id.as_str(),
                    "affinity": t.affinity.value(),
                    "note": t.edge.note,
                })).collect::<Vec<_>>(),
            })
        })
        .collect();
    json!({
        "ok": true,
        "command": "bridge",
        "from": named(found.from),
        "to": named(found.to),
        "direct": found.direct.map(|t| t.affinity.value()),
        "clash": found.clash.is_some(),
        "bridges": bridges,
    })
}

/// The accords around a set.
pub fn accords(found: &Accords<'_>, size: usize, least: f64) -> Report {
    let names: Vec<&str> = found.set.iter().map(|i| i.name.as_str()).collect();
    let mut report =
        Report::new(format!("Accords of {size} around {}", listed(&names)), accord_data(found, size, least));
    if !found.apart.is_empty() {
        let pairs: Vec<String> =
            found.apart.iter().map(|(a, b)| format!("{} and {}", a.name, b.name)).collect();
        return report.text(format!(
            "No accord can hold them all: {} do not agree at {least:.2} or better.",
            listed(&pairs)
        ));
    }
    if found.found.is_empty() {
        return report
            .text(format!("No group of {size} in which every pair agrees at {least:.2} or better. Try a smaller --size or a lower --least."));
    }
    let mut table = Table::new([
        Column::flexible("together with"),
        Column::right("agreement"),
        Column::flexible("weakest pair"),
    ])
    .numbered();
    for accord in &found.found {
        let others: Vec<&str> = accord
            .members
            .iter()
            .filter(|m| !found.set.iter().any(|s| s.id == m.id))
            .map(|m| m.name.as_str())
            .collect();
        let (a, b, weakest) = &accord.weakest;
        table.push([
            Cell::new(others.join(", "), Tone::Strong),
            affinity(accord.score).into(),
            format!("{} + {} {}", a.name, b.name, affinity(*weakest)).into(),
        ]);
    }
    report = report.table(table);
    report.note(format!("every pair agrees at {least:.2} or better; agreement is the mean over all pairs in which the worst counts most"))
}

fn accord_data(found: &Accords<'_>, size: usize, least: f64) -> Value {
    let accords: Vec<Value> = found
        .found
        .iter()
        .map(|a| {
            json!({
                "members": a.members.iter().map(|m| m.id.as_str()).collect::<Vec<_>>(),
                "score": a.score,
                "weakest": { "pair": [a.weakest.0.id.as_str(), a.weakest.1.id.as_str()], "affinity": a.weakest.2 },
            })
        })
        .collect();
    json!({
        "ok": true,
        "command": "accord",
        "around": found.set.iter().map(|i| named(i)).collect::<Vec<_>>(),
        "size": size,
        "least": least,
        "apart": found.apart.iter().map(|(a, b)| json!([a.id.as_str(), b.id.as_str()])).collect::<Vec<_>>(),
        "accords": accords,
    })
}

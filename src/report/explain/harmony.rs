//! The harmony of a drink, pair by pair.

use serde_json::{Value, json};

use crate::report::{Cell, Column, Table, Tone};
use crate::riff::{Explained, Knowledge, PairTerm};

/// Decimals of weights: so many that their sum has three that count.
pub(super) fn weight_digits(found: &Explained<'_>) -> usize {
    match found.pairs.iter().map(|p| p.weight).sum::<f64>() {
        sum if sum >= 0.1 => 3,
        sum if sum >= 0.01 => 4,
        _ => 5,
    }
}

/// Each line with its weight.
pub(super) fn voices_table(found: &Explained<'_>) -> Table {
    let mut table = Table::new([
        Column::flexible("line"),
        Column::right("loudness"),
        Column::right("share"),
        Column::right("weight"),
    ]);
    for voice in &found.riff.harmony.voices {
        table.push([
            Cell::new(voice.ingredient.name.clone(), Tone::Strong),
            format!("{:.2}", voice.loudness).into(),
            format!("{:.1} %", voice.share * 100.0).into(),
            format!("{:.3}", voice.weight()).into(),
        ]);
    }
    table
}

/// Each pair with its affinity, weight and product, and their sums.
pub(super) fn pairs_table(found: &Explained<'_>) -> Table {
    let mut table = Table::new([
        Column::flexible("pair"),
        Column::left("by"),
        Column::right("affinity"),
        Column::right("weight"),
        Column::right("product"),
    ]);
    let digits = weight_digits(found);
    for term in &found.pairs {
        table.push([
            Cell::new(format!("{} + {}", term.pair.0.name, term.pair.1.name), Tone::Strong),
            known_by(term).into(),
            format!("{:.2}", term.affinity).into(),
            format!("{:.digits$}", term.weight).into(),
            format!("{:.digits$}", term.product()).into(),
        ]);
    }
    let weights: f64 = found.pairs.iter().map(|p| p.weight).sum();
    let products: f64 = found.pairs.iter().map(PairTerm::product).sum();
    table.push([
        Cell::new("together", Tone::Quiet),
        "".into(),
        "".into(),
        format!("{weights:.digits$}").into(),
        format!("{products:.digits$}").into(),
    ]);
    table
}

fn known_by(term: &PairTerm<'_>) -> &'static str {
    match term.knowledge {
        Knowledge::Known => "known",
        Knowledge::Clash => "a clash",
        Knowledge::Inferred => "inferred",
    }
}

pub(super) fn harmony_data(found: &Explained<'_>) -> Value {
    json!({
        "lines": found.riff.harmony.voices.iter().map(|v| json!({
            "id": v.ingredient.id.as_str(),
            "loudness": v.loudness,
            "share": v.share,
            "weight": v.weight(),
        })).collect::<Vec<_>>(),
        "pairs": found.pairs.iter().map(|p| json!({
            "pair": [p.pair.0.id.as_str(), p.pair.1.id.as_str()],
            "by": known_by(p),
            "affinity": p.affinity,
            "weight": p.weight,
            "product": p.product(),
        })).collect::<Vec<_>>(),
        "score": found.riff.harmony.score,
    })
}

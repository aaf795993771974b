//! The house's own dilution, as a report.

use serde_json::json;

use crate::book::Weighing;
use crate::drink::melt_of;
use crate::liquid::{Dilution, LiquidError, MeasuredDilution, Melt};
use crate::report::{Column, Report, Table};

/// What a method comes to in this house.
#[derive(Debug, Clone, Copy)]
pub struct Kin {
    /// The method.
    pub melt: Melt,
    /// The mean of its weighings.
    pub measured: MeasuredDilution,
    /// The published figure at the same strength.
    pub published: Dilution,
}

/// What a house has weighed.
#[derive(Debug, Clone)]
pub struct Weighed {
    /// By method.
    pub kin: Vec<Kin>,
    /// One by one, oldest first.
    pub weighings: Vec<Weighing>,
    /// What is to be said of it.
    pub notes: Vec<String>,
}

/// The house's own dilution.
///
/// # Errors
/// [`LiquidError`] for a weighing that cannot be.
pub fn weighed(weighed: &Weighed) -> Result<Report, LiquidError> {
    let Weighed { kin, weighings, notes } = weighed;
    let mut list = Table::new([
        Column::left("method"),
        Column::flexible("drink"),
        Column::right("before"),
        Column::right("after"),
        Column::right("strength"),
        Column::right("dilution"),
    ]);
    let mut rows = Vec::new();
    for weighing in weighings {
        let Weighing { before, after, volume, strength, .. } = weighing;
        let share = MeasuredDilution::from_weighings(*before, *after, *volume, *strength)?.share;
        let melt = melt_of(weighing.method, weighing.long);
        list.push([
            melt.name().to_owned(),
            weighing.drink.clone(),
            format!("{before:.1}"),
            format!("{after:.1}"),
            format!("{strength:.1}"),
            format!("{:.1} %", 100.0 * share),
        ]);
        rows.push(json!({
            "method": melt.name(),
            "drink": weighing.drink,
            "before_g": before.grams(),
            "after_g": after.grams(),
            "strength_percent_vol": strength.percent_vol(),
            "dilution_share": share,
        }));
    }
    let data = json!({
        "ok": true,
        "command": "bench",
        "job": "weigh",
        "methods": kin.iter().map(|k| json!({
            "method": k.melt.name(),
            "dilution_share": k.measured.share,
            "strength_percent_vol": k.measured.strength.percent_vol(),
            "published_share": k.published.share,
        })).collect::<Vec<_>>(),
        "weighings": rows,
    });
    let mut report = Report::new("The house's own dilution", data);
    if weighings.is_empty() {
        report = report.text("Nothing is weighed yet, so the published figures hold.");
    } else {
        report = report.table(list);
    }
    for Kin { melt, measured, published } in kin {
        report = report.note(format!(
            "{}: {:.1} % at {:.1} before ice, where the published figure is {:.1} %; other strengths in proportion to it",
            melt.name(),
            100.0 * measured.share,
            measured.strength,
            100.0 * published.share
        ));
    }
    for note in notes {
        report = report.note(note.clone());
    }
    Ok(report)
}

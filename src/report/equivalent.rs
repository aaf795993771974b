//! How much of one thing is as sour, or as sweet, as a measure of another.

use serde_json::{Value, json};

use super::balance::volume_short;
use super::companions::named;
use super::phrase::{View, listed, volume};
use super::{Cell, Column, Report, Table, Tone};
use crate::riff::{Alike, Equivalent, Equivalents, Soured, Spooned};

/// Less than this, per cent, g and ml, is not told.
const TOLD_PERCENT: f64 = 2.0;
const TOLD_G: f64 = 1.0;
const TOLD_ML: f64 = 1.5;

/// The amounts of what is worth a measure, under what stands above.
pub(super) fn with_equivalents(mut report: Report, found: &Equivalents<'_>, view: View) -> Report {
    report.data["equivalents"] = equivalents_data(found);
    let how = match found.alike {
        Alike::Sour => "As sour",
        Alike::Sweet => "As sweet",
    };
    report = report.heading(format!("{how} as {} of {}", volume(found.measure, view.unit), found.of.name));
    if !found.found.is_empty() {
        let mut table =
            Table::new([Column::left("take"), Column::left("of"), Column::flexible("and it brings")]);
        for one in &found.found {
            table.push([
                Cell::from(spooned_words(&one.amount, view)),
                Cell::new(one.ingredient.name.clone(), Tone::Strong),
                brings_words(one, found, view).into(),
            ]);
        }
        report = report.table(table);
    }
    for soured in &found.soured {
        report = report.note(soured_words(soured, view));
    }
    report
}

/// `¾ oz + 1 barspoon`.
fn spooned_words(amount: &Spooned, view: View) -> String {
    let spoons = match amount.barspoons {
        0 => None,
        1 => Some("1 barspoon".to_owned()),
        more => Some(format!("{more} barspoons")),
    };
    let pour = (amount.pour.ml() > 0.0).then(|| volume(amount.pour, view.unit));
    pour.into_iter().chain(spoons).collect::<Vec<_>>().join(" + ")
}

/// `4 % more acid; 0.6 g more sugar; 0.2 oz more in the tin`.
fn brings_words(one: &Equivalent<'_>, found: &Equivalents<'_>, view: View) -> String {
    let (own, other) = match found.alike {
        Alike::Sour => ("acid", "sweetness"),
        Alike::Sweet => ("sweetness", "acid"),
    };
    let more_or_less = |value: f64| if value > 0.0 { "more" } else { "less" };
    let off = 100.0 * (one.holds / found.holds - 1.0);
    let mut parts = vec![if off.abs() < TOLD_PERCENT {
        format!("the same {own}")
    } else {
        format!("{:.0} % {} {own}", off.abs(), more_or_less(off))
    }];
    if one.other_more.abs() >= TOLD_G {
        let what = if other == "acid" { "acid" } else { "sugar" };
        parts.push(format!("{:.1} g {} {what}", one.other_more.abs(), more_or_less(one.other_more)));
    }
    if one.volume_more.abs() >= TOLD_ML {
        let words = volume_short(one.volume_more.abs(), view);
        parts.push(format!("{words} {} before ice", more_or_less(one.volume_more)));
    }
    parts.join("; ")
}

/// `orange juice made as sour: 9.2 g citric acid to 8 oz of it, 8.1 oz in all, then measure for measure`.
fn soured_words(soured: &Soured<'_>, view: View) -> String {
    let powders: Vec<String> =
        soured.powders.iter().map(|(acid, mass)| format!("{:.1} g {acid}", mass.grams())).collect();
    let sugar = soured.sugar_more.abs();
    let way = if soured.sugar_more > 0.0 { "more" } else { "less" };
    format!(
        "{} made as sour: {} to {} of it, {} in all, then measure for measure; {sugar:.0} g/L {way} sugar",
        soured.juice.name,
        listed(&powders),
        volume(soured.batch, view.unit),
        volume_short(soured.made.ml(), view),
    )
}

fn equivalents_data(found: &Equivalents<'_>) -> Value {
    json!({
        "alike": match found.alike { Alike::Sour => "sour", Alike::Sweet => "sweet" },
        "measure_ml": found.measure.ml(),
        "holds_g": found.holds,
        "found": found.found.iter().map(|one| {
            let mut value = named(one.ingredient);
            value["ml"] = json!(one.amount.volume.ml());
            value["pour_ml"] = json!(one.amount.pour.ml());
            value["barspoons"] = json!(one.amount.barspoons);
            value["holds_g"] = json!(one.holds);
            value["other_more_g"] = json!(one.other_more);
            value["volume_more_ml"] = json!(one.volume_more);
            value
        }).collect::<Vec<_>>(),
        "made_sour": found.soured.iter().map(|soured| {
            let mut value = named(soured.juice);
            value["batch_ml"] = json!(soured.batch.ml());
            value["made_ml"] = json!(soured.made.ml());
            value["acid_g_per_l"] = json!(soured.acid);
            value["sugar_more_g_per_l"] = json!(soured.sugar_more);
            value["powders"] = soured.powders.iter().map(|(acid, mass)| json!({
                "acid": acid.name(), "g": mass.grams(),
            })).collect();
            value["cautions"] = soured.cautions.iter().map(|c| c.as_str()).collect();
            value
        }).collect::<Vec<_>>(),
    })
}

//! Cutting and fortifying, as reports.

use serde_json::json;

use super::measured;
use crate::liquid::Parts;
use crate::measure::{HouseUnit, Strength, Volume};
use crate::report::Report;

/// A spirit and the water that brings it down.
#[derive(Debug, Clone, Copy)]
pub struct Cut {
    /// What there is.
    pub from: Parts,
    /// The strength wanted.
    pub to: Strength,
    /// The water, contraction counted.
    pub water: Volume,
    /// The water by plain arithmetic.
    pub naive: Volume,
}

/// A liquid and the spirit that brings it up.
#[derive(Debug, Clone, Copy)]
pub struct Fortified {
    /// What there is.
    pub from: Parts,
    /// What goes in.
    pub spirit: Parts,
    /// The strength wanted.
    pub to: Strength,
}

/// Above this strength, in % vol, a spirit lights at room temperature; *common practice, no source*.
const LIGHTS: f64 = 50.0;

fn flame(report: Report, strongest: Strength) -> Report {
    if strongest.percent_vol() >= LIGHTS {
        report.caution(
            "strong spirit and its vapour burn: no flame, good air, and the local rules on storing and handling it",
        )
    } else {
        report
    }
}

/// Water that brings a spirit down.
pub fn cut(cut: &Cut, unit: HouseUnit) -> Report {
    let Cut { from, to, water, naive } = cut;
    let (have, made) = (from.measured(), from.plus(&Parts::water(*water)).measured());
    let grams = Parts::water(*water).mass();
    let by_naive = from.plus(&Parts::water(*naive)).strength();
    let shrinks = have.volume.ml() + water.ml() - made.volume.ml();
    let fact = |label: &str, value: String| (label.to_owned(), value);
    let data = json!({
        "ok": true,
        "command": "bench",
        "job": "cut",
        "from": { "ml": have.volume.ml(), "strength_percent_vol": have.strength.percent_vol(), "sugar_g_per_l": have.sugar.grams_per_litre() },
        "to_percent_vol": to.percent_vol(),
        "water_ml": water.ml(),
        "water_g": grams.grams(),
        "naive_water_ml": naive.ml(),
        "naive_percent_vol": by_naive.percent_vol(),
        "made_ml": made.volume.ml(),
        "contraction_ml": shrinks,
    });
    let report = Report::new(format!("Bring down to {to:.1}"), data)
        .facts(vec![
            fact("take", format!("{} at {:.1}", measured(have.volume, unit), have.strength)),
            fact("add", format!("{} of water, {grams:.1} on the scale", measured(*water, unit))),
            fact("makes", format!("{} at {:.1}", measured(made.volume, unit), made.strength)),
            fact("shrinks", format!("by {}: less than the two had apart", measured(Volume::clamped(shrinks), unit))),
            fact("by plain arithmetic", format!("{} of water, which would leave it at {by_naive:.1}", measured(*naive, unit))),
        ])
        .note("volumes and strengths at 20 °C; density of ethanol and water by OIML R 22; weigh the water if you can");
    flame(report, have.strength)
}

/// A stronger spirit that brings a liquid up.
pub fn fortified(fortified: &Fortified, unit: HouseUnit) -> Report {
    let Fortified { from, spirit, to } = fortified;
    let (have, added, made) = (from.measured(), spirit.measured(), from.plus(spirit).measured());
    let fact = |label: &str, value: String| (label.to_owned(), value);
    let sweet = |grams: f64| if grams >= 0.5 { format!(", {grams:.0} g/L sugar") } else { String::new() };
    let data = json!({
        "ok": true,
        "command": "bench",
        "job": "fortify",
        "from": { "ml": have.volume.ml(), "strength_percent_vol": have.strength.percent_vol(), "sugar_g_per_l": have.sugar.grams_per_litre() },
        "to_percent_vol": to.percent_vol(),
        "with": { "ml": added.volume.ml(), "g": spirit.mass().grams(), "strength_percent_vol": added.strength.percent_vol() },
        "made_ml": made.volume.ml(),
        "made_sugar_g_per_l": made.sugar.grams_per_litre(),
    });
    let report = Report::new(format!("Bring up to {to:.1}"), data)
        .facts(vec![
            fact(
                "take",
                format!(
                    "{} at {:.1}{}",
                    measured(have.volume, unit),
                    have.strength,
                    sweet(have.sugar.grams_per_litre())
                ),
            ),
            fact(
                "add",
                format!(
                    "{} at {:.1}, {:.1} on the scale",
                    measured(added.volume, unit),
                    added.strength,
                    spirit.mass()
                ),
            ),
            fact(
                "makes",
                format!(
                    "{} at {:.1}{}",
                    measured(made.volume, unit),
                    made.strength,
                    sweet(made.sugar.grams_per_litre())
                ),
            ),
        ])
        .note("volumes and strengths at 20 °C; density of ethanol and water by OIML R 22");
    flame(report, added.strength)
}

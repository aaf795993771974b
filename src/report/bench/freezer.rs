//! What a freezer does, as a report.

use serde_json::{Value, json};

use super::measured;
use crate::liquid::freezing::{self, MOST_FILL, Pours, RUNS_COLDER, UNCERTAIN_KELVIN};
use crate::liquid::{LiquidError, Parts};
use crate::measure::{HouseUnit, Temperature, Volume};
use crate::report::Report;

/// Something in a freezer.
#[derive(Debug, Clone)]
pub struct InFreezer {
    /// Which of several it is; empty if there is but one.
    pub label: String,
    /// It.
    pub liquid: Parts,
}

/// A freezer and what is in it.
#[derive(Debug, Clone)]
pub struct Freezer {
    /// What was asked about.
    pub title: String,
    /// One liquid, or a drink with and without its water.
    pub held: Vec<InFreezer>,
    /// How cold it is.
    pub at: Temperature,
    /// The bottle, if one was named.
    pub bottle: Option<Volume>,
}

/// What a freezer does to a liquid.
///
/// # Errors
/// [`LiquidError`] where the tables end.
pub fn freezer(freezer: &Freezer, unit: HouseUnit) -> Result<Report, LiquidError> {
    let Freezer { title, held, at, bottle } = freezer;
    let mut report = Report::new(format!("{title} at {at:.0}"), Value::Null);
    let mut rows = Vec::new();
    let mut beyond = false;
    for one in held {
        if !one.label.is_empty() {
            report = report.heading(one.label.clone());
        }
        let (facts, data, past) = liquid_facts(one, *at, *bottle, unit)?;
        beyond |= past;
        report = report.facts(facts);
        rows.push(data);
    }
    report.data = json!({
        "ok": true,
        "command": "bench",
        "job": "freezer",
        "what": title,
        "celsius": at.celsius(),
        "bottle_ml": bottle.map(Volume::ml),
        "held": rows,
    });
    report = report.note(format!(
        "freezing points added up over all the water (CRC Handbook, 102nd edition), good to {UNCERTAIN_KELVIN} K in a mixture; ice by the lever rule, at rest: a bottle may stay liquid below its freezing point until it is knocked"
    ));
    report = report.note(format!(
        "the fill allows for a freezer {RUNS_COLDER:.0} K colder than it says; ice takes 9 % more room than the water it was; never over {:.0} %", 100.0 * MOST_FILL
    ));
    if beyond {
        report = report.note(
            "what is left liquid is stronger or sweeter than the published tables go: carried straight on",
        );
    }
    Ok(report.caution("glass bursts when what is in it freezes: leave the room stated, never freeze anything sparkling, and use plastic where you are not sure"))
}

type Facts = Vec<(String, String)>;

fn liquid_facts(
    one: &InFreezer,
    at: Temperature,
    bottle: Option<Volume>,
    unit: HouseUnit,
) -> Result<(Facts, Value, bool), LiquidError> {
    let liquid = &one.liquid;
    let (frozen, pours) = (freezing::at(liquid, at)?, freezing::pours(liquid, at)?);
    let figures = liquid.measured();
    let fill = freezing::safe_fill(liquid, at)?;
    let fact = |label: &str, value: String| (label.to_owned(), value);
    let mut facts = vec![
        fact(
            "it is",
            format!("{:.1}, {:.0} sugar, {:.1} acid", figures.strength, figures.sugar, figures.acid),
        ),
        fact("freezes from", format!("{:.1}", frozen.point.at)),
        fact(
            "pours",
            match pours {
                Pours::Freely => format!("yes: no ice at {at:.0}"),
                Pours::AtTheEdge => {
                    format!("perhaps: its freezing point is within {UNCERTAIN_KELVIN} K of {at:.0}")
                }
                Pours::NotFreely => {
                    format!("no: {:.0} % of its weight is ice at {at:.0}", 100.0 * frozen.share())
                }
            },
        ),
    ];
    if frozen.ice.grams() > 0.0 && frozen.liquid.mass().grams() > 0.0 {
        let left = frozen.liquid.measured();
        facts.push(fact("what stays liquid", format!("{:.1}, {:.0} sugar", left.strength, left.sugar)));
    }
    let contents = liquid.contents();
    let (strong, sweet) =
        (freezing::strength_to_pour(&contents, at), freezing::sucrose_to_pour(&contents, at));
    if pours != Pours::Freely {
        let strong_words = strong.map(|s| format!("{s:.1} with its sugar as it is"));
        let own = contents.of(crate::liquid::Solute::Sucrose);
        let sweet_words = sweet.map(|s| {
            let all = figures.sugar.grams_per_litre() - own.grams_per_litre() + s.grams_per_litre();
            format!("{all:.0} g/L sugar at its strength")
        });
        let words: Vec<String> = strong_words.into_iter().chain(sweet_words).collect();
        let sweet_no = if sweet.is_none() { "; no sugar that stays dissolved would do it alone" } else { "" };
        facts.push(fact("to stay free of ice", format!("{}{sweet_no}", words.join(", or "))));
    }
    let in_bottle = match bottle {
        Some(bottle) => {
            let most = Volume::clamped(bottle.ml() * fill);
            format!(": {} in a bottle of {}", measured(most, unit), measured(bottle, unit))
        }
        None => String::new(),
    };
    facts.push(fact("fill at most", format!("{:.0} % of the brim{in_bottle}", (100.0 * fill).floor())));
    let data = json!({
        "label": one.label,
        "strength_percent_vol": figures.strength.percent_vol(),
        "sugar_g_per_l": figures.sugar.grams_per_litre(),
        "freezing_point_celsius": frozen.point.at.celsius(),
        "uncertain_kelvin": UNCERTAIN_KELVIN,
        "pours": match pours {
            Pours::Freely => "freely",
            Pours::AtTheEdge => "at the edge",
            Pours::NotFreely => "not freely",
        },
        "ice_share": frozen.share(),
        "expansion_ml_per_100_ml": 100.0 * frozen.expansion.ml() / figures.volume.ml(),
        "fill_share": fill,
        "strength_to_pour_percent_vol": strong.map(|s| s.percent_vol()),
        "sucrose_to_pour_g_per_l": sweet.map(|s| s.grams_per_litre()),
    });
    Ok((facts, data, frozen.beyond_tables))
}

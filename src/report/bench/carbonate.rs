//! Gas in drinks, as a report.

use serde_json::{Value, json};

use super::measured;
use crate::liquid::carbonation::{Bottle, Carbonation, Ground, Lengthened, OpenGlass, SAFETY_FACTOR, Vessel};
use crate::measure::{HouseUnit, Pressure, Strength, Temperature};
use crate::report::{Column, Report, Table};

/// Gas in a drink.
#[derive(Debug, Clone)]
pub struct Gas {
    /// The drink's strength.
    pub strength: Strength,
    /// How cold it is.
    pub at: Temperature,
    /// What it holds.
    pub held: Carbonation,
    /// The pressure that holds it there.
    pub pressure: Pressure,
    /// What that rests on.
    pub ground: Ground,
    /// The bottle it is closed in, if any.
    pub bottled: Option<Held>,
    /// The drink it lengthens, if any.
    pub kept: Option<Kept>,
}

/// A closed bottle that may be closed.
#[derive(Debug, Clone, Copy)]
pub struct Held {
    /// What it is.
    pub vessel: Vessel,
    /// It, filled.
    pub bottle: Bottle,
    /// The warmest it may meet.
    pub warmest: Temperature,
}

/// What a drink keeps of its lengthener's gas.
#[derive(Debug, Clone, Copy)]
pub struct Kept {
    /// Both together.
    pub lengthened: Lengthened,
    /// Where that stands in an open glass.
    pub glass: OpenGlass,
}

/// `2.55 bar (37 psi)` as a gauge shows it.
fn on_gauge(pressure: Pressure) -> String {
    format!("{:.2} bar, {:.0} psi", pressure.gauge_bar(), pressure.gauge_psi())
}

/// Temperatures at which a closed bottle is shown.
const SHOWN_AT: [f64; 5] = [4.0, 12.0, 20.0, 30.0, 40.0];

/// Gas in a drink: pressure, bottle, lengthener.
pub fn gas(gas: &Gas, unit: HouseUnit) -> Report {
    let Gas { strength, at, held, pressure, ground, bottled, kept } = gas;
    let fact = |label: &str, value: String| (label.to_owned(), value);
    let facts = vec![
        fact("holds", format!("{:.1} volumes of gas, {:.1}", held.volumes(), held.concentration())),
        fact("the gauge reads", format!("{} at {at:.0}, at rest", on_gauge(*pressure))),
        fact("from a vacuum", format!("{pressure:.2}")),
    ];
    let mut report =
        Report::new(format!("Gas in a drink of {strength:.0} at {at:.0}"), data(gas)).facts(facts);
    if let Some(Held { vessel, bottle, warmest }) = bottled {
        report = report.heading(format!(
            "Closed in {}: {} and {} of headspace",
            vessel.rating().name,
            measured(bottle.liquid(), unit),
            measured(bottle.headspace(), unit)
        ));
        let mut table =
            Table::new([Column::right("at"), Column::right("from a vacuum"), Column::left("on a gauge")]);
        for celsius in SHOWN_AT {
            let at = Temperature::clamped(celsius);
            if let Ok(pressure) = bottle.pressure(at) {
                table.push([format!("{at:.0}"), format!("{pressure:.1}"), on_gauge(pressure)]);
            }
        }
        report = report.table(table);
        if let (Some(limit), Some(bears)) = (vessel.working_limit(), vessel.rating().bears_bar) {
            report = report.note(format!(
                "{} is said to bear {bears:.0} bar when new ({}); at most {limit:.1} is advised at {warmest:.0}, a factor of {SAFETY_FACTOR:.0} below",
                vessel.rating().name,
                vessel.rating().origin
            ));
        }
        report = report.caution(
            "a bottle under pressure can burst and blind: only bottles made for it and without a scratch, chilled, the headspace kept, eyes covered, the maker's figure and local rules first; never frozen, never left in a warm car",
        );
    }
    if let Some(Kept { lengthened, glass }) = kept {
        let still = if glass.is_supersaturated() {
            format!("it bubbles until {:.0} % of that is left", 100.0 * glass.share)
        } else {
            "too little to bubble: it goes flat through the surface".to_owned()
        };
        report = report.heading("In the drink").facts(vec![
            fact("makes", format!("{} at {:.1}", measured(lengthened.volume, unit), lengthened.strength)),
            fact(
                "holds at most",
                format!("{:.1} volumes of gas, before any escapes on pouring", lengthened.at_most.volumes()),
            ),
            fact(
                "in an open glass",
                format!("{still} ({:.1} volumes at {at:.0})", glass.saturated.volumes()),
            ),
        ]);
    }
    report.note(match ground {
        Ground::Water => "carbon dioxide in water: Weiss (1974)",
        Ground::Between => "Weiss (1974) for water; a drink of 10 to 16 % vol holds 10 % less (published for champagne), in between a straight line, ours",
        Ground::Share => "Weiss (1974) for water, less 10 % as published for champagne",
        Ground::Unverified => "Weiss (1974) for water, less 10 % as published for champagne: not verified above 16 % vol",
    })
}

fn data(gas: &Gas) -> Value {
    let Gas { strength, at, held, pressure, ground, bottled, kept } = gas;
    json!({
        "ok": true,
        "command": "bench",
        "job": "carbonate",
        "strength_percent_vol": strength.percent_vol(),
        "celsius": at.celsius(),
        "volumes": held.volumes(),
        "gas_g_per_l": held.concentration().grams_per_litre(),
        "pressure_bar": pressure.bar(),
        "gauge_bar": pressure.gauge_bar(),
        "gauge_psi": pressure.gauge_psi(),
        "verified": *ground != Ground::Unverified,
        "bottle": bottled.as_ref().map(|Held { vessel, bottle, warmest }| json!({
            "kind": vessel.rating().name,
            "liquid_ml": bottle.liquid().ml(),
            "headspace_ml": bottle.headspace().ml(),
            "warmest_celsius": warmest.celsius(),
            "limit_bar": vessel.working_limit().map(Pressure::bar),
            "pressure": SHOWN_AT.iter().filter_map(|celsius| {
                let pressure = bottle.pressure(Temperature::clamped(*celsius)).ok()?;
                Some(json!({ "celsius": celsius, "bar": pressure.bar() }))
            }).collect::<Vec<_>>(),
        })),
        "lengthened": kept.as_ref().map(|Kept { lengthened, glass }| json!({
            "ml": lengthened.volume.ml(),
            "strength_percent_vol": lengthened.strength.percent_vol(),
            "volumes_at_most": lengthened.at_most.volumes(),
            "saturated_volumes": glass.saturated.volumes(),
        })),
    })
}

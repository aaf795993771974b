//! The published dilution beside a balance of heat, as a report.

use serde_json::{Value, json};

use crate::drink::Figures;
use crate::liquid::chill::{Chilled, Conditions};
use crate::liquid::{Basis, Melt, freezing};
use crate::measure::Temperature;
use crate::report::balance::figures_data;
use crate::report::phrase::{View, acid, served, strength, sugar, volume};
use crate::report::{Column, Report, Table};

/// A drink's figures by one way of finding its dilution.
#[derive(Debug, Clone, Copy)]
pub struct Way {
    /// The figures.
    pub figures: Figures,
    /// Where the chilling ended, or must have; none where no end explains it.
    pub ends: Option<Temperature>,
}

/// A drink's dilution by several ways.
#[derive(Debug, Clone)]
pub struct Compared {
    /// The drink.
    pub name: String,
    /// How it meets ice.
    pub melt: Melt,
    /// The published figure, the balance of heat, and the house's own if it has one.
    pub ways: Vec<Way>,
    /// The balance.
    pub chilled: Chilled,
    /// What was said of ice, drink and vessel.
    pub conditions: Conditions,
    /// What the balance gives all the way at the freezing point: water as a share, and where that is.
    pub at_equilibrium: (f64, Temperature),
}

fn way_name(basis: Basis) -> &'static str {
    match basis {
        Basis::Fit | Basis::FitOutsideRange => "published fit",
        Basis::Figure => "plain figure",
        Basis::Heat => "heat balance",
        Basis::House => "house's own",
        Basis::Given => "given",
        Basis::None => "no ice",
    }
}

/// The ways side by side, and why they differ.
pub fn compared(compared: &Compared, view: View) -> Report {
    let Compared { name, melt, ways, chilled, conditions, at_equilibrium } = compared;
    let mut columns = vec![Column::left("")];
    columns.extend(ways.iter().map(|w| Column::right(way_name(w.figures.dilution.basis))));
    let mut table = Table::new(columns);
    let mut row = |label: &str, value: &dyn Fn(&Way) -> String| {
        table.push(std::iter::once(label.to_owned()).chain(ways.iter().map(value)));
    };
    row("dilution", &|w| format!("{:.0} %", 100.0 * w.figures.dilution.share));
    row("water", &|w| volume(w.figures.water, view.unit));
    row("in the glass", &|w| served(&w.figures, view.unit));
    row("strength", &|w| format!("{} % vol", strength(&w.figures)));
    row("sugar", &|w| format!("{} g/L", sugar(&w.figures)));
    row("acid", &|w| format!("{} g/L", acid(&w.figures)));
    row("ends at", &|w| w.ends.map_or("-".to_owned(), |t| format!("{t:.1}")));
    row("freezes at", &|w| freezing_words(&w.figures));
    let mut report =
        Report::new(format!("{name}, {}: what the ice does", melt.name()), data(compared)).table(table);
    for note in gap(compared) {
        report = report.note(note);
    }
    report = report.note(format!("heat balance: {}", condition_words(conditions)));
    let by = &chilled.by;
    let sources = [
        ("cooling the drink", by.drink_grams),
        ("alcohol and water mixing", by.mixing_grams),
        ("cooling the vessel", by.vessel_grams),
        ("the room", by.room_grams),
        ("the ice itself growing colder", by.ice_grams.max(0.0)),
    ];
    let shown = sources.into_iter().filter(|(_, grams)| grams.abs() >= 0.05);
    let mut shares: Vec<String> = shown.map(|(what, grams)| format!("{what} {grams:.1} g")).collect();
    if by.ice_grams <= -0.05 {
        shares.push(format!("less {:.1} g that the cold ice saved as it grew warmer", -by.ice_grams));
    }
    report = report.note(format!("{:.1} g melted: {}", chilled.melt.grams(), shares.join(", ")));
    if chilled.ice_left.grams() < 1e-6 {
        report = report.note("all the ice melts: there was too little of it to get the drink cold");
    }
    if chilled.melt.grams() < 1e-6 {
        report = report.note("nothing melts: so cold an ice does all the chilling by itself");
    }
    let (share, at) = at_equilibrium;
    report.note(format!("all the way at its freezing point, {at:.1}, it would take {:.0} %", 100.0 * share))
}

fn freezing_words(figures: &Figures) -> String {
    freezing::point(&figures.liquid).map_or("-".to_owned(), |p| format!("{:.1}", p.at))
}

/// Why the published figure and the balance differ, in words.
fn gap(compared: &Compared) -> Vec<String> {
    let [published, balance, ..] = compared.ways[..] else { return Vec::new() };
    let points = 100.0 * (balance.figures.dilution.share - published.figures.dilution.share);
    let mut words = Vec::new();
    let way = way_name(published.figures.dilution.basis);
    let more = if points > 0.0 { "more" } else { "less" };
    match (published.ends, balance.ends) {
        _ if points.abs() < 1.0 => words.push(format!("the {way} and the balance agree within a point of dilution")),
        (Some(fit), Some(heat)) => {
            let warmer = if fit > heat { "warmer" } else { "colder" };
            words.push(format!(
                "the balance has {:.0} points {more} water: so little melts as in the {way} only if the drink ends at {fit:.1}, {warmer} than the {heat:.1} of the balance",
                points.abs()
            ).replace("so little", if points > 0.0 { "so little" } else { "so much" }));
            if fit.celsius() > 0.0 {
                words.push(format!("a drink at {fit:.1} is not cold, so the {way} must come from a colder start than this: chill the vessel, or the drink"));
            }
        }
        _ => words.push(format!(
            "the balance has {:.0} points {more} water, and no end of the chilling explains the {way} under these conditions",
            points.abs()
        )),
    }
    if published.figures.dilution.basis == Basis::FitOutsideRange {
        words.push("the published fit is held at the end of its range (15 to 45 % vol before ice), so it says little here".to_owned());
    }
    words.push(match compared.melt {
        Melt::Stirred => "a stirred drink stops well short of its freezing point: the balance takes about a third of the way, set so that it agrees with the fit for five stirred classics on average".to_owned(),
        Melt::Shaken | Melt::Blended => "a shaken or blended drink gets all the way to its freezing point".to_owned(),
        Melt::BuiltShort | Melt::BuiltLong => "a drink over ice gets nearer to its freezing point minute by minute, and the room goes on melting: the rates are ours".to_owned(),
        Melt::None => String::new(),
    });
    words.retain(|w| !w.is_empty());
    words
}

fn condition_words(conditions: &Conditions) -> String {
    let Conditions { drink, ice, ice_at, wet, vessel, .. } = conditions;
    let wet =
        if wet.value() > 0.0 { format!(", {:.0} % of it water", 100.0 * wet.value()) } else { String::new() };
    let vessel = vessel.map_or("no vessel counted".to_owned(), |v| {
        format!("{:.0} of {} at {:.0}", v.mass, v.stuff.name(), v.temperature)
    });
    format!(
        "drink at {drink:.0}, {ice:.0} of ice at {ice_at:.0}{wet}, {vessel}; --ice, --ice-at, --wet, --vessel, --ends-at say otherwise"
    )
}

fn data(compared: &Compared) -> Value {
    let Compared { name, melt, ways, chilled, conditions, at_equilibrium } = compared;
    let by = &chilled.by;
    json!({
        "ok": true,
        "command": "bench",
        "job": "chill",
        "name": name,
        "method": melt.name(),
        "ways": ways.iter().map(|w| json!({
            "figures": figures_data(&w.figures),
            "ends_celsius": w.ends.map(|t| t.celsius()),
        })).collect::<Vec<_>>(),
        "melt_g": chilled.melt.grams(),
        "wet_g": chilled.wet.grams(),
        "ice_left_g": chilled.ice_left.grams(),
        "melted_by_g": {
            "drink": by.drink_grams,
            "mixing": by.mixing_grams,
            "vessel": by.vessel_grams,
            "room": by.room_grams,
            "ice": by.ice_grams,
        },
        "conditions": {
            "drink_celsius": conditions.drink.celsius(),
            "ice_g": conditions.ice.grams(),
            "ice_celsius": conditions.ice_at.celsius(),
            "wet_share": conditions.wet.value(),
            "vessel_g": conditions.vessel.map(|v| v.mass.grams()),
        },
        "at_equilibrium": { "dilution_share": at_equilibrium.0, "celsius": at_equilibrium.1.celsius() },
    })
}

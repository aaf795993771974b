//! Syrups and Brix, as reports.

use serde_json::{Value, json};

use super::measured;
use crate::liquid::{Addition, LiquidError, Parts, Syrup, sucrose};
use crate::measure::{Brix, HouseUnit, Temperature, Volume};
use crate::report::Report;

/// A syrup as made.
#[derive(Debug, Clone)]
pub struct Made {
    /// It.
    pub syrup: Syrup,
    /// Whether its sugar and water were measured by the cup.
    pub by_volume: bool,
    /// What brings it to a Brix, if that was asked.
    pub addition: Option<(Brix, Addition)>,
    /// Temperatures at which it may crystallise.
    pub temperatures: Vec<Temperature>,
}

/// A sugar solution as read.
#[derive(Debug, Clone, Copy)]
pub struct Reading {
    /// Its sugar by mass.
    pub brix: Brix,
    /// The temperature of its density.
    pub at: Temperature,
}

/// `2.00 to 1`; plain words at the ends.
fn ratio(brix: Brix) -> String {
    let sugar = brix.degrees();
    if sugar <= 0.0 {
        "no sugar".to_owned()
    } else {
        format!("{:.2} to 1 by weight", sugar / (100.0 - sugar))
    }
}

/// A syrup from its making.
///
/// # Errors
/// [`LiquidError::Solubility`] for a temperature outside the published range.
pub fn syrup(made: &Made, unit: HouseUnit) -> Result<Report, LiquidError> {
    let Made { syrup, by_volume, addition, temperatures } = made;
    let water_ml = Parts::water_weighing(syrup.water()).volume();
    let fact = |label: &str, value: String| (label.to_owned(), value);
    let mut facts = vec![
        fact("sugar", format!("{:.1}", syrup.sugar())),
        fact("water", format!("{:.1}, which is {}", syrup.water(), measured(water_ml, unit))),
        fact("makes", format!("{}, {:.0} on the scale", measured(syrup.volume(), unit), syrup.mass())),
        fact("sugar by weight", format!("{:.1}, {}", syrup.brix(), ratio(syrup.brix()))),
        fact(
            "sugar by volume",
            format!(
                "{:.0}, {:.1} g in 100 ml",
                syrup.sugar_per_litre(),
                syrup.sugar_per_litre().grams_per_litre() / 10.0
            ),
        ),
        fact("density", format!("{:.1} kg/m³ at 20 °C", syrup.density())),
    ];
    let reached =
        addition.map(|(brix, addition)| Ok::<_, LiquidError>((brix, addition, syrup.with(addition)?)));
    let reached = reached.transpose()?;
    if let Some((brix, addition, reached)) = &reached {
        let what = match addition {
            Addition::Nothing => "nothing: it is there".to_owned(),
            Addition::Water(mass) => {
                format!("{mass:.1} of water, {}", measured(Parts::water_weighing(*mass).volume(), unit))
            }
            Addition::Sugar(mass) => format!("{mass:.1} of sugar"),
        };
        facts.push(fact(
            &format!("to reach {brix:.1}"),
            format!("add {what}; makes {}", measured(reached.volume(), unit)),
        ));
    }
    let last = reached.as_ref().map_or(*syrup, |(_, _, reached)| *reached);
    let mut saturations = Vec::new();
    let mut report_notes = Vec::new();
    for at in temperatures {
        let saturation = last.saturation(*at)?;
        let over = saturation.degrees_over;
        let words = if saturation.will_crystallise() {
            format!(
                "at {at:.0} it crystallises sooner or later: {:.2} °Bx is {over:.2} over the {:.2} that water holds",
                last.brix().degrees(),
                saturation.holds
            )
        } else {
            format!("at {at:.0} it stays clear: water holds {:.2}, {:.2} more", saturation.holds, -over)
        };
        report_notes.push(words);
        saturations.push(json!({
            "celsius": at.celsius(),
            "holds_brix": saturation.holds.degrees(),
            "over_brix": over,
            "crystallises": saturation.will_crystallise(),
        }));
    }
    let data = json!({
        "ok": true,
        "command": "bench",
        "job": "syrup",
        "sugar_g": syrup.sugar().grams(),
        "water_g": syrup.water().grams(),
        "water_ml": water_ml.ml(),
        "made_ml": syrup.volume().ml(),
        "brix": syrup.brix().degrees(),
        "sugar_g_per_l": syrup.sugar_per_litre().grams_per_litre(),
        "density_kg_per_m3": syrup.density(),
        "to_reach": reached.as_ref().map(|(brix, addition, reached)| addition_data(*brix, *addition, reached.volume())),
        "saturation": saturations,
    });
    let mut report = Report::new("Syrup", data).facts(facts);
    for note in report_notes {
        report = report.note(note);
    }
    if *by_volume {
        report = report.note(
            "measured by the cup: 0.845 g of granulated sugar in a ml (USDA SR28 19335, 200 g a cup); a scoop may be a few per cent off, so weigh it if you can",
        );
    }
    Ok(report.note(
        "density: Sugar Technologists Manual (1995); what water holds: a published formula, another is 0.4 °Bx higher at 20 °C",
    ))
}

fn addition_data(brix: Brix, addition: Addition, made: Volume) -> Value {
    let (water, sugar) = match addition {
        Addition::Nothing => (0.0, 0.0),
        Addition::Water(mass) => (mass.grams(), 0.0),
        Addition::Sugar(mass) => (0.0, mass.grams()),
    };
    json!({ "brix": brix.degrees(), "water_g": water, "sugar_g": sugar, "made_ml": made.ml() })
}

/// A Brix as g/L, ratio and density.
///
/// # Errors
/// [`LiquidError::Sugar`] past the published range.
pub fn brix(reading: &Reading) -> Result<Report, LiquidError> {
    let Reading { brix, at } = *reading;
    let fraction = brix.degrees() / 100.0;
    let (held, density) = (sucrose::grams_per_litre(fraction)?, sucrose::density(fraction, at)?);
    let fact = |label: &str, value: String| (label.to_owned(), value);
    let data = json!({
        "ok": true,
        "command": "bench",
        "job": "brix",
        "brix": brix.degrees(),
        "sugar_g_per_l": held.grams_per_litre(),
        "celsius": at.celsius(),
        "density_kg_per_m3": density,
    });
    Ok(Report::new(format!("{brix:.1}"), data)
        .facts(vec![
            fact("by weight", format!("{:.1} g of sugar in 100 g", brix.degrees())),
            fact(
                "by volume",
                format!("{held:.1}, {:.2} g in 100 ml at 20 °C", held.grams_per_litre() / 10.0),
            ),
            fact("sugar to water", ratio(brix)),
            fact("density", format!("{density:.2} kg/m³ at {at:.0}")),
        ])
        .note("sucrose in water: Sugar Technologists Manual (1995), ICUMSA SPS-4"))
}

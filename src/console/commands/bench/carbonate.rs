//! `bench carbonate`: gas in drinks, in closed bottles and under a lengthener.

use super::asked::{Clause, Liquid, clauses, missing, unit_for};
use crate::console::commands::joined;
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::liquid::carbonation::{Bottle, Carbonation, Lengthened, Solubility, Vessel, Warmest, advise};
use crate::measure::{Pressure, Temperature, Volume};
use crate::report::{self, Gas, Held, Kept};

const EXAMPLE: &str = "bench carbonate 4 volumes at 4 C";

/// The pressure to set for a carbonation, or what a pressure gives; what a closed bottle comes to when it warms; what is
/// left of a lengthener's gas in a drink.
#[derive(Debug, Clone, clap::Args)]
#[command(
    allow_negative_numbers = true,
    after_help = "Examples:\n  bench carbonate 4 volumes at 4 C\n  bench carbonate 700 ml 12 % 30 psi at 2 C --bottle pet --brim 750ml\n  bench carbonate 120 ml of 4 volumes at 4 C into 60 ml of 25 %"
)]
pub(super) struct Args {
    /// Volumes or g/L of gas, or psi or bar on the gauge; a strength; 'at' a temperature (4 C if not said); 'into' a flat
    /// drink it lengthens
    #[arg(required = true, value_name = "QUESTION")]
    asked: Vec<String>,
    /// The bottle it is closed in: sparkling, beer, pet, can, still wine, swing-top
    #[arg(long, value_name = "KIND", value_parser = vessel)]
    bottle: Option<Vessel>,
    /// What the bottle holds to the brim
    #[arg(long, value_name = "VOLUME")]
    brim: Option<Volume>,
    /// The warmest it may meet (30 C)
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    warmest: Option<Temperature>,
}

/// The words for the vessels.
const VESSELS: [(&str, Vessel); 6] = [
    ("sparkling", Vessel::SparklingWineBottle),
    ("beer", Vessel::BeerBottle),
    ("pet", Vessel::PetBottle),
    ("can", Vessel::Can),
    ("still wine", Vessel::StillWineBottle),
    ("swing-top", Vessel::SwingTop),
];

fn vessel(text: &str) -> Result<Vessel, String> {
    let word = text.trim().to_lowercase().replace('-', " ");
    let names: Vec<&str> = VESSELS.iter().map(|(name, _)| *name).collect();
    VESSELS
        .into_iter()
        .find(|(name, _)| name.replace('-', " ") == word)
        .map(|(_, vessel)| vessel)
        .ok_or_else(|| format!("allowed are {}", names.join(", ")))
}

/// A fridge, °C.
const FRIDGE: f64 = 4.0;

/// Gas typed in one way or the other.
enum Typed {
    Held(Carbonation),
    Under(Pressure),
}

pub(super) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.asked);
    let mut at = Temperature::clamped(FRIDGE);
    let (mut head, mut flat) = (None, None);
    let mut metric = args.brim.is_some();
    for (word, text) in clauses(&text, &["at", "into"]) {
        let mut clause = Clause::read(word, text, desk)?;
        metric |= clause.is_metric();
        match word {
            "at" => at = clause.bare_temperature()?.ok_or_else(|| missing("the temperature", EXAMPLE))?,
            "into" => flat = Some(clause.liquid()?),
            _ => {
                clause.says(&["water", "soda"]);
                head = Some((gas(&mut clause)?, clause.liquid()?));
            }
        }
        clause.done(EXAMPLE)?;
    }
    let (typed, drink) = head.ok_or_else(|| missing("the gas", EXAMPLE))?;
    let strength = drink.contents.strength();
    let solubility = Solubility::of(strength, at)?;
    let held = match typed {
        Typed::Held(held) => held,
        Typed::Under(pressure) => solubility.held_at(pressure)?,
    };
    let pressure = solubility.pressure_for(held);
    let kept = flat.map(|flat| kept(&drink, held, &flat, at)).transpose()?;
    let bottled = match args.bottle {
        Some(vessel) => Some(bottled(args, vessel, &drink, pressure, at)?),
        None if args.brim.is_some() || args.warmest.is_some() => {
            return Err(missing(
                "the kind of bottle, --bottle,",
                "bench carbonate 4 volumes at 4 C --bottle pet",
            ));
        }
        None => None,
    };
    let gas = Gas { strength, at, held, pressure, ground: solubility.ground(), bottled, kept };
    Ok(Answer::new(report::gas(&gas, unit_for(desk, metric))))
}

/// The gas, taken out of what was typed.
fn gas(clause: &mut Clause<'_>) -> Result<Typed, Failure> {
    if let Some(volumes) = clause.gas_volumes() {
        return Ok(Typed::Held(Carbonation::from_volumes(volumes)?));
    }
    if let Some(pressure) = clause.pressure() {
        return Ok(Typed::Under(pressure));
    }
    if let Some(held) = clause.concentration() {
        return Ok(Typed::Held(Carbonation::from_concentration(held)?));
    }
    Err(missing("the gas, as volumes, g/L, psi or bar,", EXAMPLE))
}

fn kept(drink: &Liquid, held: Carbonation, flat: &Liquid, at: Temperature) -> Result<Kept, Failure> {
    if drink.volume.is_none() || flat.volume.is_none() {
        return Err(missing(
            "how much of the lengthener, and of the drink after 'into',",
            "bench carbonate 120 ml of 4 volumes at 4 C into 60 ml of 25 %",
        ));
    }
    let lengthened = Lengthened::of(&drink.parts()?, held, &flat.parts()?)?;
    Ok(Kept { lengthened, glass: lengthened.in_open_glass(at)? })
}

/// A closed bottle; without volumes 750 ml in 785, as a bottle for sparkling wine is filled.
fn bottled(
    args: &Args,
    vessel: Vessel,
    drink: &Liquid,
    pressure: Pressure,
    at: Temperature,
) -> Result<Held, Failure> {
    let brim =
        args.brim.unwrap_or_else(|| Volume::clamped(drink.volume.map_or(785.0, |v| v.ml() * 785.0 / 750.0)));
    let liquid = drink.volume.unwrap_or_else(|| Volume::clamped(brim.ml() * 750.0 / 785.0));
    if liquid > brim {
        return Err(Failure::mistake(format!(
            "{liquid:.0} does not go into a bottle of {brim:.0} to the brim"
        )));
    }
    let headspace = Volume::clamped(brim.ml() - liquid.ml());
    let bottle = Bottle::filled_at(drink.contents.strength(), liquid, headspace, pressure, at)?;
    let warmest = args.warmest.map_or(Warmest::Room, Warmest::Of);
    advise(vessel, &bottle, warmest)?;
    Ok(Held { vessel, bottle, warmest: warmest.temperature() })
}

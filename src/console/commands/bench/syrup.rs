//! `bench syrup`: from the making to the figures, and from one Brix to another.

use super::asked::{Clause, clauses, missing, unit_for};
use crate::console::commands::joined;
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::liquid::Syrup;
use crate::measure::{ML_PER_OUNCE, Mass, Temperature, Volume};
use crate::report;

const EXAMPLE: &str = "bench syrup 2:1 making 700 ml";

/// A syrup from its making: by weight unless 'by volume' is said. Says what it comes to, how much it makes, and whether
/// it crystallises.
#[derive(Debug, Clone, clap::Args)]
#[command(
    allow_negative_numbers = true,
    after_help = "Examples:\n  bench syrup 2:1 making 700 ml\n  bench syrup 1 l of 66 Brix to 50 Brix"
)]
pub(super) struct Args {
    /// A ratio sugar:water, masses of sugar and water, a Brix or g/L; 'by volume', 'making' a volume, 'to' another Brix,
    /// 'at' a temperature
    #[arg(required = true, value_name = "QUESTION")]
    asked: Vec<String>,
}

pub(super) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.asked);
    let (mut making, mut to, mut at, mut by_volume) = (None, None, None, false);
    let (mut have, mut parts_of_water) = (None, None);
    let mut metric = false;
    for (word, text) in clauses(&text, &["making", "to", "at", "by"]) {
        let mut clause = Clause::read(word, text, desk)?;
        metric |= clause.is_metric();
        match word {
            "making" => making = Some(clause.volume().ok_or_else(|| missing("how much to make", EXAMPLE))?),
            "to" => match (clause.brix(), clause.number()) {
                (Some(brix), _) => to = Some(brix),
                // `2 to 1` is a ratio.
                (None, Some(number)) => parts_of_water = Some(number),
                (None, None) => return Err(missing("the Brix to reach, such as 50 Brix,", EXAMPLE)),
            },
            "at" => at = Some(clause.bare_temperature()?.ok_or_else(|| missing("the temperature", EXAMPLE))?),
            "by" if clause.says(&["volume", "cup", "cups"]) => by_volume = true,
            "by" if clause.says(&["weight", "mass"]) => {}
            "by" => return Err(missing("'weight' or 'volume' after 'by'", EXAMPLE)),
            _ => {
                have = Some(clause);
                continue;
            }
        }
        clause.done(EXAMPLE)?;
    }
    let mut have = have.ok_or_else(|| missing("what the syrup is made of", EXAMPLE))?;
    let syrup = match (parts_of_water, have.number()) {
        (Some(water), Some(sugar)) => of_ratio(sugar, water, by_volume)?,
        (Some(_), None) => return Err(missing("the Brix to reach, such as 50 Brix,", EXAMPLE)),
        (None, None) => read(&mut have, by_volume)?,
        (None, Some(_)) => return Err(missing("the water, as in 2:1,", EXAMPLE)),
    };
    have.says(&["sugar", "water"]);
    have.says(&["sugar", "water"]);
    have.done(EXAMPLE)?;
    let syrup = match making {
        Some(volume) => syrup.made_to(volume)?,
        None => syrup,
    };
    let addition = to.map(|brix| Ok::<_, Failure>((brix, syrup.to_reach(brix)?))).transpose()?;
    let mut temperatures = vec![Temperature::clamped(20.0), Temperature::clamped(4.0)];
    if let Some(at) = at {
        syrup.saturation(at)?;
        temperatures = vec![at];
    }
    let made = report::Made { syrup, by_volume, addition, temperatures };
    Ok(Answer::new(report::syrup(&made, unit_for(desk, metric))?))
}

/// So many cups of each, or so many half kilograms.
fn of_ratio(sugar: f64, water: f64, by_volume: bool) -> Result<Syrup, Failure> {
    if by_volume {
        let cups = |count: f64| Volume::new(count * 8.0 * ML_PER_OUNCE);
        Ok(Syrup::by_volume(cups(sugar)?, cups(water)?)?)
    } else {
        let weighed = |count: f64| Mass::new(500.0 * count);
        Ok(Syrup::by_mass(weighed(sugar)?, weighed(water)?)?)
    }
}

/// The syrup that a text stands for: a litre of it where only a Brix was typed.
fn read(have: &mut Clause<'_>, by_volume: bool) -> Result<Syrup, Failure> {
    if let Some((sugar, water)) = have.ratio() {
        return of_ratio(sugar, water, by_volume);
    }
    if let Some(brix) = have.brix() {
        return Ok(Syrup::of_brix(brix, have.volume().unwrap_or(Volume::clamped(1000.0)))?);
    }
    if let Some(held) = have.concentration() {
        return Ok(Syrup::of_concentration(held, have.volume().unwrap_or(Volume::clamped(1000.0)))?);
    }
    if let Some(sugar) = have.mass() {
        let water = match (have.mass(), have.volume()) {
            (Some(mass), _) => mass,
            (None, Some(volume)) => crate::liquid::Parts::water(volume).mass(),
            (None, None) => return Err(missing("the water, by weight or volume,", EXAMPLE)),
        };
        return Ok(Syrup::by_mass(sugar, water)?);
    }
    if let (Some(sugar), Some(water)) = (have.volume(), have.volume()) {
        return Ok(Syrup::by_volume(sugar, water)?);
    }
    Err(missing("the making, such as 2:1 or 500 g sugar 250 g water,", EXAMPLE))
}

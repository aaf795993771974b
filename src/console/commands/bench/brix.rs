//! `bench brix`: sugar by mass, by volume and as a ratio.

use super::asked::{Clause, clauses, missing};
use crate::console::commands::joined;
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::liquid::sucrose;
use crate::measure::{Brix, Temperature};
use crate::report;

const EXAMPLE: &str = "bench brix 50";

/// What a Brix is in g/L and as a ratio, and the other way round; its density at a temperature.
#[derive(Debug, Clone, clap::Args)]
#[command(
    allow_negative_numbers = true,
    after_help = "Examples:\n  bench brix 50\n  bench brix 614.8 g/L at 4 C"
)]
pub(super) struct Args {
    /// Degrees Brix, g/L of sugar, or a ratio by weight; 'at' a temperature for the density
    #[arg(required = true, value_name = "QUESTION")]
    asked: Vec<String>,
}

pub(super) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.asked);
    let mut at = Temperature::clamped(20.0);
    let mut brix = None;
    for (word, text) in clauses(&text, &["at"]) {
        let mut clause = Clause::read(word, text, desk)?;
        if word == "at" {
            at = clause.bare_temperature()?.ok_or_else(|| missing("the temperature", EXAMPLE))?;
        } else {
            brix = if let Some(brix) = clause.brix() {
                Some(brix)
            } else if let Some(held) = clause.concentration() {
                Some(Brix::new(100.0 * sucrose::mass_fraction(held)?)?)
            } else if let Some((sugar, water)) = clause.ratio() {
                Some(Brix::new(100.0 * sugar / (sugar + water))?)
            } else if let Some(number) = clause.number() {
                Some(Brix::new(number)?)
            } else {
                None
            };
        }
        clause.done(EXAMPLE)?;
    }
    let brix = brix.ok_or_else(|| missing("a Brix or g/L", EXAMPLE))?;
    Ok(Answer::new(report::brix(&report::Reading { brix, at })?))
}

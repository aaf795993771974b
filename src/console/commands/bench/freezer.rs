//! `bench freezer`: whether something pours from the freezer, and how full its bottle may be.

use super::asked::{Clause, clauses, is_ingredient, liquid_named, missing, unit_for};
use crate::book::Method;
use crate::console::commands::balance::{method, spec_named};
use crate::console::commands::joined;
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::drink::{before_ice, figures};
use crate::liquid::{Parts, freezing};
use crate::measure::{Temperature, Volume};
use crate::report::{self, Freezer, InFreezer};

const EXAMPLE: &str = "bench freezer 20 % 95 g/L at -18 C";

/// Where a liquid freezes, how much of it is ice in the freezer, how strong or sweet it must be to pour, and how full its
/// bottle may be.
#[derive(Debug, Clone, clap::Args)]
#[command(
    allow_negative_numbers = true,
    after_help = "Examples:\n  bench freezer 20 % 95 g/L at -18 C\n  bench freezer dry martini --bottle 700ml"
)]
pub(super) struct Args {
    /// A strength and g/L of sugar, an ingredient, or a drink; 'at' a temperature (-18 C if not said)
    #[arg(required = true, value_name = "WHAT")]
    asked: Vec<String>,
    /// The bottle it goes into
    #[arg(long, value_name = "VOLUME")]
    bottle: Option<Volume>,
    /// For a drink typed in lines: stirred, shaken, built, blended or no ice
    #[arg(long, value_name = "METHOD", value_parser = method)]
    method: Option<Method>,
}

pub(super) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.asked);
    let mut what = "";
    let mut at = Temperature::clamped(freezing::HOUSEHOLD);
    for (word, text) in clauses(&text, &["at"]) {
        if word.is_empty() {
            what = text;
            continue;
        }
        let mut clause = Clause::read(word, text, desk)?;
        at = clause.bare_temperature()?.ok_or_else(|| missing("the temperature", EXAMPLE))?;
        clause.done(EXAMPLE)?;
    }
    if what.is_empty() {
        return Err(missing("what goes into the freezer", EXAMPLE));
    }
    let (title, held, colder) = held(desk, what, args.method)?;
    let at = colder.unwrap_or(at);
    if let Some(bottle) = args.bottle.filter(|b| *b == Volume::ZERO) {
        return Err(Failure::mistake(format!("a bottle of {bottle} holds nothing"))
            .hint("for example: --bottle 700ml"));
    }
    let freezer = Freezer { title, held, at, bottle: args.bottle };
    Ok(Answer::new(report::freezer(&freezer, unit_for(desk, true))?))
}

/// What was asked about, what goes in, and a temperature that stood in it.
type Held = (String, Vec<InFreezer>, Option<Temperature>);

/// What goes in: a drink both as poured and with its water.
fn held(desk: &Desk<'_>, what: &str, method: Option<Method>) -> Result<Held, Failure> {
    let one = |parts: Parts| vec![InFreezer { label: String::new(), liquid: parts }];
    let typed = Clause::read("", what, desk);
    if let Ok(mut clause) = typed
        && clause.is_quantities()
        && !clause.is_amount_alone()
    {
        // `20 % -18 C` needs no 'at'.
        let at = clause.temperature();
        let liquid = clause.liquid()?;
        clause.done(EXAMPLE)?;
        return Ok((what.to_owned(), one(liquid.parts()?), at));
    }
    if is_ingredient(desk, what) {
        let (name, contents) = liquid_named(desk, what)?;
        return Ok((name, one(Parts::of_liquid(Volume::clamped(1000.0), &contents)?), None));
    }
    let (spec, _) = spec_named(desk, what, method)?;
    let held = vec![
        InFreezer { label: "as poured, no water".to_owned(), liquid: before_ice(&spec)? },
        InFreezer { label: "with its water, as served".to_owned(), liquid: figures(&spec)?.liquid },
    ];
    Ok((spec.name, held, None))
}

//! `bench cut`: water that brings a strength down.

use super::asked::{
    Clause, Liquid, amount_and_name, clauses, is_ingredient, liquid_named, missing, unit_for,
};
use crate::console::commands::joined;
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::liquid::{Parts, naive_water, water_to_cut};
use crate::report;

const EXAMPLE: &str = "bench cut 700 ml of 57.7 % to 43 %";

/// Water that brings a spirit or a liqueur down to a strength, contraction counted.
#[derive(Debug, Clone, clap::Args)]
#[command(
    allow_negative_numbers = true,
    after_help = "Examples:\n  bench cut 700 ml of 57.7 % to 43 %\n  bench cut 96 % to 1 l of 40 %"
)]
pub(super) struct Args {
    /// What there is, by its strength or by name, then 'to' and what it should be; a volume after 'to' is how much to make
    #[arg(required = true, value_name = "QUESTION")]
    asked: Vec<String>,
}

pub(super) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.asked);
    let parted = clauses(&text, &["to"]);
    let [(_, have), ("to", want)] = parted[..] else {
        return Err(missing("what it should come down to, after 'to',", EXAMPLE));
    };
    let (mut have, mut want) = (Clause::read("", have, desk)?, Clause::read("to", want, desk)?);
    let unit = unit_for(desk, have.is_metric() || want.is_metric());
    let liquid = liquid_of(desk, &mut have)?;
    let made = want.volume();
    let to = want.strength()?.ok_or_else(|| missing("the strength it should come down to", EXAMPLE))?;
    want.done(EXAMPLE)?;
    let mut parts = liquid.parts()?;
    let water = water_to_cut(&parts, to)?;
    if let Some(made) = made {
        let whole = parts.plus(&Parts::water(water)).volume().ml();
        parts = parts.times(made.ml() / whole);
    }
    let water = water_to_cut(&parts, to)?;
    let cut = report::Cut { from: parts, to, water, naive: naive_water(&parts, to) };
    Ok(Answer::new(report::cut(&cut, unit)))
}

/// What there is, by its figures or by an ingredient's name: `700 ml of 57.7 %`, `700 ml overproof rum`.
fn liquid_of(desk: &Desk<'_>, have: &mut Clause<'_>) -> Result<Liquid, Failure> {
    let (volume, name) = amount_and_name(have.text, desk);
    if !have.is_quantities() && is_ingredient(desk, name) {
        let (_, contents) = liquid_named(desk, name)?;
        return Ok(Liquid { volume, contents, strong: true });
    }
    let liquid = have.liquid()?;
    if !liquid.strong {
        return Err(missing("the strength it has now", EXAMPLE));
    }
    have.done(EXAMPLE)?;
    Ok(liquid)
}

//! `bench fortify`: a stronger spirit that brings a strength up.

use super::asked::{Clause, clauses, missing, unit_for};
use crate::console::commands::joined;
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::liquid::spirit_to_fortify;
use crate::report;

const EXAMPLE: &str = "bench fortify 750 ml of 12 % to 18 % with 40 %";

/// How much of a stronger spirit brings a wine, a cordial or an infusion up to a strength.
#[derive(Debug, Clone, clap::Args)]
#[command(
    allow_negative_numbers = true,
    after_help = "Examples:\n  bench fortify 750 ml of 12 % to 18 % with 40 %\n  bench fortify 1 l of 0 % 300 g/L sugar to 20 % with 60 %"
)]
pub(super) struct Args {
    /// What there is, 'to' a strength, 'with' a stronger one
    #[arg(required = true, value_name = "QUESTION")]
    asked: Vec<String>,
}

pub(super) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.asked);
    let (mut have, mut to, mut with) = (None, None, None);
    for (word, text) in clauses(&text, &["to", "with"]) {
        let clause = Clause::read(word, text, desk)?;
        match word {
            "to" => to = Some(clause),
            "with" => with = Some(clause),
            _ => have = Some(clause),
        }
    }
    let mut have = have.ok_or_else(|| missing("what there is", EXAMPLE))?;
    let mut to = to.ok_or_else(|| missing("the strength it should come up to, after 'to',", EXAMPLE))?;
    let mut with = with.ok_or_else(|| missing("what goes in, after 'with',", EXAMPLE))?;
    let metric = have.is_metric() || to.is_metric() || with.is_metric();
    let liquid = have.liquid()?;
    let wanted = to.strength()?.ok_or_else(|| missing("the strength it should come up to", EXAMPLE))?;
    let spirit = with.liquid()?;
    if !spirit.strong {
        return Err(missing("the strength of what goes in", EXAMPLE));
    }
    for clause in [&have, &to, &with] {
        clause.done(EXAMPLE)?;
    }
    let (from, spirit) = (liquid.parts()?, spirit.parts()?);
    let added = spirit_to_fortify(&from, &spirit, wanted)?;
    let spirit = spirit.times(added.ml() / spirit.volume().ml());
    let fortified = report::Fortified { from, spirit, to: wanted };
    Ok(Answer::new(report::fortified(&fortified, unit_for(desk, metric))))
}

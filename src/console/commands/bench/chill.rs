//! `bench chill`: the published dilution beside a balance of heat.

use super::ice::{IceArgs, needs_ice};
use crate::book::Method;
use crate::console::commands::balance::{method, spec_named};
use crate::console::commands::{joined, view};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::drink::{Spec, before_ice, figures, figures_with};
use crate::liquid::chill::{Chilled, Conditions, Ends, chill, ends_at};
use crate::liquid::{Basis, Dilution, Parts, dilution};
use crate::measure::Grade;
use crate::report::{self, Compared, Way};

/// A drink's dilution by the published figure and by a balance of heat, side by side, with the gap explained. What you know
/// of your ice can be said.
#[derive(Debug, Clone, clap::Args)]
#[command(
    allow_negative_numbers = true,
    after_help = "Examples:\n  bench chill negroni\n  bench chill daiquiri --ice-at -10 C --vessel 400 g"
)]
pub(super) struct Args {
    /// A template's name, the number of a result, or lines with commas between
    #[arg(required = true, value_name = "SPEC")]
    spec: Vec<String>,
    /// stirred, shaken, built or blended
    #[arg(long, value_name = "METHOD", value_parser = method)]
    method: Option<Method>,
    #[command(flatten)]
    ice: IceArgs,
}

/// What a drink comes to by a balance of heat.
pub(in crate::console) fn by_heat(
    spec: &Spec<'_>,
    conditions: &Conditions,
) -> Result<(Chilled, Dilution), Failure> {
    needs_ice(spec.method)?;
    let before = before_ice(spec)?;
    let chilled = chill(&before, spec.melt(), conditions)?;
    let share = Parts::water_weighing(chilled.water()).volume().ml() / before.volume().ml();
    Ok((chilled, Dilution { share, basis: Basis::Heat }))
}

pub(super) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let (mut spec, typed) = spec_named(desk, &joined(&args.spec), args.method)?;
    if let Some(method) = args.method {
        spec.method = method;
    }
    let desk = desk.in_unit_of(&spec, typed);
    let conditions = args.ice.conditions()?;
    let (chilled, by_balance) = by_heat(&spec, &conditions)?;
    let before = before_ice(&spec)?;
    let melt = spec.melt();
    let published = dilution(melt, before.strength());
    let water = Parts::water(crate::measure::Volume::clamped(before.volume().ml() * published.share)).mass();
    let mut ways = vec![
        Way {
            figures: figures_with(&spec, published)?,
            ends: ends_at(&before, melt, water, &conditions).ok(),
        },
        Way { figures: figures_with(&spec, by_balance)?, ends: Some(chilled.at) },
    ];
    if spec.over_ice().measured.is_some() {
        ways.push(Way { figures: figures(&spec)?, ends: None });
    }
    let whole_way = Conditions { ends: Some(Ends::Approach(Grade::clamped(1.0))), ..conditions };
    let (all_the_way, all_share) = by_heat(&spec, &whole_way)?;
    let compared = Compared {
        name: spec.name.clone(),
        melt,
        ways,
        chilled,
        conditions,
        at_equilibrium: (all_share.share, all_the_way.at),
    };
    Ok(Answer::new(report::compared(&compared, view(&desk))))
}

//! What a pour that is off does: the options of `balance` that ask for it.

use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::drink::{Figures, Melting, Over, Spec, Tolerance, tolerance};
use crate::liquid::Basis;
use crate::measure::{Given, Measures, Volume, read_given};

/// Most that a pour may be asked to be off by: two ounces of each line, or half of it.
const MOST_ML: f64 = 60.0;
const MOST_PERCENT: f64 = 50.0;

/// By how much a pour is off.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Off {
    /// By the smallest mark of the jigger.
    AMark,
    /// By what was said.
    By(Over),
}

/// The options.
#[derive(Debug, Clone, clap::Args)]
pub(super) struct ToleranceArgs {
    /// What each line poured too much or too little does, alone and at worst together: by the jigger's smallest mark, or
    /// by the volume or per cent given here
    #[arg(long, value_name = "OFF", value_parser = off, num_args = 0..=1, default_missing_value = "")]
    tolerance: Option<Off>,
    /// With --tolerance: how many serves are measured at once
    #[arg(long, value_name = "N", requires = "tolerance", value_parser = clap::value_parser!(u32).range(1..=10_000))]
    serves: Option<u32>,
}

impl ToleranceArgs {
    /// What was asked of a drink with these figures; none if nothing was.
    pub(super) fn of<'s>(
        &self,
        desk: &Desk<'_>,
        spec: &Spec<'s>,
        melting: Melting,
    ) -> Result<Option<Tolerance<'s>>, Failure> {
        let Some(asked) = self.tolerance else { return Ok(None) };
        let smallest = desk.house.jigger.marks().first().copied().unwrap_or(Volume::ZERO);
        let over = match asked {
            Off::AMark => Over::Volume(smallest),
            Off::By(over) => over,
        };
        Ok(Some(tolerance(spec, over, self.serves.unwrap_or(1), melting, &desk.house.measures)?))
    }
}

/// How the water is found while amounts slip: a dilution that was given, or found for this drink alone, is held.
pub(super) fn melting(figures: &Figures, spec: &Spec<'_>, published: bool) -> Melting {
    match figures.dilution.basis {
        Basis::Given | Basis::Heat => Melting::Held(figures.dilution),
        _ if published => Melting::Over(spec.melt().into()),
        _ => Melting::Over(spec.over_ice()),
    }
}

fn off(text: &str) -> Result<Off, String> {
    if text.is_empty() {
        return Ok(Off::AMark);
    }
    over(text).map(Off::By)
}

fn over(text: &str) -> Result<Over, String> {
    let advice =
        "write a volume or per cent, such as 1/4 oz, 10 ml or 10 %; the drink comes before --tolerance";
    let given = read_given(text, &Measures::default()).map_err(|error| error.to_string())?;
    match given.as_slice() {
        [Given::Volume(volume)] if volume.ml() > 0.0 && volume.ml() <= MOST_ML => Ok(Over::Volume(*volume)),
        [Given::Volume(_)] => Err("a pour is off by more than nothing and at most 60 ml (2 oz)".to_owned()),
        [Given::Percent(percent)] if *percent > 0.0 && *percent <= MOST_PERCENT => {
            Ok(Over::Share(percent / 100.0))
        }
        [Given::Percent(_)] => Err("a pour is off by more than nothing and at most 50 %".to_owned()),
        [Given::Number(_)] => Err(format!("it has no unit; {advice}")),
        _ => Err(advice.to_owned()),
    }
}

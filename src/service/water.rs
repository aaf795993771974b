//! The water that a batch takes, and what common practice would take in its place.

use super::error::ServiceError;
use super::style::Style;
use crate::book::Method;
use crate::drink::{Figures, Spec};
use crate::liquid::chill::{Conditions, Ends, chill};
use crate::liquid::{Dilution, Melt, Parts};
use crate::measure::{Strength, Temperature, Volume};

/// What water is wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WaterWish {
    /// What the method would have melted into one serve, less what ice brings at service.
    Method,
    /// A share of what is poured.
    Share(f64),
}

/// The water of a serve.
#[derive(Debug, Clone, PartialEq)]
pub struct Water {
    /// What goes into the batch for each serve.
    pub a_serve: Volume,
    /// What the ice brings at service.
    pub at_service: Volume,
    /// What goes into the batch, as a share of the batch with it.
    pub share: f64,
    /// How the whole was found.
    pub dilution: Dilution,
    /// What is usual, where there is such a rule.
    pub practice: Option<PracticeWater>,
}

/// A rule of thumb for the water; *common practice, no source*.
#[derive(Debug, Clone, PartialEq)]
pub struct PracticeWater {
    /// The rule, in words.
    pub rule: &'static str,
    /// Least and most for a serve.
    pub a_serve: (Volume, Volume),
    /// How strong the drink is with the least, then with the most.
    pub strength: (Strength, Strength),
}

/// Where a fridge keeps things, °C.
pub const FRIDGE: f64 = 4.0;
/// Where a punch stands over a block of ice, °C; *common practice, no source*.
const PUNCH_AT: f64 = 1.0;

/// The water of a serve.
///
/// # Model
/// All of it is what the method gives one serve ([`Figures::water`]). From the fridge over ice, and over a block, the ice
/// at service melts what a balance of heat says for a drink at 4 °C that has its water in already; the batch takes the
/// rest, found by going round until both agree.
///
/// # Errors
/// [`ServiceError::Liquid`] where the heat balance has no answer.
pub(super) fn water(
    spec: &Spec<'_>,
    style: Style,
    wish: WaterWish,
    before: &Parts,
    figures: &Figures,
) -> Result<Water, ServiceError> {
    let whole = figures.water.ml();
    let poured = before.volume().ml();
    let (in_batch, at_service) = match (wish, style) {
        (WaterWish::Share(share), Style::ToOrder | Style::Long) => (poured * share, 0.0),
        (WaterWish::Share(share), _) => (poured * share, (whole - poured * share).max(0.0)),
        (WaterWish::Method, Style::ToOrder | Style::Long) => (0.0, whole),
        (WaterWish::Method, Style::Chilled | Style::Freezer | Style::Tap) => (whole, 0.0),
        (WaterWish::Method, Style::OverIce | Style::Punch) => shared(before, style, whole)?,
    };
    let served_by_ice = matches!(style, Style::OverIce | Style::Punch | Style::ToOrder | Style::Long);
    let batch = before.plus(&Parts::water(Volume::clamped(in_batch))).volume().ml();
    Ok(Water {
        a_serve: Volume::clamped(in_batch),
        at_service: Volume::clamped(if served_by_ice { at_service } else { 0.0 }),
        share: if batch > 0.0 { in_batch / batch } else { 0.0 },
        dilution: figures.dilution,
        practice: if whole > 0.0 { practice(spec, figures) } else { None },
    })
}

/// What goes in and what the ice brings, ml a serve.
fn shared(before: &Parts, style: Style, whole: f64) -> Result<(f64, f64), ServiceError> {
    let conditions = Conditions { drink: Temperature::clamped(FRIDGE), ..Conditions::default() };
    let (melt, conditions) = match style {
        Style::Punch => {
            let ends = Some(Ends::At(Temperature::clamped(PUNCH_AT)));
            (Melt::Stirred, Conditions { ends, ..conditions })
        }
        _ => (Melt::BuiltShort, conditions),
    };
    let mut in_batch = whole;
    for _ in 0..12 {
        let drink = before.plus(&Parts::water(Volume::clamped(in_batch)));
        let melted = Parts::water_weighing(chill(&drink, melt, &conditions)?.water()).volume().ml();
        in_batch = (whole - melted).max(0.0);
    }
    Ok((in_batch, whole - in_batch))
}

/// Half an ounce for a stirred serve, three quarters for a shaken one, a fifth to a sixth of the drink where it is made of
/// equal parts.
fn practice(spec: &Spec<'_>, figures: &Figures) -> Option<PracticeWater> {
    let poured = figures.poured.ml();
    let ounces = |ounces: f64| Volume::from_ounces(ounces).ok().map(|v| (v, v));
    let (rule, a_serve) = match (spec.equal_parts().is_some(), spec.method) {
        (true, Method::Stirred | Method::Built) => {
            let part_of_all = |below: f64| Volume::clamped(poured / (below - 1.0));
            ("a sixth to a fifth of the drink, for equal parts", (part_of_all(6.0), part_of_all(5.0)))
        }
        (_, Method::Stirred) => ("half an ounce a serve, stirred", ounces(0.5)?),
        (_, Method::Shaken) => ("three quarters of an ounce a serve, shaken", ounces(0.75)?),
        _ => return None,
    };
    let undiluted = figures.liquid.without_water(Parts::water(figures.water).mass());
    let strength = |water: Volume| undiluted.plus(&Parts::water(water)).strength();
    Some(PracticeWater { rule, a_serve, strength: (strength(a_serve.0), strength(a_serve.1)) })
}

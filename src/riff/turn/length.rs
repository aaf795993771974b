//! Longer drinks, and shorter ones.

use super::shape::{SMALL_ML, Shape};
use super::strength::is_soda;
use super::{Bench, Done, Figure};
use crate::book::{Family, Ingredient, Kind, Method, Role};
use crate::riff::error::RiffError;

/// A long drink is made longer by this, a short one by a lengthener of this share of what is in the glass.
const LONGER_TIMES: f64 = 1.5;
const LENGTHENER_SHARE: f64 = 0.6;
/// What stays, in a shorter drink, of the lengthener and of all else that is weaker than the whole.
const LENGTHENER_STAYS: f64 = 0.5;
const WEAK_STAYS: f64 = 0.67;
/// A longer drink is at least so many times as large, a shorter one at least so many times as strong.
const LONGER_AT_LEAST: f64 = 1.05;
const STRONGER_AT_LEAST: f64 = 1.03;

/// More in the glass: more of the lengthener, or one that suits the family.
pub(super) fn longer<'b>(shape: &mut Shape<'b>, bench: &Bench<'_, 'b, '_>) -> Result<(), RiffError> {
    let since = shape.figures();
    let longs: Vec<usize> =
        (0..shape.spec.lines.len()).filter(|at| shape.spec.lines[*at].is_lengthener()).collect();
    match (shape.spec.family, shape.spec.method) {
        (_, Method::Blended) => {
            return Err(shape.blocked(
                "it is blended, and a lengthener would melt it",
                "ask for its shaken sister, or lengthen by hand with 'balance'",
            ));
        }
        _ if !longs.is_empty() => {
            for at in longs {
                let more = shape.spec.lines[at].volume.map_or(0.0, |v| v.ml()) * LONGER_TIMES;
                shape.pour_line(at, more, (1.0, 1.25), bench.house);
            }
        }
        (Some(Family::FlipAndCream), _) => {
            let milk = |i: &Ingredient| i.kind == Kind::DairyAndEgg && i.roles.contains(&Role::Lengthener);
            lengthen(shape, bench, LENGTHENER_SHARE, milk)?;
        }
        (Some(Family::Hot), _) => {
            let water = |i: &Ingredient| is_water(i) && i.roles.contains(&Role::Lengthener);
            lengthen(shape, bench, LENGTHENER_SHARE, water)?;
        }
        _ => lengthen(shape, bench, LENGTHENER_SHARE, is_soda)?,
    }
    shape.follow(&since);
    shape.promise(Figure::Served, LONGER_AT_LEAST * since.served.ml(), f64::INFINITY);
    Ok(())
}

/// Still water, hot or cold.
pub(super) fn is_water(i: &Ingredient) -> bool {
    let none = |c: crate::measure::Concentration| c.grams_per_litre() == 0.0;
    i.kind == Kind::Mixer && i.makeup.is_some_and(|m| !m.carbonated && none(m.sugar) && none(m.acid))
}

/// Adds a lengthener, of a share of what is in the glass, and builds long what was stirred.
pub(super) fn lengthen<'b>(
    shape: &mut Shape<'b>,
    bench: &Bench<'_, 'b, '_>,
    share: f64,
    fits: impl Fn(&Ingredient) -> bool,
) -> Result<(), RiffError> {
    let ml = share * shape.figures().served.ml();
    let there = shape.spec.lines.iter().position(|l| fits(l.ingredient));
    if let Some(at) = there {
        let more = shape.spec.lines[at].volume.map_or(0.0, |v| v.ml()) + ml;
        shape.pour_line(at, more, (0.75, 1.25), bench.house);
        return Ok(());
    }
    let Some(what) = shape.best(bench, 0, &fits) else {
        return Err(shape.blocked(
            "nothing to lengthen it with may come in that goes with the rest",
            "another drink takes it better; or --with names what it should be lengthened with",
        ));
    };
    shape.add(Role::Lengthener, what, ml, (0.75, 1.25), bench.house);
    shape.note(Done::Added { what, beside: None });
    if shape.spec.method == Method::Stirred {
        shape.set_method(Method::Built);
    }
    if !matches!(shape.spec.family, Some(Family::Hot | Family::FlipAndCream)) {
        shape.spec.family = Some(Family::BuiltLong);
        "highball".clone_into(&mut shape.spec.glass);
    }
    Ok(())
}

/// Less in the glass, and stronger: less of whatever is weaker than the whole.
pub(super) fn shorter<'b>(shape: &mut Shape<'b>, bench: &Bench<'_, 'b, '_>) -> Result<(), RiffError> {
    let since = shape.figures();
    let strength = |i: &Ingredient| i.makeup.map_or(0.0, |m| m.strength.percent_vol());
    let poured: Vec<(usize, f64, f64)> = shape
        .spec
        .lines
        .iter()
        .enumerate()
        .filter_map(|(at, l)| Some((at, l.volume?.ml(), strength(l.ingredient))))
        .collect();
    let all: f64 = poured.iter().map(|(_, ml, _)| ml).sum();
    let mean = poured.iter().map(|(_, ml, vol)| ml * vol).sum::<f64>() / all.max(1.0);
    for (at, ml, vol) in poured.into_iter().filter(|(_, ml, _)| *ml >= SMALL_ML) {
        if vol >= mean {
            let line = &mut shape.spec.lines[at];
            line.limits = line.volume.map(|v| (v, v));
            continue;
        }
        let stays = if shape.spec.lines[at].is_lengthener() { LENGTHENER_STAYS } else { WEAK_STAYS };
        shape.pour_line(at, ml * stays, (0.75, 1.1), bench.house);
    }
    shape.follow(&since);
    let (strong, large) = (since.strength.percent_vol(), since.served.ml());
    if strong <= 0.0 {
        return Err(shape.blocked("it holds no alcohol to be stronger", "ask for it without --shorter"));
    }
    if shape.figures().strength.percent_vol() < STRONGER_AT_LEAST * strong {
        return Err(shape.blocked(
            "everything in it is about as strong as the whole",
            "swap one of its lines for something stronger with --swap X=Y",
        ));
    }
    shape.promise(Figure::Served, 0.0, 0.99 * large);
    shape.promise(Figure::Strength, STRONGER_AT_LEAST * strong, f64::INFINITY);
    Ok(())
}

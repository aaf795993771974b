//! Frozen drinks, and drinks with something sparkling on top.

use super::shape::{SMALL_ML, Shape};
use super::strength::is_soda;
use super::{Bench, Done, Figure, Gone};
use crate::book::{Family, Ingredient, Kind, Method, Role};
use crate::riff::error::RiffError;

/// Cold dulls sweetness: sugar aimed at, against the same drink blended as it is. *Common practice, no source*.
const SWEETER_FROZEN: f64 = 1.25;
/// Sugar that a frozen drink has at least, g/L. *Common practice, no source*.
const LEAST_FROZEN: f64 = 65.0;
/// The sweet line that a drink without one gets, ml.
const ADDED_SWEET_ML: f64 = 7.5;
/// What goes on top, ml.
const ON_TOP_ML: f64 = 90.0;
/// What stays under it: of the spirit in a sour, of the spirit in a clear drink, of anything else.
const SPIRIT_STAYS: f64 = 0.5;
const CLEAR_SPIRIT_STAYS: f64 = 0.25;
const REST_STAYS: f64 = 0.75;
/// What counts as a spirit, % vol.
const SPIRIT_FROM: f64 = 30.0;

fn sparkles(i: &Ingredient) -> bool {
    i.makeup.is_some_and(|m| m.carbonated)
}

/// Blended with ice: what sparkles stays out, the sugar goes up.
pub(super) fn frozen<'b>(shape: &mut Shape<'b>, bench: &Bench<'_, 'b, '_>) -> Result<(), RiffError> {
    if shape.spec.method == Method::Blended {
        return Err(shape.blocked("it is frozen as it is", "ask for it without --frozen"));
    }
    if shape.spec.family == Some(Family::Hot) {
        return Err(shape.blocked("it is a hot drink", "start from a cold one"));
    }
    let bubbly: Vec<usize> =
        (0..shape.spec.lines.len()).rev().filter(|at| sparkles(shape.spec.lines[*at].ingredient)).collect();
    for at in bubbly {
        if !is_soda(shape.spec.lines[at].ingredient) {
            let name = shape.spec.lines[at].ingredient.name.clone();
            return Err(shape.blocked(
                format!("it lives on {name}, whose bubbles do not live through a blender"),
                format!("swap {name} for a juice first, or start from a sour"),
            ));
        }
        shape.drop_line(at, Gone::Bubbles);
    }
    let poured = |l: &crate::drink::Line<'_>| l.volume.is_some_and(|v| v.ml() >= SMALL_ML);
    if shape.spec.lines.iter().filter(|l| poured(l)).count() < 2 {
        return Err(shape.blocked("without its soda there is one line left", "start from a sour"));
    }
    shape.set_method(Method::Blended);
    shape.spec.family = Some(Family::Blended);
    let as_it_is = shape.figures().sugar.grams_per_litre();
    let sweet = |l: &crate::drink::Line<'_>| l.role == Role::Sweet && poured(l);
    if !shape.spec.lines.iter().any(sweet)
        && let Some(syrup) = shape.plain_syrup(bench)
    {
        shape.add(Role::Sweet, syrup, ADDED_SWEET_ML, (1.0, 3.0), bench.house);
        shape.note(Done::Added { what: syrup, beside: None });
    }
    for at in 0..shape.spec.lines.len() {
        let room = if sweet(&shape.spec.lines[at]) { (0.75, 2.0) } else { (0.9, 1.1) };
        shape.widen(at, room, bench.house);
    }
    let cold = shape.figures();
    shape.aim = crate::drink::Aim::of(&cold);
    shape.aim_at(Figure::Sugar, (SWEETER_FROZEN * as_it_is).max(LEAST_FROZEN));
    Ok(())
}

/// Something sparkling on top of less of the rest; the sour stays as sour as it was.
pub(super) fn sparkling<'b>(shape: &mut Shape<'b>, bench: &Bench<'_, 'b, '_>) -> Result<(), RiffError> {
    let refuse = match (shape.spec.family, shape.spec.method) {
        (_, Method::Blended) => {
            Some(("it is blended, and bubbles do not live in slush", "its shaken sister"))
        }
        (Some(Family::Hot), _) => Some(("it is a hot drink", "a cold one")),
        (Some(Family::FlipAndCream), _) => Some((
            "cream and egg yolk curdle under something sharp and sparkling",
            "a sour or a stirred drink",
        )),
        _ => None,
    };
    if let Some((why, other)) = refuse {
        return Err(shape.blocked(why, format!("start from {other}")));
    }
    if shape.spec.lines.iter().any(|l| l.ingredient.kind == Kind::Wine && sparkles(l.ingredient)) {
        return Err(shape.blocked("it has sparkling wine as it is", "ask for it without --sparkling"));
    }
    let since = shape.figures();
    let wine = |i: &Ingredient| {
        i.kind == Kind::Wine && sparkles(i) && i.makeup.is_some_and(|m| m.sugar.grams_per_litre() <= 20.0)
    };
    let long = shape.spec.lines.iter().position(|l| l.is_lengthener());
    let Some(top) =
        shape.best(bench, long.unwrap_or(0), wine).or_else(|| shape.best(bench, long.unwrap_or(0), is_soda))
    else {
        return Err(shape.blocked(
            "nothing that sparkles may come in and goes with the rest",
            "take sparkling wine or soda water off --no, or name one in --have",
        ));
    };
    if let Some(at) = long.filter(|at| sparkles(shape.spec.lines[*at].ingredient)) {
        shape.replace(at, top, Role::Lengthener, ON_TOP_ML, bench.house);
        shape.spec.lines[at].open = false;
    } else {
        shape.add(Role::Lengthener, top, ON_TOP_ML, (0.67, 1.33), bench.house);
        shape.note(Done::Added { what: top, beside: None });
    }
    let clear = matches!(shape.spec.method, Method::Stirred) || shape.spec.family == Some(Family::BuiltShort);
    for at in 0..shape.spec.lines.len() {
        let line = &shape.spec.lines[at];
        let Some(ml) = line.volume.map(|v| v.ml()).filter(|ml| *ml >= SMALL_ML) else { continue };
        if line.is_lengthener() {
            continue;
        }
        let spirit = line.ingredient.makeup.is_some_and(|m| m.strength.percent_vol() >= SPIRIT_FROM);
        let stays = match (spirit && line.role == Role::Base, clear) {
            (true, true) => CLEAR_SPIRIT_STAYS,
            (true, false) => SPIRIT_STAYS,
            (false, _) => REST_STAYS,
        };
        shape.pour_line(at, ml * stays, (0.67, 1.33), bench.house);
    }
    if shape.spec.method == Method::Stirred {
        shape.set_method(Method::Built);
    }
    shape.spec.family = Some(Family::Sparkling);
    "flute".clone_into(&mut shape.spec.glass);
    shape.follow(&since);
    Ok(())
}

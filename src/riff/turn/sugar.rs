//! Less sugar: sparkling water for a sweet soda, drier things for sweet ones, and the sour eased along.

use super::shape::{SMALL_ML, Shape};
use super::strength::is_soda;
use super::{Bench, Done, Figure};
use crate::book::{Ingredient, Kind, Role};
use crate::pairing::flavour_likeness;
use crate::riff::error::RiffError;

/// Sugar aimed at, and the most, as shares of the classic's.
const AIMED: f64 = 0.55;
const MOST: f64 = 0.65;
/// Up to here syrup may bring it back.
const ROOM: f64 = 0.62;
/// Acid and bitterness aimed at, so that the drink stays drinkable.
const EASED: f64 = 0.85;
/// A lengthener this sweet, g/L, gives way.
const SWEET_SODA: f64 = 40.0;
/// Drier things hold at most this share of the sugar, and must be so alike in flavour.
const DRIER: f64 = 0.6;
const ALIKE: f64 = 0.6;
/// A juice or a syrup so alike a soda may flavour the water in its place; a juice sourer than this, g/L, may not.
const OF_IT: f64 = 0.85;
const TOO_SOUR: f64 = 30.0;
/// How many lines are made drier before it is given up.
const MOST_DRIED: usize = 3;
/// Less sugar than this, g/L, is none to speak of.
const NEXT_TO_NONE: f64 = 12.0;
/// Sweet lines below this, ml, are halved by the barspoon: the jigger has nothing as small.
const SMALL_SWEET_ML: f64 = 9.0;
/// So far under the aim, as a share of it, is too dry.
const TOO_DRY: f64 = 0.2;
/// Of a soda's own fruit or root: juice as a share of the soda, syrup in ml.
const JUICE_SHARE: f64 = 0.25;
const SYRUP_ML: f64 = 10.0;

fn sugar(i: &Ingredient) -> f64 {
    i.makeup.map_or(0.0, |m| m.sugar.grams_per_litre())
}

/// Less sugar.
pub(super) fn less<'b>(shape: &mut Shape<'b>, bench: &Bench<'_, 'b, '_>) -> Result<(), RiffError> {
    let had = shape.before.sugar.grams_per_litre();
    if had < NEXT_TO_NONE {
        return Err(shape.blocked(
            format!("its {had:.0} g/L of sugar are next to none as they are"),
            "ask for it without --less-sugar",
        ));
    }
    for at in 0..shape.spec.lines.len() {
        if shape.spec.lines[at].role == Role::Lengthener
            && sugar(shape.spec.lines[at].ingredient) >= SWEET_SODA
        {
            sparkling_water(shape, bench, at)?;
        }
    }
    for at in 0..shape.spec.lines.len() {
        let line = &shape.spec.lines[at];
        let room = match line.role {
            _ if sugar(line.ingredient) < SWEET_SODA => (0.67, 1.25),
            Role::Sweet => (0.33, 1.0),
            Role::Bitter => (0.6, 1.0),
            _ => (0.5, 1.0),
        };
        if line.role == Role::Sweet
            && line.volume.is_some_and(|v| (SMALL_ML..SMALL_SWEET_ML).contains(&v.ml()))
        {
            shape.by_barspoon(at, 1, bench.house);
            continue;
        }
        let line = &shape.spec.lines[at];
        if line.volume.is_some_and(|v| v.ml() >= SMALL_ML) {
            shape.widen(at, room, bench.house);
        }
    }
    shape.aim_at(Figure::Sugar, AIMED * had);
    let sour = shape.before.acid.grams_per_litre();
    if sour > 3.0 {
        shape.aim_at(Figure::Acid, EASED * sour);
    }
    shape.aim.bitterness *= EASED;
    for _ in 0..MOST_DRIED {
        let found = shape.solved(bench.house)?;
        if found.sugar.grams_per_litre() <= 0.6 * had || !drier(shape, bench) {
            break;
        }
    }
    rebalance(shape, bench)?;
    shape.promise(Figure::Sugar, 0.0, MOST * had);
    Ok(())
}

/// Where the drier things brought the sugar too low, a barspoon or two of plain syrup bring it back.
fn rebalance<'b>(shape: &mut Shape<'b>, bench: &Bench<'_, 'b, '_>) -> Result<(), RiffError> {
    let found = shape.solved(bench.house)?;
    let lacks = shape.aim.sugar - found.sugar.grams_per_litre();
    let Some(syrup) = shape.plain_syrup(bench).filter(|_| lacks > TOO_DRY * shape.aim.sugar) else {
        return Ok(());
    };
    let spoon = bench.house.measures.barspoon.ml() / 1000.0 * sugar(syrup);
    let litres = found.served.ml() / 1000.0;
    let room = ROOM * shape.before.sugar.grams_per_litre() - found.sugar.grams_per_litre();
    let spoons = (lacks * litres / spoon).round().min((room * litres / spoon).floor());
    if spoons < 1.0 {
        return Ok(());
    }
    let at = shape.add(Role::Sweet, syrup, SYRUP_ML, (1.0, 1.0), bench.house);
    let count = if spoons < 2.0 { 1 } else { 2 };
    shape.note(Done::Added { what: syrup, beside: None });
    shape.by_barspoon(at, count, bench.house);
    Ok(())
}

/// A sweet lengthener gives way: to a drier one of its flavour, to sparkling water with its own fruit or root, or, where the
/// book has neither, half of it to sparkling water.
fn sparkling_water<'b>(shape: &mut Shape<'b>, bench: &Bench<'_, 'b, '_>, at: usize) -> Result<(), RiffError> {
    let own = shape.spec.lines[at].ingredient;
    let ml = shape.spec.lines[at].volume.map_or(0.0, |v| v.ml());
    if own.makeup.is_none_or(|m| !m.carbonated) {
        return half_soda(shape, bench, at, ml);
    }
    let dry = |i: &Ingredient| {
        i.roles.contains(&Role::Lengthener)
            && i.kind == own.kind
            && i.makeup.is_some_and(|m| m.carbonated)
            && sugar(i) <= DRIER * sugar(own)
            && flavour_likeness(own, i) >= 0.9
    };
    if let Some(dry) = shape.best(bench, at, dry) {
        shape.replace(at, dry, Role::Lengthener, ml, bench.house);
        return Ok(());
    }
    let book = bench.graph.book();
    let sources: Vec<&Ingredient> = book.sources_of(own).collect();
    let of_it = |i: &Ingredient| {
        sources.iter().any(|s| s.id == i.id || i.made_from.contains(&s.id))
            || flavour_likeness(own, i) >= OF_IT
    };
    let juice = |i: &Ingredient| {
        i.kind == Kind::Juice && of_it(i) && i.makeup.is_some_and(|m| m.acid.grams_per_litre() < TOO_SOUR)
    };
    let syrup = |i: &Ingredient| i.kind == Kind::Syrup && i.roles.contains(&Role::Sweet) && of_it(i);
    let juice = shape.best(bench, at, juice);
    let syrup = shape.best(bench, at, syrup);
    let soda = shape.best(bench, at, is_soda);
    let (Some(soda), Some(form)) = (soda, juice.or(syrup)) else {
        return half_soda(shape, bench, at, ml);
    };
    let much = if juice.is_some() { JUICE_SHARE * ml } else { SYRUP_ML };
    let rest = if juice.is_some() { ml - much } else { ml };
    shape.replace(at, soda, Role::Lengthener, rest, bench.house);
    let role = if juice.is_some() { Role::Modifier } else { Role::Sweet };
    shape.add(role, form, much, (0.67, 1.5), bench.house);
    shape.note(Done::Added { what: form, beside: Some(soda) });
    Ok(())
}

fn half_soda<'b>(
    shape: &mut Shape<'b>,
    bench: &Bench<'_, 'b, '_>,
    at: usize,
    ml: f64,
) -> Result<(), RiffError> {
    let own = shape.spec.lines[at].ingredient;
    let there = shape.spec.lines.iter().position(|l| is_soda(l.ingredient));
    let soda = shape.best(bench, at, is_soda);
    shape.pour_line(at, 0.5 * ml, (0.75, 1.0), bench.house);
    match (there, soda) {
        (Some(soda), _) => {
            let more = shape.spec.lines[soda].volume.map_or(0.0, |v| v.ml()) + 0.5 * ml;
            shape.pour_line(soda, more, (0.75, 1.25), bench.house);
        }
        (None, Some(soda)) => {
            shape.add(Role::Lengthener, soda, 0.5 * ml, (0.75, 1.25), bench.house);
            shape.note(Done::Added { what: soda, beside: Some(own) });
        }
        (None, None) => {
            return Err(shape.blocked(
                format!("{} is most of it, and no soda water may come in", own.name),
                "take soda water off --no or add it to --have",
            ));
        }
    }
    Ok(())
}

/// Puts something drier in the place of the line that brings most sugar of those that have a drier stand-in.
fn drier<'b>(shape: &mut Shape<'b>, bench: &Bench<'_, 'b, '_>) -> bool {
    let mut by_sugar: Vec<(bool, f64, usize)> = shape
        .spec
        .lines
        .iter()
        .enumerate()
        .filter_map(|(at, l)| Some((l.role == Role::Bitter, l.volume?.ml() * sugar(l.ingredient), at)))
        .collect();
    // What is bitter gives the drink its name: it goes last.
    by_sugar.sort_by(|a, b| a.0.cmp(&b.0).then(b.1.total_cmp(&a.1)));
    for (_, _, at) in by_sugar {
        let line = &shape.spec.lines[at];
        let (own, role) = (line.ingredient, line.role);
        let Some(ml) = line.volume.map(|v| v.ml()) else { continue };
        if sugar(own) < SWEET_SODA {
            continue;
        }
        let fits = |i: &Ingredient| {
            i.roles.contains(&role)
                && i.kind == own.kind
                && sugar(i) <= DRIER * sugar(own)
                && flavour_likeness(own, i) >= ALIKE
        };
        if let Some(to) = shape.best(bench, at, fits) {
            shape.replace(at, to, role, ml, bench.house);
            return true;
        }
    }
    false
}

//! Weaker drinks: about half as strong, or with no alcohol at all.

use super::shape::{SMALL_ML, Shape, is_free};
use super::{Bench, Done, Figure, Gone};
use crate::book::{Diet, Family, Ingredient, Kind, Method, Role};
use crate::drink::Line;
use crate::riff::error::RiffError;
use crate::riff::work_in::unfit;

/// Most alcohol in a drink without any, % vol: what a kitchen's own fruit and vinegar bring.
const NO_MORE_THAN: f64 = 0.5;
/// From this much sugar, g/L, a wine or a liqueur is replaced by a syrup, a cordial or a shrub.
const SWEET_FROM: f64 = 60.0;
/// A juice with less sugar and acid than this, g/L, may stand in a spirit's place.
const LEAN: (f64, f64) = (45.0, 6.0);
/// What sparkles in a wine's or a beer's place holds at most so much more sugar, g/L, where there is such a thing.
const MUCH_SWEETER: f64 = 50.0;
/// Least of a syrup that takes a liqueur's place, ml.
const LEAST_SYRUP_ML: f64 = 7.5;
/// A bitter lengthener stands in a bitter liqueur's place, this many times as much.
const BITTER_TIMES: f64 = 2.0;
/// What counts as a spirit, % vol.
const SPIRIT_FROM: f64 = 30.0;
/// In a long drink, whatever is this strong is halved.
const WINE_FROM: f64 = 10.0;
/// What of a spirit stays in a drink of half the strength; the rest is a wine, or more of the lengthener.
const SHORT_STAYS: f64 = 0.25;
const LONG_STAYS: f64 = 0.5;
/// About half: shares of the classic's strength.
const HALF: (f64, f64, f64) = (0.35, 0.5, 0.65);
/// A lengthener is added where the best amounts are still stronger than this share.
const STILL_STRONG: f64 = 0.645;
/// What stays of a spirit that is still too much, in a clear, short drink.
const LESS_STILL: f64 = 0.6;
/// How much, as a share of what is in the glass.
const SODA_SHARE: (f64, f64) = (0.25, 0.8);

fn ml(line: &Line<'_>) -> f64 {
    line.volume.map_or(0.0, |v| v.ml())
}

fn vol(ingredient: &Ingredient) -> f64 {
    ingredient.makeup.map_or(0.0, |m| m.strength.percent_vol())
}

fn sugar(ingredient: &Ingredient) -> f64 {
    ingredient.makeup.map_or(0.0, |m| m.sugar.grams_per_litre())
}

fn acid(ingredient: &Ingredient) -> f64 {
    ingredient.makeup.map_or(0.0, |m| m.acid.grams_per_litre())
}

fn sparkles(ingredient: &Ingredient) -> bool {
    ingredient.makeup.is_some_and(|m| m.carbonated)
}

/// Sparkling water: something that sparkles and brings nothing else.
pub(super) fn is_soda(i: &Ingredient) -> bool {
    i.kind == Kind::Mixer && sparkles(i) && sugar(i) == 0.0 && acid(i) == 0.0 && is_free(i)
}

/// No alcohol: each line that holds any goes, or something takes its place.
pub(super) fn none<'b>(shape: &mut Shape<'b>, bench: &Bench<'_, 'b, '_>) -> Result<(), RiffError> {
    shape.filter.suits.insert(Diet::NoAlcohol);
    if shape.spec.ingredients().all(is_free) {
        return Err(shape.blocked("it holds none as it is", "ask for it without --strength none"));
    }
    let mut at = 0;
    while at < shape.spec.lines.len() {
        let line = &shape.spec.lines[at];
        if is_free(line.ingredient) {
            at += 1;
        } else if line.volume.is_none() || ml(line) < SMALL_ML {
            shape.drop_line(at, Gone::Alcohol);
        } else {
            let (to, role, ml) = free_stand_in(shape, bench, at)?;
            shape.replace(at, to, role, ml, bench.house);
            shape.spec.lines[at].open = role == Role::Modifier;
            at += 1;
        }
    }
    shape.drop_garnish(Gone::Alcohol, is_free);
    let long = shape.spec.lines.iter().any(Line::is_lengthener);
    if long && shape.spec.method == Method::Stirred {
        shape.set_method(Method::Built);
        shape.spec.family = Some(Family::BuiltLong);
    }
    if shape.figures().served.ml() > 1.3 * shape.before.served.ml() {
        shape.aim.served = shape.figures().served.ml();
    }
    shape.aim.strength = 0.0;
    shape.promise(Figure::Strength, 0.0, NO_MORE_THAN);
    Ok(())
}

/// What stands in a line's place without alcohol, as what, and how much of it.
fn free_stand_in<'b>(
    shape: &Shape<'b>,
    bench: &Bench<'_, 'b, '_>,
    at: usize,
) -> Result<(&'b Ingredient, Role, f64), RiffError> {
    let line = &shape.spec.lines[at];
    let (own, much, method) = (line.ingredient, ml(line), shape.spec.method);
    let bitter = line.role == Role::Bitter && !sparkles(own);
    let found = if sparkles(own) {
        let fits = |i: &Ingredient| i.roles.contains(&Role::Lengthener) && sparkles(i);
        let dry = |i: &Ingredient| fits(i) && sugar(i) <= sugar(own) + MUCH_SWEETER;
        shape
            .best(bench, at, dry)
            .or_else(|| shape.best(bench, at, fits))
            .map(|i| (i, Role::Lengthener, much))
    } else if bitter {
        let fits = |i: &Ingredient| i.roles.contains(&Role::Bitter);
        shape.best(bench, at, fits).map(|i| {
            let role = if sparkles(i) { Role::Lengthener } else { Role::Bitter };
            (i, role, if sparkles(i) { BITTER_TIMES * much } else { much })
        })
    } else if sugar(own) >= SWEET_FROM {
        let fits = |i: &Ingredient| i.kind == Kind::Syrup && i.roles.contains(&Role::Sweet) && sugar(i) > 0.0;
        shape
            .best(bench, at, fits)
            .map(|i| (i, Role::Sweet, (much * sugar(own) / sugar(i)).max(LEAST_SYRUP_ML.min(much))))
    } else {
        None
    };
    let still = |i: &Ingredient| i.roles.contains(&Role::Modifier) && unfit(i, method).is_none();
    // Tea first: its tannin has the grip that the alcohol had.
    let tea = |i: &Ingredient| still(i) && i.kind == Kind::TeaAndCoffee && !i.roles.contains(&Role::Base);
    let lean = |i: &Ingredient| still(i) && i.kind == Kind::Juice && sugar(i) <= LEAN.0 && acid(i) <= LEAN.1;
    let dry = || shape.best(bench, at, tea).or_else(|| shape.best(bench, at, lean));
    found.or_else(|| dry().map(|i| (i, Role::Modifier, much))).ok_or_else(|| {
        shape.blocked(
            format!("nothing without alcohol that goes with the rest can take the place of {}", own.name),
            format!("swap {} by hand with --swap X=Y, or leave out what is asked beside", own.name),
        )
    })
}

/// About half: a wine for most of the spirit in a short drink, more lengthener for half of it in a long one.
pub(super) fn half<'b>(shape: &mut Shape<'b>, bench: &Bench<'_, 'b, '_>) -> Result<(), RiffError> {
    let strong = shape.before.strength.percent_vol();
    if strong < NO_MORE_THAN {
        return Err(shape.blocked("it holds next to no alcohol as it is", "ask for it without --strength"));
    }
    let house = bench.house;
    let free_long = |shape: &Shape<'_>| {
        shape.spec.lines.iter().position(|l| l.role == Role::Lengthener && vol(l.ingredient) < NO_MORE_THAN)
    };
    let long = free_long(shape).is_some();
    let from = if long { WINE_FROM } else { SPIRIT_FROM };
    let since = shape.figures();
    let strong_ones: Vec<&Ingredient> = shape
        .spec
        .lines
        .iter()
        .filter(|l| vol(l.ingredient) >= from && !l.is_lengthener())
        .map(|l| l.ingredient)
        .collect();
    for spirit in strong_ones {
        let Some(at) = shape.spec.lines.iter().position(|l| l.ingredient.id == spirit.id) else { continue };
        let much = ml(&shape.spec.lines[at]);
        if much < SMALL_ML {
            continue;
        }
        if let Some(long) = free_long(shape) {
            let lost = much * (1.0 - LONG_STAYS);
            shape.pour_line(at, much * LONG_STAYS, (0.75, 1.25), house);
            let more = ml(&shape.spec.lines[long]) + lost;
            shape.pour_line(long, more, (0.75, 1.25), house);
        } else {
            wine_beside(shape, bench, at, much)?;
        }
    }
    weaker_on_top(shape, bench)?;
    for at in 0..shape.spec.lines.len() {
        let room =
            if vol(shape.spec.lines[at].ingredient) > NO_MORE_THAN { (0.5, 1.25) } else { (0.75, 1.5) };
        shape.widen(at, room, house);
    }
    if long {
        shape.follow(&since);
    }
    shape.aim.served = shape.figures().served.ml();
    shape.aim_at(Figure::Strength, HALF.1 * strong);
    longer_still(shape, bench, strong)?;
    shape.promise(Figure::Strength, HALF.0 * strong, HALF.2 * strong);
    Ok(())
}

/// Where the best amounts are still too strong, a lengthener that suits the family does the rest.
fn longer_still<'b>(shape: &mut Shape<'b>, bench: &Bench<'_, 'b, '_>, strong: f64) -> Result<(), RiffError> {
    let found = shape.solved(bench.house)?.strength.percent_vol();
    if found <= STILL_STRONG * strong {
        return Ok(());
    }
    if matches!(shape.spec.family, Some(Family::Stirred | Family::EqualParts | Family::BuiltShort)) {
        // A clear, short drink stays one if a little less of the spirit will do.
        for at in 0..shape.spec.lines.len() {
            let much = ml(&shape.spec.lines[at]);
            if vol(shape.spec.lines[at].ingredient) >= SPIRIT_FROM && much >= SMALL_ML {
                shape.pour_line(at, much * LESS_STILL, (0.75, 1.0), bench.house);
            }
        }
        if shape.solved(bench.house)?.strength.percent_vol() <= STILL_STRONG * strong {
            return Ok(());
        }
    }
    let since = shape.figures();
    let milky = shape.spec.family == Some(Family::FlipAndCream);
    let hot = shape.spec.family == Some(Family::Hot);
    let fits = |i: &Ingredient| match (milky, hot) {
        (true, _) => i.kind == Kind::DairyAndEgg && i.roles.contains(&Role::Lengthener),
        (_, true) => super::length::is_water(i) && i.roles.contains(&Role::Lengthener),
        _ => is_soda(i),
    };
    let share = (found / (HALF.1 * strong) - 1.0).clamp(SODA_SHARE.0, SODA_SHARE.1);
    super::length::lengthen(shape, bench, share, fits)?;
    shape.follow(&since);
    shape.aim.strength = HALF.1 * strong;
    Ok(())
}

/// A quarter of a spirit stays, and a wine takes the place of the rest: one that is in the drink already if it is dry,
/// else the one that fits best.
fn wine_beside<'b>(
    shape: &mut Shape<'b>,
    bench: &Bench<'_, 'b, '_>,
    at: usize,
    much: f64,
) -> Result<(), RiffError> {
    let house = bench.house;
    let rest = much * (1.0 - SHORT_STAYS);
    let is_dry_wine = |i: &Ingredient| {
        matches!(i.kind, Kind::FortifiedWine | Kind::Wine) && !sparkles(i) && sugar(i) < SWEET_FROM
    };
    let there = shape.spec.lines.iter().position(|l| is_dry_wine(l.ingredient));
    if let Some(wine) = there {
        shape.pour_line(at, much * SHORT_STAYS, (0.5, 1.5), house);
        let more = ml(&shape.spec.lines[wine]) + rest;
        shape.pour_line(wine, more, (0.75, 1.25), house);
        return Ok(());
    }
    let fits = |i: &Ingredient| is_dry_wine(i) && vol(i) >= 10.0;
    let spirit = shape.spec.lines[at].ingredient;
    let Some(wine) = shape.best(bench, at, fits) else {
        return Err(shape.blocked(
            format!("no dry wine goes with the rest, to stand beside less of the {}", spirit.name),
            "swap the base by hand for something weaker with --swap X=Y",
        ));
    };
    shape.pour_line(at, much * SHORT_STAYS, (0.5, 1.5), house);
    shape.add(Role::Modifier, wine, rest, (0.5, 1.25), house);
    shape.note(Done::Added { what: wine, beside: Some(spirit) });
    Ok(())
}

/// Half of a wine or beer that makes a drink long gives way to soda.
fn weaker_on_top<'b>(shape: &mut Shape<'b>, bench: &Bench<'_, 'b, '_>) -> Result<(), RiffError> {
    let house = bench.house;
    let strong: Vec<usize> = (0..shape.spec.lines.len())
        .filter(|at| {
            let line = &shape.spec.lines[*at];
            line.is_lengthener() && vol(line.ingredient) > NO_MORE_THAN
        })
        .collect();
    for at in strong {
        let much = ml(&shape.spec.lines[at]) * 0.5;
        let there = shape.spec.lines.iter().position(|l| is_soda(l.ingredient));
        let soda = shape.best(bench, at, is_soda);
        shape.pour_line(at, much, (0.5, 1.5), house);
        match (there, soda) {
            (Some(soda), _) => {
                let more = ml(&shape.spec.lines[soda]) + much;
                shape.pour_line(soda, more, (0.75, 1.25), house);
            }
            (None, Some(soda)) => {
                let beside = shape.spec.lines[at].ingredient;
                shape.add(Role::Lengthener, soda, much, (0.5, 1.5), house);
                shape.note(Done::Added { what: soda, beside: Some(beside) });
            }
            (None, None) => {
                return Err(shape
                    .blocked("no soda water may come in", "take soda water off --no or add it to --have"));
            }
        }
    }
    Ok(())
}

//! A drink from what is on the back bar, and nothing else.

use super::shape::{SMALL_ML, Shape};
use super::{Bench, Gone, ids};
use crate::book::{Ingredient, IngredientId};
use crate::pairing::Filter;
use crate::riff::error::RiffError;

/// Under this likeness a thing that is there does not do what is missing.
const LEAST_LIKENESS: f64 = 0.45;

/// Everything comes from the list: what the classic has and the bar has not gives way to what it has.
pub(super) fn only<'b>(shape: &mut Shape<'b>, bench: &Bench<'_, 'b, '_>) -> Result<(), RiffError> {
    let Some(have) = &bench.asked.have else { return Ok(()) };
    let there = ids(have);
    // Every bar has water, and nobody names it.
    let had = |i: &Ingredient| there.contains(i.id.as_str()) || super::length::is_water(i);
    shape.no.extend(bench.graph.book().ingredients().iter().filter(|i| !had(i)));
    let mut missing: Vec<&str> = Vec::new();
    for at in (0..shape.spec.lines.len()).rev() {
        let line = &shape.spec.lines[at];
        if had(line.ingredient) {
            continue;
        }
        let (own, role) = (line.ingredient, line.role);
        let small = line.volume.is_none_or(|v| v.ml() < SMALL_ML);
        let ml = line.volume.map_or(0.0, |v| v.ml());
        match stand_in(shape, bench, at) {
            _ if small => shape.drop_line(at, Gone::NotHad),
            Some(to) => shape.replace(at, to, role, ml, bench.house),
            None => missing.push(&own.name),
        }
    }
    shape.drop_garnish(Gone::NotHad, had);
    if missing.is_empty() {
        return Ok(());
    }
    missing.reverse();
    Err(shape.blocked(
        format!("the back bar has no {}, and nothing in its place", missing.join(", no ")),
        format!("fetch {}, or start from another drink", missing.join(", ")),
    ))
}

/// The closest stand-in for a line of what may come in, if one is close enough.
fn stand_in<'b>(shape: &Shape<'b>, bench: &Bench<'_, 'b, '_>, at: usize) -> Option<&'b Ingredient> {
    let line = shape.spec.lines.get(at)?;
    let lines = shape.spec.lines.iter().enumerate();
    let rest: Vec<&IngredientId> = lines.filter(|(i, _)| *i != at).map(|(_, l)| &l.ingredient.id).collect();
    let filter = Filter { roles: vec![line.role], ..shape.filter.clone() };
    let found = bench.graph.stand_ins(&line.ingredient.id, &rest, &filter, usize::MAX)?.found;
    let sparkles = |i: &Ingredient| i.makeup.is_some_and(|m| m.carbonated);
    found
        .into_iter()
        .filter(|s| s.likeness.score() >= LEAST_LIKENESS)
        .map(|s| s.ingredient)
        .find(|i| shape.may_take(i) && sparkles(i) == sparkles(line.ingredient))
}

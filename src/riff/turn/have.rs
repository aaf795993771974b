//! A drink from what is on the back bar, and nothing else.

use super::shape::{SMALL_ML, Shape};
use super::{Bench, Gone, ids};
use crate::book::Ingredient;
use crate::riff::error::RiffError;

/// Everything comes from the list: what the classic has and the bar has not gives way to what it has.
pub(super) fn only<'b>(shape: &mut Shape<'b>, bench: &Bench<'_, 'b, '_>) -> Result<(), RiffError> {
    let Some(have) = &bench.asked.have else { return Ok(()) };
    let there = ids(have);
    let had = |i: &Ingredient| there.contains(i.id.as_str());
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
        let fits = |i: &Ingredient| {
            i.roles.contains(&role)
                && i.makeup.is_some_and(|m| m.carbonated == own.makeup.is_some_and(|o| o.carbonated))
        };
        match shape.best(bench, at, fits) {
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

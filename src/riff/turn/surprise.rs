//! A surprise, drawn by a seed: the same seed draws the same.

use super::shape::Shape;
use super::{Bench, Done};
use crate::book::{Ingredient, Presence, Role};
use crate::pairing::Filter;
use crate::riff::error::RiffError;
use crate::riff::work_in::{forms, unfit};

/// From how many of the best companions it draws.
const DRAWN_FROM: usize = 40;

/// Draws something that is to be had now, goes with what the drink stands on, and can be worked in.
pub(super) fn draw<'b>(shape: &mut Shape<'b>, bench: &Bench<'_, 'b, '_>) -> Result<(), RiffError> {
    let Some(seed) = bench.asked.surprise else { return Ok(()) };
    shape.note(Done::Seed(seed));
    let base = shape.spec.lines.iter().find(|l| l.role == Role::Base).or(shape.spec.lines.first());
    let Some(base) = base.map(|l| l.ingredient) else { return Ok(()) };
    let (graph, when) = (bench.graph, bench.house.when);
    let method = shape.spec.method;
    let may = |i: &Ingredient| shape.filter.admits(i) && !shape.no.iter().any(|n| n.id == i.id);
    let goes_in = |i: &'b Ingredient| {
        forms(graph.book(), i).into_iter().any(|form| {
            let role = |r: Role| form.roles.contains(&r);
            form.makeup.is_some_and(|m| !m.carbonated)
                && unfit(form, method).is_none()
                && (role(Role::Modifier) || role(Role::Sweet))
                && form.kind != crate::book::Kind::Juice
                && may(form)
                && shape.spec.lines.iter().all(|l| graph.clash(&l.ingredient.id, &form.id).is_none())
        })
    };
    let found = graph.companions(&[&base.id], &Filter::default(), usize::MAX).found;
    let within: Vec<&'b Ingredient> = found
        .into_iter()
        .map(|c| c.ingredient)
        .filter(|i| !shape.holds(&i.id) && i.presence(when) != Presence::None)
        .filter(|i| i.is_fresh_in(when.climate) && goes_in(i))
        .take(DRAWN_FROM)
        .collect();
    let Some(what) = drawn(seed, within.len()).and_then(|at| within.get(at)).copied() else {
        return Err(shape.blocked(
            format!(
                "nothing that is in season, goes with {} and fits its method can be worked in",
                base.name
            ),
            "ask for fewer kinds at once, or another month",
        ));
    };
    shape.with.push(what);
    shape.note(Done::WorkedIn { what });
    Ok(())
}

/// One of so many, by a seed: the finaliser of a common 64-bit mixing function, so that near seeds draw far apart.
fn drawn(seed: u64, of: usize) -> Option<usize> {
    let mut z = seed.wrapping_add(0x9e37_79b9_7f4a_7c15);
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^= z >> 31;
    usize::try_from(z.checked_rem(of as u64)?).ok()
}

//! A second base beside the first.

use super::shape::Shape;
use super::{Bench, Done};
use crate::book::Role;
use crate::riff::error::RiffError;

/// How much of each half may move.
const ROOM: (f64, f64) = (0.5, 1.5);

/// Half of the first base gives way to a second; the amounts are solved from there.
pub(super) fn split<'b>(shape: &mut Shape<'b>, bench: &Bench<'_, 'b, '_>) -> Result<(), RiffError> {
    let Some(second) = bench.asked.split else { return Ok(()) };
    let at = shape.spec.lines.iter().position(|l| l.role == Role::Base && l.volume.is_some());
    let Some(at) = at else {
        return Err(shape.blocked("it has no base to share the place with", "add it with --with instead"));
    };
    let base = shape.spec.lines[at].ingredient;
    if shape.holds(&second.id) {
        return Err(RiffError::AlreadyIn { name: second.name.clone(), drink: shape.spec.in_words() });
    }
    if !second.roles.contains(&Role::Base) || second.makeup.is_none() {
        return Err(shape.blocked(
            format!("{} is no base", second.name),
            format!("add it with --with \"{}\" instead; 'swap {}' shows other bases", second.name, base.name),
        ));
    }
    let sparkles = |i: &crate::book::Ingredient| i.makeup.is_some_and(|m| m.carbonated);
    if sparkles(second) != sparkles(base) {
        return Err(shape.blocked(
            format!("of {} and {} only one sparkles", base.name, second.name),
            "say a base that goes in the same way",
        ));
    }
    if shape.no.iter().any(|n| n.id == second.id) {
        return Err(RiffError::WantedAndUnwanted { name: second.name.clone() });
    }
    if !shape.filter.admits(second) {
        return Err(shape.blocked(
            format!("{} is ruled out by what is asked beside it", second.name),
            "leave out --without, --suits or --in-season",
        ));
    }
    let half = shape.spec.lines[at].volume.map_or(0.0, |v| v.ml()) / 2.0;
    shape.pour_line(at, half, ROOM, bench.house);
    shape.spec.lines[at].open = false;
    let new = shape.add(Role::Base, second, half, ROOM, bench.house);
    // Beside the first, not at the end.
    let line = shape.spec.lines.remove(new);
    let stands = shape.stands_for.remove(new);
    shape.spec.lines.insert(at + 1, line);
    shape.stands_for.insert(at + 1, stands);
    shape.note(Done::Added { what: second, beside: Some(base) });
    Ok(())
}

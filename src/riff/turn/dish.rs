//! A drink for a dish: nothing in it clashes with the plate, and what goes with the plate comes first.

use super::shape::{Shape, agreement};
use super::{Bench, Done, Gone, ids};
use crate::book::Ingredient;
use crate::drink::Spec;
use crate::pairing::{Graph, Tie};
use crate::riff::error::RiffError;

/// Nothing that clashes with the dish comes in; of what is new, only what goes with some of it.
pub(super) fn agree<'b>(shape: &mut Shape<'b>, bench: &Bench<'_, 'b, '_>) -> Result<(), RiffError> {
    let dish = &bench.asked.dish;
    let graph = bench.graph;
    let clashes = |i: &Ingredient| dish.iter().any(|d| graph.clash(&d.id, &i.id).is_some());
    let own = ids(&shape.spec.lines.iter().map(|l| l.ingredient).collect::<Vec<_>>());
    let stranger = |i: &Ingredient| dish.iter().all(|d| graph.tie(&d.id, &i.id).is_none());
    let out: Vec<&'b Ingredient> = graph
        .book()
        .ingredients()
        .iter()
        .filter(|i| clashes(i) || (stranger(i) && !own.contains(i.id.as_str())))
        .collect();
    shape.no.extend(out);
    for at in (0..shape.spec.lines.len()).rev() {
        let line = &shape.spec.lines[at];
        if !clashes(line.ingredient) {
            continue;
        }
        let (own, role, volume) = (line.ingredient, line.role, line.volume);
        let Some(ml) = volume.map(|v| v.ml()) else {
            shape.drop_line(at, Gone::Clashes);
            continue;
        };
        let fits = |i: &Ingredient| {
            i.roles.contains(&role)
                && i.makeup.is_some_and(|m| m.carbonated == own.makeup.is_some_and(|o| o.carbonated))
        };
        match shape.best(bench, at, fits) {
            Some(to) => shape.replace(at, to, role, ml, bench.house),
            None if ml < super::shape::SMALL_ML => shape.drop_line(at, Gone::Clashes),
            None => {
                let names: Vec<&str> = dish.iter().map(|d| d.name.as_str()).collect();
                return Err(shape.blocked(
                    format!(
                        "{} clashes with {}, and nothing that goes with it fits there",
                        own.name,
                        names.join(", ")
                    ),
                    "name less of the dish, or start from another drink",
                ));
            }
        }
    }
    shape.drop_garnish(Gone::Clashes, |i| !clashes(i));
    shape.note(Done::GoesWith(dish.clone()));
    Ok(())
}

/// How well a drink goes with a dish: mean over its lines and the dish, unknown pairs counting little.
pub(super) fn harmony_with(graph: &Graph<'_>, spec: &Spec<'_>, dish: &[&Ingredient]) -> f64 {
    let lines = spec.lines.iter().filter(|l| l.volume.is_some());
    let each: Vec<f64> = lines.map(|l| agreement(graph, l.ingredient, dish).unwrap_or(0.0)).collect();
    if each.is_empty() { 0.0 } else { each.iter().sum::<f64>() / each.len() as f64 }
}

/// The pairs of a drink with a dish, best first.
pub(super) fn pairs_with<'b>(
    graph: &Graph<'b>,
    spec: &Spec<'b>,
    dish: &[&'b Ingredient],
) -> Vec<(&'b Ingredient, Tie<'b>)> {
    let of_line = |i: &'b Ingredient| dish.iter().filter_map(move |d| Some((i, graph.tie(&i.id, &d.id)?)));
    let mut pairs: Vec<_> =
        spec.lines.iter().filter(|l| l.volume.is_some()).flat_map(|l| of_line(l.ingredient)).collect();
    pairs.sort_by(|a, b| {
        b.1.affinity.value().total_cmp(&a.1.affinity.value()).then_with(|| a.0.id.cmp(&b.0.id))
    });
    pairs
}

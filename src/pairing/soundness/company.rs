//! Ingredients whose company is thin or lopsided.

use std::collections::BTreeSet;

use crate::book::{Ingredient, Kind};

use super::{FEW_AFFINITIES, Graph};

/// An ingredient with few affinities.
#[derive(Debug, Clone, Copy)]
pub struct Few<'b> {
    /// The ingredient.
    pub ingredient: &'b Ingredient,
    /// How many it has; may be none.
    pub affinities: usize,
}

/// An ingredient all of whose affinities are with one kind.
#[derive(Debug, Clone, Copy)]
pub struct OneKind<'b> {
    /// The ingredient.
    pub ingredient: &'b Ingredient,
    /// The kind.
    pub kind: Kind,
    /// How many affinities it has.
    pub affinities: usize,
}

/// Every ingredient with its position.
fn all<'g, 'b>(graph: &'g Graph<'b>) -> impl Iterator<Item = (u32, &'b Ingredient)> + use<'g, 'b> {
    (0..graph.len()).map(|at| (at, graph.ingredient(at)))
}

pub(super) fn few_affinities<'b>(graph: &Graph<'b>) -> Vec<Few<'b>> {
    let mut few: Vec<Few<'b>> = all(graph)
        .map(|(at, ingredient)| Few { ingredient, affinities: graph.neighbours(at).count() })
        .filter(|f| f.affinities < FEW_AFFINITIES)
        .collect();
    // A stable sort: those with as many stay in the order of their ids.
    few.sort_by_key(|f| f.affinities);
    few
}

pub(super) fn one_kind<'b>(graph: &Graph<'b>) -> Vec<OneKind<'b>> {
    let lopsided = |(at, ingredient): (u32, &'b Ingredient)| {
        let kinds: Vec<Kind> = graph.neighbours(at).map(|(n, _)| graph.ingredient(n).kind).collect();
        let each: BTreeSet<Kind> = kinds.iter().copied().collect();
        match (kinds.len(), each.len(), each.first()) {
            (affinities @ 2.., 1, Some(kind)) => Some(OneKind { ingredient, kind: *kind, affinities }),
            _ => None,
        }
    };
    all(graph).filter_map(lopsided).collect()
}

pub(super) fn without_note<'b>(graph: &Graph<'b>) -> Vec<&'b Ingredient> {
    let noted = |at| graph.neighbours(at).any(|(n, strand)| graph.tie_of(n, strand).edge.note.is_some());
    let some = |at| graph.neighbours(at).next().is_some();
    all(graph).filter(|(at, _)| some(*at) && !noted(*at)).map(|(_, i)| i).collect()
}

pub(super) fn without_clash<'b>(graph: &Graph<'b>) -> Vec<&'b Ingredient> {
    all(graph).filter(|(at, _)| graph.clash_neighbours(*at).next().is_none()).map(|(_, i)| i).collect()
}

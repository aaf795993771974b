//! An ingredient and a form of it that disagree on a third.

use std::collections::BTreeMap;

use crate::book::{Bond, Ingredient};
use crate::measure::Affinity;

use super::{CONTRADICTS_OVER, Graph};

/// A third that goes well with one of an ingredient and its form, and badly with the other.
#[derive(Debug, Clone, Copy)]
pub struct Contradiction<'b> {
    /// The ingredient: pear.
    pub source: &'b Ingredient,
    /// The form of it: pear brandy.
    pub form: &'b Ingredient,
    /// The third.
    pub other: &'b Ingredient,
    /// What the third is to the ingredient.
    pub with_source: Bond,
    /// What the third is to the form.
    pub with_form: Bond,
}

impl Contradiction<'_> {
    /// How far apart the two bonds are, 0 to 1; a clash counts as 0.
    pub fn gap(&self) -> f64 {
        (value(self.with_source) - value(self.with_form)).abs()
    }
}

fn value(bond: Bond) -> f64 {
    match bond {
        Bond::Affinity(affinity) => affinity.value(),
        Bond::Clash => 0.0,
    }
}

/// Contradictions of over [`CONTRADICTS_OVER`], widest first.
pub(super) fn contradictions<'b>(graph: &Graph<'b>) -> Vec<Contradiction<'b>> {
    let mut all = Vec::new();
    for (at, form) in (0..graph.len()).map(|at| (at, graph.ingredient(at))) {
        let own = bonds(graph, at);
        for source in graph.book().sources_of(form) {
            let Some(source_at) = graph.position(&source.id) else { continue };
            for (other, with_source) in bonds(graph, source_at) {
                let Some(with_form) = own.get(&other).copied() else { continue };
                let other = graph.ingredient(other);
                let found = Contradiction { source, form, other, with_source, with_form };
                if found.gap() > CONTRADICTS_OVER {
                    all.push(found);
                }
            }
        }
    }
    all.sort_by(|a, b| {
        let ids = |c: &Contradiction<'b>| (&c.form.id, &c.source.id, &c.other.id);
        b.gap().total_cmp(&a.gap()).then_with(|| ids(a).cmp(&ids(b)))
    });
    all
}

/// Everything known of an ingredient, by the position of the other.
fn bonds(graph: &Graph<'_>, at: u32) -> BTreeMap<u32, Bond> {
    let affinities =
        graph.neighbours(at).map(|(n, strand)| (n, Bond::Affinity(Affinity::clamped(strand.affinity))));
    affinities.chain(graph.clash_neighbours(at).map(|(n, _)| (n, Bond::Clash))).collect()
}

//! What makes two riffs two ideas.

use super::candidate::{Change, Riff};
use crate::book::IngredientId;

impl Riff<'_> {
    /// What came in that nobody asked for.
    pub(super) fn unasked(&self) -> Vec<&IngredientId> {
        let unasked = |change| match change {
            &Change::Instead { to, .. } => Some(&to.id),
            _ => None,
        };
        self.changes.iter().filter_map(unasked).collect()
    }
}

/// The forms in which wanted ingredients came in.
fn forms<'c>(changes: &'c [Change<'_>]) -> Vec<&'c IngredientId> {
    let form = |change: &'c Change<'_>| match change {
        Change::Worked { to: what, .. }
        | Change::Split { second: what, .. }
        | Change::Muddled { gives: what, .. }
        | Change::Added { what }
        | Change::Garnish { what } => Some(&what.id),
        Change::Asked { .. } | Change::Instead { .. } | Change::Amount { .. } => None,
    };
    changes.iter().filter_map(form).collect()
}

fn shared(a: &[&IngredientId], b: &[&IngredientId]) -> usize {
    a.iter().filter(|id| b.contains(id)).count()
}

/// Whether two variants share no form of a wanted ingredient.
pub(super) fn other_forms(a: &[Change<'_>], b: &[Change<'_>]) -> bool {
    shared(&forms(a), &forms(b)) == 0
}

/// Whether two riffs hold different ingredients, and share no more than `overlap` that nobody asked for.
pub(super) fn differs(a: &Riff<'_>, b: &Riff<'_>, overlap: usize) -> bool {
    let held = |r: &Riff<'_>| r.spec.ingredients().map(|i| i.id.clone()).collect::<Vec<_>>();
    shared(&a.unasked(), &b.unasked()) <= overlap && held(a) != held(b)
}

//! Two drinks side by side: what is in them, what they come to, and what a guest would notice.

use std::collections::BTreeSet;

use crate::book::{Allergen, CautionId, Diet, Facet, Ingredient};
use crate::drink::{Aim, Figures, Line, NothingPoured, Spec, differences, figures};
use crate::pairing::{Graph, Tie, own_facets};

/// Two ingredients that clash, and why.
#[derive(Debug, Clone, Copy)]
pub struct ClashFound<'b> {
    /// Both.
    pub pair: (&'b Ingredient, &'b Ingredient),
    /// What the book says of it.
    pub note: Option<&'b str>,
}

/// An ingredient that came into a drink.
#[derive(Debug, Clone)]
pub struct Newcomer<'b> {
    /// What it is.
    pub ingredient: &'b Ingredient,
    /// Facets that show in it and hardly in the one whose place it took; none where it took no place.
    pub gained: Vec<Facet>,
    /// Facets that the other had and it hardly has.
    pub lost: Vec<Facet>,
    /// What it goes with in the drink, best first.
    pub ties: Vec<Tie<'b>>,
    /// What of the drink nothing is known of beside it.
    pub unknown: Vec<&'b Ingredient>,
}

/// A drink and what became of it.
#[derive(Debug, Clone)]
pub struct SideBySide<'b> {
    /// The drink before.
    pub before: Spec<'b>,
    /// The drink after.
    pub after: Spec<'b>,
    /// What each comes to.
    pub figures: (Figures, Figures),
    /// How far they are apart in all directions together, in just-noticeable differences.
    pub distance: f64,
    /// How far the second is from the first in each direction, in just-noticeable differences; below 0 where it has
    /// less.
    pub noticed: [f64; 4],
    /// Lines that stand for each other: of one ingredient, or else of one role; alone where there is no other.
    pub lines: Vec<(Option<Line<'b>>, Option<Line<'b>>)>,
    /// What only the second has among its lines.
    pub newcomers: Vec<Newcomer<'b>>,
    /// Allergens that only the second brings.
    pub allergens_gained: BTreeSet<Allergen>,
    /// Allergens that only the first brings.
    pub allergens_lost: BTreeSet<Allergen>,
    /// Cautions that only the second calls for.
    pub cautions_gained: BTreeSet<&'b CautionId>,
    /// Cautions that only the first calls for.
    pub cautions_lost: BTreeSet<&'b CautionId>,
    /// Diets that only the second suits.
    pub diets_gained: BTreeSet<Diet>,
    /// Diets that only the first suits.
    pub diets_lost: BTreeSet<Diet>,
    /// Clashes that only the second has.
    pub clashes_gained: Vec<ClashFound<'b>>,
    /// Clashes that only the first has.
    pub clashes_lost: Vec<ClashFound<'b>>,
}

/// Holds two drinks side by side.
///
/// # Errors
/// [`NothingPoured`] if one of them has no figures.
pub fn side_by_side<'b>(
    graph: &Graph<'b>,
    before: &Spec<'b>,
    after: &Spec<'b>,
) -> Result<SideBySide<'b>, NothingPoured> {
    let (first, second) = (figures(before)?, figures(after)?);
    let (had, has) = (before.allergens(), after.allergens());
    let (suited, suits) = (before.diets(), after.diets());
    let (cautioned, cautions) = (before.cautions(), after.cautions());
    let lines = lines_together(before, after);
    let (clashed, clash) = (clashes(graph, before), clashes(graph, after));
    Ok(SideBySide {
        distance: Aim::of(&first).distance(&second),
        noticed: differences(&Aim::of(&first), &second).map(|d| d.signed),
        figures: (first, second),
        newcomers: newcomers(graph, &lines, after),
        lines,
        allergens_gained: has.difference(&had).copied().collect(),
        allergens_lost: had.difference(&has).copied().collect(),
        cautions_gained: cautions.difference(&cautioned).copied().collect(),
        cautions_lost: cautioned.difference(&cautions).copied().collect(),
        diets_gained: suits.difference(&suited).copied().collect(),
        diets_lost: suited.difference(&suits).copied().collect(),
        clashes_gained: only_in(&clash, &clashed),
        clashes_lost: only_in(&clashed, &clash),
        before: before.clone(),
        after: after.clone(),
    })
}

fn lines_together<'b>(before: &Spec<'b>, after: &Spec<'b>) -> Vec<(Option<Line<'b>>, Option<Line<'b>>)> {
    let mut partner: Vec<Option<usize>> = before
        .lines
        .iter()
        .map(|l| after.lines.iter().position(|other| other.ingredient.id == l.ingredient.id))
        .collect();
    for (at, line) in before.lines.iter().enumerate() {
        if partner[at].is_none() {
            let is_free =
                |index: usize, other: &Line<'_>| !partner.contains(&Some(index)) && other.role == line.role;
            let found = after.lines.iter().enumerate().find(|(index, other)| is_free(*index, other));
            partner[at] = found.map(|(index, _)| index);
        }
    }
    let with = |(line, other): (&Line<'b>, &Option<usize>)| {
        (Some(line.clone()), other.and_then(|o| after.lines.get(o)).cloned())
    };
    let alone = after.lines.iter().enumerate().filter(|(index, _)| !partner.contains(&Some(*index)));
    before.lines.iter().zip(&partner).map(with).chain(alone.map(|(_, l)| (None, Some(l.clone())))).collect()
}

fn newcomers<'b>(
    graph: &Graph<'b>,
    lines: &[(Option<Line<'b>>, Option<Line<'b>>)],
    after: &Spec<'b>,
) -> Vec<Newcomer<'b>> {
    let came = lines.iter().filter_map(|(old, new)| {
        let new = new.as_ref()?.ingredient;
        let old = old.as_ref().map(|l| l.ingredient);
        (old.is_none_or(|o| o.id != new.id)).then_some((old, new))
    });
    came.map(|(old, new)| {
        let rest: Vec<&'b Ingredient> =
            after.lines.iter().map(|l| l.ingredient).filter(|i| i.id != new.id).collect();
        let mut ties: Vec<Tie<'b>> = rest.iter().filter_map(|i| graph.tie(&new.id, &i.id)).collect();
        ties.sort_by(|a, b| {
            b.affinity.value().total_cmp(&a.affinity.value()).then_with(|| a.other.id.cmp(&b.other.id))
        });
        let known =
            |i: &Ingredient| graph.tie(&new.id, &i.id).is_some() || graph.clash(&new.id, &i.id).is_some();
        Newcomer {
            ingredient: new,
            gained: old.map_or_else(Vec::new, |old| own_facets(new, old)),
            lost: old.map_or_else(Vec::new, |old| own_facets(old, new)),
            ties,
            unknown: rest.iter().copied().filter(|i| !known(i)).collect(),
        }
    })
    .collect()
}

/// Every clash in a drink, its garnish included.
pub fn clashes<'b>(graph: &Graph<'b>, spec: &Spec<'b>) -> Vec<ClashFound<'b>> {
    let all: Vec<&'b Ingredient> = spec.ingredients().collect();
    let mut found = Vec::new();
    for (index, a) in all.iter().enumerate() {
        for b in &all[index + 1..] {
            if let Some(edge) = graph.clash(&a.id, &b.id) {
                found.push(ClashFound { pair: (a, b), note: edge.note.as_deref() });
            }
        }
    }
    found
}

fn only_in<'b>(these: &[ClashFound<'b>], those: &[ClashFound<'b>]) -> Vec<ClashFound<'b>> {
    let same = |x: &ClashFound<'_>, y: &ClashFound<'_>| {
        let (a, b) = (&x.pair.0.id, &x.pair.1.id);
        let (c, d) = (&y.pair.0.id, &y.pair.1.id);
        (a, b) == (c, d) || (a, b) == (d, c)
    };
    these.iter().filter(|x| !those.iter().any(|y| same(x, y))).copied().collect()
}

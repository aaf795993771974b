//! What may fill the lines that are open.

use super::error::RiffError;
use super::request::Request;
use super::work_in::unfit;
use crate::book::{Facet, Ingredient, IngredientId, Role};
use crate::drink::Line;
use crate::pairing::{Filter, Graph, Ruled};

/// A filler for a line, and how like the classic's own it is.
#[derive(Debug, Clone, Copy)]
pub(super) struct Filler<'b> {
    pub(super) ingredient: &'b Ingredient,
    pub(super) likeness: f64,
}

/// What may fill each line: one filler for a line that stays, several for one that is open or must be refilled.
pub(super) fn fillers<'b>(
    graph: &Graph<'b>,
    request: &Request<'b>,
) -> Result<Vec<Vec<Filler<'b>>>, RiffError> {
    let stays = |(index, line): (usize, &Line<'b>)| {
        let swapped = request.swaps.iter().find(|s| s.line == index).map(|s| &s.to.id);
        swapped.or_else(|| (!line.open && own_stays(request, line)).then_some(&line.ingredient.id))
    };
    let kept: Vec<&IngredientId> = request.classic.lines.iter().enumerate().filter_map(stays).collect();
    let lines = request.classic.lines.iter().enumerate();
    lines.map(|(index, line)| fillers_of(graph, request, &kept, index, line)).collect()
}

/// Whether nothing that was asked rules out a line's own ingredient.
fn own_stays(request: &Request<'_>, line: &Line<'_>) -> bool {
    let own = line.ingredient;
    request.no.iter().all(|i| i.id != own.id) && request.filter.rules_out(own).is_none()
}

/// Two that differ by less than this in every facet and in loudness taste the same: sugar and simple syrup.
const SAME_GRADE: f64 = 0.15;

/// Whether one in place of the other is no other drink.
fn tastes_the_same(a: &Ingredient, b: &Ingredient) -> bool {
    let grade = |i: &Ingredient, f: Facet| i.facets.get(&f).map_or(0.0, |g| g.value());
    let mut facets = a.facets.keys().chain(b.facets.keys());
    facets.all(|f| (grade(a, *f) - grade(b, *f)).abs() < SAME_GRADE)
        && (a.loudness.value() - b.loudness.value()).abs() < SAME_GRADE
}

fn fillers_of<'b>(
    graph: &Graph<'b>,
    request: &Request<'b>,
    kept: &[&IngredientId],
    index: usize,
    line: &Line<'b>,
) -> Result<Vec<Filler<'b>>, RiffError> {
    if let Some(swap) = request.swaps.iter().find(|s| s.line == index) {
        return Ok(vec![Filler { ingredient: swap.to, likeness: 1.0 }]);
    }
    let own = line.ingredient;
    let mut fillers = Vec::new();
    if own_stays(request, line) {
        fillers.push(Filler { ingredient: own, likeness: 1.0 });
        if !line.open {
            return Ok(fillers);
        }
    }
    let filter = Filter { roles: vec![line.role], ..request.filter.clone() };
    let found = graph.stand_ins(&own.id, kept, &filter, usize::MAX);
    let is_forced = fillers.is_empty();
    let usable = |i: &Ingredient| {
        i.makeup.is_some_and(|m| {
            m.carbonated == own.makeup.is_some_and(|o| o.carbonated) || line.role == Role::Lengthener
        }) && !request.no.iter().any(|n| n.id == i.id)
            && unfit(i, request.classic.method).is_none()
            && (is_forced || !tastes_the_same(own, i))
    };
    let stand_ins = found.into_iter().flat_map(|f| f.found).filter(|s| usable(s.ingredient));
    fillers.extend(stand_ins.map(|s| Filler { ingredient: s.ingredient, likeness: s.likeness.score() }));
    if fillers.is_empty() {
        let unwanted = request.no.iter().any(|i| i.id == own.id);
        let why = match request.filter.rules_out(own).filter(|_| !unwanted) {
            Some(Ruled::Allergen(a)) => {
                format!("it brings {a}, and nothing near it without {a} suits the rest")
            }
            Some(Ruled::Season) => "it is out of season, and nothing near it suits the rest".to_owned(),
            _ => "nothing near it suits the rest".to_owned(),
        };
        return Err(RiffError::NothingFits { name: own.name.clone(), role: line.role.name(), why });
    }
    Ok(fillers)
}

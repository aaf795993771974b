//! A stand-in inside a drink, with the amounts solved again.

use super::candidate::{Candidate, Change, Riff};
use super::error::RiffError;
use super::harmony::harmony;
use super::score::Score;
use crate::book::IngredientId;
use crate::drink::{Aim, Figures, House, NothingPoured, Spec, Unsolvable, figures};
use crate::pairing::{Agreements, Filter, Graph, StandIn, StandIns};

/// What is to be replaced, and how.
#[derive(Debug, Clone)]
pub struct SwapIn<'b> {
    /// The drink, in the house's pours.
    pub spec: Spec<'b>,
    /// Which line, from 0.
    pub line: usize,
    /// What a stand-in must pass.
    pub filter: Filter,
    /// How many stand-ins.
    pub count: usize,
}

/// Stand-ins in a drink.
#[derive(Debug, Clone)]
pub struct SwappedIn<'b> {
    /// The drink as it was.
    pub spec: Spec<'b>,
    /// Its figures.
    pub figures: Figures,
    /// The stand-ins, clashes and what was ruled out.
    pub stand_ins: StandIns<'b>,
    /// The drink with each of the stand-ins, in their order.
    pub drinks: Vec<(StandIn<'b>, Riff<'b>)>,
}

/// The best stand-ins for one line of a drink, each with the amounts that keep the drink where it was.
///
/// # Errors
/// [`RiffError`] if the drink has no figures or nothing fits.
pub fn swap_in<'b>(graph: &Graph<'b>, asked: &SwapIn<'b>, house: &House) -> Result<SwappedIn<'b>, RiffError> {
    let before =
        figures(&asked.spec).map_err(|NothingPoured| RiffError::Unsolvable(Unsolvable::NothingPoured))?;
    let aim = Aim::of(&before);
    let line = &asked.spec.lines[asked.line];
    let rest: Vec<&IngredientId> = asked
        .spec
        .lines
        .iter()
        .enumerate()
        .filter(|(index, _)| *index != asked.line)
        .map(|(_, l)| &l.ingredient.id)
        .collect();
    let filter = if asked.filter.roles.is_empty() {
        Filter { roles: vec![line.role], ..asked.filter.clone() }
    } else {
        asked.filter.clone()
    };
    let found = graph.stand_ins(&line.ingredient.id, &rest, &filter, usize::MAX);
    let mut stand_ins = found.ok_or(RiffError::Unsolvable(Unsolvable::NothingPoured))?;
    stand_ins.found.retain(|s| line.volume.is_none() || s.ingredient.makeup.is_some());
    stand_ins.found.truncate(asked.count);
    let agreements = Agreements::new(graph);
    let mut drinks = Vec::new();
    for stand_in in &stand_ins.found {
        let mut candidate = Candidate::unchanged(&asked.spec);
        candidate.spec.lines[asked.line].ingredient = stand_in.ingredient;
        candidate.changes.push(Change::Asked { from: line.ingredient, to: stand_in.ingredient });
        let together = harmony(&agreements, &candidate.spec);
        let most = Score::at_most(&candidate, together.score, house.when);
        let solved = candidate.solve(aim, house)?;
        let riff = candidate.finish(&asked.spec, together, solved, most, house, graph.book())?;
        drinks.push((stand_in.clone(), riff));
    }
    Ok(SwappedIn { spec: asked.spec.clone(), figures: before, stand_ins, drinks })
}

//! A stand-in inside a drink, with the amounts solved again.

use super::beside::{SideBySide, side_by_side};
use super::candidate::{Candidate, Change, Riff};
use super::equivalent::Alike;
use super::error::RiffError;
use super::harmony::harmony;
use super::mixture::{MixedIn, mixed_in};
use super::score::Score;
use super::work_in::unfit;
use crate::book::{Book, Ingredient, IngredientId, PrepWay};
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
    /// How many mixtures of two at most.
    pub mixtures: usize,
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
    pub drinks: Vec<Swapped<'b>>,
    /// The drink with mixtures of two that are worth it, closest first; numbered on from the stand-ins.
    pub mixtures: Vec<MixedIn<'b>>,
}

/// A drink with a stand-in.
#[derive(Debug, Clone)]
pub struct Swapped<'b> {
    /// The stand-in.
    pub stand_in: StandIn<'b>,
    /// The drink with it.
    pub riff: Riff<'b>,
    /// Both drinks side by side.
    pub beside: SideBySide<'b>,
}

impl<'b> SwappedIn<'b> {
    /// Every drink in the order of the numbers, those with a mixture last.
    pub fn riffs(&self) -> impl Iterator<Item = &Riff<'b>> {
        self.drinks.iter().map(|d| &d.riff).chain(self.mixtures.iter().map(|m| &m.riff))
    }
}

/// The best stand-ins for one line of a drink, each with the amounts that keep the drink where it was; for what is sour
/// also the closest juice that the book makes as sour with powders, however far down it is.
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
    let method = asked.spec.method;
    stand_ins
        .found
        .retain(|s| unfit(line.ingredient, method).is_some() || unfit(s.ingredient, method).is_none());
    let adjusted = stand_ins.found.iter().skip(asked.count).find(|s| is_adjusted(graph.book(), s.ingredient));
    let adjusted = adjusted.cloned();
    stand_ins.found.truncate(asked.count);
    if Alike::of(line.ingredient) == Some(Alike::Sour)
        && !stand_ins.found.iter().any(|s| is_adjusted(graph.book(), s.ingredient))
    {
        stand_ins.found.extend(adjusted);
    }
    let agreements = Agreements::new(graph);
    let mut drinks = Vec::new();
    for stand_in in &stand_ins.found {
        let mut candidate = Candidate::unchanged(&asked.spec);
        candidate.spec.lines[asked.line].ingredient = stand_in.ingredient;
        candidate.changes.push(Change::Asked { from: line.ingredient, to: stand_in.ingredient });
        let (riff, beside) = solved(graph, &agreements, candidate, asked, aim, house)?;
        drinks.push(Swapped { stand_in: stand_in.clone(), riff, beside });
    }
    let mut found =
        SwappedIn { spec: asked.spec.clone(), figures: before, stand_ins, drinks, mixtures: Vec::new() };
    if asked.mixtures > 0 {
        found.mixtures = mixed_in(graph, &agreements, asked, &rest, &filter, &found, house)?;
    }
    Ok(found)
}

/// Whether the book makes it by adding acid to a juice.
fn is_adjusted(book: &Book, ingredient: &Ingredient) -> bool {
    book.preps().iter().any(|prep| prep.makes == ingredient.id && prep.way == PrepWay::AcidAdjusted)
}

/// A drink with its changes, its amounts found, beside the drink as it was.
pub(super) fn solved<'b>(
    graph: &Graph<'b>,
    agreements: &Agreements<'_, 'b>,
    mut candidate: Candidate<'b>,
    asked: &SwapIn<'b>,
    aim: Aim,
    house: &House,
) -> Result<(Riff<'b>, SideBySide<'b>), RiffError> {
    let together = harmony(agreements, &candidate.spec);
    let most = Score::at_most(&candidate, together.score, house.when);
    let amounts = candidate.solve(aim, house)?;
    let riff = candidate.finish(&asked.spec, together, amounts, most, house, graph.book())?;
    let beside = side_by_side(graph, &asked.spec, &riff.spec)
        .map_err(|NothingPoured| RiffError::Unsolvable(Unsolvable::NothingPoured))?;
    Ok((riff, beside))
}

//! The drinks that a request leads to, with what may fill their open lines.

use super::candidate::{Candidate, Change};
use super::error::RiffError;
use super::filler::{Filler, fillers};
use super::fills::{Choice, Open};
use super::request::Request;
use super::score::Score;
use super::voice::Voice;
use super::work_in::{forms, ways};
use crate::book::{Ingredient, IngredientId, When};
use crate::drink::House;
use crate::pairing::{Graph, MOST_INFERRED, Pair};

/// A drink with what was asked done to it, and what may fill the lines that are open yet.
pub(super) struct Shape<'b> {
    candidate: Candidate<'b>,
    /// Open lines: where they stand, and what may fill them.
    open: Vec<(usize, Vec<Filler<'b>>)>,
}

/// Every drink that a request leads to: one for each way of working in what is wanted.
pub(super) fn shapes<'b>(
    graph: &Graph<'b>,
    request: &Request<'b>,
    house: &House,
) -> Result<Vec<Shape<'b>>, RiffError> {
    let choices = fillers(graph, request)?;
    let mut asked = Candidate::unchanged(&request.classic);
    if request.uneven || request.aim.is_some() {
        asked.equal.clear();
    }
    asked.spec.garnish.retain(|(on_top, _)| request.no.iter().all(|no| no.id != on_top.id));
    for (index, line) in asked.spec.lines.iter_mut().enumerate() {
        let own = line.ingredient;
        if let Some(swap) = request.swaps.iter().find(|s| s.line == index) {
            line.ingredient = swap.to;
            line.open = false;
            if swap.to.id != own.id {
                asked.changes.push(Change::Asked { from: own, to: swap.to });
            }
        } else {
            line.open = choices[index].len() > 1 || choices[index].iter().any(|f| f.ingredient.id != own.id);
        }
    }
    let mut candidates = vec![asked];
    for wanted in &request.with {
        let mut worked_in = Vec::new();
        for candidate in &candidates {
            worked_in.extend(ways(graph.book(), candidate, request, wanted, house)?);
        }
        candidates = worked_in;
    }
    let wanted: Vec<&IngredientId> =
        request.with.iter().flat_map(|w| forms(graph.book(), w)).map(|i| &i.id).collect();
    let shape = |candidate: Candidate<'b>| {
        let lines = candidate.spec.lines.iter().enumerate();
        let open = lines.filter(|(_, line)| line.open).filter_map(|(at, line)| {
            let choices = &choices[candidate.stands_for[at]?];
            // What is wanted comes in by its own ways.
            let usable =
                |f: &Filler<'b>| f.ingredient.id == line.ingredient.id || !wanted.contains(&&f.ingredient.id);
            Some((at, choices.iter().copied().filter(usable).collect()))
        });
        Shape { open: open.collect(), candidate }
    };
    Ok(candidates.into_iter().map(shape).collect())
}

impl<'b> Shape<'b> {
    /// The drink with its open lines filled.
    pub(super) fn filled(&self, picks: &[usize]) -> Candidate<'b> {
        let mut candidate = self.candidate.clone();
        for ((at, choices), pick) in self.open.iter().zip(picks) {
            let Filler { ingredient, likeness } = choices[*pick];
            let line = &mut candidate.spec.lines[*at];
            let own = line.ingredient;
            if ingredient.id != own.id {
                line.ingredient = ingredient;
                candidate.unasked += 1;
                candidate.kinship += likeness;
                candidate.changes.push(Change::Instead { from: own, to: ingredient, likeness });
            }
        }
        candidate
    }

    /// What fills the open lines that nobody asked for.
    pub(super) fn unasked(&self, picks: &[usize]) -> impl Iterator<Item = &'b IngredientId> {
        self.open.iter().zip(picks).filter_map(|((at, choices), pick)| {
            let filler = choices[*pick].ingredient;
            (filler.id != self.candidate.spec.lines[*at].ingredient.id).then_some(&filler.id)
        })
    }

    /// What was asked and done.
    pub(super) fn changes(&self) -> &[Change<'b>] {
        &self.candidate.changes
    }

    /// How many lines must be filled with something else.
    pub(super) fn must_change(&self) -> usize {
        let own = |at: usize| &self.candidate.spec.lines[at].ingredient.id;
        self.open.iter().filter(|(at, choices)| choices.iter().all(|f| f.ingredient.id != *own(*at))).count()
    }

    /// The same in numbers.
    pub(super) fn in_numbers(&self, graph: &Graph<'b>, when: When) -> Open {
        let spec = &self.candidate.spec;
        let is_open = |at: usize| self.open.iter().any(|(line, _)| *line == at);
        let total: f64 = spec.lines.iter().filter_map(|l| l.volume).map(|v| v.ml()).sum();
        let weigh = |at: usize, ingredient: &Ingredient| {
            spec.lines[at].volume.map_or(0.0, |v| Voice::of(ingredient, v.ml() / total).weight())
        };
        let stay: Vec<usize> = (0..spec.lines.len()).filter(|at| !is_open(*at)).collect();
        let staying: Vec<&IngredientId> = stay.iter().map(|at| &spec.lines[*at].ingredient.id).collect();
        let weights: Vec<f64> = stay.iter().map(|at| weigh(*at, spec.lines[*at].ingredient)).collect();
        let grid = graph.grid(&staying, &staying);
        let (mut carried, mut beside) = (0.0, 0.0);
        for one in 0..stay.len() {
            for other in one + 1..stay.len() {
                let pair = weights[one] * weights[other];
                carried += pair * value(grid.pair(one, other), true).max(0.0);
                beside += pair;
            }
        }
        let garnish = spec.garnish.iter().map(|(i, _)| *i);
        let kept = stay.iter().map(|at| spec.lines[*at].ingredient).chain(garnish);
        let on_top =
            self.candidate.changes.iter().filter(|c| matches!(c, Change::Garnish { .. })).count() as f64;
        let season = |i: &Ingredient| Score::season_of(i, when).map_or(0.0, |(_, worth)| worth);
        let constant = kept.map(season).sum::<f64>() - Score::A_GARNISH * on_top;
        let mut lines = Vec::new();
        for (at, fillers) in &self.open {
            let own = &spec.lines[*at].ingredient.id;
            let grid = graph.grid(&ids(fillers), &staying);
            lines.push(
                fillers
                    .iter()
                    .enumerate()
                    .map(|(row, filler)| {
                        let is_own = filler.ingredient.id == *own;
                        let counts = weigh(*at, filler.ingredient);
                        let pairs = weights.iter().enumerate();
                        Choice {
                            weight: counts,
                            carried: pairs
                                .map(|(c, w)| times(counts * w, value(grid.pair(row, c), is_own)))
                                .sum(),
                            beside: counts * weights.iter().sum::<f64>(),
                            likeness: (!is_own).then_some(filler.likeness),
                            season: season(filler.ingredient),
                        }
                    })
                    .collect(),
            );
        }
        let mut affinities = Vec::new();
        for (one, (at, fillers)) in self.open.iter().enumerate() {
            for (other_at, others) in &self.open[one + 1..] {
                let grid = graph.grid(&ids(fillers), &ids(others));
                let own = |at: usize, f: &Filler<'_>| f.ingredient.id == spec.lines[at].ingredient.id;
                let mut all = Vec::with_capacity(fillers.len() * others.len());
                for (row, filler) in fillers.iter().enumerate() {
                    let is_own = own(*at, filler);
                    all.extend(others.iter().enumerate().map(|(column, other)| {
                        value(grid.pair(row, column), is_own && own(*other_at, other))
                    }));
                }
                affinities.push(all);
            }
        }
        Open { carried, beside, constant, lines, affinities }
    }
}

fn ids<'f>(fillers: &'f [Filler<'_>]) -> Vec<&'f IngredientId> {
    fillers.iter().map(|f| &f.ingredient.id).collect()
}

/// What a pair counts as at most; −∞ where the two may not stand together: one ingredient twice, or a clash that nobody asked
/// for.
fn value(pair: Pair, is_asked: bool) -> f64 {
    match pair {
        Pair::Affinity(affinity) => affinity,
        Pair::Clash if is_asked => 0.0,
        Pair::Unknown => MOST_INFERRED,
        Pair::Clash | Pair::Same => f64::NEG_INFINITY,
    }
}

fn times(weight: f64, value: f64) -> f64 {
    if value == f64::NEG_INFINITY { value } else { weight * value }
}

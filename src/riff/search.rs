//! The search for variants: exact best first, by bounds, and no idea twice.

use std::cmp::Ordering;
use std::collections::{BinaryHeap, HashMap, HashSet};

use super::candidate::{Change, Riff};
use super::error::RiffError;
use super::fills::{Fill, Open, Wanted, best};
use super::harmony::{Harmony, harmony};
use super::request::Request;
use super::score::Score;
use super::shape::{Shape, shapes};
use super::varied::{differs, other_forms};
use crate::drink::{Aim, Figures, House, Line, NothingPoured, Spec, Unsolvable, figures};
use crate::pairing::{Agreements, Graph, Ruled};

/// What a search did.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Looked {
    /// Combinations of fillers and ways there are.
    pub combinations: u64,
    /// Of these, those that had to be looked at one by one, in the widest pass over them; bounds ruled out the others.
    pub looked: u64,
    /// Of these, those whose amounts were solved; the others could not have come among the suggestions.
    pub solved: u64,
}

/// The variants of a classic.
#[derive(Debug, Clone)]
pub struct Riffs<'b> {
    /// The classic.
    pub classic: Spec<'b>,
    /// Its figures.
    pub figures: Figures,
    /// The suggestions: the plainest that does what was asked first, then the best others.
    pub found: Vec<Riff<'b>>,
    /// What the search did.
    pub looked: Looked,
}

/// The best variants of a classic.
///
/// # Model
/// Every combination of fillers for the open lines, and of ways to work the wanted ingredients in, has a score:
/// harmony + 0.20 kinship + 0.03 for each unasked change + season − 0.10 for each just-noticeable difference from
/// the classic's own figures − 0.40 where a wanted ingredient is only a garnish. Without the balance, which only lowers
/// it, the score is known before any amounts are; so combinations are taken in that order, their amounts solved, and
/// one is a suggestion once nothing that is left could beat it. What shares more with an earlier suggestion than
/// [`Request::overlap`] allows, or the form in which a wanted ingredient came in while there are others, is passed over.
///
/// # Errors
/// [`RiffError`], naming what cannot be had.
pub fn riffs<'b>(graph: &Graph<'b>, request: &Request<'b>, house: &House) -> Result<Riffs<'b>, RiffError> {
    check(request, house)?;
    let classic_figures = figures(&request.classic)
        .map_err(|NothingPoured| RiffError::Unsolvable(Unsolvable::NothingPoured))?;
    let shapes = shapes(graph, request, house)?;
    let mut search = Search {
        agreements: Agreements::new(graph),
        graph,
        request,
        house,
        aim: request.aim.unwrap_or_else(|| Aim::of(&classic_figures)),
        open: shapes.iter().map(|s| s.in_numbers(graph, house.when)).collect(),
        shapes: &shapes,
        solved: HashMap::new(),
        looked: 0,
        classic_fits: false,
        last_error: None,
    };
    let fewest = shapes.iter().map(Shape::must_change).min().unwrap_or(0);
    let plainest = search.suggest(1, fewest, Vec::new());
    let found = search.suggest(request.count, usize::MAX, plainest);
    let looked = Looked {
        combinations: search.open.iter().map(Open::combinations).sum(),
        looked: search.looked,
        solved: search.solved.len() as u64,
    };
    match search.last_error {
        Some(error) if found.is_empty() && !search.classic_fits => Err(error),
        _ => Ok(Riffs { classic: request.classic.clone(), figures: classic_figures, found, looked }),
    }
}

/// Whether a riff is another drink than the classic.
fn is_other(riff: &Riff<'_>) -> bool {
    riff.changes.iter().any(|c| !matches!(c, Change::Amount { .. }))
}

/// Whether changes bring a wanted ingredient in a form that no chosen riff has.
fn is_new(chosen: &[Riff<'_>], changes: &[Change<'_>]) -> bool {
    chosen.iter().all(|c| other_forms(&c.changes, changes))
}

/// How many combinations are listed at first; each time they are used up, four times as many.
const LISTED_AT_FIRST: usize = 64;

/// What is left of a bound, so that rounding never makes it too high.
const NEARLY: f64 = 1.0 - 1e-9;

struct Search<'s, 'b> {
    agreements: Agreements<'s, 'b>,
    graph: &'s Graph<'b>,
    request: &'s Request<'b>,
    house: &'s House,
    aim: Aim,
    shapes: &'s [Shape<'b>],
    open: Vec<Open>,
    /// What came of those whose amounts were solved.
    solved: HashMap<(usize, Vec<usize>), Option<Riff<'b>>>,
    looked: u64,
    /// Whether one that was solved is the classic itself, which is shown anyway.
    classic_fits: bool,
    last_error: Option<RiffError>,
}

/// How far a combination has come.
enum Stage<'b> {
    /// Nothing that is not listed yet can do better.
    NotListed,
    Listed,
    /// With what it costs at least that no amounts bring it quite to the aim.
    Weighed(Score, Harmony<'b>),
    Solved(Box<Riff<'b>>),
}

/// A combination, and what it can score at most.
struct Entry<'b> {
    most: f64,
    fill: Fill,
    stage: Stage<'b>,
}

impl<'b> Search<'_, 'b> {
    /// The best riffs with at most so many unasked changes, none like another or like those before, until there are
    /// `count` with those before.
    fn suggest(&mut self, count: usize, unasked: usize, before: Vec<Riff<'b>>) -> Vec<Riff<'b>> {
        let mut chosen = before;
        let mut aside: Vec<Riff<'b>> = Vec::new();
        let mut heap: BinaryHeap<Entry<'b>> = BinaryHeap::new();
        let mut listed = 0;
        let mut seen: HashSet<(usize, Vec<usize>)> = HashSet::new();
        heap.push(Entry::not_listed(f64::INFINITY));
        while chosen.len() < count {
            let Some(Entry { fill, stage, .. }) = heap.pop() else { break };
            if !matches!(stage, Stage::NotListed) && !self.may_come(&chosen, &fill) {
                continue;
            }
            match stage {
                Stage::NotListed => {
                    listed = if listed == 0 { LISTED_AT_FIRST } else { 4 * listed };
                    heap.extend(self.list(listed, unasked, &chosen, &mut seen));
                }
                Stage::Listed => {
                    let candidate = self.shapes[fill.drink].filled(&fill.picks);
                    let harmony = harmony(&self.agreements, &candidate.spec);
                    let score = Score::at_most(&candidate, harmony.score, self.house.when);
                    let least = candidate.least_distance(self.aim) * NEARLY;
                    let most = score.at_distance(least).total;
                    heap.push(Entry { most, fill, stage: Stage::Weighed(score, harmony) });
                }
                Stage::Weighed(score, harmony) => {
                    if let Some(riff) = self.solve(&fill, score, harmony) {
                        heap.push(Entry {
                            most: riff.score.total,
                            fill,
                            stage: Stage::Solved(Box::new(riff)),
                        });
                    }
                }
                Stage::Solved(riff) if self.request.aim.is_none() && !is_other(&riff) => {
                    self.classic_fits = true
                }
                Stage::Solved(riff) => {
                    aside.push(*riff);
                    let more_forms =
                        |chosen: &[Riff<'b>]| self.shapes.iter().any(|s| is_new(chosen, s.changes()));
                    self.choose(count, &mut chosen, &mut aside, more_forms);
                }
            }
        }
        self.choose(count, &mut chosen, &mut aside, |_| false);
        chosen
    }

    /// Moves from what is set aside, best first, whatever is like nothing that is chosen. While another form of what is
    /// wanted may still come, none comes twice.
    fn choose(
        &self,
        count: usize,
        chosen: &mut Vec<Riff<'b>>,
        aside: &mut Vec<Riff<'b>>,
        more_forms: impl Fn(&[Riff<'b>]) -> bool,
    ) {
        while chosen.len() < count {
            let fits = |riff: &&Riff<'b>| chosen.iter().all(|c| differs(c, riff, self.request.overlap));
            let is_new = |riff: &Riff<'b>| is_new(chosen, &riff.changes);
            let fitting = || aside.iter().enumerate().filter(|(_, riff)| fits(riff));
            let first_new = fitting().find(|(_, riff)| is_new(riff));
            let next = first_new.or_else(|| fitting().next().filter(|_| !more_forms(chosen)));
            let Some((at, _)) = next else { break };
            chosen.push(aside.remove(at));
        }
    }

    /// Whether a combination shares no more with what is chosen than it may.
    fn may_come(&self, chosen: &[Riff<'b>], fill: &Fill) -> bool {
        let own: Vec<_> = self.shapes[fill.drink].unasked(&fill.picks).collect();
        chosen.iter().all(|riff| {
            let theirs = riff.unasked();
            own.iter().filter(|id| theirs.contains(id)).count() <= self.request.overlap
        })
    }

    /// So many of the best combinations, those seen before left out; and, if there are more, a bound on them.
    fn list(
        &mut self,
        count: usize,
        unasked: usize,
        chosen: &[Riff<'b>],
        seen: &mut HashSet<(usize, Vec<usize>)>,
    ) -> Vec<Entry<'b>> {
        let (fills, looked) = {
            let allowed = |drink: usize, picks: &[usize]| {
                let fill = Fill { most: 0.0, drink, picks: picks.to_vec() };
                chosen.is_empty() || self.may_come(chosen, &fill)
            };
            best(&self.open, &Wanted { count, unasked, allowed: &allowed })
        };
        self.looked = self.looked.max(looked);
        let more = (fills.len() == count).then(|| fills.last().map_or(f64::NEG_INFINITY, |f| f.most));
        let fresh = fills.into_iter().filter(|f| seen.insert((f.drink, f.picks.clone())));
        let listed = fresh.map(|fill| Entry { most: fill.most, fill, stage: Stage::Listed });
        listed.chain(more.map(Entry::not_listed)).collect()
    }

    /// Finds the amounts of a combination; none if there are none.
    fn solve(&mut self, fill: &Fill, most: Score, harmony: Harmony<'b>) -> Option<Riff<'b>> {
        let key = (fill.drink, fill.picks.clone());
        if let Some(known) = self.solved.get(&key) {
            return known.clone();
        }
        let mut candidate = self.shapes[fill.drink].filled(&fill.picks);
        let riff = candidate.solve(self.aim, self.house).and_then(|solved| {
            candidate.finish(&self.request.classic, harmony, solved, most, self.house, self.graph.book())
        });
        let riff = riff.map_err(|error| self.last_error = Some(error)).ok();
        self.solved.insert(key, riff.clone());
        riff
    }
}

impl Entry<'_> {
    fn not_listed(most: f64) -> Self {
        Self { most, fill: Fill { most, drink: usize::MAX, picks: Vec::new() }, stage: Stage::NotListed }
    }

    /// What is sure goes before what only may be as good; then in the order of the fills.
    fn order(&self, other: &Self) -> Ordering {
        let unsure = |e: &Self| matches!(e.stage, Stage::NotListed | Stage::Listed | Stage::Weighed(..));
        let key = |e: &Self| (e.fill.drink, e.fill.picks.clone());
        // What is not solved goes first at the same bound, so that equals come in the order of the fills.
        let same = || unsure(self).cmp(&unsure(other)).then_with(|| key(other).cmp(&key(self)));
        self.most.total_cmp(&other.most).then_with(same)
    }
}

impl PartialEq for Entry<'_> {
    fn eq(&self, other: &Self) -> bool {
        self.order(other) == Ordering::Equal
    }
}

impl Eq for Entry<'_> {}

impl PartialOrd for Entry<'_> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Entry<'_> {
    fn cmp(&self, other: &Self) -> Ordering {
        self.order(other)
    }
}

fn check(request: &Request<'_>, house: &House) -> Result<(), RiffError> {
    for swap in &request.swaps {
        let place = &request.classic.lines[swap.line];
        if swap.to.makeup.is_none() {
            return Err(RiffError::NotPoured {
                name: swap.to.name.clone(),
                place: place.ingredient.name.clone(),
            });
        }
        let elsewhere = |(i, l): (usize, &Line<'_>)| i != swap.line && l.ingredient.id == swap.to.id;
        if request.classic.lines.iter().enumerate().any(elsewhere) {
            let drink = request.classic.in_words();
            return Err(RiffError::AlreadyIn { name: swap.to.name.clone(), drink });
        }
    }
    for wanted in request.swaps.iter().map(|s| s.to).chain(request.with.iter().copied()) {
        if request.no.iter().any(|n| n.id == wanted.id) {
            return Err(RiffError::WantedAndUnwanted { name: wanted.name.clone() });
        }
        match request.filter.rules_out(wanted) {
            Some(Ruled::Allergen(allergen)) => {
                return Err(RiffError::Brings { name: wanted.name.clone(), allergen });
            }
            Some(Ruled::Diet(diet)) => {
                return Err(RiffError::DoesNotSuit { name: wanted.name.clone(), diet });
            }
            Some(Ruled::Season) if request.swaps.iter().any(|s| s.to.id == wanted.id) => {
                return Err(RiffError::OutOfSeason {
                    name: wanted.name.clone(),
                    month: house.when.month.name().to_owned(),
                });
            }
            _ => {}
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests;

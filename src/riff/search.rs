//! The search for variants: exact best by bounds, then spread out.

use super::candidate::{Candidate, Change, Riff};
use super::error::RiffError;
use super::filler::{Filler, fillers};
use super::harmony::{Harmony, harmony};
use super::request::Request;
use super::work_in::{forms, ways};
use crate::book::{IngredientId, Presence};
use crate::drink::{Aim, Figures, House, NothingPoured, Spec, figures};
use crate::pairing::{Graph, Ruled};

/// What being like the classic's own filler is worth against harmony.
const KINSHIP: f64 = 0.20;
/// What one just-noticeable difference from the classic costs.
const BALANCE: f64 = 0.10;
/// What a change nobody asked for is worth: a riff should be one.
const NOVELTY: f64 = 0.03;
/// What a garnish costs where a wanted ingredient could be tasted in the drink itself.
const ONLY_ON_TOP: f64 = 0.40;
/// What a fresh ingredient at its peak is worth; half of it if only to be had.
const IN_PEAK: f64 = 0.04;
/// Most combinations of fillers that are weighed.
const MOST_COMBINATIONS: usize = 20_000;

/// What a search did.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Looked {
    /// Combinations of fillers and ways there were.
    pub combinations: usize,
    /// Of these, ruled out since two of their ingredients clash.
    pub clashing: usize,
    /// Of these, those whose amounts were solved; the others could not have come among the best.
    pub solved: usize,
    /// Whether there were more combinations than are weighed.
    pub cut_short: bool,
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

/// A candidate with what it can score at most.
struct Weighed<'b> {
    candidate: Candidate<'b>,
    harmony: Harmony<'b>,
    most: f64,
}

/// The best variants of a classic.
///
/// # Model
/// Every combination of fillers for the open lines, and of ways to work the wanted ingredients in, is scored:
/// harmony + 0.20 kinship + 0.03 for each unasked change + season − 0.10 for each just-noticeable difference from
/// the classic's own figures − 0.40 where a wanted ingredient is only a garnish. Amounts are solved in the order of
/// the score without the last but one term, which only lowers it, so that the rest cannot beat what is shown.
/// Then no two suggestions share an ingredient that nobody asked for, nor, while there are others, the form in which
/// a wanted one came in.
///
/// # Errors
/// [`RiffError`], naming what cannot be had.
pub fn riffs<'b>(graph: &Graph<'b>, request: &Request<'b>, house: &House) -> Result<Riffs<'b>, RiffError> {
    check(request, house)?;
    let classic_figures = figures(&request.classic)
        .map_err(|NothingPoured| RiffError::Unsolvable(crate::drink::Unsolvable::NothingPoured))?;
    let aim = request.aim.unwrap_or_else(|| Aim::of(&classic_figures));
    let mut looked = Looked::default();
    let mut weighed = weigh_all(graph, request, house, &mut looked)?;
    weighed.sort_by(|a, b| b.most.total_cmp(&a.most).then_with(|| ids(&a.candidate).cmp(&ids(&b.candidate))));

    let mut riffs: Vec<Riff<'b>> = Vec::new();
    let mut last_error = None;
    let mut finish = |weighed: Weighed<'b>, looked: &mut Looked| {
        looked.solved += 1;
        let Weighed { mut candidate, harmony, most } = weighed;
        match candidate.solve(aim, house) {
            Ok(solved) => {
                let score = most - BALANCE * solved.0;
                candidate.finish(&request.classic, harmony, solved, score, house, graph.book()).ok()
            }
            Err(error) => {
                last_error = Some(error);
                None
            }
        }
    };
    let fewest = weighed.iter().map(|w| w.candidate.unasked).min().unwrap_or(0);
    let (plain, weighed): (Vec<_>, Vec<_>) = weighed.into_iter().partition(|w| w.candidate.unasked == fewest);
    let mut plain: Vec<Riff<'b>> = plain.into_iter().filter_map(|w| finish(w, &mut looked)).collect();
    plain.sort_by(by_score);
    let has_plain = !plain.is_empty();
    // Where nothing was asked, the plainest is the classic itself, which is shown anyway.
    let turned = request.aim.is_some();
    plain.retain(|riff| turned || riff.changes.iter().any(|c| !matches!(c, Change::Amount { .. })));
    if !plain.is_empty() {
        riffs.push(plain.remove(0));
    }
    let mut others = plain;
    for next in weighed {
        if enough(&riffs, &mut others, request.count, next.most) {
            break;
        }
        others.extend(finish(next, &mut looked));
    }
    others.sort_by(by_score);
    let mut chosen: Vec<usize> = Vec::new();
    for rule in [unlike, differs] {
        choose(&riffs, &others, &mut chosen, request.count, rule);
    }
    riffs.extend(take(others, &chosen));
    match last_error {
        Some(error) if riffs.is_empty() && !has_plain => Err(error),
        _ => Ok(Riffs { classic: request.classic.clone(), figures: classic_figures, found: riffs, looked }),
    }
}

/// Whether so many unlike riffs are known that a candidate scoring at most `most` cannot come among them.
fn enough(first: &[Riff<'_>], others: &mut [Riff<'_>], count: usize, most: f64) -> bool {
    others.sort_by(by_score);
    let better = others.partition_point(|r| r.score > most);
    let mut chosen = Vec::new();
    choose(first, &others[..better], &mut chosen, count, unlike);
    first.len() + chosen.len() >= count
}

/// Chooses from riffs that stand best first, until there are `count` with the `first` ones, each by the rule another
/// than every one chosen before. What is chosen already stays.
fn choose(
    first: &[Riff<'_>],
    others: &[Riff<'_>],
    chosen: &mut Vec<usize>,
    count: usize,
    rule: fn(&Riff<'_>, &Riff<'_>) -> bool,
) {
    for (at, riff) in others.iter().enumerate() {
        let is_new = !chosen.contains(&at)
            && first.iter().all(|r| rule(r, riff))
            && chosen.iter().all(|c| rule(&others[*c], riff));
        if first.len() + chosen.len() < count && is_new {
            chosen.push(at);
        }
    }
}

/// The chosen ones, in the order they were chosen.
fn take<'b>(others: Vec<Riff<'b>>, chosen: &[usize]) -> Vec<Riff<'b>> {
    let mut others: Vec<Option<Riff<'b>>> = others.into_iter().map(Some).collect();
    chosen.iter().filter_map(|at| others[*at].take()).collect()
}

fn by_score(a: &Riff<'_>, b: &Riff<'_>) -> std::cmp::Ordering {
    b.score.total_cmp(&a.score).then_with(|| line_ids(&a.spec).cmp(&line_ids(&b.spec)))
}

/// Ingredients of a riff that nobody asked for.
fn unasked<'r>(riff: &'r Riff<'_>) -> Vec<&'r IngredientId> {
    riff.changes
        .iter()
        .filter_map(|change| match change {
            Change::Instead { to, .. } => Some(&to.id),
            _ => None,
        })
        .collect()
}

/// The forms in which wanted ingredients came into a riff.
fn forms_of<'r>(riff: &'r Riff<'_>) -> Vec<&'r IngredientId> {
    riff.changes
        .iter()
        .filter_map(|change| match change {
            Change::Worked { to: what, .. }
            | Change::Split { second: what, .. }
            | Change::Added { what }
            | Change::Muddled { gives: what, .. }
            | Change::Garnish { what } => Some(&what.id),
            Change::Asked { .. } | Change::Instead { .. } | Change::Amount { .. } => None,
        })
        .collect()
}

fn share(a: &[&IngredientId], b: &[&IngredientId]) -> bool {
    a.iter().any(|id| b.contains(id))
}

/// Whether two riffs are two ideas: they share neither an unasked ingredient nor the form of a wanted one.
fn unlike(a: &Riff<'_>, b: &Riff<'_>) -> bool {
    differs(a, b) && !share(&forms_of(a), &forms_of(b))
}

/// Whether two riffs hold different ingredients, and share none that nobody asked for.
fn differs(a: &Riff<'_>, b: &Riff<'_>) -> bool {
    let top = |r: &Riff<'_>| r.spec.garnish.iter().map(|(i, _)| i.id.clone()).collect::<Vec<_>>();
    !share(&unasked(a), &unasked(b)) && (line_ids(&a.spec) != line_ids(&b.spec) || top(a) != top(b))
}

fn line_ids<'s>(spec: &'s Spec<'_>) -> Vec<&'s IngredientId> {
    spec.lines.iter().map(|l| &l.ingredient.id).collect()
}

fn ids<'c>(candidate: &'c Candidate<'_>) -> Vec<&'c IngredientId> {
    line_ids(&candidate.spec)
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
        let elsewhere =
            |(i, l): (usize, &crate::drink::Line<'_>)| i != swap.line && l.ingredient.id == swap.to.id;
        if request.classic.lines.iter().enumerate().any(elsewhere) {
            let drink = request.classic.name.clone();
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

fn weigh_all<'b>(
    graph: &Graph<'b>,
    request: &Request<'b>,
    house: &House,
    looked: &mut Looked,
) -> Result<Vec<Weighed<'b>>, RiffError> {
    let choices = fillers(graph, request)?;
    let mut weighed = Vec::new();
    let mut picked = vec![0; choices.len()];
    loop {
        let candidate = filled(request, &choices, &picked);
        if let Some(candidate) = candidate {
            let mut worked_in = vec![candidate];
            for wanted in &request.with {
                let mut next = Vec::new();
                for candidate in &worked_in {
                    next.extend(ways(graph.book(), candidate, request, wanted, house)?);
                }
                worked_in = next;
            }
            for candidate in worked_in {
                looked.combinations += 1;
                match weigh(graph, request, house, candidate) {
                    Some(one) => weighed.push(one),
                    None => looked.clashing += 1,
                }
            }
        }
        if looked.combinations >= MOST_COMBINATIONS {
            looked.cut_short = true;
            break;
        }
        if !count_up(&mut picked, &choices) {
            break;
        }
    }
    Ok(weighed)
}

/// The next choice of fillers; false after the last.
fn count_up(picked: &mut [usize], choices: &[Vec<Filler<'_>>]) -> bool {
    for (at, of) in picked.iter_mut().zip(choices) {
        *at += 1;
        if *at < of.len() {
            return true;
        }
        *at = 0;
    }
    false
}

/// The classic with one choice of fillers; none if two lines would hold the same.
fn filled<'b>(request: &Request<'b>, choices: &[Vec<Filler<'b>>], picked: &[usize]) -> Option<Candidate<'b>> {
    let mut candidate = Candidate::unchanged(&request.classic);
    for (index, (of, at)) in choices.iter().zip(picked).enumerate() {
        let filler = of[*at];
        let own = candidate.spec.lines[index].ingredient;
        if filler.ingredient.id == own.id {
            continue;
        }
        if candidate.spec.lines.iter().any(|l| l.ingredient.id == filler.ingredient.id) {
            return None;
        }
        let line = &mut candidate.spec.lines[index];
        line.ingredient = filler.ingredient;
        if request.swaps.iter().any(|s| s.line == index) {
            line.open = false;
            candidate.changes.push(Change::Asked { from: own, to: filler.ingredient });
        } else {
            candidate.unasked += 1;
            candidate.kinship += filler.likeness;
            let likeness = filler.likeness;
            candidate.changes.push(Change::Instead { from: own, to: filler.ingredient, likeness });
        }
    }
    Some(candidate)
}

/// What a candidate can score at most; none if it clashes in a way nobody asked for.
fn weigh<'b>(
    graph: &Graph<'b>,
    request: &Request<'b>,
    house: &House,
    candidate: Candidate<'b>,
) -> Option<Weighed<'b>> {
    let harmony = harmony(graph, &candidate.spec);
    let asked: Vec<&IngredientId> = request
        .swaps
        .iter()
        .map(|s| &s.to.id)
        .chain(request.with.iter().flat_map(|w| forms(graph.book(), w)).map(|i| &i.id))
        .chain(request.classic.lines.iter().map(|l| &l.ingredient.id))
        .collect();
    let unasked_clash =
        harmony.clashes.iter().any(|(a, b)| !asked.contains(&&a.id) || !asked.contains(&&b.id));
    if unasked_clash {
        return None;
    }
    let kinship = if candidate.unasked == 0 { 1.0 } else { candidate.kinship / candidate.unasked as f64 };
    let only_on_top = candidate.changes.iter().filter(|c| matches!(c, Change::Garnish { .. })).count();
    let season: f64 = candidate
        .spec
        .ingredients()
        .filter(|i| i.is_fresh_in(house.when.climate))
        .map(|i| match i.presence(house.when) {
            Presence::Peak => IN_PEAK,
            Presence::Available => IN_PEAK / 2.0,
            Presence::None => -IN_PEAK,
        })
        .sum();
    let most = harmony.score + KINSHIP * kinship + NOVELTY * candidate.unasked as f64 + season
        - ONLY_ON_TOP * only_on_top as f64;
    Some(Weighed { candidate, harmony, most })
}

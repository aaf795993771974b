//! Stand-ins: what can take an ingredient's place, and why.

use std::collections::BTreeMap;

use super::companion::Clashing;
use super::filter::{Filter, Ruled};
use super::graph::{Graph, Tie};
use super::likeness;
use crate::book::{Facet, Ingredient, IngredientId};

/// How alike two ingredients are, each part 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Likeness {
    /// Directions of flavour.
    pub flavour: f64,
    /// What they go with.
    pub company: f64,
    /// What they can do in a drink.
    pub role: f64,
    /// Strength, sugar, acid, bitterness, salt.
    pub makeup: f64,
    /// How well the stand-in goes with the rest of the drink; none where there is no drink, or nothing is known.
    pub agreement: Option<f64>,
}

/// Weights of the parts, and of agreement where there is a drink.
const FLAVOUR: f64 = 0.40;
const COMPANY: f64 = 0.20;
const ROLE: f64 = 0.15;
const MAKEUP: f64 = 0.25;
const AGREEMENT: f64 = 0.30;
/// What agreement counts as where nothing is known of a pair.
const UNKNOWN_PAIR: f64 = 0.35;
/// Below this a thing is no stand-in.
pub(super) const LEAST_SCORE: f64 = 0.35;

impl Likeness {
    /// The parts with their weights, which add up to 1; times each other they add up to the score.
    pub fn terms(&self) -> Vec<(&'static str, f64, f64)> {
        let rest = if self.agreement.is_some() { 1.0 - AGREEMENT } else { 1.0 };
        let alone = [
            ("flavour", self.flavour, FLAVOUR * rest),
            ("company", self.company, COMPANY * rest),
            ("role", self.role, ROLE * rest),
            ("makeup", self.makeup, MAKEUP * rest),
        ];
        let all =
            alone.into_iter().chain(self.agreement.map(|agreement| ("agreement", agreement, AGREEMENT)));
        // Nothing in common may be a nothing below 0, which reads badly.
        all.map(|(name, part, weight)| (name, part + 0.0, weight)).collect()
    }

    /// The parts in one figure, 0 to 1.
    ///
    /// # Model
    /// 0.40 flavour + 0.20 company + 0.15 role + 0.25 makeup; in a drink 0.70 of that + 0.30 agreement. The weights
    /// are ours.
    pub fn score(&self) -> f64 {
        let alone = FLAVOUR * self.flavour + COMPANY * self.company + ROLE * self.role + MAKEUP * self.makeup;
        self.agreement.map_or(alone, |agreement| (1.0 - AGREEMENT) * alone + AGREEMENT * agreement)
    }
}

/// An ingredient that can take another's place.
#[derive(Debug, Clone)]
pub struct StandIn<'b> {
    /// The ingredient.
    pub ingredient: &'b Ingredient,
    /// How close it is, and in what.
    pub likeness: Likeness,
    /// Facets both have.
    pub shared: Vec<Facet>,
    /// Facets it brings that the other does not have.
    pub gained: Vec<Facet>,
    /// Facets of the other that it lacks.
    pub lost: Vec<Facet>,
    /// Its affinities to the rest of the drink.
    pub ties: Vec<Tie<'b>>,
}

/// The stand-ins for an ingredient.
#[derive(Debug, Clone)]
pub struct StandIns<'b> {
    /// What is to be replaced.
    pub of: &'b Ingredient,
    /// The rest of the drink, if there is one.
    pub rest: Vec<&'b Ingredient>,
    /// Stand-ins, closest first.
    pub found: Vec<StandIn<'b>>,
    /// Close ones that clash with the rest.
    pub clashes: Vec<Clashing<'b>>,
    /// How many the filter ruled out, by reason.
    pub ruled_out: BTreeMap<Ruled, usize>,
}

/// A facet that counts as there.
pub(super) const THERE: f64 = 0.3;

impl<'b> Graph<'b> {
    /// The closest stand-ins for an ingredient, alone or beside the rest of a drink.
    ///
    /// Something that shares no role with it (for food: is not of its kind) is no stand-in, nor is what clashes with
    /// the rest. None if the id is not in the book.
    pub fn stand_ins(
        &self,
        of: &IngredientId,
        rest: &[&IngredientId],
        filter: &Filter,
        most: usize,
    ) -> Option<StandIns<'b>> {
        let at = self.position(of)?;
        let original = self.ingredient(at);
        let rest: Vec<u32> = rest.iter().filter_map(|id| self.position(id)).filter(|p| *p != at).collect();
        let mut result = StandIns {
            of: original,
            rest: rest.iter().map(|p| self.ingredient(*p)).collect(),
            found: Vec::new(),
            clashes: Vec::new(),
            ruled_out: BTreeMap::new(),
        };
        for candidate in (0..self.len()).filter(|c| *c != at && !rest.contains(c)) {
            let ingredient = self.ingredient(candidate);
            let likeness = self.likeness(at, candidate, &rest);
            let same_kind = original.kind == ingredient.kind;
            if (likeness.role <= 0.0 && !same_kind) || likeness.score() < LEAST_SCORE {
                continue;
            }
            if let Some(reason) = filter.rules_out_in(self.book(), ingredient) {
                *result.ruled_out.entry(reason).or_insert(0) += 1;
                continue;
            }
            let clash = rest.iter().find_map(|p| self.clash_at(candidate, *p).map(|edge| (*p, edge)));
            if let Some((with, edge)) = clash {
                result.clashes.push(Clashing { ingredient, with: self.ingredient(with), edge });
                continue;
            }
            result.found.push(self.stand_in_of(original, candidate, likeness, &rest));
        }
        result.found.sort_by(|a, b| {
            b.likeness
                .score()
                .total_cmp(&a.likeness.score())
                .then_with(|| a.ingredient.id.cmp(&b.ingredient.id))
        });
        result.found.truncate(most);
        Some(result)
    }

    fn likeness(&self, at: u32, candidate: u32, rest: &[u32]) -> Likeness {
        let (a, b) = (self.ingredient(at), self.ingredient(candidate));
        let either = a.roles.union(&b.roles).count();
        let both = a.roles.intersection(&b.roles).count();
        let role =
            if either == 0 { f64::from(u8::from(a.kind == b.kind)) } else { both as f64 / either as f64 };
        Likeness {
            flavour: likeness::facets(a, b),
            company: likeness::company(self, at, candidate),
            role,
            makeup: likeness::makeup(a.makeup.as_ref(), b.makeup.as_ref()),
            agreement: self.agreement(candidate, rest),
        }
    }

    /// How well a candidate goes with the rest, each of the rest weighted by how loud it is.
    pub(super) fn agreement(&self, candidate: u32, rest: &[u32]) -> Option<f64> {
        let mut sum = 0.0;
        let mut weight = 0.0;
        for other in rest {
            let loud = self.ingredient(*other).loudness.value().max(0.05);
            sum += loud * self.strand(candidate, *other).map_or(UNKNOWN_PAIR, |s| s.affinity);
            weight += loud;
        }
        (weight > 0.0).then(|| sum / weight)
    }

    fn stand_in_of(
        &self,
        of: &'b Ingredient,
        candidate: u32,
        likeness: Likeness,
        rest: &[u32],
    ) -> StandIn<'b> {
        let ingredient = self.ingredient(candidate);
        StandIn {
            ingredient,
            likeness,
            shared: likeness::shared_facets(ingredient, &[of]),
            gained: own_facets(ingredient, of),
            lost: own_facets(of, ingredient),
            ties: rest
                .iter()
                .filter_map(|p| self.strand(candidate, *p).map(|s| self.tie_of(*p, s)))
                .collect(),
        }
    }
}

/// The facets that show in one ingredient and hardly in another, loudest first, three at most.
pub fn own_facets(one: &Ingredient, other: &Ingredient) -> Vec<Facet> {
    let grade = |i: &Ingredient, f: &Facet| i.facets.get(f).map_or(0.0, |g| g.value());
    let mut facets: Vec<(f64, Facet)> = one
        .facets
        .iter()
        .filter(|(f, g)| g.value() >= THERE && grade(other, f) < g.value() / 2.0)
        .map(|(f, g)| (g.value(), *f))
        .collect();
    facets.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    facets.into_iter().take(3).map(|(_, f)| f).collect()
}

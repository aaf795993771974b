//! Mixtures: two ingredients in proportion that together can take another's place.

mod part;

use self::part::{
    FACETS, Original, Part, mean, most_of, role_bits, rough_likeness, shared_roles, strongest, together,
};
use super::filter::Filter;
use super::graph::Graph;
use super::likeness::SHARED_FROM;
use super::stand_in::{LEAST_SCORE, Likeness, THERE};
use crate::book::{Facet, Ingredient, IngredientId, Kind, Role};

/// The proportions that are tried where there is no drink: parts of one to parts of the other.
pub const PROPORTIONS: [(u8, u8); 5] = [(1, 1), (2, 1), (1, 2), (3, 1), (1, 3)];

/// The most ingredients that are paired with each other: those most like the original. Only great packs have more that
/// fit.
pub const MOST_PARTS: usize = 600;

/// The shares of one part in [`PROPORTIONS`].
pub fn proportions() -> Vec<f64> {
    PROPORTIONS.iter().map(|(p, q)| f64::from(*p) / f64::from(p + q)).collect()
}

/// A part must be at least this like the original in flavour, unless it shares a role or brings its strength.
const LIKE_ENOUGH: f64 = 0.20;

/// A mixture must be at least this like the original in flavour: two that taste of something else do not make a third.
const LEAST_FLAVOUR: f64 = 0.50;

/// What counts as the strength of the original: this share of it.
const ITS_STRENGTH: f64 = 0.5;

/// From this likeness on a stand-in is close enough, and a mixture must be clearly closer to be worth its second bottle;
/// below it, a little.
const CLOSE_ENOUGH: f64 = 0.70;
const CLEARLY: f64 = 0.05;
const A_LITTLE: f64 = 0.02;

/// Room for rounding in bounds.
const ROUNDING: f64 = 1e-9;

/// Two ingredients in proportion, in place of another.
#[derive(Debug, Clone)]
pub struct Mixture<'b> {
    /// Both with their shares of the volume, which make 1; the larger first.
    pub parts: [(&'b Ingredient, f64); 2],
    /// How close it is, and in what.
    pub likeness: Likeness,
    /// Facets both have.
    pub shared: Vec<Facet>,
    /// Facets it brings that the other does not have.
    pub gained: Vec<Facet>,
    /// Facets of the other that it lacks.
    pub lost: Vec<Facet>,
}

impl Mixture<'_> {
    /// Whether it is worth a second bottle: clearly closer than the closest stand-in, or a little where that is not
    /// close enough.
    pub fn is_worth_it(&self, closest: Option<f64>) -> bool {
        let more = |c: f64| if c < CLOSE_ENOUGH { A_LITTLE } else { CLEARLY };
        self.likeness.flavour >= LEAST_FLAVOUR
            && self.likeness.score() >= closest.map_or(LEAST_SCORE, |c| c + more(c))
    }
}

impl<'b> Graph<'b> {
    /// The closest mixtures of two for an ingredient, alone or beside the rest of a drink, none of which shares an
    /// ingredient with a closer one.
    ///
    /// # Model
    /// A mixture's facets are the mean of both, weighted by share times loudness; strength, sugar, acid, bitterness and
    /// salt the mean weighted by share; company and agreement the mean of both affinities, weighted as the facets. Then
    /// it is held against the original as a single stand-in is ([`Likeness::score`]). Roles are those of both together;
    /// a base and something sweet make a modifier, as a spirit and sugar make a liqueur. It sparkles if half of it does.
    /// It counts only where it is closer than either part alone, at least half like the original in flavour, and tastes
    /// of something that the original tastes of.
    ///
    /// Exact over the parts that fit and the shares given, which must be as many from either end; [`proportions`] are
    /// those without a drink. A pair is left out only if it cannot be closer than the best so far, since the cosine of a
    /// sum of vectors without minus is at most the root of the sum of both cosines squared.
    ///
    /// # Limits
    /// At most [`MOST_PARTS`] parts are paired. Nothing dry, nothing that only garnishes, nothing made from the original,
    /// no spirit for a wine or a beer, nothing that clashes with the other part or the rest.
    pub fn mixtures(
        &self,
        of: &IngredientId,
        rest: &[&IngredientId],
        filter: &Filter,
        shares: &[f64],
        most: usize,
    ) -> Vec<Mixture<'b>> {
        let Some(original) = self.position(of).and_then(|at| self.original(at)) else { return Vec::new() };
        let rest: Vec<u32> =
            rest.iter().filter_map(|id| self.position(id)).filter(|p| *p != original.at).collect();
        let mut parts = self.parts(&original, &rest, filter);
        let mut found: Vec<Mixture<'b>> = Vec::new();
        while found.len() < most
            && let Some((one, other, share)) = self.closest_pair(&original, &parts, filter, shares)
        {
            let ids = [parts[one].at, parts[other].at];
            found.push(self.mixture_of(&original, &parts[one], &parts[other], share));
            parts.retain(|p| !ids.contains(&p.at));
        }
        found
    }

    /// Two ingredients in given volumes in place of another. None if one is not in the book, is no liquid, or both are
    /// the same.
    pub fn mixture(
        &self,
        of: &IngredientId,
        volumes: [(&IngredientId, f64); 2],
        rest: &[&IngredientId],
    ) -> Option<Mixture<'b>> {
        let original = self.original(self.position(of)?)?;
        let rest: Vec<u32> =
            rest.iter().filter_map(|id| self.position(id)).filter(|p| *p != original.at).collect();
        let [(a, first), (b, second)] = volumes;
        let one = self.part(&original, self.position(a)?, &rest)?;
        let other = self.part(&original, self.position(b)?, &rest)?;
        let all = first + second;
        (one.at != other.at && all > 0.0).then(|| self.mixture_of(&original, &one, &other, first / all))
    }

    /// The closest of all pairs: places of both, and the share of the first.
    fn closest_pair(
        &self,
        original: &Original<'b>,
        parts: &[Part<'b>],
        filter: &Filter,
        shares: &[f64],
    ) -> Option<(usize, usize, f64)> {
        let wanted = if filter.roles.is_empty() { original.roles } else { role_bits(filter.roles.iter()) };
        let mut best: Option<(f64, usize, usize, f64)> = None;
        for (index, one) in parts.iter().enumerate() {
            for (offset, other) in parts[index + 1..].iter().enumerate() {
                let roles = together(one.roles | other.roles, original.roles);
                if (roles | one.roles | other.roles) & wanted == 0 {
                    continue;
                }
                let bar = one.alone.max(other.alone).max(best.map_or(0.0, |b| b.0));
                let agreement = most_of(one.agreement, other.agreement);
                let flavour = (one.flavour.powi(2) + other.flavour.powi(2)).sqrt().min(1.0);
                let role = shared_roles(roles, original.roles);
                let bound = Likeness { flavour, company: 1.0, role, makeup: 1.0, agreement };
                let too_far = flavour + ROUNDING < LEAST_FLAVOUR || bound.score() + ROUNDING < bar;
                if too_far || self.clash_at(one.at, other.at).is_some() {
                    continue;
                }
                let mut company = None;
                for share in shares.iter().copied() {
                    let rough = rough_likeness(original, one, other, share);
                    let bar = one.alone.max(other.alone).max(best.map_or(0.0, |b| b.0));
                    if rough.flavour < LEAST_FLAVOUR || rough.score() + ROUNDING < bar {
                        continue;
                    }
                    let company = company.get_or_insert_with(|| self.company_of(original, one, other));
                    let weights = [one.weight(share), other.weight(1.0 - share)];
                    let score = Likeness { company: company.cosine(weights), ..rough }.score();
                    let closer = score > one.alone.max(other.alone) && best.is_none_or(|b| score > b.0);
                    if closer && original.is_tasted_in(&mean(&one.facets, &other.facets, weights)) {
                        best = Some((score, index, index + 1 + offset, share));
                    }
                }
            }
        }
        best.map(|(_, one, other, share)| (one, other, share))
    }

    /// What may be a part, most like the original first.
    fn parts(&self, original: &Original<'b>, rest: &[u32], filter: &Filter) -> Vec<Part<'b>> {
        let each = Filter { roles: Vec::new(), ..filter.clone() };
        // Nobody takes spirit into a wine or a beer to pass it off as another.
        let is_fermented = matches!(original.ingredient.kind, Kind::Wine | Kind::BeerAndCider);
        let passes_off = |ingredient: &Ingredient| is_fermented && ingredient.kind == Kind::Spirit;
        let goes_in = |ingredient: &Ingredient| ingredient.roles.iter().any(|r| *r != Role::Garnish);
        let fits = |at: &u32| {
            let ingredient = self.ingredient(*at);
            *at != original.at
                && goes_in(ingredient)
                && !rest.contains(at)
                && ingredient
                    .makeup
                    .is_some_and(|m| !m.solid && !m.sets && (!m.carbonated || original.sparkles))
                && !passes_off(ingredient)
                && !ingredient.made_from.contains(&original.ingredient.id)
                && each.rules_out_in(self.book(), ingredient).is_none()
                && rest.iter().all(|other| self.clash_at(*at, *other).is_none())
        };
        let mut parts: Vec<Part<'b>> = (0..self.len())
            .filter(fits)
            .filter_map(|at| self.part(original, at, rest))
            .filter(|part| {
                part.flavour >= LIKE_ENOUGH
                    || part.roles & original.roles != 0
                    || (original.levels[0] > 0.0 && part.levels[0] >= ITS_STRENGTH * original.levels[0])
            })
            .collect();
        parts.sort_by(|a, b| b.alone.total_cmp(&a.alone).then_with(|| a.ingredient.id.cmp(&b.ingredient.id)));
        parts.truncate(MOST_PARTS);
        parts
    }

    fn mixture_of(
        &self,
        original: &Original<'b>,
        one: &Part<'b>,
        other: &Part<'b>,
        share: f64,
    ) -> Mixture<'b> {
        let weights = [one.weight(share), other.weight(1.0 - share)];
        let company = self.company_of(original, one, other).cosine(weights);
        let facets = mean(&one.facets, &other.facets, weights);
        let mut parts = [(one.ingredient, share), (other.ingredient, 1.0 - share)];
        parts.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.id.cmp(&b.0.id)));
        let there = |of: &[f64; FACETS], than: &[f64; FACETS]| {
            strongest(|f| if of[f] >= THERE && than[f] < of[f] / 2.0 { of[f] } else { 0.0 })
        };
        Mixture {
            parts,
            likeness: Likeness { company, ..rough_likeness(original, one, other, share) },
            shared: strongest(|f| {
                Some(facets[f].min(original.facets[f])).filter(|g| *g >= SHARED_FROM).unwrap_or(0.0)
            }),
            gained: there(&facets, &original.facets),
            lost: there(&original.facets, &facets),
        }
    }
}

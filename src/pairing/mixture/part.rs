//! What a mixture is put together from: the original and each part, taken apart once, and the figures of two together.

use crate::book::{Facet, Ingredient, Makeup, Role};
use crate::pairing::graph::Graph;
use crate::pairing::likeness::{self, LEVELS, SHARED_FROM, cosine};
use crate::pairing::stand_in::{Likeness, THERE};

/// The least loudness that counts: nothing is silent.
const LEAST_LOUDNESS: f64 = 0.05;

pub(super) const FACETS: usize = Facet::ALL.len();

/// What is to be replaced, taken apart.
pub(super) struct Original<'b> {
    pub(super) at: u32,
    pub(super) ingredient: &'b Ingredient,
    pub(super) facets: [f64; FACETS],
    pub(super) size: f64,
    pub(super) company: f64,
    pub(super) levels: [f64; LEVELS],
    pub(super) sparkles: bool,
    pub(super) roles: u32,
}

/// One part of a mixture, taken apart.
pub(super) struct Part<'b> {
    pub(super) at: u32,
    pub(super) ingredient: &'b Ingredient,
    pub(super) loud: f64,
    pub(super) facets: [f64; FACETS],
    /// Its facets times themselves, and times the original's.
    pub(super) facets_own: f64,
    pub(super) facets_dot: f64,
    pub(super) flavour: f64,
    /// The same of its affinities, the original left out.
    pub(super) company_own: f64,
    pub(super) company_dot: f64,
    pub(super) to_original: f64,
    pub(super) agreement: Option<f64>,
    pub(super) levels: [f64; LEVELS],
    pub(super) sparkles: bool,
    pub(super) roles: u32,
    /// How close it is by itself.
    pub(super) alone: f64,
}

/// What the company of a pair comes from, both and the original left out of it.
pub(super) struct Company {
    pub(super) original: f64,
    pub(super) dots: [f64; 2],
    pub(super) own: [f64; 2],
    pub(super) both: f64,
}

impl Company {
    pub(super) fn cosine(&self, weights: [f64; 2]) -> f64 {
        let [w, v] = weights;
        let dot = w * self.dots[0] + v * self.dots[1];
        let size = w * w * self.own[0] + v * v * self.own[1] + 2.0 * w * v * self.both;
        cosine(dot, self.original.max(0.0).sqrt(), size.max(0.0).sqrt())
    }
}

impl Original<'_> {
    /// Whether a mixture tastes of anything that the original tastes of.
    pub(super) fn is_tasted_in(&self, facets: &[f64; FACETS]) -> bool {
        let plain = |grade: f64| grade >= THERE;
        self.facets.iter().zip(facets).any(|(a, b)| plain(*a) && *b >= SHARED_FROM)
    }
}

/// Whether the larger part of a mixture sparkles.
fn sparkles(one: &Part<'_>, other: &Part<'_>, share: f64) -> bool {
    let part = |p: &Part<'_>, share: f64| if p.sparkles { share } else { 0.0 };
    part(one, share) + part(other, 1.0 - share) >= 0.5
}

impl Part<'_> {
    pub(super) fn weight(&self, share: f64) -> f64 {
        share * self.loud
    }
}

impl<'b> Graph<'b> {
    pub(super) fn original(&self, at: u32) -> Option<Original<'b>> {
        let ingredient = self.ingredient(at);
        let makeup = ingredient.makeup.as_ref()?;
        let facets = grades(ingredient);
        Some(Original {
            at,
            ingredient,
            size: dot(&facets, &facets).sqrt(),
            facets,
            company: self.neighbours(at).map(|(_, s)| s.affinity.powi(2)).sum(),
            levels: likeness::levels(makeup),
            sparkles: makeup.carbonated,
            roles: role_bits(ingredient.roles.iter()),
        })
    }

    pub(super) fn part(&self, original: &Original<'b>, at: u32, rest: &[u32]) -> Option<Part<'b>> {
        let ingredient = self.ingredient(at);
        let makeup: &Makeup = ingredient.makeup.as_ref()?;
        let facets = grades(ingredient);
        let facets_own = dot(&facets, &facets);
        let facets_dot = dot(&facets, &original.facets);
        let to_original = self.strand(original.at, at).map_or(0.0, |s| s.affinity);
        let own: f64 = self.neighbours(at).map(|(_, s)| s.affinity.powi(2)).sum();
        let company_own = own - to_original.powi(2);
        let company_dot = self.affinities_dot(original.at, at);
        let agreement = self.agreement(at, rest);
        let roles = role_bits(ingredient.roles.iter());
        let flavour = cosine(facets_dot, original.size, facets_own.sqrt());
        let levels = likeness::levels(makeup);
        let company = (original.company - to_original.powi(2)).max(0.0);
        let alone = Likeness {
            flavour,
            company: cosine(company_dot, company.sqrt(), company_own.max(0.0).sqrt()),
            role: shared_roles(roles, original.roles),
            makeup: likeness::closeness(original.levels, original.sparkles, levels, makeup.carbonated),
            agreement,
        }
        .score();
        Some(Part {
            at,
            ingredient,
            loud: ingredient.loudness.value().max(LEAST_LOUDNESS),
            facets,
            facets_own,
            facets_dot,
            flavour,
            company_own,
            company_dot,
            to_original,
            agreement,
            levels,
            sparkles: makeup.carbonated,
            roles,
            alone,
        })
    }

    /// The sum over third ingredients of both affinities multiplied: both rows are sorted, so it is a merge.
    fn affinities_dot(&self, a: u32, b: u32) -> f64 {
        let mut others = self.neighbours(b).peekable();
        let mut sum = 0.0;
        for (at, own) in self.neighbours(a) {
            while others.next_if(|(other, _)| *other < at).is_some() {}
            if let Some((_, theirs)) = others.next_if(|(other, _)| *other == at) {
                sum += own.affinity * theirs.affinity;
            }
        }
        sum
    }

    pub(super) fn company_of(&self, original: &Original<'b>, one: &Part<'b>, other: &Part<'b>) -> Company {
        let between = self.strand(one.at, other.at).map_or(0.0, |s| s.affinity);
        Company {
            original: original.company - one.to_original.powi(2) - other.to_original.powi(2),
            dots: [
                one.company_dot - other.to_original * between,
                other.company_dot - one.to_original * between,
            ],
            own: [one.company_own - between.powi(2), other.company_own - between.powi(2)],
            both: self.affinities_dot(one.at, other.at) - one.to_original * other.to_original,
        }
    }
}

/// The likeness with the most that company can be.
pub(super) fn rough_likeness(
    original: &Original<'_>,
    one: &Part<'_>,
    other: &Part<'_>,
    share: f64,
) -> Likeness {
    let [w, v] = [one.weight(share), other.weight(1.0 - share)];
    let own =
        w * w * one.facets_own + v * v * other.facets_own + 2.0 * w * v * dot(&one.facets, &other.facets);
    let levels = mean(&one.levels, &other.levels, [share, 1.0 - share]);
    Likeness {
        flavour: cosine(w * one.facets_dot + v * other.facets_dot, original.size, own.max(0.0).sqrt()),
        company: 1.0,
        role: shared_roles(together(one.roles | other.roles, original.roles), original.roles),
        makeup: likeness::closeness(original.levels, original.sparkles, levels, sparkles(one, other, share)),
        agreement: one.agreement.zip(other.agreement).map(|(a, b)| (w * a + v * b) / (w + v)),
    }
}

pub(super) fn most_of(a: Option<f64>, b: Option<f64>) -> Option<f64> {
    a.zip(b).map(|(a, b)| a.max(b))
}

pub(super) fn mean<const N: usize>(a: &[f64; N], b: &[f64; N], [w, v]: [f64; 2]) -> [f64; N] {
    std::array::from_fn(|at| (w * a[at] + v * b[at]) / (w + v))
}

fn dot(a: &[f64; FACETS], b: &[f64; FACETS]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

fn grades(of: &Ingredient) -> [f64; FACETS] {
    std::array::from_fn(|at| of.facets.get(&Facet::ALL[at]).map_or(0.0, |g| g.value()))
}

/// The facets with the highest marks above 0, three at most.
pub(super) fn strongest(mark: impl Fn(usize) -> f64) -> Vec<Facet> {
    let mut all: Vec<(f64, Facet)> = Facet::ALL.iter().enumerate().map(|(at, f)| (mark(at), *f)).collect();
    all.retain(|(mark, _)| *mark > 0.0);
    all.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    all.into_iter().take(3).map(|(_, f)| f).collect()
}

pub(super) fn role_bits<'r>(roles: impl Iterator<Item = &'r Role>) -> u32 {
    roles.fold(0, |bits, role| bits | bit(*role))
}

fn bit(role: Role) -> u32 {
    1 << Role::ALL.iter().position(|r| *r == role).unwrap_or(0)
}

/// What both can do together: a base and something sweet make a modifier, where the original is no base itself.
pub(super) fn together(roles: u32, original: u32) -> u32 {
    let liqueur = bit(Role::Base) | bit(Role::Sweet);
    if roles & liqueur == liqueur && original & bit(Role::Base) == 0 {
        (roles & !bit(Role::Base)) | bit(Role::Modifier)
    } else {
        roles
    }
}

pub(super) fn shared_roles(a: u32, b: u32) -> f64 {
    let either = (a | b).count_ones();
    if either == 0 { 0.0 } else { f64::from((a & b).count_ones()) / f64::from(either) }
}

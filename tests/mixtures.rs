//! Mixtures of two against a naive twin that knows only the formulas in docs/model.md and tries every pair.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::LazyLock;

use fastrand::Rng;
use medlar::book::{
    Allergen, Book, Facet, Ingredient, IngredientId, Kind, Makeup, Reading, Role, read_built_in, read_packs,
};
use medlar::pairing::{Filter, Graph, Mixture, PROPORTIONS, proportions};

static BUILT_IN: LazyLock<Reading> = LazyLock::new(read_built_in);

/// Affinities by pair, in both directions.
struct Twin<'b> {
    book: &'b Book,
    ties: BTreeMap<&'b IngredientId, BTreeMap<&'b IngredientId, f64>>,
    clashes: BTreeSet<(&'b IngredientId, &'b IngredientId)>,
}

/// An ingredient and how much of the whole it is.
type Shares<'b> = [(&'b Ingredient, f64)];

impl<'b> Twin<'b> {
    fn new(graph: &Graph<'b>) -> Self {
        let book = graph.book();
        let ties =
            |i: &'b Ingredient| graph.ties(&i.id).iter().map(|t| (&t.other.id, t.affinity.value())).collect();
        let clashes = |i: &'b Ingredient| graph.clashes(&i.id).into_iter().map(move |(o, _)| (&i.id, &o.id));
        Self {
            book,
            ties: book.ingredients().iter().map(|i| (&i.id, ties(i))).collect(),
            clashes: book.ingredients().iter().flat_map(clashes).collect(),
        }
    }

    fn affinity(&self, a: &IngredientId, b: &IngredientId) -> f64 {
        self.ties[a].get(b).copied().unwrap_or(0.0)
    }

    fn clash(&self, a: &Ingredient, b: &Ingredient) -> bool {
        self.clashes.contains(&(&a.id, &b.id))
    }

    /// The likeness, and its part of flavour.
    fn likeness(&self, of: &Ingredient, shares: &Shares<'b>, rest: &[&Ingredient]) -> (f64, f64) {
        let weights: Vec<f64> = shares.iter().map(|(i, s)| s * i.loudness.value().max(0.05)).collect();
        let all: f64 = weights.iter().sum();
        let weighted = |value: &dyn Fn(&Ingredient) -> f64| -> f64 {
            shares.iter().zip(&weights).map(|((i, _), w)| w * value(i)).sum::<f64>() / all
        };
        let grade = |i: &Ingredient, f: Facet| i.facets.get(&f).map_or(0.0, |g| g.value());
        let flavour = cosine(Facet::ALL.iter().map(|f| (grade(of, *f), weighted(&|i| grade(i, *f)))));
        let third = |i: &&Ingredient| i.id != of.id && !shares.iter().any(|(p, _)| p.id == i.id);
        let company = cosine(
            self.book
                .ingredients()
                .iter()
                .filter(third)
                .map(|n| (self.affinity(&of.id, &n.id), weighted(&|i| self.affinity(&i.id, &n.id)))),
        );
        let mut roles: BTreeSet<Role> = shares.iter().flat_map(|(i, _)| i.roles.iter().copied()).collect();
        if shares.len() == 2 {
            roles = joined(roles, of);
        }
        let either = roles.union(&of.roles).count();
        let role =
            if either == 0 { 0.0 } else { roles.intersection(&of.roles).count() as f64 / either as f64 };
        let makeup = makeup_likeness(of, shares);
        let alone = 0.40 * flavour + 0.20 * company + 0.15 * role + 0.25 * makeup;
        if rest.is_empty() {
            return (alone, flavour);
        }
        let loud = |i: &Ingredient| i.loudness.value().max(0.05);
        let agrees = |i: &Ingredient| {
            let known = |r: &Ingredient| self.ties[&i.id].get(&r.id).copied().unwrap_or(0.35);
            let sum: f64 = rest.iter().map(|r| loud(r) * known(r)).sum();
            sum / rest.iter().map(|r| loud(r)).sum::<f64>()
        };
        (0.70 * alone + 0.30 * weighted(&agrees), flavour)
    }

    fn may_be_part(&self, of: &Ingredient, part: &Ingredient, rest: &[&Ingredient], filter: &Filter) -> bool {
        let (Some(own), Some(makeup)) = (of.makeup, part.makeup) else { return false };
        let shares_flavour = cosine(Facet::ALL.iter().map(|f| {
            let grade = |i: &Ingredient| i.facets.get(f).map_or(0.0, |g| g.value());
            (grade(of), grade(part))
        })) >= 0.20;
        let strong = own.strength.percent_vol() > 0.0
            && makeup.strength.percent_vol() >= 0.5 * own.strength.percent_vol();
        let spirit_for_wine = matches!(of.kind, Kind::Wine | Kind::BeerAndCider) && part.kind == Kind::Spirit;
        part.id != of.id
            && part.roles.iter().any(|r| *r != Role::Garnish)
            && !rest.iter().any(|r| r.id == part.id || self.clash(part, r))
            && !makeup.solid
            && (!makeup.carbonated || own.carbonated)
            && !spirit_for_wine
            && !part.made_from.contains(&of.id)
            && !filter.no.contains(&part.id)
            && !part.made_from.iter().any(|m| filter.no.contains(m))
            && filter.have.as_ref().is_none_or(|have| have.contains(&part.id))
            && filter.without.iter().all(|a| !self.brings(part, *a))
            && (shares_flavour || strong || part.roles.intersection(&of.roles).next().is_some())
    }

    fn brings(&self, part: &Ingredient, allergen: Allergen) -> bool {
        let sources = part.made_from.iter().filter_map(|id| self.book.ingredient(id));
        part.allergens.contains(&allergen) || sources.into_iter().any(|s| self.brings(s, allergen))
    }

    /// The likeness of the closest mixture of all.
    fn best(&self, of: &Ingredient, rest: &[&Ingredient], filter: &Filter) -> Option<f64> {
        let fits = |i: &&Ingredient| self.may_be_part(of, i, rest, filter);
        let parts: Vec<&'b Ingredient> = self.book.ingredients().iter().filter(fits).collect();
        let mut best: Option<f64> = None;
        for (index, one) in parts.iter().copied().enumerate() {
            for other in parts[index + 1..].iter().copied().filter(|o| !self.clash(one, o)) {
                let roles: BTreeSet<Role> = one.roles.union(&other.roles).copied().collect();
                let can: BTreeSet<Role> = roles.union(&joined(roles.clone(), of)).copied().collect();
                let wanted: Vec<&Role> = if filter.roles.is_empty() {
                    of.roles.iter().collect()
                } else {
                    filter.roles.iter().collect()
                };
                if !wanted.iter().any(|r| can.contains(r)) {
                    continue;
                }
                for (p, q) in PROPORTIONS {
                    let share = f64::from(p) / f64::from(p + q);
                    let shares = [(one, share), (other, 1.0 - share)];
                    let (score, flavour) = self.likeness(of, &shares, rest);
                    let alone = |i: &'b Ingredient| self.likeness(of, &[(i, 1.0)], rest).0;
                    if flavour >= 0.5
                        && best.is_none_or(|b| score > b)
                        && tastes_of(of, &shares)
                        && score > alone(one).max(alone(other))
                    {
                        best = Some(score);
                    }
                }
            }
        }
        best
    }
}

/// A base and something sweet make a modifier.
fn joined(mut roles: BTreeSet<Role>, of: &Ingredient) -> BTreeSet<Role> {
    if roles.contains(&Role::Base) && roles.contains(&Role::Sweet) && !of.roles.contains(&Role::Base) {
        roles.remove(&Role::Base);
        roles.insert(Role::Modifier);
    }
    roles
}

fn tastes_of(of: &Ingredient, shares: &Shares<'_>) -> bool {
    let weights: Vec<f64> = shares.iter().map(|(i, s)| s * i.loudness.value().max(0.05)).collect();
    of.facets.iter().filter(|(_, g)| g.value() >= 0.3).any(|(f, _)| {
        let sum: f64 = shares
            .iter()
            .zip(&weights)
            .map(|((i, _), w)| w * i.facets.get(f).map_or(0.0, |g| g.value()))
            .sum();
        sum / weights.iter().sum::<f64>() >= 0.25
    })
}

fn makeup_likeness(of: &Ingredient, shares: &Shares<'_>) -> f64 {
    let figures = |m: &Makeup| {
        [
            m.strength.percent_vol() / 20.0,
            m.sugar.grams_per_litre() / 150.0,
            m.acid.grams_per_litre() / 20.0,
            m.bitterness.points() / 25.0,
            m.salt.grams_per_litre() / 50.0,
        ]
    };
    let own = of.makeup.unwrap();
    let steps: f64 = (0..5)
        .map(|at| {
            let mixed: f64 = shares.iter().map(|(i, s)| s * figures(&i.makeup.unwrap())[at]).sum();
            (figures(&own)[at] - mixed).abs()
        })
        .sum();
    let sparkling: f64 = shares.iter().filter(|(i, _)| i.makeup.unwrap().carbonated).map(|(_, s)| s).sum();
    let gas = if (sparkling >= 0.5) == own.carbonated { 0.0 } else { 0.5 };
    (-steps - gas).exp()
}

fn cosine(pairs: impl Iterator<Item = (f64, f64)>) -> f64 {
    let (dot, a, b) =
        pairs.fold((0.0, 0.0, 0.0), |(dot, a, b), (x, y): (f64, f64)| (dot + x * y, a + x * x, b + y * y));
    if a > 0.0 && b > 0.0 { (dot / (a.sqrt() * b.sqrt())).clamp(0.0, 1.0) } else { 0.0 }
}

/// Holds the best mixture against the twin; gives whether there was one.
fn agrees(
    graph: &Graph<'_>,
    twin: &Twin<'_>,
    of: &Ingredient,
    rest: &[&Ingredient],
    filter: &Filter,
) -> bool {
    let ids: Vec<&IngredientId> = rest.iter().map(|i| &i.id).collect();
    let found: Option<Mixture<'_>> =
        graph.mixtures(&of.id, &ids, filter, &proportions(), 1).into_iter().next();
    let score = found.as_ref().map(|m| m.likeness.score());
    let best = twin.best(of, rest, filter);
    match (score, best) {
        (Some(score), Some(best)) => {
            let parts = found.as_ref().map(|m| m.parts.map(|(i, share)| (i, share))).unwrap();
            let (own, _) = twin.likeness(of, &parts, rest);
            assert!((own - score).abs() < 1e-9, "{}: the twin gives {own} for {score}", of.id);
            assert!((score - best).abs() < 1e-9, "{}: {score}, but there is {best}", of.id);
        }
        (score, best) => assert_eq!(score.is_some(), best.is_some(), "{}: {score:?} {best:?}", of.id),
    }
    score.is_some()
}

#[test]
fn on_the_small_pack_the_best_is_the_best_of_all_pairs() {
    let pack = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/packs/weir");
    let reading = read_packs(&[&pack], false);
    let graph = Graph::new(&reading.book);
    let twin = Twin::new(&graph);
    let all = reading.book.ingredients();
    let mut rng = Rng::with_seed(3);
    let mut found = 0;
    for of in all {
        let mut rest: Vec<&Ingredient> = (0..3).map(|_| &all[rng.usize(..all.len())]).collect();
        rest.retain(|i| i.id != of.id);
        rest.sort_by_key(|i| &i.id);
        rest.dedup_by_key(|i| &i.id);
        let without = Filter { without: BTreeSet::from([Allergen::Nuts]), ..Filter::default() };
        let base = Filter { roles: vec![Role::Base], ..Filter::default() };
        for filter in [&Filter::default(), &without, &base] {
            found += usize::from(agrees(&graph, &twin, of, &[], filter));
            found += usize::from(agrees(&graph, &twin, of, &rest, filter));
        }
    }
    assert!(found > 10, "{found}");
}

#[test]
fn from_a_random_back_bar_the_best_is_the_best_of_all_pairs() {
    let book = &BUILT_IN.book;
    let graph = Graph::new(book);
    let twin = Twin::new(&graph);
    let poured: Vec<&Ingredient> =
        book.ingredients().iter().filter(|i| i.makeup.is_some() && !i.roles.is_empty()).collect();
    let mut rng = Rng::with_seed(11);
    let mut found = 0;
    for _ in 0..24 {
        let of = poured[rng.usize(..poured.len())];
        let have: BTreeSet<IngredientId> =
            (0..24).map(|_| poured[rng.usize(..poured.len())].id.clone()).collect();
        let rest = [poured[rng.usize(..poured.len())], poured[rng.usize(..poured.len())]];
        let rest: Vec<&Ingredient> = rest.into_iter().filter(|i| i.id != of.id).take(1).collect();
        let filter = Filter { have: Some(have), ..Filter::default() };
        found += usize::from(agrees(&graph, &twin, of, &rest, &filter));
    }
    assert!(found > 5, "{found}");
}

//! The built-in pack's affinities against two bodies of flavours that people put together: tests/outside/README.md.
//!
//! They are a measure and no source: no affinity is set by them. Figures: `cargo test --test outside_flavour -- --nocapture`.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod outside;

use std::collections::{BTreeMap, BTreeSet};

use medlar::book::{Book, Facet, IngredientId, Lookup, Names, Target, Wanted, fold, read_built_in};
use medlar::measure::Grade;
use medlar::pairing::{Agreement, Agreements, Graph};

use outside::{BAKES, Chance, Draw, Field, Measured, Pair, SWEETS, ranked_right};

/// Terms that are no name in the pack, and the nearest thing in it. Set before anything was measured.
const NEAREST: [(&str, &str); 10] = [
    ("agave", "agave syrup"),
    ("brown sugar", "demerara syrup"),
    ("coriander", "coriander seed"),
    ("earl grey", "bergamot tea"),
    ("habanero", "red chilli"),
    ("orange blossom", "orange blossom water"),
    ("parmesan", "aged hard cheese"),
    ("serrano", "green chilli"),
    ("sriracha", "hot sauce"),
    ("vermouth", "sweet vermouth"),
];

/// How often negatives are drawn.
const DRAWS: usize = 50;

/// Ways to score a pair.
const SCORES: [&str; 7] = [
    "known, else inferred",
    "known alone",
    "inferred, where unknown",
    "tried: known, else by rarity",
    "peer: shared neighbours",
    "peer: popularity in the pack",
    "left over: popularity outside",
];
const OURS: usize = 0;
const KNOWN: usize = 1;
const INFERRED: usize = 2;
const SHARED: usize = 4;
const POPULARITY: usize = 5;
const LEFT_OVER: usize = 6;

/// The ingredient whose name, alias or id a term is; guesses from parts of names do not count.
fn named(names: &Names, own: &BTreeSet<String>, term: &str) -> Option<IngredientId> {
    match names.find(term, Wanted::Ingredient) {
        Lookup::Found(Target::Ingredient(id)) if own.contains(&fold(term)) => Some(id),
        _ => None,
    }
}

/// What of a body of sets the pack knows.
struct Coverage {
    /// Share of the terms.
    terms: f64,
    /// Share of all times that a term stands in a set.
    occurrences: f64,
    /// Each set, as the ingredients known of it.
    sets: Vec<BTreeSet<IngredientId>>,
}

fn coverage(title: &str, text: &str, book: &Book) -> Coverage {
    let names = Names::new(book);
    let own: BTreeSet<String> = names.all_names(Wanted::Ingredient).into_iter().map(fold).collect();
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for term in text.lines().flat_map(|line| line.split(", ")) {
        *counts.entry(term).or_insert(0) += 1;
    }
    let mut ids: BTreeMap<&str, IngredientId> = BTreeMap::new();
    let (mut by_name, mut unknown) = (0, Vec::new());
    for (term, count) in &counts {
        let nearest = || NEAREST.iter().find(|(generic, _)| generic == term);
        if let Some(id) = named(&names, &own, term) {
            by_name += 1;
            ids.insert(term, id);
        } else if let Some((_, nearest)) = nearest() {
            ids.insert(term, named(&names, &own, nearest).unwrap());
        } else {
            unknown.push(format!("{term} ({count})"));
        }
    }
    let all: usize = counts.values().sum();
    let known: usize = ids.keys().map(|term| counts[term]).sum();
    let sets = text.lines().map(|line| line.split(", ").filter_map(|t| ids.get(t).cloned()).collect());
    let coverage = Coverage {
        terms: ids.len() as f64 / counts.len() as f64,
        occurrences: known as f64 / all as f64,
        sets: sets.collect(),
    };
    println!("{title}: {} sets, {} terms standing {all} times", coverage.sets.len(), counts.len());
    println!("  known: {by_name} terms by name, {} as the nearest thing", ids.len() - by_name);
    println!("  that is {:.3} of the terms, {:.3} of all times", coverage.terms, coverage.occurrences);
    println!("  unknown: {}", unknown.join(", "));
    coverage
}

/// What the pack has of a pair.
#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Known,
    Clash,
    Unknown,
}

/// A pair's scores, where it has one, and what the pack has of it.
type Scored = ([Option<f64>; SCORES.len()], Kind);

/// Scores pairs, each reckoned once.
struct Scorer<'a> {
    field: &'a Field,
    graph: &'a Graph<'a>,
    agreements: Agreements<'a, 'a>,
    partners: Vec<BTreeSet<&'a IngredientId>>,
    degrees: BTreeMap<&'a IngredientId, f64>,
    scored: BTreeMap<Pair, Scored>,
}

impl<'a> Scorer<'a> {
    fn new(field: &'a Field, graph: &'a Graph<'a>) -> Self {
        let partners = |id| graph.ties(id).iter().map(|tie| &tie.other.id).collect();
        let all = graph.book().ingredients().iter();
        Self {
            field,
            graph,
            agreements: Agreements::new(graph),
            partners: field.ingredients.iter().map(partners).collect(),
            degrees: all.map(|i| (&i.id, graph.ties(&i.id).len() as f64)).collect(),
            scored: BTreeMap::new(),
        }
    }

    fn of(&mut self, pair: Pair) -> Scored {
        if let Some(scored) = self.scored.get(&pair) {
            return *scored;
        }
        let scored = self.reckon(pair);
        self.scored.insert(pair, scored);
        scored
    }

    fn reckon(&self, (a, b): Pair) -> Scored {
        let (one, other) = (&self.field.ingredients[a], &self.field.ingredients[b]);
        let agreement = self.agreements.between(one, other).unwrap();
        let value = agreement.value();
        let (kind, alone, inferred) = match agreement {
            Agreement::Known(_) => (Kind::Known, value, None),
            Agreement::Clash(_) => (Kind::Clash, 0.0, None),
            // The same of all that is unknown: above a clash, below whatever is known.
            Agreement::Inferred(_) => (Kind::Unknown, 0.001, Some(value)),
        };
        let rarity = inferred.map_or(alone, |_| self.by_rarity(a, b));
        let shared = self.partners[a].intersection(&self.partners[b]).count() as f64;
        let popularity = (self.partners[a].len() * self.partners[b].len()) as f64;
        let outside = (self.field.occurrences[a] * self.field.occurrences[b]) as f64;
        let scores =
            [Some(value), Some(alone), inferred, Some(rarity), Some(shared), Some(popularity), Some(outside)];
        (scores, kind)
    }

    /// The other way to fill in that was tried: shared neighbours, the rarer the more, and likeness of facets.
    fn by_rarity(&self, a: usize, b: usize) -> f64 {
        let both = self.partners[a].intersection(&self.partners[b]);
        let shared: f64 = both.map(|id| 1.0 / (1.0 + self.degrees[id]).ln()).sum();
        let sizes = ((self.partners[a].len() * self.partners[b].len()) as f64).sqrt();
        let facets = |at: usize| &self.graph.book().ingredient(&self.field.ingredients[at]).unwrap().facets;
        let (one, other) = (facets(a), facets(b));
        let size = |of: &BTreeMap<Facet, Grade>| of.values().map(|g| g.value().powi(2)).sum::<f64>().sqrt();
        let dot: f64 = one.iter().filter_map(|(f, g)| other.get(f).map(|h| g.value() * h.value())).sum();
        let like = dot / (size(one) * size(other));
        0.45 * (0.001 + shared / (1.0 + sizes)) * f64::midpoint(1.0, like)
    }
}

/// How well each score tells pairs that stand together in at least so many sets from pairs that never do.
fn measure(scorer: &mut Scorer<'_>, least: usize, way: &str, draw: Draw) -> [Measured; SCORES.len()] {
    let field = scorer.field;
    let pairs = field.in_sets(least);
    let mut chance = Chance(1);
    let mut figures = vec![Vec::new(); SCORES.len()];
    let kinds = [Kind::Known, Kind::Clash, Kind::Unknown];
    let share = |of: &[Scored], kind| of.iter().filter(|(_, k)| *k == kind).count() as f64 / of.len() as f64;
    let (mut together, mut apart, mut drawn) = ([0.0; 3], [0.0; 3], 0);
    for _ in 0..DRAWS {
        let (kept, negatives) = draw(field, &pairs, &mut chance);
        drawn += kept.len();
        let above: Vec<Scored> = kept.iter().map(|pair| scorer.of(*pair)).collect();
        let below: Vec<Scored> = negatives.iter().map(|pair| scorer.of(*pair)).collect();
        for (index, kind) in kinds.into_iter().enumerate() {
            together[index] += share(&above, kind) / DRAWS as f64;
            apart[index] += share(&below, kind) / DRAWS as f64;
        }
        for (index, figures) in figures.iter_mut().enumerate() {
            let pick =
                |of: &[Scored]| of.iter().filter_map(|(scores, _)| scores[index]).collect::<Vec<f64>>();
            figures.push(ranked_right(&pick(&above), &pick(&below)));
        }
    }
    println!("  {} pairs in at least {least} sets; {way}: {} compared a draw", pairs.len(), drawn / DRAWS);
    println!("    known, clash, unknown: {together:.3?} of those together, {apart:.3?} of those apart");
    let measured: [Measured; SCORES.len()] = std::array::from_fn(|index| Measured::of(&figures[index]));
    for (name, Measured { mean, spread }) in SCORES.iter().zip(measured) {
        println!("    {name:32} {mean:.4} ± {spread:.4}");
    }
    measured
}

/// Least shares of right comparisons: what was measured, less the spread of the draws. 0.75 was hoped for over all
/// pairs and is not met; pairs in several sets were looked at after that was seen, to learn why.
struct Floors {
    same_classes: f64,
    by_degree: f64,
    in_two_sets: f64,
    in_three_sets: f64,
}

fn hold(sets: &Coverage, book: &Book, floors: &Floors) {
    let field = Field::new(&sets.sets);
    let graph = Graph::new(book);
    let mut scorer = Scorer::new(&field, &graph);
    let cases: [(usize, &str, Draw, f64, f64); 4] = [
        (1, "apart, of the same popularity", Field::same_classes, floors.same_classes, 0.54),
        (1, "apart, drawn by degree", Field::by_degree, floors.by_degree, 0.70),
        (2, "apart, of the same popularity", Field::same_classes, floors.in_two_sets, 0.58),
        (3, "apart, of the same popularity", Field::same_classes, floors.in_three_sets, 0.60),
    ];
    for (least, way, draw, floor, most_left_over) in cases {
        let found = measure(&mut scorer, least, way, draw).map(|m| m.mean);
        assert!(found[OURS] >= floor, "{least}, {way}: {} under {floor}", found[OURS]);
        for peer in [SHARED, POPULARITY] {
            assert!(found[OURS] > found[peer], "{least}, {way}: {} {}", SCORES[peer], found[peer]);
        }
        // Few are unknown among pairs of several sets: too few to hold what is inferred to a figure.
        assert!(least > 1 || found[OURS] > found[KNOWN], "{way}: known alone {}", found[KNOWN]);
        assert!(least > 1 || found[INFERRED] > 0.52, "{way}: {}", found[INFERRED]);
        // Matched, popularity outside tells next to nothing; a draw by degree leaves some of it.
        assert!(found[LEFT_OVER] < most_left_over, "{least}, {way}: not matched, {}", found[LEFT_OVER]);
    }
}

#[test]
fn affinities_tell_flavours_of_bakes_from_chance() {
    let book = read_built_in().book;
    let sets = coverage("bakes", BAKES, &book);
    assert!(sets.terms >= 0.98 && sets.occurrences >= 0.98, "{} {}", sets.terms, sets.occurrences);
    let floors = Floors { same_classes: 0.685, by_degree: 0.700, in_two_sets: 0.818, in_three_sets: 0.879 };
    hold(&sets, &book, &floors);
}

#[test]
fn affinities_tell_flavours_of_sweets_from_chance() {
    let book = read_built_in().book;
    let sets = coverage("sweets", SWEETS, &book);
    assert!(sets.terms >= 0.94 && sets.occurrences >= 0.97, "{} {}", sets.terms, sets.occurrences);
    let floors = Floors { same_classes: 0.698, by_degree: 0.713, in_two_sets: 0.746, in_three_sets: 0.786 };
    hold(&sets, &book, &floors);
}

/// A yardstick: how well what stands together in one body tells what does in the other, over the ingredients of both.
/// The pack does better.
#[test]
fn one_body_tells_less_of_the_other_than_the_pack_does() {
    let book = read_built_in().book;
    let graph = Graph::new(&book);
    let (bakes, sweets) = (coverage("bakes", BAKES, &book), coverage("sweets", SWEETS, &book));
    for (title, here, there) in [("bakes by sweets", &bakes, &sweets), ("sweets by bakes", &sweets, &bakes)] {
        let other = Field::new(&there.sets);
        let in_both = |set: &BTreeSet<IngredientId>| -> BTreeSet<IngredientId> {
            set.iter().filter(|id| other.ingredients.binary_search(id).is_ok()).cloned().collect()
        };
        let field = Field::new(&here.sets.iter().map(in_both).collect::<Vec<_>>());
        let at: Vec<usize> =
            field.ingredients.iter().map(|id| other.ingredients.binary_search(id).unwrap()).collect();
        let by_other = |(a, b): Pair| {
            let (x, y) = (at[a], at[b]);
            let together = other.together.get(&(x.min(y), x.max(y))).copied().unwrap_or(0);
            together as f64 / ((other.occurrences[x] * other.occurrences[y]) as f64).sqrt()
        };
        let mut scorer = Scorer::new(&field, &graph);
        for least in 1..=3 {
            let pairs = field.in_sets(least);
            let mut chance = Chance(1);
            let (mut theirs, mut ours) = (Vec::new(), Vec::new());
            for _ in 0..DRAWS {
                let (pairs, apart) = field.same_classes(&pairs, &mut chance);
                let other = |pairs: &[Pair]| pairs.iter().map(|p| by_other(*p)).collect::<Vec<f64>>();
                theirs.push(ranked_right(&other(&pairs), &other(&apart)));
                let mut own =
                    |pairs: &[Pair]| pairs.iter().filter_map(|p| scorer.of(*p).0[OURS]).collect::<Vec<f64>>();
                ours.push(ranked_right(&own(&pairs), &own(&apart)));
            }
            let (theirs, ours) = (Measured::of(&theirs).mean, Measured::of(&ours).mean);
            println!(
                "{title}, {} pairs in at least {least} sets: {theirs:.3}, by the pack {ours:.3}",
                pairs.len()
            );
            assert!(ours > theirs + 0.03, "{title}: {theirs} {ours}");
        }
    }
}

#[test]
fn comparisons_are_counted_with_ties_as_half() {
    // 3 is above 2 and 1, 1 is below 2 and ties with 1.
    assert!((ranked_right(&[3.0, 1.0], &[2.0, 1.0]) - 2.5 / 4.0).abs() < 1e-12);
}

//! Bodies of flavours that people put together, and pairs drawn from them at random.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::collections::{BTreeMap, BTreeSet};

use medlar::book::IngredientId;

pub(crate) const BAKES: &str = include_str!("bake_flavours.txt");
pub(crate) const SWEETS: &str = include_str!("sweet_flavours.txt");

/// How often a pair that never stands together is tried for.
const TRIES: usize = 500;

/// `SplitMix64`: Steele, Lea, Flood (2014), "Fast splittable pseudorandom number generators".
pub(crate) struct Chance(pub(crate) u64);

impl Chance {
    fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        usize::try_from((z ^ (z >> 31)) % n as u64).unwrap()
    }
}

/// Positions of two ingredients of a field, the lesser first.
pub(crate) type Pair = (usize, usize);

/// A way to draw, for pairs that stand together, pairs that never do: the pairs that have one, and theirs.
pub(crate) type Draw = fn(&Field, &[Pair], &mut Chance) -> (Vec<Pair>, Vec<Pair>);

/// The ingredients of a body of sets, and who stands with whom.
pub(crate) struct Field {
    pub(crate) ingredients: Vec<IngredientId>,
    /// In how many sets each stands.
    pub(crate) occurrences: Vec<usize>,
    /// Pairs that stand together, each once, and in how many sets they do.
    pub(crate) together: BTreeMap<Pair, usize>,
}

impl Field {
    pub(crate) fn new(sets: &[BTreeSet<IngredientId>]) -> Self {
        let all: BTreeSet<&IngredientId> = sets.iter().flatten().collect();
        let ingredients: Vec<IngredientId> = all.into_iter().cloned().collect();
        let mut occurrences = vec![0; ingredients.len()];
        let mut together = BTreeMap::new();
        for set in sets {
            let members: Vec<usize> = set.iter().map(|id| ingredients.binary_search(id).unwrap()).collect();
            for (index, a) in members.iter().enumerate() {
                occurrences[*a] += 1;
                for b in &members[index + 1..] {
                    *together.entry((*a, *b)).or_insert(0) += 1;
                }
            }
        }
        Self { ingredients, occurrences, together }
    }

    /// Pairs that stand together in at least so many sets.
    pub(crate) fn in_sets(&self, least: usize) -> Vec<Pair> {
        self.together.iter().filter(|(_, count)| **count >= least).map(|(pair, _)| *pair).collect()
    }

    fn apart(&self, a: usize, b: usize) -> Option<Pair> {
        let pair = (a.min(b), a.max(b));
        (a != b && !self.together.contains_key(&pair)).then_some(pair)
    }

    /// A class of popularity: 1, 2 to 3, 4 to 7 sets, and so on.
    fn class(&self, a: usize) -> u32 {
        self.occurrences[a].ilog2()
    }

    /// For each pair one that never stands together, with ends of the same classes. A pair for which hardly any such
    /// is left is not compared.
    pub(crate) fn same_classes(&self, pairs: &[Pair], chance: &mut Chance) -> (Vec<Pair>, Vec<Pair>) {
        let mut classes: BTreeMap<u32, Vec<usize>> = BTreeMap::new();
        for a in 0..self.ingredients.len() {
            classes.entry(self.class(a)).or_default().push(a);
        }
        let mut one_of = |like: usize| {
            let class = &classes[&self.class(like)];
            class[chance.below(class.len())]
        };
        let mut drawn = |(a, b): Pair| (0..TRIES).find_map(|_| self.apart(one_of(a), one_of(b)));
        pairs.iter().filter_map(|pair| drawn(*pair).map(|apart| (*pair, apart))).unzip()
    }

    /// As many pairs that never stand together, each end drawn as often as it stands in one of the pairs.
    pub(crate) fn by_degree(&self, pairs: &[Pair], chance: &mut Chance) -> (Vec<Pair>, Vec<Pair>) {
        let ends: Vec<usize> = pairs.iter().flat_map(|(a, b)| [*a, *b]).collect();
        let mut drawn = Vec::new();
        while drawn.len() < pairs.len() {
            drawn.extend(self.apart(ends[chance.below(ends.len())], ends[chance.below(ends.len())]));
        }
        (pairs.to_vec(), drawn)
    }
}

/// Mean and spread (standard deviation) over draws.
#[derive(Clone, Copy)]
pub(crate) struct Measured {
    pub(crate) mean: f64,
    pub(crate) spread: f64,
}

impl Measured {
    pub(crate) fn of(values: &[f64]) -> Self {
        let n = values.len() as f64;
        let mean = values.iter().sum::<f64>() / n;
        let spread = (values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (n - 1.0)).sqrt();
        Self { mean, spread }
    }
}

/// Share of comparisons in which one of the first list is above one of the second, ties half.
pub(crate) fn ranked_right(above: &[f64], below: &[f64]) -> f64 {
    let mut sorted = below.to_vec();
    sorted.sort_by(f64::total_cmp);
    let won: usize =
        above.iter().map(|v| sorted.partition_point(|w| w < v) + sorted.partition_point(|w| w <= v)).sum();
    won as f64 / (2 * above.len() * below.len()) as f64
}

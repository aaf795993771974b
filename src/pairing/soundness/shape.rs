//! How the graph of affinities hangs together, and how much of everything there is.

use std::collections::{BTreeMap, BTreeSet};

use petgraph::unionfind::UnionFind;

use crate::book::{Bond, Ingredient, Kind};

use super::{FEW_AFFINITIES, Graph};

/// How the affinities hang together.
#[derive(Debug, Clone)]
pub struct Shape<'b> {
    /// The connected pieces: within one, affinities lead from each ingredient to each other. Largest first.
    pub pieces: Vec<Vec<&'b Ingredient>>,
    /// Kinds with ingredients of which none has an affinity to another kind.
    pub kinds_cut_off: Vec<Kind>,
    /// How many affinities an ingredient has.
    pub degrees: Degrees,
}

/// How many affinities an ingredient has.
#[derive(Debug, Clone, PartialEq)]
pub struct Degrees {
    /// The fewest.
    pub least: usize,
    /// The middle one; between two, their mean.
    pub median: f64,
    /// The most.
    pub most: usize,
    /// From none up to the most, in steps that double.
    pub steps: Vec<Step>,
}

/// Ingredients with about as many affinities.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    /// The fewest that count here.
    pub from: usize,
    /// The most that count here.
    pub to: usize,
    /// How many ingredients have so many.
    pub ingredients: usize,
}

/// How much of everything there is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Counts {
    /// Ingredients.
    pub ingredients: usize,
    /// Their other names.
    pub aliases: usize,
    /// Kinds that have an ingredient.
    pub kinds: usize,
    /// Ingredients that are made from another.
    pub made: usize,
    /// Affinities.
    pub affinities: usize,
    /// Affinities with a note.
    pub noted_affinities: usize,
    /// Clashes.
    pub clashes: usize,
    /// Clashes with a note.
    pub noted_clashes: usize,
    /// Templates.
    pub templates: usize,
    /// Their slots.
    pub slots: usize,
    /// Cautions.
    pub cautions: usize,
}

impl<'b> Shape<'b> {
    pub(super) fn of(graph: &Graph<'b>) -> Self {
        Self { pieces: pieces(graph), kinds_cut_off: kinds_cut_off(graph), degrees: Degrees::of(graph) }
    }
}

fn pieces<'b>(graph: &Graph<'b>) -> Vec<Vec<&'b Ingredient>> {
    let mut joined: UnionFind<u32> = UnionFind::new(graph.len() as usize);
    for at in 0..graph.len() {
        for (other, _) in graph.neighbours(at) {
            joined.union(at, other);
        }
    }
    let mut by_piece: BTreeMap<u32, Vec<&'b Ingredient>> = BTreeMap::new();
    for (at, piece) in (0..).zip(joined.into_labeling()) {
        by_piece.entry(piece).or_default().push(graph.ingredient(at));
    }
    let mut pieces: Vec<_> = by_piece.into_values().collect();
    pieces.sort_by(|a, b| b.len().cmp(&a.len()).then_with(|| a[0].id.cmp(&b[0].id)));
    pieces
}

fn kinds_cut_off(graph: &Graph<'_>) -> Vec<Kind> {
    let mut used = BTreeSet::new();
    let mut reaching = BTreeSet::new();
    for at in 0..graph.len() {
        let kind = graph.ingredient(at).kind;
        used.insert(kind);
        if graph.neighbours(at).any(|(n, _)| graph.ingredient(n).kind != kind) {
            reaching.insert(kind);
        }
    }
    // A book of one kind is cut off from nothing.
    if used.len() < 2 { Vec::new() } else { used.difference(&reaching).copied().collect() }
}

impl Degrees {
    fn of(graph: &Graph<'_>) -> Self {
        let mut all: Vec<usize> = (0..graph.len()).map(|at| graph.neighbours(at).count()).collect();
        all.sort_unstable();
        let (least, most) = (all.first().copied().unwrap_or(0), all.last().copied().unwrap_or(0));
        Self { least, median: median(&all), most, steps: steps(&all, most) }
    }
}

/// The median of sorted counts; 0 of none.
fn median(sorted: &[usize]) -> f64 {
    let half = sorted.len() / 2;
    match (sorted.len() % 2, sorted.get(half)) {
        (_, None) => 0.0,
        (1, Some(middle)) => *middle as f64,
        (_, Some(upper)) => (sorted[half - 1] + upper) as f64 / 2.0,
    }
}

/// Steps of 0 to 7, 8 to 15, 16 to 31 and so on: the first holds those that have few.
fn steps(degrees: &[usize], most: usize) -> Vec<Step> {
    let mut steps = Vec::new();
    let (mut from, mut end) = (0, FEW_AFFINITIES);
    while steps.is_empty() || from <= most {
        let ingredients = degrees.iter().filter(|d| (from..end).contains(d)).count();
        steps.push(Step { from, to: end - 1, ingredients });
        (from, end) = (end, end * 2);
    }
    steps
}

impl Counts {
    pub(super) fn of(graph: &Graph<'_>) -> Self {
        let book = graph.book();
        let ingredients = book.ingredients();
        let edges = |clash: bool| book.edges().iter().filter(move |e| (e.bond == Bond::Clash) == clash);
        let noted = |clash| edges(clash).filter(|e| e.note.is_some()).count();
        Self {
            ingredients: ingredients.len(),
            aliases: ingredients.iter().map(|i| i.aliases.len()).sum(),
            kinds: ingredients.iter().map(|i| i.kind).collect::<BTreeSet<_>>().len(),
            made: ingredients.iter().filter(|i| !i.made_from.is_empty()).count(),
            affinities: edges(false).count(),
            noted_affinities: noted(false),
            clashes: edges(true).count(),
            noted_clashes: noted(true),
            templates: book.templates().len(),
            slots: book.templates().iter().map(|t| t.slots.len()).sum(),
            cautions: book.cautions().len(),
        }
    }

    /// How many of the affinities have a note, 0 to 1; none where there are no affinities.
    pub fn noted_share(&self) -> Option<f64> {
        (self.affinities > 0).then(|| self.noted_affinities as f64 / self.affinities as f64)
    }
}

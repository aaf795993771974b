//! The graph itself: who goes with whom, compact and sorted.

use std::collections::HashMap;
use std::sync::Arc;

use petgraph::Directed;
use petgraph::csr::Csr;

use crate::book::{Bond, Book, Edge, Ingredient, IngredientId};
use crate::measure::Affinity;

/// An affinity between two ingredients, with its reason.
#[derive(Debug, Clone, Copy)]
pub struct Tie<'b> {
    /// The ingredient at the other end.
    pub other: &'b Ingredient,
    /// How well they go together.
    pub affinity: Affinity,
    /// The record it stands in: note and origin.
    pub edge: &'b Edge,
}

/// One end's view of an edge: what it weighs and where its record is.
#[derive(Debug, Clone, Copy)]
pub(super) struct Strand {
    pub(super) affinity: f64,
    edge: u32,
}

/// Who goes with whom in a book, by positions in its lists: what a [`Graph`] is made of, without the book itself, so that
/// one who owns a book can keep it beside it.
#[derive(Debug)]
pub struct Web {
    /// Positions of edges, in the list of the book.
    affinities: Csr<(), u32, Directed, u32>,
    clashes: Csr<(), u32, Directed, u32>,
    /// What each edge weighs; 0 for a clash.
    weights: Vec<f64>,
}

/// The pairing graph of a book.
#[derive(Debug)]
pub struct Graph<'b> {
    book: &'b Book,
    web: Arc<Web>,
}

impl Web {
    /// The web of a book.
    pub fn of(book: &Book) -> Self {
        let positions: HashMap<&IngredientId, u32> =
            book.ingredients().iter().map(|i| &i.id).zip(0..).collect();
        let mut affinities = Vec::with_capacity(book.edges().len());
        let mut clashes = Vec::new();
        let weight = |edge: &Edge| match edge.bond {
            Bond::Affinity(affinity) => affinity.value(),
            Bond::Clash => 0.0,
        };
        // Edges stand by pair, so those of one ingredient follow each other and it is looked up once.
        let mut last: Option<(&IngredientId, u32)> = None;
        for (index, edge) in (0_u32..).zip(book.edges()) {
            if last.is_none_or(|(id, _)| *id != edge.pair.0) {
                last = positions.get_key_value(&edge.pair.0).map(|(id, at)| (*id, *at));
            }
            let (Some((_, a)), Some(b)) = (last, positions.get(&edge.pair.1).copied()) else { continue };
            match edge.bond {
                Bond::Affinity(_) => affinities.push((a, b, index)),
                Bond::Clash => clashes.push((a, b, index)),
            }
        }
        Self {
            affinities: compact(&affinities, book.ingredients().len()),
            clashes: compact(&clashes, book.ingredients().len()),
            weights: book.edges().iter().map(weight).collect(),
        }
    }
}

impl<'b> Graph<'b> {
    /// Builds the graph of a book.
    pub fn new(book: &'b Book) -> Self {
        Self::on(book, Arc::new(Web::of(book)))
    }

    /// The graph of a book whose web was made before.
    pub fn on(book: &'b Book, web: Arc<Web>) -> Self {
        Self { book, web }
    }

    /// The book under the graph.
    pub fn book(&self) -> &'b Book {
        self.book
    }

    /// How many affinities there are.
    pub fn affinity_count(&self) -> usize {
        self.web.affinities.edge_count() / 2
    }

    /// How many clashes there are.
    pub fn clash_count(&self) -> usize {
        self.web.clashes.edge_count() / 2
    }

    /// The affinity of two ingredients, if the book knows one.
    pub fn tie(&self, a: &IngredientId, b: &IngredientId) -> Option<Tie<'b>> {
        let (a, b) = (self.position(a)?, self.position(b)?);
        self.strand(a, b).map(|strand| self.tie_of(b, strand))
    }

    /// The clash of two ingredients, if the book knows one.
    pub fn clash(&self, a: &IngredientId, b: &IngredientId) -> Option<&'b Edge> {
        let (a, b) = (self.position(a)?, self.position(b)?);
        self.clash_at(a, b)
    }

    /// Everything an ingredient goes with, best first.
    pub fn ties(&self, id: &IngredientId) -> Vec<Tie<'b>> {
        let Some(at) = self.position(id) else { return Vec::new() };
        let mut ties: Vec<Tie<'b>> =
            self.neighbours(at).map(|(other, strand)| self.tie_of(other, strand)).collect();
        ties.sort_by(|x, y| y.affinity.cmp(&x.affinity).then_with(|| x.other.id.cmp(&y.other.id)));
        ties
    }

    /// Everything an ingredient clashes with, by id.
    pub fn clashes(&self, id: &IngredientId) -> Vec<(&'b Ingredient, &'b Edge)> {
        let Some(at) = self.position(id) else { return Vec::new() };
        self.clash_neighbours(at).map(|(other, edge)| (self.ingredient(other), edge)).collect()
    }

    pub(super) fn kin_at(&self, a: u32, b: u32) -> bool {
        self.ingredient(a).is_kin_of(self.ingredient(b))
    }

    pub(super) fn position(&self, id: &IngredientId) -> Option<u32> {
        self.book.ingredients().binary_search_by(|i| i.id.cmp(id)).ok().and_then(|p| u32::try_from(p).ok())
    }

    pub(super) fn ingredient(&self, position: u32) -> &'b Ingredient {
        &self.book.ingredients()[position as usize]
    }

    pub(super) fn len(&self) -> u32 {
        u32::try_from(self.book.ingredients().len()).unwrap_or(u32::MAX)
    }

    pub(super) fn neighbours(&self, at: u32) -> impl ExactSizeIterator<Item = (u32, Strand)> + '_ {
        let others = self.web.affinities.neighbors_slice(at);
        others.iter().copied().zip(self.web.affinities.edges_slice(at).iter().map(|e| self.strand_of(*e)))
    }

    pub(super) fn clash_neighbours(&self, at: u32) -> impl Iterator<Item = (u32, &'b Edge)> + '_ {
        let others = self.web.clashes.neighbors_slice(at);
        others
            .iter()
            .copied()
            .zip(self.web.clashes.edges_slice(at).iter().map(|e| &self.book.edges()[*e as usize]))
    }

    pub(super) fn strand(&self, a: u32, b: u32) -> Option<Strand> {
        let at = self.web.affinities.neighbors_slice(a).binary_search(&b).ok()?;
        Some(self.strand_of(self.web.affinities.edges_slice(a)[at]))
    }

    fn strand_of(&self, edge: u32) -> Strand {
        Strand { affinity: self.web.weights[edge as usize], edge }
    }

    pub(super) fn clash_at(&self, a: u32, b: u32) -> Option<&'b Edge> {
        let at = self.web.clashes.neighbors_slice(a).binary_search(&b).ok()?;
        Some(&self.book.edges()[self.web.clashes.edges_slice(a)[at] as usize])
    }

    pub(super) fn tie_of(&self, other: u32, strand: Strand) -> Tie<'b> {
        let edge = &self.book.edges()[strand.edge as usize];
        Tie { other: self.ingredient(other), affinity: Affinity::clamped(strand.affinity), edge }
    }
}

/// The graph of pairs with their edges, each pair once in each direction.
///
/// A row takes what comes before it and then what comes after, each in order if the pairs are. So rows are filled in one
/// pass, and there is little left to sort.
fn compact(pairs: &[(u32, u32, u32)], nodes: usize) -> Csr<(), u32, Directed, u32> {
    let mut next = vec![0; nodes + 1];
    for (a, b, _) in pairs {
        next[*a as usize + 1] += 1;
        next[*b as usize + 1] += 1;
    }
    for row in 0..nodes {
        next[row + 1] += next[row];
    }
    let mut directed = vec![(0, 0, 0); 2 * pairs.len()];
    for (a, b, edge) in pairs.iter().copied() {
        for (from, to) in [(a, b), (b, a)] {
            directed[next[from as usize]] = (from, to, edge);
            next[from as usize] += 1;
        }
    }
    directed.sort_unstable_by_key(|(a, b, _)| (*a, *b));
    directed.dedup_by_key(|(a, b, _)| (*a, *b));
    let mut graph = Csr::from_sorted_edges(&directed).unwrap_or_else(|_| Csr::new());
    while graph.node_count() < nodes {
        graph.add_node(());
    }
    graph
}

/// The power mean of exponent −2: near the least of the values, so that the worst pair counts most.
///
/// # Model
/// `(mean of a⁻²)^(−1/2)`. The values are taken in one order whatever order they come in, so the mean does not
/// depend on it; it lies between the least and the greatest. No values give 0.
pub fn power_mean(affinities: &[f64]) -> f64 {
    if affinities.is_empty() {
        return 0.0;
    }
    let mut sorted = affinities.to_vec();
    sorted.sort_by(f64::total_cmp);
    let sum: f64 = sorted.iter().map(|a| a.powi(-2)).sum();
    let mean = (sum / sorted.len() as f64).powf(-0.5);
    mean.clamp(sorted[0], sorted[sorted.len() - 1])
}

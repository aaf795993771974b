//! Classics whose lines do not get on.

use crate::book::{Edge, Ingredient, Template};

use super::Graph;

/// Two lines of one classic that clash.
#[derive(Debug, Clone, Copy)]
pub struct AtOdds<'b> {
    /// The classic.
    pub template: &'b Template,
    /// The one, in the order of building.
    pub filler: &'b Ingredient,
    /// The other.
    pub with: &'b Ingredient,
    /// The clash.
    pub edge: &'b Edge,
}

/// A line of a classic that has no affinity to any other of its lines.
#[derive(Debug, Clone, Copy)]
pub struct Alone<'b> {
    /// The classic.
    pub template: &'b Template,
    /// The line's ingredient.
    pub filler: &'b Ingredient,
}

pub(super) fn at_odds<'b>(graph: &Graph<'b>) -> Vec<AtOdds<'b>> {
    let mut all = Vec::new();
    for template in graph.book().templates() {
        let fillers = fillers(graph, template);
        for (index, filler) in fillers.iter().enumerate() {
            for with in &fillers[index + 1..] {
                if let Some(edge) = graph.clash(&filler.id, &with.id) {
                    all.push(AtOdds { template, filler, with, edge });
                }
            }
        }
    }
    all
}

/// Lines that stand alone. A line beside which there is nothing but forms of it is none.
pub(super) fn alone<'b>(graph: &Graph<'b>) -> Vec<Alone<'b>> {
    let mut all = Vec::new();
    for template in graph.book().templates() {
        let fillers = fillers(graph, template);
        for filler in &fillers {
            let mut rest = fillers.iter().filter(|f| f.id != filler.id && !f.is_kin_of(filler)).peekable();
            if rest.peek().is_some() && rest.all(|f| graph.tie(&filler.id, &f.id).is_none()) {
                all.push(Alone { template, filler });
            }
        }
    }
    all
}

/// The classic's own ingredients, each once.
fn fillers<'b>(graph: &Graph<'b>, template: &'b Template) -> Vec<&'b Ingredient> {
    let mut found: Vec<&'b Ingredient> = Vec::new();
    for filler in template.slots.iter().filter_map(|s| graph.book().ingredient(&s.classic)) {
        if !found.iter().any(|f| f.id == filler.id) {
            found.push(filler);
        }
    }
    found
}

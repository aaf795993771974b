//! The graph of a bundle, and how it is written as DOT.

use std::collections::{BTreeMap, BTreeSet};

use super::bundle::{Bundle, WrittenBond};
use super::filling::origin_word;
use crate::book::bond::Bond;
use crate::book::id::IngredientId;
use crate::book::ingredient::Ingredient;
use crate::book::shelf::Book;

/// What is drawn: every ingredient of a bundle, and both ends of every bond.
#[derive(Debug)]
pub(super) struct Picture<'b> {
    pub(super) nodes: Vec<&'b Ingredient>,
    pub(super) bonds: &'b [WrittenBond],
}

impl<'b> Picture<'b> {
    pub(super) fn of(bundle: &'b Bundle, book: &'b Book) -> Self {
        let ends = bundle.bonds.iter().flat_map(|bond| [&bond.pair.0, &bond.pair.1]);
        let own: BTreeMap<&IngredientId, &Ingredient> =
            bundle.ingredients.iter().map(|i| (&i.id, i)).collect();
        let ids: BTreeSet<&IngredientId> = own.keys().copied().chain(ends).collect();
        let node = |id: &IngredientId| own.get(id).copied().or_else(|| book.ingredient(id));
        Self { nodes: ids.into_iter().filter_map(node).collect(), bonds: &bundle.bonds }
    }
}

/// The graph as the text of a DOT file.
///
/// # Source
/// The DOT Language (graphviz.org, "The DOT Language"), *from memory*: any quoted text is an id; in it only `\"` stands for
/// another letter, and a backslash at its end would take the quote away, so every backslash is doubled, as labels want it.
pub(super) fn dot_text(picture: &Picture<'_>) -> String {
    let mut text = "graph \"medlar\" {\n".to_owned();
    for node in &picture.nodes {
        text.push_str(&format!(
            "  {} [\"label\"={}, \"kind\"={}, \"loudness\"={}];\n",
            quoted(node.id.as_str()),
            quoted(&node.name),
            quoted(node.kind.name()),
            quoted(&node.loudness.value().to_string()),
        ));
    }
    for bond in picture.bonds {
        let mut facts = match bond.bond {
            Bond::Affinity(affinity) => vec![("affinity", affinity.value().to_string())],
            Bond::Clash => vec![("clash", "true".to_owned()), ("style", "dashed".to_owned())],
        };
        facts.extend(bond.note.clone().map(|note| ("note", note)));
        facts.extend(bond.by.clone().map(|by| ("by", by)));
        facts.push(("origin", origin_word(&bond.origin)));
        let facts: Vec<String> =
            facts.iter().map(|(name, value)| format!("{}={}", quoted(name), quoted(value))).collect();
        let (a, b) = (quoted(bond.pair.0.as_str()), quoted(bond.pair.1.as_str()));
        text.push_str(&format!("  {a} -- {b} [{}];\n", facts.join(", ")));
    }
    text + "}\n"
}

fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

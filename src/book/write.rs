//! Records as the text they are read from: one fixed order and layout.

use std::collections::BTreeMap;

use ron::ser::{PrettyConfig, to_string_pretty};
use serde::Serialize;

use super::bond::Bond;
use super::caution::Caution;
use super::edge::Edge;
use super::id::IngredientId;
use super::ingredient::Ingredient;
use super::origin::Origin;
use super::template::Template;
use crate::measure::Affinity;

/// A sheet of one ingredient's bonds, as it stands in a file.
#[derive(Debug, Serialize)]
struct Sheet<'e> {
    of: &'e IngredientId,
    origin: &'e Origin,
    goes_with: Vec<GoesWith<'e>>,
    clashes: Vec<Clashes<'e>>,
}

/// An affinity with its note, or without.
#[derive(Debug)]
struct GoesWith<'e>(&'e IngredientId, Affinity, Option<&'e str>);

impl Serialize for GoesWith<'_> {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.2 {
            Some(note) => (self.0, self.1, note).serialize(serializer),
            None => (self.0, self.1).serialize(serializer),
        }
    }
}

/// A clash with its note, or without.
#[derive(Debug)]
struct Clashes<'e>(&'e IngredientId, Option<&'e str>);

impl Serialize for Clashes<'_> {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.1 {
            Some(note) => (self.0, note).serialize(serializer),
            None => (self.0,).serialize(serializer),
        }
    }
}

fn text(records: &impl Serialize) -> Result<String, ron::Error> {
    let layout = PrettyConfig::new().new_line("\n".to_owned());
    to_string_pretty(records, layout).map(|text| text + "\n")
}

/// Ingredients as the text of a file.
///
/// # Errors
/// Whatever the text format cannot hold; nothing a checked record has.
pub fn written_ingredients(records: &[Ingredient]) -> Result<String, ron::Error> {
    text(&records)
}

/// Templates as the text of a file.
///
/// # Errors
/// As for [`written_ingredients`].
pub fn written_templates(records: &[Template]) -> Result<String, ron::Error> {
    text(&records)
}

/// Cautions as the text of a file.
///
/// # Errors
/// As for [`written_ingredients`].
pub fn written_cautions(records: &[Caution]) -> Result<String, ron::Error> {
    text(&records)
}

/// Affinities and clashes as the text of a file: each pair on the sheet of its lesser id, which has one for each origin.
///
/// # Errors
/// As for [`written_ingredients`].
pub fn written_edges(edges: &[Edge]) -> Result<String, ron::Error> {
    let mut sheets: BTreeMap<(&IngredientId, String), Sheet<'_>> = BTreeMap::new();
    for edge in edges {
        let (of, other) = (&edge.pair.0, &edge.pair.1);
        let sheet = sheets.entry((of, edge.origin.to_string())).or_insert_with(|| Sheet {
            of,
            origin: &edge.origin,
            goes_with: Vec::new(),
            clashes: Vec::new(),
        });
        match edge.bond {
            Bond::Affinity(affinity) => sheet.goes_with.push(GoesWith(other, affinity, edge.note.as_deref())),
            Bond::Clash => sheet.clashes.push(Clashes(other, edge.note.as_deref())),
        }
    }
    text(&sheets.into_values().collect::<Vec<_>>())
}

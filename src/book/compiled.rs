//! A checked book in the form that is built into the program: quick to open, and trusted.
//!
//! The build script writes it from the text of the built-in pack, and the program reads it, by this same file. It is no
//! format for keeping or handing on: writer and reader are always of one build.

use std::borrow::Cow;
use std::collections::HashMap;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::bond::Bond;
use super::caution::Caution;
use super::edge::Edge;
use super::id::IngredientId;
use super::ingredient::Ingredient;
use super::origin::Origin;
use super::pack::Reading;
use super::prep::Prep;
use super::shelf::Book;
use super::template::Template;
use crate::measure::Affinity;

/// A reading without faults as two texts and a table.
///
/// Records are few and have many fields, so they follow from their types; affinities and clashes are many and have few
/// fields, so they are a table of rows of one width, which name ingredients by position and share their notes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Compiled<'a> {
    /// All records but affinities and clashes, as JSON.
    pub records: Cow<'a, str>,
    /// The notes of affinities and clashes, each once, one after the other.
    pub notes: Cow<'a, str>,
    /// Affinities and clashes, a row each.
    pub edges: Cow<'a, [u8]>,
}

/// A book that cannot be written so, or bytes that are none.
#[derive(Debug, Error)]
pub enum NotCompiled {
    /// The records cannot be written or read.
    #[error("the records: {0}")]
    Records(#[from] serde_json::Error),
    /// An affinity or a clash cannot be written or read.
    #[error("affinity or clash {0} has too large a number in it, or leads nowhere")]
    Edge(usize),
}

/// All records but affinities and clashes.
#[derive(Debug, Default, Serialize, Deserialize)]
struct Records {
    packs: Vec<String>,
    ingredients: Vec<Ingredient>,
    templates: Vec<Template>,
    cautions: Vec<Caution>,
    preps: Vec<Prep>,
    /// The origins that affinities and clashes have, each once.
    origins: Vec<Origin>,
}

/// Bytes of a row.
const ROW: usize = 20;

/// One affinity or clash: numbers of fixed width, the least byte first.
struct Row {
    /// Positions in the list of ingredients.
    pair: (u16, u16),
    /// The affinity; 0, which is none, for a clash.
    affinity: f64,
    /// Where in the notes its own starts, and its length in bytes; 0 for none, as no note is empty.
    note: (u32, u16),
    /// Position in the list of origins.
    origin: u16,
}

impl Row {
    fn bytes(&self) -> [u8; ROW] {
        let mut bytes = [0; ROW];
        bytes[0..2].copy_from_slice(&self.pair.0.to_le_bytes());
        bytes[2..4].copy_from_slice(&self.pair.1.to_le_bytes());
        bytes[4..12].copy_from_slice(&self.affinity.to_le_bytes());
        bytes[12..16].copy_from_slice(&self.note.0.to_le_bytes());
        bytes[16..18].copy_from_slice(&self.note.1.to_le_bytes());
        bytes[18..20].copy_from_slice(&self.origin.to_le_bytes());
        bytes
    }

    fn read(bytes: &[u8; ROW]) -> Self {
        Self {
            pair: (u16::from_le_bytes(part(bytes, 0)), u16::from_le_bytes(part(bytes, 2))),
            affinity: f64::from_le_bytes(part(bytes, 4)),
            note: (u32::from_le_bytes(part(bytes, 12)), u16::from_le_bytes(part(bytes, 16))),
            origin: u16::from_le_bytes(part(bytes, 18)),
        }
    }
}

fn part<const N: usize>(bytes: &[u8; ROW], start: usize) -> [u8; N] {
    std::array::from_fn(|index| bytes[start + index])
}

impl Compiled<'_> {
    /// Writes what was read. The same reading gives the same bytes.
    ///
    /// # Errors
    /// [`NotCompiled`] if there is more of something than a row can count.
    pub fn of(reading: &Reading) -> Result<Compiled<'static>, NotCompiled> {
        let book = &reading.book;
        let mut origins: Vec<Origin> = Vec::new();
        let mut notes = String::new();
        let mut written: HashMap<&str, (u32, u16)> = HashMap::new();
        let mut edges = Vec::with_capacity(book.edges().len() * ROW);
        let position = |id: &IngredientId| {
            let found = book.ingredients().binary_search_by(|i| i.id.cmp(id)).ok()?;
            u16::try_from(found).ok()
        };
        for (index, edge) in book.edges().iter().enumerate() {
            let too_large = || NotCompiled::Edge(index);
            let origin = origins.iter().position(|o| *o == edge.origin).unwrap_or_else(|| {
                origins.push(edge.origin.clone());
                origins.len() - 1
            });
            let note = match edge.note.as_deref() {
                None => (0, 0),
                Some(note) => match written.get(note) {
                    Some(place) => *place,
                    None => {
                        let start = u32::try_from(notes.len()).map_err(|_| too_large())?;
                        let place = (start, u16::try_from(note.len()).map_err(|_| too_large())?);
                        notes.push_str(note);
                        written.insert(note, place);
                        place
                    }
                },
            };
            let row = Row {
                pair: (
                    position(&edge.pair.0).ok_or_else(too_large)?,
                    position(&edge.pair.1).ok_or_else(too_large)?,
                ),
                affinity: match edge.bond {
                    Bond::Affinity(affinity) => affinity.value(),
                    Bond::Clash => 0.0,
                },
                note,
                origin: u16::try_from(origin).map_err(|_| too_large())?,
            };
            edges.extend(row.bytes());
        }
        let records = Records {
            packs: reading.packs.clone(),
            ingredients: book.ingredients().to_vec(),
            templates: book.templates().to_vec(),
            cautions: book.cautions().to_vec(),
            preps: book.preps().to_vec(),
            origins,
        };
        Ok(Compiled {
            records: serde_json::to_string(&records)?.into(),
            notes: notes.into(),
            edges: edges.into(),
        })
    }
}

impl Compiled<'static> {
    /// Reads what was written. The notes stay where they are.
    ///
    /// # Errors
    /// [`NotCompiled`] for anything that [`of`](Self::of) did not write. Nothing is held against anything else: that
    /// was done before it was written.
    pub fn reading(&self) -> Result<Reading, NotCompiled> {
        let records: Records = serde_json::from_str(&self.records)?;
        let id = |at: u16| records.ingredients.get(usize::from(at)).map(|i| i.id.clone());
        let note = |(start, length): (u32, u16)| {
            let range = start as usize..start as usize + usize::from(length);
            match &self.notes {
                Cow::Borrowed(notes) => notes.get(range).map(Cow::Borrowed),
                Cow::Owned(notes) => notes.get(range).map(|note| Cow::Owned(note.to_owned())),
            }
        };
        let (rows, _) = self.edges.as_chunks::<ROW>();
        let mut edges = Vec::with_capacity(rows.len());
        for (index, row) in rows.iter().enumerate() {
            let row = Row::read(row);
            let edge = || {
                Some(Edge {
                    pair: (id(row.pair.0)?, id(row.pair.1)?),
                    bond: Affinity::new(row.affinity).map_or(Bond::Clash, Bond::Affinity),
                    note: if row.note.1 == 0 { None } else { Some(note(row.note)?) },
                    origin: records.origins.get(usize::from(row.origin))?.clone(),
                    said: None,
                })
            };
            edges.push(edge().ok_or(NotCompiled::Edge(index))?);
        }
        let Records { packs, ingredients, templates, cautions, preps, .. } = records;
        let book = Book::new(ingredients, edges, templates, cautions).with_preps(preps);
        Ok(Reading { book, packs, ..Reading::default() })
    }
}

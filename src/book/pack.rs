//! Packs: read-only bodies of knowledge, the built-in one or folders that a person brings.

use std::borrow::Cow;
use std::path::Path;

use serde::Deserialize;

use super::check::check;
use super::fault::{Fault, Place, Problem};
use super::list::options;
use super::shelf::Book;
use super::source::{Content, Source, read_folder};

/// The format this version reads and writes.
pub const FORMAT: u32 = 1;

/// What reading packs came to.
#[derive(Debug, Clone, Default)]
pub struct Reading {
    /// The book, of every record that is whole; faulty records are left out.
    pub book: Book,
    /// The names of the packs, in the order given.
    pub packs: Vec<String>,
    /// Every fault of every file, by file and place.
    pub faults: Vec<Fault>,
    /// The texts that were read, for showing faults in their place.
    pub sources: Vec<Source>,
}

/// The first record of a pack.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, rename = "Pack")]
struct Head {
    format: u32,
    name: String,
}

macro_rules! embedded {
    ($($content:ident: $path:literal),+ $(,)?) => {
        &[$((Content::$content, $path, include_str!(concat!("../../data/pack/", $path)))),+]
    };
}

/// The files of the built-in pack. A test holds this list against the folder.
const BUILT_IN: &[(Content, &str, &str)] = embedded![
    Head: "pack.ron",
    Cautions: "cautions.ron",
    Ingredients: "ingredients/bitters.ron",
    Ingredients: "ingredients/dairy.ron",
    Ingredients: "ingredients/flowers.ron",
    Ingredients: "ingredients/fruit.ron",
    Ingredients: "ingredients/herbs.ron",
    Ingredients: "ingredients/juices.ron",
    Ingredients: "ingredients/liqueurs.ron",
    Ingredients: "ingredients/mixers.ron",
    Ingredients: "ingredients/nuts.ron",
    Ingredients: "ingredients/savoury.ron",
    Ingredients: "ingredients/seasonings.ron",
    Ingredients: "ingredients/spices.ron",
    Ingredients: "ingredients/spirits.ron",
    Ingredients: "ingredients/syrups.ron",
    Ingredients: "ingredients/vegetables.ron",
    Ingredients: "ingredients/wines.ron",
    Affinities: "affinities/bitters.ron",
    Affinities: "affinities/dairy.ron",
    Affinities: "affinities/flowers.ron",
    Affinities: "affinities/fruit.ron",
    Affinities: "affinities/herbs.ron",
    Affinities: "affinities/juices.ron",
    Affinities: "affinities/liqueurs.ron",
    Affinities: "affinities/mixers.ron",
    Affinities: "affinities/nuts.ron",
    Affinities: "affinities/savoury.ron",
    Affinities: "affinities/seasonings.ron",
    Affinities: "affinities/spices.ron",
    Affinities: "affinities/spirits.ron",
    Affinities: "affinities/syrups.ron",
    Affinities: "affinities/vegetables.ron",
    Affinities: "affinities/wines.ron",
    Templates: "templates/blended.ron",
    Templates: "templates/built_long.ron",
    Templates: "templates/built_short.ron",
    Templates: "templates/equal_parts.ron",
    Templates: "templates/flip_and_cream.ron",
    Templates: "templates/hot.ron",
    Templates: "templates/punch.ron",
    Templates: "templates/sour.ron",
    Templates: "templates/sour_with_egg.ron",
    Templates: "templates/sparkling.ron",
    Templates: "templates/stirred.ron",
];

/// The files of the built-in pack.
pub fn built_in() -> Vec<Source> {
    BUILT_IN
        .iter()
        .map(|(content, path, text)| Source {
            path: format!("data/pack/{path}"),
            content: *content,
            text: Cow::Borrowed(*text),
        })
        .collect()
}

/// Reads the built-in pack.
pub fn read_built_in() -> Reading {
    read(built_in(), Vec::new())
}

/// Reads pack folders, together with the built-in pack if asked. Records of all packs stand on one shelf: an id
/// may be in one of them only.
pub fn read_packs(folders: &[&Path], with_built_in: bool) -> Reading {
    let mut sources = if with_built_in { built_in() } else { Vec::new() };
    let mut faults = Vec::new();
    for folder in folders {
        let (more, wrong) = read_folder(folder);
        sources.extend(more);
        faults.extend(wrong);
    }
    read(sources, faults)
}

/// Reads sources that are already in memory.
pub fn read(sources: Vec<Source>, mut faults: Vec<Fault>) -> Reading {
    let mut packs = Vec::new();
    for source in sources.iter().filter(|s| s.content == Content::Head) {
        match options().from_str::<Head>(&source.text) {
            Ok(head) if head.format != FORMAT => faults.push(Fault::of_file(
                source.path.clone(),
                Problem::OtherFormat { found: head.format, known: FORMAT },
            )),
            Ok(head) => packs.push(head.name),
            Err(error) => faults.push(Fault {
                place: Some(Place::in_text(&source.text, 0..0)),
                ..Fault::of_file(source.path.clone(), Problem::Text(error.to_string()))
            }),
        }
    }
    let book = check(&sources, &mut faults);
    faults.sort_by(|a, b| {
        let key = |f: &Fault| f.place.as_ref().map(|p| (p.line, p.column));
        a.file.cmp(&b.file).then(key(a).cmp(&key(b)))
    });
    Reading { book, packs, faults, sources }
}

#[cfg(test)]
mod tests;

//! Packs: read-only bodies of knowledge, in folders or in memory.

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
    /// The texts that were read, for showing faults in their place; none of a pack that was compiled.
    pub sources: Vec<Source>,
}

/// The first record of a pack.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, rename = "Pack")]
pub(super) struct Head {
    pub(super) format: u32,
    name: String,
}

/// Reads pack folders, together with sources that are already in memory. Records of all stand on one shelf: an id
/// may be in one of them only.
pub fn read_folders(folders: &[&Path], mut sources: Vec<Source>) -> Reading {
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

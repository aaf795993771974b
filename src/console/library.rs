//! What a session reads from: the packs and their names.

use std::path::Path;
use std::sync::Arc;

use super::failure::Failure;
use super::settings::Settings;
use crate::book::{Book, Names, Reading, read_built_in, read_packs};
use crate::pairing::{Graph, Web};
use crate::report::faults_text;

/// The word that stands for the built-in pack among `--pack` folders.
const BUILT_IN: &str = "built-in";

/// A checked book and the names in it.
#[derive(Debug)]
pub struct Library {
    /// The records.
    pub book: Book,
    /// Their names.
    pub names: Names,
    /// The packs in use.
    pub packs: Vec<String>,
    web: Arc<Web>,
}

impl Library {
    /// Opens the packs that the settings name.
    ///
    /// # Errors
    /// A [`Failure`] that tells every fault of every file, or that a pack is empty.
    pub fn open(settings: &Settings) -> Result<Self, Failure> {
        if settings.pack.is_empty() {
            return Self::of(read_built_in());
        }
        let is_built_in = |p: &&std::path::PathBuf| p.as_os_str() == BUILT_IN;
        let with_built_in = settings.pack.iter().any(|p| is_built_in(&p));
        let folders: Vec<&Path> =
            settings.pack.iter().filter(|p| !is_built_in(p)).map(std::path::PathBuf::as_path).collect();
        Self::of(read_packs(&folders, with_built_in))
    }

    /// Takes a reading that has no faults.
    ///
    /// # Errors
    /// A [`Failure`] that tells every fault, or that there are no ingredients.
    pub fn of(reading: Reading) -> Result<Self, Failure> {
        if !reading.faults.is_empty() {
            let count = reading.faults.len();
            let faults = if count == 1 { "1 fault".to_owned() } else { format!("{count} faults") };
            let failure = Failure::mistake(format!("the pack has {faults} and was not opened"));
            return Err(Failure { detail: faults_text(&reading.faults, &reading.sources), ..failure });
        }
        if reading.book.ingredients().is_empty() {
            return Err(Failure::mistake("the pack holds no ingredients")
                .hint("a pack is a folder with pack.ron and ingredients/*.ron (docs/format.md)"));
        }
        let names = Names::new(&reading.book);
        let web = Arc::new(Web::of(&reading.book));
        Ok(Self { book: reading.book, names, packs: reading.packs, web })
    }

    /// The graph over the records.
    pub fn graph(&self) -> Graph<'_> {
        Graph::on(&self.book, Arc::clone(&self.web))
    }
}

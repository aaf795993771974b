//! What a session reads from: the packs, the house book over them, and their names.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::failure::Failure;
use super::settings::Settings;
use crate::book::{
    Book, Fault, Names, OpenedHouse, Reading, Source, Stamp, Store, StoreProblem, open_house, read_built_in,
    read_packs,
};
use crate::pairing::{Graph, Web};
use crate::report::faults_text;

/// The word that stands for the built-in pack among `--pack` folders.
const BUILT_IN: &str = "built-in";

/// A checked book and the names in it.
#[derive(Debug)]
pub struct Library {
    /// The records of the packs, with the house's over them.
    pub book: Book,
    /// Their names.
    pub names: Names,
    /// The packs in use.
    pub packs: Vec<String>,
    /// The house book, as its files stand.
    pub house: HouseFiles,
    /// The records of the packs alone, where the house has any.
    packs_alone: Option<Book>,
    web: Arc<Web>,
}

/// The files of a house book, and what is wrong with them.
#[derive(Debug, Default)]
pub struct HouseFiles {
    /// Where they stand; none if there is no folder for the house.
    pub root: Option<PathBuf>,
    /// How many records there are.
    pub records: usize,
    /// Faults of records; each is left out.
    pub faults: Vec<Fault>,
    /// The texts they are in.
    pub sources: Vec<Source>,
    /// Files that are no records.
    pub problems: Vec<StoreProblem>,
    /// Why none of it could be read, if so.
    pub closed: Option<String>,
    stamp: Option<Stamp>,
}

impl HouseFiles {
    /// A word on what is wrong, for one who starts; none if all is well.
    pub fn warning(&self) -> Option<String> {
        if let Some(why) = &self.closed {
            return Some(format!("the house book is left out: {why}"));
        }
        let wrong = self.faults.len() + self.problems.len();
        let told = if wrong == 1 { "a fault".to_owned() } else { format!("{wrong} faults") };
        (wrong > 0).then(|| {
            format!("the house book has {told}; the records they are in are left out, the rest is read. 'check' shows them")
        })
    }
}

impl Library {
    /// Opens the packs that the settings name, and the house book over them.
    ///
    /// # Errors
    /// A [`Failure`] that tells every fault of every file of a pack, or that a pack is empty.
    pub fn open(settings: &Settings) -> Result<Self, Failure> {
        let house = settings.book.as_deref();
        if settings.pack.is_empty() {
            return Self::over(read_built_in(), house);
        }
        let is_built_in = |p: &&PathBuf| p.as_os_str() == BUILT_IN;
        let with_built_in = settings.pack.iter().any(|p| is_built_in(&p));
        let folders: Vec<&Path> =
            settings.pack.iter().filter(|p| !is_built_in(p)).map(PathBuf::as_path).collect();
        Self::over(read_packs(&folders, with_built_in), house)
    }

    /// Takes a reading that has no faults, without a house book.
    ///
    /// # Errors
    /// A [`Failure`] that tells every fault, or that there are no ingredients.
    pub fn of(reading: Reading) -> Result<Self, Failure> {
        Self::over(reading, None)
    }

    /// Takes a reading that has no faults, and lays the house book of a folder over it. Faults of the house book refuse
    /// nothing: what is whole is read.
    ///
    /// # Errors
    /// As [`of`](Self::of).
    pub fn over(reading: Reading, house: Option<&Path>) -> Result<Self, Failure> {
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
        Ok(Self::laid(reading.book, reading.packs, house))
    }

    /// The same with the house book as it is now.
    #[must_use]
    pub fn again(&self) -> Self {
        Self::laid(self.packs_alone().clone(), self.packs.clone(), self.house.root.as_deref())
    }

    fn laid(packs_alone: Book, packs: Vec<String>, root: Option<&Path>) -> Self {
        let (opened, house) = root.map_or((None, HouseFiles::default()), |root| open(&packs_alone, root));
        let (book, packs_alone) = match opened {
            Some(book) => (book, Some(packs_alone)),
            None => (packs_alone, None),
        };
        let names = Names::new(&book);
        let web = Arc::new(Web::of(&book));
        Self { book, names, packs, house, packs_alone, web }
    }

    /// Whether the house book may have changed since it was read.
    pub fn is_stale(&self) -> bool {
        let Some(root) = &self.house.root else { return false };
        Store::at(root).stamp().ok() != self.house.stamp
    }

    /// The records of the packs, without the house's.
    pub fn packs_alone(&self) -> &Book {
        self.packs_alone.as_ref().unwrap_or(&self.book)
    }

    /// The graph over the records.
    pub fn graph(&self) -> Graph<'_> {
        Graph::on(&self.book, Arc::clone(&self.web))
    }
}

/// Lays the house book of a folder over the packs; none where the house has no record.
fn open(packs: &Book, root: &Path) -> (Option<Book>, HouseFiles) {
    let files = HouseFiles { root: Some(root.to_owned()), ..HouseFiles::default() };
    let store = Store::at(root);
    let stamp = store.stamp().ok();
    let contents = match store.read() {
        Ok(contents) => contents,
        Err(fault) => return (None, HouseFiles { closed: Some(fault.to_string()), stamp, ..files }),
    };
    let records = contents.texts.len();
    let problems = contents.problems;
    if records == 0 {
        return (None, HouseFiles { problems, stamp, ..files });
    }
    let OpenedHouse { book, faults, sources } = open_house(packs, contents.texts, root);
    (Some(book), HouseFiles { records, faults, sources, problems, stamp, ..files })
}

//! Round trips: what is taken out and brought in again is the same, whole records compared.

mod books;
mod chance;
mod check;

use std::path::{Path, PathBuf};

use proptest::prelude::*;
use tempfile::TempDir;

use super::item::Item;
use super::*;
use crate::book::built_in::read_built_in;
use crate::book::edge::Edge;
use crate::book::house::{keep, open_house};
use crate::book::names::Names;
use crate::book::pack::{Reading, read_folders};
use crate::book::store::{Occasion, Store};
use chance::Chance;

fn weir() -> Book {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/packs/weir");
    let Reading { book, faults, .. } = read_folders(&[&folder], Vec::new());
    assert_eq!(faults, []);
    book
}

/// A house book in a folder of its own, over packs.
struct House<'p> {
    packs: &'p Book,
    folder: TempDir,
}

impl<'p> House<'p> {
    fn over(packs: &'p Book) -> Self {
        Self { packs, folder: tempfile::tempdir().unwrap() }
    }

    fn root(&self) -> PathBuf {
        self.folder.path().join("house")
    }

    fn book(&self) -> Book {
        let texts = Store::at(&self.root()).read().unwrap().texts;
        let opened = open_house(self.packs, texts, &self.root());
        assert_eq!(opened.faults, []);
        opened.book
    }

    fn bring(&self, brought: Brought) -> Book {
        let now = self.book();
        let plan = plan(brought, self.packs, &now, true);
        assert_eq!(plan.faults, []);
        let edits: Vec<_> = plan.steps.into_iter().map(|step| step.edit).collect();
        let occasion = Occasion { at: "2026-11-27T10:00:00Z".into(), who: "weir".into(), dice: 7 };
        let root = self.root();
        keep(&Store::at(&root), &occasion, "import", (self.packs, &now), &root, &edits)
            .map_err(|why| format!("{why}: {why:?}"))
            .unwrap();
        self.book()
    }
}

fn items(items: Vec<Item>) -> Brought {
    let spot = |line: usize| Spot { file: "chance".into(), line: line as u64 };
    Brought {
        items: items.into_iter().enumerate().map(|(n, item)| (spot(n), item)).collect(),
        ..Brought::default()
    }
}

/// Everything of a book but whose each record is.
fn same(one: &Book, other: &Book) {
    for (a, b) in one.ingredients().iter().zip(other.ingredients()) {
        assert_eq!(a, b);
    }
    for (a, b) in one.edges().iter().zip(other.edges()) {
        assert_eq!(a, b);
    }
    for (a, b) in one.templates().iter().zip(other.templates()) {
        assert_eq!(a, b);
    }
    assert_eq!(one.ingredients().len(), other.ingredients().len());
    assert_eq!(one.edges().len(), other.edges().len());
    assert_eq!(one.templates().len(), other.templates().len());
    assert_eq!(one.preps(), other.preps());
    assert_eq!(one.cautions(), other.cautions());
    let (a, b) = (one.house(), other.house());
    assert_eq!(a.prices().collect::<Vec<_>>(), b.prices().collect::<Vec<_>>());
    assert_eq!(a.stock().collect::<Vec<_>>(), b.stock().collect::<Vec<_>>());
    assert_eq!(a.hold_backs().collect::<Vec<_>>(), b.hold_backs().collect::<Vec<_>>());
    assert_eq!(a.tastings(), b.tastings());
    assert_eq!(a.weighings(), b.weighings());
    assert_eq!(a.measures(), b.measures());
}

fn through_csv(book: &Book, packs: &Book, part: Part) -> Brought {
    let bundle = Bundle::of(book, part, Bonds::Written);
    let files = csv_files(&bundle, (packs, book), &Names::new(book)).unwrap();
    let file = |(name, bytes): (String, Vec<u8>)| TableFile {
        stem: name.trim_end_matches(".csv").to_owned(),
        file: name,
        table: None,
        bytes,
    };
    let files: Vec<TableFile> = files.into_iter().map(file).collect();
    let brought = read_tables(&files, &[], packs, &Names::new(packs), &mut |_| {}).unwrap();
    assert_eq!(brought.faults, []);
    assert_eq!(brought.notes, Vec::<String>::new());
    brought
}

fn through_json(book: &Book, part: Part) -> Brought {
    let text = json_text(&Bundle::of(book, part, Bonds::Written), &["weir".to_owned()]).unwrap();
    let brought = read_json("book.json", &text).unwrap();
    assert_eq!(brought.faults, []);
    brought
}

/// The folder of a pack, and what reading it as a pack gives.
fn through_ron(book: &Book) -> (TempDir, Reading) {
    let folder = tempfile::tempdir().unwrap();
    let files = pack_files(&Bundle::of(book, Part::Whole, Bonds::Tasted), "weir").unwrap();
    for (path, bytes) in files {
        let path = folder.path().join(path);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, bytes).unwrap();
    }
    let reading = read_folders(&[folder.path()], Vec::new());
    (folder, reading)
}

fn plain(edge: &Edge) -> Edge {
    Edge { said: None, ..edge.clone() }
}

fn is_the_pack(reading: &Reading, book: &Book) {
    assert_eq!(reading.faults, []);
    assert_eq!(reading.book.ingredients(), book.ingredients());
    assert_eq!(reading.book.templates(), book.templates());
    assert_eq!(reading.book.preps(), book.preps());
    assert_eq!(reading.book.cautions(), book.cautions());
    let edges: Vec<Edge> = book.edges().iter().map(plain).collect();
    assert!(reading.book.edges() == edges);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    /// The house's records alone, and all of them with the packs', go out and come into an empty house.
    #[test]
    fn a_random_book_comes_back(seed in any::<u64>()) {
        let packs = weir();
        let mut chance = Chance::of(seed, &packs);
        let first = House::over(&packs);
        let bundle = chance.bundle();
        let book = first.bring(items(check::items(&bundle)));
        check::holds(&bundle, &book);
        for part in [Part::House, Part::Whole] {
            same(&book, &House::over(&packs).bring(through_csv(&book, &packs, part)));
            same(&book, &House::over(&packs).bring(through_json(&book, part)));
        }
        let (folder, reading) = through_ron(&book);
        is_the_pack(&reading, &book);
        let brought = read_pack(folder.path()).unwrap();
        prop_assert_eq!(&brought.faults, &[]);
        let again = House::over(&packs).bring(brought);
        prop_assert_eq!(again.ingredients(), book.ingredients());
        prop_assert_eq!(again.templates(), book.templates());
        prop_assert_eq!(again.preps(), book.preps());
        // A second time nothing changes.
        let now = first.book();
        let second = plan(through_csv(&now, &packs, Part::Whole), &packs, &now, false);
        prop_assert_eq!(second.steps, Vec::new());
        let second = plan(through_json(&now, Part::Whole), &packs, &now, false);
        prop_assert_eq!(second.steps, Vec::new());
    }

    /// Whatever stands in a file, it is read or refused.
    #[test]
    fn any_bytes_are_read_or_refused(
        bytes in prop::collection::vec(any::<u8>(), 0..400),
        lines in "([a-z=;,\"'\t\n -]|[0-9.]|quince|gin|name|kind|a|b){0,80}",
        table in 0..Table::ALL.len(),
    ) {
        let packs = chance::small();
        let names = Names::new(&packs);
        let header: &[u8] = match Table::ALL[table] {
            Table::Ingredients => b"name,kind,allergens,facets,peak\n",
            Table::Affinities => b"a,b,affinity\n",
            Table::Specs => b"drink;amount;ingredient\n",
            Table::Preps => b"makes,lines,steps\n",
            Table::Cautions => b"id,text\n",
            Table::Prices => b"item\tpaid\tsize\n",
            Table::Stock => b"item,level\n",
            Table::HoldBacks => b"item,goes_in\n",
            Table::Tastings => b"id,on,of,score,told\n",
            Table::Weighings => b"id,method,before,after\n",
            Table::Measures => b"dash,drop\n",
        };
        for content in [bytes.clone(), [header, &bytes].concat(), [header, lines.as_bytes()].concat()] {
            let file = TableFile {
                file: "any.csv".to_owned(),
                stem: "any".to_owned(),
                table: Some(Table::ALL[table]),
                bytes: content,
            };
            if let Ok(brought) = read_tables(&[file], &[], &packs, &names, &mut |_| {}) {
                let rows = brought.rows;
                let plan = plan(brought, &packs, &packs, false);
                prop_assert!(plan.steps.len() <= rows);
            }
        }
        if let Ok(text) = String::from_utf8(bytes) {
            let _ = read_json("any.json", &text);
        }
    }
}

/// The built-in pack whole, as a pack, as JSON and as tables.
#[test]
fn the_built_in_pack_comes_back() {
    let packs = read_built_in().book;
    let (_folder, reading) = through_ron(&packs);
    is_the_pack(&reading, &packs);
    // Brought into a house over the same pack nothing is new; over nothing but what a house cannot hold, all of it is.
    for brought in [through_csv(&packs, &packs, Part::Whole), through_json(&packs, Part::Whole)] {
        assert!(brought.rows > 37_000, "{}", brought.rows);
        let plan = plan(brought, &packs, &packs, false);
        assert_eq!((plan.steps.len(), plan.faults), (0, Vec::new()));
    }
    let bare = Book::new(Vec::new(), Vec::new(), Vec::new(), packs.cautions().to_vec());
    let text = json_text(&Bundle::of(&packs, Part::Whole, Bonds::Written), &[]).unwrap();
    let files =
        csv_files(&Bundle::of(&packs, Part::Whole, Bonds::Written), (&bare, &packs), &Names::new(&packs));
    let files: Vec<TableFile> = files
        .unwrap()
        .into_iter()
        .map(|(name, bytes)| TableFile {
            stem: name.trim_end_matches(".csv").to_owned(),
            file: name,
            table: None,
            bytes,
        })
        .collect();
    let tables = read_tables(&files, &[], &bare, &Names::new(&bare), &mut |_| {}).unwrap();
    for brought in [read_json("book.json", &text).unwrap(), tables] {
        assert_eq!(brought.faults, []);
        let mut all = check::records(&brought);
        all.sort();
        assert_eq!(all, check::records_of(&packs));
    }
}

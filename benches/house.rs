//! How fast a house book opens and is changed; see README.md beside this file.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    reason = "criterion's macros; a bench that cannot go on should stop"
)]

use std::fs::{self, File};
use std::io::Write;
use std::path::Path;
use std::process::Command;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use criterion::{BatchSize, Criterion, criterion_group, criterion_main};
use medlar::book::{Occasion, RecordChange, RecordEdit, RecordPath, Store, keep, read_built_in};
use medlar::console::{Clock, Library, Session, Settings, Today};
use medlar::measure::Month;
use medlar::report::Style;

/// How many records the book has.
const RECORDS: usize = 10_000;

fn occasion(dice: u64) -> Occasion {
    Occasion { at: "2026-11-27T12:00:00Z".to_owned(), who: "the river bar".to_owned(), dice }
}

/// A book of ten thousand records of the kinds that grow: bonds, ingredients, tastings, prices and stock.
fn book(house: &Path) {
    let ids: Vec<String> = read_built_in().book.ingredients().iter().map(|i| i.id.to_string()).collect();
    for folder in ["affinities", "ingredients", "tastings", "prices", "stock"] {
        fs::create_dir_all(house.join(folder)).unwrap();
    }
    let mut count = 0;
    let mut put = |path: String, kind: &str, fields: &str| {
        let text = format!("(\n    format: 1,\n    {kind}: (\n{fields}    ),\n)\n");
        fs::write(house.join(path), text).unwrap();
        count += 1;
    };
    for n in 0..2_000 {
        let fields = format!(
            "        id: \"weir-{n}\",\n        name: \"weir cordial {n}\",\n        kind: syrup,\n        roles: [sweet],\n        \
             makeup: (sugar: {}),\n        facets: {{orchard: 0.5}},\n        loudness: 0.4,\n        season: all_year,\n        \
             allergens: [],\n        diet: [],\n        origin: (flavour: house, makeup: house),\n",
            200 + n % 400
        );
        put(format!("ingredients/weir-{n}.ron"), "ingredient", &fields);
    }
    for of in ids.iter().take(500) {
        put(
            format!("prices/{of}.ron"),
            "price",
            &format!("        of: \"{of}\",\n        paid: \"30 EUR\",\n        size: \"700 ml\",\n"),
        );
        put(format!("stock/{of}.ron"), "stock", &format!("        of: \"{of}\",\n        level: have,\n"));
    }
    for n in 0..1_000 {
        let (a, b) = (&ids[n % ids.len()], &ids[(n * 7 + 1) % ids.len()]);
        if a == b {
            continue;
        }
        let fields = format!(
            "        id: \"2026-11-27-{n:08x}\",\n        of: pair(\"{a}\", \"{b}\"),\n        score: 7,\n        words: \"dry and long\",\n        \
             on: \"2026-11-27\",\n        told: [(\"{a}\", \"{b}\", 1.0)],\n"
        );
        put(format!("tastings/2026-11-27-{n:08x}.ron"), "tasting", &fields);
    }
    let mut n = 0;
    let mut pairs = std::collections::BTreeSet::new();
    while 3 * 1_000 + 1_000 + pairs.len() < RECORDS {
        let (a, b) = (format!("weir-{}", n % 2_000), ids[(n * 13 + n / 2_000) % ids.len()].clone());
        n += 1;
        let (a, b) = if a < b { (a, b) } else { (b, a) };
        if pairs.insert((a.clone(), b.clone())) {
            let fields = format!(
                "        between: (\"{a}\", \"{b}\"),\n        bond: goes(0.7),\n        note: \"as the house has it\",\n"
            );
            put(format!("affinities/{a}--{b}.ron"), "bond", &fields);
        }
    }
    println!("{count} records");
    assert!(count > RECORDS * 9 / 10);
}

fn session(library: &Arc<Library>) -> Session {
    let dice = AtomicU64::new(1);
    let clock = Clock::new(move || occasion(dice.fetch_add(1, Ordering::Relaxed)));
    let settings = Settings { book: library.house.root.clone(), ..Settings::default() };
    let style = Style { width: 80, colour: false, unicode: true };
    Session::new(Arc::clone(library), settings, Today(Month::Oct), style).keeping(clock)
}

fn open(c: &mut Criterion, house: &Path) {
    c.bench_function("house/open/none", |b| {
        b.iter(|| assert_eq!(Library::over(read_built_in(), None).unwrap().house.records, 0));
    });
    c.bench_function("house/open/ten-thousand", |b| {
        b.iter(|| {
            let library = Library::over(read_built_in(), Some(house)).unwrap();
            assert!(library.house.records > RECORDS * 9 / 10 && library.house.warning().is_none());
        });
    });
    let run = |house: &Path| {
        let words = ["--month", "10", "pairs", "quince", "--book"];
        let output = Command::new(env!("CARGO_BIN_EXE_medlar")).args(words).arg(house).output().unwrap();
        assert!(output.status.success() && output.stderr.is_empty());
    };
    let nothing = house.join("not-there");
    c.bench_function("house/cold/none", |b| b.iter(|| run(&nothing)));
    c.bench_function("house/cold/ten-thousand", |b| b.iter(|| run(house)));
}

fn change(c: &mut Criterion, house: &Path) {
    let library = Arc::new(Library::over(read_built_in(), Some(house)).unwrap());
    let mut talking = session(&library);
    let mut n = 0;
    let mut other = move || {
        n += 1;
        format!("0.{:02}", 10 + n % 80)
    };
    c.bench_function("house/change/one-of-ten-thousand", |b| {
        b.iter_batched(
            &mut other,
            |number| {
                let outcome = talking.answer(&format!("goes quince, mezcal {number}"));
                assert_eq!((outcome.status, outcome.err.as_str()), (0, ""));
            },
            BatchSize::PerIteration,
        );
    });
    // The store's part and the checks, without reading the book again for the next question.
    let store = Store::at(house);
    let path: RecordPath = "affinities/mezcal--quince.ron".parse().unwrap();
    let edit = |number: String| RecordEdit {
        path: path.clone(),
        change: RecordChange::Set(vec![(vec!["bond".to_owned()], Some(format!("goes({number})")))]),
    };
    c.bench_function("house/change/kept", |b| {
        b.iter_batched(
            || edit(other()),
            |edit| {
                let books = (library.packs_alone(), &library.book);
                let kept = keep(&store, &occasion(1), "goes", books, house, &[edit]).unwrap();
                assert!(kept.id.is_some());
            },
            BatchSize::PerIteration,
        );
    });
    // The peer: the same bytes written and flushed, and nothing else.
    let text = fs::read(house.join(path.to_string())).unwrap();
    let plain = house.join("plain");
    c.bench_function("house/goes/plain-write", |b| {
        b.iter(|| {
            let mut file = File::create(&plain).unwrap();
            file.write_all(&text).unwrap();
            file.sync_all().unwrap();
        });
    });
    c.bench_function("house/stamp", |b| b.iter(|| assert!(store.stamp().is_ok())));
}

fn house(c: &mut Criterion) {
    let folder = tempfile::tempdir().unwrap();
    let house = folder.path().join("weir");
    book(&house);
    // The first change begins the history.
    let library = Arc::new(Library::over(read_built_in(), Some(&house)).unwrap());
    assert_eq!(session(&library).answer("goes quince, mezcal 0.9").status, 0);
    open(c, &house);
    change(c, &house);
}

criterion_group!(benches, house);
criterion_main!(benches);

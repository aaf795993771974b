//! How fast the house book is read and changed; docs/store.md tells what was measured.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    reason = "criterion's macros; a bench that cannot go on should stop"
)]

use std::fs::{self, File};
use std::io::Write;
use std::path::Path;

use criterion::{Criterion, criterion_group, criterion_main};
use medlar::book::{Folder, Occasion, RecordKind, RecordPath, Store, Which};

const RECORDS: usize = 10_000;

fn occasion() -> Occasion {
    Occasion { at: "2027-03-01T10:00:00Z".to_owned(), who: "the lower bar".to_owned(), dice: 7 }
}

/// A book of ten thousand records of 500 bytes.
fn large(root: &Path) -> Store<Folder> {
    let store = Store::at(root);
    let first = RecordPath::new("settings", "first").unwrap();
    store.change(&occasion(), "begin", |sheaf| sheaf.write(&first, "begun")).unwrap();
    for n in 1..RECORDS {
        let folder = root.join(RecordKind::ALL[n % 8].folder());
        fs::create_dir_all(&folder).unwrap();
        fs::write(folder.join(format!("record-{n}.ron")), format!("{n:0500}")).unwrap();
    }
    store
}

fn store(c: &mut Criterion) {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path().join("weir-house");
    let store = large(&root);
    c.bench_function("store/read/ten-thousand", |b| {
        b.iter(|| {
            let contents = store.read().unwrap();
            assert!(contents.texts.len() == RECORDS && contents.problems.is_empty());
        });
    });
    c.bench_function("store/stamp/ten-thousand", |b| {
        let before = store.stamp().unwrap();
        b.iter(|| assert!(store.stamp().unwrap() == before));
    });
    let mut group = c.benchmark_group("store/change");
    group.sample_size(50);
    let record = RecordPath::new("ingredients", "quince").unwrap();
    let mut n = 0;
    group.bench_function("one", |b| {
        b.iter(|| {
            n += 1;
            let changed = store
                .change(&occasion(), "change quince", |sheaf| sheaf.write(&record, format!("{n:0500}")))
                .unwrap();
            assert!(changed.id.is_some());
        });
    });
    // The peer: a file written over and flushed, which a crash can leave half-written and no one can undo.
    let plain = root.join("plain");
    group.bench_function("one-by-plain-writing", |b| {
        b.iter(|| {
            n += 1;
            let mut file = File::create(&plain).unwrap();
            file.write_all(format!("{n:0500}").as_bytes()).unwrap();
            file.sync_all().unwrap();
        });
    });
    group.bench_function("undo-and-redo", |b| {
        b.iter(|| {
            let undone = store.undo(&occasion(), &Which::Last).unwrap();
            assert!(store.redo(&occasion(), &Which::Last).unwrap().value.id == undone.value.id);
        });
    });
    group.finish();
}

criterion_group!(benches, store);
criterion_main!(benches);

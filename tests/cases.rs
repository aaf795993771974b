//! What fuzzing found and what it began from, held against the same laws; see `fuzz/README.md`.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

#[path = "cases/mod.rs"]
mod laws;

use std::fs;
use std::path::{Path, PathBuf};

use proptest::prelude::*;

/// The files kept for a case, by name.
fn kept(name: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases").join(name);
    let mut files: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    files.sort();
    files
}

#[test]
fn what_was_kept_holds() {
    for (name, case) in laws::CASES {
        let files = kept(name);
        assert!(files.len() >= 5, "{name}");
        for file in files {
            println!("{}", file.display());
            case(&fs::read(file).unwrap());
        }
    }
}

/// Bytes made of pieces of what was kept, so that they come near to what is read.
fn pieces(name: &str) -> BoxedStrategy<Vec<u8>> {
    let whole: Vec<Vec<u8>> = kept(name).iter().map(|file| fs::read(file).unwrap()).collect();
    let piece = (prop::sample::select(whole), any::<prop::sample::Index>(), any::<prop::sample::Index>())
        .prop_map(|(whole, from, to)| {
            let (from, to) = (from.index(whole.len() + 1), to.index(whole.len() + 1));
            whole[from.min(to)..from.max(to)].to_vec()
        });
    let any_byte = any::<u8>().prop_map(|byte| vec![byte]);
    prop::collection::vec(prop_oneof![4 => piece, 1 => any_byte], 1..5)
        .prop_map(|parts| parts.concat())
        .boxed()
}

/// One of those that were kept, with a few bytes changed.
fn changed(name: &str) -> BoxedStrategy<Vec<u8>> {
    let whole: Vec<Vec<u8>> = kept(name).iter().map(|file| fs::read(file).unwrap()).collect();
    let edits = prop::collection::vec((any::<prop::sample::Index>(), any::<u8>(), 0..3_u8), 0..4);
    (prop::sample::select(whole), edits)
        .prop_map(|(mut bytes, edits)| {
            for (at, byte, what) in edits {
                let at = at.index(bytes.len() + 1);
                match what {
                    0 if at < bytes.len() => bytes[at] = byte,
                    1 if at < bytes.len() => drop(bytes.remove(at)),
                    _ => bytes.insert(at, byte),
                }
            }
            bytes
        })
        .boxed()
}

fn hold(name: &str, cases: u32) {
    let (_, case) = laws::CASES.into_iter().find(|(n, _)| *n == name).unwrap();
    // `PROPTEST_CASES` asks for more.
    let cases = std::env::var("PROPTEST_CASES").ok().and_then(|n| n.parse().ok()).unwrap_or(cases);
    let config = ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() };
    let mut runner = proptest::test_runner::TestRunner::new(config);
    runner
        .run(&prop_oneof![pieces(name), changed(name)], |bytes| {
            case(&bytes);
            Ok(())
        })
        .unwrap();
}

#[test]
fn leaves_near_to_those_hold() {
    hold("leaf", 300);
}

#[test]
fn merges_near_to_those_hold() {
    hold("merge", 300);
}

#[test]
fn records_near_to_those_hold() {
    hold("house", 300);
}

#[test]
fn lines_near_to_those_hold() {
    hold("line", 60);
}

#[test]
fn quantities_near_to_those_hold() {
    hold("quantity", 1000);
}

#[test]
fn tables_near_to_those_hold() {
    hold("table", 300);
}

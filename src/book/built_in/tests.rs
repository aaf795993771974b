use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use super::super::fault::Problem;
use super::super::pack::read;
use super::*;

fn told(reading: &Reading) -> Vec<String> {
    reading
        .faults
        .iter()
        .map(|f| {
            let place = f.place.as_ref().map_or(String::new(), |p| format!(":{}:{}", p.line, p.column));
            let record = f.record.as_ref().map_or(String::new(), |r| format!(" [{r}]"));
            format!("{}{place}{record}: {}", f.file, f.problem)
        })
        .collect()
}

#[test]
fn the_built_in_pack_has_no_faults_and_opens_as_its_text_reads() {
    let (text, opened) = (read(built_in(), Vec::new()), read_built_in());
    assert_eq!(told(&text), Vec::<String>::new());
    assert_eq!(text.packs, ["built-in"]);
    assert_eq!(opened.packs, text.packs);
    assert_eq!(told(&opened), Vec::<String>::new());
    assert!(!text.book.edges().is_empty() && opened.book == text.book);
}

#[test]
fn compiling_again_gives_the_bytes_that_are_built_in() {
    let text = read(built_in(), Vec::new());
    assert!(Compiled::of(&text).unwrap() == COMPILED);
    assert!(Compiled::of(&read_built_in()).unwrap() == COMPILED);
}

#[test]
fn what_was_not_compiled_is_refused() {
    let other = |change: fn(&mut Compiled<'static>)| {
        let mut compiled = COMPILED.clone();
        change(&mut compiled);
        compiled.reading().err().map(|e| e.to_string())
    };
    assert_eq!(other(|_| ()), None);
    assert!(other(|c| c.records = "{}".into()).is_some_and(|why| why.contains("packs")));
    let leads_nowhere = "affinity or clash 0 has too large a number in it, or leads nowhere";
    assert_eq!(other(|c| c.edges.to_mut()[..2].fill(0xff)).as_deref(), Some(leads_nowhere));
    assert_eq!(other(|c| c.edges.to_mut()[18..20].fill(0xff)).as_deref(), Some(leads_nowhere));
    assert!(other(|c| c.notes = "".into()).is_some_and(|why| why.ends_with("leads nowhere")));
}

/// Alone, a file may only miss what stands in the others.
#[test]
fn every_file_reads_alone() {
    let head = || built_in().into_iter().find(|s| s.content == Content::Head).unwrap();
    for source in built_in().into_iter().filter(|s| s.content != Content::Head) {
        let path = source.path.clone();
        let reading = read(vec![head(), source], Vec::new());
        let own: Vec<String> = reading
            .faults
            .iter()
            .filter(|f| !matches!(f.problem, Problem::UnknownId { .. }))
            .map(|f| f.problem.to_string())
            .collect();
        assert_eq!(own, Vec::<String>::new(), "{path}");
    }
}

#[test]
fn every_file_of_the_built_in_pack_is_embedded_and_no_other() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/pack");
    let mut on_disk = BTreeSet::new();
    for folder in ["", "ingredients", "affinities", "templates", "preps"] {
        for entry in fs::read_dir(root.join(folder)).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_some_and(|e| e == "ron") {
                on_disk.insert(path.strip_prefix(&root).unwrap().to_str().unwrap().to_owned());
            }
        }
    }
    let embedded: BTreeSet<String> =
        TEXTS.iter().map(|(_, path, _)| path.strip_prefix("data/pack/").unwrap().to_owned()).collect();
    assert_eq!(embedded, on_disk);
}

#[test]
fn the_built_in_pack_is_as_large_as_it_says() {
    let book = read_built_in().book;
    assert!(book.ingredients().len() >= 160, "{} ingredients", book.ingredients().len());
    let clashes = book.edges().iter().filter(|e| matches!(e.bond, crate::book::Bond::Clash)).count();
    assert!(clashes >= 40, "{clashes} clashes");
    let affinities = book.edges().len() - clashes;
    assert!(affinities >= 1600, "{affinities} affinities");
    assert!(book.templates().len() >= 30, "{} templates", book.templates().len());
    let families: BTreeSet<_> = book.templates().iter().map(|t| t.family).collect();
    assert!(families.len() >= 6, "{families:?}");
}

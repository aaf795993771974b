use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

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
fn the_built_in_pack_has_no_faults() {
    let reading = read_built_in();
    assert_eq!(told(&reading), Vec::<String>::new());
    assert_eq!(reading.packs, ["built-in"]);
}

#[test]
fn every_file_of_the_built_in_pack_is_embedded_and_no_other() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/pack");
    let mut on_disk = BTreeSet::new();
    for folder in ["", "ingredients", "affinities", "templates"] {
        for entry in fs::read_dir(root.join(folder)).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_some_and(|e| e == "ron") {
                on_disk.insert(path.strip_prefix(&root).unwrap().to_str().unwrap().to_owned());
            }
        }
    }
    let embedded: BTreeSet<String> = BUILT_IN.iter().map(|(_, path, _)| (*path).to_owned()).collect();
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

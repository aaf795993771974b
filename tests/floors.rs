//! Lower floors never import higher ones.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::fs;
use std::path::{Path, PathBuf};

/// Floors, lowest first. Those on one line stand side by side and do not import each other.
const FLOORS: [&[&str]; 6] = [
    &["measure"],
    &["liquid", "book"],
    &["pairing", "drink"],
    &["riff", "service"],
    &["report"],
    &["console"],
];

fn floor_of(module: &str) -> Option<usize> {
    FLOORS.iter().position(|floor| floor.contains(&module))
}

fn files_under(folder: &Path, files: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files_under(&path, files);
        } else if path.extension().is_some_and(|e| e == "rs") {
            files.push(path);
        }
    }
}

/// Modules named after `crate::` in a line of code.
fn named(line: &str) -> Vec<&str> {
    line.split("crate::")
        .skip(1)
        .map(|rest| rest.split(|c: char| !c.is_ascii_alphanumeric() && c != '_').next().unwrap_or(""))
        .collect()
}

#[test]
fn imports_point_down_only() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    files_under(&root, &mut files);
    let mut upward = Vec::new();
    let mut imports = 0;
    for file in files {
        let inside = file.strip_prefix(&root).unwrap();
        let first = inside.components().next().unwrap().as_os_str().to_str().unwrap();
        let module = first.strip_suffix(".rs").unwrap_or(first);
        let Some(own) = floor_of(module) else { continue };
        for (number, line) in fs::read_to_string(&file).unwrap().lines().enumerate() {
            for other in named(line) {
                let Some(theirs) = floor_of(other) else { continue };
                imports += 1;
                if other != module && theirs >= own {
                    upward.push(format!("{}:{} imports {other}", inside.display(), number + 1));
                }
            }
        }
    }
    assert!(imports > 50, "the test reads imports: {imports}");
    assert_eq!(upward, Vec::<String>::new());
}

#[test]
fn a_module_that_is_on_no_floor_is_seen() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    for entry in fs::read_dir(root).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_stem().unwrap().to_str().unwrap().to_owned();
        assert!(["lib", "main"].contains(&name.as_str()) || floor_of(&name).is_some(), "{name}");
    }
}

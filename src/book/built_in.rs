//! The built-in pack, as the build script left it: its text, and the same compiled.

use std::borrow::Cow;
use std::path::Path;

use super::compiled::Compiled;
use super::pack::{Reading, read_folders};
use super::source::{Content, Source};

/// The files of `data/pack`.
const TEXTS: &[(Content, &str, &str)] = include!(concat!(env!("OUT_DIR"), "/texts.rs"));

/// What they say.
static COMPILED: Compiled<'static> = Compiled {
    records: Cow::Borrowed(include_str!(concat!(env!("OUT_DIR"), "/records.json"))),
    notes: Cow::Borrowed(include_str!(concat!(env!("OUT_DIR"), "/notes.txt"))),
    edges: Cow::Borrowed(include_bytes!(concat!(env!("OUT_DIR"), "/edges.bin"))),
};

/// The files of the built-in pack.
pub fn built_in() -> Vec<Source> {
    TEXTS
        .iter()
        .map(|(content, path, text)| Source {
            path: (*path).to_owned(),
            content: *content,
            text: Cow::Borrowed(*text),
        })
        .collect()
}

/// Opens the built-in pack. It was read and checked when the program was built.
pub fn read_built_in() -> Reading {
    // A program whose own pack cannot be opened was not built, and tests hold the two against each other.
    COMPILED.reading().expect("the build script writes what this reads")
}

/// Reads pack folders, together with the built-in pack if asked. Records of all packs stand on one shelf: an id
/// may be in one of them only.
pub fn read_packs(folders: &[&Path], with_built_in: bool) -> Reading {
    read_folders(folders, if with_built_in { built_in() } else { Vec::new() })
}

#[cfg(test)]
mod tests;

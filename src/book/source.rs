//! The text files of a pack, before anything is known of what they say.

use std::borrow::Cow;
use std::fs;
use std::path::{Path, PathBuf};

use super::fault::{Fault, Problem};
use super::near::nearest_word;

/// What a file of a pack holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Content {
    /// `pack.ron`: name and format of the pack.
    Head,
    /// A list of ingredients.
    Ingredients,
    /// A list of affinity sheets.
    Affinities,
    /// A list of templates.
    Templates,
    /// A list of preparations.
    Preps,
    /// A list of cautions.
    Cautions,
    /// One record of a house book.
    House,
}

/// One text file of a pack.
#[derive(Debug, Clone)]
pub struct Source {
    /// The path as a person knows it.
    pub path: String,
    /// What it holds.
    pub content: Content,
    /// Its text.
    pub text: Cow<'static, str>,
}

/// Largest file that is read, in bytes.
pub const MOST_BYTES: u64 = 64 * 1024 * 1024;

/// Folders of a pack and what their `.ron` files hold.
const FOLDERS: [(&str, Content); 4] = [
    ("ingredients", Content::Ingredients),
    ("affinities", Content::Affinities),
    ("templates", Content::Templates),
    ("preps", Content::Preps),
];

/// Single files of a pack, and whether they must be there.
const FILES: [(&str, Content, bool); 2] =
    [("pack.ron", Content::Head, true), ("cautions.ron", Content::Cautions, false)];

/// Reads the files of a pack folder, sorted by path; what cannot be read is a fault, and the rest is read all the
/// same.
pub(super) fn read_folder(folder: &Path) -> (Vec<Source>, Vec<Fault>) {
    let mut sources = Vec::new();
    let mut faults = Vec::new();
    let shown = folder.display().to_string();
    if !folder.is_dir() {
        faults.push(Fault::of_file(shown, Problem::NotAFolder));
        return (sources, faults);
    }
    for (name, content, needed) in FILES {
        let path = folder.join(name);
        if path.exists() {
            read_file(&path, content, &mut sources, &mut faults);
        } else if needed {
            faults.push(Fault::of_file(path.display().to_string(), Problem::NoHead));
        }
    }
    for (name, content) in FOLDERS {
        let inner = folder.join(name);
        if !inner.exists() {
            continue;
        }
        for path in entries_of(&inner, &mut faults) {
            if path.extension().is_some_and(|e| e == "ron") {
                read_file(&path, content, &mut sources, &mut faults);
            } else if path.extension().is_some_and(|e| e.eq_ignore_ascii_case("ron")) {
                faults.push(Fault::of_file(path.display().to_string(), Problem::Ending));
            }
        }
    }
    tell_unread(folder, &mut faults);
    (sources, faults)
}

/// What is in a folder, sorted; a fault if it cannot be listed.
fn entries_of(folder: &Path, faults: &mut Vec<Fault>) -> Vec<PathBuf> {
    match fs::read_dir(folder) {
        Ok(entries) => {
            let mut paths: Vec<PathBuf> = entries.filter_map(Result::ok).map(|e| e.path()).collect();
            paths.sort();
            paths
        }
        Err(error) => {
            let why = error.to_string();
            faults.push(Fault::of_file(folder.display().to_string(), Problem::Unreadable { why }));
            Vec::new()
        }
    }
}

/// Tells of records that stand where nothing is read: a misspelt folder, a file at the top.
fn tell_unread(folder: &Path, faults: &mut Vec<Fault>) {
    let allowed: Vec<&'static str> = FOLDERS.iter().map(|f| f.0).chain(FILES.iter().map(|f| f.0)).collect();
    let is_ron = |p: &PathBuf| p.extension().is_some_and(|e| e.eq_ignore_ascii_case("ron"));
    for path in entries_of(folder, faults) {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let holds_records =
            if path.is_dir() { entries_of(&path, &mut Vec::new()).iter().any(is_ron) } else { is_ron(&path) };
        if holds_records && !allowed.contains(&name.as_str()) {
            let nearest = nearest_word(&name, allowed.iter().copied());
            let problem = Problem::NotRead { name, allowed: allowed.clone(), nearest };
            faults.push(Fault::of_file(path.display().to_string(), problem));
        }
    }
}

fn read_file(path: &Path, content: Content, sources: &mut Vec<Source>, faults: &mut Vec<Fault>) {
    let shown = path.display().to_string();
    match fs::metadata(path) {
        Ok(facts) if facts.len() > MOST_BYTES => {
            faults.push(Fault::of_file(shown, Problem::TooLarge { bytes: facts.len(), most: MOST_BYTES }));
            return;
        }
        Ok(facts) if !facts.is_file() => {
            faults.push(Fault::of_file(shown, Problem::NotAFile));
            return;
        }
        Ok(_) => {}
        Err(error) => {
            faults.push(Fault::of_file(shown, Problem::Unreadable { why: error.to_string() }));
            return;
        }
    }
    match fs::read(path) {
        Err(error) => faults.push(Fault::of_file(shown, Problem::Unreadable { why: error.to_string() })),
        Ok(bytes) => match String::from_utf8(bytes) {
            Ok(text) => sources.push(Source { path: shown, content, text: Cow::Owned(text) }),
            Err(error) => {
                let good = error.utf8_error().valid_up_to();
                let line = 1 + error.as_bytes()[..good].iter().filter(|b| **b == b'\n').count();
                let byte = error.as_bytes()[good];
                faults.push(Fault::of_file(shown, Problem::NotUtf8 { line, byte }));
            }
        },
    }
}

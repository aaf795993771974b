//! What stands in a folder, byte by byte.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::Read;
use std::path::{Path, PathBuf};

/// The most bytes of a file that are compared; of a longer one its length counts too.
const MOST: u64 = 1 << 20;

/// Something in a folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Thing {
    File {
        bytes: Vec<u8>,
        length: u64,
    },
    Folder,
    Link(PathBuf),
    /// A pipe.
    Other,
    /// Something that this person may not read.
    Closed,
}

/// Everything in a folder, by its path there; no link is followed.
pub(crate) fn everything(folder: &Path) -> BTreeMap<PathBuf, Thing> {
    let mut all = BTreeMap::new();
    look(folder, Path::new(""), &mut all);
    all
}

fn look(root: &Path, inside: &Path, all: &mut BTreeMap<PathBuf, Thing>) {
    for entry in fs::read_dir(root.join(inside)).unwrap() {
        let entry = entry.unwrap();
        let path = inside.join(entry.file_name());
        let kind = entry.file_type().unwrap();
        if kind.is_symlink() {
            all.insert(path, Thing::Link(fs::read_link(entry.path()).unwrap()));
        } else if kind.is_dir() {
            all.insert(path.clone(), Thing::Folder);
            look(root, &path, all);
        } else if kind.is_file() {
            all.insert(path, read(&entry.path()));
        } else {
            all.insert(path, Thing::Other);
        }
    }
}

fn read(file: &Path) -> Thing {
    let Ok(open) = File::open(file) else { return Thing::Closed };
    let length = open.metadata().unwrap().len();
    let mut bytes = Vec::new();
    open.take(MOST).read_to_end(&mut bytes).unwrap();
    Thing::File { bytes, length }
}

/// Whether nothing of what was is lost: every file and link still stands somewhere, and a history only grew.
pub(crate) fn lost(before: &BTreeMap<PathBuf, Thing>, after: &BTreeMap<PathBuf, Thing>) -> Vec<PathBuf> {
    let is_kept = |(path, thing): &(&PathBuf, &Thing)| match thing {
        Thing::Folder | Thing::Closed => true,
        // Words for those who wait, renewed each time.
        Thing::File { .. } if path.as_path() == Path::new(".lock") => true,
        Thing::File { bytes, .. } if path.extension().is_some_and(|e| e == "log") => after
            .get(*path)
            .is_some_and(|now| matches!(now, Thing::File { bytes: now, .. } if now.starts_with(bytes))),
        thing => after.values().any(|now| now == *thing),
    };
    before.iter().filter(|pair| !is_kept(pair)).map(|(path, _)| path.clone()).collect()
}

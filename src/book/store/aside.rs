//! Setting a file aside.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};

use super::disk::{Disk, FileKind};
use super::fault::StoreFault;
use super::read::shown;
use super::{ASIDE, HISTORY, LOCK, Occasion, Store, WRITER};
use crate::book::record_kind::RecordKind;

/// The most bytes of a name that is kept as it is.
const MOST_NAME: usize = 200;

impl<D: Disk> Store<D> {
    /// Moves something in the book, named as it is shown among the problems, into the folder `aside`, and says where it is
    /// now: a file, a link, or a folder with all that is in it. Nothing is deleted, and nothing there is overwritten.
    ///
    /// # Errors
    /// [`StoreFault::NotInTheBook`] if there is no such thing, or it is one that the store itself holds.
    pub fn set_aside(&self, occasion: &Occasion, found: &str) -> Result<String, StoreFault> {
        let none = || StoreFault::NotInTheBook { found: found.to_owned() };
        let _hold = self.hold(occasion, &format!("set {found} aside"))?;
        let file = self.of_shown(found)?.ok_or_else(none)?;
        let name = file.file_name().ok_or_else(none)?;
        if self.make_folder(Path::new(ASIDE))? {
            self.sync(Path::new(""))?;
        }
        let date: String = occasion.at.chars().take(10).filter(|c| c.is_ascii_digit() || *c == '-').collect();
        let mut place = aside(&date, 1, name);
        let mut n = 1;
        while self.is_there(&place)? {
            n += 1;
            place = aside(&date, n, name);
        }
        self.disk.rename(&file, &place).map_err(|e| StoreFault::io("set it aside", found, e))?;
        self.sync(Path::new(ASIDE))?;
        self.sync(file.parent().unwrap_or(Path::new("")))?;
        Ok(shown(&place))
    }

    /// What is shown so, in the book's root or a folder of it; no folder of records.
    fn of_shown(&self, found: &str) -> Result<Option<PathBuf>, StoreFault> {
        let mut place = PathBuf::new();
        let mut parts = found.split('/').peekable();
        while let Some(part) = parts.next() {
            let names =
                self.disk.list(&place).map_err(|e| StoreFault::io("read the folder", shown(&place), e))?;
            let last = parts.peek().is_none();
            let at_root = place.as_os_str().is_empty();
            let fits = |name: &OsStr, kind: FileKind| match (kind == FileKind::Folder, last) {
                (true, true) => !(at_root && name.to_str().and_then(RecordKind::in_folder).is_some()),
                (is_folder, last) => is_folder != last,
            };
            let is_it = |name: &OsStr, kind| fits(name, kind) && shown(Path::new(name)) == part;
            let Some((name, _)) = names.into_iter().find(|(name, kind)| is_it(name, *kind)) else {
                return Ok(None);
            };
            place.push(name);
        }
        let first = place.components().next().map(|first| first.as_os_str());
        let held = [LOCK, WRITER, ".git", HISTORY, ASIDE];
        Ok(Some(place.clone()).filter(|_| !held.iter().any(|name| first == Some(OsStr::new(name)))))
    }
}

/// The n-th place for a name.
fn aside(date: &str, n: usize, name: &OsStr) -> PathBuf {
    let again = if n == 1 { String::new() } else { format!("-{n}") };
    let mut file = std::ffi::OsString::from(format!("{date}{again}-"));
    match name.to_str().map(|name| name.trim_start_matches('.')) {
        Some(plain) if plain.len() <= MOST_NAME => file.push(plain),
        None if name.len() <= MOST_NAME => file.push(name),
        _ => file.push("long-name"),
    }
    Path::new(ASIDE).join(file)
}

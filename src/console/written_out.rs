//! Files that the program writes outside of the house book: whole or not at all.

use std::fs::{self, Permissions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::Builder;

use super::failure::Failure;
use crate::book::exchange::{Files, Table};

/// Folders of a pack, which hold files of records only.
const PACK_FOLDERS: [&str; 4] = ["ingredients", "affinities", "templates", "preps"];
const PACK_FILES: [&str; 2] = ["pack.ron", "cautions.ron"];

/// Writes a file beside and puts it in its place.
pub(super) fn write_file(to: &Path, bytes: &[u8], force: bool) -> Result<(), Failure> {
    if to.is_dir() {
        return Err(Failure::mistake(format!("{} is a folder", to.display())));
    }
    let write = || -> io::Result<()> {
        let mut file = usual(&mut Builder::new(), 0o666).prefix(".medlar-").tempfile_in(parent(to))?;
        file.write_all(bytes)?;
        file.as_file().sync_all()?;
        if force {
            file.persist(to)?;
        } else {
            file.persist_noclobber(to)?;
        }
        Ok(())
    };
    write().map_err(|error| not_written(to, &error))
}

/// Writes a folder beside and puts it in its place.
pub(super) fn write_folder(to: &Path, files: &Files, force: bool) -> Result<(), Failure> {
    let there = to.symlink_metadata().is_ok();
    if there && !is_empty_folder(to) {
        if !force {
            return Err(not_written(to, &io::ErrorKind::AlreadyExists.into()));
        }
        if let Some(strange) = strange_in(to) {
            return Err(Failure::mistake(format!(
                "{} is not replaced: {} is nothing that an export writes",
                to.display(),
                strange.display()
            ))
            .hint("name another folder"));
        }
    }
    let write = || -> io::Result<()> {
        let beside = usual(&mut Builder::new(), 0o777).prefix(".medlar-").tempdir_in(parent(to))?;
        let new = beside.path().join("new");
        fs::create_dir(&new)?;
        for (path, bytes) in files {
            let path = new.join(path);
            fs::create_dir_all(parent(&path))?;
            let mut file = fs::File::create(path)?;
            file.write_all(bytes)?;
            file.sync_all()?;
        }
        let old = beside.path().join("old");
        if there {
            fs::rename(to, &old)?;
        }
        fs::rename(&new, to).inspect_err(|_| {
            if there {
                let _ = fs::rename(&old, to);
            }
        })
    };
    write().map_err(|error| not_written(to, &error))
}

/// Temporary files are for their owner alone; what is written out is as any other file.
fn usual<'a, 'b>(builder: &'a mut Builder<'b, 'b>, mode: u32) -> &'a mut Builder<'b, 'b> {
    #[cfg(unix)]
    builder.permissions(<Permissions as std::os::unix::fs::PermissionsExt>::from_mode(mode));
    builder
}

fn parent(to: &Path) -> &Path {
    to.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

fn not_written(to: &Path, error: &io::Error) -> Failure {
    let shown = to.display();
    match error.kind() {
        io::ErrorKind::AlreadyExists => {
            Failure::mistake(format!("{shown} is there already")).hint("--force writes over it")
        }
        io::ErrorKind::NotFound => {
            Failure::mistake(format!("{shown} cannot be written: there is no folder for it"))
        }
        _ => Failure::mistake(format!("{shown} cannot be written: {error}")),
    }
}

fn is_empty_folder(folder: &Path) -> bool {
    fs::read_dir(folder).is_ok_and(|mut entries| entries.next().is_none())
}

/// Something in a folder that no export has written.
fn strange_in(folder: &Path) -> Option<PathBuf> {
    if folder.is_symlink() || !folder.is_dir() {
        return Some(folder.to_owned());
    }
    let paths = |folder: &Path| -> Vec<PathBuf> {
        fs::read_dir(folder).into_iter().flatten().filter_map(Result::ok).map(|e| e.path()).collect()
    };
    for path in paths(folder) {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let is_table = |name: &str| Table::ALL.iter().any(|table| format!("{}.csv", table.name()) == name);
        let plain = path.is_file() && !path.is_symlink();
        if plain && (PACK_FILES.contains(&name.as_str()) || is_table(&name)) {
            continue;
        }
        let is_records = path.is_dir() && !path.is_symlink() && PACK_FOLDERS.contains(&name.as_str());
        if !is_records {
            return Some(path);
        }
        let is_record = |p: &PathBuf| p.is_file() && p.extension().is_some_and(|e| e == "ron");
        if let Some(strange) = paths(&path).into_iter().find(|p| !is_record(p)) {
            return Some(strange);
        }
    }
    None
}

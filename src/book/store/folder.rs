//! The real disk: a folder of the system.

use std::ffi::OsString;
use std::fs::{self, File, FileType, OpenOptions, TryLockError};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::time::UNIX_EPOCH;

use super::disk::{Disk, FileFacts, FileKind};

/// A folder of the system.
#[derive(Debug, Clone)]
pub struct Folder {
    root: PathBuf,
}

impl Folder {
    /// The folder, which need not be there yet.
    pub fn new(root: &Path) -> Self {
        Self { root: root.to_owned() }
    }

    /// Where it is.
    pub fn root(&self) -> &Path {
        &self.root
    }

    fn at(&self, path: &Path) -> PathBuf {
        // Joined with nothing, a path would end in a separator.
        if path.as_os_str().is_empty() { self.root.clone() } else { self.root.join(path) }
    }
}

fn kind(of: FileType) -> FileKind {
    if of.is_symlink() {
        FileKind::Link
    } else if of.is_file() {
        FileKind::File
    } else if of.is_dir() {
        FileKind::Folder
    } else {
        FileKind::Other
    }
}

/// Flushes the names in a folder, where the system can.
fn sync(folder: &Path) -> io::Result<()> {
    if cfg!(windows) {
        // A folder cannot be opened there; names are journalled by the file system.
        return Ok(());
    }
    match File::open(folder)?.sync_all() {
        // Some file systems know no such thing.
        Err(error) if matches!(error.kind(), io::ErrorKind::InvalidInput | io::ErrorKind::Unsupported) => {
            Ok(())
        }
        done => done,
    }
}

/// Whether a file is still the one of that name: someone may have removed it between opening and locking.
#[cfg(unix)]
fn is_still(file: &File, path: &Path) -> io::Result<bool> {
    use std::os::unix::fs::MetadataExt;
    let ours = file.metadata()?;
    match fs::metadata(path) {
        Ok(there) => Ok((ours.dev(), ours.ino()) == (there.dev(), there.ino())),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(false),
        Err(error) => Err(error),
    }
}

#[cfg(not(unix))]
fn is_still(_: &File, _: &Path) -> io::Result<bool> {
    Ok(true)
}

impl Disk for Folder {
    type Lock = File;

    fn read(&self, file: &Path, most: u64) -> io::Result<Vec<u8>> {
        // Room for a record of the common size, so that it is read in one go.
        let mut bytes = Vec::with_capacity(2048);
        File::open(self.at(file))?.take(most.saturating_add(1)).read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    fn read_from(&self, file: &Path, from: u64) -> io::Result<Vec<u8>> {
        let mut file = File::open(self.at(file))?;
        file.seek(SeekFrom::Start(from))?;
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<(OsString, FileKind)>> {
        fs::read_dir(self.at(folder))?
            .map(|entry| {
                let entry = entry?;
                Ok((entry.file_name(), kind(entry.file_type()?)))
            })
            .collect()
    }

    fn facts(&self, file: &Path) -> io::Result<FileFacts> {
        let path = self.at(file);
        let facts =
            if file.as_os_str().is_empty() { fs::metadata(path)? } else { fs::symlink_metadata(path)? };
        let changed = facts.modified().ok().and_then(|at| at.duration_since(UNIX_EPOCH).ok());
        Ok(FileFacts {
            kind: kind(facts.file_type()),
            bytes: facts.len(),
            changed: changed.map_or(0, |since| since.as_nanos()),
        })
    }

    fn create_root(&self) -> io::Result<()> {
        // From the first that is missing; each new name is flushed in the folder that holds it.
        let mut missing = Vec::new();
        for folder in self.root.ancestors() {
            if folder.as_os_str().is_empty() || folder.exists() {
                break;
            }
            missing.push(folder);
        }
        for folder in missing.into_iter().rev() {
            match fs::create_dir(folder) {
                Err(error) if error.kind() != io::ErrorKind::AlreadyExists => return Err(error),
                _ => {}
            }
            let above = folder.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
            sync(above)?;
        }
        Ok(())
    }

    fn create_folder(&self, folder: &Path) -> io::Result<()> {
        match fs::create_dir(self.at(folder)) {
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Ok(()),
            done => done,
        }
    }

    fn write_new(&self, file: &Path, like: Option<&Path>, bytes: &[u8]) -> io::Result<()> {
        let mut new = File::create_new(self.at(file))?;
        if let Some(old) = like.and_then(|like| fs::metadata(self.at(like)).ok()) {
            // A file system without permissions keeps none; the text matters more.
            let _ = new.set_permissions(old.permissions());
        }
        new.write_all(bytes)?;
        new.sync_all()
    }

    fn append(&self, file: &Path, bytes: &[u8]) -> io::Result<()> {
        let mut file = OpenOptions::new().create(true).append(true).open(self.at(file))?;
        file.write_all(bytes)?;
        file.sync_data()
    }

    fn truncate(&self, file: &Path, bytes: u64) -> io::Result<()> {
        let file = OpenOptions::new().write(true).open(self.at(file))?;
        file.set_len(bytes)?;
        file.sync_all()
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(self.at(from), self.at(to))
    }

    fn remove(&self, file: &Path) -> io::Result<()> {
        fs::remove_file(self.at(file))
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        sync(&self.at(folder))
    }

    fn try_lock(&self, file: &Path) -> io::Result<Option<File>> {
        let path = self.at(file);
        let file = OpenOptions::new().create(true).truncate(false).read(true).write(true).open(&path)?;
        match file.try_lock() {
            Ok(()) => Ok(is_still(&file, &path)?.then_some(file)),
            Err(TryLockError::WouldBlock) => Ok(None),
            Err(TryLockError::Error(error)) => Err(error),
        }
    }

    fn note(&self, mut lock: &File, words: &str) -> io::Result<()> {
        lock.set_len(0)?;
        lock.seek(SeekFrom::Start(0))?;
        lock.write_all(words.as_bytes())
    }
}

//! What the store asks of a disk.

use std::ffi::OsString;
use std::io;
use std::path::Path;

/// What a name in a folder stands for; a link is not followed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FileKind {
    /// A plain file.
    File,
    /// A folder.
    Folder,
    /// A link to something else.
    Link,
    /// A pipe, a device and the like.
    Other,
}

/// What is known of a file without opening it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FileFacts {
    /// What it is.
    pub kind: FileKind,
    /// Its length in bytes.
    pub bytes: u64,
    /// When it was last changed, in nanoseconds since an unsaid moment; 0 if the system does not say.
    pub changed: u128,
}

/// Every operation the store does on a disk. Paths are seen from the book's root, which is the empty path.
///
/// [`Folder`](super::Folder) is the real one. Tests bring others: one that loses what was not flushed, one that fails.
pub trait Disk: Sync {
    /// A lock, given back when it is dropped.
    type Lock;

    /// Reads a file; of one that is larger than `most`, only `most` + 1 bytes.
    fn read(&self, file: &Path, most: u64) -> io::Result<Vec<u8>>;

    /// Reads a file from a byte on to its end; nothing if it ends before.
    fn read_from(&self, file: &Path, from: u64) -> io::Result<Vec<u8>>;

    /// The names in a folder, in any order.
    fn list(&self, folder: &Path) -> io::Result<Vec<(OsString, FileKind)>>;

    /// What is known of a file; of the root, that of the folder it leads to.
    fn facts(&self, file: &Path) -> io::Result<FileFacts>;

    /// Makes the root and what leads there, and flushes their names.
    fn create_root(&self) -> io::Result<()>;

    /// Makes a folder. One that is there is no error.
    fn create_folder(&self, folder: &Path) -> io::Result<()>;

    /// Makes a file that must not be there, with the permissions of another if that is there, and flushes it.
    fn write_new(&self, file: &Path, like: Option<&Path>, bytes: &[u8]) -> io::Result<()>;

    /// Adds to the end of a file, which is made if need be, and flushes it.
    fn append(&self, file: &Path, bytes: &[u8]) -> io::Result<()>;

    /// Cuts a file and flushes it.
    fn truncate(&self, file: &Path, bytes: u64) -> io::Result<()>;

    /// Gives a file another name, in place of what has that name.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;

    /// Takes a file away.
    fn remove(&self, file: &Path) -> io::Result<()>;

    /// Flushes the names in a folder.
    fn sync_folder(&self, folder: &Path) -> io::Result<()>;

    /// Takes the lock of a file, which is made if need be; none if another has it.
    fn try_lock(&self, file: &Path) -> io::Result<Option<Self::Lock>>;

    /// Writes a few words into the file of a lock, in place of those there. They need not be flushed.
    fn note(&self, lock: &Self::Lock, words: &str) -> io::Result<()>;
}

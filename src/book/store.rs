//! The store under the house book: a folder of small text files, one a record, that may be changed by hand or by git
//! between two runs. It knows files and text, not what they say.
//!
//! What it promises, how it keeps that, and what attacks it is told in `docs/store.md`.

mod aside;
mod commit;
mod disk;
mod fault;
mod folder;
mod history;
mod hold;
mod log;
mod path;
mod read;
mod settle;
mod sheaf;
mod start;
mod turn;

use std::fmt;
use std::path::Path;
use std::time::Duration;

pub use disk::{Disk, FileFacts, FileKind};
pub use fault::{ChangeFault, Holder, StoreFault, StoreProblem, Trouble};
pub use folder::Folder;
pub use history::{Entry, History};
pub use log::{ChangeId, FileChange, NotAChangeId, Turn, Writer};
pub use path::{NotARecordPath, RecordPath};
pub use read::{Contents, Stamp};
pub use sheaf::Sheaf;
pub use turn::Which;

/// The most bytes of a record.
pub const MOST_RECORD_BYTES: u64 = MOST_BYTES;

const MOST_BYTES: u64 = 64 * 1024;

/// The most files that are read.
pub(super) const MOST_FILES: usize = 200_000;

/// The head of a book.
const HOUSE: &str = "house.ron";

/// The folder of the histories.
const HISTORY: &str = "history";

/// The file that is locked while someone writes.
const LOCK: &str = ".lock";

/// The name of this clone of the book.
const WRITER: &str = ".writer";

/// The folder of what was set aside.
const ASIDE: &str = "aside";

/// How long is waited for another program to finish writing.
const PATIENCE: Duration = Duration::from_secs(5);

/// When something is done and by whom. The library has no clock and no dice of its own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Occasion {
    /// The time, as RFC 3339 in UTC: `2027-03-01T10:00:00Z`.
    pub at: String,
    /// Who does it.
    pub who: String,
    /// Any number, another one each time. A new clone of a book takes its name from it.
    pub dice: u64,
}

/// What came of a change.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Changed<T> {
    /// What the caller gave back.
    pub value: T,
    /// The name of the change; none if nothing was to be changed, and so nothing was.
    pub id: Option<ChangeId>,
}

/// The house book as files.
///
/// # Examples
/// ```
/// use medlar::book::{Occasion, RecordPath, Store, StoreFault, Which};
/// # let folder = tempfile::tempdir()?;
/// let store = Store::at(&folder.path().join("weir-house"));
/// let occasion = Occasion { at: "2027-03-01T10:00:00Z".into(), who: "the lower bar".into(), dice: 4 };
/// let quince = RecordPath::new("ingredients", "quince")?;
/// let added = store.change(&occasion, "add quince", |sheaf| sheaf.write(&quince, "(name: \"quince\")\n"))?;
/// assert_eq!(store.read()?.texts[&quince], "(name: \"quince\")\n");
/// store.undo(&occasion, &Which::Last)?;
/// assert!(store.read()?.texts.is_empty());
/// # assert!(added.id.is_some());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone)]
pub struct Store<D: Disk> {
    disk: D,
    name: String,
    patience: Duration,
}

impl<D: Disk> fmt::Debug for Store<D> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Store")
            .field("name", &self.name)
            .field("patience", &self.patience)
            .finish_non_exhaustive()
    }
}

impl Store<Folder> {
    /// The book in a folder, which need not be there yet.
    pub fn at(root: &Path) -> Self {
        let name = root.file_name().map_or_else(|| "house".into(), |name| name.to_string_lossy());
        Self::on(&name, Folder::new(root))
    }
}

impl<D: Disk> Store<D> {
    /// A book on a disk; the name is written into a new book's head.
    pub fn on(name: &str, disk: D) -> Self {
        Self { disk, name: name.to_owned(), patience: PATIENCE }
    }

    /// The same book with another time to wait for a program that is writing; 5 seconds if nothing is said.
    #[must_use]
    pub fn waiting(self, patience: Duration) -> Self {
        Self { patience, ..self }
    }

    /// The text of one record as it is now; none if there is no such record.
    ///
    /// # Errors
    /// [`StoreFault`] if it is there and cannot be read.
    pub fn text(&self, path: &RecordPath) -> Result<Option<String>, StoreFault> {
        self.now(path)
    }

    /// Changes any number of records, as one: all of it is seen, or nothing.
    ///
    /// `edit` reads the records as they are now, under the lock, and says what they shall be. If that is what they are,
    /// no record and no history is written.
    ///
    /// # Errors
    /// [`ChangeFault::Edit`] with what `edit` gave back; nothing was changed then. [`ChangeFault::Store`] if it was not
    /// possible; the fault says whether anything is left to do.
    pub fn change<T, E>(
        &self,
        occasion: &Occasion,
        what: &str,
        edit: impl FnOnce(&mut Sheaf<'_, D>) -> Result<T, E>,
    ) -> Result<Changed<T>, ChangeFault<E>> {
        let mut hold = self.hold(occasion, what)?;
        let mut sheaf = Sheaf::new(self);
        let value = edit(&mut sheaf).map_err(ChangeFault::Edit)?;
        let files = sheaf.net();
        if files.is_empty() {
            return Ok(Changed { value, id: None });
        }
        let id = self.commit(&mut hold, occasion, what, Turn::Did, files)?;
        Ok(Changed { value, id: Some(id) })
    }
}

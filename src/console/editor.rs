//! The person's own editor.

use std::fmt;
use std::io;
use std::path::Path;
use std::sync::Arc;

/// Opens a file and comes back when the person is done.
#[derive(Clone)]
pub struct Editor(Arc<Open>);

/// Opens a file and comes back when the person is done.
type Open = dyn Fn(&Path) -> io::Result<()> + Send + Sync;

impl Editor {
    /// An editor that is a function.
    pub fn new(open: impl Fn(&Path) -> io::Result<()> + Send + Sync + 'static) -> Self {
        Self(Arc::new(open))
    }

    /// Opens a file.
    ///
    /// # Errors
    /// Whatever kept the editor from starting, or that it ended with a fault.
    pub fn open(&self, file: &Path) -> io::Result<()> {
        (self.0)(file)
    }
}

impl fmt::Debug for Editor {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Editor")
    }
}

//! A disk in memory that knows what is written and what is flushed, and that can fail or stop at any operation.

use std::collections::HashSet;
use std::ffi::OsString;
use std::io::{Error, ErrorKind, Result};
use std::path::Path;
use std::sync::{Arc, Mutex, MutexGuard};

use fastrand::Rng;
use medlar::book::{Disk, FileFacts, FileKind};

pub use super::state::{Effect, Loss, Plan};
use super::state::{Names, Node, State, Step};

/// The disk. A clone shares it; [`Memory::copy`] does not.
#[derive(Debug, Clone)]
pub struct Memory(Arc<Mutex<State>>);

/// The lock of a disk in memory.
#[derive(Debug)]
pub struct Locked(Memory);

impl Drop for Locked {
    fn drop(&mut self) {
        self.0.state().locked = false;
    }
}

impl Memory {
    pub fn new() -> Self {
        Self(Arc::new(Mutex::new(State {
            contents: Vec::new(),
            folders: vec![Names::default()],
            clock: 0,
            locked: false,
            plan: Plan::Well,
            count: 0,
            hit: false,
            stopped: false,
        })))
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.0.lock().unwrap_or_else(|poisoned| poisoned.into_inner())
    }

    /// Another disk that holds the same.
    pub fn copy(&self) -> Self {
        Self(Arc::new(Mutex::new(self.state().clone())))
    }

    pub fn plan(&self, plan: Plan) {
        let mut state = self.state();
        state.plan = plan;
        state.count = 0;
        state.hit = false;
    }

    /// Whether what was planned came about.
    pub fn hit(&self) -> bool {
        self.state().hit
    }

    /// The machine stops, if it has not, and comes back. Nobody writes any more.
    pub fn come_back(&self, loss: Loss, rng: &mut Rng) {
        let mut state = self.state();
        if loss != Loss::Killed {
            state.survived(loss, rng);
        }
        state.plan = Plan::Well;
        state.stopped = false;
        state.locked = false;
    }

    /// A person writes a file, and it is flushed.
    pub fn by_hand(&self, path: &str, text: Option<&str>) {
        let mut state = self.state();
        let path = Path::new(path);
        if let Some(folder) = path.parent().and_then(Path::to_str).filter(|f| !f.is_empty())
            && state.names_of(folder).is_err()
        {
            let at = state.folders.len();
            state.folders.push(Names::default());
            state.folders[0].cached.insert(folder.to_owned(), Node::Folder(at));
            state.folders[0].durable.insert(folder.to_owned(), Node::Folder(at));
        }
        let (folder, name) = state.place(path).unwrap();
        if let Some(text) = text {
            let node = state.new_file();
            let content = state.contents.last_mut().unwrap();
            content.cached = text.as_bytes().to_vec();
            content.durable = text.as_bytes().to_vec();
            state.folders[folder].cached.insert(name.clone(), node);
            state.folders[folder].durable.insert(name, node);
        } else {
            state.folders[folder].cached.remove(&name);
            state.folders[folder].durable.remove(&name);
        }
    }

    /// The names of every file, hidden ones too.
    pub fn names(&self) -> HashSet<String> {
        let state = self.state();
        let mut names = HashSet::new();
        for (name, node) in &state.folders[0].cached {
            match node {
                Node::Folder(at) => {
                    names.extend(state.folders[*at].cached.keys().map(|inside| format!("{name}/{inside}")));
                }
                Node::File(_) => {
                    names.insert(name.clone());
                }
            }
        }
        names
    }
}

impl Disk for Memory {
    type Lock = Locked;

    fn read(&self, file: &Path, most: u64) -> Result<Vec<u8>> {
        let mut bytes = self.read_from(file, 0)?;
        bytes.truncate(usize::try_from(most).unwrap() + 1);
        Ok(bytes)
    }

    fn read_from(&self, file: &Path, from: u64) -> Result<Vec<u8>> {
        let mut state = self.state();
        state.do_or_not(false, |_| Ok(()))?;
        let at = state.file(file)?;
        let bytes = &state.contents[at].cached;
        Ok(bytes.get(usize::try_from(from).unwrap()..).unwrap_or_default().to_vec())
    }

    fn list(&self, folder: &Path) -> Result<Vec<(OsString, FileKind)>> {
        let mut state = self.state();
        state.do_or_not(false, |_| Ok(()))?;
        let at = state.names_of(folder.to_str().unwrap())?;
        let kind = |node: &Node| match node {
            Node::File(_) => FileKind::File,
            Node::Folder(_) => FileKind::Folder,
        };
        Ok(state.folders[at].cached.iter().map(|(name, node)| (OsString::from(name), kind(node))).collect())
    }

    fn facts(&self, file: &Path) -> Result<FileFacts> {
        let mut state = self.state();
        state.do_or_not(false, |_| Ok(()))?;
        Ok(match state.node(file)? {
            Node::File(at) => {
                let bytes = state.contents[at].cached.len() as u64;
                FileFacts { kind: FileKind::File, bytes, changed: 0 }
            }
            Node::Folder(at) => {
                FileFacts { kind: FileKind::Folder, bytes: 0, changed: state.folders[at].changed }
            }
        })
    }

    fn create_root(&self) -> Result<()> {
        self.state().do_or_not(true, |_| Ok(()))
    }

    fn create_folder(&self, folder: &Path) -> Result<()> {
        self.state().do_or_not(true, |state| {
            let name = folder.to_str().unwrap().to_owned();
            if state.folders[0].cached.contains_key(&name) {
                return Ok(());
            }
            let at = state.folders.len();
            state.folders.push(Names::default());
            state.step(0, Step::Put(name, Node::Folder(at)));
            Ok(())
        })
    }

    fn write_new(&self, file: &Path, _: Option<&Path>, bytes: &[u8]) -> Result<()> {
        let mut state = self.state();
        state.do_or_not(true, |state| {
            let (folder, name) = state.place(file)?;
            if state.folders[folder].cached.contains_key(&name) {
                return Err(Error::from(ErrorKind::AlreadyExists));
            }
            let node = state.new_file();
            state.step(folder, Step::Put(name, node));
            Ok(())
        })?;
        let at = state.file(file)?;
        state.write(at, bytes)?;
        state.flush(at)
    }

    fn append(&self, file: &Path, bytes: &[u8]) -> Result<()> {
        let mut state = self.state();
        state.do_or_not(true, |state| {
            let (folder, name) = state.place(file)?;
            if !state.folders[folder].cached.contains_key(&name) {
                let node = state.new_file();
                state.step(folder, Step::Put(name, node));
            }
            Ok(())
        })?;
        let at = state.file(file)?;
        state.write(at, bytes)?;
        state.flush(at)
    }

    fn truncate(&self, file: &Path, bytes: u64) -> Result<()> {
        let mut state = self.state();
        let at = state.file(file)?;
        state.do_or_not(true, |state| {
            state.contents[at].cached.resize(usize::try_from(bytes).unwrap(), 0);
            Ok(())
        })?;
        state.flush(at)
    }

    fn rename(&self, from: &Path, to: &Path) -> Result<()> {
        self.state().do_or_not(true, |state| {
            let ((old, name), (new, other)) = (state.place(from)?, state.place(to)?);
            let node = state.node(from)?;
            if old == new {
                state.step(old, Step::Move(name, other, node));
            } else {
                // Between folders a file system journals both names as one; here they are flushed at once.
                for at in [old, new] {
                    let step = if at == old {
                        Step::Take(name.clone(), node)
                    } else {
                        Step::Put(other.clone(), node)
                    };
                    step.apply(&mut state.folders[at].cached);
                    step.apply(&mut state.folders[at].durable);
                }
            }
            Ok(())
        })
    }

    fn remove(&self, file: &Path) -> Result<()> {
        self.state().do_or_not(true, |state| {
            let (folder, name) = state.place(file)?;
            let node = state.node(file)?;
            state.step(folder, Step::Take(name, node));
            Ok(())
        })
    }

    fn sync_folder(&self, folder: &Path) -> Result<()> {
        self.state().do_or_not(true, |state| {
            let at = state.names_of(folder.to_str().unwrap())?;
            let names = &mut state.folders[at];
            names.steps.clear();
            names.durable = names.cached.clone();
            Ok(())
        })
    }

    fn try_lock(&self, file: &Path) -> Result<Option<Locked>> {
        let mut state = self.state();
        state.do_or_not(true, |state| {
            let (folder, name) = state.place(file)?;
            if !state.folders[folder].cached.contains_key(&name) {
                let node = state.new_file();
                state.step(folder, Step::Put(name, node));
            }
            Ok(())
        })?;
        if state.locked {
            return Ok(None);
        }
        state.locked = true;
        Ok(Some(Locked(self.clone())))
    }

    fn note(&self, _: &Locked, words: &str) -> Result<()> {
        let mut state = self.state();
        let at = state.file(Path::new(".lock"))?;
        if !state.stopped {
            state.contents[at].cached.clear();
        }
        state.write(at, words.as_bytes())
    }
}

//! What a disk in memory holds, written and flushed, and what is planned to go wrong.

use std::collections::BTreeMap;
use std::io::{Error, ErrorKind, Result};
use std::path::Path;

use fastrand::Rng;

/// What is lost of what was not flushed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Loss {
    /// All of it.
    All,
    /// Nothing, and it is on the disk.
    Nothing,
    /// Some of it, in any order.
    Some,
    /// Nothing, and it is still not on the disk: the program was killed, the machine runs on.
    Killed,
}

/// How an operation fails.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Effect {
    /// Nothing of it is done.
    Nothing,
    /// Of bytes to write a part is written.
    Short,
    /// It is done, and reported as failed.
    Done,
}

/// What is to happen at the n-th operation.
#[derive(Debug, Clone, Copy)]
pub enum Plan {
    /// All goes well.
    Well,
    /// The machine stops; only operations that alter something are counted.
    Stop(usize),
    /// It fails; and all later ones too, if it lasts.
    Fail { n: usize, kind: ErrorKind, effect: Effect, lasts: bool },
}

#[derive(Debug, Clone, Default)]
pub struct Content {
    pub cached: Vec<u8>,
    pub durable: Vec<u8>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Node {
    File(usize),
    Folder(usize),
}

#[derive(Debug, Clone)]
pub enum Step {
    Put(String, Node),
    Take(String, Node),
    Move(String, String, Node),
}

#[derive(Debug, Clone, Default)]
pub struct Names {
    pub cached: BTreeMap<String, Node>,
    pub durable: BTreeMap<String, Node>,
    pub steps: Vec<Step>,
    pub changed: u128,
}

impl Step {
    pub fn apply(&self, names: &mut BTreeMap<String, Node>) {
        match self {
            Step::Put(name, node) => {
                names.insert(name.clone(), *node);
            }
            Step::Take(name, node) => {
                if names.get(name) == Some(node) {
                    names.remove(name);
                }
            }
            Step::Move(from, to, node) => {
                if names.get(from) == Some(node) {
                    names.remove(from);
                }
                names.insert(to.clone(), *node);
            }
        }
    }
}

#[derive(Debug, Clone)]
pub struct State {
    pub contents: Vec<Content>,
    pub folders: Vec<Names>,
    pub clock: u128,
    pub locked: bool,
    pub plan: Plan,
    /// Operations so far under the plan.
    pub count: usize,
    /// Whether the plan has come about.
    pub hit: bool,
    pub stopped: bool,
}

pub fn missing() -> Error {
    Error::from(ErrorKind::NotFound)
}

/// What an operation shall do.
pub enum Go {
    On,
    /// Write this many bytes and give back the error.
    Part(usize, Error),
    /// Do all and give back the error.
    Late(Error),
}

impl State {
    pub fn names_of(&self, folder: &str) -> Result<usize> {
        if folder.is_empty() {
            return Ok(0);
        }
        match self.folders[0].cached.get(folder) {
            Some(Node::Folder(at)) => Ok(*at),
            Some(_) => Err(Error::from(ErrorKind::NotADirectory)),
            None => Err(missing()),
        }
    }

    /// The folder's place and the name of a path.
    pub fn place(&self, path: &Path) -> Result<(usize, String)> {
        let text = path.to_str().unwrap();
        let (folder, name) = text.rsplit_once('/').unwrap_or(("", text));
        Ok((self.names_of(folder)?, name.to_owned()))
    }

    pub fn node(&self, path: &Path) -> Result<Node> {
        if path.as_os_str().is_empty() {
            return Ok(Node::Folder(0));
        }
        let (folder, name) = self.place(path)?;
        self.folders[folder].cached.get(&name).copied().ok_or_else(missing)
    }

    pub fn file(&self, path: &Path) -> Result<usize> {
        match self.node(path)? {
            Node::File(at) => Ok(at),
            Node::Folder(_) => Err(Error::from(ErrorKind::IsADirectory)),
        }
    }

    pub fn step(&mut self, folder: usize, step: Step) {
        self.clock += 1;
        let names = &mut self.folders[folder];
        step.apply(&mut names.cached);
        names.steps.push(step);
        names.changed = self.clock;
    }

    pub fn new_file(&mut self) -> Node {
        self.contents.push(Content::default());
        Node::File(self.contents.len() - 1)
    }

    /// Counts an operation and says how it goes; `bytes` is what it would write.
    pub fn go(&mut self, alters: bool, bytes: usize) -> Result<Go> {
        if self.stopped {
            return Err(Error::other("the machine has stopped"));
        }
        match self.plan {
            Plan::Stop(n) if alters => {
                self.count += 1;
                if self.count < n {
                    return Ok(Go::On);
                }
                self.hit = true;
                self.stopped = true;
                let part = if bytes == 0 { 0 } else { self.count * 7919 % bytes };
                Ok(Go::Part(part, Error::other("the machine stopped")))
            }
            Plan::Well | Plan::Stop(_) => Ok(Go::On),
            Plan::Fail { n, kind, effect, lasts } => {
                self.count += 1;
                if self.count == n {
                    self.hit = true;
                    let error = Error::from(kind);
                    return match effect {
                        Effect::Nothing => Ok(Go::Part(0, error)),
                        Effect::Short => Ok(Go::Part(bytes * 2 / 3, error)),
                        Effect::Done => Ok(Go::Late(error)),
                    };
                }
                if self.count > n && lasts {
                    return Ok(Go::Part(0, Error::from(kind)));
                }
                Ok(Go::On)
            }
        }
    }

    /// An operation that is done or not.
    pub fn do_or_not(&mut self, alters: bool, work: impl FnOnce(&mut Self) -> Result<()>) -> Result<()> {
        match self.go(alters, 0)? {
            Go::On => work(self),
            Go::Part(_, error) => Err(error),
            Go::Late(error) => work(self).and(Err(error)),
        }
    }

    pub fn write(&mut self, at: usize, bytes: &[u8]) -> Result<()> {
        match self.go(true, bytes.len())? {
            Go::On => {
                self.contents[at].cached.extend_from_slice(bytes);
                Ok(())
            }
            Go::Part(part, error) => {
                self.contents[at].cached.extend_from_slice(&bytes[..part]);
                Err(error)
            }
            Go::Late(error) => {
                self.contents[at].cached.extend_from_slice(bytes);
                Err(error)
            }
        }
    }

    pub fn flush(&mut self, at: usize) -> Result<()> {
        self.do_or_not(true, |state| {
            let content = &mut state.contents[at];
            content.durable = content.cached.clone();
            Ok(())
        })
    }

    pub fn survived(&mut self, loss: Loss, rng: &mut Rng) {
        for content in &mut self.contents {
            let Content { cached, durable } = content.clone();
            content.durable = match loss {
                Loss::All => durable,
                Loss::Nothing => cached,
                Loss::Killed => unreachable!("a killed program loses nothing"),
                Loss::Some => match rng.u8(0..4) {
                    0 => durable,
                    1 => cached,
                    which => match cached.strip_prefix(durable.as_slice()) {
                        // A part of what was added, perhaps with noughts where the rest should be.
                        Some(more) => {
                            let mut kept = durable.clone();
                            kept.extend_from_slice(&more[..rng.usize(0..=more.len())]);
                            if which == 3 {
                                kept.resize(cached.len(), 0);
                            }
                            kept
                        }
                        None => cached,
                    },
                },
            };
            content.cached.clone_from(&content.durable);
        }
        for names in &mut self.folders {
            for step in std::mem::take(&mut names.steps) {
                let kept = match loss {
                    Loss::All => false,
                    Loss::Some => rng.bool(),
                    Loss::Nothing | Loss::Killed => true,
                };
                if kept {
                    step.apply(&mut names.durable);
                }
            }
            names.cached.clone_from(&names.durable);
        }
    }
}

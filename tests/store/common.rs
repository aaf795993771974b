//! What several parts use.

use std::collections::BTreeMap;

use fastrand::Rng;
use medlar::book::{ChangeFault, Changed, Disk, Occasion, RecordPath, Sheaf, Store, StoreFault, Which};

/// Texts by record.
pub type Texts = BTreeMap<RecordPath, String>;

pub fn occasion(n: u64) -> Occasion {
    Occasion {
        at: format!("2027-03-01T{:02}:{:02}:{:02}Z", n / 3600 % 24, n / 60 % 60, n % 60),
        who: "the lower bar".to_owned(),
        dice: 0x1f0c_9a3e,
    }
}

pub fn path(text: &str) -> RecordPath {
    text.parse().unwrap()
}

/// A change that cannot fail for a reason of its own.
pub fn change<D: Disk, T>(
    store: &Store<D>,
    n: u64,
    edit: impl FnOnce(&mut Sheaf<'_, D>) -> Result<T, StoreFault>,
) -> Result<Changed<T>, StoreFault> {
    store.change(&occasion(n), "a change", edit).map_err(|fault| match fault {
        ChangeFault::Edit(fault) | ChangeFault::Store(fault) => fault,
    })
}

pub fn texts<D: Disk>(store: &Store<D>) -> Texts {
    store.read().unwrap().texts
}

/// A command of a script.
#[derive(Debug, Clone)]
pub enum Command {
    Change(Vec<(RecordPath, Option<String>)>),
    Undo(Which),
    Redo(Which),
}

impl Command {
    pub fn writing(files: &[(&str, &str)]) -> Self {
        Self::Change(files.iter().map(|(p, text)| (path(p), Some((*text).to_owned()))).collect())
    }

    pub fn removing(file: &str) -> Self {
        Self::Change(vec![(path(file), None)])
    }

    pub fn run<D: Disk>(
        &self,
        store: &Store<D>,
        n: u64,
    ) -> Result<Option<medlar::book::ChangeId>, StoreFault> {
        match self {
            Self::Change(files) => change(store, n, |sheaf| {
                for (path, text) in files {
                    match text {
                        Some(text) => sheaf.write(path, text.as_str())?,
                        None => sheaf.remove(path)?,
                    }
                }
                Ok(())
            })
            .map(|changed| changed.id),
            Self::Undo(which) => store.undo(&occasion(n), which).map(|changed| changed.id),
            Self::Redo(which) => store.redo(&occasion(n), which).map(|changed| changed.id),
        }
    }
}

/// The scripts every operation of whose last command is attacked; the commands before it go well.
pub fn scripts() -> Vec<(&'static str, Vec<Command>)> {
    let one = || Command::writing(&[("ingredients/quince.ron", "one")]);
    let three = || {
        Command::writing(&[
            ("ingredients/quince.ron", "two"),
            ("specs/sour.ron", "two"),
            ("stock/quince.ron", "two"),
        ])
    };
    let mixed = Command::Change(vec![
        (path("ingredients/quince.ron"), None),
        (path("specs/sour.ron"), Some("three".to_owned())),
        (path("specs/new.ron"), Some("three".repeat(400))),
    ]);
    let undo = || Command::Undo(Which::Last);
    vec![
        ("the first change of all", vec![one()]),
        ("a change of one file", vec![one(), Command::writing(&[("ingredients/quince.ron", "two")])]),
        ("a first change of three files", vec![three()]),
        ("a change of three files in three folders", vec![one(), three()]),
        ("a removal", vec![one(), three(), Command::removing("specs/sour.ron")]),
        ("writing, adding and removing at once", vec![one(), three(), mixed.clone()]),
        ("an undoing", vec![one(), three(), undo()]),
        ("an undoing of one that removed", vec![one(), three(), mixed, undo()]),
        (
            "an undoing of a record's last change",
            vec![three(), Command::Undo(Which::Of(path("stock/quince.ron")))],
        ),
        ("a redoing", vec![one(), three(), undo(), Command::Redo(Which::Last)]),
        ("no change", vec![one(), one()]),
    ]
}

pub fn seed(name: &str) -> Rng {
    let seed = std::env::var("MEDLAR_SEED").ok().and_then(|s| s.parse().ok()).unwrap_or(0x5eed);
    println!("{name}: seed {seed} (MEDLAR_SEED)");
    Rng::with_seed(seed)
}

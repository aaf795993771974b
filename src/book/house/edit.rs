//! Changing records of a house book: what is to change, and what it comes to as text.

use std::collections::BTreeMap;
use std::path::Path;

use ron::ser::{PrettyConfig, to_string_pretty};
use serde::Serialize;
use thiserror::Error;

use super::mention::renamed;
use super::open::check_records;
use crate::book::fault::Fault;
use crate::book::leaf::{Leaf, LeafFault};
use crate::book::shelf::Book;
use crate::book::source::Source;
use crate::book::store::{ChangeFault, ChangeId, Disk, Occasion, RecordPath, Sheaf, Store, StoreFault};

/// A change of one record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RecordEdit {
    /// Its file.
    pub path: RecordPath,
    /// What becomes of it.
    pub change: RecordChange,
}

/// What becomes of a record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RecordChange {
    /// A new one, with these fields in this order; there must be none yet.
    New(Vec<(String, String)>),
    /// Fields, by their paths inwards, get a value as RON, or go; a record that is not there yet is made.
    Set(Vec<(Vec<String>, Option<String>)>),
    /// It has this text from now on.
    Text(String),
    /// It has the text of a record, perhaps of itself, in which one id stands for another.
    Renamed {
        /// The record.
        of: RecordPath,
        /// The id that was.
        from: String,
        /// The id that is.
        to: String,
    },
    /// It goes.
    Remove,
}

/// What a change came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edited {
    /// The name of the change in the history; none if it was only tried, or changed nothing.
    pub id: Option<ChangeId>,
    /// Each record with its text before and after; those that stay as they are are left out.
    pub records: Vec<(RecordPath, Option<String>, Option<String>)>,
}

/// Why nothing was changed.
#[derive(Debug, Error)]
pub enum NotEdited {
    /// The store refuses.
    #[error(transparent)]
    Store(#[from] StoreFault),
    /// A record as it stands in the book cannot be changed.
    #[error("{path}, line {}: {fault}", fault.place.line)]
    Leaf {
        /// Which.
        path: RecordPath,
        /// Why.
        fault: LeafFault,
    },
    /// It is there already.
    #[error("{path} is there already")]
    There {
        /// Which.
        path: RecordPath,
    },
    /// It is not there.
    #[error("{path} is not there")]
    NotThere {
        /// Which.
        path: RecordPath,
    },
    /// What it would come to does not check.
    #[error("what it would come to has {} and was not kept", if faults.len() == 1 { "a fault".to_owned() } else { format!("{} faults", faults.len()) })]
    Faults {
        /// Every fault.
        faults: Vec<Fault>,
        /// The texts they are in.
        sources: Vec<Source>,
    },
}

/// A value as RON on one line.
///
/// # Errors
/// Whatever RON cannot hold; nothing a record has.
pub fn ron_value(value: &impl Serialize) -> Result<String, ron::Error> {
    let layout = PrettyConfig::new()
        .new_line("\n")
        .compact_arrays(true)
        .compact_structs(true)
        .compact_maps(true)
        .extensions(ron::extensions::Extensions::IMPLICIT_SOME);
    let text = to_string_pretty(value, layout)?;
    // The extension is the rule in every file of the book and is not written.
    Ok(text.rsplit_once(")]\n").map_or(text.as_str(), |(_, value)| value).trim().to_owned())
}

impl RecordEdit {
    /// The text of the record after the change; none if it goes. `other` is the text of the record that it takes over.
    fn applied(&self, now: Option<&str>, other: Option<&str>) -> Result<Option<String>, NotEdited> {
        let kind = self.path.kind();
        let leaf = |fault| NotEdited::Leaf { path: self.path.clone(), fault };
        match (&self.change, now) {
            (RecordChange::New(_), Some(_)) => Err(NotEdited::There { path: self.path.clone() }),
            (RecordChange::New(fields), None) => {
                Ok(Some(Leaf::new(kind.word(), fields).map_err(leaf)?.text().to_owned()))
            }
            (RecordChange::Set(fields), now) => {
                let mut record = match now {
                    Some(text) => Leaf::parse(text),
                    None => Leaf::new::<&str>(kind.word(), &[]),
                }
                .map_err(leaf)?;
                for (path, value) in fields {
                    let path: Vec<&str> = path.iter().map(String::as_str).collect();
                    match value {
                        Some(value) => record.set(&path, value, kind.order()).map_err(leaf)?,
                        None => record.unset(&path).map(|_| ()).map_err(leaf)?,
                    }
                }
                Ok(Some(record.text().to_owned()))
            }
            (RecordChange::Text(text), _) => Ok(Some(text.clone())),
            (RecordChange::Renamed { of, .. }, Some(_)) if *of != self.path => {
                Err(NotEdited::There { path: self.path.clone() })
            }
            (RecordChange::Renamed { of, from, to }, _) => {
                let text = other.ok_or_else(|| NotEdited::NotThere { path: of.clone() })?;
                renamed(kind, text, from, to).map(Some).map_err(leaf)
            }
            (RecordChange::Remove, Some(_)) => Ok(None),
            (RecordChange::Remove, None) => Err(NotEdited::NotThere { path: self.path.clone() }),
        }
    }
}

/// Reads the records, changes them, holds the result against the book and keeps it; all of it or nothing.
///
/// `packs` is what the house book lies over, `now` both together as they were last read.
///
/// # Errors
/// [`NotEdited`]; the book is as it was then.
pub fn keep<D: Disk>(
    store: &Store<D>,
    occasion: &Occasion,
    what: &str,
    (packs, now): (&Book, &Book),
    root: &Path,
    edits: &[RecordEdit],
) -> Result<Edited, NotEdited> {
    let kept = store.change(occasion, what, |sheaf| {
        let records = changed(edits, |path| sheaf.read(path))?;
        checked(packs, now, root, &records)?;
        write(sheaf, &records)?;
        Ok::<_, NotEdited>(records)
    });
    match kept {
        Ok(changed) => Ok(Edited { id: changed.id, records: changed.value }),
        Err(ChangeFault::Edit(why)) => Err(why),
        Err(ChangeFault::Store(fault)) => Err(fault.into()),
    }
}

/// What [`keep`] would come to, with nothing written.
///
/// # Errors
/// [`NotEdited`], as [`keep`] would.
pub fn try_out<D: Disk>(
    store: &Store<D>,
    (packs, now): (&Book, &Book),
    root: &Path,
    edits: &[RecordEdit],
) -> Result<Edited, NotEdited> {
    let records = changed(edits, |path| store.text(path))?;
    checked(packs, now, root, &records)?;
    Ok(Edited { id: None, records })
}

type Records = Vec<(RecordPath, Option<String>, Option<String>)>;

fn changed(
    edits: &[RecordEdit],
    mut read: impl FnMut(&RecordPath) -> Result<Option<String>, StoreFault>,
) -> Result<Records, NotEdited> {
    let mut texts: BTreeMap<RecordPath, (Option<String>, Option<String>)> = BTreeMap::new();
    for edit in edits {
        let other = if let RecordChange::Renamed { of, .. } = &edit.change { Some(of) } else { None };
        for path in [Some(&edit.path), other].into_iter().flatten() {
            if !texts.contains_key(path) {
                let now = read(path)?;
                texts.insert(path.clone(), (now.clone(), now));
            }
        }
        let after = |path: &RecordPath| texts.get(path).and_then(|(_, after)| after.clone());
        let applied = edit.applied(after(&edit.path).as_deref(), other.and_then(after).as_deref())?;
        if let Some((_, after)) = texts.get_mut(&edit.path) {
            *after = applied;
        }
    }
    Ok(texts
        .into_iter()
        .filter(|(_, (before, after))| before != after)
        .map(|(path, (before, after))| (path, before, after))
        .collect())
}

fn checked(packs: &Book, now: &Book, root: &Path, records: &Records) -> Result<(), NotEdited> {
    let texts = records.iter().filter_map(|(path, _, after)| Some((path.clone(), after.clone()?)));
    let gone: Vec<&RecordPath> = records.iter().filter(|r| r.2.is_none()).map(|r| &r.0).collect();
    let (faults, sources) = check_records(packs, now, texts.collect(), &gone, root);
    if faults.is_empty() { Ok(()) } else { Err(NotEdited::Faults { faults, sources }) }
}

fn write<D: Disk>(sheaf: &mut Sheaf<'_, D>, records: &Records) -> Result<(), StoreFault> {
    for (path, _, after) in records {
        match after {
            Some(text) => sheaf.write(path, text.clone())?,
            None => sheaf.remove(path)?,
        }
    }
    Ok(())
}

/// A field that a change gave another value: its name, and the value before and after as RON.
pub type FieldChange = (String, Option<String>, Option<String>);

impl Edited {
    /// Whether anything was changed.
    pub fn is_none(&self) -> bool {
        self.records.is_empty()
    }

    /// Every record with the fields that changed; of a new one and of one that goes, all it has.
    pub fn fields(&self) -> Vec<(&RecordPath, Vec<FieldChange>)> {
        self.records
            .iter()
            .map(|record| {
                let read = |text: &Option<String>| text.as_deref().and_then(|text| Leaf::parse(text).ok());
                let (before, after) = (read(&record.1), read(&record.2));
                let of = |leaf: &Option<Leaf>, name: &str| {
                    leaf.as_ref().and_then(|leaf| leaf.get(&[name])).map(str::to_owned)
                };
                let mut names: Vec<String> = Vec::new();
                for leaf in [&before, &after].into_iter().flatten() {
                    for name in leaf.fields() {
                        if !names.iter().any(|n| n == name) {
                            names.push(name.to_owned());
                        }
                    }
                }
                let fields = names
                    .into_iter()
                    .map(|name| {
                        let (was, is) = (of(&before, &name), of(&after, &name));
                        (name, was, is)
                    })
                    .filter(|(_, was, is)| was != is)
                    .collect();
                (&record.0, fields)
            })
            .collect()
    }
}

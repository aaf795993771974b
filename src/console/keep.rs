//! Changing the house book from a command.

use std::path::Path;

use super::desk::Desk;
use super::failure::Failure;
use super::session::Answer;
use crate::book::{
    Edited, Folder, IngredientId, NotEdited, Occasion, RecordChange, RecordEdit, RecordKind, RecordPath,
    Store, fold, keep, pair_stem, ron_value, try_out,
};
use crate::report::{Changed, changed, faults_text};

/// A field's path inwards, and its value as RON; none takes it out.
pub(super) type FieldEdit = (Vec<String>, Option<String>);

impl Desk<'_> {
    /// The folder of the house book.
    pub(super) fn root(&self) -> Result<&Path, Failure> {
        self.library.house.root.as_deref().ok_or_else(|| {
            Failure::mistake("there is no folder for the house book").hint("say one with --book DIR")
        })
    }

    /// The files of the house book.
    pub(super) fn store(&self) -> Result<Store<Folder>, Failure> {
        Ok(Store::at(self.root()?))
    }

    /// Now.
    pub(super) fn occasion(&self) -> Result<Occasion, Failure> {
        self.clock
            .map(super::clock::Clock::now)
            .ok_or_else(|| Failure::mistake("nothing can be kept here: this session has no clock"))
    }

    /// Changes records of the house book, or only says what it would come to.
    pub(super) fn keep(&self, what: &str, edits: &[RecordEdit], dry_run: bool) -> Result<Edited, Failure> {
        Ok(self.keep_or_why(what, edits, dry_run)??)
    }

    /// The same, with the reason as a value where the records themselves are at fault.
    pub(super) fn keep_or_why(
        &self,
        what: &str,
        edits: &[RecordEdit],
        dry_run: bool,
    ) -> Result<Result<Edited, NotEdited>, Failure> {
        if let Some(why) = &self.library.house.closed {
            return Err(Failure::mistake(format!("the house book can't be written: {why}")));
        }
        let books = (self.library.packs_alone(), &self.library.book);
        let (store, root) = (self.store()?, self.root()?);
        Ok(if dry_run {
            try_out(&store, books, root, edits)
        } else {
            keep(&store, &self.occasion()?, what, books, root, edits)
        })
    }
}

impl From<NotEdited> for Failure {
    fn from(error: NotEdited) -> Self {
        let failure = Self::mistake(error.to_string());
        match error {
            NotEdited::Faults { faults, sources } => {
                Self { detail: faults_text(&faults, &sources), ..failure }
            }
            NotEdited::There { path } => {
                failure.hint(format!("'edit {}' changes it", path.stem().replace('-', " ")))
            }
            NotEdited::Leaf { .. } => failure.hint("mend the file by hand, or see 'check --mend'"),
            NotEdited::NotThere { .. } | NotEdited::Store(_) => failure,
        }
    }
}

/// The answer that tells of a change.
pub(super) fn kept(
    command: &'static str,
    title: String,
    edited: &Edited,
    dry_run: bool,
    notes: Vec<String>,
) -> Answer {
    let report = changed(&Changed { command, title, edited, dry_run, notes });
    Answer { changed: !dry_run, ..Answer::new(report) }
}

/// A record's file, from its kind and its id.
pub(super) fn path_of(kind: RecordKind, stem: &str) -> Result<RecordPath, Failure> {
    RecordPath::within(kind, stem).map_err(|error| Failure::mistake(error.to_string()))
}

/// The file of a pair, the lesser id first.
pub(super) fn pair_path(a: &IngredientId, b: &IngredientId) -> Result<RecordPath, Failure> {
    path_of(RecordKind::Bond, &pair_stem(a.as_str(), b.as_str()))
}

/// An id from a name: `Crème de Cassis` is `creme-de-cassis`.
pub(super) fn id_of_name(name: &str) -> Result<String, Failure> {
    let words: Vec<String> = deunicode::deunicode(name)
        .to_lowercase()
        .replace('\'', "")
        .split(|c: char| !c.is_ascii_alphanumeric())
        .filter(|w| !w.is_empty())
        .map(str::to_owned)
        .collect();
    let id = words.join("-");
    if id.is_empty() || id.len() > 64 || fold(name).is_empty() || name.contains(['/', '\\']) {
        return Err(Failure::mistake(format!("'{name}' makes no name for a record"))
            .hint("write 1 to 64 letters or digits, no slashes: damson gin"));
    }
    Ok(id)
}

/// A change of fields.
pub(super) fn set(path: RecordPath, fields: Vec<FieldEdit>) -> RecordEdit {
    RecordEdit { path, change: RecordChange::Set(fields) }
}

/// A field with a value.
pub(super) fn field(path: &[&str], value: &impl serde::Serialize) -> FieldEdit {
    (path.iter().map(|p| (*p).to_owned()).collect(), ron_value(value).ok())
}

/// A field with a value that is RON already.
pub(super) fn plain_field(path: &[&str], value: impl Into<String>) -> FieldEdit {
    (path.iter().map(|p| (*p).to_owned()).collect(), Some(value.into()))
}

/// Fields of a new record, by their names.
pub(super) fn named_fields(fields: impl IntoIterator<Item = FieldEdit>) -> Vec<(String, String)> {
    fields.into_iter().filter_map(|(path, value)| Some((path.join("."), value?))).collect()
}

/// A name for a record that has none of its own: the day and a few letters that no other has.
pub(super) fn dated_stem(occasion: &Occasion) -> String {
    let day = occasion.at.get(..10).unwrap_or("undated");
    format!("{day}-{:08x}", occasion.dice & 0xffff_ffff)
}

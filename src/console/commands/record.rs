//! Which record of the house book is meant.

use super::two_names;
use crate::book::{History, RecordKind, RecordPath, Wanted, Whose, pair_stem};
use crate::console::desk::{Desk, Named};
use crate::console::failure::Failure;
use crate::console::keep::{id_of_name, pair_path, path_of};

/// The file of the record that a name means: a pair with a comma between, an ingredient, a drink, or the file itself.
/// It need not be there any more, as long as the history knows it.
pub(super) fn record_named(text: &str, history: &History, desk: &Desk<'_>) -> Result<RecordPath, Failure> {
    if let Ok(path) = text.trim().parse::<RecordPath>() {
        return Ok(path);
    }
    if text.contains(',') {
        let (a, b) = two_names(&[text.to_owned()], "this")?;
        if let (Ok(a), Ok(b)) = (desk.ingredient(&a), desk.ingredient(&b)) {
            return pair_path(&a.id, &b.id);
        }
        // The ingredient may be gone, with the pair.
        let (a, b) = (id_of_name(&a)?, id_of_name(&b)?);
        return path_of(RecordKind::Bond, &pair_stem(&a, &b));
    }
    match desk.target(text, Wanted::Any) {
        Ok(Named::Ingredient(ingredient)) => path_of(RecordKind::Ingredient, ingredient.id.as_str()),
        Ok(Named::Template(template)) => path_of(template.record_kind(), template.id.as_str()),
        Ok(Named::Spec(_)) => Err(Failure::mistake(format!("'{text}' is no record of the book"))),
        Err(failure) => {
            let id = id_of_name(text)?;
            let known = history.entries.iter().rev().flat_map(|e| &e.files);
            let known = known.map(|f| &f.path).find(|path| path.stem() == id);
            known.cloned().ok_or(failure)
        }
    }
}

/// Whether a file is the record's, or one of a fact on it: the price and the stock of an ingredient.
pub(super) fn same_record(path: &RecordPath, of: &RecordPath) -> bool {
    path == of || (path.stem() == of.stem() && of.kind() == RecordKind::Ingredient)
}

/// The kind, the id and whose it is, of something that the house's book may have a record of.
pub(super) fn house_record(
    text: &str,
    desk: &Desk<'_>,
) -> Result<(RecordKind, String, Option<Whose>), Failure> {
    let (kind, id) = match desk.target(text, Wanted::Any)? {
        Named::Ingredient(ingredient) => (RecordKind::Ingredient, ingredient.id.to_string()),
        Named::Template(t) => (t.record_kind(), t.id.to_string()),
        Named::Spec(_) => {
            return Err(Failure::mistake(format!("'{text}' is no record of the book"))
                .hint("'save' keeps a drink under a name first"));
        }
    };
    let whose = desk.library.book.house().whose(kind, &id).cloned();
    Ok((kind, id, whose))
}

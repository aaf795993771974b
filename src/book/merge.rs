//! Two people's changes of one record put together, field by field.

mod between;
mod fields;
mod layout;
mod list;
mod page;
#[cfg(test)]
mod tests;

use super::leaf::{Leaf, Order, line_break};
use fields::{Merger, Sides};

/// The line above our side of a conflict.
const OURS: &str = "<<<<<<< ours";
/// The line between the sides.
const BETWEEN: &str = "=======";
/// The line below their side.
const THEIRS: &str = ">>>>>>> theirs";

/// A merged record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Merged {
    /// The text of its file; with marks in it where there is a conflict.
    pub text: String,
    /// The paths of the fields in conflict (`makeup.strength`), in the order of the file; [`Merged::WHOLE_FILE`] if it is
    /// not one field.
    pub conflicts: Vec<String>,
}

impl Merged {
    /// Stands for a conflict of the whole file.
    pub const WHOLE_FILE: &str = "the whole file";

    fn clean(text: &str) -> Self {
        Self { text: text.to_owned(), conflicts: Vec::new() }
    }

    fn whole(ours: &str, theirs: &str) -> Self {
        let end = line_break(ours);
        let closed = |text: &str| {
            if text.is_empty() || text.ends_with('\n') { text.to_owned() } else { format!("{text}{end}") }
        };
        let text = format!("{OURS}{end}{}{BETWEEN}{end}{}{THEIRS}{end}", closed(ours), closed(theirs));
        Self { text, conflicts: vec![Self::WHOLE_FILE.to_owned()] }
    }
}

/// Merges two changes of one record's file, against what both began from, if there is that.
///
/// - A field changed on one side only is taken from that side; on both sides in the same way, taken.
/// - A field changed on both sides in different ways, or taken out on one and changed on the other, is a conflict: both
///   sides stand in the text between marks, and [`Leaf::parse`] refuses it.
/// - A struct in parentheses with named fields is merged by its fields. A list of ids, of words or of aliases is merged as
///   a set if both sides only put in or took out; what is new comes at its end, sorted.
/// - Remarks are merged too. Where both sides changed those of one place, both are kept.
///
/// Without a conflict the text is the same whichever side is `ours`. `order` is the order of the record's fields, as for
/// [`Leaf::set`].
///
/// # Limits
/// If one of the three cannot be read, if the sides are of two kinds of record, or if the merged text would be larger than a
/// record may be, the whole file is in conflict. A list called `steps` is no set: its order is its meaning.
pub fn merge(base: Option<&str>, ours: &str, theirs: &str, order: &[&str]) -> Merged {
    let read = |text| Leaf::parse(text).ok();
    let (Some(our), Some(their)) = (read(ours), read(theirs)) else { return Merged::whole(ours, theirs) };
    let began = match base.map(Leaf::parse) {
        None => None,
        Some(Ok(leaf)) => Some(leaf),
        Some(Err(_)) => return Merged::whole(ours, theirs),
    };
    if ours == theirs || base == Some(theirs) {
        return Merged::clean(ours);
    }
    if base == Some(ours) {
        return Merged::clean(theirs);
    }
    if our.kind() != their.kind() {
        return Merged::whole(ours, theirs);
    }
    // Another kind of record tells nothing of how this one came about.
    let began = began.filter(|b| b.kind() == our.kind());
    let sides = Sides { base: began.as_ref(), ours: &our, theirs: &their };
    let mut merger = Merger::new(Order(order), ours, theirs);
    let text = merger.file(sides);
    let conflicts = merger.into_conflicts();
    if conflicts.is_empty() && Leaf::parse(&text).is_err() {
        return Merged::whole(ours, theirs);
    }
    Merged { text, conflicts }
}

//! Lists that are sets: ids, words, aliases.

use crate::book::id::IngredientId;
use crate::book::leaf::{INDENT, Kind, tokens};

/// Lists of any texts that are sets.
const SETS: [&str; 1] = ["aliases"];
/// Lists whose order is their meaning, even if they hold words alone.
const SEQUENCES: [&str; 1] = ["steps"];

/// The lists of a field on three sides, as RON; no base is an empty list.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lists<'t> {
    pub(super) base: Option<&'t str>,
    pub(super) ours: &'t str,
    pub(super) theirs: &'t str,
}

impl<'t> Lists<'t> {
    /// The merged list, if the field is a set and both sides only put in or took out.
    pub(super) fn merged(self, field: &str, end: &str, indent: usize) -> Option<String> {
        if SEQUENCES.contains(&field) {
            return None;
        }
        let any = SETS.contains(&field);
        let base = self.base.map_or(Some(Vec::new()), |b| set(b, any))?;
        let (ours, theirs) = (set(self.ours, any)?, set(self.theirs, any)?);
        if !keeps_order(&base, &ours) || !keeps_order(&base, &theirs) {
            return None;
        }
        let mut merged: Vec<&str> =
            base.iter().copied().filter(|e| ours.contains(e) && theirs.contains(e)).collect();
        let mut new: Vec<&'t str> = ours.into_iter().chain(theirs).filter(|e| !base.contains(e)).collect();
        new.sort_unstable();
        new.dedup();
        merged.append(&mut new);
        let on_lines = self.ours.contains('\n') || self.theirs.contains('\n');
        Some(if merged.is_empty() || !on_lines {
            format!("[{}]", merged.join(", "))
        } else {
            let line = format!("{end}{:1$}", "", indent + INDENT);
            format!("[{line}{},{end}{:indent$}]", merged.join(&format!(",{line}")), "")
        })
    }
}

/// The elements of a list, if it has no remarks, none twice, and nothing in it but words and ids, or any quoted texts.
fn set(list: &str, any_text: bool) -> Option<Vec<&str>> {
    let mut pieces = tokens(list, 0..list.len()).filter(|t| !matches!(t.kind, Kind::Blank | Kind::Break));
    let mut elements: Vec<&str> = Vec::new();
    pieces.next().filter(|_| list.starts_with('['))?;
    loop {
        // An opening bracket or a comma came; an element or the end follows.
        let piece = pieces.next()?;
        if piece.kind == Kind::Close {
            break;
        }
        let element = &list[piece.bytes];
        if piece.kind != Kind::Solid || !is_element(element, any_text) || elements.contains(&element) {
            return None;
        }
        elements.push(element);
        match pieces.next()?.kind {
            Kind::Comma => {}
            Kind::Close => break,
            _ => return None,
        }
    }
    pieces.next().is_none().then_some(elements)
}

fn is_element(element: &str, any_text: bool) -> bool {
    match element.strip_prefix('"').and_then(|e| e.strip_suffix('"')) {
        Some(text) => any_text || IngredientId::new(text).is_ok(),
        None => {
            element.starts_with(|c: char| c.is_alphabetic())
                && element.chars().all(|c| c == '_' || c.is_alphanumeric())
        }
    }
}

/// Whether what a side kept of the base stands in the base's order.
fn keeps_order(base: &[&str], side: &[&str]) -> bool {
    let kept = side.iter().filter(|e| base.contains(e));
    kept.eq(base.iter().filter(|e| side.contains(e)))
}

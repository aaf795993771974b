//! Fields and conflicts as they stand in the merged text.

use super::between::{Between, Merged};
use super::fields::{Found, Three};
use super::page::Page;
use super::{BETWEEN, OURS, THEIRS};
use crate::book::leaf::Field;

/// Adds a field that stands on both sides, from its name on.
pub(super) fn push_both(page: &mut Page, found: Three<Found<'_>>, value: &str, comma: bool, indent: usize) {
    page.push(&found.ours.0[found.ours.1.name.clone()], indent);
    match found.map(|(text, field)| field.colon_in(text)).between().merged() {
        Merged::AsIs(text) => page.push(text, indent),
        Merged::Anew(remarks) => {
            page.push(":", indent);
            for remark in remarks {
                page.push(&format!(" {remark}"), indent);
            }
            page.push(" ", indent);
        }
    }
    page.push(value, indent);
    let gap = found.map(|(text, field)| field.gap_in(text)).between();
    if comma || !gap.ours.is_empty() || !gap.theirs.is_empty() {
        match gap.merged() {
            Merged::AsIs(text) => page.push(text, indent),
            Merged::Anew(remarks) => {
                for remark in remarks {
                    page.push(&format!(" {remark}"), indent);
                }
            }
        }
        page.push(",", indent);
    }
    push_rest(page, found.map(|(text, field)| field.trail_in(text)).between(), indent);
}

/// A field with all its own bytes but those before its name.
pub(super) fn own(text: &str, field: &Field) -> String {
    let start = &text[field.name.start..field.value.end];
    format!("{start}{},{}", field.gap_in(text), field.trail_in(text))
}

/// Adds a field that stands on one side, from its name on.
pub(super) fn push_one(page: &mut Page, (text, field): Found<'_>, comma: bool, indent: usize) {
    page.push(&text[field.name.start..field.value.end], indent);
    let gap = field.gap_in(text);
    if comma || !gap.is_empty() {
        page.push(gap, indent);
        page.push(",", indent);
    }
    page.push_rest_of_line(field.trail_in(text), indent);
}

/// Adds remarks that stand on the rest of a line.
pub(super) fn push_rest(page: &mut Page, between: Between<'_>, indent: usize) {
    match between.merged() {
        Merged::AsIs(text) => page.push_rest_of_line(text, indent),
        Merged::Anew(mut remarks) => {
            // After one that runs to the end of the line, nothing else could stand.
            remarks.sort_by_key(|r| r.starts_with("//"));
            page.push_rest_of_line(&format!(" {}", remarks.join(" ")), indent);
        }
    }
}

/// Both sides of a conflict, between marks.
pub(super) fn push_marks(page: &mut Page, ours: Option<String>, theirs: Option<String>) {
    page.push_line(OURS, 0);
    if let Some(ours) = ours {
        page.push_line(&ours, 0);
    }
    page.push_line(BETWEEN, 0);
    if let Some(theirs) = theirs {
        page.push_line(&theirs, 0);
    }
    page.push_line(THEIRS, 0);
}

/// What stands before a name, without the break and the blanks of the name's own line.
pub(super) fn without_last_line(lead: &str) -> &str {
    let cut = lead.trim_end_matches([' ', '\t']);
    match cut.strip_suffix('\n') {
        Some(cut) => cut.strip_suffix('\r').unwrap_or(cut),
        None => lead,
    }
}

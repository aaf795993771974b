//! Fields put into a text and taken out of it, with nothing else moved.

use std::ops::Range;

use super::body::{Body, Field, starts_with_break};
use super::token::{self, Kind, tokens};

/// Bytes and what comes in their place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Edit {
    pub(super) bytes: Range<usize>,
    pub(super) text: String,
}

impl Edit {
    fn insert(at: usize, text: String) -> Self {
        Self { bytes: at..at, text }
    }

    fn delete(bytes: Range<usize>) -> Self {
        Self { bytes, text: String::new() }
    }
}

/// A text with edits made, which do not overlap and come in order.
pub(super) fn edited(text: &str, edits: &[Edit]) -> String {
    let mut result = String::with_capacity(text.len() + 64);
    let mut at = 0;
    for edit in edits {
        result.push_str(&text[at..edit.bytes.start]);
        result.push_str(&edit.text);
        at = edit.bytes.end;
    }
    result.push_str(&text[at..]);
    result
}

/// How lines end in a text.
pub(in crate::book) fn line_break(text: &str) -> &'static str {
    if text.contains("\r\n") { "\r\n" } else { "\n" }
}

/// Puts a field, `name: value`, before the one at `index`, or at the end.
pub(super) fn put_in(text: &str, body: &Body, index: usize, field: &str, indent: usize) -> Vec<Edit> {
    let line = format!("{}{:indent$}", line_break(text), "");
    if let Some(next) = body.fields.get(index) {
        return vec![if next.starts_line(text) {
            Edit::insert(next.lead, format!("{line}{field},"))
        } else {
            Edit::insert(next.lead + blanks(next.lead_in(text)), format!("{field}, "))
        }];
    }
    let on_lines = starts_with_break(body.tail_in(text));
    match body.fields.last() {
        None if on_lines => vec![Edit::insert(body.tail, format!("{line}{field},"))],
        None => vec![Edit::insert(body.tail, field.to_owned())],
        Some(last) => {
            let before = if on_lines || last.starts_line(text) { line.as_str() } else { " " };
            if last.comma.is_some() {
                vec![Edit::insert(body.tail, format!("{before}{field},"))]
            } else {
                let comma = Edit::insert(last.value.end, ",".to_owned());
                vec![comma, Edit::insert(body.tail, format!("{before}{field}"))]
            }
        }
    }
}

/// Takes the field at `index` out: with its comma, the remark on its line and those directly above.
pub(super) fn take_out(text: &str, body: &Body, index: usize) -> Vec<Edit> {
    let field = &body.fields[index];
    if let Some(next) = body.fields.get(index + 1)
        && !next.starts_line(text)
    {
        // The remarks above are about the next one too, which stands on the same line.
        let start = on_last_line(text, field);
        return vec![Edit::delete(start..next.lead + blanks(next.lead_in(text)))];
    }
    let mut edits = Vec::new();
    let last = index + 1 == body.fields.len();
    let previous = index.checked_sub(1).map(|i| &body.fields[i]);
    if last
        && field.comma.is_none()
        && let Some(comma) = previous.and_then(|p| p.comma)
    {
        edits.push(Edit::delete(comma..comma + 1));
    }
    let start = remarks_above(text, field);
    let mut own = Edit::delete(start..field.end);
    let before = previous.map_or_else(|| body.opening_in(text), |p| p.trail_in(text));
    let open = start == field.lead && tokens(before, 0..before.len()).any(|t| t.kind == Kind::LineRemark);
    if last && open && !starts_with_break(body.tail_in(text)) {
        // The closing parenthesis must not become part of the remark.
        line_break(text).clone_into(&mut own.text);
    }
    edits.push(own);
    edits
}

/// How many bytes of blanks a text starts with.
fn blanks(text: &str) -> usize {
    text.len() - text.trim_start_matches(token::is_blank).len()
}

/// Where a field's own bytes on the line of its name begin, blanks left out.
fn on_last_line(text: &str, field: &Field) -> usize {
    let line = tokens(text, field.lead..field.name.start)
        .filter(|t| t.kind == Kind::Break)
        .last()
        .map_or(field.lead, |t| t.bytes.end);
    line + blanks(&text[line..field.name.start])
}

/// Where the remarks directly above a field begin: at the end of the line before them.
fn remarks_above(text: &str, field: &Field) -> usize {
    let mut start = field.lead;
    // Whether the line so far holds a remark.
    let mut remark = true;
    for token in tokens(text, field.lead..field.name.start) {
        match token.kind {
            Kind::Break if !remark => {
                // A line without any: what is above it stays.
                start = token.bytes.start;
            }
            Kind::Break => remark = false,
            kind => remark |= kind.is_remark(),
        }
    }
    start
}

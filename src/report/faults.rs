//! The faults of a pack, each in its place in the file.

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

use super::clean;
use crate::book::{Fault, Source};

/// Every fault: what was found, where, what is allowed, what to do.
pub fn faults_text(faults: &[Fault], sources: &[Source]) -> String {
    let shown: Vec<String> = faults.iter().map(|fault| fault_text(fault, sources)).collect();
    shown.join("\n\n")
}

fn fault_text(fault: &Fault, sources: &[Source]) -> String {
    let record = fault.record.as_ref().map_or(String::new(), |r| format!("{r}: "));
    let title = clean(&format!("{record}{}", fault.problem)).into_owned();
    let file = clean(&fault.file).into_owned();
    let hint = fault.problem.hint().map(|h| clean(&h).into_owned());
    let source = sources.iter().find(|s| s.path == fault.file);
    let (Some(place), Some(source)) = (&fault.place, source) else {
        let hint = hint.map_or(String::new(), |h| format!("\nhelp: {h}"));
        return format!("error: {title}\n --> {file}{hint}");
    };
    // Control characters in a file are drawn as one visible character each, so that the columns stay right.
    let (text, bytes) = drawable(&source.text, place.bytes.clone());
    let snippet =
        Snippet::source(text.as_str()).path(file.as_str()).annotation(AnnotationKind::Primary.span(bytes));
    let mut groups = vec![Level::ERROR.primary_title(title.as_str()).element(snippet)];
    if let Some(hint) = &hint {
        groups.push(Group::with_title(Level::HELP.secondary_title(hint.as_str())));
    }
    Renderer::plain().render(&groups).clone()
}

/// The text with what could harm a screen replaced, and the range moved with it.
fn drawable(text: &str, bytes: std::ops::Range<usize>) -> (String, std::ops::Range<usize>) {
    let mut drawn = String::with_capacity(text.len());
    let mut range = 0..0;
    for (index, letter) in text.char_indices() {
        if index == bytes.start {
            range.start = drawn.len();
        }
        if index <= bytes.end {
            range.end = drawn.len();
        }
        let plain =
            letter == '\n' || letter == '\t' || clean(letter.encode_utf8(&mut [0; 4])) == letter.to_string();
        drawn.push(if plain { letter } else { '\u{fffd}' });
    }
    if bytes.start >= text.len() {
        range.start = drawn.len();
    }
    if bytes.end >= text.len() {
        range.end = drawn.len();
    }
    range.end = range.end.max(range.start);
    (drawn, range)
}

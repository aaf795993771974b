//! The merged text as it grows.

use crate::book::leaf::{Kind, starts_with_break, tokens};

/// A text that never lets a value run into a remark before it.
#[derive(Debug)]
pub(super) struct Page {
    text: String,
    /// How lines end.
    end: &'static str,
    /// Whether what comes next must start a line.
    closed: bool,
}

impl Page {
    pub(super) fn new(end: &'static str) -> Self {
        Self { text: String::new(), end, closed: false }
    }

    /// Adds a text as it is; on a new line, `indent` in, if it must be.
    pub(super) fn push(&mut self, text: &str, indent: usize) {
        if text.is_empty() {
            return;
        }
        if self.closed && !starts_with_break(text) {
            self.line(indent);
            self.text.push_str(text.trim_start_matches([' ', '\t']));
        } else {
            self.text.push_str(text);
        }
        let last = tokens(text, 0..text.len()).filter(|t| t.kind != Kind::Blank).last();
        self.closed = last.is_some_and(|t| t.kind == Kind::LineRemark);
    }

    /// Adds what stands on the rest of a line.
    pub(super) fn push_rest_of_line(&mut self, text: &str, indent: usize) {
        self.push(text, indent);
        self.closed |= tokens(text, 0..text.len()).any(|t| t.kind.is_remark());
    }

    /// Starts a line.
    pub(super) fn line(&mut self, indent: usize) {
        self.text.push_str(self.end);
        self.text.push_str(&" ".repeat(indent));
        self.closed = false;
    }

    /// Adds a line of its own, of a mark or of remarks, after which another must start.
    pub(super) fn push_line(&mut self, text: &str, indent: usize) {
        self.line(indent);
        self.text.push_str(text);
        self.closed = true;
    }

    pub(super) fn into_text(self) -> String {
        self.text
    }
}

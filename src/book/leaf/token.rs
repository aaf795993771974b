//! The small pieces of RON text: blanks, remarks, brackets and what is solid between them.

use std::ops::Range;

/// What a piece is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::book) enum Kind {
    /// Blanks without a line break.
    Blank,
    /// The end of a line.
    Break,
    /// `// ...` up to the end of its line.
    LineRemark,
    /// `/* ... */`, which may nest.
    BlockRemark,
    /// An opening bracket of any sort.
    Open,
    /// A closing bracket of any sort.
    Close,
    /// A comma.
    Comma,
    /// Anything else: a word, a quoted text, a sign.
    Solid,
}

impl Kind {
    /// Whether it is a remark.
    pub(in crate::book) fn is_remark(self) -> bool {
        matches!(self, Self::LineRemark | Self::BlockRemark)
    }

    /// Whether it carries no value: a blank, a line break or a remark.
    pub(in crate::book) fn is_between(self) -> bool {
        self.is_remark() || matches!(self, Self::Blank | Self::Break)
    }
}

/// A piece and its bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::book) struct Token {
    pub(in crate::book) kind: Kind,
    pub(in crate::book) bytes: Range<usize>,
}

/// The pieces of a part of a text. Any text has some: what is not closed runs to the end.
pub(in crate::book) fn tokens(text: &str, within: Range<usize>) -> impl Iterator<Item = Token> {
    let mut at = within.start;
    std::iter::from_fn(move || {
        let rest = &text[at..within.end];
        let (kind, length) = first(rest)?;
        let bytes = at..at + length;
        at = bytes.end;
        Some(Token { kind, bytes })
    })
}

fn first(rest: &str) -> Option<(Kind, usize)> {
    let letter = rest.chars().next()?;
    Some(match letter {
        '\n' => (Kind::Break, 1),
        '\r' if rest.starts_with("\r\n") => (Kind::Break, 2),
        '\r' => (Kind::Blank, 1),
        _ if is_blank(letter) => {
            let run = rest.find(|c| !is_blank(c) || matches!(c, '\n' | '\r')).unwrap_or(rest.len());
            (Kind::Blank, run)
        }
        '/' if rest.starts_with("//") => {
            let line = &rest[..rest.find('\n').unwrap_or(rest.len())];
            (Kind::LineRemark, line.strip_suffix('\r').unwrap_or(line).len())
        }
        '/' if rest.starts_with("/*") => (Kind::BlockRemark, block_remark(rest)),
        '(' | '[' | '{' => (Kind::Open, 1),
        ')' | ']' | '}' => (Kind::Close, 1),
        ',' => (Kind::Comma, 1),
        '"' | '\'' => (Kind::Solid, quoted(rest, letter)),
        _ if is_word(letter) => (Kind::Solid, word(rest)),
        _ => (Kind::Solid, letter.len_utf8()),
    })
}

/// The blanks that RON knows.
pub(in crate::book) fn is_blank(letter: char) -> bool {
    matches!(
        letter,
        ' ' | '\t'
            | '\n'
            | '\r'
            | '\x0B'
            | '\x0C'
            | '\u{85}'
            | '\u{200E}'
            | '\u{200F}'
            | '\u{2028}'
            | '\u{2029}'
    )
}

fn is_word(letter: char) -> bool {
    letter == '_' || letter.is_alphanumeric()
}

fn block_remark(rest: &str) -> usize {
    let mut level = 0_usize;
    let mut at = 0;
    while let Some(letter) = rest[at..].chars().next() {
        if rest[at..].starts_with("/*") {
            level += 1;
            at += 2;
        } else if rest[at..].starts_with("*/") {
            level -= 1;
            at += 2;
            if level == 0 {
                break;
            }
        } else {
            at += letter.len_utf8();
        }
    }
    at
}

/// The length of a quoted text or letter that starts here.
fn quoted(rest: &str, quote: char) -> usize {
    let mut letters = rest.char_indices().skip(1).peekable();
    if quote == '\'' && letters.peek().is_some_and(|(_, letter)| *letter != '\\') {
        letters.next();
    }
    while let Some((index, letter)) = letters.next() {
        if letter == '\\' {
            letters.next();
        } else if letter == quote {
            return index + 1;
        }
    }
    rest.len()
}

/// The length of a word or number, or of the quoted text that a prefix such as `r#` starts.
fn word(rest: &str) -> usize {
    let length = rest.find(|c| !is_word(c)).unwrap_or(rest.len());
    let after = &rest[length..];
    match &rest[..length] {
        "b" if after.starts_with('"') => length + quoted(after, '"'),
        "b" if after.starts_with('\'') => length + quoted(after, '\''),
        "r" | "br" => {
            let hashes = after.len() - after.trim_start_matches('#').len();
            if after[hashes..].starts_with('"') {
                let inside = length + hashes + 1;
                let close = format!("\"{}", "#".repeat(hashes));
                rest[inside..].find(&close).map_or(rest.len(), |at| inside + at + close.len())
            } else {
                length
            }
        }
        _ => length,
    }
}

/// A part of a text without the blanks and remarks around it; empty, at its start, if there is nothing else.
pub(in crate::book) fn solid(text: &str, within: Range<usize>) -> Range<usize> {
    let mut solid = tokens(text, within.clone()).filter(|t| !t.kind.is_between());
    let Some(first) = solid.next() else { return within.start..within.start };
    let end = solid.last().map_or(first.bytes.end, |last| last.bytes.end);
    first.bytes.start..end
}

/// The byte of the first thing that is no blank and no remark, or the end.
pub(in crate::book) fn after_between(text: &str, within: Range<usize>) -> usize {
    tokens(text, within.clone()).find(|t| !t.kind.is_between()).map_or(within.end, |t| t.bytes.start)
}

/// The end of what stands on the rest of a line, if nothing but blanks and remarks does; else the start.
pub(in crate::book) fn end_of_line(text: &str, within: Range<usize>) -> usize {
    tokens(text, within.clone())
        .find(|t| t.kind == Kind::Break || !t.kind.is_between())
        .filter(|t| t.kind == Kind::Break)
        .map_or(within.start, |t| t.bytes.start)
}

/// The remarks of a text, in order.
pub(in crate::book) fn remarks(text: &str) -> Vec<&str> {
    tokens(text, 0..text.len()).filter(|t| t.kind.is_remark()).map(|t| &text[t.bytes]).collect()
}

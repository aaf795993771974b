//! Where the fields of a struct stand in a text, and what stands between them.

use std::ops::Range;

use super::fault::{LeafFault, LeafProblem};
use super::token::{self, Kind, tokens};
use crate::book::list::{Fields, options, range_in};

/// The most bytes of a record's text.
pub(in crate::book) const MOST_RECORD_BYTES: usize = 64 * 1024;
/// How deep brackets may stand in one another.
const MOST_DEEP: usize = 32;

/// A struct in parentheses: every byte of it belongs to a bracket, a field or what stands at its start or end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::book) struct Body {
    /// With its parentheses.
    pub(in crate::book) bytes: Range<usize>,
    /// Where the rest of the opening line ends and the first field's own bytes begin.
    pub(in crate::book) start: usize,
    /// The fields, in order.
    pub(in crate::book) fields: Vec<Field>,
    /// Where the last field's own bytes end.
    pub(in crate::book) tail: usize,
}

/// A field. If what stands before its name has a line break, it starts with one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::book) struct Field {
    pub(in crate::book) label: String,
    /// Where its own bytes begin: with blanks and remarks before its name.
    pub(in crate::book) lead: usize,
    pub(in crate::book) name: Range<usize>,
    pub(in crate::book) value: Range<usize>,
    pub(in crate::book) comma: Option<usize>,
    /// Where its own bytes end: after the remarks on the rest of its line.
    pub(in crate::book) end: usize,
    /// The fields of its value, if that is a struct in parentheses.
    pub(in crate::book) inner: Option<Body>,
}

impl Field {
    /// What stands before its name.
    pub(in crate::book) fn lead_in<'t>(&self, text: &'t str) -> &'t str {
        &text[self.lead..self.name.start]
    }

    /// What stands from its name to its value, the colon in it.
    pub(in crate::book) fn colon_in<'t>(&self, text: &'t str) -> &'t str {
        &text[self.name.end..self.value.start]
    }

    /// What stands between its value and its comma.
    pub(in crate::book) fn gap_in<'t>(&self, text: &'t str) -> &'t str {
        &text[self.value.end..self.comma.unwrap_or(self.value.end)]
    }

    /// What stands after it on its last line.
    pub(in crate::book) fn trail_in<'t>(&self, text: &'t str) -> &'t str {
        &text[self.comma.map_or(self.value.end, |comma| comma + 1)..self.end]
    }

    /// Whether its name starts on a line of its own.
    pub(in crate::book) fn starts_line(&self, text: &str) -> bool {
        starts_with_break(self.lead_in(text))
    }
}

impl Body {
    /// The field of a name.
    pub(in crate::book) fn field(&self, label: &str) -> Option<&Field> {
        self.fields.iter().find(|f| f.label == label)
    }

    /// What stands on the rest of the opening line.
    pub(in crate::book) fn opening_in<'t>(&self, text: &'t str) -> &'t str {
        &text[self.bytes.start + 1..self.start]
    }

    /// What stands before the closing parenthesis.
    pub(in crate::book) fn tail_in<'t>(&self, text: &'t str) -> &'t str {
        &text[self.tail..self.bytes.end - 1]
    }

    /// Reads the only value of a text, which must be a struct.
    pub(in crate::book) fn read(text: &str) -> Result<Self, LeafFault> {
        if text.len() > MOST_RECORD_BYTES {
            let problem = LeafProblem::TooLarge { bytes: text.len(), most: MOST_RECORD_BYTES };
            return Err(LeafFault::new(text, MOST_RECORD_BYTES..text.len(), problem));
        }
        check_depth(text)?;
        let start = text.len() - unmarked(text).len();
        let bytes = token::solid(text, start..text.len());
        if !text[bytes.clone()].starts_with('(') {
            return Err(LeafFault::new(text, bytes, LeafProblem::NotAStruct));
        }
        // The whole text, so that what follows the struct is seen.
        let whole = unmarked(text);
        let fields = options()
            .from_str::<Fields<'_>>(whole)
            .map_err(|e| LeafFault::of_text(text, start, whole, &e))?;
        Self::of(text, bytes, fields)
    }

    fn of(text: &str, bytes: Range<usize>, found: Fields<'_>) -> Result<Self, LeafFault> {
        let close = bytes.end - 1;
        let start = token::end_of_line(text, bytes.start + 1..close);
        let mut at = start;
        let mut fields: Vec<Field> = Vec::new();
        for (label, raw) in found.0 {
            let lead = at;
            let name_start = token::after_between(text, lead..close);
            let value = token::solid(text, range_in(text, raw));
            let name_length =
                text[name_start..value.start].find(|c| c == ':' || c == '/' || token::is_blank(c));
            let name = name_start..name_length.map_or(value.start, |length| name_start + length);
            if fields.iter().any(|f| f.label == label) {
                return Err(LeafFault::new(text, name, LeafProblem::Twice { name: label }));
            }
            let next = token::after_between(text, value.end..close);
            let comma = text[next..close].starts_with(',').then_some(next);
            let end = token::end_of_line(text, comma.map_or(value.end, |comma| comma + 1)..close);
            let inner = Self::of_value(text, value.clone())?;
            fields.push(Field { label, lead, name, value, comma, end, inner });
            at = end;
        }
        Ok(Self { bytes, start, fields, tail: at })
    }

    /// The fields of a value, if it is a struct in parentheses.
    fn of_value(text: &str, bytes: Range<usize>) -> Result<Option<Self>, LeafFault> {
        let value = &text[bytes.clone()];
        if !value.starts_with('(') {
            return Ok(None);
        }
        match options().from_str::<Fields<'_>>(value) {
            Ok(fields) => Self::of(text, bytes, fields).map(Some),
            // A tuple.
            Err(_) => Ok(None),
        }
    }
}

/// A text without the mark of byte order that some editors put at the start of a file.
pub(in crate::book) fn unmarked(text: &str) -> &str {
    text.strip_prefix('\u{feff}').unwrap_or(text)
}

/// Whether a text starts with the end of a line.
pub(in crate::book) fn starts_with_break(text: &str) -> bool {
    text.starts_with('\n') || text.starts_with("\r\n")
}

fn check_depth(text: &str) -> Result<(), LeafFault> {
    let mut depth = 0_usize;
    for token in tokens(text, 0..text.len()) {
        match token.kind {
            Kind::Open => depth += 1,
            Kind::Close => depth = depth.saturating_sub(1),
            _ => {}
        }
        if depth > MOST_DEEP {
            return Err(LeafFault::new(text, token.bytes, LeafProblem::TooDeep { most: MOST_DEEP }));
        }
    }
    Ok(())
}

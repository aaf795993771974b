//! A record's file as its own text: read and changed without losing a byte that a person wrote.

mod body;
mod fault;
mod order;
mod overlay;
#[cfg(test)]
pub(super) mod sample;
mod splice;
#[cfg(test)]
mod tests;
mod token;

use ron::value::RawValue;

pub(super) use body::{Body, Field, starts_with_break, unmarked};
pub use fault::{LeafFault, LeafProblem};
pub(super) use order::Order;
pub use overlay::overlay;
pub(super) use splice::line_break;
pub(super) use token::{Kind, remarks, tokens};

use super::list::options;
use splice::{Edit, edited, put_in, take_out};

/// Four blanks for each bracket that is open.
pub(super) const INDENT: usize = 4;
/// What the field of the format is called.
pub(super) const FORMAT_FIELD: &str = "format";

/// One record's file: `(format: 1, ingredient: (...))`, with every blank and remark of it.
///
/// A path names a field from the record inwards: `["makeup", "strength"]`.
///
/// # Limits
/// At most 64 KiB of text, and brackets at most 32 deep in one another. What the values mean is for the typed reader.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Leaf {
    text: String,
    format: u32,
    body: Body,
    /// Which field of the file is the record.
    record: usize,
    /// The fields of the record.
    inner: Body,
}

impl Leaf {
    /// The format that a new file says it has.
    pub const FORMAT: u32 = 1;

    /// Reads the text of a file.
    ///
    /// # Errors
    /// [`LeafFault`] for what is not a record's file, for a field twice and for an unfinished merge.
    pub fn parse(text: &str) -> Result<Self, LeafFault> {
        // Marks in a remark are read as RON, and nobody else would tell of them.
        if let Some(fault) = mark(text, &["<<<<<<<", ">>>>>>>"]) {
            return Err(fault);
        }
        let body = Body::read(text).map_err(|fault| mark(text, &["=======", "|||||||"]).unwrap_or(fault))?;
        let fault = |problem| LeafFault::new(text, body.bytes.clone(), problem);
        let format = body.field(FORMAT_FIELD).ok_or_else(|| fault(LeafProblem::NoFormat))?;
        let format = options()
            .from_str::<u32>(&text[format.value.clone()])
            .map_err(|_| LeafFault::new(text, format.value.clone(), LeafProblem::BadFormat))?;
        let mut records = body.fields.iter().enumerate().filter(|(_, f)| f.label != FORMAT_FIELD);
        let (record, field) = records.next().ok_or_else(|| fault(LeafProblem::NoRecord))?;
        if let Some((_, second)) = records.next() {
            let problem =
                LeafProblem::TwoRecords { first: field.label.clone(), second: second.label.clone() };
            return Err(LeafFault::new(text, second.name.clone(), problem));
        }
        let inner = field
            .inner
            .clone()
            .ok_or_else(|| LeafFault::new(text, field.value.clone(), LeafProblem::NotAStruct))?;
        Ok(Self { text: text.to_owned(), format, body, record, inner })
    }

    /// A new file in the canonical layout: a field a line, in the order given.
    ///
    /// # Errors
    /// [`LeafFault`] for a name or a value that is none, and for a field twice.
    pub fn new<N: AsRef<str>>(kind: &str, fields: &[(N, String)]) -> Result<Self, LeafFault> {
        let mut text = format!("(\n    {FORMAT_FIELD}: {},\n    {}: (\n", Self::FORMAT, named(&[kind])?);
        for (name, value) in fields {
            text.push_str(&format!("        {}: {},\n", named(&[name.as_ref()])?, one_value(value)?));
        }
        text.push_str("    ),\n)\n");
        Self::parse(&text)
    }

    /// The format that the file says it has.
    pub fn format(&self) -> u32 {
        self.format
    }

    /// The kind of record, as its field is named.
    pub fn kind(&self) -> &str {
        &self.body.fields[self.record].label
    }

    /// The record as RON, with its parentheses.
    pub fn record(&self) -> &str {
        &self.text[self.record_range()]
    }

    /// The bytes of [`Leaf::record`] in the text.
    pub fn record_range(&self) -> std::ops::Range<usize> {
        self.inner.bytes.clone()
    }

    /// The names of the record's fields, in the order of the file.
    pub fn fields(&self) -> Vec<&str> {
        self.inner.fields.iter().map(|f| f.label.as_str()).collect()
    }

    /// The value of a field, as it is written.
    pub fn get(&self, path: &[&str]) -> Option<&str> {
        let (last, parents) = path.split_last()?;
        let mut body = &self.inner;
        for name in parents {
            body = body.field(name)?.inner.as_ref()?;
        }
        body.field(last).map(|f| &self.text[f.value.clone()])
    }

    /// The whole text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Gives a field a value; every other byte stays.
    ///
    /// A new field goes in before the first that comes after it in `order`, or at the end. Nested fields may stand in
    /// `order` by their path (`makeup.strength`); fields that do not stand in it come after those that do, by name. A
    /// new field has a line of its own where its neighbours have. Structs on the way that are not there are made.
    /// Remarks inside a value that is replaced go with it: to keep them, set the fields of a struct one by one.
    ///
    /// # Errors
    /// [`LeafFault`] if `value` is not one RON value, a name is none, or a value on the way is no struct; the leaf is as
    /// it was. The place is in `value` for the first, else in the text.
    pub fn set(&mut self, path: &[&str], value: &str, order: &[&str]) -> Result<(), LeafFault> {
        named(path)?;
        let value = one_value(value)?;
        let mut body = &self.inner;
        for (depth, name) in path.iter().enumerate() {
            let rest = &path[depth + 1..];
            let Some(field) = body.field(name) else {
                let order = Order(order);
                let labels = body.fields.iter().map(|f| f.label.as_str());
                let index = order.place(&path[..depth].join("."), labels, name);
                let value = rest.iter().rev().fold(value.to_owned(), |v, name| format!("({name}: {v})"));
                let field = format!("{name}: {value}");
                let edits = put_in(&self.text, body, index, &field, INDENT * (depth + 2));
                return self.change(&edits);
            };
            if rest.is_empty() {
                let edit = Edit { bytes: field.value.clone(), text: value.to_owned() };
                return self.change(&[edit]);
            }
            body = field
                .inner
                .as_ref()
                .ok_or_else(|| LeafFault::new(&self.text, field.value.clone(), LeafProblem::NotAStruct))?;
        }
        Ok(())
    }

    /// Takes a field out, with its comma, the remark on the rest of its line and the remark lines directly above it.
    /// False if it is not there.
    ///
    /// A struct that this leaves empty goes too, if no remark belongs to it: so what [`Leaf::set`] made on the way goes
    /// with the field, and so does a struct that a person wrote empty.
    ///
    /// # Errors
    /// [`LeafFault`] if the text cannot be read then; the leaf is as it was.
    pub fn unset(&mut self, path: &[&str]) -> Result<bool, LeafFault> {
        let mut way: Vec<(&Body, usize)> = Vec::new();
        let mut body = Some(&self.inner);
        for name in path {
            let Some(found) = body.and_then(|b| Some((b, b.fields.iter().position(|f| f.label == *name)?)))
            else {
                return Ok(false);
            };
            way.push(found);
            body = found.0.fields[found.1].inner.as_ref();
        }
        let Some((mut body, mut index)) = way.pop() else { return Ok(false) };
        while let Some((outer, at)) = way.pop() {
            if body.fields.len() > 1 || !self.is_bare(outer, at) {
                break;
            }
            (body, index) = (outer, at);
        }
        let edits = take_out(&self.text, body, index);
        self.change(&edits).map(|()| true)
    }

    /// Whether a struct with one field has no remark but those that go with the field.
    fn is_bare(&self, outer: &Body, at: usize) -> bool {
        let field = &outer.fields[at];
        let Some(inner) = &field.inner else { return false };
        let without = edited(&self.text, &take_out(&self.text, inner, 0));
        // Only bytes inside the struct are gone, so what is outside it is as far from the end as before.
        let from_end = self.text.len() - field.end;
        let own = without.get(field.lead..without.len().saturating_sub(from_end));
        own.is_some_and(|own| remarks(own).is_empty())
    }

    fn change(&mut self, edits: &[Edit]) -> Result<(), LeafFault> {
        *self = Self::parse(&edited(&self.text, edits))?;
        Ok(())
    }

    /// The fields of the whole file.
    pub(super) fn body(&self) -> &Body {
        &self.body
    }
}

/// The path in dots, if each of its parts can be a field's name.
fn named(path: &[&str]) -> Result<String, LeafFault> {
    let is_name = |name: &&str| {
        !name.is_empty()
            && name.bytes().all(|b| b == b'_' || b.is_ascii_alphanumeric())
            && !name.starts_with(|c: char| c.is_ascii_digit())
    };
    let dotted = path.join(".");
    if !path.is_empty() && path.iter().all(is_name) {
        Ok(dotted)
    } else {
        Err(LeafFault::new(&dotted, 0..dotted.len(), LeafProblem::BadName { path: dotted.clone() }))
    }
}

/// A value without the blanks around it, if it is one RON value and nothing else.
fn one_value(value: &str) -> Result<&str, LeafFault> {
    let trimmed = value.trim_matches(token::is_blank);
    options().from_str::<&RawValue>(trimmed).map_err(|e| LeafFault::of_text(trimmed, 0, trimmed, &e))?;
    // Remarks around it and attributes before it would not be part of the value where it stands.
    if token::solid(trimmed, 0..trimmed.len()) == (0..trimmed.len()) && !trimmed.starts_with('#') {
        Ok(trimmed)
    } else {
        let problem = LeafProblem::NotAValue { found: trimmed.to_owned() };
        Err(LeafFault::new(trimmed, 0..trimmed.len(), problem))
    }
}

/// The fault of an unfinished merge, if a line starts with one of its marks.
fn mark(text: &str, marks: &[&str]) -> Option<LeafFault> {
    let mut at = 0;
    for (index, line) in text.split_inclusive('\n').enumerate() {
        let bare = line.trim_end_matches(['\n', '\r']);
        let is_mark = |mark: &&str| {
            bare.strip_prefix(*mark).is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
        };
        if marks.iter().any(is_mark) {
            let problem = LeafProblem::UnfinishedMerge { line: index + 1 };
            return Some(LeafFault::new(text, at..at + bare.len(), problem));
        }
        at += line.len();
    }
    None
}

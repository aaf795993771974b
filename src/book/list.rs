//! Reading a file that is a list of records, with every fault it has.
//!
//! The whole list is read in one go first. Only if that fails is each record read alone; a faulty field, or the
//! faulty element of a list in it, is blanked and the record read again, so that its other faults are found too.

use std::fmt;
use std::ops::Range;

use ron::Options;
use ron::error::{Position, SpannedError};
use ron::extensions::Extensions;
use ron::value::RawValue;
use serde::Deserialize;
use serde::de::{MapAccess, Visitor};

use super::draft::Draft;
use super::fault::{Fault, Place, Problem};
use super::near::nearest_word;
use super::source::Source;

/// How many faults of one record are told; the rest is likely one mistake seen many times.
const MOST_FAULTS_A_RECORD: usize = 20;

/// A record and its position in its file's list.
#[derive(Debug)]
pub(super) struct Listed<D> {
    pub(super) draft: D,
    pub(super) index: usize,
    /// Whether a field was blanked: what is missing then has been told already.
    pub(super) blanked: bool,
}

/// How RON is read everywhere: a value stands for `Some(value)`.
pub(super) fn options() -> Options {
    Options::default().with_default_extension(Extensions::IMPLICIT_SOME)
}

/// Reads a list of records. Records with faults in them come back without the faulty fields.
pub(super) fn read_list<D: Draft>(source: &Source, faults: &mut Vec<Fault>) -> Vec<Listed<D>> {
    match options().from_str::<Vec<D>>(&source.text) {
        Ok(drafts) => drafts
            .into_iter()
            .enumerate()
            .map(|(index, draft)| Listed { draft, index, blanked: false })
            .collect(),
        Err(whole) => read_one_by_one(source, &whole, faults),
    }
}

fn read_one_by_one<D: Draft>(
    source: &Source,
    whole: &SpannedError,
    faults: &mut Vec<Fault>,
) -> Vec<Listed<D>> {
    let text: &str = &source.text;
    let Ok(ranges) = record_ranges(text) else {
        faults.push(fault_of(source, 0, text, whole, None));
        return Vec::new();
    };
    let mut listed = Vec::new();
    let before = faults.len();
    for (index, range) in ranges.into_iter().enumerate() {
        listed.extend(read_record(source, range, faults).map(|(draft, blanked)| Listed {
            draft,
            index,
            blanked,
        }));
    }
    if faults.len() == before {
        faults.push(fault_of(source, 0, text, whole, None));
    }
    listed
}

/// Reads one record alone, with all its faults, and says whether fields had to be blanked; none if nothing could be read.
pub(super) fn read_record<D: Draft>(
    source: &Source,
    range: Range<usize>,
    faults: &mut Vec<Fault>,
) -> Option<(D, bool)> {
    let text: &str = &source.text;
    let start = range.start;
    let mut record = text[range].to_owned();
    let mut found = Vec::new();
    let draft = loop {
        match options().from_str::<D>(&record) {
            Ok(draft) => break Some(draft),
            Err(error) => {
                let at = byte_at(&record, error.span.start);
                found.push(fault_of(source, start, &record, &error, None));
                if found.len() >= MOST_FAULTS_A_RECORD || !blank(&mut record, at) {
                    break None;
                }
            }
        }
    };
    let blanked = !found.is_empty();
    let label = draft.as_ref().and_then(Draft::label).or_else(|| quoted_id(&text[start..]));
    for fault in &mut found {
        fault.record = label.as_ref().map(|l| format!("{} {l}", D::WHAT));
    }
    faults.append(&mut found);
    draft.map(|draft| (draft, blanked))
}

/// The byte ranges of the records of a list.
pub(super) fn record_ranges(text: &str) -> Result<Vec<Range<usize>>, SpannedError> {
    let records = options().from_str::<Vec<&RawValue>>(text)?;
    Ok(records.into_iter().map(|r| range_in(text, r)).collect())
}

/// The bytes that a raw value takes in the text it was read from, blanks around it left out.
pub(super) fn range_in(text: &str, value: &RawValue) -> Range<usize> {
    let all = value.get_ron();
    let trimmed = all.trim();
    let start = trimmed.as_ptr() as usize - text.as_ptr() as usize;
    start..start + trimmed.len()
}

fn quoted_id(record: &str) -> Option<String> {
    let key = ["id:", "of:"].iter().filter_map(|k| record.find(k)).min()?;
    let rest = record[key + 3..].trim_start().strip_prefix('"')?;
    rest.split_once('"').map(|(id, _)| id.to_owned()).filter(|id| id.len() <= 64)
}

pub(super) fn byte_at(text: &str, position: Position) -> usize {
    let line_start: usize =
        text.split_inclusive('\n').take(position.line.saturating_sub(1)).map(str::len).sum();
    let line = &text[line_start.min(text.len())..];
    line_start
        + line.char_indices().nth(position.col.saturating_sub(1)).map_or(line.len(), |(index, _)| index)
}

fn fault_of(
    source: &Source,
    start: usize,
    text: &str,
    error: &SpannedError,
    record: Option<String>,
) -> Fault {
    let from = start + byte_at(text, error.span.start);
    let to = start + byte_at(text, error.span.end);
    let problem = match &error.code {
        ron::Error::NoSuchStructField { expected, found, .. } => Problem::UnknownField {
            found: found.clone(),
            allowed: expected.to_vec(),
            nearest: nearest_word(found, expected.iter().copied()),
        },
        ron::Error::NoSuchEnumVariant { expected, found, .. } => Problem::UnknownWord {
            found: found.clone(),
            allowed: expected.to_vec(),
            nearest: nearest_word(found, expected.iter().copied()),
        },
        other => Problem::Text(other.to_string()),
    };
    Fault { file: source.path.clone(), place: Some(Place::in_text(&source.text, from..to)), record, problem }
}

/// The fields of any struct, each with the text of its value.
pub(super) struct Fields<'a>(pub(super) Vec<(String, &'a RawValue)>);

impl<'de> Deserialize<'de> for Fields<'de> {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Reader;
        impl<'de> Visitor<'de> for Reader {
            type Value = Fields<'de>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a record in parentheses")
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Fields<'de>, A::Error> {
                let mut fields = Vec::new();
                while let Some(key) = map.next_key::<Key>()? {
                    fields.push((key.0, map.next_value()?));
                }
                Ok(Fields(fields))
            }
        }
        deserializer.deserialize_struct("", &[], Reader)
    }
}

/// A field's name, whatever it is.
pub(super) struct Key(pub(super) String);

impl<'de> Deserialize<'de> for Key {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Reader;
        impl Visitor<'_> for Reader {
            type Value = Key;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a field's name")
            }

            fn visit_str<E: serde::de::Error>(self, name: &str) -> Result<Key, E> {
                Ok(Key(name.to_owned()))
            }
        }
        deserializer.deserialize_identifier(Reader)
    }
}

/// Blanks the field of the record in which byte `at` lies, or the element of it if the field is a list. False if
/// there is none to blank.
fn blank(record: &mut String, at: usize) -> bool {
    let Some(range) = blamed(record, at) else { return false };
    let mut bytes = std::mem::take(record).into_bytes();
    for byte in &mut bytes[range] {
        if *byte != b'\n' {
            *byte = b' ';
        }
    }
    match String::from_utf8(bytes) {
        Ok(text) => *record = text,
        Err(_) => return false,
    }
    true
}

fn blamed(record: &str, at: usize) -> Option<Range<usize>> {
    let Fields(fields) = options().from_str(record).ok()?;
    let mut from = record.find('(')? + 1;
    for (name, value) in fields {
        let value = range_in(record, value);
        let start = from + record[from..value.start].find(name.as_str())?;
        let end = comma_after(record, value.end);
        if at < end || (start..end).contains(&at) {
            if value.contains(&at)
                && record[value.clone()].starts_with('[')
                && let Ok(elements) = record_ranges(&record[value.clone()])
                && let Some(element) = elements
                    .into_iter()
                    .map(|e| value.start + e.start..comma_after(record, value.start + e.end))
                    .find(|e| e.contains(&at))
            {
                return Some(element);
            }
            return (at >= start).then_some(start..end);
        }
        from = end;
    }
    None
}

/// The byte after the comma that follows, or the same byte if none does.
fn comma_after(text: &str, end: usize) -> usize {
    let rest = &text[end..];
    let skipped = rest.len() - rest.trim_start().len();
    if rest[skipped..].starts_with(',') { end + skipped + 1 } else { end }
}

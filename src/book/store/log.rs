//! The lines of a history file, and its tail.

use std::fmt;
use std::io;
use std::path::Path;
use std::str::FromStr;

use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::disk::{Disk, FileKind};
use super::path::RecordPath;

/// How much of a history's end is looked at first.
const TAIL_BYTES: u64 = 64 * 1024;

/// Which clone of the book wrote something: eight hexadecimal digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Writer(pub(super) u32);

impl fmt::Display for Writer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:08x}", self.0)
    }
}

impl FromStr for Writer {
    type Err = NotAChangeId;

    fn from_str(text: &str) -> Result<Self, NotAChangeId> {
        let digit = |b: u8| b.is_ascii_digit() || (b'a'..=b'f').contains(&b);
        let good = text.len() == 8 && text.bytes().all(digit);
        u32::from_str_radix(text, 16)
            .ok()
            .filter(|_| good)
            .map(Self)
            .ok_or_else(|| NotAChangeId { found: text.to_owned() })
    }
}

/// The name of a change: who wrote it, and its number there, like `1f0c9a3e-17`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ChangeId {
    /// The clone of the book.
    pub writer: Writer,
    /// Its number there, from 1.
    pub number: u64,
}

/// Text that names no change.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("'{found}' does not name a change, like 1f0c9a3e-17")]
pub struct NotAChangeId {
    /// What was found.
    pub found: String,
}

impl fmt::Display for ChangeId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{}", self.writer, self.number)
    }
}

impl FromStr for ChangeId {
    type Err = NotAChangeId;

    fn from_str(text: &str) -> Result<Self, NotAChangeId> {
        let none = || NotAChangeId { found: text.to_owned() };
        let (writer, digits) = text.split_once('-').ok_or_else(none)?;
        let writer = writer.parse().map_err(|_| none())?;
        let number: u64 = digits.parse().map_err(|_| none())?;
        // One text for one change: no sign, no leading nought.
        if number.to_string() == digits { Ok(Self { writer, number }) } else { Err(none()) }
    }
}

impl Serialize for ChangeId {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for ChangeId {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        String::deserialize(deserializer)?.parse().map_err(D::Error::custom)
    }
}

/// What a change was for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Turn {
    /// A change of its own.
    Did,
    /// It undid another.
    Undid(ChangeId),
    /// It did an undone one again.
    Redid(ChangeId),
}

/// One file in a change: none where it is not there.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FileChange {
    /// Which.
    pub path: RecordPath,
    /// Its text before.
    pub before: Option<String>,
    /// Its text after.
    pub after: Option<String>,
}

/// A change as it is recorded.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Change {
    pub id: ChangeId,
    pub at: String,
    pub who: String,
    pub what: String,
    pub turn: Turn,
    pub files: Vec<FileChange>,
}

/// A line of a history.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Line {
    /// What is to be changed.
    Change(Change),
    /// All its files are in place.
    Done(ChangeId),
    /// It was taken back.
    NotDone(ChangeId),
}

impl Line {
    /// The line with its checksum and its end.
    pub(super) fn encoded(&self) -> io::Result<String> {
        let text = serde_json::to_string(self)?;
        Ok(format!("{:08x} {text}\n", crc32fast::hash(text.as_bytes())))
    }

    /// A line without its end; none if it is not whole.
    pub(super) fn decoded(bytes: &[u8]) -> Option<Self> {
        let text = std::str::from_utf8(bytes).ok()?;
        let (sum, text) = text.split_once(' ')?;
        let good = sum.len() == 8 && u32::from_str_radix(sum, 16).ok()? == crc32fast::hash(text.as_bytes());
        if good { serde_json::from_str(text).ok() } else { None }
    }

    fn id(&self) -> ChangeId {
        match self {
            Self::Change(change) => change.id,
            Self::Done(id) | Self::NotDone(id) => *id,
        }
    }
}

/// What a stretch of a history holds.
#[derive(Debug, Default)]
pub(super) struct Stretch {
    /// The whole lines, each with its place in the file.
    pub lines: Vec<(u64, Line)>,
    /// Places of lines that end and are not whole.
    pub bad: Vec<u64>,
    /// The end of the last line that is whole or ends.
    pub end: u64,
    /// Whether something that is no whole line follows.
    pub torn: bool,
    /// Whether the last line is whole but its end is missing.
    pub open: bool,
}

impl Stretch {
    /// The lines in bytes that stand at a place of the file.
    pub(super) fn of(bytes: &[u8], at: u64) -> Self {
        let mut stretch = Self { end: at, ..Self::default() };
        for piece in bytes.split_inclusive(|&b| b == b'\n') {
            let place = stretch.end;
            let after = place + piece.len() as u64;
            let (text, ended) = piece.strip_suffix(b"\n").map_or((piece, false), |text| (text, true));
            match Line::decoded(text) {
                Some(line) => {
                    stretch.lines.push((place, line));
                    stretch.open = !ended;
                }
                None if !ended => {
                    stretch.torn = true;
                    break;
                }
                // An empty line is what is left where a missing end was put in twice.
                None if text.is_empty() => {}
                None => stretch.bad.push(place),
            }
            stretch.end = after;
        }
        stretch
    }
}

/// The most bytes of a line that is looked for: a change of a hundred thousand records is a fifth of it.
const MOST_LINE_BYTES: u64 = 256 * 1024 * 1024;

/// The end of a history file.
#[derive(Debug, Default)]
pub(super) struct Tail {
    /// The last lines.
    pub stretch: Stretch,
    /// The highest number seen.
    pub number: u64,
}

impl Tail {
    /// Reads the tail of a file, which need not be there.
    pub(super) fn of(disk: &impl Disk, file: &Path) -> io::Result<Self> {
        let bytes = match disk.facts(file) {
            Ok(facts) if facts.kind == FileKind::File => facts.bytes,
            Ok(_) => return Err(io::Error::new(io::ErrorKind::IsADirectory, "this is not a plain file")),
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Self::default()),
            Err(error) => return Err(error),
        };
        let mut window = TAIL_BYTES;
        loop {
            let from = bytes.saturating_sub(window);
            let read = disk.read_from(file, from)?;
            // The first line is probably cut by the window.
            let skipped =
                if from == 0 { Some(0) } else { read.iter().position(|&b| b == b'\n').map(|n| n + 1) };
            if let Some(skipped) = skipped {
                let stretch = Stretch::of(&read[skipped..], from + skipped as u64);
                if from == 0 || !stretch.lines.is_empty() {
                    let number = stretch.lines.iter().map(|(_, line)| line.id().number).max().unwrap_or(0);
                    return Ok(Self { stretch, number });
                }
            }
            if window >= MOST_LINE_BYTES.min(bytes) {
                let why = "no line of a history was found in the last 256 MiB of it";
                return Err(io::Error::new(io::ErrorKind::InvalidData, why));
            }
            window = window.saturating_mul(8);
        }
    }

    /// The last change, if no line says what became of it, and its place.
    pub(super) fn pending(&self) -> Option<(u64, &Change)> {
        match self.stretch.lines.last() {
            Some((place, Line::Change(change))) => Some((*place, change)),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn id(number: u64) -> ChangeId {
        ChangeId { writer: Writer(0x1f0c_9a3e), number }
    }

    #[test]
    fn ids_have_one_text() {
        assert_eq!("1f0c9a3e-17".parse::<ChangeId>().unwrap(), id(17));
        assert_eq!(id(17).to_string(), "1f0c9a3e-17");
        for bad in
            ["", "1f0c9a3e", "1f0c9a3e-", "1f0c9a3e-+1", "1f0c9a3e-01", "1F0C9A3E-1", "+f0c9a3e-1", "x-1"]
        {
            assert!(bad.parse::<ChangeId>().is_err(), "{bad}");
        }
    }

    #[test]
    fn a_line_survives_and_any_other_byte_is_seen() {
        let file = FileChange {
            path: RecordPath::new("specs", "a").unwrap(),
            before: None,
            after: Some("one\r\ntwo \u{2028} \"\\\0".to_owned()),
        };
        let change = Change {
            id: id(3),
            at: String::new(),
            who: "the\nbar".to_owned(),
            what: String::new(),
            turn: Turn::Undid(id(2)),
            files: vec![file],
        };
        let line = Line::Change(change);
        let text = line.encoded().unwrap();
        assert_eq!(text.matches('\n').count(), 1);
        let bytes = text.trim_end_matches('\n').as_bytes();
        assert_eq!(Line::decoded(bytes), Some(line));
        for place in 0..bytes.len() {
            let mut other = bytes.to_vec();
            other[place] ^= 1;
            assert_eq!(Line::decoded(&other), None, "{place}");
            assert_eq!(Line::decoded(&bytes[..place]), None, "{place}");
        }
    }

    #[test]
    fn a_stretch_tells_whole_bad_torn_and_open_lines_apart() {
        let line = Line::Done(id(1)).encoded().unwrap();
        let stretch = |text: &str| Stretch::of(text.as_bytes(), 100);
        let whole = stretch(&format!("{line}{line}"));
        assert_eq!(
            (whole.lines.len(), whole.end, whole.torn, whole.open),
            (2, 100 + 2 * line.len() as u64, false, false)
        );
        let torn = stretch(&format!("{line}{}", &line[..9]));
        assert_eq!(
            (torn.lines.len(), torn.end, torn.torn, torn.open),
            (1, 100 + line.len() as u64, true, false)
        );
        let open = stretch(line.trim_end());
        assert_eq!((open.lines.len(), open.torn, open.open), (1, false, true));
        let bad = stretch(&format!("rubbish\n\n{line}"));
        assert_eq!((bad.lines.len(), bad.bad, bad.torn), (1, vec![100], false));
    }
}

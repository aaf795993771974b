//! What is wrong with a file of a pack, where, and what would be right.

use std::ops::Range;

use thiserror::Error;

use crate::measure::Concentration;

/// A place in a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// Line, from 1.
    pub line: usize,
    /// Column, from 1, in characters.
    pub column: usize,
    /// The bytes of the file that are meant.
    pub bytes: Range<usize>,
}

impl Place {
    /// The place of a byte range in a text.
    pub fn in_text(text: &str, bytes: Range<usize>) -> Self {
        let start = floor_boundary(text, bytes.start);
        let end = floor_boundary(text, bytes.end).max(start);
        let before = &text[..start];
        let line = 1 + before.matches('\n').count();
        let column = 1 + before[before.rfind('\n').map_or(0, |n| n + 1)..].chars().count();
        Self { line, column, bytes: start..end }
    }
}

fn floor_boundary(text: &str, mut index: usize) -> usize {
    index = index.min(text.len());
    while !text.is_char_boundary(index) {
        index -= 1;
    }
    index
}

/// One fault of one file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// The file as a person knows it.
    pub file: String,
    /// Where in it; none for faults of the whole file.
    pub place: Option<Place>,
    /// The record, as a person knows it: "ingredient quince".
    pub record: Option<String>,
    /// What is wrong.
    pub problem: Problem,
}

impl Fault {
    /// A fault of a whole file.
    pub fn of_file(file: String, problem: Problem) -> Self {
        Self { file, place: None, record: None, problem }
    }
}

/// What can be wrong.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum Problem {
    /// The folder is not there.
    #[error("there is no such folder")]
    NotAFolder,
    /// The pack has no head.
    #[error("a pack needs a pack.ron that says (format: 1, name: \"...\")")]
    NoHead,
    /// A format of another version.
    #[error("format {found} is not known here: this version reads format {known}")]
    OtherFormat {
        /// What the head says.
        found: u32,
        /// What is read here.
        known: u32,
    },
    /// A file whose name is not its record's.
    #[error("the file holds the {what} {record}: its name should be {wanted}")]
    Misnamed {
        /// ingredient, template.
        what: &'static str,
        /// The record in it.
        record: String,
        /// What it should be called.
        wanted: String,
    },
    /// A record in a folder of others.
    #[error("the file holds {found}: in this folder each holds {wanted}")]
    WrongFolder {
        /// What is in it.
        found: String,
        /// What should be.
        wanted: &'static str,
        /// Where it belongs, if it is a kind that is known.
        folder: Option<&'static str>,
    },
    /// A bond that says nothing.
    #[error("the bond is missing, and no pack says how the two get on: goes(0.7), or clashes")]
    NoBond,
    /// Two versions that git could not merge, both still in the file.
    #[error("the file holds an unfinished merge: both versions stand in it from line {line} on")]
    UnfinishedMerge {
        /// Where the first mark stands.
        line: usize,
    },
    /// Records where nothing is read.
    #[error("'{name}' is not read: a pack holds {}", allowed.join(", "))]
    NotRead {
        /// The file or folder.
        name: String,
        /// What a pack holds.
        allowed: Vec<&'static str>,
        /// The nearest, if near.
        nearest: Option<&'static str>,
    },
    /// An ending in capitals.
    #[error("the file is not read: end its name in .ron")]
    Ending,
    /// A folder or device in a file's place.
    #[error("this is not a plain file")]
    NotAFile,
    /// Too large to read.
    #[error("the file is {bytes} bytes: at most {most} are read")]
    TooLarge {
        /// Its size.
        bytes: u64,
        /// The most that is read.
        most: u64,
    },
    /// The system refuses.
    #[error("the file cannot be read: {why}")]
    Unreadable {
        /// The system's words.
        why: String,
    },
    /// Not text.
    #[error("the file is not UTF-8 text: byte 0x{byte:02x} on line {line}")]
    NotUtf8 {
        /// The line.
        line: usize,
        /// The first bad byte.
        byte: u8,
    },
    /// RON that cannot be read, or a value that does not fit.
    #[error("{0}")]
    Text(String),
    /// A field that does not exist.
    #[error("there is no field '{found}': allowed are {}", allowed.join(", "))]
    UnknownField {
        /// What was found.
        found: String,
        /// What there is.
        allowed: Vec<&'static str>,
        /// The nearest, if near.
        nearest: Option<&'static str>,
    },
    /// A word outside its vocabulary.
    #[error("'{found}' is not known here: allowed are {}", allowed.join(", "))]
    UnknownWord {
        /// What was found.
        found: String,
        /// What there is.
        allowed: Vec<&'static str>,
        /// The nearest, if near.
        nearest: Option<&'static str>,
    },
    /// Fields that must be there.
    #[error("missing: {}", fields.join(", "))]
    Missing {
        /// Which.
        fields: Vec<&'static str>,
    },
    /// A reference to nothing.
    #[error("there is no {what} '{id}'")]
    UnknownId {
        /// ingredient, caution.
        what: &'static str,
        /// What was found.
        id: String,
        /// The nearest id, if near.
        nearest: Option<String>,
    },
    /// The same id again.
    #[error("the {what} '{id}' is already in {first}")]
    Duplicate {
        /// ingredient, template, caution.
        what: &'static str,
        /// The id.
        id: String,
        /// File and line of the first.
        first: String,
    },
    /// A name that leads to two records.
    #[error("the name '{name}' already means {other}: a name or alias may lead to one {what} only")]
    NameTaken {
        /// ingredient, template.
        what: &'static str,
        /// The name.
        name: String,
        /// The record that has it.
        other: String,
    },
    /// More glucose and fructose than there is sugar.
    #[error(
        "glucose and fructose are {kinds:.1} together, the sugar is {sugar:.1}: they are parts of it, not on top of it"
    )]
    SugarKinds {
        /// Both.
        kinds: Concentration,
        /// All kinds of sugar.
        sugar: Concentration,
    },
    /// More acid of the kinds named than there is acid.
    #[error(
        "the kinds of acid are {kinds:.1} together, the acid is {acid:.1}: they are parts of it, all as citric"
    )]
    AcidKinds {
        /// All kinds named.
        kinds: Concentration,
        /// All the acid.
        acid: Concentration,
    },
    /// A spread that does not hold the makeup's own figure.
    #[error("the {what} of the makeup lies outside its spread, or the spread's least is above its most")]
    Spread {
        /// Strength, sugar or acid.
        what: &'static str,
    },
    /// Least and most juice that do not hold the usual between them.
    #[error("the juice a piece gives lies outside its least and most: least, ml, most rise in that order")]
    Juice,
    /// A preparation of what has no makeup.
    #[error("what it makes has no makeup: a preparation is of something that is poured or dissolved")]
    PrepWithoutMakeup,
    /// Too many or too few lines or steps.
    #[error("{found} {field}: a preparation has 1 to {most}")]
    PrepCount {
        /// Lines or steps.
        field: &'static str,
        /// How many there are.
        found: usize,
        /// How many there may be.
        most: usize,
    },
    /// Something made from itself.
    #[error("'{id}' is made from itself: name what it is made from")]
    MadeFromItself {
        /// The ingredient.
        id: String,
    },
    /// An ingredient paired with itself.
    #[error("'{id}' is paired with itself: a bond joins two different ingredients")]
    WithItself {
        /// The ingredient.
        id: String,
    },
    /// A pair written twice.
    #[error("the pair '{a}' and '{b}' is already in {first}: write a pair once, on either sheet")]
    PairTwice {
        /// One.
        a: String,
        /// The other.
        b: String,
        /// File and line of the first.
        first: String,
    },
    /// Makeup or season without an origin, or an origin for nothing.
    #[error("{0}")]
    Origin(&'static str),
    /// Diet marks that its other facts contradict.
    #[error("marked {diet}, but {fact}")]
    Diet {
        /// The mark.
        diet: &'static str,
        /// What contradicts it.
        fact: &'static str,
    },
    /// Text that could harm a screen, or is empty or endless.
    #[error("{field} {why}")]
    BadText {
        /// Which field.
        field: &'static str,
        /// What is wrong with it.
        why: String,
    },
    /// A slot that nothing can fill as it stands.
    #[error("slot {slot} ({role}) can't be filled: {why}")]
    Slot {
        /// From 1.
        slot: usize,
        /// Its role.
        role: &'static str,
        /// What is wrong.
        why: String,
    },
    /// A template without slots.
    #[error("a template needs at least one slot and at most {most}; this has {found}")]
    SlotCount {
        /// How many there are.
        found: usize,
        /// How many there may be.
        most: usize,
    },
}

impl Problem {
    /// What to do about it, if more can be said than the message says.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::UnknownField { nearest: Some(near), .. }
            | Self::UnknownWord { nearest: Some(near), .. }
            | Self::NotRead { nearest: Some(near), .. } => Some(format!("did you mean {near}?")),
            Self::UnknownId { nearest: Some(near), .. } => Some(format!("did you mean '{near}'?")),
            Self::UnknownId { what, nearest: None, .. } => {
                Some(format!("add the {what} as a record, or take the reference out"))
            }
            Self::NotUtf8 { .. } => Some("save the file as UTF-8".to_owned()),
            Self::UnfinishedMerge { .. } => {
                Some("keep what is right of the two, and take out the lines of the marks".to_owned())
            }
            Self::Text(why) if why.starts_with("Expected ") => {
                Some("a comma, a quote or a bracket is missing or too much, there or just before".to_owned())
            }
            Self::WrongFolder { folder: Some(folder), .. } => Some(format!("move it to {folder}/")),
            Self::Missing { .. } => Some("docs/format.md shows a whole record".to_owned()),
            Self::OtherFormat { found, known } if found > known => {
                Some("use a newer version of the program for this pack".to_owned())
            }
            _ => None,
        }
    }
}

//! Records made up for tests, with remarks at every place where they can stand.

use proptest::prelude::*;

/// Names of fields; the canonical order is another than that of the letters.
pub(in crate::book) const NAMES: [&str; 8] =
    ["id", "name", "aliases", "makeup", "loudness", "season", "facets", "origin"];

/// Values that are neither a struct nor a list of words, and hard to read.
const VALUES: [&str; 14] = [
    "0.4",
    "-26",
    "house",
    "\"damson gin\"",
    "\"a // b, (c: \\\" [\"",
    "r#\"raw \" ) /* \"#",
    "'\"'",
    "'\\''",
    "months(peak: [oct], edge: [sep, nov])",
    "{sweet: 0.2, sour: 0.5,}",
    "(1, \"two\", 3.0)",
    "[(of: \"sloe\", amount: 2), (of: \"gin\", amount: 3)]",
    "published(\"page 4\")",
    "[ 0.1, // inside\n 0.2 ]",
];

#[derive(Debug, Clone)]
pub(in crate::book) enum Value {
    Raw(&'static str),
    /// Ids.
    List(Vec<String>),
    Struct(Record),
}

/// A field, with remarks above it, after its colon, before its comma and after that.
#[derive(Debug, Clone)]
pub(in crate::book) struct Entry {
    pub(in crate::book) name: &'static str,
    pub(in crate::book) value: Value,
    pub(in crate::book) above: Vec<String>,
    pub(in crate::book) spaced: bool,
    pub(in crate::book) colon: Option<String>,
    pub(in crate::book) gap: Option<String>,
    pub(in crate::book) trail: Option<String>,
}

#[derive(Debug, Clone)]
pub(in crate::book) struct Record {
    pub(in crate::book) entries: Vec<Entry>,
    pub(in crate::book) inline: bool,
    pub(in crate::book) last_comma: bool,
    pub(in crate::book) opening: Option<String>,
    pub(in crate::book) tail: Vec<String>,
}

/// A file: remarks, the record, remarks.
#[derive(Clone)]
pub(in crate::book) struct File {
    pub(in crate::book) head: Vec<String>,
    pub(in crate::book) record: Record,
    pub(in crate::book) foot: Vec<String>,
    pub(in crate::book) crlf: bool,
}

pub(in crate::book) fn value() -> impl Strategy<Value = Value> {
    prop_oneof![
        3 => prop::sample::select(VALUES.as_slice()).prop_map(Value::Raw),
        2 => prop::collection::btree_set("[a-e]", 0..4)
            .prop_map(|ids| Value::List(ids.into_iter().collect())),
    ]
}

fn deep_value() -> impl Strategy<Value = Value> {
    value().prop_recursive(2, 8, 3, |inner| record(inner.boxed(), 3).prop_map(Value::Struct))
}

fn remark() -> impl Strategy<Value = Option<String>> {
    prop_oneof![4 => Just(None), 1 => "[a-z]{6}".prop_map(|word| Some(format!("b-{word}")))]
}

fn remarks() -> impl Strategy<Value = Vec<String>> {
    prop_oneof![
        3 => Just(Vec::new()),
        1 => prop::collection::vec("[a-z]{6}".prop_map(|word| format!("b-{word}")), 1..3),
    ]
}

fn record(value: BoxedStrategy<Value>, most: usize) -> impl Strategy<Value = Record> {
    let names = prop::sample::subsequence(NAMES.as_slice(), 0..=most);
    let entry = (value, remarks(), any::<bool>(), remark(), remark(), remark());
    let entries =
        (names, prop::collection::vec(entry, most), any::<bool>()).prop_map(|(names, parts, turned)| {
            let mut entries: Vec<Entry> = names
                .into_iter()
                .zip(parts)
                .map(|(name, (value, above, spaced, colon, gap, trail))| Entry {
                    name,
                    value,
                    above,
                    spaced,
                    colon,
                    gap,
                    trail,
                })
                .collect();
            if turned {
                entries.reverse();
            }
            entries
        });
    (entries, any::<bool>(), any::<bool>(), remark(), remarks()).prop_map(
        |(entries, inline, last_comma, opening, tail)| Record { entries, inline, last_comma, opening, tail },
    )
}

pub(in crate::book) fn file() -> impl Strategy<Value = File> {
    let crlf = prop::bool::weighted(0.1);
    (remarks(), record(deep_value().boxed(), NAMES.len()), remarks(), crlf)
        .prop_map(|(head, record, foot, crlf)| File { head, record, foot, crlf })
}

/// Arbitrary text that looks enough like a record to get far.
pub(in crate::book) fn soup() -> impl Strategy<Value = String> {
    let piece = prop::sample::select(
        [
            "(",
            ")",
            "[",
            "]",
            "{",
            "}",
            ",",
            ":",
            "\"",
            "'",
            "\\",
            "/",
            "*",
            "//",
            "/*",
            "*/",
            "\n",
            "\r\n",
            " ",
            "format",
            "1",
            "ingredient",
            "id",
            "r#",
            "b'",
            "br#\"",
            "#",
            "x",
            "é",
            "\u{2028}",
            "\u{301}",
            "(format: 1, a: (",
            "b: 1",
            "))",
            "<<<<<<< ours\n",
            "=======\n",
            ">>>>>>> theirs\n",
            "Some(",
            "_",
            "#![enable(unwrap_newtypes)]",
        ]
        .as_slice(),
    );
    prop_oneof![
        prop::collection::vec(piece, 0..24).prop_map(|pieces| pieces.concat()),
        any::<String>(),
        (file(), any::<prop::sample::Index>(), ".{0,3}").prop_map(|(file, at, junk)| {
            let mut text = file.text();
            let mut at = at.index(text.len());
            while !text.is_char_boundary(at) {
                at -= 1;
            }
            text.insert_str(at, &junk);
            text
        }),
    ]
}

impl std::fmt::Debug for File {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.text())
    }
}

impl File {
    pub(in crate::book) fn text(&self) -> String {
        let lines =
            |remarks: &[String]| -> String { remarks.iter().flat_map(|r| ["// ", r, "\n"]).collect() };
        let text = format!(
            "{}(\n    format: 1,\n    ingredient: {},\n)\n{}",
            lines(&self.head),
            self.record.text(2),
            lines(&self.foot)
        );
        if self.crlf { text.replace('\n', "\r\n") } else { text }
    }
}

impl Value {
    pub(in crate::book) fn text(&self, depth: usize) -> String {
        match self {
            Self::Raw(text) => (*text).to_owned(),
            Self::List(ids) => {
                let ids: Vec<String> = ids.iter().map(|id| format!("\"{id}\"")).collect();
                format!("[{}]", ids.join(", "))
            }
            Self::Struct(record) => record.text(depth + 1),
        }
    }
}

impl Record {
    fn text(&self, depth: usize) -> String {
        let block = |remark: &Option<String>| {
            remark.as_ref().map_or(String::new(), |remark| format!(" /* {remark} */"))
        };
        let line = format!("\n{}", "    ".repeat(depth));
        let mut text = "(".to_owned();
        let rest = |remark: &Option<String>| {
            if self.inline {
                block(remark)
            } else {
                remark.as_ref().map_or(String::new(), |remark| format!(" // {remark}"))
            }
        };
        text.push_str(&rest(&self.opening));
        for (index, entry) in self.entries.iter().enumerate() {
            if self.inline {
                text.push_str(if index == 0 { "" } else { " " });
                for remark in &entry.above {
                    text.push_str(&format!("/* {remark} */ "));
                }
            } else {
                text.push_str(if entry.spaced { "\n" } else { "" });
                for remark in &entry.above {
                    text.push_str(&format!("{line}// {remark}"));
                }
                text.push_str(&line);
            }
            let comma = self.last_comma || index + 1 < self.entries.len();
            text.push_str(&format!(
                "{}:{} {}{}{}{}",
                entry.name,
                block(&entry.colon),
                entry.value.text(depth),
                block(&entry.gap),
                if comma { "," } else { "" },
                rest(&entry.trail)
            ));
        }
        for remark in &self.tail {
            if self.inline {
                text.push_str(&format!(" /* {remark} */"));
            } else {
                text.push_str(&format!("{line}// {remark}"));
            }
        }
        if !self.inline {
            text.push_str(&line[..line.len() - 4]);
        }
        text + ")"
    }

    /// The paths of all values that are no struct, with the value.
    pub(in crate::book) fn values(&self) -> Vec<(Vec<&'static str>, &Value)> {
        let mut all = Vec::new();
        for entry in &self.entries {
            match &entry.value {
                Value::Struct(inner) => all.extend(inner.values().into_iter().map(|(mut path, value)| {
                    path.insert(0, entry.name);
                    (path, value)
                })),
                value => all.push((vec![entry.name], value)),
            }
        }
        all
    }

    /// The paths of all fields.
    pub(in crate::book) fn paths(&self) -> Vec<Vec<&'static str>> {
        let mut all = Vec::new();
        for entry in &self.entries {
            all.push(vec![entry.name]);
            if let Value::Struct(inner) = &entry.value {
                all.extend(inner.paths().into_iter().map(|mut path| {
                    path.insert(0, entry.name);
                    path
                }));
            }
        }
        all
    }
}

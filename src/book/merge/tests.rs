use std::collections::BTreeMap;

use proptest::prelude::*;

use super::*;
use crate::book::leaf::sample::{Entry, File, NAMES, Record, Value, file, soup, value};
use crate::book::leaf::{LeafProblem, remarks};

const ORDER: [&str; 6] = ["id", "makeup", "aliases", "loudness", "season", "origin"];

const BASE: &str = r#"(
    format: 1,
    ingredient: (
        id: "damson-gin",
        makeup: (strength: 26, sugar: 180), // measured
        aliases: ["sloe cousin", "hedge gin"],
        loudness: 0.5,
    ),
)
"#;

fn with(from: &str, to: &str) -> String {
    assert!(BASE.contains(from));
    BASE.replace(from, to)
}

/// Merges both ways, which must agree.
fn both_ways(ours: &str, theirs: &str) -> String {
    let there = merge(Some(BASE), ours, theirs, &ORDER);
    assert_eq!(there.conflicts, [""; 0], "{}", there.text);
    assert_eq!(there, merge(Some(BASE), theirs, ours, &ORDER));
    there.text
}

fn conflict(base: Option<&str>, ours: &str, theirs: &str) -> Merged {
    let merged = merge(base, ours, theirs, &ORDER);
    let fault = Leaf::parse(&merged.text).unwrap_err();
    assert!(matches!(fault.problem, LeafProblem::UnfinishedMerge { .. }));
    merged
}

#[test]
fn changes_of_two_fields_go_together() {
    let ours = with("strength: 26", "strength: 27");
    let theirs = with("180", "190").replace("0.5", "0.6").replace(", // measured", ", // weighed");
    let expected = theirs.replace("strength: 26", "strength: 27");
    assert_eq!(both_ways(&ours, &theirs), expected);
}

#[test]
fn one_side_alone_is_taken_as_it_stands() {
    let odd = "(format:1,ingredient:(/* all */ loudness:0.5 , id : \"damson-gin\"))// end";
    assert_eq!(both_ways(BASE, odd), odd);
    assert_eq!(both_ways(odd, odd), odd);
}

#[test]
fn new_fields_of_both_come_in_their_order() {
    let ours = with("        loudness", "        season: year,\n        loudness");
    let theirs = with("0.5,\n", "0.5,\n        // ours\n        origin: house,\n");
    let text = both_ways(&ours, &theirs);
    let expected = with("0.5,\n", "0.5,\n        season: year,\n        // ours\n        origin: house,\n");
    assert_eq!(text, expected);
}

#[test]
fn a_list_of_ids_is_a_set() {
    let list = |ours: &str, theirs: &str| {
        let list = |elements: &str| with("[\"sloe cousin\", \"hedge gin\"]", elements);
        let text = both_ways(&list(ours), &list(theirs));
        Leaf::parse(&text).unwrap().get(&["aliases"]).unwrap().to_owned()
    };
    assert_eq!(
        list(r#"["sloe cousin", "hedge gin", "plum"]"#, r#"["bullace", "hedge gin", "plum"]"#),
        r#"["hedge gin", "bullace", "plum"]"#
    );
    assert_eq!(list(r#"["sloe cousin"]"#, r#"["hedge gin"]"#), "[]");
    assert_eq!(
        list("[\n            \"sloe cousin\",\n        ]", r#"["sloe cousin", "hedge gin", "plum"]"#),
        "[\n            \"sloe cousin\",\n            \"plum\",\n        ]"
    );
}

#[test]
fn what_is_no_set_is_no_set() {
    let lists = |field: &str, base: &str, ours: &str, theirs: &str| {
        let file = |list: &str| format!("(format: 1, prep: ({field}: {list}))");
        merge(Some(&file(base)), &file(ours), &file(theirs), &[]).conflicts
    };
    let none: [&str; 0] = [];
    assert_eq!(lists("made_from", "[\"a\"]", "[\"a\", \"b\"]", "[\"c\", \"a\"]"), none);
    assert_eq!(lists("roles", "[sour]", "[sour, sweet]", "[]"), none);
    assert_eq!(lists("steps", "[\"a\"]", "[\"a\", \"b\"]", "[\"c\", \"a\"]"), ["steps"]);
    assert_eq!(lists("words", "[\"A b\"]", "[\"A b\", \"b\"]", "[\"c\", \"A b\"]"), ["words"]);
    assert_eq!(lists("aliases", "[\"a\", \"b\"]", "[\"b\", \"a\"]", "[\"a\", \"b\", \"c\"]"), ["aliases"]);
    assert_eq!(lists("aliases", "[\"a\"]", "[\"a\", \"b\"]", "[\"a\", /* or */ \"c\"]"), ["aliases"]);
    assert_eq!(lists("aliases", "[]", "[\"a\", \"a\"]", "[\"c\"]"), ["aliases"]);
    assert_eq!(lists("lines", "[(1)]", "[(1), (2)]", "[(1), (3)]"), ["lines"]);
    assert_eq!(lists("sizes", "[1]", "[1, 2]", "[1, 3]"), ["sizes"]);
}

#[test]
fn a_conflict_stands_at_its_field_alone() {
    let merged = conflict(Some(BASE), &with("0.5", "0.4"), &with("0.5", "0.6").replace("26", "27"));
    assert_eq!(merged.conflicts, ["loudness"]);
    let marks = "\
<<<<<<< ours
        loudness: 0.4,
=======
        loudness: 0.6,
>>>>>>> theirs
";
    assert_eq!(merged.text, with("26", "27").replace("        loudness: 0.5,\n", marks));
}

#[test]
fn a_conflict_in_a_struct_on_one_line_opens_it() {
    let merged = conflict(Some(BASE), &with("26", "24"), &with("26", "28"));
    assert_eq!(merged.conflicts, ["makeup.strength"]);
    let marks = "makeup: (
<<<<<<< ours
            strength: 24,
=======
            strength: 28,
>>>>>>> theirs
            sugar: 180,
        ), // measured";
    assert_eq!(merged.text, with("makeup: (strength: 26, sugar: 180), // measured", marks));
}

#[test]
fn what_one_took_out_and_the_other_changed_is_a_conflict() {
    let without = with("        loudness: 0.5,\n", "");
    let merged = conflict(
        Some(BASE),
        &without,
        &with("        loudness: 0.5", "        // loud\n        loudness: 0.5"),
    );
    assert_eq!(merged.conflicts, ["loudness"]);
    let marks = "\
<<<<<<< ours
=======
        // loud
        loudness: 0.5,
>>>>>>> theirs
";
    assert_eq!(merged.text, with("        loudness: 0.5,\n", marks));
    // What differs in blanks only was not changed.
    assert_eq!(
        both_ways(&without, &with("loudness: 0.5", "loudness:  0.5").replace("26", "27")),
        without.replace("26", "27")
    );
}

#[test]
fn remarks_of_both_are_kept() {
    let ours = with("// measured", "// in the cellar").replace("(\n    format", "// ours\n(\n    format");
    let theirs = with("// measured", "// twice").replace("(\n    format", "// theirs\n(\n    format");
    let expected = with("// measured", "// in the cellar // twice")
        .replace("(\n    format", "// ours\n// theirs\n(\n    format");
    assert_eq!(both_ways(&ours, &theirs), expected);
    let above = |remark: &str| with("        loudness", &format!("{remark}        loudness"));
    assert_eq!(
        both_ways(&above("        // a\n        // b\n"), &above("\n        /* c */\n        // a\n")),
        above("\n        /* c */\n        // a\n        // b\n")
    );
}

#[test]
fn without_a_base_all_that_differs_is_new() {
    let merged = merge(
        None,
        &with("[\"sloe cousin\", ", "["),
        &with("0.5,\n", "0.5,\n        origin: house,\n"),
        &ORDER,
    );
    assert_eq!(merged.conflicts, [""; 0]);
    assert_eq!(
        merged.text,
        with("[\"sloe cousin\", \"hedge gin\"]", "[\"hedge gin\", \"sloe cousin\"]")
            .replace("0.5,\n", "0.5,\n        origin: house,\n")
    );
    assert_eq!(conflict(None, BASE, &with("0.5", "0.4")).conflicts, ["loudness"]);
    assert_eq!(conflict(None, BASE, &with("format: 1", "format: 2")).conflicts, ["format"]);
}

#[test]
fn what_cannot_be_read_is_a_conflict_of_the_file() {
    let whole = conflict(Some(BASE), "(", &with("0.5", "0.4"));
    assert_eq!(whole.conflicts, [Merged::WHOLE_FILE]);
    assert_eq!(whole.text, format!("<<<<<<< ours\n(\n=======\n{}>>>>>>> theirs\n", with("0.5", "0.4")));
    assert_eq!(conflict(Some("("), BASE, BASE).conflicts, [Merged::WHOLE_FILE]);
    assert_eq!(conflict(Some(BASE), BASE, "").conflicts, [Merged::WHOLE_FILE]);
    assert_eq!(
        conflict(Some(BASE), &with("0.5", "0.4"), &with("ingredient", "prep")).conflicts,
        [Merged::WHOLE_FILE]
    );
    let marked = conflict(Some(BASE), &with("0.5", "0.4"), &with("0.5", "0.6")).text;
    assert_eq!(conflict(Some(BASE), &marked, BASE).conflicts, [Merged::WHOLE_FILE]);
    let large = |name: &str| with("0.5,\n", &format!("0.5,\n{name}: \"{}\",\n", "x".repeat(40_000)));
    assert_eq!(conflict(Some(BASE), &large("origin"), &large("season")).conflicts, [Merged::WHOLE_FILE]);
}

/// A change that a person makes.
#[derive(Debug, Clone)]
struct Change {
    what: u8,
    at: prop::sample::Index,
    deeper: bool,
    name: &'static str,
    value: Value,
    word: String,
}

fn change() -> impl Strategy<Value = Change> {
    let name = prop::sample::select(NAMES.as_slice());
    (0..16_u8, any::<prop::sample::Index>(), any::<bool>(), name, value(), "[a-z]{6}")
        .prop_map(|(what, at, deeper, name, value, word)| Change { what, at, deeper, name, value, word })
}

fn changed(file: &File, changes: &[Change], side: &str) -> File {
    let mut file = file.clone();
    for change in changes {
        let word = format!("{side}-{}", change.word);
        match change.what {
            0 => file.head.push(word),
            1 => file.foot.insert(0, word),
            _ => change.make(&mut file.record, word),
        }
    }
    file
}

impl Change {
    fn make(&self, record: &mut Record, word: String) {
        let count = record.entries.len();
        match self.what {
            2 => record.opening = Some(word),
            3 => record.tail.push(word),
            4 => record.inline = !record.inline,
            5 => record.last_comma = !record.last_comma,
            6 if record.entries.iter().all(|e| e.name != self.name) => record.entries.insert(
                self.at.index(count + 1),
                Entry {
                    name: self.name,
                    value: self.value.clone(),
                    above: vec![word],
                    spaced: self.deeper,
                    colon: None,
                    gap: None,
                    trail: None,
                },
            ),
            _ if count == 0 => {}
            7 => {
                record.entries.remove(self.at.index(count));
            }
            8 => {
                let entry = record.entries.remove(self.at.index(count));
                record.entries.push(entry);
            }
            _ => {
                let entry = &mut record.entries[self.at.index(count)];
                match &mut entry.value {
                    Value::Struct(inner) if self.deeper => return self.make(inner, word),
                    _ => {}
                }
                match self.what {
                    9 => entry.above.push(word),
                    10 => entry.above.clear(),
                    11 => entry.trail = Some(word),
                    12 => entry.colon = Some(word),
                    13 => entry.gap = Some(word),
                    _ => match &mut entry.value {
                        Value::List(ids) if self.what == 14 => {
                            ids.retain(|id| *id != self.word[..1]);
                            if self.deeper {
                                ids.push(self.word[..1].to_owned());
                            }
                        }
                        value => *value = self.value.clone(),
                    },
                }
            }
        }
    }
}

type Values<'v> = BTreeMap<Vec<&'static str>, &'v Value>;

fn values(file: &File) -> Values<'_> {
    file.record.values().into_iter().collect()
}

/// A value as its elements, if it is a list, or as its text. What is not there is an empty list.
#[derive(Debug, PartialEq)]
struct Flat {
    is_list: bool,
    texts: Vec<String>,
}

fn flat(value: Option<&Value>) -> Flat {
    match value {
        None => Flat { is_list: true, texts: Vec::new() },
        Some(Value::List(ids)) => {
            Flat { is_list: true, texts: ids.iter().map(|id| format!("\"{id}\"")).collect() }
        }
        Some(value) => Flat { is_list: false, texts: vec![value.text(0)] },
    }
}

/// The naive twin: each value alone, by its path; none if the sides disagree.
fn expected(base: Option<&Value>, ours: Option<&Value>, theirs: Option<&Value>) -> Option<Flat> {
    let [b, o, t] = [base, ours, theirs].map(flat);
    if o == t || b == t {
        return Some(o);
    }
    if b == o {
        return Some(t);
    }
    if ours.is_none() || theirs.is_none() || !(b.is_list && o.is_list && t.is_list) {
        return None;
    }
    let stays = |e: &&String| o.texts.contains(e) && t.texts.contains(e);
    let mut texts: Vec<String> = b.texts.iter().filter(stays).cloned().collect();
    texts.extend(o.texts.into_iter().chain(t.texts).filter(|e| !b.texts.contains(e)));
    texts.sort();
    texts.dedup();
    Some(Flat { is_list: true, texts })
}

/// One side of every conflict.
fn resolved(text: &str, take_ours: bool) -> String {
    let mut side = None;
    let mut kept = String::new();
    for line in text.split_inclusive('\n') {
        match line.trim_end() {
            OURS => side = Some(true),
            BETWEEN => side = Some(false),
            THEIRS => side = None,
            _ if side.is_none_or(|ours| ours == take_ours) => kept.push_str(line),
            _ => {}
        }
    }
    kept
}

/// The words of the remarks.
fn words(text: &str) -> Vec<&str> {
    remarks(text)
        .into_iter()
        .flat_map(|r| r.split([' ', '/', '*', '\n', '\r']))
        .filter(|w| w.contains('-'))
        .collect()
}

fn three() -> impl Strategy<Value = (Option<File>, File, File)> {
    let changes = || prop::collection::vec(change(), 0..5);
    (file(), changes(), changes(), prop::bool::weighted(0.8)).prop_map(|(base, ours, theirs, known)| {
        let (ours, theirs) = (changed(&base, &ours, "o"), changed(&base, &theirs, "t"));
        (known.then_some(base), ours, theirs)
    })
}

proptest! {
    #[test]
    fn sides_change_places((base, ours, theirs) in three()) {
        let base_text = base.as_ref().map(File::text);
        let (our_text, their_text) = (ours.text(), theirs.text());
        let there = merge(base_text.as_deref(), &our_text, &their_text, &NAMES);
        let back = merge(base_text.as_deref(), &their_text, &our_text, &NAMES);
        prop_assert_eq!(&there.conflicts, &back.conflicts);
        if there.conflicts.is_empty() {
            prop_assert_eq!(&there.text, &back.text);
            prop_assert!(Leaf::parse(&there.text).is_ok());
        } else {
            prop_assert!(Leaf::parse(&there.text).is_err());
            prop_assert_eq!(resolved(&there.text, true), resolved(&back.text, false));
        }
        // What is merged already is not merged again.
        if there.conflicts.is_empty() {
            prop_assert_eq!(&merge(Some(&our_text), &our_text, &there.text, &NAMES).text, &there.text);
        }
    }

    #[test]
    fn every_value_is_what_it_would_be_alone((base, ours, theirs) in three()) {
        let base_text = base.as_ref().map(File::text);
        let there = merge(base_text.as_deref(), &ours.text(), &theirs.text(), &NAMES);
        prop_assert!(there.conflicts.iter().all(|c| c != Merged::WHOLE_FILE), "{}", there.text);
        let in_conflict = |path: &[&str]| {
            (1..=path.len()).any(|n| there.conflicts.contains(&path[..n].join(".")))
        };
        let (b, o, t) = (base.as_ref().map(values).unwrap_or_default(), values(&ours), values(&theirs));
        let side = |take_ours| {
            let text = resolved(&there.text, take_ours);
            Leaf::parse(&text).map_err(|f| TestCaseError::fail(format!("{f:?}\n{}", there.text)))
        };
        let (as_ours, as_theirs) = (side(true)?, side(false)?);
        for path in b.keys().chain(o.keys()).chain(t.keys()) {
            let [b, o, t] = [&b, &o, &t].map(|values| values.get(path).copied());
            if in_conflict(path) {
                for (side, value) in [(&as_ours, o), (&as_theirs, t)] {
                    let found = side.get(path).map(|text| text.replace('\r', ""));
                    match value {
                        Some(value) => prop_assert_eq!(found, Some(value.text(0))),
                        // What is no value there may be a struct.
                        None => prop_assert!(found.is_none_or(|f| f.starts_with('('))),
                    }
                }
                continue;
            }
            let Some(expected) = expected(b, o, t) else {
                // A value against a struct is told at the struct.
                return Err(TestCaseError::fail(format!("{path:?} should be in conflict:\n{}", there.text)));
            };
            let found = as_ours.get(path).unwrap_or("[]").replace('\r', "");
            prop_assert_eq!(as_theirs.get(path).unwrap_or("[]").replace('\r', ""), found.clone());
            if expected.is_list {
                let mut found: Vec<&str> =
                    found.trim_matches(['[', ']']).split(", ").filter(|e| !e.is_empty()).collect();
                let mut texts = expected.texts;
                found.sort_unstable();
                texts.sort_unstable();
                prop_assert_eq!(found, texts, "{:?}", path);
            } else {
                prop_assert_eq!(found, expected.texts.concat(), "{:?}", path);
            }
        }
    }

    /// A remark is gone only if a side took it out.
    #[test]
    fn no_remark_is_lost((base, ours, theirs) in three()) {
        let base_text = base.as_ref().map(File::text);
        let (our_text, their_text) = (ours.text(), theirs.text());
        let there = merge(base_text.as_deref(), &our_text, &their_text, &NAMES);
        let (began, our, their) = (base_text.as_deref().map(words).unwrap_or_default(), words(&our_text), words(&their_text));
        let found = words(&there.text);
        for word in our.iter().chain(&their) {
            let is_new = !began.contains(word);
            if is_new || our.contains(word) && their.contains(word) {
                prop_assert!(found.contains(word), "{word} is lost:\n{}", there.text);
            }
        }
    }

    /// A conflict is told only where there is one.
    #[test]
    fn a_conflict_has_a_reason((base, ours, theirs) in three()) {
        let base_text = base.as_ref().map(File::text);
        let (our_text, their_text) = (ours.text(), theirs.text());
        let there = merge(base_text.as_deref(), &our_text, &their_text, &NAMES);
        let read = |text: &str| Leaf::parse(text).unwrap();
        let (our, their, began) = (read(&our_text), read(&their_text), base_text.as_deref().map(read));
        for path in &there.conflicts {
            let path: Vec<&str> = path.split('.').collect();
            let (o, t, b) = (our.get(&path), their.get(&path), began.as_ref().and_then(|b| b.get(&path)));
            prop_assert!(o != t);
            match (o, t) {
                (Some(_), Some(_)) => prop_assert!(b != o && b != t),
                _ => prop_assert!(b.is_some()),
            }
        }
    }

    #[test]
    fn nothing_is_too_odd_to_merge(base in prop::option::of(soup()), ours in soup(), theirs in soup(), odd in soup(), file in file()) {
        let text = file.text();
        for (ours, theirs) in [(&ours, &theirs), (&text, &theirs), (&text, &odd)] {
            let merged = merge(base.as_deref(), ours, theirs, &[&odd, &text]);
            let back = merge(base.as_deref(), theirs, ours, &[&odd, &text]);
            prop_assert_eq!(&merged.conflicts, &back.conflicts);
            if merged.conflicts.is_empty() {
                prop_assert_eq!(merged.text, back.text);
            }
        }
    }
}

use proptest::prelude::*;

use super::sample::{NAMES, file, soup, value};
use super::*;

const ORDER: [&str; 6] = ["id", "makeup", "makeup.strength", "makeup.sugar", "aliases", "origin"];

const DAMSON: &str = r#"// remarks anywhere survive
(
    format: 1,
    ingredient: (
        id: "damson-gin",
        makeup: (strength: 26, sugar: 180),   // measured

        // what guests call it
        // in town
        aliases: ["sloe cousin"], // and more
        origin: (flavour: house, makeup: house),
    ),
)
"#;

fn leaf(text: &str) -> Leaf {
    Leaf::parse(text).unwrap()
}

fn problem(text: &str) -> LeafProblem {
    Leaf::parse(text).unwrap_err().problem
}

#[test]
fn a_file_is_read() {
    let damson = leaf(DAMSON);
    assert_eq!((damson.format(), damson.kind()), (1, "ingredient"));
    assert_eq!(damson.fields(), ["id", "makeup", "aliases", "origin"]);
    assert_eq!(damson.get(&["makeup", "sugar"]), Some("180"));
    assert_eq!(damson.get(&["makeup"]), Some("(strength: 26, sugar: 180)"));
    assert_eq!(damson.get(&["makeup", "acid"]), None);
    assert_eq!(damson.get(&[]), None);
    assert!(damson.record().starts_with("(\n        id:") && damson.record().ends_with("house),\n    )"));
    assert_eq!(&damson.text()[damson.record_range()], damson.record());
}

#[test]
fn a_value_changes_and_nothing_else() {
    let mut damson = leaf(DAMSON);
    damson.set(&["makeup", "strength"], " 27.5 ", &ORDER).unwrap();
    assert_eq!(damson.text(), DAMSON.replace("26", "27.5"));
}

#[test]
fn a_new_field_goes_to_its_place() {
    let mut damson = leaf(DAMSON);
    damson.set(&["name"], "\"Damson gin\"", &["id", "name", "makeup"]).unwrap();
    assert_eq!(
        damson.text(),
        DAMSON.replace("        makeup", "        name: \"Damson gin\",\n        makeup")
    );
    let mut damson = leaf(DAMSON);
    damson.set(&["makeup", "acid"], "4", &["makeup.strength", "makeup.acid", "makeup.sugar"]).unwrap();
    assert_eq!(damson.text(), DAMSON.replace("26, ", "26, acid: 4, "));
    let mut damson = leaf(DAMSON);
    damson.set(&["zest", "oil", "most"], "4", &ORDER).unwrap();
    assert_eq!(damson.text(), DAMSON.replace("    ),\n)", "        zest: (oil: (most: 4)),\n    ),\n)"));
    assert!(damson.unset(&["zest", "oil", "most"]).unwrap());
    assert_eq!(damson.text(), DAMSON);
}

#[test]
fn a_field_goes_with_its_remarks() {
    let mut damson = leaf(DAMSON);
    assert!(damson.unset(&["aliases"]).unwrap());
    let without = DAMSON.replace(
        "\n        // what guests call it\n        // in town\n        aliases: [\"sloe cousin\"], // and more\n",
        "\n",
    );
    assert_eq!(damson.text(), without);
    assert!(damson.unset(&["makeup", "sugar"]).unwrap());
    assert_eq!(damson.text(), without.replace(", sugar: 180", ""));
    // The remark on it keeps the empty struct.
    assert!(damson.unset(&["makeup", "strength"]).unwrap());
    assert_eq!(damson.text(), without.replace("strength: 26, sugar: 180", ""));
    assert!(damson.unset(&["makeup"]).unwrap());
    assert!(!damson.unset(&["makeup"]).unwrap());
    assert!(!damson.unset(&[]).unwrap());
    assert!(!damson.unset(&["id", "deeper"]).unwrap());
}

#[test]
fn a_parenthesis_does_not_slip_into_a_remark() {
    let text = "(format: 1, prep: (\n  a: 1, // one\n  b: 2))";
    let mut prep = leaf(text);
    assert!(prep.unset(&["b"]).unwrap());
    assert_eq!(prep.text(), "(format: 1, prep: (\n  a: 1 // one\n))");
}

#[test]
fn remarks_that_are_not_its_own_stay() {
    let text = "(format: 1, prep: (\n  // heading\n\n  // of b\n  a: 1, b: 2,\n  c: 3, /* of d */ d: 4,\n  // end\n))";
    let mut prep = leaf(text);
    assert!(prep.unset(&["a"]).unwrap());
    assert_eq!(prep.text(), text.replace("a: 1, ", ""));
    assert!(prep.unset(&["b"]).unwrap());
    assert_eq!(prep.text(), "(format: 1, prep: (\n  // heading\n\n  c: 3, /* of d */ d: 4,\n  // end\n))");
    assert!(prep.unset(&["c"]).unwrap());
    assert_eq!(prep.text(), "(format: 1, prep: (\n  // heading\n\n  /* of d */ d: 4,\n  // end\n))");
}

#[test]
fn a_new_file_has_the_canonical_layout() {
    let made =
        Leaf::new("prep", &[("makes", "\"grenadine\"".to_owned()), ("lost", "0.1".to_owned())]).unwrap();
    let text =
        "(\n    format: 1,\n    prep: (\n        makes: \"grenadine\",\n        lost: 0.1,\n    ),\n)\n";
    assert_eq!(made.text(), text);
    let mut empty = Leaf::new::<&str>("prep", &[]).unwrap();
    empty.set(&["lost"], "0.1", &[]).unwrap();
    empty.set(&["makes"], "\"grenadine\"", &["makes", "lost"]).unwrap();
    assert_eq!(empty.text(), text);
    assert!(Leaf::new("prep", &[("a", "1, b: 2".to_owned())]).is_err());
    assert!(Leaf::new::<&str>("a b", &[]).is_err());
    assert!(Leaf::new("prep", &[("a", "1".to_owned()), ("a", "2".to_owned())]).is_err());
}

#[test]
fn windows_lines_stay_windows_lines() {
    let mut damson = leaf(&DAMSON.replace('\n', "\r\n"));
    damson.set(&["name"], "1", &["id", "name", "makeup"]).unwrap();
    assert!(!damson.text().replace("\r\n", "").contains('\n'));
    assert!(damson.unset(&["aliases"]).unwrap());
    assert!(!damson.text().contains("in town") && !damson.text().replace("\r\n", "").contains(['\n', '\r']));
}

#[test]
fn what_is_no_record_is_refused() {
    use LeafProblem as P;
    assert_eq!(problem(""), P::NotAStruct);
    assert_eq!(problem("// nothing"), P::NotAStruct);
    assert_eq!(problem("[(format: 1, a: ())]"), P::NotAStruct);
    assert_eq!(problem("Leaf(format: 1, a: ())"), P::NotAStruct);
    assert_eq!(problem("#![enable(implicit_some)] (format: 1, a: ())"), P::NotAStruct);
    assert_eq!(problem("(format: 1, a: 2)"), P::NotAStruct);
    assert_eq!(problem("(format: 1, a: Named(b: 2))"), P::NotAStruct);
    assert_eq!(problem("(a: ())"), P::NoFormat);
    assert_eq!(problem("(format: \"1\", a: ())"), P::BadFormat);
    assert_eq!(problem("(format: -1, a: ())"), P::BadFormat);
    assert_eq!(problem("(format: 1)"), P::NoRecord);
    assert_eq!(
        problem("(format: 1, a: (), b: ())"),
        P::TwoRecords { first: "a".to_owned(), second: "b".to_owned() }
    );
    assert_eq!(problem("(format: 1, format: 1, a: ())"), P::Twice { name: "format".to_owned() });
    assert_eq!(problem("(format: 1, a: (b: (c: 1, r#c: 2)))"), P::Twice { name: "c".to_owned() });
    assert!(matches!(problem("(format: 1, a: (b: 1)) (c: 1)"), P::Text(_)));
    assert!(matches!(problem("(format: 1, a: (b: 1"), P::Text(_)));
    assert!(matches!(problem("(format: 1, a: (b 1))"), P::Text(_)));
    assert!(matches!(problem(&format!("(format: 1, a: ()) // {}", "x".repeat(65_536))), P::TooLarge { .. }));
    let deep = |n: usize| format!("(format: 1, a: (b: {}{}))", "[".repeat(n), "]".repeat(n));
    assert!(Leaf::parse(&deep(30)).is_ok());
    assert_eq!(problem(&deep(31)), P::TooDeep { most: 32 });
    let named = format!("(format: 1, a: (b: {}1{}))", "Some(".repeat(30), ")".repeat(30));
    assert!(Leaf::parse(&named).is_ok(), "{:?}", Leaf::parse(&named));
    let fault = Leaf::parse("(\n    format: 1,\n    é: (b: 1, b: 2),\n)").unwrap_err();
    assert_eq!((fault.place.line, fault.place.column), (3, 15));
    assert_eq!(fault.to_string(), "the field 'b' stands here twice");
}

#[test]
fn an_unfinished_merge_is_refused_with_its_line() {
    let marked = |mark: &str| DAMSON.replace("        origin", &format!("{mark}\n        origin"));
    for mark in ["<<<<<<< ours", "=======", ">>>>>>> theirs", ">>>>>>>", "||||||| base", "<<<<<<< HEAD\r"] {
        let fault = Leaf::parse(&marked(mark)).unwrap_err();
        assert_eq!(fault.problem, LeafProblem::UnfinishedMerge { line: 11 }, "{mark}");
        assert_eq!((fault.place.line, fault.place.column), (11, 1));
    }
    // In a remark too, where RON would not see it; a rule below a heading is none.
    let block =
        |line: &str| DAMSON.replace("(\n    format", &format!("/*\nheading\n{line}\n*/(\n    format"));
    assert!(Leaf::parse(&block("<<<<<<< ours")).is_err());
    assert!(Leaf::parse(&block("=======")).is_ok());
}

#[test]
fn what_cannot_be_set_leaves_the_leaf_as_it_was() {
    let mut damson = leaf(DAMSON);
    let bad = [
        "",
        "1, b: 2",
        "1)",
        "(",
        "\"",
        "1 // one",
        "1 // one\n",
        "/* one */ 1",
        "1 /* one */",
        "#![enable(x)] 1",
    ];
    for value in bad {
        assert!(damson.set(&["loudness"], value, &ORDER).is_err(), "{value}");
        assert!(damson.set(&["id"], value, &ORDER).is_err(), "{value}");
    }
    for path in
        [&[][..], &[""], &["a b"], &["1a"], &["a", ""], &["id", "deeper"], &["aliases", "0"], &["id: 1, b"]]
    {
        assert!(damson.set(path, "1", &ORDER).is_err(), "{path:?}");
    }
    assert!(damson.set(&["id"], &format!("\"{}\"", "x".repeat(65_536)), &ORDER).is_err());
    assert!(damson.set(&["id"], &format!("{}{}", "[".repeat(31), "]".repeat(31)), &ORDER).is_err());
    assert!(damson.set(&["id"], "(a: 1, a: 2)", &ORDER).is_err());
    assert_eq!(damson.text(), DAMSON);
}

#[test]
fn one_record_is_laid_over_another() {
    let under = "(id: \"a\", origin: (flavour: demo, makeup: demo), season: months(peak: [sep, oct]), /* x */ list: [1, 2])";
    let over = "( // ours\n origin: (makeup: house), season: months(peak: [oct]), list: [3], new: {}, )";
    assert_eq!(
        overlay(under, over).unwrap(),
        "(id: \"a\", origin: (flavour: demo, makeup: house), season: months(peak: [oct]), list: [3], new: {})"
    );
    assert_eq!(overlay(under, "()").unwrap(), under.replace("/* x */ ", ""));
    assert_eq!(overlay("(a: (b: 1))", "(a: (1, 2))").unwrap(), "(a: (1, 2))");
    assert!(
        overlay("1", "()").is_err() && overlay("()", "[").is_err() && overlay("()", "(a: 1, a: 1)").is_err()
    );
}

proptest! {
    #[test]
    fn a_text_comes_back_as_it_was(file in file()) {
        let text = file.text();
        let read = Leaf::parse(&text).map_err(|f| TestCaseError::fail(format!("{f:?}\n{text}")))?;
        prop_assert_eq!(read.text(), &text);
        for (path, value) in file.record.values() {
            let value = value.text(path.len() + 1);
            let value = if file.crlf { value.replace('\n', "\r\n") } else { value };
            prop_assert_eq!(read.get(&path), Some(value.as_str()));
        }
    }

    /// Bytes outside brackets and values belong to exactly one place.
    #[test]
    fn every_byte_belongs_to_one_place(file in file()) {
        fn joined(text: &str, body: &Body) -> String {
            let mut all = format!("({}", body.opening_in(text));
            for field in &body.fields {
                let value = match &field.inner {
                    Some(inner) => joined(text, inner),
                    None => text[field.value.clone()].to_owned(),
                };
                all.push_str(field.lead_in(text));
                all.push_str(&text[field.name.clone()]);
                all.push_str(field.colon_in(text));
                all.push_str(&value);
                all.push_str(field.gap_in(text));
                all.push_str(if field.comma.is_some() { "," } else { "" });
                all.push_str(field.trail_in(text));
            }
            all + body.tail_in(text) + ")"
        }
        let text = file.text();
        let read = leaf(&text);
        prop_assert_eq!(joined(&text, read.body()), &text[read.body().bytes.clone()]);
    }

    #[test]
    fn a_value_set_and_set_back(file in file(), new in value()) {
        let text = file.text();
        let new = new.text(0);
        for path in file.record.paths() {
            let mut read = leaf(&text);
            let old = read.get(&path).unwrap().to_owned();
            read.set(&path, &new, &NAMES).unwrap();
            prop_assert_eq!(read.get(&path), Some(new.as_str()));
            read.set(&path, &old, &NAMES).unwrap();
            prop_assert_eq!(read.text(), &text);
        }
    }

    #[test]
    fn a_new_field_set_and_unset(
        file in file(), new in value(), name in prop::sample::select(NAMES.as_slice()), deep in any::<bool>(),
    ) {
        let text = file.text();
        let new = new.text(0);
        let mut parents: Vec<Vec<&str>> = file.record.paths();
        parents.push(Vec::new());
        for mut path in parents {
            let mut read = leaf(&text);
            let inside = if path.is_empty() { "(x: 1)" } else { read.get(&path).unwrap() };
            let is_struct = inside.starts_with('(') && !inside.starts_with("(1");
            path.push(name);
            // An empty struct goes with what was its only field, so it does not come back.
            let is_empty = path.len() > 1 && read.get(&path[..path.len() - 1]).is_some_and(|p| {
                Body::read(p).is_ok_and(|b| b.fields.is_empty())
            });
            if !is_struct || is_empty || read.get(&path).is_some() {
                continue;
            }
            if deep {
                path.extend(["deep", "er"]);
            }
            read.set(&path, &new, &NAMES).unwrap();
            prop_assert_eq!(read.get(&path), Some(new.as_str()));
            prop_assert!(read.unset(&path).unwrap());
            prop_assert_eq!(read.text(), &text);
        }
    }

    /// What is taken out takes nothing else with it.
    #[test]
    fn unset_takes_one_field(file in file()) {
        let text = file.text();
        for path in file.record.paths() {
            let mut read = leaf(&text);
            prop_assert!(read.unset(&path).unwrap());
            for (other, value) in file.record.values() {
                let value = value.text(0);
                let value = if file.crlf { value.replace('\n', "\r\n") } else { value };
                let expected = if other.starts_with(&path) { None } else { Some(value.as_str()) };
                prop_assert_eq!(read.get(&other), expected);
            }
        }
    }

    #[test]
    fn no_text_is_too_odd(text in soup(), other in soup(), path in prop::collection::vec(soup(), 0..3)) {
        let path: Vec<&str> = path.iter().map(String::as_str).collect();
        if let Ok(mut read) = Leaf::parse(&text) {
            prop_assert_eq!(read.text(), &text);
            let _ = read.set(&path, &other, &path);
            if read.set(&["x"], &other, &path).is_ok() {
                prop_assert_eq!(read.get(&["x"]), Some(other.trim_matches(token::is_blank)));
            }
            for name in read.fields().into_iter().map(str::to_owned).collect::<Vec<_>>() {
                let _ = read.unset(&[&name]);
            }
        }
        let _ = overlay(&text, &other);
        let _ = Leaf::new(&text, &[(&other, text.clone())]);
    }

    #[test]
    fn an_overlay_has_the_fields_of_both(under in file(), over in file()) {
        let (under, over) = (leaf(&under.text()), leaf(&over.text()));
        let laid = overlay(under.record(), over.record()).unwrap();
        let body = Body::read(&laid).unwrap();
        for field in &body.fields {
            let above = over.get(&[&field.label]);
            if field.inner.is_none() {
                prop_assert_eq!(Some(&laid[field.value.clone()]), above.or(under.get(&[&field.label])));
            }
        }
        for label in under.fields().into_iter().chain(over.fields()) {
            prop_assert!(body.field(label).is_some());
        }
        // A struct that replaced another value came with its remarks; laid over itself it has none.
        let again = overlay(&laid, over.record()).unwrap();
        prop_assert_eq!(overlay(&again, over.record()).unwrap(), again);
    }
}

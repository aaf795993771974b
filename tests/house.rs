//! Keeping things in the house book, as the three who use it would: what is typed is kept, shown, taken back and made again.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod bar;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use bar::{built_in_over, clock, clock_from, refused, session, session_on, told, weir_over};
use medlar::book::{Bond, IngredientId, Store};
use medlar::console::{Editor, Outcome, complete};
use serde_json::Value;

fn id(text: &str) -> IngredientId {
    IngredientId::new(text).unwrap()
}

/// A whole conversation as a golden: every line with its status and what was said. The folder's name is left out.
fn golden(name: &str, house: &Path, lines: &[&str]) {
    let mut session = session(house);
    let mut text = String::new();
    for line in lines {
        let Outcome { out, err, status, .. } = session.answer(line);
        let said = format!("{out}{err}").replace(&house.display().to_string(), "<house>");
        text.push_str(&format!("medlar> {line}\nstatus {status}\n{said}\n"));
    }
    insta::assert_snapshot!(name, text);
}

/// Every file of a book but the history, by its path.
fn files(house: &Path) -> BTreeMap<String, String> {
    Store::at(house).read().unwrap().texts.into_iter().map(|(path, text)| (path.to_string(), text)).collect()
}

#[test]
fn a_bartender_adds_an_ingredient_and_what_it_goes_with() {
    let folder = tempfile::tempdir().unwrap();
    golden(
        "a_bartender_adds_an_ingredient",
        folder.path(),
        &[
            "book",
            "new ingredient damson gin --like pear liqueur --strength 26 --sugar 180 g/L --facet stone fruit=0.8, orchard=0",
            "goes damson gin, mezcal 0.8 --why smoke and stone fruit --by the river bar",
            "goes damson gin with lime juice 0.7",
            "clash damson gin, oyster --why sweet on brine",
            "pairs damson gin --clashes",
            "show damson gin",
            "alias damson gin = the dark bottle",
            "pairs the dark bottle, mezcal",
            "edit damson gin --sugar 200 --dry-run",
            "edit pear liqueur --sugar 300",
            "show pear liqueur",
            "history --limit 3",
            "book",
        ],
    );
}

#[test]
fn a_house_s_palate_moves_what_is_suggested_and_can_be_taken_back() {
    let folder = tempfile::tempdir().unwrap();
    golden(
        "tastings",
        folder.path(),
        &[
            "pairs quince --limit 3",
            "taste quince, mezcal 9 smoke under baked fruit --by the river bar",
            "taste quince, mezcal 9.5",
            "taste quince, mezcal 9/10 again",
            "pairs quince --limit 3",
            "explain 1",
            "taste negroni 3 too bitter for us",
            "taste",
            "taste quince",
            "undo --house 4",
            "pairs quince --limit 3",
            "redo --house all",
            "pairs quince --limit 3",
        ],
    );
}

#[test]
fn a_menu_developer_keeps_drinks_prices_and_the_back_bar() {
    let folder = tempfile::tempdir().unwrap();
    golden(
        "drinks_prices_and_the_back_bar",
        folder.path(),
        &[
            "riff negroni --swap gin=mezcal --count 1",
            "save 1 as Weir Negroni --note smoke by the weir",
            "show weir negroni",
            "balance weir negroni",
            "list specs",
            "save 1 oz gin, 1 oz lime juice, 1/2 oz honey syrup as Lock Sour",
            "save negroni as Weir Negroni",
            "work lock sour",
            "amount honey syrup 3/4 oz",
            "save Lock Sour --over",
            "price mezcal 34.50 EUR for 700 ml",
            "price gin 18 for 700 ml --note without tax",
            "price",
            "price --missing",
            "stock mezcal low",
            "stock gin, mezcal out",
            "stock",
            "riff negroni --count 2",
            "riff negroni --swap gin=mezcal --count 1",
            "stock gin have",
            "measure dash 1 ml",
            "measure",
            "balance manhattan",
        ],
    );
}

#[test]
fn a_trainee_mistypes_and_nothing_is_lost() {
    let folder = tempfile::tempdir().unwrap();
    golden(
        "mistypes",
        folder.path(),
        &[
            "new",
            "new ingredeint damson gin",
            "new ingredient damson gin",
            "new ingredient quince --like pear",
            "new ingredient ../../etc --kind liqueur",
            "new ingredient con --kind liqueur",
            "new ingredient damson gin --kind liquer",
            "new ingredient damson gin --kind liqueur --strength 120 %",
            "new ingredient damson gin --kind liqueur --strength 26 g/L",
            "new ingredient damson gin --kind liqueur --sugar 180 %",
            "new ingredient damson gin --kind liqueur --facet smok=0.5",
            "new ingredient damson gin --kind liqueur --season septober",
            "new prep quince --like pear",
            "goes quince",
            "goes quince, mezcal",
            "goes quince, mezcal 1.5",
            "goes quince, mezcal 0",
            "goes quince, quince 0.5",
            "goes quicne, mezcal 0.8",
            "clash quince, mezcal --forget",
            "taste quince, mezcal",
            "taste quince, mezcal 11",
            "taste nothing 5",
            "taste quince, mezcal, lime juice 5",
            "save",
            "save Weir Sour",
            "price mezcal 34.50 for 700 ml",
            "price mezcal 34.50 EUR",
            "price mezcal -3 EUR for 700 ml",
            "stock mezcal lots",
            "stock mezcal lwo",
            "stock mezcal",
            "measure dsah 1 ml",
            "measure dash 2 m",
            "rename quince",
            "rename quince to mezcal",
            "remove quince",
            "remove damson gin",
            "alias quince = mezcal",
            "alias quince mezcal",
            "undo",
            "redo",
            "undo --house zzz",
            "history damson gin",
            "edit quince",
            "edit quince --sugar lots",
            "goes quince, mezcal 0.8 --book elsewhere",
            "check --yes",
            "book shre",
        ],
    );
    assert!(!folder.path().join("house.ron").exists(), "a refused line writes nothing");
}

/// The whole road: add like another, say what it goes with, keep a riff, taste it three times, see the pairs move and why,
/// take all of it back, make it again, close, open: all there.
#[test]
fn what_was_added_tasted_undone_and_redone_is_there_after_reopening() {
    let folder = tempfile::tempdir().unwrap();
    let house = folder.path();
    let mut talk = session_on(built_in_over(house), clock());
    told(&mut talk, "new ingredient weir damson --like damson");
    told(&mut talk, "goes weir damson, mezcal 0.8");
    told(&mut talk, "goes weir damson, london dry gin 0.7");
    told(&mut talk, "riff negroni --swap gin=mezcal");
    told(&mut talk, "save 1 as Orchard Negroni");
    let pairs = |talk: &mut medlar::console::Session| -> Value {
        serde_json::from_str(&told(talk, "pairs mezcal, sweet vermouth --json")).unwrap()
    };
    let affinity = |answer: &Value| {
        let found = answer["companions"].as_array().unwrap().iter().find(|c| c["id"] == "red-bitter-liqueur");
        found.map(|c| (c["pairs"][0]["affinity"].as_f64().unwrap(), c["pairs"][0]["house"].clone()))
    };
    let before = affinity(&pairs(&mut talk)).unwrap();
    assert_eq!(before.1, Value::Null);
    for _ in 0..3 {
        told(&mut talk, "taste orchard negroni 10");
    }
    let after = affinity(&pairs(&mut talk)).unwrap();
    assert!(after.0 > before.0, "{before:?} {after:?}");
    assert_eq!(after.1["tasted"]["tastings"], 3);
    assert!(after.1["tasted"]["words"].as_str().unwrap().contains("3 tastings, now"), "{after:?}");
    let whole = files(house);
    let all = told(&mut talk, "undo --house all");
    assert!(all.contains("7 changes"), "{all}");
    assert_eq!(files(house), BTreeMap::new());
    assert_eq!(affinity(&pairs(&mut talk)).unwrap(), before);
    told(&mut talk, "redo --house all");
    assert_eq!(files(house), whole);
    drop(talk);
    let mut again = session_on(built_in_over(house), clock_from(1000));
    assert_eq!(affinity(&pairs(&mut again)).unwrap(), after);
    assert!(told(&mut again, "show weir damson").contains("mezcal 0.80"));
    assert!(told(&mut again, "balance orchard negroni").contains("mezcal"));
}

#[test]
fn a_renamed_ingredient_is_renamed_wherever_it_is_spoken_of() {
    let folder = tempfile::tempdir().unwrap();
    let house = folder.path();
    let mut talk = session(house);
    for line in [
        "new ingredient damson gin --like pear liqueur",
        "goes damson gin, mezcal 0.8",
        "goes damson gin, lime juice 0.7",
        "price damson gin 20 EUR for 700 ml",
        "stock damson gin have",
        "save 1 oz damson gin, 1 oz lime juice as Damson Gimlet",
        "taste damson gimlet 8",
        "taste damson gin, mezcal 9",
    ] {
        told(&mut talk, line);
    }
    let before = files(house);
    told(&mut talk, "rename damson gin to weir damson gin");
    let after = files(house);
    assert_eq!(after.len(), before.len());
    assert!(
        after
            .keys()
            .chain(after.values())
            .all(|t| !t.contains("\"damson-gin\"") && !t.contains("/damson-gin"))
    );
    assert_eq!(talk.library().house.faults, []);
    told(&mut talk, "rename damson gimlet to weir gimlet");
    assert_eq!(talk.library().house.faults, []);
    assert!(told(&mut talk, "taste weir gimlet").contains("weir gimlet"));
    let refusal = refused(&mut talk, "remove weir damson gin");
    assert!(refusal.contains("7 records of the book still speak"), "{refusal}");
    let undone = refused(&mut talk, "undo --house ingredients/damson-gin.ron");
    assert!(undone.contains("changed since") || undone.contains("speak"), "{undone}");
    told(&mut talk, "undo --house 2");
    assert_eq!(files(house), before);
    told(&mut talk, "redo --house 2");
    told(&mut talk, "remove weir damson gin --all");
    assert_eq!(files(house), BTreeMap::new());
}

/// What a person writes in a file stays: remarks, order, what the program does not change.
#[test]
fn remarks_in_a_file_survive_the_program() {
    let folder = tempfile::tempdir().unwrap();
    let house = folder.path();
    let mut talk = session(house);
    told(&mut talk, "new ingredient damson gin --like pear liqueur");
    let file = house.join("ingredients/damson-gin.ron");
    let text = fs::read_to_string(&file).unwrap();
    let text = text
        .replace("        kind:", "        // measured in november\n        kind:")
        .replace("loudness", "/* guess */ loudness");
    fs::write(&file, &text).unwrap();
    told(&mut talk, "edit damson gin --sugar 210");
    let now = fs::read_to_string(&file).unwrap();
    assert!(now.contains("// measured in november") && now.contains("/* guess */"), "{now}");
    let line = |t: &str| t.lines().filter(|l| !l.contains("makeup")).map(str::to_owned).collect::<Vec<_>>();
    assert_eq!(line(&now), line(&text));
    let library = weir_over(house);
    let makeup = library.book.ingredient(&id("damson-gin")).unwrap().makeup.unwrap();
    assert!((makeup.sugar.grams_per_litre() - 210.0).abs() < 1e-9);
}

#[test]
fn a_record_is_edited_as_text_and_one_that_does_not_check_is_not_lost() {
    let folder = tempfile::tempdir().unwrap();
    let house = folder.path();
    told(&mut session(house), "new ingredient damson gin --like pear liqueur");
    let with = |change: fn(&str) -> String| {
        session(house).editing(Editor::new(move |file| fs::write(file, change(&fs::read_to_string(file)?))))
    };
    let before = files(house);
    let err = refused(&mut with(|t| t.replace("loudness: 0.", "loudness: 7.")), "edit damson gin");
    assert!(err.contains("your text is kept in") && err.contains("loudness: 7."), "{err}");
    assert_eq!(files(house), before);
    // The next try begins with what was typed.
    let changed = |t: &str| t.replace("loudness: 7.", "loudness: 0.").replace("[vegan, ", "[");
    told(&mut with(changed), "edit damson gin");
    assert!(!files(house)["ingredients/damson-gin.ron"].contains("vegan, "), "{:?}", files(house));
    assert!(!house.join("aside/edit-ingredients-damson-gin.ron").exists());
    let err = refused(&mut with(str::to_owned), "edit damson gin");
    assert!(err.contains("nothing was changed"), "{err}");
    // A pack's record opens with the pack's facts as remarks.
    told(
        &mut with(|t| t.replace("// loudness: 0.8", "loudness: 0.2").replace("// loudness", "loudness")),
        "edit mezcal",
    );
    assert!(files(house)["ingredients/mezcal.ron"].contains("// kind: spirit"), "{:?}", files(house));
    let out = told(&mut session(house), "show mezcal");
    assert!(out.contains("the house says its loudness"), "{out}");
}

#[test]
fn the_prompt_asks_for_what_a_new_ingredient_needs() {
    let folder = tempfile::tempdir().unwrap();
    let house = folder.path();
    let mut talk = session(house).asking();
    let mut heard = String::new();
    for line in [
        "new ingredient damson gin",
        "no such thing",
        "pear liqueur",
        "200 %",
        "?",
        "26",
        "back",
        "25 %",
        "",
        "4",
        "stone fruit 0.8",
        "",
        "none",
        "vegan, vegetarian",
        "yes",
        "goes damson gin, mezcal 0.8",
        "new ingredient plum gin",
        "stop",
    ] {
        let prompt = talk.prompt();
        let Outcome { out, err, .. } = talk.answer(line);
        heard.push_str(&format!("{prompt}{line}\n{out}{err}"));
    }
    insta::assert_snapshot!("questions", heard.replace(&house.display().to_string(), "<house>"));
    let library = weir_over(house);
    let gin = library.book.ingredient(&id("damson-gin")).unwrap();
    let makeup = gin.makeup.unwrap();
    assert!(
        (makeup.strength.percent_vol() - 25.0).abs() < 1e-9
            && (makeup.acid.grams_per_litre() - 4.0).abs() < 1e-9
    );
    assert!(library.book.edges().iter().any(|e| e.pair.0 == gin.id || e.pair.1 == gin.id));
    assert!(library.book.ingredient(&id("plum-gin")).is_none());
}

/// Two people at once: what one keeps, the other sees with the next answer.
#[test]
fn a_second_prompt_sees_what_the_first_keeps() {
    let folder = tempfile::tempdir().unwrap();
    let house = folder.path();
    let (mut one, mut two) = (session(house), session_on(weir_over(house), clock_from(500)));
    told(&mut two, "pairs quince");
    told(&mut one, "goes quince, mezcal 0.99");
    assert!(told(&mut two, "pairs quince --limit 1").contains("0.99"));
    told(&mut two, "clash quince, mezcal");
    told(&mut one, "pairs quince");
    assert_eq!(one.library().book.edge(&id("quince"), &id("mezcal")).unwrap().bond, Bond::Clash);
    // The first's own change can't be taken back past the other's.
    let first = one.answer("history --json").out;
    let changes: Value = serde_json::from_str(&first).unwrap();
    let first = changes["changes"].as_array().unwrap().last().unwrap()["change"].as_str().unwrap().to_owned();
    let err = refused(&mut one, &format!("undo --house {first}"));
    assert!(err.contains("was changed since by") && err.contains("takes that one first"), "{err}");
    told(&mut one, "undo --house quince, mezcal");
    told(&mut one, &format!("undo --house {first}"));
    assert_eq!(files(house), BTreeMap::new());
}

#[test]
fn every_command_of_the_book_answers_in_json() {
    let folder = tempfile::tempdir().unwrap();
    let mut talk = session(folder.path());
    for line in [
        "book --json",
        "book share --json",
        "new ingredient damson gin --like pear liqueur --json",
        "edit damson gin --sugar 100 --json",
        "alias damson gin = dark --json",
        "goes damson gin, mezcal 0.8 --json",
        "clash damson gin, oyster --json",
        "save 1 oz damson gin, 1 oz lime juice as Gimlet --json",
        "taste gimlet 8 --json",
        "taste --json",
        "price damson gin 20 EUR for 700 ml --json",
        "price --json",
        "stock damson gin low --json",
        "stock --json",
        "measure dash 1 ml --json",
        "measure --json",
        "list specs --json",
        "rename damson gin to weir damson gin --json",
        "history --json",
        "undo --house --json",
        "redo --house --json",
        "remove damson gin, oyster --json",
        "check --mend --json",
    ] {
        let Outcome { out, err, status, .. } = talk.answer(line);
        assert_eq!(status, 0, "{line}: {out}{err}");
        let answer: Value = serde_json::from_str(&out).unwrap_or_else(|e| panic!("{line}: {e}\n{out}"));
        assert_eq!(answer["ok"], true, "{line}");
    }
}

#[test]
fn tab_completes_the_commands_of_the_book() {
    let folder = tempfile::tempdir().unwrap();
    let library = weir_over(folder.path());
    let words = |line: &str| complete(line, &library).words;
    assert_eq!(words("new "), ["ingredient", "prep", "spec", "template"]);
    assert!(words("goes quince, mez").contains(&"mezcal".to_owned()));
    assert!(words("edit damson --allergen mi").contains(&"milk".to_owned()));
    assert!(words("taste neg").contains(&"Negroni".to_owned()));
    assert_eq!(words("measure da"), ["dash"]);
    assert!(words("stock --level o").contains(&"out".to_owned()));
    assert!(words("undo --h").contains(&"--house".to_owned()));
    assert!(words("book s").contains(&"share".to_owned()));
}

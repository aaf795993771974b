//! A drink in hand: every step and the way back against a plain list, and whole conversations at the prompt.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::path::Path;
use std::sync::Arc;

use fastrand::Rng;
use medlar::book::{Climate, Ingredient, Method, When, read_packs};
use medlar::console::{Library, Outcome, Session, Settings, Today, complete};
use medlar::drink::{House, Spec, Work, Written, read_line};
use medlar::measure::{Amount, Hemisphere, Jigger, Month};
use medlar::report::Style;

fn weir() -> Arc<Library> {
    let pack = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/packs/weir");
    Arc::new(Library::of(read_packs(&[&pack], false)).unwrap())
}

fn house() -> House {
    House::new(
        Jigger::ounces(),
        When { month: Month::Oct, hemisphere: Hemisphere::North, climate: Climate::Cool },
    )
}

/// A drink as a list of words, changed by hand: the naive twin.
#[derive(Debug, Clone, PartialEq)]
struct Plain {
    lines: Vec<(String, String)>,
    garnish: Vec<String>,
    method: String,
    name: String,
}

impl Plain {
    fn of(drink: &Written) -> Self {
        let line = |l: &medlar::drink::WrittenLine| (l.amount.to_string(), l.ingredient.to_string());
        Self {
            lines: drink.lines.iter().map(line).collect(),
            garnish: drink.garnish.iter().map(|(id, form)| format!("{id} {form}")).collect(),
            method: drink.method.name().to_owned(),
            name: drink.name.clone(),
        }
    }

    fn holds(&self, id: &str) -> bool {
        self.lines.iter().any(|l| l.1 == id)
    }
}

const AMOUNTS: [&str; 7] = ["1/4 oz", "1/2 oz", "3/4 oz", "1 oz", "45 ml", "2 dashes", "1 sprig"];
const NAMES: [&str; 3] = ["Weir Sour", "Long Orchard", "Mill Race"];

/// One random step, on the work and on its twin; none from both where it cannot be taken.
fn stepped(
    rng: &mut Rng,
    work: &Work,
    twin: &Plain,
    library: &Arc<Library>,
) -> (Option<Work>, Option<Plain>) {
    let poured: Vec<&Ingredient> = library.book.ingredients().iter().filter(|i| i.makeup.is_some()).collect();
    let mut next = twin.clone();
    let line = rng.usize(..=twin.lines.len());
    let what = *rng.choice(&poured).unwrap();
    let amount = *rng.choice(&AMOUNTS).unwrap();
    let is_there = line < twin.lines.len();
    match rng.usize(..7) {
        0 => {
            let can = is_there && !twin.holds(what.id.as_str());
            if can {
                next.lines[line].1 = what.id.to_string();
            }
            (work.put(line, what).ok(), can.then_some(next))
        }
        1 => {
            let can = is_there && twin.lines[line].0 != amount;
            if can {
                amount.clone_into(&mut next.lines[line].0);
            }
            let amount: Amount = amount.parse().unwrap();
            (work.amount(line, amount, &house().measures).ok(), can.then_some(next))
        }
        2 => {
            next.lines.push((amount.to_owned(), what.id.to_string()));
            let text = format!("{amount} {}", what.name);
            let read = read_line(1, &text, &library.book, &library.names, &house().measures).unwrap();
            (work.add(&read).ok(), (!twin.holds(what.id.as_str())).then_some(next))
        }
        3 => {
            let can = is_there && twin.lines.len() > 1;
            if can {
                next.lines.remove(line);
            }
            (work.drop_line(line).ok(), can.then_some(next))
        }
        4 => {
            let can = line < twin.garnish.len();
            if can {
                next.garnish.remove(line);
            }
            (work.bare(line).ok(), can.then_some(next))
        }
        5 => {
            let method = *rng.choice(Method::ALL).unwrap();
            let can = twin.method != method.name();
            method.name().clone_into(&mut next.method);
            (work.method(method).ok(), can.then_some(next))
        }
        _ => {
            let name = *rng.choice(&NAMES).unwrap();
            let can = twin.name != name;
            name.clone_into(&mut next.name);
            (work.name(name).ok(), can.then_some(next))
        }
    }
}

#[test]
fn any_steps_and_any_way_back_are_what_a_plain_list_says() {
    let library = weir();
    let (mut taken, mut refused, mut back, mut again) = (0, 0, 0, 0);
    for seed in 0..2_000 {
        let mut rng = Rng::with_seed(seed);
        let template = rng.choice(library.book.templates()).unwrap();
        let origin = Written::of(&Spec::of_template(&library.book, template, &house()));
        let mut work = Work::on(origin.clone());
        // Every drink so far, as words and whole, and the place in the list.
        let mut list = vec![(Plain::of(&origin), origin)];
        let mut at = 0;
        for _ in 0..rng.usize(..30) {
            match rng.usize(..4) {
                0 => {
                    let undone = work.undo();
                    assert_eq!(undone.is_ok(), at > 0, "seed {seed}");
                    if let Ok(undone) = undone {
                        (work, at, back) = (undone, at - 1, back + 1);
                    }
                }
                1 => {
                    let redone = work.redo();
                    assert_eq!(redone.is_ok(), at + 1 < list.len(), "seed {seed}");
                    if let Ok(redone) = redone {
                        (work, at, again) = (redone, at + 1, again + 1);
                    }
                }
                _ => {
                    let (next, twin) = stepped(&mut rng, &work, &list[at].0, &library);
                    assert_eq!(next.is_some(), twin.is_some(), "seed {seed}: {:?}", list[at].0);
                    if let (Some(next), Some(twin)) = (next, twin) {
                        list.truncate(at + 1);
                        list.push((twin, next.now().clone()));
                        (work, at, taken) = (next, at + 1, taken + 1);
                    } else {
                        refused += 1;
                    }
                }
            }
            assert_eq!(Plain::of(work.now()), list[at].0, "seed {seed}");
            assert_eq!(*work.now(), list[at].1, "seed {seed}");
            assert_eq!((work.done().len(), work.undone().len()), (at, list.len() - 1 - at), "seed {seed}");
        }
        // All the way back and all the way on: the very same values.
        while let Ok(undone) = work.undo() {
            (work, at) = (undone, at - 1);
            assert_eq!(*work.now(), list[at].1, "seed {seed}");
        }
        assert_eq!((at, work.now()), (0, work.origin()), "seed {seed}");
        while let Ok(redone) = work.redo() {
            (work, at) = (redone, at + 1);
            assert_eq!(*work.now(), list[at].1, "seed {seed}");
        }
        assert_eq!(at, list.len() - 1, "seed {seed}");
    }
    assert!(
        taken > 8_000 && refused > 1_000 && back > 2_000 && again > 500,
        "{taken} {refused} {back} {again}"
    );
}

fn talk(library: &Arc<Library>, width: usize, lines: &[&str]) -> Vec<Outcome> {
    let style = Style { width, colour: false, unicode: true };
    let mut session = Session::new(Arc::clone(library), Settings::default(), Today(Month::Oct), style);
    lines.iter().map(|line| session.answer(line)).collect()
}

/// A conversation as the prompt shows it, with its changing name.
fn transcript(width: usize, lines: &[&str]) -> String {
    let library = weir();
    let style = Style { width, colour: false, unicode: true };
    let mut session = Session::new(Arc::clone(&library), Settings::default(), Today(Month::Oct), style);
    let mut text = String::new();
    for line in lines {
        let prompt = session.prompt();
        let outcome = session.answer(line);
        text.push_str(&format!("{prompt}{line}\n{}{}\n", outcome.out, outcome.err));
    }
    text
}

#[test]
fn a_bartender_works_on_a_drink() {
    insta::assert_snapshot!(transcript(
        80,
        &[
            "work daiquiri",
            "put mezcal for tequila",
            "amount lime 1oz",
            "add 1/4 oz orgeat",
            "drop simple syrup",
            "undo",
            "undo",
            "redo",
            "steps",
            "compare",
            "name Weir Sour",
            "balance",
            "swap mezcal --in",
            "take 2",
            "riff --count 2",
            "take 1",
            "compare whiskey sour",
            "work negroni",
            "drop orange peel",
            "undo",
            "drink",
            "quit",
        ],
    ));
}

#[test]
fn a_trainee_mistypes_and_says_the_wrong_units() {
    insta::assert_snapshot!(transcript(
        60,
        &[
            "put mezcal for gin",
            "undo",
            "work daquiri",
            "work 45 ml gin, 2 cl lime juice, 20 ml simple syrup",
            "put mezcla for gin",
            "put mezcal",
            "put mezcal for rye",
            "PUT Mezcal FOR Gin",
            "amount lime",
            "amount lime 1 shot",
            "amount lime -1 oz",
            "amount lime 20ml",
            "amount lime 1 oz",
            "amount 2 dashes aromatic bitters",
            "add honey syrup",
            "add 2 tsp honey syrup",
            "add 1/2 oz lime juice",
            "method shook",
            "method stired",
            "method stirred",
            "name \"\"",
            "name The Mill Race",
            "redo",
            "take 1",
            "undo",
            "quit",
        ],
    ));
}

#[test]
fn every_answer_about_the_drink_in_hand_is_json_too() {
    let lines = [
        "work negroni",
        "put mezcal for gin",
        "amount sweet vermouth 3/4 oz",
        "add 2 dashes aromatic bitters",
        "drop aromatic bitters",
        "method built",
        "undo",
        "redo",
        "compare",
        "name Mill Race",
        "drink",
        "steps",
        "riff this --count 1",
        "swap mezcal --in this",
        "take 1",
        "quit",
    ]
    .map(|line| format!("{line} --json"));
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    for (line, outcome) in lines.iter().zip(talk(&weir(), 80, &lines)) {
        assert_eq!((outcome.status, outcome.err.as_str()), (0, ""), "{line}: {}", outcome.out);
        let answer: serde_json::Value = serde_json::from_str(&outcome.out).unwrap();
        assert_eq!(answer["command"], line.split(' ').next().unwrap(), "{line}");
    }
    let answers = talk(&weir(), 80, &lines[..2]);
    let answer: serde_json::Value = serde_json::from_str(&answers[1].out).unwrap();
    insta::assert_snapshot!("put_as_json", serde_json::to_string_pretty(&answer).unwrap());
}

/// What `quit` shows takes up the very drink again, in a session that knows nothing of it.
#[test]
fn the_line_that_quit_shows_takes_the_drink_up_again() {
    let library = weir();
    let works: [&[&str]; 7] = [
        &["work negroni", "drop orange peel"],
        &["work 2 oz mezcal, 1 oz lime juice --garnish mint sprig, lime wheel", "drop lime"],
        &["work negroni", "swap gin --in this", "take 1", "name Ferry Negroni"],
        &["work negroni", "put mezcal for gin", "amount red bitter 22.5 ml", "name The Old 'Ferry'"],
        &["work 1 1/3 oz rye, 2 dashes aromatic bitters, 3 sprigs mint, top soda water --name Bee's Bank"],
        &["work whiskey sour", "drop egg white", "method no ice"],
        &["work 7 cl blanco tequila, 1/3 oz pear liqueur", "method blended"],
    ];
    for lines in works {
        let mut lines = lines.to_vec();
        lines.extend(["drink --json", "quit"]);
        let answers = talk(&library, 40, &lines);
        let [.., drink, quit] = answers.as_slice() else { panic!("{answers:?}") };
        let line = quit.out.lines().find(|l| l.starts_with("work ")).unwrap();
        let again = talk(&library, 40, &[&format!("{line} --json"), "drink --json"]);
        assert_eq!(again[0].status, 0, "{line}: {}", again[0].out);
        let value = |text: &str| -> serde_json::Value { serde_json::from_str(text).unwrap() };
        let (before, after) = (value(&drink.out), value(&again[1].out));
        for key in ["name", "family", "method", "garnish", "figures", "allergens", "cautions"] {
            assert_eq!(before[key], after[key], "{line}: {key}");
        }
        let read = |drink: &serde_json::Value| -> Vec<_> {
            let line = |l: &serde_json::Value| (l["amount"].clone(), l["id"].clone());
            drink["lines"].as_array().unwrap().iter().map(line).collect()
        };
        assert_eq!(read(&before), read(&after), "{line}");
    }
    let nothing = talk(&library, 80, &["work negroni", "quit"]);
    assert_eq!(nothing[1].out.trim(), "", "a classic as it is in the book needs no keeping");
}

#[test]
fn this_is_the_drink_in_hand_wherever_a_drink_is_asked_for() {
    let asked = [
        "work negroni",
        "amount gin 1 1/2 oz",
        "balance",
        "balance this",
        "show this",
        "swap gin --in",
        "swap gin --in this",
        "riff this --count 1",
        "riff --count 1",
        "bench chill this",
        "compare this",
    ];
    let answers = talk(&weir(), 80, &asked);
    for (line, answer) in asked.iter().zip(&answers) {
        assert_eq!(answer.status, 0, "{line}: {}", answer.err);
        assert!(
            answer.out.contains("1½ oz") || *line == "work negroni" || line.starts_with("bench"),
            "{line}: {}",
            answer.out
        );
    }
    assert_eq!(answers[2].out, answers[3].out);
    assert_eq!(answers[5].out, answers[6].out);
    assert_eq!(answers[7].out, answers[8].out);
}

#[test]
fn several_steps_go_back_and_on_at_once_or_not_at_all() {
    let answers = talk(
        &weir(),
        80,
        &[
            "work negroni",
            "put mezcal for gin",
            "amount mezcal 1 1/2 oz",
            "method built",
            "drink --json",
            "undo 4",
            "undo all",
            "redo 9",
            "redo 3",
            "drink --json",
        ],
    );
    assert!(answers[5].err.contains("4 steps are more than the 3 that can be taken"), "{}", answers[5].err);
    assert!(
        answers[6].out.contains("built, was stirred; 1½ oz mezcal, was 1 oz; mezcal for"),
        "{}",
        answers[6].out
    );
    assert_eq!(answers[7].status, 1);
    assert_eq!(answers[4].out, answers[9].out, "there and back is the same to the byte");
}

#[test]
fn a_step_tells_what_it_brings_that_a_guest_must_know() {
    let lines = [
        "work negroni --json",
        "add 1 piece oyster --json",
        "undo --json",
        "add 3/4 oz egg white --json",
        "add 1/4 oz orgeat --json",
        "undo 2 --json",
    ];
    let answers = talk(&weir(), 80, &lines);
    let value = |n: usize| -> serde_json::Value { serde_json::from_str(&answers[n].out).unwrap() };
    assert_eq!(value(0)["clashes"], serde_json::json!([]));
    assert_eq!(
        value(1)["clashes_gained"],
        serde_json::json!([
            { "pair": ["red-bitter-liqueur", "oyster"], "note": "tannin turns metallic" },
            { "pair": ["sweet-vermouth", "oyster"], "note": null },
        ])
    );
    assert_eq!(value(1)["allergens_gained"], serde_json::json!(["molluscs"]));
    assert_eq!(value(2)["clashes_lost"], value(1)["clashes_gained"]);
    assert_eq!(value(3)["cautions_gained"], serde_json::json!(["raw-egg"]));
    assert_eq!(value(3)["allergens_gained"], serde_json::json!(["eggs"]));
    assert_eq!(value(4)["allergens_gained"], serde_json::json!(["nuts"]));
    assert_eq!(value(5)["allergens_lost"], serde_json::json!(["eggs", "nuts"]));
    assert_eq!(value(5)["figures"], value(0)["figures"]);
}

/// A suggestion for one drink is no step of another that was taken up since.
#[test]
fn a_suggestion_goes_with_the_drink_it_was_made_for() {
    let answers = talk(
        &weir(),
        80,
        &[
            "work negroni",
            "swap gin --in this",
            "work manhattan",
            "take 1",
            "compare",
            "swap orgeat",
            "take 1",
            "swap gin --in negroni",
            "take 99",
            "take 1",
        ],
    );
    assert!(answers[4].out.contains("Negroni: beside the drink it came from"), "{}", answers[4].out);
    assert!(answers[6].err.contains("the last answer suggested no drink"), "{}", answers[6].err);
    assert!(answers[8].err.contains("there is no suggestion '99'"), "{}", answers[8].err);
    assert!(answers[9].out.contains("comes back with:\nwork \"1 oz"), "{}", answers[9].out);
}

#[test]
fn the_prompt_names_the_drink_in_hand() {
    let library = weir();
    let style = Style { width: 80, colour: false, unicode: true };
    let mut session = Session::new(Arc::clone(&library), Settings::default(), Today(Month::Oct), style);
    let mut prompts = vec![session.prompt()];
    for line in
        ["work negroni", "name Weir Sour", "undo", "name An Uncommonly Long Name For A Drink", "pairs quince"]
    {
        session.answer(line);
        prompts.push(session.prompt());
    }
    let expected = [
        "medlar> ",
        "negroni> ",
        "weir sour> ",
        "negroni> ",
        "an uncommonly long name…> ",
        "an uncommonly long name…> ",
    ];
    assert_eq!(prompts, expected);
}

#[test]
fn tab_knows_what_a_step_takes() {
    let library = weir();
    let words = |line: &str| complete(line, &library).words;
    assert_eq!(words("put mez"), ["mezcal"]);
    assert_eq!(words("put mezcal for blan"), ["blanco tequila"]);
    assert_eq!(complete("put mezcal for blan", &library).start, "put mezcal for ".len());
    assert_eq!(words("add 1/4 oz honey"), ["honey syrup"]);
    assert_eq!(words("work 2 oz lon"), ["london dry gin"]);
    assert_eq!(words("work manh"), ["Manhattan"]);
    assert_eq!(words("method st"), ["stirred"]);
    assert_eq!(words("compare neg"), ["Negroni"]);
    assert_eq!(words("drop sweet v"), ["sweet vermouth"]);
    assert!(words("undo ").iter().all(|w| w.starts_with("--")));
    assert_eq!(words("work 2 oz mezcal --from manh"), ["Manhattan"]);
    assert_eq!(words("pu"), ["put"]);
}

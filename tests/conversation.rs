//! Talking with the program: string in, string out, on the small frozen pack; and the README's own session.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod bar;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::CommandFactory;
use medlar::book::{Content, Source, read, read_built_in, read_packs};
use medlar::console::{COMMANDS, Cli, Library, Outcome, Session, Settings, Today, complete, hint};
use medlar::measure::Month;
use medlar::report::Style;

const PLAIN: Style = Style { width: 80, colour: false, unicode: true };

fn root(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

fn weir() -> Arc<Library> {
    Arc::new(Library::of(read_packs(&[&root("tests/packs/weir")], false)).unwrap())
}

fn talk(library: &Arc<Library>, lines: &[&str]) -> Vec<Outcome> {
    let mut session = Session::new(Arc::clone(library), Settings::default(), Today(Month::Oct), PLAIN);
    lines.iter().map(|line| session.answer(line)).collect()
}

#[test]
fn every_command_answers() {
    let lines = [
        "season october",
        "season april --hemisphere south",
        "season year",
        "season year --kind fruit --hemisphere south",
        "season january --climate warm",
        "season kale, quince, mezcal",
        "pairs quince --suits vegan",
        "list preps",
        "pairs quince",
        "pairs quince, mezcal --in-season",
        "explain 1",
        "pairs oyster --clashes",
        "bridge oyster, peach",
        "accord mezcal --size 3 --limit 3",
        "swap gin --in negroni",
        "explain 1 --json",
        "swap orgeat --without nuts",
        "riff negroni --swap gin=mezcal",
        "riff negroni --swap gin=mezcal --units ml",
        "riff manhattan --with pear --in-season",
        "riff daiquiri --no lime",
        "explain",
        "riff negroni --swap gin=mezcal --explain 2",
        "swap orgeat --without nuts --explain 1",
        "balance 45 ml gin, 30 ml red bitter liqueur, 30 ml sweet vermouth --method stirred",
        "balance highball",
        "balance daiquiri --ice-at -10 C --vessel 300 g",
        "balance negroni --dilution 30 %",
        "balance daiquiri --tolerance",
        "balance manhattan --tolerance 10 ml --serves 20 --units ml",
        "balance negroni --tolerance 10 % --dilution 30 %",
        "bench cut 700 ml of 57.7 % to 43 %",
        "bench cut 96 % to 1 l of 40 % --units oz",
        "bench fortify 750 ml of 12 % to 18 % with 40 %",
        "bench syrup 2:1 making 700 ml",
        "bench syrup 2:1 by volume",
        "bench syrup 1 l of 66 Brix to 50 Brix at 4 C",
        "bench brix 614.8 g/L at 4 C",
        "bench acid 1 l water to lime juice with 2 citric 1 malic --monohydrate",
        "bench freezer 20 % 95 g/L at -18 C",
        "bench freezer negroni --bottle 700 ml",
        "bench chill negroni",
        "bench chill negroni --vessel 500 g --vessel-of glass --wet 3 %",
        "bench chill whiskey sour --ice-at -12 C",
        "bench weigh negroni before 90 g after 121 g --dry-run",
        "bench carbonate 4 volumes at 4 C",
        "bench carbonate 700 ml 12 % 15 psi at 2 C --bottle beer --brim 750 ml",
        "bench carbonate 120 ml of 4 volumes at 4 C into 60 ml of 25 %",
        "bench",
        "show quince",
        "show honey syrup",
        "show whiskey sour",
        "list",
        "list templates",
        "list kinds",
        "list facets",
        "list families",
        "list ingredients --kind spirit",
        "check",
        "check --all",
        "check --json",
        "help",
        "help riff",
        "help bench chill",
    ];
    let library = weir();
    for (line, outcome) in lines.iter().zip(talk(&library, &lines)) {
        let name = line.replace(|c: char| !c.is_ascii_alphanumeric(), "_");
        insta::assert_snapshot!(
            name,
            format!("medlar> {line}\nstatus {}\n{}{}", outcome.status, outcome.out, outcome.err)
        );
    }
}

/// Two cautions, a clash in a classic, a form at odds with its source, a piece apart: what the frozen pack has none of.
#[test]
fn every_soft_spot_has_its_words() {
    let thing = |id: &str, kind: &str, more: &str| {
        format!(
            "(id: \"{id}\", name: \"{id}\", kind: {kind}, roles: [base], facets: {{nut: 0.5}}, loudness: 0.5, \
             season: all_year, {more})"
        )
    };
    let plain = "allergens: [], diet: [vegan, vegetarian], origin: (flavour: demo)";
    let poured = "makeup: (sugar: 9), allergens: [], diet: [vegan, vegetarian], origin: (flavour: demo, makeup: practice)";
    let ingredients = [
        thing(
            "almond",
            "nut_and_seed",
            "allergens: [nuts, sulphites], diet: [vegetarian], cautions: [\"raw\"], origin: (flavour: demo)",
        ),
        thing("marzipan", "sweetener", &format!("made_from: [\"almond\"], {plain}")),
        thing("gin", "spirit", poured),
        thing("lime", "fruit", poured),
        thing("milk", "dairy_and_egg", poured),
        thing("tonic", "mixer", poured),
        thing("hermit", "herb", plain),
    ];
    let sheets = "(of: \"gin\", origin: demo, goes_with: [(\"lime\", 0.9, \"always\"), (\"marzipan\", 0.3)], clashes: [(\"milk\", \"curds\")]),
        (of: \"lime\", origin: demo, goes_with: [(\"almond\", 0.8), (\"milk\", 0.4)], clashes: [(\"marzipan\", \"two sugars\")])";
    let slots = ["gin", "lime", "milk", "tonic"]
        .map(|id| format!("(role: base, classic: \"{id}\", amount: \"1 oz\")"))
        .join(", ");
    let template = format!(
        "(id: \"cooler\", name: \"Cooler\", family: built_long, method: built, glass: \"highball\", slots: [{slots}], \
         essence: \"Long.\", origin: practice)"
    );
    let source = |content: Content, text: String| Source {
        path: format!("{content:?}"),
        content,
        text: format!("[{text}]").into(),
    };
    let library = Library::of(read(
        vec![
            source(
                Content::Cautions,
                "(id: \"raw\", text: \"Ask your local authority.\", origin: practice)".to_owned(),
            ),
            source(Content::Ingredients, ingredients.join(",\n")),
            source(Content::Affinities, sheets.to_owned()),
            source(Content::Templates, template),
        ],
        Vec::new(),
    ))
    .unwrap();
    let answers = talk(&Arc::new(library), &["check", "check --json"]);
    insta::assert_snapshot!("every_soft_spot", format!("{}{}", answers[0].out, answers[1].out));
    assert_eq!([answers[0].status, answers[1].status], [0, 0], "soft spots refuse nothing");
}

#[test]
fn results_are_numbered_for_the_next_command() {
    let library = weir();
    let answers =
        talk(&library, &["pairs quince", "show 2", "riff negroni --swap gin=mezcal", "balance 1", "show 1"]);
    assert!(answers[1].out.starts_with("pear brandy\n"), "{}", answers[1].out);
    assert!(answers[3].out.contains("1 oz") && answers[3].out.contains("mezcal"), "{}", answers[3].out);
    let offered = talk(&library, &["pairs quicne", "pairs 1"]);
    assert_eq!(offered[0].status, 1);
    assert!(offered[1].out.starts_with("What goes with quince\n"), "{}", offered[1].out);
}

/// What is explained is the suggestion that was listed, and the list stays for the next command.
#[test]
fn the_prompt_explains_what_it_suggested_last() {
    let library = weir();
    let answers = talk(
        &library,
        &[
            "riff negroni --swap gin=mezcal --units ml",
            "explain 2",
            "riff 1 --no sweet vermouth",
            "explain 1",
            "explain 9",
            "balance 1",
            "riff negroni --swap gin=mezcal --units ml --explain 2",
            "accord mezcal --size 3",
            "explain",
        ],
    );
    let said: Vec<u8> = answers.iter().map(|a| a.status).collect();
    assert_eq!(said, [0, 0, 0, 0, 1, 0, 0, 0, 1], "{answers:?}");
    assert_eq!(answers[1].out, answers[6].out, "in millilitres, as it was asked");
    assert!(answers[1].out.contains(" ml mezcal"), "{}", answers[1].out);
    assert!(answers[3].out.starts_with("your drink, variant 1: "), "{}", answers[3].out);
    assert!(answers[4].err.contains("only number 1"), "{}", answers[4].err);
    assert!(answers[5].out.contains("mezcal"), "{}", answers[5].out);
    assert!(answers[8].err.contains("nothing to explain"), "{}", answers[8].err);
}

#[test]
fn an_equal_parts_riff_stays_where_the_classic_is() {
    let library = Arc::new(Library::of(read_built_in()).unwrap());
    let answers = talk(&library, &["riff negroni --swap gin=tequila --json"]);
    let answer: serde_json::Value = serde_json::from_str(&answers[0].out).unwrap();
    let figure = |of: &serde_json::Value, key: &str| of["figures"][key].as_f64().unwrap();
    let (classic, riff) = (&answer["classic"], &answer["riffs"][0]);
    let strength = figure(classic, "strength_percent_vol") - figure(riff, "strength_percent_vol");
    let sugar = figure(riff, "sugar_g_per_l") / figure(classic, "sugar_g_per_l") - 1.0;
    assert!(strength.abs() <= 0.75, "{strength} % vol");
    assert!(sugar.abs() <= 0.05, "{sugar}");
    let amounts: Vec<f64> =
        riff["lines"].as_array().unwrap().iter().map(|l| l["ml"].as_f64().unwrap()).collect();
    assert!(amounts.iter().all(|a| (a - amounts[0]).abs() <= 7.5), "{amounts:?}");
}

/// The house's own dilution: weighed, kept, used by the next command and by the next session, and forgotten.
#[test]
fn what_the_house_has_weighed_is_kept_and_used() {
    let folder = tempfile::tempdir().unwrap();
    let book = folder.path().join("house");
    let session = || {
        let settings = Settings { book: Some(book.clone()), json: true, ..Settings::default() };
        Session::new(bar::weir_over(&book), settings, Today(Month::Oct), PLAIN).keeping(bar::clock())
    };
    let answer = |session: &mut Session, line: &str| -> serde_json::Value {
        let outcome = session.answer(line);
        assert_eq!(outcome.err, "", "{line}");
        serde_json::from_str(&outcome.out).unwrap()
    };
    let mut first = session();
    let before = answer(&mut first, "balance negroni");
    assert_eq!(before["figures"]["dilution_basis"], "fit");
    answer(&mut first, "bench weigh negroni before 90 g after 117 g --dry-run");
    assert!(!book.exists(), "a dry run keeps nothing");
    let weighed = answer(&mut first, "bench weigh negroni before 90 g after 117 g");
    let share = weighed["methods"][0]["dilution_share"].as_f64().unwrap();
    assert!((0.28..0.36).contains(&share), "{share}");
    for mut session in [first, session()] {
        for line in ["balance negroni", "riff negroni --swap gin=mezcal", "balance manhattan", "show negroni"]
        {
            let answered = answer(&mut session, line);
            let figures = match line.split(' ').next() {
                Some("riff") => &answered["riffs"][0]["figures"],
                Some("show") => &answered["template"]["figures"],
                _ => &answered["figures"],
            };
            assert_eq!(figures["dilution_basis"], "house", "{line}");
        }
        let published = answer(&mut session, "balance negroni --dilution published");
        assert_eq!(published["figures"], before["figures"]);
        let chilled = answer(&mut session, "bench chill negroni");
        assert_eq!(chilled["ways"].as_array().unwrap().len(), 3, "the house's own stands beside the others");
    }
    let mut last = session();
    answer(&mut last, "bench weigh --forget stirred");
    assert_eq!(answer(&mut last, "balance negroni")["figures"]["dilution_basis"], "fit");
}

#[test]
fn every_line_of_a_json_conversation_is_one_object() {
    let lines = "pairs quince\nriff negroni --swap gin=mezcal\npairs zzz\nseason\n";
    let mut command = assert_cmd::cargo::cargo_bin_cmd!("medlar");
    let output = command
        .env_clear()
        .args(["--json", "--month", "10", "--pack"])
        .arg(root("tests/packs/weir"))
        .write_stdin(lines)
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(1), "the third line has no answer");
    let text = String::from_utf8(output.stdout).unwrap();
    let answers: Vec<serde_json::Value> = text.lines().map(|l| serde_json::from_str(l).unwrap()).collect();
    let ok: Vec<bool> = answers.iter().map(|a| a["ok"].as_bool().unwrap()).collect();
    assert_eq!(ok, [true, true, false, true]);
    assert_eq!(answers[2]["error"]["kind"], "mistake");
}

#[test]
fn tab_completes_commands_options_and_names_of_several_words() {
    let library = weir();
    let words = |line: &str| complete(line, &library).words;
    assert_eq!(words("ri"), ["riff"]);
    assert_eq!(words("pairs red b"), ["red bitter liqueur"]);
    assert_eq!(words("pairs quince, mez"), ["mezcal"]);
    assert_eq!(words("riff negroni --sw"), ["--swap"]);
    assert_eq!(words("riff negroni --swap gin=blan"), ["blanco tequila"]);
    assert_eq!(words("swap gin --in man"), ["Manhattan"]);
    assert_eq!(words("pairs quince --kind sp"), ["spice", "spirit"]);
    assert_eq!(words("season oc"), ["october"]);
    assert_eq!(words("season quince, mez"), ["mezcal"]);
    assert_eq!(words("bench c"), ["carbonate", "chill", "cut"]);
    assert_eq!(words("bench chill neg"), ["Negroni"]);
    assert_eq!(words("bench chill negroni --vessel-o"), ["--vessel-of"]);
    assert_eq!(words("balance negroni --dilution h"), ["heat", "house"]);
    assert_eq!(words("che"), ["check"]);
    assert_eq!(words("check --al"), ["--all"]);
    assert!(words("check --all ").iter().all(|w| w.starts_with("--")), "it takes no names");
    assert_eq!(hint("bench cut ", &library).as_deref(), Some("700 ml of 57.7 % to 43 %"));
    assert_eq!(words("tune negroni too sw"), ["sweet"]);
    assert_eq!(words("tune negr"), words("work negr"));
    assert!(!words("tune negr").is_empty());
    assert_eq!(words("riff negroni --strength h"), ["half"]);
    assert_eq!(words("batch negroni --style fr"), ["freezer"]);
    assert_eq!(words("batch negroni --bottle 7"), ["700ml", "750ml"]);
    assert_eq!(words("card negr"), words("work negr"));
    assert_eq!(words("cost negroni --prices d"), ["demo"]);
    assert_eq!(words("bench carbonate 2 volumes --bottle b"), ["beer"]);
    assert!(complete("riff negroni --longer --wi", &library).words.contains(&"--with".to_owned()));
    assert_eq!(complete("pairs quince, mez", &library).start, "pairs quince, ".len());
    assert_eq!(hint("pairs qui", &library).as_deref(), Some("nce"));
}

#[test]
fn every_command_has_help_with_two_examples() {
    let command = Cli::command();
    for name in COMMANDS {
        let sub = command.find_subcommand(name).unwrap();
        let help = sub.get_after_help().unwrap().to_string();
        let examples: Vec<&str> = help.lines().skip(1).map(str::trim).collect();
        assert_eq!(examples.len(), 2, "{name}");
        assert!(sub.get_about().is_some(), "{name}");
    }
    let subs: Vec<&str> = command.get_subcommands().map(clap::Command::get_name).collect();
    assert_eq!(subs, COMMANDS);
}

/// docs/commands.md, made from the commands themselves.
fn manual() -> String {
    let mut text = String::from(
        "# Commands\n\nMade from the program's own help; a test holds it against it.\nThe same at the shell (`medlar pairs quince`) and at the prompt (`pairs quince`).\n",
    );
    let mut command = Cli::command().term_width(100);
    command.build();
    let section = |level: &str, name: &str, command: &mut clap::Command| {
        let help = command.render_long_help().to_string();
        let lines: Vec<&str> = help.lines().map(str::trim_end).collect();
        format!("\n{level} {name}\n\n```text\n{}\n```\n", lines.join("\n").trim_end())
    };
    for name in COMMANDS {
        let command = command.find_subcommand_mut(name).unwrap();
        text.push_str(&section("##", name, command));
        for job in command.get_subcommands_mut() {
            let name = format!("{name} {}", job.get_name());
            text.push_str(&section("###", &name, job));
        }
    }
    text
}

#[test]
fn the_manual_is_what_the_program_says() {
    let path = root("docs/commands.md");
    if std::env::var_os("MEDLAR_WRITE_MANUAL").is_some() {
        fs::write(&path, manual()).unwrap();
    }
    assert_eq!(
        fs::read_to_string(path).unwrap(),
        manual(),
        "run the test with MEDLAR_WRITE_MANUAL=1 and read it"
    );
}

#[test]
fn the_readme_says_what_the_program_says() {
    let readme = fs::read_to_string(root("README.md")).unwrap();
    assert!(readme.lines().count() < 150, "{}", readme.lines().count());
    for command in ["cargo run --release", "cargo test"] {
        assert!(readme.contains(&format!("\n{command}\n")), "{command}");
    }
    let session = readme.split("```text\n").nth(1).unwrap().split("```").next().unwrap();
    let library = Arc::new(Library::of(read_built_in()).unwrap());
    let mut talk = Session::new(Arc::clone(&library), Settings::default(), Today(Month::Oct), PLAIN);
    let mut asked = 0;
    for part in session.split("medlar> ").skip(1) {
        let (line, shown) = part.split_once('\n').unwrap();
        let outcome = talk.answer(line);
        assert_eq!(shown.trim_end(), outcome.out.trim_end(), "medlar> {line}");
        asked += 1;
    }
    assert!(asked >= 3, "{asked}");
}

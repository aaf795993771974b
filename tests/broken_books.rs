//! House books that are broken in one way: the book opens, every good record is there, what is wrong is told, nothing is
//! changed by looking, and what `check --mend --yes` moves is not lost.
#![cfg(unix)]
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod bar;
#[path = "broken_books/disk.rs"]
mod disk;
#[path = "broken_books/good.rs"]
mod good;

use std::fs::{self, File};
use std::os::unix::fs::{PermissionsExt, symlink};
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;

use assert_cmd::cargo::cargo_bin;
use disk::{everything, lost};
use medlar::console::{Library, Outcome, Session};
use tempfile::TempDir;

/// A good book in a folder of its own, with a place beside it.
struct Bar {
    around: TempDir,
}

impl Bar {
    fn new() -> Self {
        let around = tempfile::tempdir().unwrap();
        good::book(&around.path().join("house"));
        Self { around }
    }

    fn house(&self) -> PathBuf {
        self.around.path().join("house")
    }

    fn library(&self) -> Arc<Library> {
        bar::weir_over(&self.house())
    }

    fn session(&self) -> Session {
        // Other dice and a later hour than those the book was made with.
        bar::session_on(self.library(), bar::clock_from(3600))
    }

    /// The program on the book, with nothing around it.
    fn program(&self, words: &[&str]) -> Command {
        let mut command = Command::new(cargo_bin!("medlar"));
        command.env_clear().env("HOME", "/nonexistent").env("COLUMNS", "80").env("MEDLAR_MONTH", "10");
        command.arg("--pack").arg(bar::weir_pack()).arg("--book").arg(self.house()).args(words);
        command
    }

    /// A text with the house's folder named `<house>`.
    fn plain(&self, text: &str) -> String {
        assert_harmless(text);
        text.replace(&self.house().display().to_string(), "<house>")
    }
}

/// Nothing that acts on a screen, and no panic.
fn assert_harmless(text: &str) {
    let acts = |c: char| {
        (c.is_control() && c != '\n') || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    assert!(!text.chars().any(acts), "what acts on a screen got through: {text:?}");
    assert!(!text.contains("panicked"), "{text}");
}

/// Status, answer and errors of the program.
fn run(command: &mut Command) -> (i32, String, String) {
    let output = command.output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (output.status.code().unwrap(), text(output.stdout), text(output.stderr))
}

/// Breaks a good book, and holds the program against it. `left_out` are the records that cannot be read.
fn broken(name: &str, left_out: &[&str], harm: impl FnOnce(&Path)) {
    let bar = Bar::new();
    let good = good::held(&bar.library());
    assert!(good.len() >= 15, "{:?}", good.keys());
    harm(&bar.house());
    let before = everything(&bar.house());

    let mut there = good.clone();
    for path in left_out {
        assert!(there.remove(*path).is_some(), "{path} is no record of the good book");
    }
    let library = bar.library();
    let held = good::held(&library);
    for (path, what) in &there {
        assert_eq!(held.get(path), Some(what), "{name}: {path}");
    }
    for path in left_out {
        assert_eq!(held.get(*path), None, "{name}: {path}");
    }

    let mut session = bar.session();
    let Outcome { out, err: warning, status, .. } = session.answer("show quince");
    assert_eq!(status, 0, "{name}: {out}{warning}");
    let proposed = bar::told(&mut session, "check --mend");
    let (status, shell, shell_warning) = run(&mut bar.program(&["check", "--mend"]));
    assert_eq!(
        (status, shell.as_str(), shell_warning.as_str()),
        (0, proposed.as_str(), warning.as_str()),
        "{name}"
    );
    let (status, out, _) = run(&mut bar.program(&["check", "--json"]));
    assert_eq!(status, 0, "{name}");
    assert_harmless(&out);
    let data: serde_json::Value = serde_json::from_str(&out).unwrap();
    let told = data["house"]["faults"].as_array().unwrap().len()
        + data["house"]["problems"].as_array().unwrap().len();
    assert!(told > 0, "{name}: {data}");
    for line in ["check", "book", "history", "pairs quince", "list", "prices"] {
        assert_harmless(&session.answer(line).out);
    }
    assert_eq!(everything(&bar.house()), before, "{name}: looking changed something");

    let Outcome { out: done, status, .. } = session.answer("check --mend --yes");
    assert_eq!(status, 0, "{name}: {done}");
    let after = everything(&bar.house());
    assert_eq!(lost(&before, &after), Vec::<PathBuf>::new(), "{name}: lost");
    assert!(!done.contains("Not done"), "{name}: {done}");
    let again = bar.session().answer("check --mend").out;
    assert!(!again.contains("What can be done"), "{name}: not everything that can be done was done\n{again}");
    let settled = everything(&bar.house());
    bar.session().answer("check --mend --yes");
    let only_lock = |all: &std::collections::BTreeMap<PathBuf, disk::Thing>| {
        all.iter()
            .filter(|(p, _)| p.as_path() != Path::new(".lock"))
            .map(|(p, t)| (p.clone(), t.clone()))
            .collect::<Vec<_>>()
    };
    assert_eq!(
        only_lock(&everything(&bar.house())),
        only_lock(&settled),
        "{name}: a second time changed more"
    );
    let whole = format!(
        "--- at the start\n{warning}--- check --mend\n{proposed}--- check --mend --yes\n{done}--- check --mend\n{again}"
    );
    insta::assert_snapshot!(format!("broken_{name}"), bar.plain(&whole));
}

fn text_of(file: PathBuf) -> String {
    fs::read_to_string(file).unwrap()
}

fn change(file: PathBuf, from: &str, to: &str) {
    let text = text_of(file.clone());
    assert!(text.contains(from), "{}: {text}", file.display());
    fs::write(file, text.replacen(from, to, 1)).unwrap();
}

/// Everything that speaks of damson gin, and the ingredient itself.
const DAMSON: [&str; 5] = [
    "affinities/damson-gin--mezcal.ron",
    "ingredients/damson-gin.ron",
    "prices/damson-gin.ron",
    "specs/weir-sour.ron",
    "stock/damson-gin.ron",
];

#[test]
fn truncated() {
    broken("truncated", &["specs/weir-sour.ron", "prices/mezcal.ron"], |house| {
        let spec = house.join("specs/weir-sour.ron");
        let text = text_of(spec.clone());
        fs::write(spec, &text[..text.len() / 2]).unwrap();
        fs::write(house.join("prices/mezcal.ron"), "").unwrap();
    });
}

#[test]
fn truncated_where_others_speak_of_it() {
    broken("truncated_ingredient", &DAMSON, |house| {
        let file = house.join("ingredients/damson-gin.ron");
        let text = text_of(file.clone());
        fs::write(file, &text[..text.len() - 5]).unwrap();
    });
}

#[test]
fn merged_badly() {
    broken("merged_badly", &["prices/mezcal.ron", "stock/mezcal.ron"], |house| {
        for file in ["prices/mezcal.ron", "stock/mezcal.ron"] {
            let text = text_of(house.join(file));
            let marked: String = text
                .lines()
                .map(|line| match line.trim().split(':').next() {
                    Some("paid" | "level") => {
                        format!("<<<<<<< HEAD\n{line}\n=======\n{line} // theirs\n>>>>>>> the-orchard-bar\n")
                    }
                    _ => format!("{line}\n"),
                })
                .collect();
            assert!(marked.contains("<<<<<<<"));
            fs::write(house.join(file), marked).unwrap();
        }
    });
}

#[test]
fn of_a_later_version() {
    broken("later_version", &["prices/mezcal.ron", "ingredients/quince.ron"], |house| {
        change(house.join("prices/mezcal.ron"), "format: 1", "format: 2");
        let later = "(format: 7, ingredient: (id: \"quince\", colour: \"yellow\", of: { 1: [2] }))";
        fs::write(house.join("ingredients/quince.ron"), later).unwrap();
    });
}

#[test]
fn a_head_that_cannot_be_read() {
    broken("head", &[], |house| fs::write(house.join("house.ron"), "(format: 1, name: \"Weir").unwrap());
}

#[test]
fn a_head_of_a_later_version_leaves_the_book_out_whole() {
    let bar = Bar::new();
    change(bar.house().join("house.ron"), "format: 1", "format: 2");
    let before = everything(&bar.house());
    assert!(good::held(&bar.library()).is_empty());
    let mut session = bar.session();
    let warning = session.answer("show quince").err;
    let mut told = format!("--- at the start\n{warning}");
    for line in ["check --mend", "check --mend --yes", "goes quince, mint 0.5", "undo --house"] {
        let refused = bar::refused(&mut session, line);
        told.push_str(&format!("--- {line}\n{refused}"));
    }
    let (status, out, err) = run(&mut bar.program(&["stock", "mezcal", "out"]));
    assert_eq!((status, out.as_str()), (1, ""));
    told.push_str(&format!("--- the program: stock mezcal out\n{err}"));
    let mut after = everything(&bar.house());
    // Whoever means to write takes the lock first, and says in it what for.
    after.insert(PathBuf::from(".lock"), before[Path::new(".lock")].clone());
    assert_eq!(after, before);
    insta::assert_snapshot!("broken_head_of_a_later_version", bar.plain(&told));
}

#[test]
fn one_id_twice() {
    broken("one_id_twice", &[], |house| {
        let copied = house.join("ingredients/sloe-gin.ron");
        fs::copy(house.join("ingredients/damson-gin.ron"), copied).unwrap();
    });
}

#[test]
fn one_id_in_two_folders() {
    broken("one_id_in_two_folders", &["specs/weir-sour.ron"], |house| {
        let template =
            good::TEMPLATE.replace("lock-gate", "weir-sour").replace("Lock Gate", "Weir Sour of old");
        fs::write(house.join("templates/weir-sour.ron"), template).unwrap();
    });
}

#[test]
fn no_number() {
    let left_out = [
        "affinities/mezcal--quince.ron",
        "ingredients/quince.ron",
        "settings/measures.ron",
        "tastings/2026-11-27-0000000b.ron",
        "weighings/2026-11-27-0000000e.ron",
    ];
    broken("no_number", &left_out, |house| {
        for (file, from, to) in [
            (left_out[0], "goes(0.9)", "goes(NaN)"),
            (left_out[1], "0.6", "-NaN"),
            (left_out[2], "0.9", "inf"),
            (left_out[3], "score: 9.0", "score: NaN"),
            (left_out[4], "before: 90.0", "before: NaN"),
        ] {
            change(house.join(file), from, to);
        }
    });
}

#[test]
fn two_gigabytes_of_nothing() {
    broken("two_gigabytes", &["stock/mezcal.ron"], |house| {
        for file in ["stock/mezcal.ron", "stock/peach.ron", "ingredients/what-is-this.ron"] {
            File::create(house.join(file)).unwrap().set_len(2 << 30).unwrap();
        }
    });
}

#[test]
fn ten_thousand_deep() {
    broken("deep", &["stock/mezcal.ron", "prices/mezcal.ron", "ingredients/quince.ron"], |house| {
        let deep = |open: &str, close: &str| format!("{}{}", open.repeat(10_000), close.repeat(10_000));
        let files = [
            ("stock/mezcal.ron", format!("(format: 1, stock: (of: \"mezcal\", level: {}))", deep("[", "]"))),
            ("prices/mezcal.ron", deep("(", ")")),
            (
                "ingredients/quince.ron",
                format!("(format: 1, ingredient: (id: \"quince\", {} name: 1))", deep("/*", "*/")),
            ),
            ("ingredients/of-some.ron", format!("(format: 1, ingredient: (id: {}))", deep("Some(", ")"))),
            ("ingredients/of-open.ron", "{\"a\":".repeat(10_000)),
            ("specs/of-marks.ron", format!("{}(format: 1, spec: ())", "#![enable(".repeat(6_000))),
            ("settings/of-fields.ron", format!("(format: 1, measures: {}", "(dash: ".repeat(9_000))),
        ];
        for (file, text) in files {
            fs::write(house.join(file), text).unwrap();
        }
    });
}

#[test]
fn a_deep_head() {
    broken("deep_head", &[], |house| {
        fs::write(house.join("house.ron"), format!("(format: 1, name: {}", "[".repeat(10_000))).unwrap();
    });
}

#[test]
fn links() {
    broken("links", &["prices/mezcal.ron", "weighings/2026-11-27-0000000e.ron"], |house| {
        symlink("loop.ron", house.join("ingredients/loop.ron")).unwrap();
        symlink("..", house.join("specs/up")).unwrap();
        let outside = house.parent().unwrap().join("outside.ron");
        fs::rename(house.join("prices/mezcal.ron"), &outside).unwrap();
        symlink(&outside, house.join("prices/mezcal.ron")).unwrap();
        fs::rename(house.join("weighings"), house.parent().unwrap().join("weighings")).unwrap();
        symlink("weighings", house.join("weighings")).unwrap();
    });
}

#[test]
fn a_history_that_leads_nowhere() {
    broken("history_link", &[], |house| {
        fs::rename(house.join("history"), house.join("aside-history")).unwrap();
        symlink("history", house.join("history")).unwrap();
    });
}

#[test]
fn a_broken_history() {
    broken("history_lines", &[], |house| {
        let log = fs::read_dir(house.join("history")).unwrap().next().unwrap().unwrap().path();
        let text = text_of(log.clone());
        let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
        let clash = lines.iter_mut().find(|line| line.contains("two kinds of sweet")).unwrap();
        *clash = clash.replacen("sweet", "sour", 1);
        fs::write(&log, format!("{}\nff", lines.join("\n"))).unwrap();
    });
}

#[test]
fn half_renamed() {
    broken("half_renamed", &["prices/mezcal.ron", "affinities/mezcal--quince.ron"], |house| {
        let writer = text_of(house.join(".writer")).trim().to_owned();
        fs::write(house.join(format!("ingredients/.{writer}-99-0.tmp")), "(format: 1, ingr").unwrap();
        fs::write(house.join("ingredients/.0badcafe-3-1.tmp"), "(format: 1").unwrap();
        fs::write(house.join(".house.ron.tmp"), "(form").unwrap();
        fs::write(house.join("stock/saved by something else.tmp"), "(x").unwrap();
        fs::rename(house.join("prices/mezcal.ron"), house.join("prices/mescal.ron")).unwrap();
        let pair = house.join("affinities/mezcal--quince.ron");
        fs::rename(pair, house.join("affinities/Quince & Mezcal.ron")).unwrap();
        fs::rename(house.join("stock/damson-gin.ron"), house.join("stock/damson-gin.ron.tmp")).unwrap();
        fs::copy(house.join("stock/damson-gin.ron.tmp"), house.join("stock/damson-gin.ron")).unwrap();
    });
}

#[test]
fn left_by_one_who_lost_the_lock() {
    // Where no lock says that the last program was done, what it had begun and never made is swept by the next change.
    let bar = Bar::new();
    let good = good::held(&bar.library());
    let writer = text_of(bar.house().join(".writer")).trim().to_owned();
    let begun = bar.house().join(format!("ingredients/.{writer}-99-0.tmp"));
    fs::write(&begun, "(format: 1, ingr").unwrap();
    fs::remove_file(bar.house().join(".lock")).unwrap();
    let mut session = bar.session();
    assert_eq!(good::held(&bar.library()), good);
    assert!(bar::told(&mut session, "check --mend").contains("Nothing is broken"));
    assert!(begun.exists());
    bar::told(&mut session, "stock mezcal out");
    assert!(!begun.exists());
}

#[test]
fn names_that_differ_by_case() {
    broken("case", &["prices/mezcal.ron"], |house| {
        fs::copy(house.join("ingredients/quince.ron"), house.join("ingredients/Quince.ron")).unwrap();
        fs::create_dir(house.join("Ingredients")).unwrap();
        fs::copy(house.join("ingredients/quince.ron"), house.join("Ingredients/quince.ron")).unwrap();
        fs::rename(house.join("prices/mezcal.ron"), house.join("prices/Mezcal.RON")).unwrap();
    });
}

#[test]
fn folders_for_files_and_files_for_folders() {
    broken("folders", &["stock/mezcal.ron", "weighings/2026-11-27-0000000e.ron"], |house| {
        fs::remove_file(house.join("stock/mezcal.ron")).unwrap();
        fs::create_dir(house.join("stock/mezcal.ron")).unwrap();
        fs::create_dir(house.join("specs/old")).unwrap();
        fs::copy(house.join("specs/weir-sour.ron"), house.join("specs/old/weir-sour.ron")).unwrap();
        fs::rename(house.join("weighings"), house.join("kept")).unwrap();
        fs::write(house.join("weighings"), "a file").unwrap();
    });
}

#[test]
fn a_pipe_for_a_file() {
    broken("pipe", &["stock/mezcal.ron"], |house| {
        fs::remove_file(house.join("stock/mezcal.ron")).unwrap();
        for file in ["stock/mezcal.ron", "specs/pipe"] {
            assert!(Command::new("mkfifo").arg(house.join(file)).status().unwrap().success());
        }
    });
}

#[test]
fn what_acts_on_a_screen() {
    broken(
        "control",
        &["stock/mezcal.ron", "prices/mezcal.ron", "weighings/2026-11-27-0000000e.ron"],
        |house| {
            let red = "\u{1b}[31m\u{7}\u{9b}2J\u{202e}";
            change(house.join("stock/mezcal.ron"), "level: low", &format!("level: low{red}"));
            change(house.join("prices/mezcal.ron"), "size:", &format!("note: \"from {red}\", size:"));
            change(house.join("weighings/2026-11-27-0000000e.ron"), "id: \"", &format!("id: \"{red}"));
            fs::write(house.join(format!("ingredients/{red}.ron")), "(format: 1, ingredient: ())").unwrap();
            fs::write(house.join("tastings/a\nb.ron"), red).unwrap();
            fs::write(house.join("specs/bel.ron"), format!("(format: 1, {red}: (), spec: (\"{red}\": 1))"))
                .unwrap();
            fs::write(house.join("house.ron"), format!("(format: 1, {red}")).unwrap();
        },
    );
}

#[test]
fn not_text() {
    broken("not_text", &["stock/mezcal.ron", "prices/mezcal.ron", "settings/measures.ron"], |house| {
        let wide: Vec<u8> =
            text_of(house.join("stock/mezcal.ron")).encode_utf16().flat_map(u16::to_le_bytes).collect();
        fs::write(house.join("stock/mezcal.ron"), [&[0xff, 0xfe][..], &wide].concat()).unwrap();
        fs::write(house.join("prices/mezcal.ron"), [0u8; 512]).unwrap();
        let text = text_of(house.join("settings/measures.ron"));
        fs::write(house.join("settings/measures.ron"), format!("{text}\u{0}")).unwrap();
    });
}

#[test]
fn as_other_editors_write_it() {
    // A mark at the start and other line ends are no fault: an editor put them there.
    let bar = Bar::new();
    let good = good::held(&bar.library());
    for file in ["stock/mezcal.ron", "ingredients/quince.ron", "specs/weir-sour.ron"] {
        let text = text_of(bar.house().join(file)).replace('\n', "\r\n");
        fs::write(bar.house().join(file), format!("\u{feff}{text}")).unwrap();
    }
    assert_eq!(good::held(&bar.library()), good);
    let mut session = bar.session();
    bar::told(&mut session, "stock mezcal out");
    bar::told(&mut session, "edit quince --loudness 0.7");
    let text = text_of(bar.house().join("stock/mezcal.ron"));
    assert!(
        text.starts_with('\u{feff}') && text.matches("\r\n").count() == text.matches('\n').count(),
        "{text:?}"
    );
}

#[test]
fn without_permission() {
    let bar = Bar::new();
    let house = bar.house();
    let open = |path: &Path, mode: u32| fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
    open(bar.around.path(), 0o755);
    for path in everything(&house).keys() {
        let path = house.join(path);
        open(&path, if path.is_dir() { 0o777 } else { 0o666 });
    }
    open(&house, 0o777);
    let closed = house.join("stock/mezcal.ron");
    open(&closed, 0o000);
    open(&house.join("weighings"), 0o000);
    // Root reads what is closed: then the program runs as someone who is nobody, if it may be run by them.
    let is_root = File::open(&closed).is_ok();
    let program = |words: &[&str]| {
        let mut command = bar.program(words);
        if is_root {
            command.uid(65534).gid(65534);
        }
        command
    };
    if program(&["--version"]).output().is_ok_and(|o| o.status.success()) {
        let before = everything(&house);
        let (status, out, warning) = run(&mut program(&["show", "quince"]));
        assert_eq!(status, 0, "{out}{warning}");
        let (status, counted, _) = run(&mut program(&["book", "--json"]));
        let counted: serde_json::Value = serde_json::from_str(&counted).unwrap();
        assert_eq!((status, &counted["faults"]), (0, &serde_json::json!(2)));
        assert_eq!(counted["counts"]["on the back bar"], 1);
        assert_eq!(counted["counts"]["prices"], 2);
        let (status, proposed, _) = run(&mut program(&["check", "--mend"]));
        assert_eq!(status, 0);
        assert_eq!(everything(&house), before);
        let (_, done, not) = run(&mut program(&["check", "--mend", "--yes"]));
        assert_eq!(everything(&house), before, "{done}{not}");
        // What is closed is not written over either.
        let (status, out, refused) = run(&mut program(&["stock", "mezcal", "out"]));
        assert_eq!((status, out.as_str()), (1, ""));
        // And a book that cannot be written is read all the same.
        open(&house, 0o555);
        open(&house.join("ingredients"), 0o555);
        let (status, out, not_written) = run(&mut program(&["edit", "quince", "--loudness", "0.3"]));
        assert_eq!((status, out.as_str()), (1, ""));
        open(&house, 0o777);
        open(&house.join("ingredients"), 0o777);
        let told = format!(
            "--- at the start\n{warning}--- check --mend\n{proposed}--- check --mend --yes\n{done}{not}--- stock mezcal out\n{refused}--- in a folder that cannot be written\n{not_written}"
        );
        insta::assert_snapshot!("broken_without_permission", bar.plain(&told));
    } else {
        println!("skipped: root reads everything, and nobody else may run the program here");
    }
    open(&house.join("weighings"), 0o755);
}

#[test]
fn names_that_would_leave_the_folder_or_mean_a_device() {
    let bar = Bar::new();
    let before = everything(bar.around.path());
    let mut session = bar.session();
    let long = "x".repeat(300);
    let lines = [
        "new ingredient ../../etc --kind fruit".to_owned(),
        "new ingredient /etc/passwd --kind fruit".to_owned(),
        "new ingredient con --kind fruit".to_owned(),
        "new ingredient COM1 --kind fruit".to_owned(),
        "new ingredient .. --kind fruit".to_owned(),
        "new ingredient 'C:\\nul' --kind fruit".to_owned(),
        "new ingredient ~ --kind fruit".to_owned(),
        format!("new ingredient {long} --kind fruit"),
        "save negroni as ../../../tmp/x".to_owned(),
        "save negroni as aux".to_owned(),
        "rename damson gin to ../damson".to_owned(),
        "rename damson gin to nul".to_owned(),
        "history ../../../etc/passwd".to_owned(),
        "undo --house ../ingredients/quince.ron".to_owned(),
        "remove ../ingredients/quince.ron".to_owned(),
        "new prep ../../etc --like honey syrup".to_owned(),
        "new ingredient '\u{1b}[31mred' --kind fruit".to_owned(),
        "stock ../../etc out".to_owned(),
        "book merge /nonexistent/a /nonexistent/b /nonexistent/c ../../x".to_owned(),
    ];
    let mut told = String::new();
    for line in lines {
        let Outcome { out, err, status, .. } = session.answer(&line);
        let shown = line.replace(&long, "<300 letters>").replace('\u{1b}', "<escape>");
        told.push_str(&format!(
            "--- {shown}\nstatus {status}\n{}",
            format!("{out}{err}").replace(&long, "<300 letters>")
        ));
    }
    for (path, _) in everything(bar.around.path()) {
        let is_new = !before.contains_key(&path);
        let shown = path.to_string_lossy().into_owned();
        let good =
            |part: &str| part.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-');
        if is_new {
            let stem = shown.strip_prefix("house/").and_then(|p| p.strip_suffix(".ron"));
            assert!(stem.is_some_and(|s| s.split('/').count() == 2 && s.split('/').all(good)), "{shown}");
            told.push_str(&format!("new: {shown}\n"));
        }
    }
    assert_eq!(bar.session().answer("show quince").err, "", "the book is whole");
    insta::assert_snapshot!("broken_names", bar.plain(&told));
}

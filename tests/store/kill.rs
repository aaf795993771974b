//! A program that writes is killed at random moments.

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command as Process, Stdio};
use std::time::Duration;

use fastrand::Rng;
use medlar::book::{Folder, RecordPath, Store, Which};

use super::common::{Command, Texts, path, seed, texts};

const FOLDER: &str = "MEDLAR_STORE_TEST_FOLDER";
const SEED: &str = "MEDLAR_STORE_TEST_SEED";
const RECORDS: [&str; 4] = ["ingredients/quince.ron", "specs/sour.ron", "specs/long.ron", "stock/quince.ron"];

/// A test of this file as a program of its own.
pub fn child(test: &str, folder: &Path, seed: u64) -> Process {
    let mut process = Process::new(std::env::current_exe().unwrap());
    process.args(["--exact", test, "--ignored", "--nocapture", "--test-threads=1"]);
    process.env(FOLDER, folder).env(SEED, seed.to_string()).stdout(Stdio::piped());
    process
}

/// What the child was given: a book and dice.
pub fn given() -> Option<(Store<Folder>, Rng)> {
    let folder = std::env::var_os(FOLDER)?;
    let seed = std::env::var(SEED).ok()?.parse().ok()?;
    Some((Store::at(Path::new(&folder)), Rng::with_seed(seed)))
}

/// Texts in a word: the number in each record, or a hyphen.
fn word(texts: &Texts) -> String {
    let number =
        |path: RecordPath| texts.get(&path).map_or("-", |text| text.split('\n').next().unwrap()).to_owned();
    RECORDS.map(|record| number(path(record))).join(",")
}

/// Says something to the parent past the test's own capturing.
pub fn say(words: &str) {
    let mut out = std::io::stdout().lock();
    writeln!(out, "{words}").unwrap();
    out.flush().unwrap();
}

#[test]
#[ignore = "a program that the test below starts and kills"]
fn a_child_that_writes() {
    let Some((store, mut rng)) = given() else { return };
    let mut now = texts(&store);
    for n in 0.. {
        let fresh = || {
            let mut wanted = now.clone();
            let text = format!("{}\n{}", rng.u32(..), "x".repeat(rng.usize(..6000)));
            for _ in 0..rng.usize(1..=3) {
                let record = path(RECORDS[rng.usize(..RECORDS.len())]);
                if rng.u8(..6) == 0 {
                    wanted.remove(&record)
                } else {
                    wanted.insert(record, text.clone())
                };
            }
            let files = RECORDS.map(path).into_iter().filter(|p| wanted.get(p) != now.get(p));
            Command::Change(files.map(|p| (p.clone(), wanted.get(&p).cloned())).collect())
        };
        let mut fresh = fresh;
        let command = match n % 5 {
            3 => Command::Undo(Which::Last),
            4 => Command::Redo(Which::Last),
            _ => fresh(),
        };
        // What the command will make of the texts.
        let mut wanted = now.clone();
        match &command {
            Command::Change(files) => {
                for (path, text) in files {
                    match text {
                        Some(text) => wanted.insert(path.clone(), text.clone()),
                        None => wanted.remove(path),
                    };
                }
            }
            Command::Undo(_) | Command::Redo(_) => {
                let undoing = matches!(command, Command::Undo(_));
                let history = store.history().unwrap();
                let entry = history
                    .entries
                    .iter()
                    .rev()
                    .find(|e| e.turn == medlar::book::Turn::Did && e.stands == undoing);
                let Some(entry) = entry else { continue };
                for file in &entry.files {
                    match if undoing { &file.before } else { &file.after } {
                        Some(text) => wanted.insert(file.path.clone(), text.clone()),
                        None => wanted.remove(&file.path),
                    };
                }
            }
        }
        say(&format!("trying {}", word(&wanted)));
        if let Some(id) = command.run(&store, n).unwrap() {
            say(&format!("done {} {id}", word(&wanted)));
        }
        now = wanted;
    }
}

#[test]
fn what_was_acknowledged_survives_a_kill() {
    let kills: u32 = std::env::var("MEDLAR_KILLS").ok().and_then(|n| n.parse().ok()).unwrap_or(60);
    let mut rng = seed("kill");
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path().join("weir-house");
    let store = Store::at(&root);
    let mut acknowledged: Vec<String> = Vec::new();
    let mut now = word(&texts(&store));
    let mut in_the_middle = 0;
    for kill in 0..kills {
        let mut child = child("kill::a_child_that_writes", &root, rng.u64(..)).spawn().unwrap();
        let out = BufReader::new(child.stdout.take().unwrap());
        let wait = Duration::from_micros(rng.u64(0..60_000));
        let (sender, lines) = std::sync::mpsc::channel();
        let reader = std::thread::spawn(move || {
            for line in out.split(b'\n') {
                if sender.send(line.unwrap()).is_err() {
                    break;
                }
            }
        });
        // From its first word on.
        let mut said = Vec::new();
        while !said.iter().any(|line: &Vec<u8>| line.starts_with(b"trying")) {
            said.push(lines.recv().unwrap());
        }
        std::thread::sleep(wait);
        child.kill().unwrap();
        child.wait().unwrap();
        reader.join().unwrap();
        said.extend(lines.try_iter());
        let mut trying = now.clone();
        for line in said {
            let line = String::from_utf8_lossy(&line).into_owned();
            if let Some(word) = line.strip_prefix("trying ") {
                word.clone_into(&mut trying);
            } else if let Some((word, id)) = line.strip_prefix("done ").and_then(|rest| rest.split_once(' '))
            {
                word.clone_into(&mut now);
                acknowledged.push(id.to_owned());
            }
        }
        let seen = word(&texts(&store));
        assert!(seen == now || seen == trying, "kill {kill}: {seen}, acknowledged {now}, trying {trying}");
        in_the_middle += usize::from(now != trying);
        let history = store.history().unwrap();
        let ids: Vec<String> = history.entries.iter().map(|entry| entry.id.to_string()).collect();
        for id in &acknowledged {
            assert_eq!(ids.iter().filter(|other| *other == id).count(), 1, "kill {kill}: {id}");
        }
        now = seen;
    }
    println!(
        "{kills} kills, {in_the_middle} of them in the middle of a change, {} changes acknowledged",
        acknowledged.len()
    );
    assert!(in_the_middle > 0, "a child was killed while it was changing something");
    Command::writing(&[("settings/after.ron", "after")]).run(&store, 0).unwrap();
    assert_eq!(store.read().unwrap().problems, []);
    assert_eq!(store.history().unwrap().problems, []);
}

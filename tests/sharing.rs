//! Two bars that share a house book with git, by the commands that the program itself prints.
//!
//! `MEDLAR_CHANGES` says how many changes each bar makes, `MEDLAR_SEED` from which seed.
#![cfg(unix)]
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod bar;
#[path = "sharing/git.rs"]
mod git;
#[path = "sharing/people.rs"]
mod people;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::time::Instant;

use git::Git;
use medlar::book::{ChangeId, Store};
use medlar::console::Session;
use people::{Hand, Person};

/// How many changes each bar makes, if nothing is said.
const CHANGES: usize = 200;

fn number(name: &str, usual: u64) -> u64 {
    std::env::var(name).ok().map_or(usual, |text| text.parse().unwrap())
}

/// Git, with the program in its path; none if the machine has none.
fn git_or_skip() -> Option<Git> {
    let git = Git::new();
    if git.is_none() {
        println!("skipped: there is no git here");
    }
    git
}

fn session(house: &Path, dice: u64) -> Session {
    bar::session_on(bar::weir_over(house), bar::clock_from(dice))
}

/// A book with a few records, shared as 'book share' says.
fn shared_book(git: &Git, house: &Path) {
    let mut session = session(house, 0);
    for line in people::BEGINNING {
        bar::told(&mut session, line);
    }
    git.share(&mut session);
}

/// The files of a book that travel, by name; its lock and its own name stay at home.
fn files(house: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut all = BTreeMap::new();
    let mut folders = vec![house.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            let name = path.strip_prefix(house).unwrap().display().to_string();
            match name.as_str() {
                ".git" | ".lock" | ".writer" => {}
                _ if path.is_dir() => folders.push(path),
                _ => {
                    all.insert(name, fs::read(&path).unwrap());
                }
            }
        }
    }
    all
}

/// Nothing is wrong with the book, in the program's own word.
fn assert_sound(house: &Path) {
    let mut session = session(house, 900_000);
    assert_eq!(session.answer("book").err, "");
    assert!(bar::told(&mut session, "check --mend").contains("Nothing is broken"));
}

/// The changes that a book's history knows, with what they were.
fn history(house: &Path) -> BTreeMap<ChangeId, String> {
    let history = Store::at(house).history().unwrap();
    assert_eq!(history.problems, []);
    history.entries.into_iter().map(|e| (e.id, format!("{} {:?}", e.what, e.files))).collect()
}

#[test]
fn what_two_bars_change_comes_together_whichever_pulls() {
    let Some(git) = git_or_skip() else { return };
    let changes = usize::try_from(number("MEDLAR_CHANGES", CHANGES as u64)).unwrap();
    let seed = number("MEDLAR_SEED", u64::from(std::process::id()));
    println!("MEDLAR_SEED={seed} MEDLAR_CHANGES={changes}");
    let started = Instant::now();
    let folder = tempfile::tempdir().unwrap();
    let place = |name: &str| folder.path().join(name);
    shared_book(&git, &place("begun"));
    let bars = [("river", Hand::Left), ("orchard", Hand::Right)];
    for (n, (name, hand)) in (1..).zip(bars) {
        git.clone(&place("begun"), &place(name));
        let mut session = session(&place(name), 1000 * n);
        git.share_again(&mut session);
        let mut person = Person::new(hand, seed.wrapping_mul(2).wrapping_add(n));
        for done in 1..=changes {
            person.change(&mut session);
            if done % 17 == 0 {
                git.commit(&place(name));
            }
        }
        git.commit(&place(name));
        println!("{name}: {}, {:.1} s so far", person.tally(), started.elapsed().as_secs_f64());
        assert_sound(&place(name));
    }
    let (river, orchard) = (history(&place("river")), history(&place("orchard")));
    for (into, from) in [("river", "orchard"), ("orchard", "river")] {
        let merged = place(&format!("{into}-merged"));
        git.clone(&place(into), &merged);
        git.share_again(&mut session(&merged, 0));
        git.pull(&merged, &place(from)).unwrap();
        assert_sound(&merged);
        let both = history(&merged);
        for (id, what) in river.iter().chain(&orchard) {
            assert_eq!(both.get(id), Some(what));
        }
        let own: std::collections::BTreeSet<_> = river.keys().chain(orchard.keys()).collect();
        assert_eq!(both.len(), own.len());
    }
    let merged = [files(&place("river-merged")), files(&place("orchard-merged"))];
    assert_eq!(merged[0].keys().collect::<Vec<_>>(), merged[1].keys().collect::<Vec<_>>());
    for (name, bytes) in &merged[0] {
        let text = String::from_utf8_lossy(bytes);
        assert_eq!(text, String::from_utf8_lossy(&merged[1][name]), "{name}, seed {seed}");
    }
    assert!(merged[0].keys().filter(|name| name.starts_with("history/")).count() >= 3);
    undo_of_the_other_bars_change(&place("river-merged"), &orchard, &river);
    println!("{} files, {:.1} s", merged[0].len(), started.elapsed().as_secs_f64());
}

/// A change that only the other bar knows, taken back here, and made again.
fn undo_of_the_other_bars_change(
    house: &Path,
    theirs: &BTreeMap<ChangeId, String>,
    ours: &BTreeMap<ChangeId, String>,
) {
    let before = files(house);
    let mut session = session(house, 5000);
    let only_theirs: Vec<_> = theirs.keys().filter(|id| !ours.contains_key(id)).collect();
    let newest = only_theirs.iter().rev().take(40);
    let mut undone = 0;
    for id in newest {
        let outcome = session.answer(&format!("undo --house {id}"));
        // What was built upon since stays, and is told so.
        if outcome.status == 0 {
            undone += 1;
            assert_ne!(records(&files(house)), records(&before), "{id}");
            bar::told(&mut session, &format!("redo --house {id}"));
            assert_eq!(records(&files(house)), records(&before), "{id}");
        }
    }
    println!("{undone} changes of the other bar undone and redone");
    assert!(undone > 0);
}

fn records(files: &BTreeMap<String, Vec<u8>>) -> BTreeMap<&String, &Vec<u8>> {
    files.iter().filter(|(name, _)| !name.starts_with("history/")).collect()
}

#[test]
fn one_field_changed_by_both_is_shown_and_left_to_a_person() {
    let Some(git) = git_or_skip() else { return };
    let folder = tempfile::tempdir().unwrap();
    let place = |name: &str| folder.path().join(name);
    shared_book(&git, &place("begun"));
    for (n, (name, lines)) in (1..).zip([
        ("river", ["edit damson gin --sugar 240", "stock mezcal out", "edit damson gin --loudness 0.7"]),
        (
            "orchard",
            [
                "edit damson gin --sugar 150",
                "price mezcal 36 EUR for 700 ml",
                "edit damson gin --facet smoke=0.2",
            ],
        ),
    ]) {
        git.clone(&place("begun"), &place(name));
        let mut session = session(&place(name), 1000 * n);
        git.share_again(&mut session);
        for line in lines {
            bar::told(&mut session, line);
        }
        git.commit(&place(name));
    }
    let house = place("river");
    let told = git.pull(&house, &place("orchard")).unwrap_err();
    assert!(told.contains("CONFLICT") && told.contains("ingredients/damson-gin.ron"), "{told}");
    assert!(!told.contains("history/"), "{told}");
    assert!(told.contains("both changed makeup.sugar differently"), "{told}");

    let record = house.join("ingredients/damson-gin.ron");
    let text = fs::read_to_string(&record).unwrap();
    let marked: Vec<&str> = text.lines().map(str::trim).collect();
    let at = |mark: &str| marked.iter().position(|line| line.starts_with(mark)).unwrap();
    let (ours, between, theirs) = (at("<<<<<<<"), at("======="), at(">>>>>>>"));
    assert!(marked[ours + 1..between].iter().all(|l| l.contains("240")), "{text}");
    assert!(marked[between + 1..theirs].iter().all(|l| l.contains("150")), "{text}");
    assert_eq!((between - ours, theirs - between), (2, 2), "only the field that both changed: {text}");
    assert!(text.contains("loudness: 0.7") && text.contains("smoke: 0.2"), "the rest is merged: {text}");

    // The program says so at the start, and leaves out what is not decided.
    let mut open = session(&house, 7000);
    let outcome = open.answer("show mezcal");
    assert!(outcome.err.contains("the house book has"), "{}", outcome.err);
    let check = bar::told(&mut open, "check --mend");
    assert!(
        check.contains("the file holds an unfinished merge: both versions stand in it from line"),
        "{check}"
    );
    assert_ne!(open.answer("show damson gin").status, 0);
    let prices = bar::told(&mut open, "price mezcal");
    assert!(prices.contains("36"), "{prices}");

    // Decided by hand: theirs.
    let decided: Vec<&str> = text
        .lines()
        .enumerate()
        .filter(|(n, _)| !(ours..=between).contains(n) && *n != theirs)
        .map(|(_, line)| line)
        .collect();
    fs::write(&record, decided.join("\n") + "\n").unwrap();
    git.commit(&house);
    assert_sound(&house);
    let shown = bar::told(&mut session(&house, 8000), "show damson gin");
    assert!(shown.contains("150"), "{shown}");
    // And the other bar takes that over without a word.
    git.pull(&place("orchard"), &house).unwrap();
    assert_sound(&place("orchard"));
    assert_eq!(files(&place("orchard")), files(&house));
    let ids = |house: &Path| history(house).into_keys().collect::<Vec<_>>();
    assert_eq!(ids(&place("orchard")), ids(&house));
}

#[test]
fn where_the_program_cannot_be_run_nothing_is_lost() {
    let Some(git) = git_or_skip() else { return };
    let folder = tempfile::tempdir().unwrap();
    let place = |name: &str| folder.path().join(name);
    shared_book(&git, &place("begun"));
    // The first lines have one between them, so git can merge them by itself; the last are one.
    for (n, (name, lines)) in (1..).zip([
        ("river", ["edit damson gin --facet smoke=0.2", "stock mezcal out"]),
        ("orchard", ["alias damson gin = the purple one", "stock mezcal have"]),
    ]) {
        git.clone(&place("begun"), &place(name));
        let mut session = session(&place(name), 1000 * n);
        git.share_again(&mut session);
        for line in lines {
            bar::told(&mut session, line);
        }
        git.commit(&place(name));
    }
    let house = place("river");
    let told = git.without_program().pull(&house, &place("orchard")).unwrap_err();
    assert!(told.contains("stock/mezcal.ron") && !told.contains("history/"), "{told}");
    let stock = fs::read_to_string(house.join("stock/mezcal.ron")).unwrap();
    let marks = ["<<<<<<<", "out", "=======", "have", ">>>>>>>"];
    let at: Vec<usize> = marks.iter().map(|mark| stock.find(mark).unwrap()).collect();
    assert!(at.is_sorted(), "{stock}");
    let merged = fs::read_to_string(house.join("ingredients/damson-gin.ron")).unwrap();
    assert!(merged.contains("smoke: 0.2") && merged.contains("the purple one"), "{merged}");
    let check = session(&house, 7000).answer("check --mend").out;
    assert_eq!(check.matches("unfinished merge").count(), 2, "told, and proposed: {check}");
}

#[test]
fn a_record_removed_here_and_changed_there_is_left_to_a_person() {
    let Some(git) = git_or_skip() else { return };
    let folder = tempfile::tempdir().unwrap();
    let place = |name: &str| folder.path().join(name);
    shared_book(&git, &place("begun"));
    for (n, (name, line)) in
        (1..).zip([("river", "price mezcal --forget"), ("orchard", "price mezcal 36 EUR for 700 ml")])
    {
        git.clone(&place("begun"), &place(name));
        let mut session = session(&place(name), 1000 * n);
        git.share_again(&mut session);
        bar::told(&mut session, line);
        git.commit(&place(name));
    }
    let told = git.pull(&place("river"), &place("orchard")).unwrap_err();
    assert!(told.contains("CONFLICT (modify/delete)") && told.contains("prices/mezcal.ron"), "{told}");
    // Git leaves the text that is there whole, so the book is too.
    assert_sound(&place("river"));
    git.commit(&place("river"));
    git.pull(&place("orchard"), &place("river")).unwrap();
    assert_eq!(files(&place("orchard")), files(&place("river")));
}

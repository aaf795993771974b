//! Every operation of every command fails once, or from then on.

use std::io::ErrorKind;

use fastrand::Rng;
use medlar::book::{Store, StoreFault};

use super::common::{Command, scripts, texts};
use super::memory::{Effect, Loss, Memory, Plan};

fn store(disk: &Memory) -> Store<Memory> {
    Store::on("weir-house", disk.clone())
}

/// What the message has to advise.
fn advice(kind: ErrorKind) -> &'static str {
    match kind {
        ErrorKind::StorageFull => "free some space",
        ErrorKind::PermissionDenied => "who owns the folder",
        ErrorKind::ReadOnlyFilesystem => "make it writable",
        _ => "copy the book",
    }
}

const KINDS: [ErrorKind; 4] =
    [ErrorKind::StorageFull, ErrorKind::PermissionDenied, ErrorKind::ReadOnlyFilesystem, ErrorKind::Other];

#[derive(Debug, Default)]
struct Tally {
    done: usize,
    refused: usize,
    unfinished: usize,
    unsure: usize,
}

fn attack(name: &str, script: &[Command], kind: ErrorKind, effect: Effect, lasts: bool, tally: &mut Tally) {
    let start = Memory::new();
    let (last, before) = script.split_last().unwrap();
    for (n, command) in before.iter().enumerate() {
        command.run(&store(&start), n as u64).unwrap();
    }
    let was = texts(&store(&start));
    let good = start.copy();
    last.run(&store(&good), 50).unwrap();
    let will = texts(&store(&good));
    let acknowledged = store(&start).history().unwrap().entries.len();
    for n in 1.. {
        let disk = start.copy();
        disk.plan(Plan::Fail { n, kind, effect, lasts });
        let answer = last.run(&store(&disk), 50);
        let hit = disk.hit();
        disk.plan(Plan::Well);
        let what = format!("{name}: {kind:?} at {n}, {effect:?}, lasting {lasts}: {answer:?}");
        // What is seen at once, and what is there after all that was not flushed is lost.
        let lost = disk.copy();
        lost.come_back(Loss::All, &mut Rng::with_seed(0));
        for disk in [&disk, &lost] {
            let seen = texts(&store(disk));
            match &answer {
                Ok(_) | Err(StoreFault::Unfinished { .. }) => assert_eq!(seen, will, "{what}"),
                Err(StoreFault::Unsure { .. }) => assert!(seen == was || seen == will, "{what}"),
                Err(_) => assert_eq!(seen, was, "{what}"),
            }
            let after = Command::writing(&[("settings/after.ron", "after")]);
            after.run(&store(disk), 60).unwrap();
            let mut then = seen.clone();
            then.insert(super::common::path("settings/after.ron"), "after".to_owned());
            assert_eq!(texts(&store(disk)), then, "{what}");
            assert_eq!(store(disk).read().unwrap().problems, [], "{what}");
            let history = store(disk).history().unwrap();
            assert_eq!(history.problems, [], "{what}");
            let made = usize::from(seen == will && was != will);
            assert_eq!(history.entries.len(), acknowledged + made + 1, "{what}");
        }
        match &answer {
            Ok(_) => tally.done += 1,
            Err(StoreFault::Unfinished { .. }) => tally.unfinished += 1,
            Err(StoreFault::Unsure { .. }) => tally.unsure += 1,
            Err(_) => tally.refused += 1,
        }
        if let Err(fault) = answer {
            let message = fault.to_string();
            assert!(message.contains(advice(kind)), "{what}: {message}");
        }
        if !hit {
            assert!(n > 8, "{name}: the command does something");
            break;
        }
    }
}

#[test]
fn a_failing_disk_loses_nothing_and_says_what_to_do() {
    let mut tally = Tally::default();
    for (name, script) in scripts() {
        for kind in KINDS {
            for effect in [Effect::Nothing, Effect::Short, Effect::Done] {
                for lasts in [false, true] {
                    attack(name, &script, kind, effect, lasts, &mut tally);
                }
            }
        }
    }
    println!("{tally:?}");
    assert!(tally.done > 0 && tally.refused > 0 && tally.unfinished > 0 && tally.unsure > 0, "{tally:?}");
}

#[test]
fn a_book_that_fails_to_be_read_hides_no_good_record() {
    let disk = Memory::new();
    for (n, command) in scripts()[3].1.iter().enumerate() {
        command.run(&store(&disk), n as u64).unwrap();
    }
    let all = texts(&store(&disk));
    assert_eq!(all.len(), 3);
    let (mut whole, mut told) = (0, 0);
    for n in 1.. {
        disk.plan(Plan::Fail { n, kind: ErrorKind::Other, effect: Effect::Nothing, lasts: false });
        let answer = store(&disk).read();
        let hit = disk.hit();
        disk.plan(Plan::Well);
        if let Ok(contents) = answer {
            let missing = all.len() - contents.texts.len();
            assert!(contents.texts.iter().all(|(path, text)| all.get(path) == Some(text)));
            assert!(missing == 0 || !contents.problems.is_empty(), "at {n}");
            whole += usize::from(missing == 0);
            told += usize::from(missing > 0);
        }
        if !hit {
            break;
        }
    }
    assert!(whole > 0 && told > 0);
}

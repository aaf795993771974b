//! The machine stops at every operation of every command, and loses all, none or some of what was not flushed.

use fastrand::Rng;
use medlar::book::{Disk, Store};

use super::common::{Command, Texts, scripts, seed, texts};
use super::memory::{Loss, Memory, Plan};

const LOSSES: [Loss; 8] =
    [Loss::All, Loss::Nothing, Loss::Killed, Loss::Some, Loss::Some, Loss::Some, Loss::Some, Loss::Some];

fn store(disk: &Memory) -> Store<Memory> {
    Store::on("weir-house", disk.clone())
}

fn with(texts: &Texts, extra: &Command) -> Texts {
    let mut texts = texts.clone();
    if let Command::Change(files) = extra {
        texts.extend(files.iter().map(|(path, text)| (path.clone(), text.clone().unwrap())));
    }
    texts
}

/// Nothing is wrong with a book that was just written.
fn is_clean<D: Disk>(store: &Store<D>, what: &str) {
    let contents = store.read().unwrap();
    assert_eq!(contents.problems, [], "{what}");
    assert_eq!(store.history().unwrap().problems, [], "{what}");
}

/// A disk on which a command goes well after those before it, and what the book then holds, before and after.
fn set_up(script: &[Command]) -> (Memory, Texts, Texts) {
    let disk = Memory::new();
    let (last, before) = script.split_last().unwrap();
    for (n, command) in before.iter().enumerate() {
        command.run(&store(&disk), n as u64).unwrap();
    }
    // Even of what was acknowledged, what was not flushed is gone.
    disk.come_back(Loss::All, &mut Rng::with_seed(0));
    let was = texts(&store(&disk));
    let other = disk.copy();
    last.run(&store(&other), before.len() as u64).unwrap();
    (disk, was, texts(&store(&other)))
}

/// Stops at every operation; gives how many states were looked at.
fn attack(name: &str, script: &[Command], rng: &mut Rng) -> usize {
    let (start, was, will) = set_up(script);
    let last = script.last().unwrap();
    let acknowledged = store(&start).history().unwrap().entries.len();
    // A folder that nothing else uses, or one that the stopped program may have made without flushing it.
    let afters = [("settings/after.ron", "after"), ("ingredients/after.ron", "after")];
    let mut states = 0;
    for n in 1.. {
        let mut stopped = false;
        for loss in LOSSES {
            let after = Command::writing(&[afters[rng.usize(..2)]]);
            let disk = start.copy();
            disk.plan(Plan::Stop(n));
            let answer = last.run(&store(&disk), 50);
            stopped = disk.hit();
            disk.come_back(loss, rng);
            let what = format!("{name}, stopped at {n} ({loss:?}), answer {answer:?}");
            let seen = texts(&store(&disk));
            assert!(seen == was || seen == will, "{what}: {seen:?}");
            assert!(answer.is_err() || seen == will, "{what}: acknowledged and lost: {seen:?}");
            states += 1;

            // The same is seen when it was put right, which may be stopped too.
            for m in 1.. {
                let disk = disk.copy();
                disk.plan(Plan::Stop(m));
                let again = after.run(&store(&disk), 60);
                let stopped = disk.hit();
                let loss = LOSSES[rng.usize(..LOSSES.len())];
                disk.come_back(loss, rng);
                let what = format!("{what}, then at {m} ({loss:?}), answer {again:?}");
                let then = texts(&store(&disk));
                let whole = [&was, &will].iter().any(|t| then == **t || then == with(t, &after));
                assert!(whole, "{what}: {then:?}");
                if answer.is_ok() || again.is_ok() {
                    assert!(then == seen || then == with(&seen, &after), "{what}: {then:?} after {seen:?}");
                }
                assert!(again.is_err() || then == with(&then, &after), "{what}: acknowledged and lost");
                states += 1;
                if !stopped {
                    break;
                }
            }
            after.run(&store(&disk), 60).unwrap();
            assert_eq!(texts(&store(&disk)), with(&seen, &after), "{what}");
            is_clean(&store(&disk), &what);
            let entries = store(&disk).history().unwrap().entries.len();
            let made = usize::from(seen == will && was != will);
            assert_eq!(entries, acknowledged + made + 1, "{what}");
            assert!(!disk.names().iter().any(|name| name.contains(".tmp")), "{what}: {:?}", disk.names());
        }
        if !stopped {
            assert!(n > 4, "{name}: the command does something");
            break;
        }
    }
    states
}

#[test]
fn whatever_is_lost_the_book_is_whole_and_what_was_acknowledged_is_there() {
    let mut rng = seed("crash");
    let mut states = 0;
    for _ in 0..3 {
        for (name, script) in scripts() {
            states += attack(name, &script, &mut rng);
        }
    }
    println!("{states} states after a stop");
}

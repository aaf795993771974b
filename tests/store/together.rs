//! Several programs at once.

use std::io::Read;
use std::time::{Duration, Instant};

use medlar::book::{Store, StoreFault};

use super::common::{change, path};
use super::kill::{child, given};

const PROGRAMS: u64 = 4;
const CHANGES: u64 = 500;
/// All three always hold the same number.
const RECORDS: [&str; 3] = ["ingredients/count.ron", "specs/count.ron", "stock/count.ron"];

#[test]
#[ignore = "a program that the test below starts"]
fn a_child_that_counts() {
    let Some((store, _)) = given() else { return };
    for n in 0..CHANGES {
        change(&store, n, |sheaf| {
            let now = sheaf.read(&path(RECORDS[0]))?;
            let count = now.map_or(0, |text| text.trim().parse::<u64>().unwrap()) + 1;
            RECORDS.iter().try_for_each(|record| sheaf.write(&path(record), format!("{count}\n")))
        })
        .unwrap();
    }
}

#[test]
fn four_programs_lose_nothing_and_readers_see_no_half() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path().join("weir-house");
    let store = Store::at(&root);
    let mut children: Vec<_> =
        (0..PROGRAMS).map(|n| child("together::a_child_that_counts", &root, n).spawn().unwrap()).collect();
    let (mut reads, mut last) = (0, 0);
    while children.iter_mut().any(|child| child.try_wait().unwrap().is_none()) {
        let contents = store.read().unwrap();
        let counts: Vec<Option<&String>> = RECORDS.iter().map(|r| contents.texts.get(&path(r))).collect();
        assert!(counts.iter().all(|count| *count == counts[0]), "{counts:?}");
        let count = counts[0].map_or(0, |text| text.trim().parse::<u64>().unwrap());
        assert!(count >= last, "{count} after {last}");
        assert!(contents.problems.is_empty(), "{:?}", contents.problems);
        last = count;
        reads += 1;
        std::thread::sleep(Duration::from_millis(1));
    }
    for mut child in children {
        let mut said = String::new();
        child.stdout.take().unwrap().read_to_string(&mut said).unwrap();
        assert!(child.wait().unwrap().success(), "{said}");
    }
    let all = PROGRAMS * CHANGES;
    let contents = store.read().unwrap();
    assert_eq!(contents.texts[&path(RECORDS[0])], format!("{all}\n"));
    assert_eq!(contents.problems, []);
    let history = store.history().unwrap();
    assert_eq!((history.entries.len() as u64, history.problems), (all, Vec::new()));
    println!("{reads} readings between {all} changes");
    assert!(reads > 100);
}

#[test]
fn who_waits_is_told_who_writes() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::at(folder.path());
    let other = Store::at(folder.path()).waiting(Duration::from_millis(50));
    change(&store, 3, |_| {
        let started = Instant::now();
        let fault = change(&other, 4, |sheaf| sheaf.write(&path("specs/a.ron"), "a")).unwrap_err();
        assert!(started.elapsed() >= Duration::from_millis(50));
        let StoreFault::Locked { holder: Some(holder), .. } = &fault else { panic!("{fault}") };
        assert_eq!(holder.pid, std::process::id());
        assert_eq!((holder.since.as_str(), holder.what.as_str()), ("2027-03-01T00:00:03Z", "a change"));
        assert!(fault.to_string().contains("try again"), "{fault}");
        Ok(())
    })
    .unwrap();
    change(&other, 5, |sheaf| sheaf.write(&path("specs/a.ron"), "a")).unwrap();
}

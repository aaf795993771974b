//! What stands in the folder besides good records: bad files hide no good ones, and what a person wrote stays.

use std::fs::{self, File};
use std::path::Path;

use medlar::book::{ChangeFault, Store, StoreFault, Trouble, Which};

use super::common::{change, occasion, path, texts};

const QUINCE: &str = "ingredients/quince.ron";

fn problems<D: medlar::book::Disk>(store: &Store<D>) -> Vec<(String, Trouble)> {
    store.read().unwrap().problems.into_iter().map(|p| (p.path, p.trouble)).collect()
}

fn started(root: &Path) -> Store<medlar::book::Folder> {
    let store = Store::at(root);
    change(&store, 1, |sheaf| sheaf.write(&path(QUINCE), "one")).unwrap();
    store
}

#[test]
fn a_book_that_is_not_there_is_empty_and_stays_away() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path().join("inns/weir-house");
    let store = Store::at(&root);
    let contents = store.read().unwrap();
    assert!(!contents.exists && contents.texts.is_empty() && contents.problems.is_empty());
    assert!(store.history().unwrap().entries.is_empty() && store.leftovers().unwrap().is_empty());
    assert!(!root.exists());
    change(&store, 1, |sheaf| sheaf.write(&path(QUINCE), "one")).unwrap();
    assert!(store.read().unwrap().exists);
    let mut names: Vec<_> = fs::read_dir(&root).unwrap().map(|e| e.unwrap().file_name()).collect();
    names.sort();
    assert_eq!(
        names,
        [".gitattributes", ".gitignore", ".lock", ".writer", "history", "house.ron", "ingredients"]
    );
    let house = fs::read_to_string(root.join("house.ron")).unwrap();
    assert!(house.contains("(format: 1, name: \"weir-house\")"), "{house}");
}

#[test]
fn bad_files_are_told_and_hide_no_good_ones() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    let store = started(root);
    let write = |name: &str, bytes: &[u8]| {
        fs::create_dir_all(root.join(name).parent().unwrap()).unwrap();
        fs::write(root.join(name), bytes).unwrap();
    };
    write("specs/latin.ron", b"one\ntwo \xe9\n");
    write("specs/Sour.ron", b"capital");
    write("specs/sour.txt", b"ending");
    write("specs/con.ron", b"device");
    write("specs/.hidden", b"an editor's");
    write("specs/.x.tmp", b"left over");
    write("specs/most.ron", &vec![b'x'; 64 * 1024]);
    write("specs/more.ron", &vec![b'x'; 64 * 1024 + 1]);
    write("ingredient/pear.ron", b"folder misspelt");
    write("stray.ron", b"beside");
    write("notes/read-me.txt", b"not ours");
    fs::create_dir(root.join("specs/folder.ron")).unwrap();
    // Larger than any memory here would take twice: it must not be read.
    File::create(root.join("specs/sparse.ron")).unwrap().set_len(1 << 41).unwrap();
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink("/etc/hostname", root.join("specs/link.ron")).unwrap();
        std::os::unix::fs::symlink("specs", root.join("preps")).unwrap();
        let pipe = std::process::Command::new("mkfifo").arg(root.join("specs/pipe.ron")).status();
        assert!(pipe.unwrap().success());
    }
    fs::write(root.join("stock"), "a file for a folder").unwrap();

    let contents = store.read().unwrap();
    let good: Vec<String> = contents.texts.keys().map(|p| p.to_string()).collect();
    assert_eq!(good, [QUINCE, "specs/most.ron"]);
    let expected = [
        ("ingredient", Trouble::NotARecord),
        ("preps", Trouble::Link),
        ("specs/.x.tmp", Trouble::LeftOver),
        ("specs/Sour.ron", Trouble::NotARecord),
        ("specs/con.ron", Trouble::NotARecord),
        ("specs/folder.ron", Trouble::NotAFile),
        ("specs/latin.ron", Trouble::NotText { line: 2 }),
        ("specs/link.ron", Trouble::Link),
        ("specs/more.ron", Trouble::TooLarge { most: 65536 }),
        ("specs/pipe.ron", Trouble::NotAFile),
        ("specs/sour.txt", Trouble::NotARecord),
        ("specs/sparse.ron", Trouble::TooLarge { most: 65536 }),
        ("stock", Trouble::NotAFolder),
        ("stray.ron", Trouble::NotARecord),
    ];
    let told: Vec<_> = contents.problems.iter().map(|p| (p.path.as_str(), p.trouble.clone())).collect();
    assert_eq!(told, expected);

    // None of them is written over, or read through.
    for bad in [
        "specs/latin.ron",
        "specs/more.ron",
        "specs/sparse.ron",
        "specs/link.ron",
        "specs/folder.ron",
        "specs/pipe.ron",
        "preps/a.ron",
        "stock/a.ron",
    ] {
        let fault = change(&store, 2, |sheaf| sheaf.write(&path(bad), "mine")).unwrap_err();
        assert!(matches!(&fault, StoreFault::Record { .. }), "{bad}: {fault}");
        assert!(change(&store, 2, |sheaf| sheaf.remove(&path(bad))).is_err(), "{bad}");
    }
    assert_eq!(fs::read(root.join("specs/latin.ron")).unwrap(), b"one\ntwo \xe9\n");
    // Beside them all goes on.
    change(&store, 3, |sheaf| sheaf.write(&path("specs/sour.ron"), "two")).unwrap();
    store.undo(&occasion(4), &Which::Last).unwrap();
    assert_eq!(texts(&store).len(), 2);
    assert_eq!(store.leftovers().unwrap().len(), 1);
}

#[test]
fn a_head_of_a_later_version_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let store = started(folder.path());
    let house = folder.path().join("house.ron");
    for later in ["(format: 2, name: \"x\")", "(format: 7, venue: Some((a: 1)))", "House { format: 3 }}"] {
        fs::write(&house, later).unwrap();
        assert!(matches!(store.read(), Err(StoreFault::LaterFormat { .. })), "{later}");
        let fault = change(&store, 2, |sheaf| sheaf.write(&path(QUINCE), "two")).unwrap_err();
        assert!(fault.to_string().contains("use a newer medlar"), "{fault}");
        assert!(store.undo(&occasion(3), &Which::Last).is_err());
        assert_eq!(fs::read_to_string(&house).unwrap(), later);
    }
    assert_eq!(fs::read_to_string(folder.path().join(QUINCE)).unwrap(), "one");
}

#[test]
fn a_broken_head_is_told_and_an_unreadable_one_keeps_from_writing() {
    let folder = tempfile::tempdir().unwrap();
    let store = started(folder.path());
    let house = folder.path().join("house.ron");
    for broken in ["", "(format: one)", "(format: 0, name: \"x\")", "(name: \"x\")"] {
        fs::write(&house, broken).unwrap();
        assert!(matches!(&problems(&store)[..], [(_, Trouble::BrokenHouse { .. })]), "{broken}");
        change(&store, 2, |sheaf| sheaf.write(&path(QUINCE), format!("after {broken}"))).unwrap();
        assert_eq!(fs::read_to_string(&house).unwrap(), broken);
    }
    fs::remove_file(&house).unwrap();
    assert_eq!(problems(&store), [("house.ron".to_owned(), Trouble::NoHouse)]);
    fs::create_dir(&house).unwrap();
    assert_eq!(problems(&store), [("house.ron".to_owned(), Trouble::NotAFile)]);
    let fault = change(&store, 3, |sheaf| sheaf.write(&path(QUINCE), "three")).unwrap_err();
    assert!(matches!(fault, StoreFault::Needed { .. }), "{fault}");
    fs::remove_dir(&house).unwrap();
    change(&store, 4, |sheaf| sheaf.write(&path(QUINCE), "four")).unwrap();
    assert_eq!(problems(&store), []);
}

#[test]
fn what_git_should_know_is_written_once_and_then_left() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join(".gitignore"), "mine\n").unwrap();
    started(folder.path());
    let read = |name: &str| fs::read_to_string(folder.path().join(name)).unwrap();
    assert_eq!(read(".gitignore"), "mine\n");
    assert_eq!(read(".gitattributes"), "*.ron -text merge=medlar\nhistory/*.log -text merge=union\n");
    assert_eq!(read(".writer"), "1f0c9a3e\n");
}

#[test]
fn a_change_by_hand_in_the_middle_of_one_is_not_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let store = started(folder.path());
    let fault = change(&store, 2, |sheaf| {
        sheaf.write(&path(QUINCE), "two")?;
        sheaf.write(&path("specs/a.ron"), "two")?;
        fs::write(folder.path().join(QUINCE), "by hand").unwrap();
        Ok(())
    })
    .unwrap_err();
    assert!(matches!(&fault, StoreFault::InTheWay { by: None, .. }), "{fault}");
    assert_eq!(texts(&store).into_values().collect::<Vec<_>>(), ["by hand"]);
    assert_eq!(problems(&store), []);
    assert!(matches!(store.undo(&occasion(3), &Which::Last), Err(StoreFault::InTheWay { by: None, .. })));
}

#[test]
fn what_is_in_the_way_of_an_undoing_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let store = started(folder.path());
    let first = store.history().unwrap().entries[0].id;
    let second = change(&store, 2, |sheaf| sheaf.write(&path(QUINCE), "two")).unwrap().id.unwrap();
    let fault = store.undo(&occasion(3), &Which::Change(first)).unwrap_err();
    assert!(matches!(&fault, StoreFault::InTheWay { by: Some(by), .. } if *by == second), "{fault}");
    assert!(fault.to_string().contains(&second.to_string()), "{fault}");
    let undone = store.undo(&occasion(4), &Which::Last).unwrap();
    assert_eq!(undone.value.id, second);
    let fault = store.undo(&occasion(5), &Which::Change(undone.id.unwrap())).unwrap_err();
    assert!(matches!(fault, StoreFault::ATurn { of, .. } if of == second));
    let unknown = "00000001-9".parse().unwrap();
    let fault = store.undo(&occasion(6), &Which::Change(unknown)).unwrap_err();
    assert!(matches!(fault, StoreFault::NoSuchChange(id) if id == unknown));
}

#[test]
fn a_caller_that_thinks_better_of_it_changes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let store = started(folder.path());
    let answer = store.change(&occasion(2), "two", |sheaf| {
        sheaf.write(&path(QUINCE), "two").unwrap();
        assert_eq!(sheaf.read(&path(QUINCE)).unwrap().as_deref(), Some("two"));
        sheaf.remove(&path(QUINCE)).unwrap();
        assert_eq!(sheaf.read(&path(QUINCE)).unwrap(), None);
        Err::<(), _>("no".to_owned())
    });
    assert!(matches!(answer, Err(ChangeFault::Edit(why)) if why == "no"));
    let before = store.stamp().unwrap();
    assert_eq!(change(&store, 3, |sheaf| sheaf.write(&path(QUINCE), "one")).unwrap().id, None);
    assert_eq!(store.stamp().unwrap(), before);
    assert_eq!(store.history().unwrap().entries.len(), 1);
    let large = "x".repeat(64 * 1024 + 1);
    let fault = change(&store, 4, |sheaf| sheaf.write(&path(QUINCE), large.as_str())).unwrap_err();
    assert!(matches!(fault, StoreFault::TooLarge { .. }));
    change(&store, 5, |sheaf| sheaf.write(&path(QUINCE), "two")).unwrap();
    assert_ne!(store.stamp().unwrap(), before);
}

#[test]
fn bad_lines_of_a_history_are_told_and_the_others_read() {
    let folder = tempfile::tempdir().unwrap();
    let store = started(folder.path());
    change(&store, 2, |sheaf| sheaf.write(&path(QUINCE), "two")).unwrap();
    let log = folder.path().join("history/1f0c9a3e.log");
    let good = fs::read_to_string(&log).unwrap();
    let lines: Vec<&str> = good.lines().collect();
    assert_eq!(lines.len(), 4);
    // The first line altered, the last one twice, as joining may leave it; the end torn.
    let altered = lines[0].replace("one", "six");
    let torn = &lines[2][..20];
    fs::write(&log, format!("{altered}\n{}\n{}\n{}\n{}\n{torn}", lines[1], lines[2], lines[3], lines[2]))
        .unwrap();
    let history = store.history().unwrap();
    assert_eq!(history.entries.len(), 1);
    let told: Vec<_> = history.problems.iter().map(|p| p.trouble.clone()).collect();
    assert_eq!(told, [Trouble::Torn, Trouble::BadLine { at: 0 }]);
    assert!(problems(&store).iter().any(|(_, trouble)| *trouble == Trouble::Torn));
    // The torn end is cut by the next change, nothing else.
    change(&store, 3, |sheaf| sheaf.write(&path(QUINCE), "three")).unwrap();
    let now = fs::read_to_string(&log).unwrap();
    assert!(now.starts_with(&altered) && store.history().unwrap().problems.len() == 1);
    assert_eq!(texts(&store)[&path(QUINCE)], "three");
    // A last line that is whole but for its end counts.
    fs::write(&log, now.trim_end()).unwrap();
    let fourth = change(&store, 4, |sheaf| sheaf.write(&path(QUINCE), "four")).unwrap();
    assert_eq!(store.history().unwrap().entries.last().unwrap().id, fourth.id.unwrap());
    assert_eq!(store.history().unwrap().problems.len(), 1);
}

#[test]
fn two_changes_of_one_name_are_told() {
    let folder = tempfile::tempdir().unwrap();
    let store = started(folder.path());
    // A copy of the whole folder, its name with it, and another change in each.
    let log = folder.path().join("history/1f0c9a3e.log");
    let common = fs::read_to_string(&log).unwrap();
    change(&store, 2, |sheaf| sheaf.write(&path(QUINCE), "two")).unwrap();
    let here = fs::read_to_string(&log).unwrap();
    fs::write(&log, &common).unwrap();
    fs::remove_file(folder.path().join(".lock")).unwrap();
    change(&store, 3, |sheaf| sheaf.write(&path(QUINCE), "three")).unwrap();
    let there = fs::read_to_string(&log).unwrap();
    fs::write(&log, format!("{here}{}", &there[common.len()..])).unwrap();
    let history = store.history().unwrap();
    assert!(matches!(&history.problems[..], [p] if matches!(p.trouble, Trouble::Doubled { .. })));
    // Going back in git alone gives no number twice: the lock's words know the last one.
    fs::write(&log, &common).unwrap();
    let fresh = change(&store, 4, |sheaf| sheaf.write(&path(QUINCE), "four")).unwrap().id.unwrap();
    assert_eq!(fresh.number, 3);
}

#[test]
fn a_reader_sees_a_recorded_change_whole_without_writing() {
    let folder = tempfile::tempdir().unwrap();
    let store = started(folder.path());
    change(&store, 2, |sheaf| {
        sheaf.write(&path(QUINCE), "two")?;
        sheaf.write(&path("specs/a.ron"), "two")
    })
    .unwrap();
    // As a stop after the first name would leave it.
    let log = folder.path().join("history/1f0c9a3e.log");
    let whole = fs::read_to_string(&log).unwrap();
    let last = whole.trim_end().rfind('\n').unwrap();
    fs::write(&log, &whole[..=last]).unwrap();
    fs::write(folder.path().join(QUINCE), "one").unwrap();
    let seen = store.read().unwrap().texts;
    assert_eq!(seen.into_values().collect::<Vec<_>>(), ["two", "two"]);
    assert_eq!(fs::read_to_string(folder.path().join(QUINCE)).unwrap(), "one");
    // What was changed by hand since stays, for the reader and the next writer.
    fs::write(folder.path().join("specs/a.ron"), "by hand").unwrap();
    assert_eq!(texts(&store)[&path("specs/a.ron")], "by hand");
    change(&store, 3, |sheaf| sheaf.write(&path("stock/a.ron"), "three")).unwrap();
    let seen: Vec<_> = texts(&store).into_values().collect();
    assert_eq!(seen, ["two", "by hand", "three"]);
    assert_eq!(fs::read_to_string(folder.path().join(QUINCE)).unwrap(), "two");
}

#[test]
fn setting_aside_moves_and_never_overwrites() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    let store = started(root);
    fs::create_dir_all(root.join("specs")).unwrap();
    for text in ["first", "second"] {
        fs::write(root.join("specs/.x\u{7}.tmp"), text).unwrap();
        let shown = &store.leftovers().unwrap()[0].path;
        assert_eq!(shown, "specs/.x\\u{7}.tmp");
        store.set_aside(&occasion(2), shown).unwrap();
    }
    let read = |name: &str| fs::read_to_string(root.join("aside").join(name)).unwrap();
    assert_eq!(read("2027-03-01-x\u{7}.tmp"), "first");
    assert_eq!(read("2027-03-01-2-x\u{7}.tmp"), "second");
    for held in [
        "",
        ".lock",
        ".writer",
        "history/1f0c9a3e.log",
        "specs",
        "../x",
        "/etc/hostname",
        "specs/none",
        "aside/2027-03-01-x\\u{7}.tmp",
    ] {
        let fault = store.set_aside(&occasion(3), held).unwrap_err();
        assert!(matches!(fault, StoreFault::NotInTheBook { .. }), "{held}: {fault}");
    }
    assert_eq!(store.set_aside(&occasion(4), QUINCE).unwrap(), "aside/2027-03-01-quince.ron");
    assert_eq!(store.last_good(&path(QUINCE)).unwrap().as_deref(), Some("one"));
    assert_eq!(store.last_good(&path("specs/a.ron")).unwrap(), None);
    assert_eq!(problems(&store), []);
}

#[test]
fn a_removed_record_is_known_to_the_history() {
    let folder = tempfile::tempdir().unwrap();
    let store = started(folder.path());
    change(&store, 2, |sheaf| sheaf.remove(&path(QUINCE))).unwrap();
    assert!(texts(&store).is_empty());
    assert_eq!(store.last_good(&path(QUINCE)).unwrap().as_deref(), Some("one"));
    store.undo(&occasion(3), &Which::Of(path(QUINCE))).unwrap();
    assert_eq!(texts(&store)[&path(QUINCE)], "one");
}

#[cfg(unix)]
#[test]
fn the_permissions_of_a_record_stay() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().unwrap();
    let store = started(folder.path());
    let file = folder.path().join(QUINCE);
    fs::set_permissions(&file, fs::Permissions::from_mode(0o640)).unwrap();
    change(&store, 2, |sheaf| sheaf.write(&path(QUINCE), "two")).unwrap();
    assert_eq!(fs::metadata(&file).unwrap().permissions().mode() & 0o777, 0o640);
}

#[test]
fn a_recorded_change_larger_than_what_is_looked_at_first_is_finished() {
    let folder = tempfile::tempdir().unwrap();
    let store = started(folder.path());
    let records = ["ingredients/a.ron", "preps/a.ron", "specs/a.ron", "stock/a.ron"];
    change(&store, 2, |sheaf| {
        records.iter().try_for_each(|record| sheaf.write(&path(record), "\u{7}".repeat(60_000)))
    })
    .unwrap();
    let log = folder.path().join("history/1f0c9a3e.log");
    let whole = fs::read_to_string(&log).unwrap();
    assert!(whole.len() > 1 << 20);
    fs::write(&log, &whole[..=whole.trim_end().rfind('\n').unwrap()]).unwrap();
    fs::remove_file(folder.path().join(records[1])).unwrap();
    assert_eq!(texts(&store).len(), 5);
    change(&store, 3, |sheaf| sheaf.remove(&path(QUINCE))).unwrap();
    assert!(folder.path().join(records[1]).exists());
    assert_eq!(problems(&store), []);
}

#[cfg(unix)]
#[test]
fn a_history_that_is_no_plain_file_is_told_and_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let store = started(folder.path());
    let log = folder.path().join("history/1f0c9a3e.log");
    let other = folder.path().join("other");
    fs::rename(&log, &other).unwrap();
    std::os::unix::fs::symlink(&other, &log).unwrap();
    assert_eq!(texts(&store).len(), 1);
    assert!(
        matches!(&problems(&store)[..], [(p, Trouble::Unreadable { .. })] if p == "history/1f0c9a3e.log")
    );
    assert!(change(&store, 2, |sheaf| sheaf.write(&path(QUINCE), "two")).is_err());
    assert!(store.undo(&occasion(3), &Which::Last).is_err());
    assert_eq!(texts(&store)[&path(QUINCE)], "one");
}

//! Random commands against a map and a plain list of what was done.

use std::collections::BTreeMap;
use std::path::Path;

use fastrand::Rng;
use medlar::book::{ChangeId, Disk, RecordPath, Store, StoreFault, Turn, Which};

use super::common::{Command, Texts, path, seed, texts};
use super::memory::Memory;

const RECORDS: [&str; 4] =
    ["ingredients/quince.ron", "specs/quince.ron", "specs/sour.ron", "affinities/a-b.ron"];
const TEXTS: [&str; 3] = ["one", "two\n", ""];

/// A change in the model.
#[derive(Debug)]
struct Made {
    id: ChangeId,
    files: BTreeMap<RecordPath, (Option<String>, Option<String>)>,
    stands: bool,
}

/// What each clone of the book keeps for itself.
#[derive(Debug, Default)]
struct Own {
    /// Undone since its last change of its own, in order.
    undone: Vec<usize>,
}

#[derive(Debug, Default)]
struct Model {
    texts: Texts,
    made: Vec<Made>,
    /// Undone and not done again, in order.
    undone: Vec<usize>,
    owns: BTreeMap<u32, Own>,
    turns: usize,
}

#[derive(Debug, PartialEq)]
enum Answer {
    Made,
    Same,
    Nothing,
    InTheWay,
}

fn writer_of(id: ChangeId) -> u32 {
    u32::from_str_radix(&id.writer.to_string(), 16).unwrap()
}

impl Model {
    fn to_undo(&self, which: &Which, clone: u32) -> Option<usize> {
        let fits = |made: &Made| match which {
            Which::Last => writer_of(made.id) == clone,
            Which::Of(path) => made.files.contains_key(path),
            Which::Change(id) => made.id == *id,
        };
        self.made.iter().rposition(|made| made.stands && fits(made))
    }

    fn to_redo(&self, which: &Which, clone: u32) -> Option<usize> {
        match which {
            Which::Last => {
                self.owns.get(&clone)?.undone.iter().rev().copied().find(|&at| !self.made[at].stands)
            }
            Which::Of(path) => {
                self.undone.iter().rev().copied().find(|&at| self.made[at].files.contains_key(path))
            }
            Which::Change(id) => self.made.iter().position(|made| made.id == *id && !made.stands),
        }
    }

    /// Gives the files of a change their texts after or before, if each has the other.
    fn bring(&mut self, at: usize, back: bool) -> bool {
        let files = &self.made[at].files;
        let turned = |(before, after): &(Option<String>, Option<String>)| {
            if back { (after.clone(), before.clone()) } else { (before.clone(), after.clone()) }
        };
        if files.iter().any(|(path, texts)| self.texts.get(path) != turned(texts).0.as_ref()) {
            return false;
        }
        for (path, texts) in files {
            match turned(texts).1 {
                Some(text) => self.texts.insert(path.clone(), text),
                None => self.texts.remove(path),
            };
        }
        true
    }

    fn run(&mut self, command: &Command, clone: u32, id: Option<ChangeId>) -> Answer {
        match command {
            Command::Change(files) => {
                let mut texts = self.texts.clone();
                for (path, text) in files {
                    match text {
                        Some(text) => texts.insert(path.clone(), text.clone()),
                        None => texts.remove(path),
                    };
                }
                let mut changed = BTreeMap::new();
                for path in RECORDS.map(path) {
                    if texts.get(&path) != self.texts.get(&path) {
                        let pair = (self.texts.get(&path).cloned(), texts.get(&path).cloned());
                        changed.insert(path, pair);
                    }
                }
                if changed.is_empty() {
                    return Answer::Same;
                }
                self.texts = texts;
                self.owns.entry(clone).or_default().undone.clear();
                self.made.push(Made { id: id.unwrap(), files: changed, stands: true });
                Answer::Made
            }
            Command::Undo(which) => {
                let Some(at) = self.to_undo(which, clone) else { return Answer::Nothing };
                if !self.bring(at, true) {
                    return Answer::InTheWay;
                }
                self.made[at].stands = false;
                self.undone.push(at);
                self.owns.entry(clone).or_default().undone.push(at);
                self.turns += 1;
                Answer::Made
            }
            Command::Redo(which) => {
                let Some(at) = self.to_redo(which, clone) else { return Answer::Nothing };
                if !self.bring(at, false) {
                    return Answer::InTheWay;
                }
                self.made[at].stands = true;
                self.undone.retain(|&other| other != at);
                self.turns += 1;
                Answer::Made
            }
        }
    }
}

fn drawn(rng: &mut Rng, model: &Model) -> Command {
    let record = |rng: &mut Rng| path(RECORDS[rng.usize(..RECORDS.len())]);
    let which = |rng: &mut Rng| match rng.u8(0..4) {
        0 | 1 => Which::Last,
        2 => Which::Of(record(rng)),
        _ if model.made.is_empty() => Which::Last,
        _ => Which::Change(model.made[rng.usize(..model.made.len())].id),
    };
    match rng.u8(0..10) {
        0..=3 => {
            let count = rng.usize(1..=3);
            let text = |rng: &mut Rng| {
                rng.u8(0..5).checked_sub(1).map(|_| TEXTS[rng.usize(..TEXTS.len())].to_owned())
            };
            Command::Change((0..count).map(|_| (record(rng), text(rng))).collect())
        }
        4..=6 => Command::Undo(which(rng)),
        _ => Command::Redo(which(rng)),
    }
}

/// How a person changes a file of the book.
type Hand<'a> = &'a dyn Fn(&str, Option<&str>);

/// A random sequence on an empty book.
fn sequence<D: Disk>(store: &Store<D>, hand: Hand<'_>, rng: &mut Rng, answers: &mut BTreeMap<String, usize>) {
    let mut model = Model::default();
    let mut clone = 0x1f0c_9a3e;
    for n in 0..rng.u64(6..16) {
        if n > 0 && rng.u8(0..12) == 0 && !model.made.is_empty() {
            // Another clone of the book, joined with this one.
            clone = if clone == 0x1f0c_9a3e { 0x0000_00aa } else { 0x1f0c_9a3e };
            hand(".writer", Some(&format!("{clone:08x}\n")));
        }
        if rng.u8(0..12) == 0 {
            let record = RECORDS[rng.usize(..RECORDS.len())];
            let text = if rng.bool() { Some("by hand") } else { None };
            hand(record, text);
            match text {
                Some(text) => model.texts.insert(path(record), text.to_owned()),
                None => model.texts.remove(&path(record)),
            };
        }
        let command = drawn(rng, &model);
        let real = command.run(store, n);
        let id = real.as_ref().ok().copied().flatten();
        let expected = model.run(&command, clone, id);
        let answer = match &real {
            Ok(Some(_)) => Answer::Made,
            Ok(None) => Answer::Same,
            Err(StoreFault::NothingToUndo | StoreFault::NothingToRedo) => Answer::Nothing,
            Err(StoreFault::InTheWay { .. }) => Answer::InTheWay,
            Err(other) => panic!("{command:?}: {other}"),
        };
        assert_eq!(answer, expected, "{command:?} in {model:#?}");
        let kind = format!("{command:?}");
        *answers.entry(format!("{} {answer:?}", kind.split('(').next().unwrap())).or_default() += 1;
        let contents = store.read().unwrap();
        assert_eq!(contents.texts, model.texts, "{command:?}");
        // A book made by hand alone has no head yet.
        let headless = |p: &medlar::book::StoreProblem| model.made.is_empty() && p.path == "house.ron";
        assert!(contents.problems.iter().all(headless), "{:?}", contents.problems);
    }
    let history = store.history().unwrap();
    assert_eq!(history.problems, []);
    assert_eq!(history.entries.len(), model.made.len() + model.turns);
    let standing: Vec<_> =
        history.entries.iter().filter(|e| e.turn == Turn::Did).map(|e| (e.id, e.stands)).collect();
    let expected: Vec<_> = model.made.iter().map(|made| (made.id, made.stands)).collect();
    assert_eq!(standing, expected);
    assert_eq!(texts(store), model.texts);
}

fn all_answers_came(answers: &BTreeMap<String, usize>) {
    println!("{answers:?}");
    for answer in [
        "Change Made",
        "Change Same",
        "Undo Made",
        "Undo Nothing",
        "Undo InTheWay",
        "Redo Made",
        "Redo Nothing",
        "Redo InTheWay",
    ] {
        assert!(answers.contains_key(answer), "{answer} never came");
    }
}

#[test]
fn ten_thousand_sequences_in_memory_agree_with_a_map() {
    let mut rng = seed("model");
    let mut answers = BTreeMap::new();
    for _ in 0..10_000 {
        let disk = Memory::new();
        let store = Store::on("weir-house", disk.clone());
        sequence(&store, &|path, text| disk.by_hand(path, text), &mut rng, &mut answers);
    }
    all_answers_came(&answers);
}

#[test]
fn two_hundred_sequences_in_a_real_folder_agree_with_a_map() {
    let mut rng = seed("model in a folder");
    let mut answers = BTreeMap::new();
    for _ in 0..200 {
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path().join("weir-house");
        let hand = |path: &str, text: Option<&str>| {
            let file = root.join(path);
            std::fs::create_dir_all(file.parent().unwrap_or(Path::new("."))).unwrap();
            match text {
                Some(text) => std::fs::write(file, text).unwrap(),
                None => drop(std::fs::remove_file(file)),
            }
        };
        sequence(&Store::at(&root), &hand, &mut rng, &mut answers);
    }
    all_answers_came(&answers);
}

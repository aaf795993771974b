//! What must hold of any bytes at all: the fuzz targets call these with what they make up, `tests/cases.rs` with what was
//! found and kept.
#![allow(dead_code, unreachable_pub, reason = "each caller uses what it needs, and is a crate of its own")]
#![allow(clippy::unwrap_used, reason = "a broken law should stop")]

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::fmt::{Debug, Display};
use std::fs;
use std::path::{Path, PathBuf};
use std::str::FromStr;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, OnceLock};

use medlar::book::exchange::{Table, TableFile, plan, read_tables};
use medlar::book::{
    Book, ChangeId, Leaf, Merged, Names, Occasion, RecordKind, RecordPath, check_record, merge, open_house,
    read_packs,
};
use medlar::console::{Clock, Library, Session, Settings, Today, split};
use medlar::measure::{
    Affinity, Amount, Bitterness, Brix, Concentration, Currency, Grade, Mass, MassShare, Measures, Money,
    Month, Pressure, Score, Strength, Temperature, Volume, read_given,
};
use medlar::report::Style;

/// A law that bytes are held against.
pub type Case = fn(&[u8]);

/// Every case, by the name of its fuzz target and of the folder of what was kept.
pub const CASES: [(&str, Case); 6] = [
    ("leaf", leaf),
    ("merge", merged),
    ("house", house),
    ("line", line),
    ("quantity", quantity),
    ("table", table),
];

/// What stands between the parts of an input.
const BETWEEN: char = '\0';

fn parts<const N: usize>(bytes: &[u8]) -> [String; N] {
    let text = String::from_utf8_lossy(bytes).into_owned();
    let mut parts = text.splitn(N, BETWEEN).map(str::to_owned);
    std::array::from_fn(|_| parts.next().unwrap_or_default())
}

/// Without the blanks that RON knows.
fn bare(value: &str) -> &str {
    let is_blank = |c| {
        matches!(
            c,
            ' ' | '\t'
                | '\n'
                | '\r'
                | '\u{b}'
                | '\u{c}'
                | '\u{85}'
                | '\u{200e}'
                | '\u{200f}'
                | '\u{2028}'
                | '\u{2029}'
        )
    };
    value.trim_matches(is_blank)
}

/// A record's text, a path and a value: read, set, read again, taken out, read again.
pub fn leaf(bytes: &[u8]) {
    let [text, path, value] = parts(bytes);
    let Ok(first) = Leaf::parse(&text) else { return };
    assert_eq!(first.text(), text);
    assert_eq!(Leaf::parse(first.text()).as_ref(), Ok(&first));
    let path: Vec<&str> = path.split('.').collect();
    let order = RecordKind::Ingredient.order();
    let others = |leaf: &Leaf| -> Vec<(String, String)> {
        let fields = leaf.fields().into_iter().filter(|name| *name != path[0]);
        fields.map(|name| (name.to_owned(), leaf.get(&[name]).unwrap().to_owned())).collect()
    };
    let mut leaf = first.clone();
    match leaf.set(&path, &value, order) {
        Ok(()) => {
            assert_eq!(leaf.get(&path), Some(bare(&value)));
            assert_eq!(others(&leaf), others(&first));
            assert_eq!((leaf.kind(), leaf.format()), (first.kind(), first.format()));
            let once = leaf.clone();
            leaf.set(&path, &value, order).unwrap();
            assert_eq!(leaf, once, "setting the same again changes nothing");
            assert_eq!(leaf.unset(&path), Ok(true));
            assert_eq!(leaf.get(&path), None);
        }
        Err(_) => assert_eq!(leaf, first, "what fails changes nothing"),
    }
    assert_eq!(others(&leaf), others(&first));
    assert_eq!(Leaf::parse(leaf.text()).as_ref(), Ok(&leaf));
    let was_there = first.get(&path).is_some();
    let mut without = first.clone();
    if let Ok(there) = without.unset(&path) {
        assert_eq!(there, was_there);
        assert_eq!(without.get(&path), None);
        assert_eq!(others(&without), others(&first));
    }
}

/// Lines `path=value` and `-path` on a record: what one side did to it.
fn edited(base: &Leaf, edits: &str, order: &[&str]) -> String {
    let mut leaf = base.clone();
    for line in edits.lines().take(8) {
        if let Some(path) = line.strip_prefix('-') {
            let _ = leaf.unset(&path.split('.').collect::<Vec<_>>());
        } else if let Some((path, value)) = line.split_once('=') {
            let _ = leaf.set(&path.split('.').collect::<Vec<_>>(), value, order);
        }
    }
    leaf.text().to_owned()
}

/// What both began from, and two sides: as texts, or as what each did to the first.
pub fn merged(bytes: &[u8]) {
    let [base, ours, theirs] = parts(bytes);
    let order = RecordKind::Ingredient.order();
    let (ours, theirs) = match Leaf::parse(&base) {
        Ok(base) if Leaf::parse(&ours).is_err() && Leaf::parse(&theirs).is_err() => {
            (edited(&base, &ours, order), edited(&base, &theirs, order))
        }
        _ => (ours, theirs),
    };
    for base in [Some(base.as_str()), None] {
        let (one, other) = (merge(base, &ours, &theirs, order), merge(base, &theirs, &ours, order));
        assert_eq!(one.conflicts, other.conflicts, "the sides change places");
        if one.conflicts.is_empty() {
            assert_eq!(one.text, other.text, "the sides change places");
            Leaf::parse(&one.text).unwrap();
            assert_eq!(merge(Some(&one.text), &one.text, &one.text, order).text, one.text);
        } else {
            assert!(Leaf::parse(&one.text).is_err(), "a conflict can be read: {}", one.text);
            if one.conflicts != [Merged::WHOLE_FILE] {
                assert!(Leaf::parse(&ours).is_ok() && Leaf::parse(&theirs).is_ok());
            }
        }
        let same = merge(base, &ours, &ours, order);
        if same.conflicts.is_empty() {
            assert_eq!(same.text, ours);
        }
    }
}

/// The small frozen pack.
fn weir() -> &'static Book {
    static BOOK: OnceLock<Book> = OnceLock::new();
    BOOK.get_or_init(|| read_packs(&[&weir_pack()], false).book)
}

fn weir_pack() -> PathBuf {
    // The fuzz targets are a package of their own, one folder down.
    let own = Path::new(env!("CARGO_MANIFEST_DIR"));
    own.ancestors().map(|folder| folder.join("tests/packs/weir")).find(|pack| pack.exists()).unwrap()
}

/// A name for the file of a text: what it calls itself, if it does.
fn stem_of(kind: RecordKind, text: &str) -> String {
    let leaf = Leaf::parse(text);
    let field = |name: &str| leaf.as_ref().ok()?.get(&[name]).map(|v| v.trim_matches('"').to_owned());
    let stem = match kind {
        RecordKind::Bond => field("between").map(|pair| {
            let mut ids: Vec<&str> = pair.split('"').skip(1).step_by(2).collect();
            ids.sort_unstable();
            ids.join("--")
        }),
        RecordKind::Prep => field("makes"),
        RecordKind::Price | RecordKind::Stock => field("of"),
        RecordKind::Measures => Some("measures".to_owned()),
        _ => field("id"),
    };
    stem.unwrap_or_else(|| "quince".to_owned())
}

/// A kind and the text of a record: checked alone and as a whole book, to the same end.
pub fn house(bytes: &[u8]) {
    let Some((first, rest)) = bytes.split_first() else { return };
    let kind = RecordKind::ALL[usize::from(*first) % RecordKind::ALL.len()];
    let text = String::from_utf8_lossy(rest).into_owned();
    let path = RecordPath::within(kind, &stem_of(kind, &text))
        .or_else(|_| RecordPath::within(kind, "quince"))
        .unwrap();
    let root = Path::new("house");
    let faults = check_record(weir(), weir(), &path, &text, root);
    let opened = open_house(weir(), BTreeMap::from([(path.clone(), text.clone())]), root);
    assert_eq!(faults, opened.faults, "{path}");
    assert!(faults.len() <= 1000, "{}", faults.len());
    for fault in &faults {
        assert!(fault.place.as_ref().is_none_or(|p| text.get(p.bytes.clone()).is_some()), "{fault:?}");
        assert!(!fault.problem.to_string().is_empty());
    }
    assert_eq!(faults.is_empty(), opened.sources.is_empty());
    if faults.is_empty() {
        assert!(Leaf::parse(&text).is_ok(), "what is read whole can be changed: {text}");
    }
    assert!(opened.book.ingredients().len() >= weir().ingredients().len(), "no record hides a pack's");
}

/// A place of its own for each thread, away when it ends.
struct Place(PathBuf);

impl Place {
    fn new() -> Self {
        static COUNT: AtomicU64 = AtomicU64::new(0);
        let count = COUNT.fetch_add(1, Ordering::Relaxed);
        Self(std::env::temp_dir().join(format!("medlar-cases-{}-{count}", std::process::id())))
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

thread_local! {
    static BAR: RefCell<Option<(Place, Arc<Library>)>> = const { RefCell::new(None) };
}

/// Whether a line names files of the system, or other folders: those stay away from what is made up.
fn leads_out(line: &str) -> bool {
    let files = ["--file", "--book", "--pack", "--page", "--csv", "--labels", "--prices"];
    let named = |word: &str| files.iter().any(|option| word.starts_with(option));
    split(line).is_ok_and(|words| {
        words.iter().any(|word| ["merge", "import", "export"].contains(&word.as_str()) || named(word))
    })
}

/// Lines at the prompt, with a house book that is empty before: an answer or a refusal, nothing that acts on a screen, and
/// a whole book after it.
pub fn line(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes).into_owned();
    if text.len() > 1000 || text.lines().any(leads_out) {
        return;
    }
    BAR.with_borrow_mut(|bar| {
        let (place, library) = bar.get_or_insert_with(|| {
            let place = Place::new();
            let library = Library::over(read_packs(&[&weir_pack()], false), Some(&place.0)).unwrap();
            (place, Arc::new(library))
        });
        if place.0.exists() {
            fs::remove_dir_all(&place.0).unwrap();
        }
        let settings = Settings { book: Some(place.0.clone()), ..Settings::default() };
        let style = Style { width: 80, colour: false, unicode: true };
        let tick = AtomicU64::new(0);
        let clock = Clock::new(move || {
            let dice = tick.fetch_add(1, Ordering::Relaxed);
            Occasion { at: "2026-11-27T12:00:00Z".to_owned(), who: "the river bar".to_owned(), dice }
        });
        let mut session =
            Session::new(Arc::clone(library), settings, Today(Month::Oct), style).keeping(clock).asking();
        for line in text.lines().take(6) {
            let outcome = session.answer(line);
            assert!(outcome.status <= 2, "{line}: {}", outcome.err);
            let acts = |c: char| c.is_control() && c != '\n';
            assert!(!outcome.out.contains(acts) && !outcome.err.contains(acts), "{line}: {outcome:?}");
            assert!(!session.prompt().contains(acts), "{line}: {:?}", session.prompt());
        }
        session.give_up();
        let book = session.answer("book");
        assert_eq!((book.status, book.err.as_str()), (0, ""), "the book is whole after it");
    });
}

/// A file of rows, of the table that the first byte says: read, planned, and each record it would make checked.
pub fn table(bytes: &[u8]) {
    static NAMES: OnceLock<Names> = OnceLock::new();
    let Some((first, bytes)) = bytes.split_first() else { return };
    let tables = [
        None,
        Some(Table::Ingredients),
        Some(Table::Affinities),
        Some(Table::Specs),
        Some(Table::Prices),
        Some(Table::Stock),
        Some(Table::Preps),
    ];
    let table = tables[usize::from(*first) % tables.len()];
    let file =
        TableFile { file: "a.csv".to_owned(), stem: "prices".to_owned(), table, bytes: bytes.to_vec() };
    let names = NAMES.get_or_init(|| Names::new(weir()));
    let Ok(brought) = read_tables(&[file], &[], weir(), names, &mut |_| {}) else { return };
    let plan = plan(brought, weir(), weir(), true);
    for fault in &plan.faults {
        assert!(!fault.message.is_empty());
    }
    for step in &plan.steps {
        assert!(step.edit.path.to_string().parse::<RecordPath>().is_ok());
    }
}

/// What prints and reads again the same.
fn read_again<T: FromStr + Display + PartialEq + Debug>(text: &str)
where
    T::Err: Debug + Display,
{
    match text.parse::<T>() {
        Ok(value) => {
            let printed = value.to_string();
            let again = printed.parse::<T>();
            assert!(
                again.as_ref().is_ok_and(|again| *again == value),
                "{text:?} is {value:?}, printed {printed:?}: {again:?}"
            );
        }
        Err(why) => assert!(!why.to_string().is_empty()),
    }
}

/// What only reads: a number is none that cannot be compared.
fn reads<T: FromStr + PartialOrd + Debug>(text: &str) {
    if let Ok(value) = text.parse::<T>() {
        assert!(value.partial_cmp(&value).is_some(), "{text:?}: {value:?}");
    }
}

/// A text as each measure there is.
pub fn quantity(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes).into_owned();
    let text = text.as_str();
    read_again::<Amount>(text);
    read_again::<Money>(text);
    read_again::<Currency>(text);
    read_again::<Month>(text);
    read_again::<ChangeId>(text);
    read_again::<RecordPath>(text);
    reads::<Affinity>(text);
    reads::<Bitterness>(text);
    reads::<Brix>(text);
    reads::<Concentration>(text);
    reads::<Grade>(text);
    reads::<Mass>(text);
    reads::<MassShare>(text);
    reads::<Pressure>(text);
    reads::<Score>(text);
    reads::<Strength>(text);
    reads::<Temperature>(text);
    reads::<Volume>(text);
    if let Ok((amount, rest)) = Amount::split_from(text) {
        assert!(text.trim_end().ends_with(rest.trim_end()));
        assert_eq!(amount.to_string().parse(), Ok(amount), "{text:?}");
    }
    let _ = read_given(text, &Measures::default());
}

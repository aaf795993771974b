//! A bar for tests: the small frozen pack, a house book in a folder of its own, and a clock that ticks by itself.
#![allow(dead_code, unreachable_pub, reason = "each test uses what it needs, and is a crate of its own")]

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use medlar::book::{Occasion, read_built_in, read_packs};
use medlar::console::{Clock, Library, Outcome, Session, Settings, Today};
use medlar::measure::Month;
use medlar::report::Style;

pub const PLAIN: Style = Style { width: 80, colour: false, unicode: true };

/// A clock that starts on 2026-11-27 at noon, is a second later each time it is asked, and throws 1, 2, 3.
pub fn clock() -> Clock {
    clock_from(0)
}

/// The same with other dice, as in another bar.
pub fn clock_from(first: u64) -> Clock {
    let ticks = AtomicU64::new(first);
    Clock::new(move || {
        let tick = ticks.fetch_add(1, Ordering::Relaxed);
        let second = tick % 86_400;
        let at =
            format!("2026-11-27T{:02}:{:02}:{:02}Z", 12 + second / 3600 % 12, second / 60 % 60, second % 60);
        Occasion { at, who: "the river bar".to_owned(), dice: tick + 1 }
    })
}

pub fn weir_pack() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/packs/weir")
}

/// The small frozen pack with a house book over it.
pub fn weir_over(house: &Path) -> Arc<Library> {
    Arc::new(Library::over(read_packs(&[&weir_pack()], false), Some(house)).unwrap())
}

/// The built-in pack with a house book over it.
pub fn built_in_over(house: &Path) -> Arc<Library> {
    Arc::new(Library::over(read_built_in(), Some(house)).unwrap())
}

/// A session at the prompt over a library and the house book it was opened with.
pub fn session_on(library: Arc<Library>, clock: Clock) -> Session {
    let settings = Settings { book: library.house.root.clone(), ..Settings::default() };
    Session::new(library, settings, Today(Month::Oct), PLAIN).keeping(clock)
}

/// A session at the prompt over the small frozen pack and a house book.
pub fn session(house: &Path) -> Session {
    session_on(weir_over(house), clock())
}

/// The answer to a line that must have one.
pub fn told(session: &mut Session, line: &str) -> String {
    let Outcome { out, err, status, .. } = session.answer(line);
    assert_eq!((status, err.as_str()), (0, ""), "{line}\n{out}");
    out
}

/// What is said to a line that must be refused.
pub fn refused(session: &mut Session, line: &str) -> String {
    let Outcome { out, err, status, .. } = session.answer(line);
    assert!(status == 1 || status == 2, "{line}: {status}\n{out}{err}");
    assert_eq!(out, "", "{line}");
    err
}

//! A word to one who waits at a terminal.

use std::io::{self, IsTerminal, Write};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::{Duration, Instant};

/// From then on waiting is told, and so often.
const A_WHILE: Duration = Duration::from_secs(1);

/// How many rows have been read by what is being waited for.
static ROWS: AtomicUsize = AtomicUsize::new(0);

/// Tells one who waits how many rows have been read.
pub(super) fn rows_read(count: usize) {
    ROWS.store(count, Ordering::Relaxed);
}

/// Does a thing; where it takes over a second and a person looks on, the seconds are counted on the error stream and wiped
/// when it is done.
pub(super) fn patiently<T>(work: impl FnOnce() -> T) -> T {
    if !io::stderr().is_terminal() {
        return work();
    }
    rows_read(0);
    let (done, waits) = channel::<()>();
    let start = Instant::now();
    let clock = thread::spawn(move || {
        let mut shown = 0;
        while waits.recv_timeout(A_WHILE) == Err(RecvTimeoutError::Timeout) {
            let seconds = start.elapsed().as_secs();
            let words = match ROWS.load(Ordering::Relaxed) {
                0 => format!("still looking, {seconds} s (Ctrl-C leaves)"),
                rows => format!("still at it, {rows} rows read, {seconds} s (Ctrl-C leaves)"),
            };
            eprint!("\r{words}");
            let _ = io::stderr().flush();
            shown = words.len();
        }
        if shown > 0 {
            eprint!("\r{:shown$}\r", "");
            let _ = io::stderr().flush();
        }
    });
    let result = work();
    drop(done);
    // A clock that fell over is no reason to lose the answer.
    let _ = clock.join();
    result
}

//! A word to one who waits at a terminal.

use std::io::{self, IsTerminal, Write};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::{Duration, Instant};

/// From then on waiting is told, and so often.
const A_WHILE: Duration = Duration::from_secs(1);

/// Does a thing; where it takes over a second and a person looks on, the seconds are counted on the error stream and wiped
/// when it is done.
pub(super) fn patiently<T>(work: impl FnOnce() -> T) -> T {
    if !io::stderr().is_terminal() {
        return work();
    }
    let (done, waits) = channel::<()>();
    let start = Instant::now();
    let clock = thread::spawn(move || {
        let mut shown = 0;
        while waits.recv_timeout(A_WHILE) == Err(RecvTimeoutError::Timeout) {
            let words = format!("still looking, {} s (Ctrl-C leaves)", start.elapsed().as_secs());
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

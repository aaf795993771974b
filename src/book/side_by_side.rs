//! Work done on a few threads at once, for opening a book is what a person waits for.

use std::sync::atomic::{AtomicUsize, Ordering};

/// Most threads at once.
const MOST: usize = 4;

/// What a piece of work makes of each item; the answers stand in the items' order.
pub(super) fn side_by_side<I: Sync, T: Send>(items: &[I], work: impl Fn(&I) -> T + Sync) -> Vec<T> {
    let next = AtomicUsize::new(0);
    let share = || {
        let mut done = Vec::new();
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            let Some(item) = items.get(index) else { return done };
            done.push((index, work(item)));
        }
    };
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let helpers = cores.min(MOST).min(items.len().max(1)) - 1;
    let mut done = std::thread::scope(|scope| {
        let started: Vec<_> = (0..helpers).map(|_| scope.spawn(share)).collect();
        let mut done = share();
        // One that panicked is our own fault and must not pass for less work.
        for helper in started {
            match helper.join() {
                Ok(more) => done.extend(more),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        done
    });
    done.sort_unstable_by_key(|(index, _)| *index);
    done.into_iter().map(|(_, answer)| answer).collect()
}

//! The machine that attacks the store; what each part attacks is told in docs/store.md.
#![allow(
    clippy::unwrap_used,
    unreachable_pub,
    reason = "a test that cannot go on should stop; parts of one test"
)]

#[path = "store/common.rs"]
mod common;
#[path = "store/crash.rs"]
mod crash;
#[path = "store/failing.rs"]
mod failing;
#[path = "store/files.rs"]
mod files;
#[path = "store/full.rs"]
mod full;
#[path = "store/kill.rs"]
mod kill;
#[path = "store/memory.rs"]
mod memory;
#[path = "store/model.rs"]
mod model;
#[path = "store/state.rs"]
mod state;
#[path = "store/together.rs"]
mod together;

//! Any bytes as a file of rows: the laws are in `tests/cases/mod.rs`.
#![no_main]

#[path = "../../tests/cases/mod.rs"]
mod cases;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| cases::table(bytes));

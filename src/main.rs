//! The program: see [`medlar::console`].

use std::process::ExitCode;

fn main() -> ExitCode {
    medlar::console::run()
}

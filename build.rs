//! Compiles the built-in pack: reads and checks `data/pack` with the program's own code, so that the program need not at
//! every start. A fault in the pack fails the build.

use std::fmt::Write;
use std::path::Path;
use std::{env, fs};

use floors::{book, measure};

// The two floors that reading needs, as the program has them: `crate::book` and `crate::measure` are the same names here.
#[path = "src"]
#[expect(
    dead_code,
    unused_imports,
    unreachable_pub,
    clippy::pedantic,
    reason = "the program uses more of these floors than is needed here, and is where they are held to the lints"
)]
mod floors {
    pub mod book;
    pub mod measure;
}

/// The pack, from the package's root.
const PACK: &str = "data/pack";

fn main() {
    // This script itself and the code it is made of are watched by cargo.
    println!("cargo::rerun-if-changed={PACK}");
    println!("cargo::rustc-cfg=compiled_pack");
    if let Err(why) = compile() {
        for line in why.lines() {
            println!("cargo::error={line}");
        }
    }
}

fn compile() -> Result<(), String> {
    let reading = book::read_folders(&[Path::new(PACK)], Vec::new());
    if !reading.faults.is_empty() {
        return Err(told(&reading.faults));
    }
    let compiled = book::Compiled::of(&reading).map_err(|e| e.to_string())?;
    let out = env::var_os("OUT_DIR").ok_or("cargo names no OUT_DIR")?;
    let texts = texts(&reading.sources);
    let files: [(&str, &[u8]); 4] = [
        ("texts.rs", texts.as_bytes()),
        ("records.json", compiled.records.as_bytes()),
        ("notes.txt", compiled.notes.as_bytes()),
        ("edges.bin", &compiled.edges),
    ];
    for (name, bytes) in files {
        let path = Path::new(&out).join(name);
        fs::write(&path, bytes).map_err(|e| format!("{}: {e}", path.display()))?;
    }
    Ok(())
}

/// Every fault in a line, in the program's own words.
fn told(faults: &[book::Fault]) -> String {
    let mut lines = String::new();
    for fault in faults {
        let place = fault.place.as_ref().map_or(String::new(), |p| format!(":{}:{}", p.line, p.column));
        let record = fault.record.as_ref().map_or(String::new(), |r| format!(" {r}:"));
        let hint = fault.problem.hint().map_or(String::new(), |h| format!("; {h}"));
        // Writing to a string cannot fail.
        let _ = writeln!(lines, "{}{place}:{record} {}{hint}", fault.file, fault.problem);
    }
    lines
}

/// The list of the pack's texts, as Rust.
fn texts(sources: &[book::Source]) -> String {
    let mut list = "&[\n".to_owned();
    for book::Source { path, content, .. } in sources {
        let text = format!("include_str!(concat!(env!(\"CARGO_MANIFEST_DIR\"), \"/\", {path:?}))");
        let _ = writeln!(list, "    (Content::{content:?}, {path:?}, {text}),");
    }
    list + "]\n"
}

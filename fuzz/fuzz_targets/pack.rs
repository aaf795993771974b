//! Any text as a file of ingredients: read, told, never a panic; what is whole prints and reads again the same.
#![no_main]

use libfuzzer_sys::fuzz_target;
use medlar::book::{Content, Source, read, written_ingredients};

fn file(text: String) -> Vec<Source> {
    vec![Source { path: "fuzz".to_owned(), content: Content::Ingredients, text: text.into() }]
}

fuzz_target!(|text: String| {
    let reading = read(file(text), Vec::new());
    if reading.faults.is_empty() {
        let again = read(file(written_ingredients(reading.book.ingredients()).unwrap()), Vec::new());
        assert_eq!(again.book.ingredients(), reading.book.ingredients());
    }
});

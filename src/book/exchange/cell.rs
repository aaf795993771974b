//! A cell of a table: how text, lists and "none" are written in it, so that nothing is lost and no spreadsheet takes a
//! name for a formula.

use std::collections::BTreeMap;

/// What a cell says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Cell {
    /// That there is none.
    None,
    /// This.
    Text(String),
}

/// What a row says, by column. A column that is not in it says nothing.
pub(super) type Cells = BTreeMap<&'static str, Cell>;

/// How a cell says that there is none.
const NONE: &str = "-";

/// With what a spreadsheet begins a formula, and the mark that keeps it from doing so.
///
/// # Source
/// OWASP, "CSV Injection" (*from memory*): `=`, `+`, `-`, `@` and their full-width forms at the start of a cell; tab and carriage
/// return too, which no text of the book holds. The mark is the one that spreadsheets themselves take for "text".
const STARTS: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];
const MARK: char = '\'';

/// Text as it stands in a cell: with the mark before it where a spreadsheet would take it for a formula, or where the blanks
/// around it would be lost.
pub(super) fn written(cell: &Cell) -> String {
    match cell {
        Cell::None => NONE.to_owned(),
        Cell::Text(text) if !text.starts_with(STARTS) && read_text(text) == *text => text.clone(),
        Cell::Text(text) => format!("{MARK}{text}"),
    }
}

/// What a cell says; nothing if it is empty.
pub(super) fn read(raw: &str) -> Option<Cell> {
    let plain = raw.trim();
    if plain == NONE {
        return Some(Cell::None);
    }
    (!plain.is_empty()).then(|| Cell::Text(read_text(raw)))
}

/// The text without the mark, or without blanks around it.
fn read_text(raw: &str) -> String {
    if let Some(text) = raw.strip_prefix(MARK) {
        let blank = |letter: Option<char>| letter.is_some_and(char::is_whitespace);
        let starts = |letter: char| letter == MARK || STARTS.contains(&letter);
        if text.starts_with(starts) || blank(text.chars().next()) || blank(text.chars().next_back()) {
            return text.to_owned();
        }
    }
    raw.trim().to_owned()
}

/// Several things in one cell, with semicolons between. A semicolon, a backslash and a blank at either end of one stand
/// behind a backslash.
pub(super) fn list<S: AsRef<str>>(items: impl IntoIterator<Item = S>) -> String {
    let items: Vec<String> = items.into_iter().map(|item| escaped(item.as_ref())).collect();
    items.join("; ")
}

fn escaped(item: &str) -> String {
    let mut text = String::with_capacity(item.len());
    let last = item.chars().count().saturating_sub(1);
    for (index, letter) in item.chars().enumerate() {
        let outer_blank = (index == 0 || index == last) && letter.is_whitespace();
        if matches!(letter, ';' | '\\') || outer_blank {
            text.push('\\');
        }
        text.push(letter);
    }
    text
}

/// The things of a list, without empty ones.
pub(super) fn items(text: &str) -> Vec<String> {
    let mut items = Vec::new();
    let mut item = String::new();
    // How much of the item stays when the blanks behind it go.
    let mut kept = 0;
    let mut letters = text.chars();
    let mut close = |item: &mut String, kept: &mut usize| {
        item.truncate(*kept);
        if !item.is_empty() {
            items.push(std::mem::take(item));
        }
        *kept = 0;
    };
    while let Some(letter) = letters.next() {
        match letter {
            ';' => close(&mut item, &mut kept),
            '\\' => {
                item.push(letters.next().unwrap_or('\\'));
                kept = item.len();
            }
            blank if blank.is_whitespace() && item.is_empty() => {}
            letter => {
                item.push(letter);
                if !letter.is_whitespace() {
                    kept = item.len();
                }
            }
        }
    }
    close(&mut item, &mut kept);
    items
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_formula_is_marked_and_plain_text_is_not() {
        for (text, cell) in [
            ("gin", "gin"),
            ("=1+1", "'=1+1"),
            ("-", "'-"),
            ("@home", "'@home"),
            ("'tis", "'tis"),
            ("'=x", "''=x"),
            (" gin", "' gin"),
            ("＝x", "'＝x"),
        ] {
            assert_eq!(written(&Cell::Text(text.to_owned())), cell);
            assert_eq!(read(cell), Some(Cell::Text(text.to_owned())), "{cell}");
        }
        assert_eq!(read("-"), Some(Cell::None));
        assert_eq!(read("  "), None);
        assert_eq!(read(" gin "), Some(Cell::Text("gin".to_owned())));
    }

    #[test]
    fn foreign_lists_are_read_as_they_are_written() {
        assert_eq!(items("nuts;milk ; ;eggs"), ["nuts", "milk", "eggs"]);
        assert_eq!(items(r"a\;b; c\"), ["a;b", r"c\"]);
    }

    proptest! {
        #[test]
        fn text_comes_back(text in "[-=+@'; \\\\a-c＝]{1,6}") {
            prop_assume!(!text.trim().is_empty());
            prop_assert_eq!(read(&written(&Cell::Text(text.clone()))), Some(Cell::Text(text)));
        }

        #[test]
        fn lists_come_back(all in prop::collection::vec("[-=+@'; \\\\a-c]{1,6}", 1..4)) {
            prop_assert_eq!(items(&list(&all)), all);
        }
    }
}

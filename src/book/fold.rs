//! Names as they are compared: without case, accents, punctuation or plural.

use std::borrow::Cow;

/// The key of a name: two names with one key are the same name to a person.
///
/// # Limits
/// English plurals only; a few irregular ones (leaves) are listed.
pub fn fold(name: &str) -> String {
    let plain = if name.is_ascii() { Cow::Borrowed(name) } else { Cow::Owned(deunicode::deunicode(name)) };
    let mut plain = plain.replace('\'', "");
    plain.make_ascii_lowercase();
    let mut key = String::with_capacity(plain.len() + 1);
    for word in plain.split(|c: char| !c.is_ascii_alphanumeric()) {
        if word.is_empty() || word == "and" {
            continue;
        }
        if !key.is_empty() {
            key.push(' ');
        }
        let (stem, end) = singular(word);
        key.push_str(stem);
        key.push_str(end);
    }
    key
}

/// The singular of a word, as its beginning and what ends it instead.
fn singular(word: &str) -> (&str, &'static str) {
    if word.len() <= 3 {
        return (word, "");
    }
    if word == "leaves" {
        return ("leaf", "");
    }
    if let Some(stem) = word.strip_suffix("ies") {
        return (stem, "y");
    }
    if let Some(stem) = word.strip_suffix("es")
        && ["s", "x", "z", "ch", "sh", "o"].iter().any(|end| stem.ends_with(end))
    {
        return (stem, "");
    }
    match word.strip_suffix('s') {
        Some(stem) if !["s", "u", "i"].iter().any(|end| stem.ends_with(end)) => (stem, ""),
        _ => (word, ""),
    }
}

#[cfg(test)]
mod tests {
    use super::fold;

    #[test]
    fn case_accents_hyphens_and_plurals_do_not_matter() {
        for (a, b) in [
            ("Crème de Cassis", "creme de cassis"),
            ("Añejo tequilas", "anejo tequila"),
            ("blood-oranges", "blood orange"),
            ("Cherries", "cherry"),
            ("peaches", "Peach"),
            ("tomatoes", "tomato"),
            ("olives", "olive"),
            ("aromatic bitter", "aromatic bitters"),
            ("mint leaves", "mint leaf"),
            ("bee's knees", "bees knees"),
            ("gin & tonic", "gin and tonic"),
        ] {
            assert_eq!(fold(a), fold(b), "{a} / {b}");
        }
        for (a, b) in [("cassis", "cassi"), ("hibiscus", "hibiscu"), ("pear", "peach"), ("gas", "ga")] {
            assert_ne!(fold(a), fold(b), "{a} / {b}");
        }
    }
}

//! Names as they are compared: without case, accents, punctuation or plural.

/// The key of a name: two names with one key are the same name to a person.
///
/// # Limits
/// English plurals only; a few irregular ones (leaves) are listed.
pub fn fold(name: &str) -> String {
    let plain = deunicode::deunicode(name).to_lowercase().replace(['\'', '\u{2019}'], "");
    let words: Vec<String> = plain
        .split(|c: char| !c.is_ascii_alphanumeric())
        .filter(|w| !w.is_empty() && *w != "and")
        .map(singular)
        .collect();
    words.join(" ")
}

fn singular(word: &str) -> String {
    if word.len() <= 3 {
        return word.to_owned();
    }
    if word == "leaves" {
        return "leaf".to_owned();
    }
    if let Some(stem) = word.strip_suffix("ies") {
        return format!("{stem}y");
    }
    if let Some(stem) = word.strip_suffix("es")
        && ["s", "x", "z", "ch", "sh", "o"].iter().any(|end| stem.ends_with(end))
    {
        return stem.to_owned();
    }
    match word.strip_suffix('s') {
        Some(stem) if !["s", "u", "i"].iter().any(|end| stem.ends_with(end)) => stem.to_owned(),
        _ => word.to_owned(),
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

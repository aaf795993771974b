//! The nearest of several words to one that was misspelt.

/// How many letters may be wrong before two words are no longer near.
fn most_wrong(letters: usize) -> usize {
    match letters {
        0..=2 => 0,
        3..=5 => 1,
        6..=9 => 2,
        _ => 3,
    }
}

/// How far two words are apart in single letters added, lost, changed or swapped with a neighbour; none if that is
/// more than a slip.
pub(super) fn slips_between(found: &str, word: &str) -> Option<usize> {
    let letters = found.chars().count();
    let allowed = most_wrong(letters);
    (letters.abs_diff(word.chars().count()) <= allowed)
        .then(|| strsim::osa_distance(found, word))
        .filter(|distance| *distance <= allowed)
}

/// The nearest word; the first of equals.
pub fn nearest_word<'a>(found: &str, words: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    words
        .filter_map(|word| slips_between(found, word).map(|d| (d, word)))
        .min_by_key(|(d, _)| *d)
        .map(|(_, w)| w)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_are_forgiven_and_other_words_are_not() {
        assert_eq!(nearest_word("quicne", ["peach", "quince"].into_iter()), Some("quince"));
        assert_eq!(nearest_word("gyn", ["rum", "gym"].into_iter()), Some("gym"));
        assert_eq!(nearest_word("zzz", ["rum", "gym"].into_iter()), None);
        assert_eq!(nearest_word("x", ["y"].into_iter()), None);
    }
}

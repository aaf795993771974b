//! What a person finds wrong with a drink.

use super::amounts::{Direction, Held};

/// How a drink should be other than it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wish {
    /// More sugar.
    Sweeter,
    /// Less sugar.
    Drier,
    /// More strength.
    Stronger,
    /// Less strength.
    Weaker,
    /// More acid.
    Sharper,
    /// Less acid.
    Softer,
    /// More bitterness.
    Bitterer,
    /// Less bitterness.
    Milder,
    /// More in the glass.
    Longer,
    /// Less in the glass.
    Shorter,
}

/// What is said of a drink that should be so: the wish, the complaint, and other ways to say it.
const WORDS: [(Wish, &str, &str, &[&str]); 10] = [
    (Wish::Sweeter, "sweeter", "too dry", &["not sweet enough", "more sweet"]),
    (Wish::Drier, "drier", "too sweet", &["less sweet", "dryer", "not dry enough"]),
    (
        Wish::Stronger,
        "stronger",
        "too weak",
        &["not strong enough", "more strong", "boozier", "too watery", "too thin"],
    ),
    (Wish::Weaker, "weaker", "too strong", &["less strong", "lighter", "too boozy", "less boozy"]),
    (Wish::Sharper, "sharper", "too flat", &["more sour", "not sour enough", "sourer", "tarter"]),
    (Wish::Softer, "softer", "too sour", &["less sour", "too sharp", "too tart"]),
    (Wish::Bitterer, "more bitter", "too mild", &["not bitter enough", "bitterer"]),
    (Wish::Milder, "milder", "too bitter", &["less bitter"]),
    (Wish::Longer, "longer", "too short", &["bigger", "too small"]),
    (Wish::Shorter, "shorter", "too long", &["smaller", "too big"]),
];

impl Wish {
    /// All of them.
    pub const ALL: [Self; 10] = [
        Self::Sweeter,
        Self::Drier,
        Self::Stronger,
        Self::Weaker,
        Self::Sharper,
        Self::Softer,
        Self::Bitterer,
        Self::Milder,
        Self::Longer,
        Self::Shorter,
    ];

    /// The word for it: `drier`.
    pub const fn name(self) -> &'static str {
        WORDS[self as usize].1
    }

    /// What is wrong: `too sweet`.
    pub const fn complaint(self) -> &'static str {
        WORDS[self as usize].2
    }

    /// What it takes or gives.
    pub const fn of(self) -> &'static str {
        match self.moves().0 {
            Held::Taste(Direction::Strength) | Held::Alcohol => "alcohol",
            Held::Taste(direction) => direction.name(),
            Held::Glass => "drink",
        }
    }

    /// The wish that a text ends with, and what stands before it: `negroni too sweet`, `drier`.
    pub fn at_the_end(text: &str) -> Option<(Self, &str)> {
        let text = text.trim_end();
        let low = text.to_lowercase();
        // Letters whose lower case is as long: then what is cut off there can be cut off here.
        if low.len() != text.len() {
            return None;
        }
        let said = |(wish, name, complaint, others): &(Self, &'static str, &'static str, &[&'static str])| {
            let all = [*name, *complaint].into_iter().chain(others.iter().copied());
            let best = all.filter(|said| ends_with_words(&low, said)).max_by_key(|said| said.len())?;
            Some((*wish, best.len()))
        };
        let (wish, length) = WORDS.iter().filter_map(said).max_by_key(|(_, length)| *length)?;
        Some((wish, text.get(..text.len() - length)?))
    }

    /// Which figure it moves, and whether up.
    pub const fn moves(self) -> (Held, bool) {
        match self {
            Self::Sweeter => (Held::Taste(Direction::Sugar), true),
            Self::Drier => (Held::Taste(Direction::Sugar), false),
            Self::Stronger => (Held::Taste(Direction::Strength), true),
            Self::Weaker => (Held::Taste(Direction::Strength), false),
            Self::Sharper => (Held::Taste(Direction::Acid), true),
            Self::Softer => (Held::Taste(Direction::Acid), false),
            Self::Bitterer => (Held::Taste(Direction::Bitterness), true),
            Self::Milder => (Held::Taste(Direction::Bitterness), false),
            Self::Longer => (Held::Glass, true),
            Self::Shorter => (Held::Glass, false),
        }
    }
}

/// Whether a text ends with words, and not in the middle of one.
fn ends_with_words(text: &str, words: &str) -> bool {
    text.strip_suffix(words).is_some_and(|rest| rest.is_empty() || rest.ends_with([' ', ',']))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_in_the_order_of_the_wishes_and_no_words_mean_two() {
        for (index, wish) in Wish::ALL.into_iter().enumerate() {
            assert_eq!((WORDS[index].0, wish as usize), (wish, index));
        }
        let all = || WORDS.iter().flat_map(|w| [w.1, w.2].into_iter().chain(w.3.iter().copied()));
        for said in all() {
            assert_eq!(all().filter(|other| *other == said).count(), 1, "{said}");
        }
    }

    #[test]
    fn a_wish_is_read_off_the_end_and_the_longest_words_count() {
        let read = |text| Wish::at_the_end(text).map(|(wish, rest)| (wish, rest.trim().to_owned()));
        assert_eq!(read("negroni too sweet"), Some((Wish::Drier, "negroni".to_owned())));
        assert_eq!(read("Daiquiri, NOT SWEET ENOUGH "), Some((Wish::Sweeter, "Daiquiri,".to_owned())));
        assert_eq!(read("more bitter"), Some((Wish::Bitterer, String::new())));
        assert_eq!(read("negroni"), None);
        assert_eq!(read("a tale of shorter"), Some((Wish::Shorter, "a tale of".to_owned())));
        assert_eq!(read("undrier"), None);
    }
}

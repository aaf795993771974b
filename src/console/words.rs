//! A typed line as words.

use thiserror::Error;

/// A quote that is opened and not closed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[error(
    "a quote is opened and not closed: close it, or leave it out (names of several words need no quotes)"
)]
pub struct OpenQuote;

/// Splits a line into words as a shell does, but an apostrophe inside a word is a letter: `bee's knees`.
///
/// # Errors
/// [`OpenQuote`] if a quote is left open.
pub fn split(line: &str) -> Result<Vec<String>, OpenQuote> {
    let mut plain = String::with_capacity(line.len());
    let mut before: Option<char> = None;
    for letter in line.chars() {
        if letter == '\'' && before.is_some_and(char::is_alphanumeric) && !open(&plain) {
            plain.push('\\');
        }
        if letter == '#' && before.is_none_or(char::is_whitespace) && !open(&plain) {
            break;
        }
        if letter == '\\' {
            plain.push('\\');
        }
        plain.push(letter);
        before = Some(letter);
    }
    shlex::split(&plain).ok_or(OpenQuote)
}

/// Options whose value may be a name of several words, as people say it: `--in dry martini`.
pub(super) const NAME_OPTIONS: [&str; 30] = [
    "--open",
    "--in",
    "--swap",
    "--with",
    "--no",
    "--split",
    "--dish",
    "--have",
    "--name",
    "--from",
    "--garnish",
    "--keep",
    "--most",
    "--least",
    "--why",
    "--by",
    "--note",
    "--like",
    "--alias",
    "--role",
    "--facet",
    "--season",
    "--peak",
    "--allergen",
    "--diet",
    "--made-from",
    "--keeps",
    "--map",
    "--style",
    "--prices",
];

/// Options whose value may be a quantity of two words, as people write it: `--ice 250 g`.
const QUANTITY_OPTIONS: [&str; 36] = [
    "--ice",
    "--ice-at",
    "--wet",
    "--drink-at",
    "--vessel",
    "--vessel-at",
    "--ends-at",
    "--minutes",
    "--bottle",
    "--volume",
    "--keg",
    "--dispenser",
    "--bowl",
    "--water",
    "--freezer",
    "--across",
    "--target",
    "--tax",
    "--price",
    "--step",
    "--waste",
    "--ice-price",
    "--spare",
    "--parts",
    "--brim",
    "--warmest",
    "--dilution",
    "--tolerance",
    "--fit",
    "--alcohol",
    "--strength",
    "--sugar",
    "--acid",
    "--bitterness",
    "--salt",
    "--loudness",
];

/// Makes one word of the words that follow an option that takes a name, up to the next option.
pub(super) fn gather(words: Vec<String>) -> Vec<String> {
    let mut gathered: Vec<String> = Vec::with_capacity(words.len());
    let mut at_value = false;
    let mut in_value = false;
    for word in words {
        if word.starts_with("--") {
            at_value = NAME_OPTIONS.contains(&word.as_str()) || QUANTITY_OPTIONS.contains(&word.as_str());
            in_value = false;
            gathered.push(word);
        } else if in_value && let Some(value) = gathered.last_mut() {
            value.push(' ');
            value.push_str(&word);
        } else {
            in_value = at_value;
            // A minus in front of a number is no option: `-18C` would be taken for one.
            match negative(&word).filter(|_| !in_value) {
                Some((number, unit)) => gathered.extend([number, unit]),
                None => gathered.push(word),
            }
        }
    }
    gathered
}

/// `-18C` as `-18` and `C`; none for anything else.
fn negative(word: &str) -> Option<(String, String)> {
    let digits = word.strip_prefix(['-', '−'])?;
    let end = digits.find(|c: char| !c.is_ascii_digit() && !matches!(c, '.' | ','))?;
    let (number, unit) = digits.split_at(end);
    (!number.is_empty() && !unit.starts_with('-')).then(|| (format!("-{number}"), unit.to_owned()))
}

/// Whether a quote is open at the end of a text.
fn open(text: &str) -> bool {
    shlex::split(text).is_none()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(line: &str) -> Vec<String> {
        split(line).unwrap()
    }

    #[test]
    fn blanks_part_words_and_quotes_hold_them_together() {
        assert_eq!(words("pairs quince, mezcal"), ["pairs", "quince,", "mezcal"]);
        assert_eq!(words("show \"sweet vermouth\""), ["show", "sweet vermouth"]);
        assert_eq!(words("show 'sweet vermouth'"), ["show", "sweet vermouth"]);
        assert_eq!(words("  "), Vec::<String>::new());
    }

    #[test]
    fn apostrophes_inside_words_are_letters() {
        assert_eq!(words("show bee's knees"), ["show", "bee's", "knees"]);
        assert_eq!(words("show bees' knees"), ["show", "bees'", "knees"]);
    }

    #[test]
    fn a_remark_is_left_out_and_backslashes_are_plain() {
        assert_eq!(words("pairs quince # in october"), ["pairs", "quince"]);
        assert_eq!(words("# nothing"), Vec::<String>::new());
        assert_eq!(words(r"show a\b"), ["show", r"a\b"]);
    }

    #[test]
    fn a_name_of_several_words_follows_its_option_whole() {
        let gathered = |line| gather(words(line));
        assert_eq!(gathered("swap gin --in dry martini"), ["swap", "gin", "--in", "dry martini"]);
        assert_eq!(
            gathered("riff negroni --swap gin = mezcal --no sweet vermouth --count 2 x"),
            ["riff", "negroni", "--swap", "gin = mezcal", "--no", "sweet vermouth", "--count", "2", "x"]
        );
        assert_eq!(gathered("riff negroni --with"), ["riff", "negroni", "--with"]);
    }

    #[test]
    fn an_open_quote_is_told() {
        assert_eq!(split("show \"sweet"), Err(OpenQuote));
        assert_eq!(split("show 'sweet"), Err(OpenQuote));
    }
}

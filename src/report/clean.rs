//! Text from data and people, made safe to show.

use std::borrow::Cow;
use std::fmt::Write as _;

/// Makes every character that would act on the terminal, or hide, visible as an escape such as `\u{1b}`.
///
/// Line breaks, tabs and unusual blanks become plain blanks; all else that is shown as a letter or a sign is kept,
/// whatever its script. Cleaning twice changes nothing more.
///
/// ```
/// use medlar::report::clean;
///
/// assert_eq!(clean("crème de mûre"), "crème de mûre");
/// assert_eq!(clean("red\u{1b}[31m"), "red\\u{1b}[31m");
/// ```
///
/// # Limits
/// Letters of two scripts that look alike are not told apart.
pub fn clean(text: &str) -> Cow<'_, str> {
    if !text.chars().any(|c| acts(c) || folds(c)) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 16);
    for c in text.replace("\r\n", "\n").chars() {
        if folds(c) {
            out.push(' ');
        } else if acts(c) {
            // Writing to a string cannot fail.
            let _ = write!(out, "\\u{{{:x}}}", u32::from(c));
        } else {
            out.push(c);
        }
    }
    Cow::Owned(out)
}

/// Whether the character is white space that is shown as a plain blank.
fn folds(c: char) -> bool {
    matches!(
        c,
        '\t' | '\n' | '\u{a0}' | '\u{1680}' | '\u{2000}'..='\u{200a}' | '\u{202f}' | '\u{205f}' | '\u{3000}'
    )
}

/// Whether the character acts on the terminal, turns the direction of reading, or takes no room on the screen.
///
/// # Source
/// The Unicode Standard: general categories `Cc`, `Cf`, `Zl`, `Zp` and `Co` (compared with version 14.0.0 of its
/// character database); the fillers and selectors of `Default_Ignorable_Code_Point` and the noncharacters, from
/// memory.
pub(super) fn acts(c: char) -> bool {
    c.is_control()
        || matches!(
            c,
            '\u{ad}'
            | '\u{34f}'
            | '\u{600}'..='\u{605}'
            | '\u{61c}'
            | '\u{6dd}'
            | '\u{70f}'
            | '\u{890}'..='\u{891}'
            | '\u{8e2}'
            | '\u{115f}'..='\u{1160}'
            | '\u{17b4}'..='\u{17b5}'
            | '\u{180b}'..='\u{180f}'
            | '\u{200b}'..='\u{200f}'
            | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}'
            | '\u{3164}'
            | '\u{e000}'..='\u{f8ff}'
            | '\u{fdd0}'..='\u{fdef}'
            | '\u{fe00}'..='\u{fe0f}'
            | '\u{feff}'
            | '\u{ffa0}'
            | '\u{fff0}'..='\u{fffb}'
            | '\u{fffe}'..='\u{ffff}'
            | '\u{110bd}'
            | '\u{110cd}'
            | '\u{13430}'..='\u{1343f}'
            | '\u{1bca0}'..='\u{1bca3}'
            | '\u{1d173}'..='\u{1d17a}'
            | '\u{e0000}'..='\u{e0fff}'
            | '\u{f0000}'..='\u{10ffff}')
        || u32::from(c) & 0xfffe == 0xfffe
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn letters_of_any_script_are_kept_without_copying() {
        for text in ["", "piña", "crème de mûre", "日本酒", "قهوة", "1 ½ oz", "🍋"] {
            assert!(matches!(clean(text), Cow::Borrowed(same) if same == text), "{text}");
        }
    }

    #[test]
    fn what_acts_or_hides_is_spelt_out() {
        for (text, shown) in [
            ("\u{1b}[2J", "\\u{1b}[2J"),
            ("\u{9b}2J", "\\u{9b}2J"),
            ("a\u{7f}b", "a\\u{7f}b"),
            ("a\rb", "a\\u{d}b"),
            ("gin\u{202e}nig", "gin\\u{202e}nig"),
            ("gin\u{2066}", "gin\\u{2066}"),
            ("g\u{200b}in", "g\\u{200b}in"),
            ("\u{feff}gin", "\\u{feff}gin"),
            ("gin\u{2061}", "gin\\u{2061}"),
        ] {
            assert_eq!(clean(text), shown, "{text:?}");
        }
    }

    #[test]
    fn line_breaks_and_wide_blanks_become_blanks() {
        assert_eq!(clean("a\nb\r\nc\td\u{a0}e\u{3000}f"), "a b c d e f");
    }

    proptest! {
        #[test]
        fn nothing_that_acts_is_left_and_cleaning_again_changes_nothing(text in any::<String>()) {
            let once = clean(&text).into_owned();
            prop_assert!(!once.chars().any(acts));
            prop_assert_eq!(clean(&once), once.as_str());
        }
    }
}

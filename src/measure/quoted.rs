//! Typed text as it may be shown back in a message.

use std::fmt;

/// Text somebody typed, in quotation marks, cut to a line's worth, with no character that could steer a terminal.
///
/// Control characters and invisible marks of direction are written as escapes; letters of every script stay.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Quoted<'a>(pub(crate) &'a str);

/// Characters shown before the text is cut.
const LONGEST: usize = 60;

impl fmt::Display for Quoted<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("'")?;
        for (index, letter) in self.0.chars().enumerate() {
            if index == LONGEST {
                f.write_str("…")?;
                break;
            }
            if steers(letter) {
                write!(f, "{}", letter.escape_unicode())?;
            } else {
                write!(f, "{letter}")?;
            }
        }
        f.write_str("'")
    }
}

/// Whether a terminal or a text renderer obeys the character instead of drawing it.
fn steers(letter: char) -> bool {
    letter.is_control()
        || matches!(letter, '\u{ad}' | '\u{61c}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn control_and_direction_marks_are_escaped_and_letters_are_not() {
        assert_eq!(Quoted("\u{1b}[2Jgin").to_string(), r"'\u{1b}[2Jgin'");
        assert_eq!(Quoted("a\u{202e}b\nc").to_string(), r"'a\u{202e}b\u{a}c'");
        assert_eq!(Quoted("crème 日本酒 ½").to_string(), "'crème 日本酒 ½'");
    }

    #[test]
    fn long_text_is_cut() {
        let shown = Quoted(&"x".repeat(5000)).to_string();
        assert_eq!(shown.chars().count(), LONGEST + 3);
        assert!(shown.ends_with("…'"));
        assert_eq!(Quoted(&"x".repeat(LONGEST)).to_string().chars().count(), LONGEST + 2);
    }
}

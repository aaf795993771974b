//! Breaking text into lines by the room it takes on the screen.

use unicode_width::UnicodeWidthStr;

use crate::report::clean;

/// The columns a text takes.
pub(super) fn width_of(text: &str) -> usize {
    text.width()
}

/// Cleans a text and breaks it at blanks into lines of at most `width` columns.
///
/// A word longer than a line is cut; a letter wider than a line stands alone. Runs of blanks become one. A text
/// without words has no lines.
pub(super) fn wrap(text: &str, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in clean(text).split(' ').filter(|word| !word.is_empty()) {
        if line.is_empty() {
            line = cut(word, width, &mut lines);
        } else if width_of(&line) + 1 + width_of(word) <= width {
            line.push(' ');
            line.push_str(word);
        } else {
            lines.push(std::mem::take(&mut line));
            line = cut(word, width, &mut lines);
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// Cuts a word into pieces of at most `width`: the full ones go to `lines`, the last comes back.
fn cut(word: &str, width: usize, lines: &mut Vec<String>) -> String {
    if width_of(word) <= width {
        return word.to_owned();
    }
    let mut piece = String::new();
    for c in word.chars() {
        piece.push(c);
        if width_of(&piece) > width && piece.chars().nth(1).is_some() {
            piece.pop();
            lines.push(std::mem::replace(&mut piece, c.to_string()));
        }
    }
    piece
}

/// Sets short pieces in lines of at most `width`, three blanks apart, without breaking a piece that fits a line.
pub(super) fn flow(pieces: &[String], width: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for piece in pieces {
        match lines.last_mut() {
            Some(line) if width_of(line) + 3 + width_of(piece) <= width => {
                line.push_str("   ");
                line.push_str(piece);
            }
            _ => lines.extend(wrap(piece, width)),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn text_breaks_at_blanks() {
        assert_eq!(wrap("stir with ice, strain", 9), ["stir with", "ice,", "strain"]);
        assert_eq!(wrap("  a   b \n c ", 80), ["a b c"]);
        assert_eq!(wrap(" ", 80), [""; 0]);
        assert_eq!(wrap("abc \u{301}", 3), ["abc", "\u{301}"]);
    }

    #[test]
    fn long_words_are_cut_and_wide_letters_counted() {
        assert_eq!(wrap("a blackcurrant b", 6), ["a", "blackc", "urrant", "b"]);
        assert_eq!(wrap("日本酒", 5), ["日本", "酒"]);
        assert_eq!(wrap("日本", 1), ["日", "本"]);
        assert_eq!(wrap("pin\u{303}a cafe\u{301}", 4), ["pin\u{303}a", "cafe\u{301}"]);
    }

    #[test]
    fn pieces_are_kept_whole() {
        let pieces = ["o available".to_owned(), "@ at its peak".to_owned()];
        assert_eq!(flow(&pieces, 27), ["o available   @ at its peak"]);
        assert_eq!(flow(&pieces, 26), ["o available", "@ at its peak"]);
    }

    proptest! {
        #[test]
        fn no_letter_is_lost_and_no_line_too_wide(text in any::<String>(), width in 2_usize..50) {
            let lines = wrap(&text, width);
            let letters = |text: &str| text.chars().filter(|c| *c != ' ').collect::<String>();
            prop_assert_eq!(letters(&lines.concat()), letters(&clean(&text)));
            for line in lines {
                prop_assert!(width_of(&line) <= width, "{:?}", line);
            }
        }
    }
}

//! How much room text takes on paper.

use unicode_width::UnicodeWidthStr;

use crate::report::wrapped;

/// How wide a small letter is on an average, in parts of the type's size. Measured in a browser in `DejaVu` Sans, a
/// wide face: 0.49 to 0.54 over sentences, 0.47 to 0.58 over names (of ten, one came to 0.62); in bold 0.55 to 0.61
/// and 0.54 to 0.65 (0.69).
const LETTER: f64 = 0.52;
/// The same for bold text.
const BOLD: f64 = 0.59;
/// What is added for a text of so few letters that their average strays; less for more letters.
const STRAY: f64 = 0.05;
const FEW: f64 = 14.0;
/// The distance of lines, in parts of the type's size; as in the templates.
const LEADING: f64 = 1.26;
/// How much closer lines are in pairs.
const CLOSE: f64 = 0.93;
/// Millimetres in a point.
const MM_PER_PT: f64 = 25.4 / 72.0;

/// Lines of text one under the other, as they are set in a box of some width: how high they come to.
///
/// # Accuracy
/// A guess on the safe side: a paper that is a little too long for it gets more room than it needs, and one that is
/// too long for the guess is still not clipped, since boxes grow.
#[derive(Debug, Clone)]
#[expect(clippy::struct_field_names, reason = "their unit")]
pub(super) struct Room {
    width_mm: f64,
    type_mm: f64,
    height_mm: f64,
}

impl Room {
    /// An empty box of such a width, with type of such a size.
    pub(super) fn new(width_mm: f64, type_pt: f64) -> Self {
        Self { width_mm, type_mm: type_pt * MM_PER_PT, height_mm: 0.0 }
    }

    /// Text under what is there, its type so many times the usual; nothing for an empty one.
    pub(super) fn text(&mut self, times: f64, text: &str) {
        self.beside(0.0, times, LETTER, text);
    }

    /// Bold text under what is there.
    pub(super) fn bold(&mut self, times: f64, text: &str) {
        self.beside(0.0, times, BOLD, text);
    }

    /// Text under what is there that leaves so many millimetres of the width free.
    pub(super) fn indented(&mut self, free_mm: f64, times: f64, text: &str) {
        self.beside(free_mm, times, LETTER, text);
    }

    /// Bold texts on one line where they fit it, else one under the other.
    pub(super) fn either(&mut self, times: f64, texts: &[String]) {
        if self.lines(self.width_mm, times, BOLD, &texts.join(" and ")) <= 1.0 {
            self.bold(times, &texts.concat());
        } else {
            for text in texts {
                self.bold(times, text);
            }
        }
    }

    fn beside(&mut self, free_mm: f64, times: f64, letter: f64, text: &str) {
        self.height_mm += self.lines(self.width_mm - free_mm, times, letter, text) * self.line_mm(times);
    }

    /// Texts side by side, line by line, the left ones bold and as wide as a share of the width at most.
    pub(super) fn pairs(&mut self, share: f64, times: f64, pairs: &[(String, String)]) {
        let letter_mm = self.type_mm * times * (BOLD + STRAY);
        let widest_mm =
            pairs.iter().map(|(left, _)| left.width() as f64 * breadth(left)).fold(0.0, f64::max) * letter_mm;
        let left_mm = widest_mm.min(self.width_mm * share);
        // One letter's width is white between them.
        let right_mm = self.width_mm - left_mm - letter_mm;
        for (left, right) in pairs {
            let left = self.lines(left_mm + 0.01, times, BOLD, left);
            let right = self.lines(right_mm, times, LETTER, right);
            self.height_mm += left.max(right) * self.line_mm(times) * CLOSE;
        }
    }

    /// So many millimetres of white, or of a picture.
    pub(super) fn white(&mut self, mm: f64) {
        self.height_mm += mm;
    }

    /// How wide it is.
    pub(super) fn width_mm(&self) -> f64 {
        self.width_mm
    }

    /// How high it all is.
    pub(super) fn height_mm(&self) -> f64 {
        self.height_mm
    }

    fn line_mm(&self, times: f64) -> f64 {
        self.type_mm * times * LEADING
    }

    fn lines(&self, width_mm: f64, times: f64, letter: f64, text: &str) -> f64 {
        let letter = letter + STRAY * (FEW / text.chars().count().max(1) as f64).min(1.0);
        let columns = (width_mm / (self.type_mm * times * letter * breadth(text))).floor().max(1.0);
        // Columns of a sheet of paper are few.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at least 1, and small")]
        let columns = columns as usize;
        wrapped(text, "", columns).len() as f64
    }
}

/// How much wider the letters of a text are than small ones, on an average.
///
/// # Source
/// Advance widths of `DejaVu` Sans, rounded up: digits 0.64 of the size, most capitals up to 0.69, m and w up to 0.99.
fn breadth(text: &str) -> f64 {
    let wide = |c: char| match c {
        'm' | 'w' | 'M' | 'W' | '%' | '@' => 1.9,
        c if c.is_uppercase() => 1.4,
        c if c.is_ascii_digit() || !c.is_ascii() => 1.25,
        _ => 1.0,
    };
    text.chars().map(wide).sum::<f64>() / text.chars().count().max(1) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_takes_as_many_lines_as_it_needs() {
        let mut room = Room::new(60.0, 10.0);
        let line = 10.0 * MM_PER_PT * LEADING;
        room.text(1.0, "");
        assert!(room.height_mm().abs() < 1e-9);
        room.text(1.0, "short");
        assert!((room.height_mm() - line).abs() < 1e-9);
        // 31 letters of 10 points fit 60 mm.
        room.text(1.0, &"n".repeat(31));
        assert!((room.height_mm() - 2.0 * line).abs() < 1e-9);
        room.text(1.0, &"n".repeat(32));
        assert!((room.height_mm() - 4.0 * line).abs() < 1e-9);
    }

    #[test]
    fn larger_bold_or_indented_text_takes_more() {
        let height = |fill: &dyn Fn(&mut Room)| {
            let mut room = Room::new(60.0, 10.0);
            fill(&mut room);
            room.height_mm()
        };
        let text = "two parts of quince and one of honey";
        let plain = height(&|room| room.text(1.0, text));
        assert!(height(&|room| room.text(2.0, text)) > plain);
        assert!(
            height(&|room| room.text(1.0, &"N".repeat(31))) > height(&|room| room.text(1.0, &"n".repeat(31)))
        );
        assert!(
            height(&|room| room.bold(1.0, &"n".repeat(31))) > height(&|room| room.text(1.0, &"n".repeat(31)))
        );
        assert!(height(&|room| room.indented(30.0, 1.0, text)) > plain);
        let pair = |left: &str, right: &str| {
            height(&|room| room.pairs(0.5, 1.0, &[(left.to_owned(), right.to_owned())]))
        };
        assert!(pair("a long amount", text) > pair("30 ml", text));
        assert!(pair(text, "") > pair("", text));
    }
}

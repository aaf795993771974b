//! Tones as marks inside a line, and lines as what is sent to the screen.
//!
//! A line is laid out with marks of no width around what has a tone. The marks are characters that `clean` lets
//! through from nobody, so they are always ours. Painting turns them into escape codes or drops them.

use anstyle::AnsiColor;

use crate::report::{Tone, clean};

const END: char = '\u{2060}';

fn open(tone: Tone) -> Option<char> {
    match tone {
        Tone::Plain => None,
        Tone::Strong => Some('\u{2061}'),
        Tone::Quiet => Some('\u{2062}'),
        Tone::Good => Some('\u{2063}'),
        Tone::Warn => Some('\u{2064}'),
    }
}

fn tone_of(mark: char) -> Option<Tone> {
    match mark {
        END => Some(Tone::Plain),
        '\u{2061}' => Some(Tone::Strong),
        '\u{2062}' => Some(Tone::Quiet),
        '\u{2063}' => Some(Tone::Good),
        '\u{2064}' => Some(Tone::Warn),
        _ => None,
    }
}

/// Cleans a piece of a line and gives it a tone.
pub(super) fn toned(text: &str, tone: Tone) -> String {
    let text = clean(text);
    match open(tone) {
        Some(mark) if !text.is_empty() => format!("{mark}{text}{END}"),
        _ => text.into_owned(),
    }
}

/// A laid out line as it is sent: marks replaced, blanks at its end dropped.
pub(super) fn paint(line: &str, colour: bool) -> String {
    let mut pieces: Vec<(Tone, String)> = vec![(Tone::Plain, String::new())];
    for c in line.chars() {
        match tone_of(c) {
            Some(tone) => pieces.push((tone, String::new())),
            None => {
                if let Some((_, text)) = pieces.last_mut() {
                    text.push(c);
                }
            }
        }
    }
    while let Some((_, text)) = pieces.last_mut() {
        text.truncate(text.trim_end().len());
        if !text.is_empty() {
            break;
        }
        pieces.pop();
    }
    let mut out = String::with_capacity(line.len());
    for (tone, text) in pieces {
        // Every piece was cleaned when it was made. Should one be forgotten, it still cannot act on the screen.
        let text = clean(&text);
        match ink(tone) {
            Some(ink) if colour && !text.is_empty() => out.extend([
                ink.render().to_string().as_str(),
                text.as_ref(),
                ink.render_reset().to_string().as_str(),
            ]),
            _ => out.push_str(&text),
        }
    }
    out
}

fn ink(tone: Tone) -> Option<anstyle::Style> {
    match tone {
        Tone::Plain => None,
        Tone::Strong => Some(anstyle::Style::new().bold()),
        Tone::Quiet => Some(anstyle::Style::new().dimmed()),
        Tone::Good => Some(AnsiColor::Green.on_default()),
        Tone::Warn => Some(AnsiColor::Yellow.on_default().bold()),
    }
}

#[cfg(test)]
mod tests {
    use super::super::wrap::width_of;
    use super::*;

    #[test]
    fn marks_take_no_room_and_leave_no_trace() {
        for tone in [Tone::Plain, Tone::Strong, Tone::Quiet, Tone::Good, Tone::Warn] {
            let marked = toned("lime", tone);
            assert_eq!(width_of(&marked), 4);
            assert_eq!(paint(&marked, false), "lime");
        }
    }

    #[test]
    fn colour_ends_where_its_text_ends() {
        let line = format!("a {} b", toned("lime", Tone::Good));
        assert_eq!(paint(&line, true), "a \u{1b}[32mlime\u{1b}[0m b");
    }

    #[test]
    fn blanks_at_the_end_are_dropped_behind_marks_too() {
        assert_eq!(paint("a   ", true), "a");
        assert_eq!(
            paint(&format!("{}  {}   ", toned("a ", Tone::Warn), toned(" ", Tone::Quiet)), false),
            "a"
        );
        assert_eq!(paint("", true), "");
    }

    #[test]
    fn text_that_was_not_cleaned_cannot_act() {
        assert_eq!(paint("\u{1b}[2J", true), "\\u{1b}[2J");
    }

    #[test]
    fn marks_in_data_are_not_taken_for_ours() {
        assert_eq!(toned("a\u{2061}b", Tone::Plain), "a\\u{2061}b");
    }
}

//! A bottle with lines to fill it to.

use serde::Serialize;

use super::drawing::round;

/// A line on a bottle.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FillMark {
    /// What reaches up to it: `the mix, 210 ml`.
    pub label: String,
    /// How much of the bottle's volume is under it, from 0 (its floor) to 1 (where its neck begins). What is not a
    /// number is not drawn; what lies outside is drawn at the end.
    pub share: f64,
}

/// The height of the drawing.
const HIGH: f64 = 130.0;
/// Where the floor is.
const FLOOR: f64 = 124.0;
/// Where the straight wall ends, and with it what can be filled.
const FULL: f64 = 44.0;
/// Least distance of two numbers.
const APART: f64 = 11.0;

/// A straight-sided bottle, drawn.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct Bottle {
    /// The whole of it in words.
    title: String,
    high: String,
    lines: Vec<Line>,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
struct Line {
    y: String,
    /// Where its number stands: beside it, or a little off where lines are close.
    number_y: String,
    text_y: String,
    /// Its place among the labels, from 1; empty if it is the only one.
    number: String,
}

impl Bottle {
    /// The bottle with its lines; none if there is no line to draw.
    pub(super) fn new(marks: &[FillMark]) -> Option<Self> {
        let mut drawn: Vec<(usize, f64)> = marks
            .iter()
            .enumerate()
            .filter(|(_, mark)| !mark.share.is_nan())
            .map(|(at, mark)| (at, FLOOR - (FLOOR - FULL) * mark.share.clamp(0.0, 1.0)))
            .collect();
        if drawn.is_empty() {
            return None;
        }
        // From the floor up, so that each number stands above the one before.
        drawn.sort_by(|a, b| b.1.total_cmp(&a.1));
        let apart = APART.min((FLOOR - 8.0) / drawn.len() as f64);
        let mut numbers: Vec<f64> = Vec::new();
        for (at, (_, y)) in drawn.iter().enumerate() {
            let highest = numbers.last().map_or(FLOOR, |last| last - apart);
            let above = (drawn.len() - 1 - at) as f64;
            numbers.push(y.min(highest).max(8.0 + apart * above));
        }
        let lines = drawn.iter().zip(numbers).map(|(&(at, y), number_y)| Line {
            y: round(y),
            number_y: round(number_y),
            text_y: round(number_y + 3.0),
            number: if marks.len() > 1 { (at + 1).to_string() } else { String::new() },
        });
        let words: Vec<String> =
            marks.iter().map(|mark| format!("{} at {:.0} %", mark.label, 100.0 * mark.share)).collect();
        Some(Self {
            title: format!("bottle: {}", words.join("; ")),
            high: round(HIGH),
            lines: lines.collect(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn marks(shares: &[f64]) -> Vec<FillMark> {
        let mark = |(at, share): (usize, &f64)| FillMark { label: format!("mark {at}"), share: *share };
        shares.iter().enumerate().map(mark).collect()
    }

    fn heights(shares: &[f64]) -> Vec<(String, String)> {
        let bottle = Bottle::new(&marks(shares)).unwrap();
        bottle.lines.into_iter().map(|line| (line.number, line.y)).collect()
    }

    #[test]
    fn a_share_is_a_height_and_stays_in_the_bottle() {
        let lines = heights(&[0.0, 0.5, 1.0, 7.0]);
        let expected = [("1", "124"), ("2", "84"), ("3", "44"), ("4", "44")];
        assert_eq!(lines, expected.map(|(n, y)| (n.to_owned(), y.to_owned())));
        assert_eq!(heights(&[0.25]), [(String::new(), "104".to_owned())]);
        assert_eq!(heights(&[f64::NAN, 1.0]), [("2".to_owned(), "44".to_owned())]);
        assert_eq!(Bottle::new(&marks(&[f64::NAN])), None);
        assert_eq!(Bottle::new(&[]), None);
    }

    #[test]
    fn numbers_keep_apart_and_stay_on_the_picture() {
        for shares in [vec![0.5, 0.51, 0.52], vec![1.0; 9], vec![0.0; 5], vec![0.4; 40]] {
            let bottle = Bottle::new(&marks(&shares)).unwrap();
            let mut at: Vec<f64> = bottle.lines.iter().map(|line| line.number_y.parse().unwrap()).collect();
            assert!(at.iter().all(|y| (7.9..=FLOOR).contains(y)), "{at:?}");
            at.sort_by(f64::total_cmp);
            let least = APART.min((FLOOR - 8.0) / shares.len() as f64) - 0.11;
            assert!(at.windows(2).all(|pair| pair[1] - pair[0] >= least), "{at:?}");
        }
    }
}

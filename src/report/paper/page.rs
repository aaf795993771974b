//! Any report as a page.

use serde::Serialize;

use super::bottle::Bottle;
use super::drawing::Drawing;
use super::grid::Grid;
use super::press::{Frame, Print, press};
use super::twelve::Twelve;
use super::{PaperFault, Sheet};
use crate::report::{Block, Report, clean};

/// The width of a letter of fixed width, in parts of its size (measured: 0.602 in `DejaVu` Sans Mono).
const FIXED: f64 = 0.61;
/// Drawn text is not set smaller than this to keep its lines whole, in points.
const SMALLEST_PT: f64 = 5.0;
/// Millimetres in a point.
const MM_PER_PT: f64 = 25.4 / 72.0;

/// A report as a page that holds everything it needs: what the text says, the page says, in the same order.
///
/// ```
/// use medlar::report::{Report, Sheet, page};
///
/// let report = Report::new("Quince", serde_json::json!({})).text("Hard & yellow.");
/// let page = page(&report, Sheet::A5)?;
/// assert!(page.starts_with("<!DOCTYPE html>") && page.contains("Hard &amp; yellow."));
/// # Ok::<(), medlar::report::PaperFault>(())
/// ```
///
/// # Errors
/// Only if a template is at fault.
pub fn page(report: &Report, sheet: Sheet) -> Result<String, PaperFault> {
    let (margin_mm, type_pt) = match sheet {
        Sheet::A4 | Sheet::Letter => (15.0, 10.5),
        Sheet::A5 => (11.0, 9.5),
        Sheet::A6 => (6.0, 8.5),
    };
    let frame = Frame::new(sheet, margin_mm, type_pt);
    let pieces = pieces(&report.blocks, &frame);
    let title = report.title.as_str();
    press("page.html", &Print { title, frame, paper: Page { title, pieces } })
}

#[derive(Debug, Serialize)]
struct Page<'r> {
    title: &'r str,
    pieces: Vec<Piece<'r>>,
}

/// A block, or blocks that are shown together.
#[derive(Debug, Serialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
enum Piece<'r> {
    Heading { text: &'r str },
    Text { lines: Vec<&'r str> },
    Facts { facts: &'r [(String, String)] },
    Table { grid: Grid },
    Gauges { gauges: Vec<Drawing> },
    Year { year: Twelve<'r> },
    Note { text: &'r str },
    Caution { text: &'r str },
    List { entries: &'r [String] },
    Bottle { bottle: Option<Bottle>, marks: Vec<(usize, &'r str)> },
    Drawn { lines: Vec<String>, type_pt: String },
}

fn pieces<'r>(blocks: &'r [Block], frame: &Frame) -> Vec<Piece<'r>> {
    let mut pieces = Vec::new();
    for block in blocks {
        let piece = match block {
            Block::Heading(text) => Piece::Heading { text },
            Block::Text(text) => Piece::Text { lines: text.lines().collect() },
            Block::Facts(facts) => Piece::Facts { facts },
            Block::Table(table) => Piece::Table { grid: Grid::new(table, frame) },
            Block::Gauge(gauge) => {
                // Gauges that follow each other share their columns.
                if let Some(Piece::Gauges { gauges }) = pieces.last_mut() {
                    gauges.push(Drawing::new(gauge));
                    continue;
                }
                Piece::Gauges { gauges: vec![Drawing::new(gauge)] }
            }
            Block::Year(year) => Piece::Year { year: Twelve::new(year) },
            Block::Note(text) => Piece::Note { text },
            Block::Caution(text) => Piece::Caution { text },
            Block::List(entries) => Piece::List { entries },
            Block::Bottle(marks) => Piece::Bottle {
                bottle: Bottle::new(marks),
                marks: (1..)
                    .zip(marks.iter().map(|mark| mark.label.as_str()))
                    .filter(|(_, label)| !clean(label).trim().is_empty())
                    .collect(),
            },
            Block::Drawn(text) => drawn(text, frame),
        };
        if !piece.is_empty() {
            pieces.push(piece);
        }
    }
    pieces
}

/// Lines that are not broken, in type as large as the longest of them allows.
fn drawn<'r>(text: &str, frame: &Frame) -> Piece<'r> {
    let lines: Vec<String> = text.lines().map(|line| clean(line).trim_end().to_owned()).collect();
    let longest =
        lines.iter().map(|line| unicode_width::UnicodeWidthStr::width(line.as_str())).max().unwrap_or(0);
    let most = frame.inner_width_mm() / (longest.max(1) as f64 * FIXED * MM_PER_PT);
    let type_pt = most.clamp(SMALLEST_PT, 9.0);
    // Down, so that the longest line still fits.
    Piece::Drawn { lines, type_pt: format!("{:.1}", (type_pt * 10.0).floor() / 10.0) }
}

impl Piece<'_> {
    /// Whether there is nothing to show.
    fn is_empty(&self) -> bool {
        match self {
            Self::Heading { text } | Self::Note { text } => clean(text).trim().is_empty(),
            Self::Text { lines } => lines.is_empty(),
            Self::Facts { facts } => facts.is_empty(),
            Self::Table { grid } => grid.is_empty(),
            Self::Year { year } => year.is_empty(),
            Self::List { entries } => entries.is_empty(),
            Self::Bottle { marks, .. } => marks.is_empty(),
            Self::Drawn { lines, .. } => lines.is_empty(),
            Self::Gauges { .. } | Self::Caution { .. } => false,
        }
    }
}

#[cfg(test)]
mod tests;

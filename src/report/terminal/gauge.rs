//! Drawing figures against their bands.

use super::paint::toned;
use super::wrap::{width_of, wrap};
use super::{Signs, beside};
use crate::report::{Gauge, Span, Stand, Tone, clean};

/// A drawing narrower than this says nothing.
const NARROWEST: usize = 12;
/// A drawing wider than this says no more.
const WIDEST: usize = 32;

/// The lines of gauges that follow each other, in shared columns of at most `width`.
pub(super) fn gauges(gauges: &[&Gauge], width: usize, signs: &Signs) -> Vec<String> {
    let widest =
        |text: fn(&Gauge) -> &str| gauges.iter().map(|g| width_of(&clean(text(g)))).max().unwrap_or(0);
    let columns = Columns {
        label: widest(|g| &g.label),
        value: widest(|g| &g.value_text),
        unit: widest(|g| &g.unit),
        words: gauges.iter().flat_map(|g| verdicts(g)).map(|(words, _)| width_of(&words)).max().unwrap_or(0),
    };
    let track = width.saturating_sub(columns.before() + 2 + columns.words).min(WIDEST);
    if track >= NARROWEST {
        gauges.iter().flat_map(|gauge| columns.side_by_side(gauge, track, signs)).collect()
    } else {
        gauges.iter().flat_map(|gauge| columns.stacked(gauge, width, signs)).collect()
    }
}

/// How wide each part of a group of gauges is.
struct Columns {
    label: usize,
    value: usize,
    unit: usize,
    words: usize,
}

impl Columns {
    /// Columns up to where the drawing starts.
    fn before(&self) -> usize {
        let unit = if self.unit == 0 { 0 } else { self.unit + 1 };
        self.label + 2 + self.value + unit + 2
    }

    /// Label, figure, drawing and words on one line; a line more for each further band.
    fn side_by_side(&self, gauge: &Gauge, track: usize, signs: &Signs) -> Vec<String> {
        let (label, value, unit) = (clean(&gauge.label), clean(&gauge.value_text), clean(&gauge.unit));
        let before = format!(
            "{}{}  {}{} {}",
            toned(&label, Tone::Quiet),
            " ".repeat(self.label - width_of(&label)),
            " ".repeat(self.value - width_of(&value)),
            toned(&value, Tone::Strong),
            unit
        );
        let before = before.trim_end().to_owned()
            + &" ".repeat(self.before().saturating_sub(width_of(before.trim_end())));
        let mut lines = Vec::new();
        for (i, (drawing, (words, tone))) in
            drawings(gauge, track, signs).into_iter().zip(verdicts(gauge)).enumerate()
        {
            let start = if i == 0 { before.clone() } else { " ".repeat(self.before()) };
            lines.push(format!("{start}{drawing}  {}", toned(&words, tone)));
        }
        lines
    }

    /// Label and figure, and under them the drawing and the words.
    fn stacked(&self, gauge: &Gauge, width: usize, signs: &Signs) -> Vec<String> {
        let value = format!("{} {}", gauge.value_text, gauge.unit);
        let mut lines = beside(&gauge.label, self.label, &value, Tone::Strong, width);
        let indent = if width > NARROWEST + 2 { 2 } else { 0 };
        let room = width - indent;
        let with_words = room.saturating_sub(self.words + 2);
        let track = if with_words >= NARROWEST { with_words } else { room }.min(WIDEST);
        for (drawing, (words, tone)) in drawings(gauge, track, signs).into_iter().zip(verdicts(gauge)) {
            let words = wrap(&words, room).into_iter().map(|line| toned(&line, tone));
            let under: Vec<String> = if with_words >= NARROWEST {
                let words = words.collect::<Vec<_>>().join(" ");
                vec![format!("{drawing}  {words}")]
            } else if track >= NARROWEST {
                std::iter::once(drawing).chain(words).collect()
            } else {
                words.collect()
            };
            lines.extend(under.into_iter().map(|line| " ".repeat(indent) + &line));
        }
        lines
    }
}

/// What is said of each band; one empty saying where there is none, so that the figure is drawn all the same.
fn verdicts(gauge: &Gauge) -> Vec<(String, Tone)> {
    if gauge.bands.is_empty() {
        return vec![(String::new(), Tone::Plain)];
    }
    let verdict = |band: &Span| {
        let tone = match band.stand(gauge.value) {
            Stand::Within => Tone::Good,
            Stand::Below | Stand::Above => Tone::Warn,
            Stand::Unknown => Tone::Quiet,
        };
        (clean(&band.words(gauge.value)).into_owned(), tone)
    };
    gauge.bands.iter().map(verdict).collect()
}

/// One drawing for each band, or one without.
fn drawings(gauge: &Gauge, track: usize, signs: &Signs) -> Vec<String> {
    if gauge.bands.is_empty() {
        return vec![drawing(gauge, None, track, signs)];
    }
    gauge.bands.iter().map(|band| drawing(gauge, Some(band), track, signs)).collect()
}

/// The track, the band on it and the figure, `track` columns wide.
fn drawing(gauge: &Gauge, band: Option<&Span>, track: usize, signs: &Signs) -> String {
    let (least, most) = gauge.scale;
    if !(least.is_finite() && most.is_finite() && least < most) || track == 0 {
        return " ".repeat(track);
    }
    let cell = |value: f64| nearest(value, gauge.scale, track);
    let mut cells: Vec<(&str, Tone)> = vec![(signs.track, Tone::Quiet); track];
    let mut here = cell(gauge.value);
    if let Some(band) = band.filter(|b| b.least <= b.most && b.most >= least && b.least <= most) {
        let (from, to) = (cell(band.least), cell(band.most));
        cells[from..=to].fill((signs.band, Tone::Plain));
        if band.least >= least {
            cells[from].0 = signs.band_from;
        }
        if band.most <= most {
            cells[to].0 = signs.band_to;
        }
        // What is outside is drawn outside, though it may be nearest to the end itself.
        here = match band.stand(gauge.value) {
            Stand::Below => here.min(from.saturating_sub(1)),
            Stand::Above => here.max((to + 1).min(track - 1)),
            Stand::Within | Stand::Unknown => here,
        };
    }
    if !gauge.value.is_nan() {
        let sign = match gauge.value {
            v if v < least => signs.off_left,
            v if v > most => signs.off_right,
            _ => signs.here,
        };
        cells[here] = (sign, Tone::Strong);
    }
    // Neighbours of one tone share their marks.
    let runs = cells.chunk_by(|a, b| a.1 == b.1);
    runs.map(|run| toned(&run.iter().map(|(sign, _)| *sign).collect::<String>(), run[0].1)).collect()
}

/// The cell nearest to a value among `count` spread evenly over the scale; the end cell for what lies outside.
fn nearest(value: f64, (least, most): (f64, f64), count: usize) -> usize {
    let value = value.clamp(least, most);
    let step = (most / 2.0 - least / 2.0) / count.saturating_sub(1).max(1) as f64;
    let off = |cell: usize| ((value / 2.0 - least / 2.0) - step * cell as f64).abs();
    (0..count).min_by(|a, b| off(*a).total_cmp(&off(*b))).unwrap_or(0)
}

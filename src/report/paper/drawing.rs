//! A gauge as a drawing.

use serde::Serialize;

use crate::report::{Gauge, Span, Stand};

/// The drawing's units across, its scale from [`LEFT`] to `WIDE - LEFT`.
const WIDE: f64 = 200.0;
/// Room beside the scale for a figure that lies off it.
const LEFT: f64 = 8.0;
/// The height of a band with the room around it.
const BAND: f64 = 12.0;
/// Room under the scale for its ends.
const FOOT: f64 = 13.0;

/// A gauge as a drawing, with all that is read beside it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct Drawing {
    label: String,
    value: String,
    unit: String,
    /// The whole of it in words, for those who do not see it.
    title: String,
    verdicts: Vec<Verdict>,
    /// None if the scale has no length.
    scene: Option<Scene>,
}

/// What is said of a band.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct Verdict {
    words: String,
    off: bool,
}

/// What is drawn. Lengths are rounded to a tenth of a unit.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct Scene {
    height: String,
    floor: String,
    foot: String,
    bands: Vec<Bar>,
    mark: Option<Mark>,
    least: String,
    most: String,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
struct Bar {
    x: String,
    y: String,
    width: String,
    /// The first counts most, and is drawn full.
    first: bool,
}

/// Where the figure is: a line across the bands, or an arrow at the end it lies beyond.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct Mark {
    x: String,
    /// The arrow's corners; empty for a line.
    arrow: String,
}

impl Drawing {
    /// How high the drawing of a gauge is, in parts of its width.
    pub(super) fn shape(gauge: &Gauge) -> f64 {
        (floor(gauge) + FOOT) / WIDE
    }

    /// The gauge drawn.
    pub(super) fn new(gauge: &Gauge) -> Self {
        let verdicts: Vec<Verdict> = gauge
            .bands
            .iter()
            .map(|band| Verdict {
                words: band.words(gauge.value),
                off: matches!(band.stand(gauge.value), Stand::Below | Stand::Above),
            })
            .collect();
        let figure = format!("{} {} {}", gauge.label, gauge.value_text, gauge.unit);
        let words = verdicts.iter().map(|verdict| verdict.words.as_str());
        let title: Vec<&str> = std::iter::once(figure.trim()).chain(words).collect();
        Self {
            label: gauge.label.clone(),
            value: gauge.value_text.clone(),
            unit: gauge.unit.clone(),
            title: title.join("; "),
            verdicts,
            scene: Scene::new(gauge),
        }
    }
}

/// Where the scale is drawn: under its bands.
fn floor(gauge: &Gauge) -> f64 {
    BAND * gauge.bands.len().max(1) as f64 + 1.0
}

impl Scene {
    fn new(gauge: &Gauge) -> Option<Self> {
        let (least, most) = gauge.scale;
        if !(least.is_finite() && most.is_finite() && least < most) {
            return None;
        }
        let seen = |band: &&Span| band.least <= band.most && band.most >= least && band.least <= most;
        let bar = |(row, band): (usize, &Span)| {
            let (from, to) = (along(band.least, gauge.scale), along(band.most, gauge.scale));
            // A band of one value is still seen.
            let width = (to - from).max(1.0);
            Bar {
                x: round(from.min(WIDE - LEFT - width)),
                y: round(BAND * row as f64 + 3.0),
                width: round(width),
                first: row == 0,
            }
        };
        // A band that is not drawn keeps its row, so that the rows stand beside their words.
        let bands: Vec<Bar> =
            gauge.bands.iter().enumerate().filter(|(_, band)| seen(band)).map(bar).collect();
        let floor = floor(gauge);
        Some(Self {
            height: round(floor + FOOT),
            floor: round(floor),
            foot: round(floor + 11.0),
            bands,
            mark: Mark::new(gauge, floor),
            least: number(least, gauge.scale),
            most: number(most, gauge.scale),
        })
    }
}

impl Mark {
    fn new(gauge: &Gauge, floor: f64) -> Option<Self> {
        let (least, most) = gauge.scale;
        let at = |x: f64, arrow: String| Some(Self { x: round(x), arrow });
        let middle = floor / 2.0;
        let arrow = |tip: f64, back: f64| {
            let (tip, back) = (round(tip), round(back));
            format!("{tip},{} {back},{} {back},{}", round(middle), round(middle - 5.0), round(middle + 5.0))
        };
        match gauge.value {
            v if v.is_nan() => None,
            v if v < least => at(0.0, arrow(0.5, LEFT - 1.0)),
            v if v > most => at(WIDE, arrow(WIDE - 0.5, WIDE - LEFT + 1.0)),
            v => at(along(v, gauge.scale), String::new()),
        }
    }
}

/// Where a value is drawn; at the end for one beyond it.
fn along(value: f64, (least, most): (f64, f64)) -> f64 {
    // Halves, so that the widest of scales has a finite length.
    let share = (value.clamp(least, most) / 2.0 - least / 2.0) / (most / 2.0 - least / 2.0);
    LEFT + (WIDE - 2.0 * LEFT) * share
}

/// A length to a tenth of a unit.
pub(super) fn round(length: f64) -> String {
    trimmed(&format!("{length:.1}"))
}

/// The end of a scale with about three figures at the size of the scale.
fn number(end: f64, (least, most): (f64, f64)) -> String {
    let size = least.abs().max(most.abs());
    if !(1e-3..1e6).contains(&size) {
        return format!("{end:.1e}");
    }
    let decimals = match size {
        s if s >= 100.0 => 0,
        s if s >= 10.0 => 1,
        s if s >= 1.0 => 2,
        _ => 4,
    };
    trimmed(&format!("{end:.decimals$}"))
}

/// Without useless zeros.
fn trimmed(number: &str) -> String {
    let text = if number.contains('.') { number.trim_end_matches('0').trim_end_matches('.') } else { number };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn gauge(value: f64, bands: &[(f64, f64)], scale: (f64, f64)) -> Gauge {
        let span = |&(least, most): &(f64, f64)| Span { label: "house".to_owned(), least, most };
        Gauge {
            label: "sugar".to_owned(),
            value,
            value_text: format!("{value:.1}"),
            unit: "g/L".to_owned(),
            bands: bands.iter().map(span).collect(),
            scale,
        }
    }

    fn scene(gauge: &Gauge) -> Scene {
        Scene::new(gauge).unwrap()
    }

    #[test]
    fn the_mark_stands_where_the_figure_is() {
        let at = |value: f64| scene(&gauge(value, &[], (0.0, 100.0))).mark.unwrap();
        assert_eq!(at(0.0), Mark { x: "8".to_owned(), arrow: String::new() });
        assert_eq!(at(50.0), Mark { x: "100".to_owned(), arrow: String::new() });
        assert_eq!(at(100.0), Mark { x: "192".to_owned(), arrow: String::new() });
        assert_eq!(at(1.0 / 3.0).x, "8.6");
    }

    #[test]
    fn a_figure_off_the_scale_is_an_arrow_at_its_end() {
        let low = scene(&gauge(-1.0, &[(10.0, 20.0)], (0.0, 100.0))).mark.unwrap();
        assert_eq!((low.x.as_str(), low.arrow.as_str()), ("0", "0.5,6.5 7,1.5 7,11.5"));
        let high = scene(&gauge(f64::INFINITY, &[], (0.0, 100.0))).mark.unwrap();
        assert!(high.x == "200" && high.arrow.starts_with("199.5,"), "{high:?}");
        assert_eq!(scene(&gauge(f64::NAN, &[], (0.0, 100.0))).mark, None);
    }

    #[test]
    fn bands_are_cut_at_the_scale_and_keep_their_rows() {
        let bands = scene(&gauge(30.0, &[(-10.0, 50.0), (200.0, 300.0), (50.0, 50.0)], (0.0, 100.0))).bands;
        let drawn: Vec<_> = bands.iter().map(|b| (b.x.as_str(), b.y.as_str(), b.width.as_str())).collect();
        assert_eq!(drawn, [("8", "3", "92"), ("100", "27", "1")]);
        assert_eq!(bands.iter().map(|b| b.first).collect::<Vec<_>>(), [true, false]);
    }

    #[test]
    fn a_scale_without_length_is_not_drawn() {
        for scale in [(1.0, 1.0), (2.0, 1.0), (f64::NAN, 1.0), (0.0, f64::INFINITY)] {
            assert_eq!(Drawing::new(&gauge(1.0, &[(0.0, 1.0)], scale)).scene, None);
        }
        assert!(Scene::new(&gauge(0.0, &[], (f64::MIN, f64::MAX))).is_some());
    }

    #[test]
    fn the_title_says_it_all() {
        let drawing = Drawing::new(&gauge(61.0, &[(37.0, 55.0)], (0.0, 120.0)));
        assert_eq!(drawing.title, "sugar 61.0 g/L; above the house band 37-55");
        assert!(drawing.verdicts[0].off);
    }

    #[test]
    fn numbers_are_round() {
        let ends = |least: f64, most: f64| (number(least, (least, most)), number(most, (least, most)));
        assert_eq!(ends(0.0, 132.000_000_1), ("0".to_owned(), "132".to_owned()));
        assert_eq!(ends(-0.000_1, 100.0 / 3.0), ("0".to_owned(), "33.3".to_owned()));
        assert_eq!(ends(0.0, 1e9), ("0.0e0".to_owned(), "1.0e9".to_owned()));
        assert_eq!((round(-0.01), round(12.34)), ("0".to_owned(), "12.3".to_owned()));
    }
}

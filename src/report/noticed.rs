//! What a guest would notice between two drinks, in words.

use serde_json::{Value, json};

use super::balance::volume_short;
use super::phrase::{View, acid, listed, strength, sugar};
use crate::drink::{Direction, Figures};
use crate::riff::SideBySide;

/// Below this many just-noticeable differences a change of one figure is not tasted; from the other on it is plain.
const TASTED: f64 = 1.0;
const PLAIN: f64 = 2.5;
/// From this on, ml, another volume in the glass is told.
const OTHER_GLASS_ML: f64 = 3.0;
/// From this on, in points, a drink tastes bitter at all.
const TASTES_BITTER: f64 = 2.0;
/// From this share of the glass on, another volume is told where only what is noticed is; *ours*.
const OTHER_GLASS_SHARE: f64 = 0.05;

/// What more and less in each direction are called, and what stays.
const NAMES: [(&str, &str, &str); 4] = [
    ("stronger", "weaker", "strength"),
    ("sweeter", "drier", "sweetness"),
    ("more sour", "less sour", "sourness"),
    ("more bitter", "less bitter", "bitterness"),
];

/// `a little stronger, clearly sweeter; sourness as before; 0.3 oz less in the glass`.
pub(super) fn noticed_words(noticed: [f64; 4], (before, after): (&Figures, &Figures), view: View) -> String {
    let (mut tasted, mut same) = (Vec::new(), Vec::new());
    // Nobody looks for bitterness in a drink that has none.
    let told = if before.bitterness.points() < TASTES_BITTER { 3 } else { 4 };
    for (at, ((more, less, name), steps)) in NAMES.iter().zip(noticed).enumerate() {
        match way_words(more, less, steps) {
            Some(words) => tasted.push(words),
            None if at >= told => {}
            None => same.push(*name),
        }
    }
    let mut parts = Vec::new();
    if !tasted.is_empty() {
        parts.push(listed(&tasted));
    }
    if !same.is_empty() {
        let close = if noticed.iter().all(|n| n.abs() < 0.05) { "as before" } else { "too close to taste" };
        parts.push(format!("{} {close}", listed(&same)));
    }
    parts.extend(glass_words(before, after, view));
    parts.join("; ")
}

/// `a little weaker, 16.7 % vol (was 18.6)`: only what a guest would notice, with its figures before and after.
pub(super) fn told_figures(beside: &SideBySide<'_>, view: View) -> String {
    let (first, second) = &beside.figures;
    let figures = [
        format!("{} % vol (was {})", strength(second), strength(first)),
        format!("sugar {} g/L (was {})", sugar(second), sugar(first)),
        format!("acid {} g/L (was {})", acid(second), acid(first)),
        format!("{:.1} of 100 (was {:.1})", second.bitterness.points(), first.bitterness.points()),
    ];
    let mut parts: Vec<String> = NAMES
        .iter()
        .zip(beside.noticed)
        .zip(figures)
        .filter_map(|(((more, less, _), steps), words)| {
            Some(format!("{}, {words}", way_words(more, less, steps)?))
        })
        .collect();
    let change = second.served.ml() - first.served.ml();
    if change.abs() >= OTHER_GLASS_SHARE * first.served.ml() {
        parts.extend(glass_words(first, second, view));
    }
    if parts.is_empty() { "balance too close to taste".to_owned() } else { parts.join("; ") }
}

/// Each direction in just-noticeable differences; below 0 where there is less.
pub(super) fn noticed_data(noticed: [f64; 4]) -> Value {
    let all = Direction::ALL.map(|d| (d.name().to_owned(), json!(noticed[d as usize])));
    Value::Object(all.into_iter().collect())
}

/// `a little stronger`; none for what is not tasted.
fn way_words(more: &str, less: &str, steps: f64) -> Option<String> {
    let way = if steps > 0.0 { more } else { less };
    match steps.abs() {
        s if s < TASTED => None,
        s if s < PLAIN => Some(format!("a little {way}")),
        _ => Some(format!("clearly {way}")),
    }
}

/// `0.3 oz less in the glass`; none where it is as full.
fn glass_words(before: &Figures, after: &Figures, view: View) -> Option<String> {
    let change = after.served.ml() - before.served.ml();
    let way = if change > 0.0 { "more" } else { "less" };
    (change.abs() >= OTHER_GLASS_ML)
        .then(|| format!("{} {way} in the glass", volume_short(change.abs(), view)))
}

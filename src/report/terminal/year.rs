//! Drawing seasons across the year.

use super::Signs;
use super::paint::toned;
use super::wrap::{flow, width_of, wrap};
use crate::measure::Month;
use crate::report::year::mark_of;
use crate::report::{Mark, Tone, Year, clean};

/// Twelve signs with a blank between.
const SPACED: usize = 23;
/// Twelve signs without.
const TIGHT: usize = 12;
/// A column of names is not narrower than this, unless all names are.
const NAMES: usize = 10;

/// The lines of a year of at most `width` columns.
pub(super) fn year(year: &Year, width: usize, signs: &Signs) -> Vec<String> {
    if year.rows.is_empty() {
        return Vec::new();
    }
    if width < TIGHT {
        return year.rows.iter().flat_map(|(name, marks)| in_words(year, name, marks, width)).collect();
    }
    let widest = year.rows.iter().map(|(name, _)| width_of(&clean(name))).max().unwrap_or(0);
    let beside = width.saturating_sub(SPACED + 2);
    let names = if beside >= widest.min(NAMES) { widest.min(beside) } else { 0 };
    let between = if width < SPACED { "" } else { " " };
    let start = if names == 0 { String::new() } else { " ".repeat(names + 2) };

    let header = spread(year, between, |month| (initial(month), Tone::Quiet));
    let mut lines = vec![format!("{start}{header}")];
    for (name, marks) in &year.rows {
        let drawn = spread(year, between, |month| drawn(mark_of(marks, month), signs));
        if names == 0 {
            lines.extend(wrap(name, width));
            lines.push(drawn);
            continue;
        }
        let mut name = wrap(name, names).into_iter();
        let first = name.next().unwrap_or_default();
        lines.push(format!("{first}{}  {drawn}", " ".repeat(names.saturating_sub(width_of(&first)))));
        lines.extend(name);
    }
    if let Some(now) = year.now {
        let caret =
            spread(
                year,
                between,
                |month| if month == now { ("^", Tone::Strong) } else { (" ", Tone::Plain) },
            );
        lines.push(format!("{start}{caret}"));
    }
    lines.extend(flow(&legend(year, signs), width).iter().map(|line| toned(line, Tone::Quiet)));
    lines
}

/// One sign for each month.
fn spread<'a>(year: &Year, between: &str, sign: impl Fn(Month) -> (&'a str, Tone)) -> String {
    let signs: Vec<(&str, Tone)> = year.months().into_iter().map(sign).collect();
    let runs = signs.chunk_by(|a, b| a.1 == b.1);
    let run = |run: &[(&str, Tone)]| {
        toned(&run.iter().map(|(sign, _)| *sign).collect::<Vec<_>>().join(between), run[0].1)
    };
    runs.map(run).collect::<Vec<_>>().join(between)
}

fn initial(month: Month) -> &'static str {
    &month.name()[..1]
}

fn drawn(mark: Mark, signs: &Signs) -> (&'static str, Tone) {
    match mark {
        Mark::None => (signs.out, Tone::Quiet),
        Mark::Available => (signs.available, Tone::Plain),
        Mark::Peak => (signs.peak, Tone::Good),
    }
}

/// What the signs mean, those that are drawn.
fn legend(year: &Year, signs: &Signs) -> Vec<String> {
    let used = |mark: &Mark| year.rows.iter().any(|(_, marks)| marks.contains(mark));
    let marks = Mark::ALL.into_iter().filter(used);
    let now = year.now.map(|month| format!("^ now, {month}"));
    marks.map(|mark| format!("{} {}", drawn(mark, signs).0, mark.name())).chain(now).collect()
}

/// The same without a drawing, where there is no room for one.
fn in_words(year: &Year, name: &str, marks: &[Mark; 12], width: usize) -> Vec<String> {
    let mut lines = wrap(name, width);
    for mark in [Mark::Peak, Mark::Available] {
        let months: Vec<&str> = year
            .months()
            .into_iter()
            .filter(|m| mark_of(marks, *m) == mark)
            .map(|m| &m.name()[..3])
            .collect();
        if !months.is_empty() {
            lines.extend(wrap(&format!("{}: {}", mark.name(), months.join(", ")), width));
        }
    }
    if lines.len() == wrap(name, width).len() {
        lines.extend(wrap(Mark::None.name(), width));
    }
    lines
}

//! A report as text, for a screen or a pipe.

mod gauge;
mod paint;
mod table;
#[cfg(test)]
mod tests;
mod wrap;
mod year;

use self::paint::{paint, toned};
use self::wrap::{width_of, wrap};
use super::{Block, FillMark, Report, Style, Tone, clean};

/// Below this, lines are not indented.
const NARROW: usize = 24;

/// The report as text that ends with one line break.
///
/// Lines are at most `style.width` columns wide, unless a single letter is wider than that. With and without colour
/// the text is the same. Nothing in the report can send an escape code to the terminal: all of it is cleaned first.
pub fn render(report: &Report, style: &Style) -> String {
    let width = style.width.max(1);
    let signs = if style.unicode { &UNICODE } else { &ASCII };
    let mut lines = Vec::new();
    let title = wrap(&report.title, width);
    let longest = title.iter().map(|line| width_of(line)).max().unwrap_or(0);
    lines.extend(title.iter().map(|line| toned(line, Tone::Strong)));
    if longest > 0 {
        lines.push(toned(&signs.title_rule.repeat(longest), Tone::Quiet));
    }
    let mut above: Option<&Block> = None;
    let mut rest = report.blocks.as_slice();
    while let Some(block) = rest.first() {
        let (drawn, used) = draw(rest, width, signs);
        rest = rest.get(used..).unwrap_or_default();
        if drawn.is_empty() {
            continue;
        }
        if !lines.is_empty() && above.is_none_or(|above| apart(above, block)) {
            lines.push(String::new());
        }
        lines.extend(drawn);
        above = Some(block);
    }
    let mut text = String::new();
    for line in lines {
        text.push_str(&paint(&line, style.colour));
        text.push('\n');
    }
    // An empty last row of a table is nothing to look at.
    text.truncate(text.trim_end_matches('\n').len());
    text.push('\n');
    text
}

/// Whether a blank line stands between two blocks: not under a heading, not above a note (it belongs to what it
/// follows), and not between two of a kind that read on.
fn apart(above: &Block, block: &Block) -> bool {
    match (above, block) {
        (_, Block::Heading(_)) => true,
        (Block::Heading(_), _)
        | (_, Block::Note(_))
        | (Block::Facts(_), Block::Facts(_))
        | (Block::Caution(_), Block::Caution(_)) => false,
        _ => true,
    }
}

/// The lines of the first block, and how many blocks they show.
fn draw(blocks: &[Block], width: usize, signs: &Signs) -> (Vec<String>, usize) {
    let indent = if width < NARROW { 0 } else { 2 };
    let room = width - indent;
    let indented = |lines: Vec<String>| lines.into_iter().map(|line| " ".repeat(indent) + &line).collect();
    match &blocks[0] {
        Block::Heading(text) => (wrap(text, width).iter().map(|line| toned(line, Tone::Strong)).collect(), 1),
        Block::Text(text) => (indented(text.lines().flat_map(|line| text_line(line, room)).collect()), 1),
        // Its columns are what it is about, so it is not wrapped.
        Block::Drawn(text) => {
            (indented(text.lines().map(|line| clean(line).trim_end().to_owned()).collect()), 1)
        }
        Block::Facts(facts) => (indented(self::facts(facts, room)), 1),
        Block::Table(table) => (indented(table::table(table, room, signs)), 1),
        Block::Gauge(_) => {
            let group: Vec<_> = blocks
                .iter()
                .map_while(|b| if let Block::Gauge(gauge) = b { Some(gauge) } else { None })
                .collect();
            (indented(gauge::gauges(&group, room, signs)), group.len())
        }
        Block::Year(year) => (indented(year::year(year, room, signs)), 1),
        Block::Note(text) => (indented(hanging(signs.note, text, Tone::Quiet, room)), 1),
        // Its sign stands out to the left of everything else.
        Block::Caution(text) => (hanging("!", &format!("Caution: {text}"), Tone::Warn, width), 1),
        Block::Bottle(marks) => {
            let line = |(at, mark): (usize, &FillMark)| {
                hanging(&(at + 1).to_string(), &mark.label, Tone::Plain, room)
            };
            (indented(marks.iter().enumerate().flat_map(line).collect()), 1)
        }
        Block::List(entries) => {
            (indented(entries.iter().flat_map(|e| hanging(signs.entry, e, Tone::Plain, room)).collect()), 1)
        }
    }
}

/// Running text in lines of at most so many columns, those behind the first indented; made safe to show.
pub fn wrapped(text: &str, indent: &str, width: usize) -> Vec<String> {
    let room = width.saturating_sub(width_of(indent)).max(1);
    let lines = wrap(text, room).into_iter().enumerate();
    lines.map(|(at, line)| if at == 0 { line } else { format!("{indent}{line}") }).collect()
}

/// A line of running text: as it is where it fits, else wrapped under its own indent.
fn text_line(line: &str, room: usize) -> Vec<String> {
    let line = clean(line);
    if width_of(&line) <= room {
        return vec![line.trim_end().to_owned()];
    }
    let lead = line.len() - line.trim_start().len();
    let lead = if 2 * lead < room { lead } else { 0 };
    wrap(&line, room - lead).into_iter().map(|part| " ".repeat(lead) + &part).collect()
}

/// Text behind a sign, its further lines under its first.
fn hanging(sign: &str, text: &str, tone: Tone, width: usize) -> Vec<String> {
    let indent = if width < NARROW / 2 { 0 } else { width_of(sign) + 1 };
    let lines = wrap(text, width - indent).into_iter().enumerate();
    lines
        .map(|(i, line)| match (i, indent) {
            (_, 0) => toned(&line, tone),
            (0, _) => toned(&format!("{sign} {line}"), tone),
            _ => " ".repeat(indent) + &toned(&line, tone),
        })
        .collect()
}

/// Labels and values in two columns.
fn facts(facts: &[(String, String)], width: usize) -> Vec<String> {
    let widest = facts.iter().map(|(label, _)| width_of(clean(label).trim())).max().unwrap_or(0);
    facts.iter().flat_map(|(label, value)| beside(label, widest, value, Tone::Plain, width)).collect()
}

/// A label with its value beside it, or under it where there is no room.
fn beside(label: &str, label_width: usize, value: &str, tone: Tone, width: usize) -> Vec<String> {
    let column = label_width.min(width / 2);
    if column == 0 && label.is_empty() {
        return wrap(value, width).iter().map(|line| toned(line, tone)).collect();
    }
    let room = width.saturating_sub(column + 2);
    if room < NARROW / 2 {
        return under(label, value, tone, width);
    }
    let (labels, values) = (wrap(label, column), wrap(value, room));
    let empty = String::new();
    (0..labels.len().max(values.len()))
        .map(|i| {
            let (label, value) = (labels.get(i).unwrap_or(&empty), values.get(i).unwrap_or(&empty));
            let blanks = " ".repeat(column.saturating_sub(width_of(label)) + 2);
            format!("{}{blanks}{}", toned(label, Tone::Quiet), toned(value, tone))
        })
        .collect()
}

/// A label and, where both do not fit on one line, its value on the lines under it.
fn under(label: &str, value: &str, tone: Tone, width: usize) -> Vec<String> {
    let labels = wrap(label, width);
    if let ([label], [value]) = (labels.as_slice(), wrap(value, width).as_slice())
        && width_of(label) + 2 + width_of(value) <= width
    {
        return vec![format!("{}  {}", toned(label, Tone::Quiet), toned(value, tone))];
    }
    let indent = if width < NARROW / 2 { 0 } else { 2 };
    let values = wrap(value, width - indent).into_iter().map(|line| " ".repeat(indent) + &toned(&line, tone));
    labels.iter().map(|line| toned(line, Tone::Quiet)).chain(values).collect()
}

/// The signs drawings are made of, each one column wide.
struct Signs {
    title_rule: &'static str,
    rule: &'static str,
    entry: &'static str,
    note: &'static str,
    track: &'static str,
    band: &'static str,
    band_from: &'static str,
    band_to: &'static str,
    here: &'static str,
    off_left: &'static str,
    off_right: &'static str,
    out: &'static str,
    available: &'static str,
    peak: &'static str,
}

const UNICODE: Signs = Signs {
    title_rule: "═",
    rule: "─",
    entry: "•",
    note: "·",
    track: "·",
    band: "─",
    band_from: "├",
    band_to: "┤",
    here: "●",
    off_left: "◂",
    off_right: "▸",
    out: "·",
    available: "○",
    peak: "●",
};

const ASCII: Signs = Signs {
    title_rule: "=",
    rule: "-",
    entry: "*",
    note: "-",
    track: ".",
    band: "=",
    band_from: "[",
    band_to: "]",
    here: "o",
    off_left: "<",
    off_right: ">",
    out: ".",
    available: "o",
    peak: "@",
};

//! The fields of a struct on three sides, merged and laid out.

use super::between::{Between, Merged, roomier};
use super::layout::{own, push_both, push_marks, push_one, push_rest, without_last_line};
use super::list::Lists;
use super::page::Page;
use crate::book::leaf::{
    Body, FORMAT_FIELD, Field, INDENT, Kind, Leaf, Order, line_break, starts_with_break, tokens,
};

/// What three sides have at one place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Three<T> {
    pub(super) base: Option<T>,
    pub(super) ours: T,
    pub(super) theirs: T,
}

/// The three files.
pub(super) type Sides<'t> = Three<&'t Leaf>;

impl<T: Copy> Three<T> {
    pub(super) fn map<U>(self, to: impl Fn(T) -> U) -> Three<U> {
        Three { base: self.base.map(&to), ours: to(self.ours), theirs: to(self.theirs) }
    }
}

impl<'t> Three<&'t str> {
    pub(super) fn between(self) -> Between<'t> {
        Between { base: self.base, ours: self.ours, theirs: self.theirs }
    }
}

/// A struct and the text that it stands in.
type Struct<'t> = (&'t str, &'t Body);
/// A field and the text that it stands in.
pub(super) type Found<'t> = (&'t str, &'t Field);

/// What becomes of a field.
enum Part<'t> {
    /// It stands on one side only.
    One(Found<'t>),
    /// It stands on both, and its value is merged.
    Both(Three<Found<'t>>, String),
    /// The sides disagree about its value.
    Clash(Three<Found<'t>>),
    /// One side changed what the other took out.
    Removed { ours: Option<Found<'t>>, theirs: Option<Found<'t>> },
}

/// Which struct it is.
#[derive(Debug, Clone, Copy)]
enum Within<'p> {
    /// The whole file.
    File,
    /// The record, with an empty path, or a struct in it.
    Record(&'p str),
}

impl Within<'_> {
    /// The path of one of its fields, as a person is told it.
    fn path(self, label: &str) -> String {
        match self {
            Self::File | Self::Record("") => label.to_owned(),
            Self::Record(path) => format!("{path}.{label}"),
        }
    }
}

/// Merges structs and remembers the conflicts.
#[derive(Debug)]
pub(super) struct Merger<'o> {
    order: Order<'o>,
    /// How lines end.
    end: &'static str,
    conflicts: Vec<String>,
}

impl<'o> Merger<'o> {
    pub(super) fn new(order: Order<'o>, ours: &str, theirs: &str) -> Self {
        let (our, their) = (line_break(ours), line_break(theirs));
        Self { order, end: if our == their { our } else { "\n" }, conflicts: Vec::new() }
    }

    pub(super) fn into_conflicts(self) -> Vec<String> {
        self.conflicts
    }

    /// The whole file.
    pub(super) fn file(&mut self, sides: Sides<'_>) -> String {
        let mut page = Page::new(self.end);
        match sides.map(|leaf| &leaf.text()[..leaf.body().bytes.start]).between().merged() {
            Merged::AsIs(text) => page.push(text, 0),
            Merged::Anew(remarks) => page.push(&self.lines_after(&remarks), 0),
        }
        let body = self.body(sides.map(|leaf| (leaf.text(), leaf.body())), Within::File, 1);
        page.push(&body, 0);
        match sides.map(|leaf| &leaf.text()[leaf.body().bytes.end..]).between().merged() {
            Merged::AsIs(text) => page.push(text, 0),
            Merged::Anew(remarks) => {
                page.line(0);
                page.push(&self.lines_after(&remarks), 0);
            }
        }
        page.into_text()
    }

    /// A struct whose fields stand `depth` deep.
    fn body(&mut self, sides: Three<Struct<'_>>, within: Within<'_>, depth: usize) -> String {
        let labels = self.sequence(sides, within);
        let parts: Vec<Part<'_>> =
            labels.into_iter().map(|label| self.part(sides, within, label, depth)).collect();
        // Marks need lines of their own.
        let on_lines = parts.iter().any(|p| matches!(p, Part::Clash(_) | Part::Removed { .. }));
        let (indent, outer) = (depth * INDENT, (depth - 1) * INDENT);
        let last_comma = on_lines || last_comma(sides);
        let mut page = Page::new(self.end);
        page.push("(", outer);
        push_rest(&mut page, sides.map(|(text, body)| body.opening_in(text)).between(), indent);
        let count = parts.len();
        for (index, part) in parts.iter().enumerate() {
            let comma = last_comma || index + 1 < count;
            let lead = match part {
                Part::One((text, field)) => field.lead_in(text).to_owned(),
                Part::Both(found, _) | Part::Clash(found) => {
                    self.lines(found.map(|(text, field)| field.lead_in(text)).between(), indent, indent)
                }
                Part::Removed { .. } => String::new(),
            };
            let lead = self.placed(&lead, on_lines, index == 0, indent);
            match part {
                Part::One(found) => {
                    page.push(&lead, indent);
                    push_one(&mut page, *found, comma, indent);
                }
                Part::Both(found, value) => {
                    page.push(&lead, indent);
                    push_both(&mut page, *found, value, comma, indent);
                }
                Part::Clash(found) => {
                    page.push(without_last_line(&lead), indent);
                    let side = |(text, field): Found<'_>| format!("{:indent$}{}", "", own(text, field));
                    push_marks(&mut page, Some(side(found.ours)), Some(side(found.theirs)));
                }
                Part::Removed { ours, theirs } => {
                    let side = |found: &Option<Found<'_>>| {
                        found.map(|(text, field)| {
                            let lead = self.placed(field.lead_in(text), true, false, indent);
                            format!("{}{}", lead.trim_start_matches(['\r', '\n']), own(text, field))
                        })
                    };
                    push_marks(&mut page, side(ours), side(theirs));
                }
            }
        }
        let tail = self.lines(sides.map(|(text, body)| body.tail_in(text)).between(), indent, outer);
        page.push(&self.placed(&tail, on_lines, true, outer), outer);
        page.push(")", outer);
        page.into_text()
    }

    /// The labels of the merged struct, in an order that does not depend on which side is ours.
    fn sequence<'t>(&self, sides: Three<Struct<'t>>, within: Within<'_>) -> Vec<&'t str> {
        let stays = |label: &&str| !is_gone(field_of(sides, label));
        let labels = |(_, body): Struct<'t>| -> Vec<&'t str> {
            body.fields.iter().map(|f| f.label.as_str()).filter(stays).collect()
        };
        let all = sides.map(labels);
        let both = |list: &[&'t str], other: &[&str]| -> Vec<&'t str> {
            list.iter().copied().filter(|l| other.contains(l)).collect()
        };
        let (our, their) = (both(&all.ours, &all.theirs), both(&all.theirs, &all.ours));
        let base = both(all.base.as_deref().unwrap_or_default(), &our);
        let (order, path) = match within {
            Within::File => (Order(&[FORMAT_FIELD]), ""),
            Within::Record(path) => (self.order, path),
        };
        let moved = |list: &[&str]| !list.iter().filter(|l| base.contains(l)).eq(base.iter());
        let mut merged = if our == their || !moved(&their) && moved(&our) {
            our.clone()
        } else if !moved(&our) && moved(&their) {
            their.clone()
        } else {
            let mut sorted = our.clone();
            sorted.sort_unstable_by_key(|l| order.key(path, l));
            sorted
        };
        if all.theirs.len() == their.len() && our == merged {
            return all.ours;
        }
        if all.ours.len() == our.len() && their == merged {
            return all.theirs;
        }
        let mut new: Vec<&str> =
            all.ours.into_iter().chain(all.theirs).filter(|l| !merged.contains(l)).collect();
        new.sort_unstable_by_key(|l| order.key(path, l));
        for label in new {
            let index = order.place(path, merged.iter().copied(), label);
            merged.insert(index, label);
        }
        merged
    }

    fn part<'t>(
        &mut self,
        sides: Three<Struct<'t>>,
        within: Within<'_>,
        label: &str,
        depth: usize,
    ) -> Part<'t> {
        let Three { base, ours, theirs } = field_of(sides, label);
        let base = base.flatten();
        let path = within.path(label);
        match (ours, theirs) {
            (Some(ours), Some(theirs)) => {
                let found = Three { base, ours, theirs };
                match self.value(found, within, &path, depth) {
                    Some(value) => Part::Both(found, value),
                    None => {
                        self.conflicts.push(path);
                        Part::Clash(found)
                    }
                }
            }
            (Some(one), None) | (None, Some(one)) if base.is_none() => Part::One(one),
            (ours, theirs) => {
                self.conflicts.push(path);
                Part::Removed { ours, theirs }
            }
        }
    }

    /// The merged value of a field, or none if the sides disagree.
    fn value(
        &mut self,
        found: Three<Found<'_>>,
        within: Within<'_>,
        path: &str,
        depth: usize,
    ) -> Option<String> {
        let Three { base, ours, theirs } = found.map(|(text, field)| &text[field.value.clone()]);
        if ours == theirs || base == Some(theirs) {
            return Some(ours.to_owned());
        }
        if base == Some(ours) {
            return Some(theirs.to_owned());
        }
        let inner = found.map(|(text, field)| Some((text, field.inner.as_ref()?)));
        if let (Some(ours), Some(theirs)) = (inner.ours, inner.theirs) {
            let inside = match within {
                Within::File => Within::Record(""),
                Within::Record(_) => Within::Record(path),
            };
            let sides = Three { base: inner.base.flatten(), ours, theirs };
            return Some(self.body(sides, inside, depth + 1));
        }
        let (our, their, began) = (sense(ours), sense(theirs), base.map(sense));
        if our == their {
            Some(roomier(ours, theirs).to_owned())
        } else if began.as_ref() == Some(&our) {
            Some(theirs.to_owned())
        } else if began.as_ref() == Some(&their) {
            Some(ours.to_owned())
        } else {
            Lists { base, ours, theirs }.merged(&found.ours.1.label, self.end, depth * INDENT)
        }
    }

    /// What stands before a name or a closing parenthesis, which itself comes `last` in.
    fn lines(&self, between: Between<'_>, indent: usize, last: usize) -> String {
        match between.merged() {
            Merged::AsIs(text) => text.to_owned(),
            Merged::Anew(remarks) => {
                if !between.on_lines() && !remarks.iter().any(|r| r.starts_with("//")) {
                    return format!(" {} ", remarks.join(" "));
                }
                let mut text = if between.spaced() { self.end.to_owned() } else { String::new() };
                for remark in remarks {
                    text.push_str(&format!("{}{:indent$}{remark}", self.end, ""));
                }
                text + &format!("{}{:last$}", self.end, "")
            }
        }
    }

    /// The same at its new place: on a line of its own where there must be lines, and apart from what is before.
    fn placed(&self, lead: &str, on_lines: bool, first: bool, indent: usize) -> String {
        if on_lines && !starts_with_break(lead) {
            format!("{}{:indent$}{}", self.end, "", lead.trim_start_matches([' ', '\t']))
        } else if lead.is_empty() && !first {
            " ".to_owned()
        } else {
            lead.to_owned()
        }
    }

    fn lines_after(&self, remarks: &[&str]) -> String {
        let mut lines = remarks.join(self.end);
        lines.push_str(self.end);
        lines
    }
}

/// A field of each side, if it has it.
fn field_of<'t>(sides: Three<Struct<'t>>, label: &str) -> Three<Option<Found<'t>>> {
    sides.map(|(text, body)| Some((text, body.field(label)?)))
}

/// Whether one side took a field out and the other left it as it was.
fn is_gone(found: Three<Option<Found<'_>>>) -> bool {
    match (found.base.flatten(), found.ours, found.theirs) {
        (_, None, None) => true,
        (Some(base), Some(one), None) | (Some(base), None, Some(one)) => same(base, one),
        _ => false,
    }
}

/// Whether two fields say the same, remarks included.
fn same((a_text, a): Found<'_>, (b_text, b): Found<'_>) -> bool {
    let all = |text, field: &Field| {
        let between = format!("{}\n{}", field.lead_in(text), field.trail_in(text));
        (
            sense(&between).join("\n"),
            sense(field.colon_in(text)).join("\n"),
            sense(field.gap_in(text)).join("\n"),
            sense(&text[field.value.clone()]).join("\n"),
        )
    };
    all(a_text, a) == all(b_text, b)
}

/// The pieces of a text without blanks, and without commas that close a list.
fn sense(text: &str) -> Vec<&str> {
    let mut pieces: Vec<(Kind, &str)> = Vec::new();
    for token in tokens(text, 0..text.len()) {
        if matches!(token.kind, Kind::Blank | Kind::Break) {
            continue;
        }
        if token.kind == Kind::Close && pieces.last().is_some_and(|(kind, _)| *kind == Kind::Comma) {
            pieces.pop();
        }
        pieces.push((token.kind, &text[token.bytes]));
    }
    pieces.into_iter().map(|(_, piece)| piece).collect()
}

/// Whether the last field has a comma.
fn last_comma(sides: Three<Struct<'_>>) -> bool {
    let comma = |(_, body): Struct<'_>| body.fields.last().map(|f| f.comma.is_some());
    let Three { base, ours, theirs } = sides.map(comma);
    match (ours, theirs) {
        (Some(our), Some(their)) if our == their => our,
        (Some(one), None) | (None, Some(one)) => one,
        (Some(_), Some(_)) => base.flatten().is_none_or(|base| !base),
        (None, None) => false,
    }
}

//! What stands between values, merged: blanks and remarks.

use std::cmp::Reverse;

use crate::book::leaf::{remarks, starts_with_break};

/// What stands at one place on the three sides; nothing at all where a side lacks the place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Between<'t> {
    pub(super) base: Option<&'t str>,
    pub(super) ours: &'t str,
    pub(super) theirs: &'t str,
}

/// What becomes of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Merged<'t> {
    /// As it stands on a side.
    AsIs(&'t str),
    /// Remarks of both, to be laid out anew.
    Anew(Vec<&'t str>),
}

impl<'t> Between<'t> {
    pub(super) fn merged(self) -> Merged<'t> {
        let Self { base, ours, theirs } = self;
        if ours == theirs || base == Some(theirs) {
            return Merged::AsIs(ours);
        }
        if base == Some(ours) {
            return Merged::AsIs(theirs);
        }
        let (our, their, began) = (remarks(ours), remarks(theirs), base.map(remarks));
        if our == their {
            return Merged::AsIs(roomier(ours, theirs));
        }
        let began = began.unwrap_or_default();
        if our == began {
            return Merged::AsIs(theirs);
        }
        if their == began {
            return Merged::AsIs(ours);
        }
        // What one side took out of what was there is out; the rest of both is kept, the lesser side's first.
        let our_rest = less(&our, &less(&began, &their));
        let their_rest = less(&their, &less(&began, &our));
        let (mut first, second) =
            if our_rest <= their_rest { (our_rest, their_rest) } else { (their_rest, our_rest) };
        let more = less(&second, &first);
        first.extend(more);
        Merged::Anew(first)
    }

    /// Whether a side has a line break first.
    pub(super) fn on_lines(self) -> bool {
        starts_with_break(self.ours) || starts_with_break(self.theirs)
    }

    /// Whether a side leaves a line empty first.
    pub(super) fn spaced(self) -> bool {
        [self.ours, self.theirs].into_iter().any(|text| {
            let rest = text.strip_prefix("\r\n").or_else(|| text.strip_prefix('\n'));
            rest.is_some_and(|r| starts_with_break(r.trim_start_matches([' ', '\t'])))
        })
    }
}

/// Of two texts that differ in blanks only, the same one whichever comes first: one with lines, and the shorter.
pub(super) fn roomier<'t>(a: &'t str, b: &'t str) -> &'t str {
    let key = |text: &'t str| (text.contains('\n'), Reverse(text.len()), text);
    if key(a) >= key(b) { a } else { b }
}

/// A list without what is in another, each as often as it is there.
fn less<'t>(list: &[&'t str], without: &[&str]) -> Vec<&'t str> {
    let mut without = without.to_vec();
    let mut rest = Vec::new();
    for item in list {
        match without.iter().position(|w| w == item) {
            Some(index) => {
                without.swap_remove(index);
            }
            None => rest.push(*item),
        }
    }
    rest
}

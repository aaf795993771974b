//! Records as changes of a house book: fields of those that others had first, whole ones of what only a house has.

use super::differ::{Fields, differing, field};
use super::item::Item;
use super::plan::Fate;
use crate::book::house::{RecordChange, template_fields};
use crate::book::prep::Prep;
use crate::book::record_kind::RecordKind;
use crate::book::shelf::Book;
use crate::book::template::Template;

/// A change of fields with the one that names the record before them.
pub(super) fn named(name: (Vec<String>, Option<String>), fields: Fields) -> RecordChange {
    RecordChange::Set(std::iter::once(name).chain(fields).collect())
}

/// What makes the book's drink the new one; none if it is.
pub(super) fn drink_change(now: &Book, new: &Template) -> Option<(Fate, RecordChange)> {
    let Some(old) = now.template(&new.id) else {
        return Some((Fate::New, RecordChange::New(template_fields(new))));
    };
    let mut fields = differing(old, new);
    // Lines one below the other, as a new drink has them.
    for (path, value) in &mut fields {
        let laid = template_fields(new).into_iter().find(|(name, _)| path.len() == 1 && path[0] == *name);
        if let Some((name, laid)) = laid
            && name == "slots"
        {
            *value = Some(laid);
        }
    }
    (!fields.is_empty()).then(|| (Fate::Changed, named(field("id", &new.id), fields)))
}

/// What makes the book's preparation the new one; none if it is.
pub(super) fn prep_change(now: &Book, new: &Prep) -> Option<(Fate, RecordChange)> {
    let (fate, fields) = match now.prep_of(&new.makes) {
        Some(old) => (Fate::Changed, differing(old, new)),
        None => (Fate::New, whole(new)),
    };
    (!fields.is_empty()).then(|| (fate, named(field("makes", &new.makes), fields)))
}

/// Every field of a preparation.
fn whole(prep: &Prep) -> Fields {
    let mut fields = vec![
        field("way", &prep.way),
        field("lines", &prep.lines),
        field("boils_off", &prep.boils_off),
        field("lost", &prep.lost),
        field("steps", &prep.steps),
        field("keeps", &prep.keeps),
    ];
    if !prep.cautions.is_empty() {
        fields.push(field("cautions", &prep.cautions));
    }
    fields.push(field("origin", &prep.origin));
    fields
}

/// Facts, which only a house has: what is written is the whole record.
pub(super) fn facts(now: &Book, item: &Item) -> (RecordKind, String, Option<(Fate, RecordChange)>) {
    let house = now.house();
    let change = |there: bool, same: bool, fields: Fields| {
        let fate = if there { Fate::Changed } else { Fate::New };
        (!same).then_some((fate, RecordChange::Set(fields)))
    };
    let note = |note: &Option<String>| match note {
        Some(note) => field("note", note),
        None => (vec!["note".to_owned()], None),
    };
    match item {
        Item::Price(new) => {
            let old = house.price(&new.of);
            let fields = vec![
                field("of", &new.of),
                field("paid", &new.paid),
                field("size", &new.size),
                note(&new.note),
            ];
            (RecordKind::Price, new.of.to_string(), change(old.is_some(), old == Some(new), fields))
        }
        Item::Stock(new) => {
            let old = house.stock_of(&new.of);
            let fields = vec![field("of", &new.of), field("level", &new.level), note(&new.note)];
            (RecordKind::Stock, new.of.to_string(), change(old.is_some(), old == Some(new), fields))
        }
        Item::HoldBack(new) => {
            let old = house.hold_back(&new.of);
            let why = new.why.as_ref().map_or((vec!["why".to_owned()], None), |why| field("why", why));
            let fields = vec![field("of", &new.of), field("goes_in", &new.goes_in), why];
            (RecordKind::HoldBack, new.of.to_string(), change(old.is_some(), old == Some(new), fields))
        }
        Item::Tasting(new) => {
            let old = house.tastings().iter().find(|t| t.id == new.id);
            let mut fields = vec![field("id", &new.id), field("of", &new.of), field("score", &new.score)];
            for (name, text) in [("words", &new.words), ("by", &new.by)] {
                fields.push(text.as_ref().map_or((vec![name.to_owned()], None), |text| field(name, text)));
            }
            fields.extend([field("on", &new.on), field("told", &new.told)]);
            (RecordKind::Tasting, new.id.clone(), change(old.is_some(), old == Some(new), fields))
        }
        Item::Weighing(new) => {
            let old = house.weighings().iter().find(|w| w.id == new.id);
            let fields = vec![
                field("id", &new.id),
                field("method", &new.method),
                field("long", &new.long),
                field("drink", &new.drink),
                field("before", &new.before),
                field("after", &new.after),
                field("volume", &new.volume),
                field("strength", &new.strength),
            ];
            let same = old.is_some_and(|old| old == &**new);
            (RecordKind::Weighing, new.id.clone(), change(old.is_some(), same, fields))
        }
        Item::Measures(new) => {
            let old = house.measures();
            let fields = vec![
                field("dash", &new.dash),
                field("barspoon", &new.barspoon),
                field("drop", &new.drop),
                field("top", &new.top),
                field("part", &new.part),
            ];
            let stem = RecordKind::Measures.word().to_owned();
            (RecordKind::Measures, stem, change(old.is_some(), old == Some(new), fields))
        }
        Item::Ingredient(..) | Item::Bond(_) | Item::Drink(_) | Item::Prep(_) | Item::Caution(..) => {
            (RecordKind::Measures, String::new(), None)
        }
    }
}

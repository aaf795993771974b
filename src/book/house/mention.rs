//! Which records of a house book speak of another, and what they say once it is called otherwise.

use super::{HouseBook, Whose};
use crate::book::id::IngredientId;
use crate::book::leaf::{Leaf, LeafFault};
use crate::book::record_kind::RecordKind;
use crate::book::shelf::Book;
use crate::book::store::RecordPath;
use crate::book::tasting::TastedThing;

/// The records of the house that speak of an ingredient or a drink, its own left out; none for what has no id of its own.
pub fn mentions(book: &Book, kind: RecordKind, id: &str) -> Vec<RecordPath> {
    match kind {
        RecordKind::Ingredient => {
            IngredientId::new(id).map(|id| mentions_of_ingredient(book, &id)).unwrap_or_default()
        }
        RecordKind::Spec | RecordKind::Template => mentions_of_drink(book, id),
        _ => Vec::new(),
    }
}

fn mentions_of_ingredient(book: &Book, id: &IngredientId) -> Vec<RecordPath> {
    let house = book.house();
    let mut found: Vec<(RecordKind, String)> = Vec::new();
    for (kind, stem, whose) in house.all() {
        let says = |field: &str| match whose {
            Whose::House => true,
            Whose::Both(fields) => fields.iter().any(|f| f == field),
        };
        let named = IngredientId::new(stem).ok();
        let speaks = match kind {
            RecordKind::Ingredient => named.and_then(|own| book.ingredient(&own)).is_some_and(|i| {
                (says("made_from") && i.made_from.contains(id))
                    || (says("juice") && i.juice.as_ref().is_some_and(|j| j.gives == *id))
            }),
            RecordKind::Bond => {
                stem.split_once("--").is_some_and(|(a, b)| a == id.as_str() || b == id.as_str())
            }
            RecordKind::Template | RecordKind::Spec => book.templates().iter().any(|t| {
                t.id.as_str() == stem
                    && (t.slots.iter().any(|s| s.classic == *id) || t.garnish.iter().any(|g| g.0 == *id))
            }),
            RecordKind::Prep => named
                .and_then(|makes| book.prep_of(&makes))
                .is_some_and(|prep| prep.makes == *id || prep.lines.iter().any(|line| line.of == *id)),
            _ => false,
        };
        if speaks {
            found.push((kind, stem.to_owned()));
        }
    }
    found.extend(house.price(id).map(|_| (RecordKind::Price, id.to_string())));
    found.extend(house.stock_of(id).map(|_| (RecordKind::Stock, id.to_string())));
    found.extend(house.hold_back(id).map(|_| (RecordKind::HoldBack, id.to_string())));
    found.extend(tastings_of(house, id).map(|stem| (RecordKind::Tasting, stem)));
    found.into_iter().filter_map(|(kind, stem)| RecordPath::within(kind, &stem).ok()).collect()
}

fn tastings_of<'h>(house: &'h HouseBook, id: &'h IngredientId) -> impl Iterator<Item = String> + 'h {
    let tells = move |of: &TastedThing| matches!(of, TastedThing::Pair(a, b) if a == id || b == id);
    house
        .tastings()
        .iter()
        .filter(move |t| tells(&t.of) || t.told.iter().any(|told| told.0 == *id || told.1 == *id))
        .map(|t| t.id.clone())
}

fn mentions_of_drink(book: &Book, id: &str) -> Vec<RecordPath> {
    let is_it = |of: &TastedThing| matches!(of, TastedThing::Drink(drink) if drink.as_str() == id);
    let tasted = book.house().tastings().iter().filter(|t| is_it(&t.of));
    let tasted = tasted.map(|t| (RecordKind::Tasting, t.id.clone()));
    let from = |t: &&crate::book::Template| t.from.as_ref().is_some_and(|from| from.as_str() == id);
    let made = book.templates().iter().filter(from).map(|t| (t.record_kind(), t.id.to_string()));
    tasted.chain(made).filter_map(|(kind, stem)| RecordPath::within(kind, &stem).ok()).collect()
}

/// The fields of a record that hold ids of other records, or its own.
const fn fields_with_ids(kind: RecordKind) -> &'static [&'static str] {
    match kind {
        RecordKind::Ingredient => &["id", "made_from", "juice"],
        RecordKind::Bond => &["between"],
        RecordKind::Template | RecordKind::Spec => &["id", "from", "slots", "garnish"],
        RecordKind::Prep => &["makes", "lines"],
        RecordKind::Price | RecordKind::Stock | RecordKind::HoldBack => &["of"],
        RecordKind::Tasting => &["of", "told"],
        RecordKind::Measures | RecordKind::Weighing => &[],
    }
}

/// The text of a record in which one id stands for another from now on.
///
/// # Errors
/// [`LeafFault`] if the record cannot be read.
pub(super) fn renamed(kind: RecordKind, text: &str, from: &str, to: &str) -> Result<String, LeafFault> {
    let (old, new) = (format!("\"{from}\""), format!("\"{to}\""));
    let mut leaf = Leaf::parse(text)?;
    for field in fields_with_ids(kind) {
        let Some(value) = leaf.get(&[field]).map(str::to_owned) else { continue };
        // What a drink that is not in the book was called is no id.
        if !value.contains(&old) || value.starts_with("other") {
            continue;
        }
        let mut value = value.replace(&old, &new);
        if kind == RecordKind::Bond {
            value = lesser_first(&value);
        }
        leaf.set(&[field], &value, kind.order())?;
    }
    Ok(leaf.text().to_owned())
}

/// A pair with the lesser id first, as it is in every file.
fn lesser_first(pair: &str) -> String {
    let ids: Vec<&str> = pair.split('"').skip(1).step_by(2).collect();
    match ids.as_slice() {
        [a, b] if a > b => format!("(\"{b}\", \"{a}\")"),
        _ => pair.to_owned(),
    }
}

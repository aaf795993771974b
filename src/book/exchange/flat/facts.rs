//! Bonds and the house's own facts as rows, and back.

use crate::book::bond::Bond;
use crate::book::exchange::bundle::WrittenBond;
use crate::book::exchange::cell::Cells;
use crate::book::exchange::fault::quoted;
use crate::book::exchange::fields::Taking;
use crate::book::exchange::filling::Filling;
use crate::book::exchange::who::Who;
use crate::book::hold_back::HoldBack;
use crate::book::id::{IngredientId, TemplateId};
use crate::book::origin::Origin;
use crate::book::price::Price;
use crate::book::stock::Stock;
use crate::book::tasting::{TastedThing, Tasting, Told};
use crate::book::weighing::Weighing;
use crate::book::word::Level;
use crate::measure::{Affinity, Grade, Mass, Measures, Money, Strength, Volume};

/// A bond as cells.
pub(in super::super) fn bond_cells(bond: &WrittenBond, who: &Who<'_>) -> Cells {
    let mut row = Filling::default();
    row.text("a", who.name_of(&bond.pair.0));
    row.text("b", who.name_of(&bond.pair.1));
    match bond.bond {
        Bond::Affinity(affinity) => row.number("affinity", affinity),
        Bond::Clash => row.yes("clash", true),
    }
    row.some("note", bond.note.as_ref());
    row.some("by", bond.by.as_ref());
    row.origin("origin", &bond.origin);
    row.done()
}

/// What a row says of a pair; what it does not say stays as it is.
#[derive(Debug, Clone, PartialEq)]
pub(in super::super) struct BondRow {
    pub(in super::super) pair: (IngredientId, IngredientId),
    pub(in super::super) bond: Bond,
    pub(in super::super) note: Option<String>,
    pub(in super::super) by: Option<String>,
    pub(in super::super) origin: Option<Origin>,
}

/// What a row's cells say of a pair.
pub(in super::super) fn bond_of(row: &mut Taking<'_>) -> Option<BondRow> {
    let (a, b) = (row.ingredient("a"), row.ingredient("b"));
    let clash = row.yes("clash");
    let affinity = row.number::<Affinity>("affinity");
    let bond = match (affinity, clash) {
        (_, true) if row.any(&["affinity"]) => {
            row.fault("clash", "it is a clash and an affinity at once: write one of them", None);
            None
        }
        (_, true) => Some(Bond::Clash),
        (Some(affinity), false) => Some(Bond::Affinity(affinity)),
        (None, false) => {
            if !row.any(&["affinity"]) {
                let hint = Some("write a number from 0.01 to 1, or yes under clash".to_owned());
                row.fault("affinity", "nothing is written", hint);
            }
            None
        }
    };
    let origin = row.origin("origin");
    let (a, b) = a.zip(b)?;
    if a == b {
        row.fault("b", format!("{} is paired with itself", quoted(a.as_str())), None);
    }
    let pair = if a < b { (a, b) } else { (b, a) };
    let bond = BondRow { pair, bond: bond?, note: row.text("note"), by: row.text("by"), origin };
    row.faults.is_empty().then_some(bond)
}

/// A price as cells.
pub(in super::super) fn price_cells(price: &Price, who: &Who<'_>) -> Cells {
    let mut row = Filling::default();
    row.text("ingredient", who.name_of(&price.of));
    row.text("paid", price.paid.to_string());
    row.text("size", price.size.to_string());
    row.some("note", price.note.as_ref());
    row.done()
}

/// The price of a row's cells.
pub(in super::super) fn price_of(row: &mut Taking<'_>, of: IngredientId) -> Option<Price> {
    let paid = paid_of(row);
    let unit = row.text("unit");
    row.needed("size");
    let size = row.amount("size", unit.as_deref());
    let price = Price { of, paid: paid?, size: size?, note: row.text("note") };
    row.faults.is_empty().then_some(price)
}

fn paid_of(row: &mut Taking<'_>) -> Option<Money> {
    row.needed("paid")?;
    let text = row.figures("paid")?.replace('€', " EUR ");
    let bare = !text.contains(char::is_alphabetic);
    match row.text("currency") {
        Some(currency) if bare => row.taken("paid", format!("{text} {currency}").parse::<Money>()),
        _ => match text.parse::<Money>() {
            Ok(paid) => Some(paid),
            Err(error) => {
                let hint = bare.then(|| "or add a column currency with EUR, GBP and the like".to_owned());
                row.fault("paid", error, hint);
                None
            }
        },
    }
}

/// Stock as cells.
pub(in super::super) fn stock_cells(stock: &Stock, who: &Who<'_>) -> Cells {
    let mut row = Filling::default();
    row.text("ingredient", who.name_of(&stock.of));
    row.text("level", stock.level.name());
    row.some("note", stock.note.as_ref());
    row.done()
}

/// The stock of a row's cells.
pub(in super::super) fn stock_of(row: &mut Taking<'_>, of: IngredientId) -> Option<Stock> {
    let text = row.needed("level")?;
    let level = match text.to_lowercase().as_str() {
        "yes" | "in" | "full" => Some(Level::Have),
        "no" | "86" | "0" | "empty" => Some(Level::Out),
        _ => row.word("level"),
    };
    let stock = Stock { of, level: level?, note: row.text("note") };
    row.faults.is_empty().then_some(stock)
}

/// A hold-back as cells.
pub(in super::super) fn hold_back_cells(held: &HoldBack, who: &Who<'_>) -> Cells {
    let mut row = Filling::default();
    row.text("ingredient", who.name_of(&held.of));
    row.text("goes_in", held.goes_in.value().to_string());
    row.some("why", held.why.as_ref());
    row.done()
}

/// The hold-back of a row's cells.
pub(in super::super) fn hold_back_of(row: &mut Taking<'_>, of: IngredientId) -> Option<HoldBack> {
    let text = row.needed("goes_in")?;
    let goes_in = row.taken("goes_in", text.parse::<Grade>())?;
    let held = HoldBack { of, goes_in, why: row.text("why") };
    row.faults.is_empty().then_some(held)
}

/// A tasting as cells.
pub(in super::super) fn tasting_cells(tasting: &Tasting) -> Cells {
    let mut row = Filling::default();
    row.text("id", &tasting.id);
    row.text("on", &tasting.on);
    let (what, of) = match &tasting.of {
        TastedThing::Pair(a, b) => ("pair", format!("{a}: {b}")),
        TastedThing::Drink(id) => ("drink", id.to_string()),
        TastedThing::Other(name) => ("other", name.clone()),
    };
    row.text("what", what);
    row.text("of", of);
    row.number("score", tasting.score);
    row.some("words", tasting.words.as_ref());
    row.some("by", tasting.by.as_ref());
    row.list("told", tasting.told.iter().map(|Told(a, b, share)| format!("{a}: {b}: {}", share.value())));
    row.done()
}

/// The tasting of a row's cells.
pub(in super::super) fn tasting_of(row: &mut Taking<'_>) -> Option<Tasting> {
    let (id, on) = (row.needed("id"), row.needed("on"));
    let of = row.needed("of").unwrap_or_default();
    let of = match row.raw("what").unwrap_or("other") {
        "pair" => pair_of(row, "of", &of).map(|(a, b)| TastedThing::Pair(a, b)),
        "drink" => row.taken("of", TemplateId::new(&of)).map(TastedThing::Drink),
        "other" => Some(TastedThing::Other(of)),
        other => {
            row.fault("what", format!("{} is none of pair, drink, other", quoted(other)), None);
            None
        }
    };
    row.needed("score");
    let score = row.number("score");
    let told = row.list("told").iter().filter_map(|item| told_of(row, item)).collect();
    let tasting = Tasting {
        id: id?,
        of: of?,
        score: score?,
        words: row.text("words"),
        by: row.text("by"),
        on: on?,
        told,
    };
    row.faults.is_empty().then_some(tasting)
}

fn pair_of(row: &mut Taking<'_>, column: &str, text: &str) -> Option<(IngredientId, IngredientId)> {
    let Some((a, b)) = text.split_once(':') else {
        row.fault(column, format!("{} is no pair: write it like quince: mezcal", quoted(text)), None);
        return None;
    };
    let (a, b) = (row.ingredient_of(column, a.trim()), row.ingredient_of(column, b.trim()));
    a.zip(b)
}

fn told_of(row: &mut Taking<'_>, item: &str) -> Option<Told> {
    let (pair, share) = match item.rsplit_once(':') {
        Some((pair, share)) if pair.contains(':') => (pair, share.trim()),
        _ => (item, "1"),
    };
    let (a, b) = pair_of(row, "told", pair)?;
    let share = share.parse::<f64>().map_err(|_| format!("{} is no share: 0 to 1", quoted(share)));
    let share = row.taken("told", share)?;
    let share = row.taken("told", Grade::new(share))?;
    Some(Told(a, b, share))
}

/// A weighing as cells.
pub(in super::super) fn weighing_cells(weighing: &Weighing) -> Cells {
    let mut row = Filling::default();
    row.text("id", &weighing.id);
    row.text("method", weighing.method.name());
    row.yes("long", weighing.long);
    row.text("drink", &weighing.drink);
    row.number("before", weighing.before);
    row.number("after", weighing.after);
    row.number("volume", weighing.volume);
    row.number("strength", weighing.strength);
    row.done()
}

/// The weighing of a row's cells.
pub(in super::super) fn weighing_of(row: &mut Taking<'_>) -> Option<Weighing> {
    for column in ["method", "before", "after", "volume", "strength"] {
        row.needed(column);
    }
    let weighing = Weighing {
        id: row.needed("id")?,
        method: row.word("method")?,
        long: row.yes("long"),
        drink: row.text("drink").unwrap_or_default(),
        before: row.number::<Mass>("before")?,
        after: row.number::<Mass>("after")?,
        volume: row.number::<Volume>("volume")?,
        strength: row.number::<Strength>("strength")?,
    };
    row.faults.is_empty().then_some(weighing)
}

/// Measures as cells.
pub(in super::super) fn measures_cells(measures: &Measures) -> Cells {
    let mut row = Filling::default();
    row.number("dash", measures.dash);
    row.number("barspoon", measures.barspoon);
    row.number("drop", measures.drop);
    row.number("top", measures.top);
    row.number("part", measures.part);
    row.done()
}

/// The measures of a row's cells, over those that count now.
pub(in super::super) fn measures_of(row: &mut Taking<'_>, now: Measures) -> Option<Measures> {
    let measures = Measures {
        dash: row.number("dash").unwrap_or(now.dash),
        barspoon: row.number("barspoon").unwrap_or(now.barspoon),
        drop: row.number("drop").unwrap_or(now.drop),
        top: row.number("top").unwrap_or(now.top),
        part: row.number("part").unwrap_or(now.part),
    };
    row.faults.is_empty().then_some(measures)
}

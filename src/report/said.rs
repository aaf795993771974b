//! What the house has to say of a pair or a record, in words.

use serde_json::{Value, json};

use crate::book::{Book, Edge, IngredientId, Level, Origin, RecordKind, Whose};

use super::phrase::listed;

/// `tasted: demo 0.70, 3 tastings, now 0.81`, or whose word it is; none where the house says nothing.
pub(super) fn said_words(edge: &Edge) -> Option<String> {
    let said = edge.said.as_ref()?;
    let by = said.by.as_ref().map_or_else(String::new, |by| format!(", says {by}"));
    match &said.tasted {
        Some(tasted) => Some(format!("{tasted}{by}")),
        None if edge.origin == Origin::House => Some(format!("the house's word{by}")),
        None => None,
    }
}

/// The same for another program.
pub(super) fn said_data(edge: &Edge) -> Value {
    let Some(said) = &edge.said else { return Value::Null };
    json!({
        "by": said.by,
        "tasted": said.tasted.as_ref().map(|t| json!({
            "before": t.before.as_ref().map(|(bond, origin)| json!({
                "affinity": bond.affinity().map(|a| a.value()),
                "origin": origin.to_string(),
            })),
            "tastings": t.tastings,
            "weight": t.weight,
            "now": t.mean(),
            "words": t.to_string(),
        })),
    })
}

/// Whose a record is: `the house's own`, or which fields the house has otherwise; none for a pack's alone.
pub(super) fn whose_words(book: &Book, kind: RecordKind, id: &str) -> Option<String> {
    Some(match book.house().whose(kind, id)? {
        Whose::House => "the house's own".to_owned(),
        Whose::Both(fields) => {
            let said: Vec<&str> =
                fields.iter().map(String::as_str).filter(|f| *f != "id" && *f != "makes").collect();
            format!("the house says its {}; the rest is the pack's", listed(&said))
        }
    })
}

/// The same for another program: the fields, `["*"]` for a record of the house alone.
pub(super) fn whose_data(book: &Book, kind: RecordKind, id: &str) -> Value {
    match book.house().whose(kind, id) {
        None => json!([]),
        Some(Whose::House) => json!(["*"]),
        Some(Whose::Both(fields)) => json!(fields),
    }
}

/// What stands on the back bar of it, what it costs, and what of it goes into a batch; none where the house has not said.
pub(super) fn bar_facts(book: &Book, id: &IngredientId) -> Vec<(String, String)> {
    let note = |note: &Option<String>| note.as_ref().map_or_else(String::new, |n| format!(" ({n})"));
    let stock = book.house().stock_of(id).map(|s| {
        let level = match s.level {
            Level::Have => "there is enough",
            Level::Low => "running low",
            Level::Out => "out (86)",
        };
        ("back bar".to_owned(), format!("{level}{}", note(&s.note)))
    });
    let price = book
        .house()
        .price(id)
        .map(|p| ("costs".to_owned(), format!("{} for {}{}", p.paid, p.size, note(&p.note))));
    let held = book.house().hold_back(id).map(|h| {
        let why = h.why.as_ref().map_or_else(String::new, |why| format!(" ({why})"));
        ("in a batch".to_owned(), format!("{:.0} % of it goes in{why}", 100.0 * h.goes_in.value()))
    });
    stock.into_iter().chain(price).chain(held).collect()
}

//! One record's fields laid over another's.

use super::body::Body;
use super::fault::LeafFault;

/// Lays a record over another, field by field.
///
/// Both are structs as RON text. The result has the fields of `under` in their order, each with the value that `over` has
/// for it, then those that only `over` has. A struct in parentheses with named fields is laid over another in the same
/// way; a list, a map, a tuple or a value with a name before its parentheses is replaced whole. Remarks between fields
/// are left out.
///
/// # Errors
/// [`LeafFault`] if one of the two is no struct; its place is in that text.
pub fn overlay(under: &str, over: &str) -> Result<String, LeafFault> {
    let (below, above) = (Body::read(under)?, Body::read(over)?);
    Ok(laid((under, &below), (over, &above)))
}

fn laid(under: (&str, &Body), over: (&str, &Body)) -> String {
    let mut fields = Vec::new();
    for below in &under.1.fields {
        let value = match over.1.field(&below.label) {
            Some(above) => match (&below.inner, &above.inner) {
                (Some(b), Some(a)) => laid((under.0, b), (over.0, a)),
                _ => over.0[above.value.clone()].to_owned(),
            },
            None => under.0[below.value.clone()].to_owned(),
        };
        fields.push(format!("{}: {value}", &under.0[below.name.clone()]));
    }
    for above in over.1.fields.iter().filter(|a| under.1.field(&a.label).is_none()) {
        fields.push(format!("{}: {}", &over.0[above.name.clone()], &over.0[above.value.clone()]));
    }
    format!("({})", fields.join(", "))
}

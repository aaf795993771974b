//! In which fields two records differ, as changes of a house record.

use serde::Serialize;

use crate::book::house::ron_value;
use crate::book::ingredient::{Ingredient, Origins};
use crate::book::leaf::Body;
use crate::book::origin::Origin;

/// Fields, by their paths inwards, with a value as RON; none takes it out.
pub(super) type Fields = Vec<(Vec<String>, Option<String>)>;

/// A field of the record itself.
pub(super) fn field(name: &str, value: &impl Serialize) -> (Vec<String>, Option<String>) {
    (vec![name.to_owned()], ron_value(value).ok())
}

/// The fields that make the second of two records of one kind out of the first.
pub(super) fn differing(old: &impl Serialize, new: &impl Serialize) -> Fields {
    let (Ok(old), Ok(new)) = (ron_value(old), ron_value(new)) else { return Fields::new() };
    let mut fields = Fields::new();
    if let (Ok(below), Ok(above)) = (Body::read(&old), Body::read(&new)) {
        compare((&old, &below), (&new, &above), &mut Vec::new(), &mut fields);
    }
    fields
}

fn compare(old: (&str, &Body), new: (&str, &Body), path: &mut Vec<String>, fields: &mut Fields) {
    for above in &new.1.fields {
        path.push(above.label.clone());
        let value = &new.0[above.value.clone()];
        match old.1.field(&above.label) {
            Some(below) if old.0[below.value.clone()] == *value => {}
            Some(below) => match (&below.inner, &above.inner) {
                (Some(b), Some(a)) => compare((old.0, b), (new.0, a), path, fields),
                _ => fields.push((path.clone(), Some(value.to_owned()))),
            },
            None => fields.push((path.clone(), Some(value.to_owned()))),
        }
        path.pop();
    }
    // A field is left out of a record only where it says that there is none.
    for below in old.1.fields.iter().filter(|below| new.1.field(&below.label).is_none()) {
        let gone = if below.label == "kept" { "false" } else { "None" };
        let mut path = path.clone();
        path.push(below.label.clone());
        fields.push((path, Some(gone.to_owned())));
    }
}

/// The origins that an ingredient has once the house has said these fields of it and nothing of their origin.
pub(super) fn filled(pack: &Origins, fields: &Fields) -> Origins {
    let says = |names: &[&str]| {
        fields.iter().any(|(path, _)| path.first().is_some_and(|f| names.contains(&f.as_str())))
    };
    let group = |names: &[&str], told: &Option<Origin>| {
        if says(names) { Some(Origin::House) } else { told.clone() }
    };
    Origins {
        flavour: if says(&["kind", "roles", "facets", "loudness"]) {
            Origin::House
        } else {
            pack.flavour.clone()
        },
        makeup: group(&["makeup", "spread"], &pack.makeup),
        season: group(&["season", "climates"], &pack.season),
        fruit: group(&["flesh", "juice"], &pack.fruit),
        keeping: group(&["keeps"], &pack.keeping),
    }
}

/// Origins without those of facts that are not there.
pub(super) fn fitting(origins: Origins, ingredient: &Ingredient) -> Origins {
    let own = &ingredient.origin;
    let fit = |told: Option<Origin>, there: bool| there.then(|| told.unwrap_or(Origin::House));
    Origins {
        flavour: origins.flavour,
        makeup: fit(origins.makeup, own.makeup.is_some()),
        season: fit(origins.season, own.season.is_some()),
        fruit: fit(origins.fruit, own.fruit.is_some()),
        keeping: fit(origins.keeping, own.keeping.is_some()),
    }
}

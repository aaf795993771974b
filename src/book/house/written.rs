//! The fields of a record as they are written: what says nothing is left out.

use serde::Serialize;

use super::edit::ron_value;
use crate::book::ingredient::{Climates, Ingredient, Makeup};
use crate::book::origin::Origin;
use crate::book::prep::Prep;
use crate::book::template::Template;

/// Fields in their order, each with its value as RON.
type Fields = Vec<(String, String)>;

fn put(fields: &mut Fields, name: &str, value: &impl Serialize) {
    if let Ok(value) = ron_value(value) {
        fields.push((name.to_owned(), value));
    }
}

fn put_some<T: Serialize>(fields: &mut Fields, name: &str, value: Option<&T>) {
    if let Some(value) = value {
        put(fields, name, value);
    }
}

/// An ingredient's fields as a new record of the house has them: every fact is the house's word.
pub fn ingredient_fields(ingredient: &Ingredient) -> Vec<(String, String)> {
    let mut fields = Fields::new();
    put(&mut fields, "id", &ingredient.id);
    put(&mut fields, "name", &ingredient.name);
    if !ingredient.aliases.is_empty() {
        put(&mut fields, "aliases", &ingredient.aliases);
    }
    put(&mut fields, "kind", &ingredient.kind);
    put(&mut fields, "roles", &ingredient.roles);
    if let Some(makeup) = &ingredient.makeup {
        fields.push(("makeup".to_owned(), makeup_value(makeup)));
    }
    if !ingredient.spread.is_empty() {
        put(&mut fields, "spread", &ingredient.spread);
    }
    put(&mut fields, "facets", &ingredient.facets);
    put(&mut fields, "loudness", &ingredient.loudness);
    put(&mut fields, "season", &ingredient.season);
    if ingredient.climates != Climates::default() {
        put(&mut fields, "climates", &ingredient.climates);
    }
    put_some(&mut fields, "flesh", ingredient.flesh.as_ref());
    put_some(&mut fields, "juice", ingredient.juice.as_ref());
    put_some(&mut fields, "keeps", ingredient.keeps.as_ref());
    put(&mut fields, "allergens", &ingredient.allergens);
    put(&mut fields, "diet", &ingredient.diet);
    if !ingredient.made_from.is_empty() {
        put(&mut fields, "made_from", &ingredient.made_from);
    }
    if !ingredient.cautions.is_empty() {
        put(&mut fields, "cautions", &ingredient.cautions);
    }
    let mut origin = vec!["flavour"];
    let fresh = ingredient.season.is_fresh() || ingredient.climates != Climates::default();
    for (there, group) in [
        (ingredient.makeup.is_some(), "makeup"),
        (fresh, "season"),
        (ingredient.flesh.is_some() || ingredient.juice.is_some(), "fruit"),
        (ingredient.keeps.is_some(), "keeping"),
    ] {
        if there {
            origin.push(group);
        }
    }
    let origin: Vec<String> = origin.iter().map(|group| format!("{group}: house")).collect();
    fields.push(("origin".to_owned(), format!("({})", origin.join(", "))));
    fields
}

/// A makeup without what is nought: `(strength: 26.0, sugar: 180.0)`.
pub fn makeup_value(makeup: &Makeup) -> String {
    let Ok(plain) = serde_json::to_value(Makeup::default()) else { return "()".to_owned() };
    let Ok(serde_json::Value::Object(own)) = serde_json::to_value(makeup) else { return "()".to_owned() };
    let said = own.iter().filter(|(name, value)| plain.get(name.as_str()) != Some(*value));
    let said: Vec<String> = said.map(|(name, value)| format!("{name}: {value}")).collect();
    format!("({})", said.join(", "))
}

/// A template's fields, or a drink's that was kept.
pub fn template_fields(template: &Template) -> Vec<(String, String)> {
    let mut fields = Fields::new();
    put(&mut fields, "id", &template.id);
    put(&mut fields, "name", &template.name);
    if !template.aliases.is_empty() {
        put(&mut fields, "aliases", &template.aliases);
    }
    put_some(&mut fields, "from", template.from.as_ref());
    put(&mut fields, "family", &template.family);
    put(&mut fields, "method", &template.method);
    put(&mut fields, "glass", &template.glass);
    fields.push(("slots".to_owned(), list_by_lines(&template.slots)));
    if !template.garnish.is_empty() {
        put(&mut fields, "garnish", &template.garnish);
    }
    put(&mut fields, "essence", &template.essence);
    if template.origin != Origin::House {
        put(&mut fields, "origin", &template.origin);
    }
    fields
}

/// A preparation's fields.
pub fn prep_fields(prep: &Prep) -> Vec<(String, String)> {
    let mut fields = Fields::new();
    put(&mut fields, "makes", &prep.makes);
    put(&mut fields, "way", &prep.way);
    fields.push(("lines".to_owned(), list_by_lines(&prep.lines)));
    if prep.boils_off.grams() > 0.0 {
        put(&mut fields, "boils_off", &prep.boils_off);
    }
    if prep.lost.value() > 0.0 {
        put(&mut fields, "lost", &prep.lost);
    }
    fields.push(("steps".to_owned(), list_by_lines(&prep.steps)));
    put(&mut fields, "keeps", &prep.keeps);
    if !prep.cautions.is_empty() {
        put(&mut fields, "cautions", &prep.cautions);
    }
    if prep.origin != Origin::House {
        put(&mut fields, "origin", &prep.origin);
    }
    fields
}

/// A list with each of its values on a line.
fn list_by_lines(values: &[impl Serialize]) -> String {
    let lines = values.iter().filter_map(|value| Some(format!("            {},\n", ron_value(value).ok()?)));
    format!("[\n{}        ]", lines.collect::<String>())
}

//! The sorts of soft spot, in words.

use serde_json::{Value, json};

use crate::book::{Bond, Ingredient};
use crate::pairing::{CONTRADICTS_OVER, FEW_AFFINITIES, SMALL_KIND, Soundness, Untold};
use crate::report::companions::named;
use crate::report::phrase::{affinity, listed};

/// One sort of soft spot and where it is found.
pub(super) struct Spot {
    /// Its name, also in JSON.
    pub(super) name: &'static str,
    /// What to do, or when it is right as it is.
    pub(super) advice: String,
    /// In the order of [`Soundness`].
    pub(super) places: Vec<Place>,
    /// Whether the places are names that may stand on one line.
    pub(super) short: bool,
}

/// One place.
pub(super) struct Place {
    /// What stands on the screen.
    pub(super) words: String,
    /// The same for another program.
    pub(super) data: Value,
}

/// Every sort of soft spot, in the order of [`Soundness`].
pub(super) fn spots(sound: &Soundness<'_>) -> Vec<Spot> {
    [inherited(sound), drinks(sound), company(sound), records(sound)].into_iter().flatten().collect()
}

fn spot(name: &'static str, advice: impl Into<String>, short: bool, places: Vec<Place>) -> Spot {
    Spot { name, advice: advice.into(), places, short }
}

fn names_of(ingredients: &[&Ingredient]) -> Vec<Place> {
    ingredients.iter().map(|i| Place { words: i.name.clone(), data: named(i) }).collect()
}

fn untold<'b, T>(
    all: &[Untold<'b, T>],
    key: &str,
    name: impl Fn(&T) -> String,
    words: impl Fn(&'b Ingredient, &'b Ingredient, String) -> String,
) -> Vec<Place> {
    let place = |u: &Untold<'b, T>| {
        let what: Vec<String> = u.what.iter().map(&name).collect();
        let mut data = named(u.made);
        data["from"] = u.from.id.as_str().into();
        data[key] = what.clone().into();
        Place { words: words(u.made, u.from, listed(&what)), data }
    };
    all.iter().map(place).collect()
}

fn inherited(sound: &Soundness<'_>) -> Vec<Spot> {
    let brings = |made: &Ingredient, from: &Ingredient, what| {
        format!("{}, made from {}: does not tell {what}", made.name, from.name)
    };
    vec![
        spot(
            "allergens not told",
            "Near an error: add the allergen, or take the source out of made_from if none of it is left. What the EU's \
             rule lets go in distilling (gluten, milk, nuts) is not asked of spirits.",
            false,
            untold(&sound.untold_allergens, "allergens", |a| a.name().to_owned(), brings),
        ),
        spot(
            "cautions not told",
            "Near an error: add the caution, unless making takes the danger away.",
            false,
            untold(&sound.untold_cautions, "cautions", |c| c.to_string(), brings),
        ),
        spot(
            "diets that a source contradicts",
            "Near an error: take the mark away, or mend the source.",
            false,
            untold(
                &sound.untrue_diets,
                "diet",
                |d| d.name().to_owned(),
                |made, from, what| format!("{}, made from {}: marked {what}", made.name, from.name),
            ),
        ),
        spot(
            "poured, without a makeup",
            "No figure and no variant can count what has no makeup.",
            true,
            names_of(&sound.without_makeup),
        ),
    ]
}

fn drinks(sound: &Soundness<'_>) -> Vec<Spot> {
    let at_odds = sound.at_odds.iter().map(|a| {
        let note = a.edge.note.as_deref();
        let why = note.map_or(String::new(), |n| format!(" ({n})"));
        Place {
            words: format!("{}: {} clashes with {}{why}", a.template.name, a.filler.name, a.with.name),
            data: json!({
                "id": a.template.id.as_str(), "name": a.template.name,
                "pair": [a.filler.id.as_str(), a.with.id.as_str()], "note": note,
            }),
        }
    });
    let alone = sound.alone.iter().map(|a| Place {
        words: format!("{}: {}", a.template.name, a.filler.name),
        data: json!({
            "id": a.template.id.as_str(), "name": a.template.name, "ingredient": a.filler.id.as_str(),
        }),
    });
    let contradictions = sound.contradictions.iter().map(|c| Place {
        words: format!(
            "{}: {} with {}, {} with {}",
            c.other.name,
            bond(c.with_source),
            c.source.name,
            bond(c.with_form),
            c.form.name
        ),
        data: json!({
            "id": c.form.id.as_str(), "name": c.form.name, "from": c.source.id.as_str(), "with": c.other.id.as_str(),
            "affinity": affinity_of(c.with_form), "from_affinity": affinity_of(c.with_source), "gap": c.gap(),
        }),
    });
    vec![
        spot(
            "classics whose own lines clash",
            "The classic is drunk all the same: take the clash out, or say in its note when it holds.",
            false,
            at_odds.collect(),
        ),
        spot(
            "lines of a classic without an affinity to the rest",
            "The classic itself says that they go together: add the pair that matters.",
            false,
            alone.collect(),
        ),
        spot(
            "forms that contradict their source",
            format!(
                "Affinities over {CONTRADICTS_OVER} apart, a clash as 0. Right where making changes the flavour; else bring \
                 one nearer to the other."
            ),
            false,
            contradictions.collect(),
        ),
    ]
}

fn company(sound: &Soundness<'_>) -> Vec<Spot> {
    let few = sound.few_affinities.iter().map(|f| {
        let mut data = named(f.ingredient);
        data["affinities"] = f.affinities.into();
        Place { words: format!("{} ({})", f.ingredient.name, f.affinities), data }
    });
    let one_kind = sound.one_kind.iter().map(|o| {
        let mut data = named(o.ingredient);
        data["kind"] = o.kind.name().into();
        data["affinities"] = o.affinities.into();
        Place { words: format!("{}: all {} with {}", o.ingredient.name, o.affinities, o.kind), data }
    });
    vec![
        spot(
            "few affinities",
            format!("Under {FEW_AFFINITIES}: it is seldom offered, and its stand-ins are guesses."),
            true,
            few.collect(),
        ),
        spot(
            "affinities with one kind alone",
            "Lopsided: add what else it goes with, or bridges cannot pass.",
            false,
            one_kind.collect(),
        ),
        spot(
            "affinities without a single note",
            "Say why of the best one at least: 'pairs' shows it.",
            true,
            names_of(&sound.without_note),
        ),
        spot(
            "without a clash",
            "May be right for what goes with nearly everything; else name what a taster would send back.",
            true,
            names_of(&sound.without_clash),
        ),
    ]
}

fn records(sound: &Soundness<'_>) -> Vec<Spot> {
    let small = sound.small_kinds.iter().map(|k| Place {
        words: format!("{} ({})", k.kind, k.ingredients),
        data: json!({ "name": k.kind.name(), "ingredients": k.ingredients }),
    });
    vec![
        spot(
            "sugar from practice in juices and syrups",
            "Published tables of food hold most juices and bought syrups; right for what a house makes by its own ratio.",
            true,
            names_of(&sound.practice_sugar),
        ),
        spot(
            "fruit, vegetables, herbs and flowers that come all year",
            "May be right for what keeps, is dried or is shipped; else give the months.",
            true,
            names_of(&sound.all_year),
        ),
        spot(
            "kinds with few ingredients",
            format!("Under {SMALL_KIND}: --kind finds little there."),
            true,
            small.collect(),
        ),
    ]
}

fn bond(bond: Bond) -> String {
    match bond {
        Bond::Affinity(value) => affinity(value.value()),
        Bond::Clash => "a clash".to_owned(),
    }
}

fn affinity_of(bond: Bond) -> Option<f64> {
    match bond {
        Bond::Affinity(value) => Some(value.value()),
        Bond::Clash => None,
    }
}

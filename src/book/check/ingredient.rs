//! Checks of ingredients.

use super::{Known, Record, quoted};
use crate::book::draft::IngredientDraft;
use crate::book::fault::{Fault, Problem};
use crate::book::id::CautionId;
use crate::book::ingredient::{Climates, Ingredient};
use crate::book::near::nearest_word;
use crate::book::spread::Spread;
use crate::book::word::{Allergen, Diet};
use crate::measure::Concentration;

/// Most strength of what is marked as without alcohol, % vol: what some countries' rules call alcohol free; *from memory*.
const MOST_NO_ALCOHOL: f64 = 0.05;

pub(in super::super) fn check_ingredient(
    record: &Record<'_, IngredientDraft>,
    known: &Known,
    faults: &mut Vec<Fault>,
) {
    let draft = &record.listed.draft;
    for id in &draft.made_from {
        if draft.id.as_ref() == Some(id) {
            faults.push(record.fault(Some("made_from"), Problem::MadeFromItself { id: id.to_string() }));
        } else {
            known.ingredient(record, id, faults);
        }
    }
    if let Some(what) = outside_spread(draft) {
        faults.push(record.fault(Some("spread"), Problem::Spread { what }));
    }
    if let Some(juice) = &draft.juice {
        known.ingredient(record, &juice.gives, faults);
        if juice.least > juice.ml || juice.ml > juice.most {
            faults.push(record.fault(Some("juice"), Problem::Juice));
        }
    }
    for id in draft.cautions.iter().filter(|id| !known.cautions.contains(id)) {
        let nearest = nearest_word(id.as_str(), known.cautions.iter().map(CautionId::as_str));
        let problem =
            Problem::UnknownId { what: "caution", id: id.to_string(), nearest: nearest.map(str::to_owned) };
        faults.push(record.fault(Some(&quoted(id)), problem));
    }
    if record.listed.blanked {
        return;
    }
    if let (Some(origin), Some(season)) = (&draft.origin, &draft.season) {
        let pairs = [
            (
                draft.makeup.is_some(),
                origin.makeup.is_some(),
                "a makeup needs its origin: origin: (makeup: ...)",
                "an origin for a makeup that is not there",
            ),
            (
                season.is_fresh() || draft.climates != Climates::default(),
                origin.season.is_some(),
                "a season needs its origin: origin: (season: ...)",
                "an origin for a season, but the season is all_year",
            ),
            (
                draft.flesh.is_some() || draft.juice.is_some(),
                origin.fruit.is_some(),
                "flesh and juice need their origin: origin: (fruit: ...)",
                "an origin for flesh or juice that is not there",
            ),
            (
                draft.keeps.is_some(),
                origin.keeping.is_some(),
                "how long it keeps needs its origin: origin: (keeping: ...)",
                "an origin for keeping that is not there",
            ),
        ];
        for (fact, told, without, needless) in pairs {
            match (fact, told) {
                (true, false) => faults.push(record.fault(Some("origin"), Problem::Origin(without))),
                (false, true) => faults.push(record.fault(Some("origin"), Problem::Origin(needless))),
                _ => {}
            }
        }
    }
    if let Some(makeup) = &draft.makeup {
        let kinds = makeup.glucose.grams_per_litre() + makeup.fructose.grams_per_litre();
        if kinds > makeup.sugar.grams_per_litre() * (1.0 + 1e-9) {
            let problem = Problem::SugarKinds { kinds: Concentration::clamped(kinds), sugar: makeup.sugar };
            faults.push(record.fault(Some("sugar"), problem));
        }
        let acids = [makeup.malic, makeup.tartaric, makeup.lactic, makeup.acetic, makeup.phosphoric];
        let kinds: f64 = acids.iter().map(|kind| kind.grams_per_litre()).sum();
        if kinds > makeup.acid.grams_per_litre() * (1.0 + 1e-9) {
            let problem = Problem::AcidKinds { kinds: Concentration::clamped(kinds), acid: makeup.acid };
            faults.push(record.fault(Some("acid"), problem));
        }
    }
    if let (Some(diet), Some(allergens)) = (&draft.diet, &draft.allergens) {
        let contradictions = [
            (Diet::Vegan, allergens.contains(&Allergen::Milk), "it brings milk"),
            (Diet::Vegan, allergens.contains(&Allergen::Eggs), "it brings eggs"),
            (Diet::Vegetarian, allergens.contains(&Allergen::Fish), "it brings fish"),
            (Diet::Vegetarian, allergens.contains(&Allergen::Crustaceans), "it brings crustaceans"),
            (Diet::Vegetarian, allergens.contains(&Allergen::Molluscs), "it brings molluscs"),
            (Diet::GlutenFree, allergens.contains(&Allergen::Gluten), "it brings gluten"),
            (Diet::Vegan, !diet.contains(&Diet::Vegetarian), "not marked vegetarian"),
            (
                Diet::NoAlcohol,
                draft.makeup.is_some_and(|m| m.strength.percent_vol() > MOST_NO_ALCOHOL),
                "its makeup has more than 0.05 % vol",
            ),
        ];
        for (mark, contradicted, fact) in contradictions {
            if contradicted && diet.contains(&mark) {
                faults.push(record.fault(Some("diet"), Problem::Diet { diet: mark.name(), fact }));
            }
        }
    }
}

/// The figure of a makeup that lies outside what its spread says.
fn outside_spread(draft: &IngredientDraft) -> Option<&'static str> {
    let Spread { strength, sugar, acid } = draft.spread;
    let inside = |pair: Option<(f64, f64)>, own: Option<f64>| {
        pair.is_none_or(|(least, most)| least <= most && own.is_none_or(|own| (least..=most).contains(&own)))
    };
    let held = |pair: (Concentration, Concentration)| (pair.0.grams_per_litre(), pair.1.grams_per_litre());
    let makeup = draft.makeup;
    let checks = [
        (
            "strength",
            inside(
                strength.map(|(least, most)| (least.percent_vol(), most.percent_vol())),
                makeup.map(|m| m.strength.percent_vol()),
            ),
        ),
        ("sugar", inside(sugar.map(held), makeup.map(|m| m.sugar.grams_per_litre()))),
        ("acid", inside(acid.map(held), makeup.map(|m| m.acid.grams_per_litre()))),
    ];
    checks.into_iter().find(|(_, fits)| !fits).map(|(what, _)| what)
}

pub(in super::super) fn finish_ingredient(draft: &IngredientDraft) -> Option<Ingredient> {
    Some(Ingredient {
        id: draft.id.clone()?,
        name: draft.name.clone()?,
        aliases: draft.aliases.clone(),
        kind: draft.kind?,
        roles: draft.roles.clone()?,
        makeup: draft.makeup,
        facets: draft.facets.clone()?,
        loudness: draft.loudness?,
        season: draft.season?,
        climates: draft.climates,
        spread: draft.spread,
        flesh: draft.flesh,
        juice: draft.juice.clone(),
        keeps: draft.keeps,
        allergens: draft.allergens.clone()?,
        diet: draft.diet.clone()?,
        made_from: draft.made_from.clone(),
        cautions: draft.cautions.clone(),
        origin: draft.origin.clone()?,
    })
}

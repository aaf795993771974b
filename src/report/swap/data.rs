//! Stand-ins and mixtures as JSON.

use std::collections::BTreeSet;

use serde_json::{Value, json};

use super::OwnChanges;
use crate::book::{Allergen, CautionId, Diet, Ingredient};
use crate::pairing::{Likeness, Mixture, StandIn};
use crate::report::noticed::noticed_data;
use crate::report::phrase::facet_names;
use crate::riff::SideBySide;

fn likeness_data(likeness: &Likeness) -> Value {
    json!({
        "flavour": likeness.flavour,
        "company": likeness.company,
        "role": likeness.role,
        "makeup": likeness.makeup,
        "agreement": likeness.agreement,
    })
}

pub(super) fn stand_in_data(stand_in: &StandIn<'_>) -> Value {
    json!({
        "id": stand_in.ingredient.id.as_str(),
        "name": stand_in.ingredient.name,
        "score": stand_in.likeness.score(),
        "likeness": likeness_data(&stand_in.likeness),
        "shared_facets": facet_names(&stand_in.shared),
        "gained_facets": facet_names(&stand_in.gained),
        "lost_facets": facet_names(&stand_in.lost),
        "allergens": stand_in.ingredient.allergens.iter().map(|a| a.name()).collect::<Vec<_>>(),
    })
}

pub(super) fn mixture_data(mixture: &Mixture<'_>, closer_by: Option<f64>) -> Value {
    json!({
        "parts": mixture.parts.iter().map(|(i, share)| json!({
            "id": i.id.as_str(), "name": i.name, "share": share,
        })).collect::<Vec<_>>(),
        "score": mixture.likeness.score(),
        "closer_by": closer_by,
        "likeness": likeness_data(&mixture.likeness),
        "shared_facets": facet_names(&mixture.shared),
        "gained_facets": facet_names(&mixture.gained),
        "lost_facets": facet_names(&mixture.lost),
    })
}

pub(super) fn changes_data(beside: &SideBySide<'_>) -> Value {
    let ids = |set: &BTreeSet<&CautionId>| set.iter().map(|c| c.as_str().to_owned()).collect::<Vec<_>>();
    json!({
        "noticed": noticed_data(beside.noticed),
        "allergens_gained": allergen_names(&beside.allergens_gained),
        "allergens_lost": allergen_names(&beside.allergens_lost),
        "diets_gained": diet_names(&beside.diets_gained),
        "diets_lost": diet_names(&beside.diets_lost),
        "cautions_gained": ids(&beside.cautions_gained),
        "cautions_lost": ids(&beside.cautions_lost),
    })
}

pub(super) fn own_changes_data(was: &Ingredient, is: &[&Ingredient]) -> Value {
    let changes = OwnChanges::of(was, is);
    json!({
        "allergens_gained": allergen_names(&changes.allergens.0),
        "allergens_lost": allergen_names(&changes.allergens.1),
        "diets_gained": diet_names(&changes.diets.0),
        "diets_lost": diet_names(&changes.diets.1),
    })
}

fn allergen_names(set: &BTreeSet<Allergen>) -> Vec<&'static str> {
    set.iter().map(|a| a.name()).collect()
}

fn diet_names(set: &BTreeSet<Diet>) -> Vec<&'static str> {
    set.iter().map(|d| d.name()).collect()
}

//! An ingredient: everything the book knows of one thing that goes into a glass or onto a plate.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

use super::id::{CautionId, IngredientId};
use super::origin::Origin;
use super::season::Season;
use super::word::{Allergen, Diet, Facet, Kind, Role};
use crate::measure::{Bitterness, Concentration, Grade, Strength};

/// The measurable part of an ingredient.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Makeup {
    /// Strength at 20 °C.
    pub strength: Strength,
    /// Sugars, all kinds together, g/L.
    pub sugar: Concentration,
    /// How much of the sugar is glucose, g/L; what is neither this nor fructose counts as sucrose.
    pub glucose: Concentration,
    /// How much of the sugar is fructose, g/L.
    pub fructose: Concentration,
    /// Titratable acid as anhydrous citric, g/L.
    pub acid: Concentration,
    /// Bitterness on our scale.
    pub bitterness: Bitterness,
    /// Sodium chloride, g/L.
    pub salt: Concentration,
    /// Whether it sparkles.
    pub carbonated: bool,
    /// Whether it is dry sugar or salt, measured by its bulk, rather than a liquid.
    pub solid: bool,
}

impl Default for Makeup {
    fn default() -> Self {
        Self {
            strength: Strength::ZERO,
            sugar: Concentration::ZERO,
            glucose: Concentration::ZERO,
            fructose: Concentration::ZERO,
            acid: Concentration::ZERO,
            bitterness: Bitterness::clamped(0.0),
            salt: Concentration::ZERO,
            carbonated: false,
            solid: false,
        }
    }
}

/// Where each group of facts on an ingredient comes from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Origins {
    /// Facets, loudness, roles.
    pub flavour: Origin,
    /// The makeup; must be there where the makeup is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub makeup: Option<Origin>,
    /// The season; must be there where the season is not the whole year.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub season: Option<Origin>,
}

/// One ingredient.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Ingredient {
    /// Its id, unique among ingredients.
    pub id: IngredientId,
    /// Its name on the screen.
    pub name: String,
    /// Other names a person may type.
    pub aliases: Vec<String>,
    /// What sort of thing it is.
    pub kind: Kind,
    /// What it can do in a drink; empty for food.
    pub roles: BTreeSet<Role>,
    /// The measurable part; none for what is not poured.
    pub makeup: Option<Makeup>,
    /// Directions of flavour; those not named are 0.
    pub facets: BTreeMap<Facet, Grade>,
    /// How much it dominates what it is mixed with.
    pub loudness: Grade,
    /// When it is to be had.
    pub season: Season,
    /// The EU groups it brings.
    pub allergens: BTreeSet<Allergen>,
    /// Diets it suits.
    pub diet: BTreeSet<Diet>,
    /// Ingredients it is made from or a form of: pear liqueur from pear.
    pub made_from: Vec<IngredientId>,
    /// Cautions that go with it.
    pub cautions: Vec<CautionId>,
    /// Where each group of facts comes from.
    pub origin: Origins,
}

impl Ingredient {
    /// Whether one of the two is made from the other: pear and pear brandy say nothing new of each other.
    pub fn is_kin_of(&self, other: &Self) -> bool {
        self.made_from.contains(&other.id) || other.made_from.contains(&self.id)
    }
}

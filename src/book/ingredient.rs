//! An ingredient: everything the book knows of one thing that goes into a glass or onto a plate.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

use super::fruit::{Flesh, Yield};
use super::id::{CautionId, IngredientId};
use super::keeping::Keeping;
use super::origin::Origin;
use super::season::{Presence, Season, When};
use super::spread::Spread;
use super::word::{Allergen, Climate, Diet, Facet, Kind, Role};
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
    /// How much of the acid is malic, g/L as citric; what is of no kind named counts as citric itself.
    pub malic: Concentration,
    /// How much is tartaric, as citric.
    pub tartaric: Concentration,
    /// How much is lactic, as citric.
    pub lactic: Concentration,
    /// How much is acetic, as citric.
    pub acetic: Concentration,
    /// How much is phosphoric, as citric.
    pub phosphoric: Concentration,
    /// Bitterness on our scale.
    pub bitterness: Bitterness,
    /// Sodium chloride, g/L.
    pub salt: Concentration,
    /// Whether it sparkles.
    pub carbonated: bool,
    /// Whether it is dry sugar or salt, measured by its bulk, rather than a liquid.
    pub solid: bool,
    /// Whether it sets firm in the cold, as butter does.
    pub sets: bool,
}

impl Default for Makeup {
    fn default() -> Self {
        Self {
            strength: Strength::ZERO,
            sugar: Concentration::ZERO,
            glucose: Concentration::ZERO,
            fructose: Concentration::ZERO,
            acid: Concentration::ZERO,
            malic: Concentration::ZERO,
            tartaric: Concentration::ZERO,
            lactic: Concentration::ZERO,
            acetic: Concentration::ZERO,
            phosphoric: Concentration::ZERO,
            bitterness: Bitterness::clamped(0.0),
            salt: Concentration::ZERO,
            carbonated: false,
            solid: false,
            sets: false,
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
    /// Flesh and yield.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fruit: Option<Origin>,
    /// How long it keeps.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub keeping: Option<Origin>,
}

/// Seasons in other climates than the cool one; where one is not told, the cool one stands for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Climates {
    /// Warm temperate: olives and citrus grow outside.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub warm: Option<Season>,
    /// Tropical and subtropical.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tropical: Option<Season>,
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
    /// When it is to be had, in a cool temperate climate.
    pub season: Season,
    /// When it is to be had elsewhere.
    pub climates: Climates,
    /// How far published figures of its makeup lie apart.
    pub spread: Spread,
    /// What 100 g of it hold, for what is eaten.
    pub flesh: Option<Flesh>,
    /// What juice a piece gives.
    pub juice: Option<Yield>,
    /// How long it keeps.
    pub keeps: Option<Keeping>,
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
    /// Whether it is to be had.
    pub fn presence(&self, when: When) -> Presence {
        self.season_in(when.climate).at(when.month, when.hemisphere)
    }

    /// Whether it comes and goes with the year in a climate.
    pub fn is_fresh_in(&self, climate: Climate) -> bool {
        self.season_in(climate).is_fresh()
    }

    /// When it is to be had in a climate; the cool season where nothing else is told.
    pub fn season_in(&self, climate: Climate) -> Season {
        match climate {
            Climate::Cool => self.season,
            Climate::Warm => self.climates.warm.unwrap_or(self.season),
            Climate::Tropical => self.climates.tropical.or(self.climates.warm).unwrap_or(self.season),
        }
    }

    /// Whether one of the two is made from the other: pear and pear brandy say nothing new of each other.
    pub fn is_kin_of(&self, other: &Self) -> bool {
        self.made_from.contains(&other.id) || other.made_from.contains(&self.id)
    }
}

//! A template: a classic as a structure with slots, from which variants are built.

use serde::{Deserialize, Serialize};

use super::id::{IngredientId, TemplateId};
use super::origin::Origin;
use super::record_kind::RecordKind;
use super::word::{Family, Method, Role};
use crate::measure::Amount;

/// A place in a template that an ingredient fills.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Slot {
    /// What the filler does.
    pub role: Role,
    /// The classic's own filler.
    pub classic: IngredientId,
    /// The classic's own amount.
    pub amount: Amount,
    /// Least amount a variant may take; the classic's own where not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub least: Option<Amount>,
    /// Most a variant may take; the classic's own where not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most: Option<Amount>,
    /// Whether a variant may fill it with something else without being asked to.
    #[serde(default)]
    pub open: bool,
}

/// What goes on top: an ingredient and the form it takes, `("orange", "peel")`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Garnish(
    /// The ingredient.
    pub IngredientId,
    /// The form, as it reads after the name; may be empty.
    pub String,
);

/// One template.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Template {
    /// Its id, unique among templates.
    pub id: TemplateId,
    /// Its name on the screen.
    pub name: String,
    /// Other names a person may type.
    pub aliases: Vec<String>,
    /// Of a drink that a house kept: what it was made from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<TemplateId>,
    /// Whether it is a drink that a house kept, rather than a structure to build on.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub kept: bool,
    /// How it is made and drunk.
    pub family: Family,
    /// What is done to it.
    pub method: Method,
    /// The glass, in the trade's word.
    pub glass: String,
    /// What goes in, in the order of building.
    pub slots: Vec<Slot>,
    /// What goes on top; ingredients, so that their allergens and seasons count.
    pub garnish: Vec<Garnish>,
    /// What makes the drink that drink, in a line.
    pub essence: String,
    /// Where it comes from.
    pub origin: Origin,
}

impl Template {
    /// As what it stands in a house book: a drink that was kept, or a structure.
    pub fn record_kind(&self) -> RecordKind {
        if self.kept { RecordKind::Spec } else { RecordKind::Template }
    }
}

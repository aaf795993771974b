//! What the house's own book says, beside and over the packs.

#[cfg(compiled_pack)]
mod draft;
#[cfg(compiled_pack)]
mod edit;
#[cfg(compiled_pack)]
mod laid_over;
#[cfg(compiled_pack)]
mod mention;
#[cfg(compiled_pack)]
mod open;
#[cfg(compiled_pack)]
mod opinion;
#[cfg(compiled_pack)]
mod page;
#[cfg(compiled_pack)]
mod written;

use std::collections::BTreeMap;

#[cfg(compiled_pack)]
pub use edit::{Edited, FieldChange, NotEdited, RecordChange, RecordEdit, keep, ron_value, try_out};
#[cfg(compiled_pack)]
pub use mention::mentions;
#[cfg(compiled_pack)]
pub(super) use open::record_range;
#[cfg(compiled_pack)]
pub use open::{OpenedHouse, check_record, open_house};
#[cfg(compiled_pack)]
pub use written::{ingredient_fields, makeup_value, prep_fields, template_fields};

use super::hold_back::HoldBack;
use super::id::IngredientId;
use super::price::Price;
use super::record_kind::RecordKind;
use super::stock::Stock;
use super::tasting::Tasting;
use super::weighing::Weighing;
use super::word::Level;
use crate::measure::Measures;

/// Whose a record is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Whose {
    /// The house's alone.
    House,
    /// A pack's, with these fields as the house has them.
    Both(Vec<String>),
}

/// What the house's own book says that no pack does. Ingredients, bonds, templates and preparations stand on the shelf
/// among the packs' own.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct HouseBook {
    /// Records that stand on the shelf, by kind and id, with whose they are.
    whose: BTreeMap<(RecordKind, String), Whose>,
    prices: BTreeMap<IngredientId, Price>,
    stock: BTreeMap<IngredientId, Stock>,
    hold_backs: BTreeMap<IngredientId, HoldBack>,
    tastings: Vec<Tasting>,
    weighings: Vec<Weighing>,
    measures: Option<Measures>,
}

impl HouseBook {
    /// Whose a record on the shelf is; none for one that is a pack's alone.
    pub fn whose(&self, kind: RecordKind, id: &str) -> Option<&Whose> {
        self.whose.get(&(kind, id.to_owned()))
    }

    /// Records that stand on the shelf, with whose they are, by kind and id.
    pub fn all(&self) -> impl Iterator<Item = (RecordKind, &str, &Whose)> {
        self.whose.iter().map(|((kind, id), whose)| (*kind, id.as_str(), whose))
    }

    /// What an ingredient costs.
    pub fn price(&self, of: &IngredientId) -> Option<&Price> {
        self.prices.get(of)
    }

    /// Every price, by ingredient.
    pub fn prices(&self) -> impl ExactSizeIterator<Item = &Price> {
        self.prices.values()
    }

    /// How much of an ingredient there is.
    pub fn stock_of(&self, of: &IngredientId) -> Option<&Stock> {
        self.stock.get(of)
    }

    /// The back bar, by ingredient.
    pub fn stock(&self) -> impl ExactSizeIterator<Item = &Stock> {
        self.stock.values()
    }

    /// How much of an ingredient goes into a batch, where the house has said so.
    pub fn hold_back(&self, of: &IngredientId) -> Option<&HoldBack> {
        self.hold_backs.get(of)
    }

    /// Every hold-back, by ingredient.
    pub fn hold_backs(&self) -> impl ExactSizeIterator<Item = &HoldBack> {
        self.hold_backs.values()
    }

    /// What ran out.
    pub fn out(&self) -> impl Iterator<Item = &IngredientId> {
        self.stock.values().filter(|s| s.level == Level::Out).map(|s| &s.of)
    }

    /// Every tasting, oldest first.
    pub fn tastings(&self) -> &[Tasting] {
        &self.tastings
    }

    /// Drinks weighed before and after the ice, oldest first.
    pub fn weighings(&self) -> &[Weighing] {
        &self.weighings
    }

    /// What the house's own measures hold, if it has said so.
    pub fn measures(&self) -> Option<&Measures> {
        self.measures.as_ref()
    }
}

//! Drafts that may be laid over a pack's record of the same id.

use serde::Serialize;

use super::Whose;
use super::draft::{BondDraft, HoldBackDraft, HouseDraft, PriceDraft, StockDraft, TastingDraft};
use crate::book::draft::{IngredientDraft, PrepDraft, TemplateDraft};
use crate::book::list::options;
use crate::book::origin::Origin;
use crate::book::record_kind::RecordKind;
use crate::book::shelf::Book;
use crate::book::weighing::Weighing;
use crate::measure::Measures;

/// A draft that may be laid over a pack's record.
pub(super) trait LaidOver: HouseDraft {
    /// Whether its records stand on the shelf.
    const ON_SHELF: bool = false;

    /// The pack's record of the same id, as text.
    fn under(&self, _: &Book) -> Option<String> {
        None
    }

    /// Fills in what a house need not write.
    fn fill(&mut self, _: RecordKind, _: &Whose) {}
}

fn as_text(record: &impl Serialize) -> Option<String> {
    options().to_string(record).ok()
}

impl LaidOver for IngredientDraft {
    const ON_SHELF: bool = true;

    fn under(&self, packs: &Book) -> Option<String> {
        as_text(packs.ingredient(self.id.as_ref()?)?)
    }

    /// What the house says of a pack's ingredient is the house's word, unless it names another source.
    fn fill(&mut self, _: RecordKind, whose: &Whose) {
        let Whose::Both(fields) = whose else { return };
        let Some(origin) = &mut self.origin else { return };
        let has = |names: &[&str]| fields.iter().any(|f| names.contains(&f.as_str()));
        if has(&["origin"]) {
            return;
        }
        if has(&["kind", "roles", "facets", "loudness"]) {
            origin.flavour = Origin::House;
        }
        for (names, origin) in [
            (&["makeup", "spread"][..], &mut origin.makeup),
            (&["season", "climates"], &mut origin.season),
            (&["flesh", "juice"], &mut origin.fruit),
            (&["keeps"], &mut origin.keeping),
        ] {
            if has(names) {
                *origin = Some(Origin::House);
            }
        }
    }
}

impl LaidOver for TemplateDraft {
    const ON_SHELF: bool = true;

    fn under(&self, packs: &Book) -> Option<String> {
        as_text(packs.template(self.id.as_ref()?)?)
    }

    fn fill(&mut self, kind: RecordKind, _: &Whose) {
        if kind == RecordKind::Spec {
            self.essence.get_or_insert_with(|| "A drink of the house.".to_owned());
            self.glass.get_or_insert_with(|| "glass".to_owned());
        }
        self.origin.get_or_insert(Origin::House);
    }
}

impl LaidOver for PrepDraft {
    const ON_SHELF: bool = true;

    fn under(&self, packs: &Book) -> Option<String> {
        as_text(packs.prep_of(self.makes.as_ref()?)?)
    }

    fn fill(&mut self, _: RecordKind, _: &Whose) {
        self.origin.get_or_insert(Origin::House);
    }
}

impl LaidOver for BondDraft {
    const ON_SHELF: bool = true;
}
impl LaidOver for PriceDraft {}
impl LaidOver for StockDraft {}
impl LaidOver for HoldBackDraft {}
impl LaidOver for TastingDraft {}
impl LaidOver for Measures {}
impl LaidOver for Weighing {}

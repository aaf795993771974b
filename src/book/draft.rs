//! Records as they stand in a file: every field may be missing, so that all that is missing is told at once.

use std::collections::{BTreeMap, BTreeSet};

use serde::Deserialize;
use serde::de::{self, SeqAccess, Visitor};

use super::fruit::{Flesh, Yield};
use super::id::{CautionId, IngredientId, TemplateId};
use super::ingredient::{Climates, Makeup, Origins};
use super::keeping::Keeping;
use super::origin::Origin;
use super::prep::PrepLine;
use super::season::Season;
use super::spread::Spread;
use super::template::{Garnish, Slot};
use super::word::{Allergen, Diet, Facet, Family, Kind, Method, PrepWay, Role};
use crate::measure::{Affinity, Grade, Mass};

/// A draft of one kind of record.
pub(super) trait Draft: for<'de> Deserialize<'de> {
    /// What the record is called in a message.
    const WHAT: &'static str;

    /// The name a message can give it.
    fn label(&self) -> Option<String>;

    /// Fields that must be there and are not.
    fn missing(&self) -> Vec<&'static str>;
}

macro_rules! missing {
    ($draft:ident: $($field:ident),+) => {{
        let mut missing = Vec::new();
        $(if $draft.$field.is_none() { missing.push(stringify!($field)); })+
        missing
    }};
}
pub(super) use missing;

/// An ingredient as written.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "Ingredient")]
pub(super) struct IngredientDraft {
    pub(super) id: Option<IngredientId>,
    pub(super) name: Option<String>,
    pub(super) aliases: Vec<String>,
    pub(super) kind: Option<Kind>,
    pub(super) roles: Option<BTreeSet<Role>>,
    pub(super) makeup: Option<Makeup>,
    pub(super) facets: Option<BTreeMap<Facet, Grade>>,
    pub(super) loudness: Option<Grade>,
    pub(super) season: Option<Season>,
    pub(super) climates: Climates,
    pub(super) spread: Spread,
    pub(super) flesh: Option<Flesh>,
    pub(super) juice: Option<Yield>,
    pub(super) keeps: Option<Keeping>,
    pub(super) allergens: Option<BTreeSet<Allergen>>,
    pub(super) diet: Option<BTreeSet<Diet>>,
    pub(super) made_from: Vec<IngredientId>,
    pub(super) cautions: Vec<CautionId>,
    pub(super) origin: Option<Origins>,
}

impl Draft for IngredientDraft {
    const WHAT: &'static str = "ingredient";

    fn label(&self) -> Option<String> {
        self.id.as_ref().map(ToString::to_string)
    }

    fn missing(&self) -> Vec<&'static str> {
        missing!(self: id, name, kind, roles, facets, loudness, season, allergens, diet, origin)
    }
}

/// A template as written.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "Template")]
pub(super) struct TemplateDraft {
    pub(super) id: Option<TemplateId>,
    pub(super) name: Option<String>,
    pub(super) aliases: Vec<String>,
    pub(super) from: Option<TemplateId>,
    pub(super) kept: bool,
    pub(super) family: Option<Family>,
    pub(super) method: Option<Method>,
    pub(super) glass: Option<String>,
    pub(super) slots: Option<Vec<Slot>>,
    pub(super) garnish: Vec<Garnish>,
    pub(super) essence: Option<String>,
    pub(super) origin: Option<Origin>,
}

impl Draft for TemplateDraft {
    const WHAT: &'static str = "template";

    fn label(&self) -> Option<String> {
        self.id.as_ref().map(ToString::to_string)
    }

    fn missing(&self) -> Vec<&'static str> {
        missing!(self: id, name, family, method, glass, slots, essence, origin)
    }
}

/// One ingredient's affinities and clashes as written.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "Sheet")]
pub(super) struct SheetDraft {
    pub(super) of: Option<IngredientId>,
    pub(super) origin: Option<Origin>,
    pub(super) goes_with: Vec<GoesWith>,
    pub(super) clashes: Vec<Clashes>,
}

impl Draft for SheetDraft {
    const WHAT: &'static str = "affinity sheet";

    fn label(&self) -> Option<String> {
        self.of.as_ref().map(ToString::to_string)
    }

    fn missing(&self) -> Vec<&'static str> {
        missing!(self: of, origin)
    }
}

/// A preparation as written.
#[derive(Debug, Clone, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "Prep")]
pub(super) struct PrepDraft {
    pub(super) makes: Option<IngredientId>,
    pub(super) way: Option<PrepWay>,
    pub(super) lines: Option<Vec<PrepLine>>,
    pub(super) boils_off: Mass,
    pub(super) lost: Grade,
    pub(super) steps: Option<Vec<String>>,
    pub(super) keeps: Option<Keeping>,
    pub(super) cautions: Vec<CautionId>,
    pub(super) origin: Option<Origin>,
}

impl Default for PrepDraft {
    fn default() -> Self {
        Self {
            makes: None,
            way: None,
            lines: None,
            boils_off: Mass::ZERO,
            lost: Grade::clamped(0.0),
            steps: None,
            keeps: None,
            cautions: Vec::new(),
            origin: None,
        }
    }
}

impl Draft for PrepDraft {
    const WHAT: &'static str = "preparation";

    fn label(&self) -> Option<String> {
        self.makes.as_ref().map(ToString::to_string)
    }

    fn missing(&self) -> Vec<&'static str> {
        missing!(self: makes, way, lines, steps, keeps, origin)
    }
}

/// A caution as written.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "Caution")]
pub(super) struct CautionDraft {
    pub(super) id: Option<CautionId>,
    pub(super) text: Option<String>,
    pub(super) carries: Option<bool>,
    pub(super) origin: Option<Origin>,
}

impl Draft for CautionDraft {
    const WHAT: &'static str = "caution";

    fn label(&self) -> Option<String> {
        self.id.as_ref().map(ToString::to_string)
    }

    fn missing(&self) -> Vec<&'static str> {
        missing!(self: id, text, origin)
    }
}

/// `("mezcal", 0.68)` or `("mezcal", 0.68, "smoke under baked fruit")`.
#[derive(Debug, Clone)]
pub(super) struct GoesWith {
    pub(super) other: IngredientId,
    pub(super) affinity: Affinity,
    pub(super) note: Option<String>,
}

/// `("lime-cordial", "two loud acids")`; the note may be left out.
#[derive(Debug, Clone)]
pub(super) struct Clashes {
    pub(super) other: IngredientId,
    pub(super) note: Option<String>,
}

impl<'de> Deserialize<'de> for GoesWith {
    fn deserialize<D: de::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Reader;
        impl<'de> Visitor<'de> for Reader {
            type Value = GoesWith;

            fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str("(\"ingredient-id\", affinity above 0 and at most 1, \"why\" if known)")
            }

            fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<GoesWith, A::Error> {
                let other = seq.next_element()?.ok_or_else(|| de::Error::invalid_length(0, &self))?;
                let affinity = seq.next_element()?.ok_or_else(|| de::Error::invalid_length(1, &self))?;
                Ok(GoesWith { other, affinity, note: seq.next_element()? })
            }
        }
        deserializer.deserialize_tuple(3, Reader)
    }
}

impl<'de> Deserialize<'de> for Clashes {
    fn deserialize<D: de::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Reader;
        impl<'de> Visitor<'de> for Reader {
            type Value = Clashes;

            fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str("(\"ingredient-id\", \"why\" if known)")
            }

            fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Clashes, A::Error> {
                let other = seq.next_element()?.ok_or_else(|| de::Error::invalid_length(0, &self))?;
                Ok(Clashes { other, note: seq.next_element()? })
            }
        }
        deserializer.deserialize_tuple(2, Reader)
    }
}

//! Records that only a house book has, as they stand in a file.

use serde::Deserialize;

use crate::book::bond::{Bond, pair_stem};
use crate::book::draft::{Draft, IngredientDraft, PrepDraft, TemplateDraft, missing};
use crate::book::id::IngredientId;
use crate::book::origin::Origin;
use crate::book::record_kind::RecordKind;
use crate::book::tasting::{TastedThing, Told};
use crate::book::weighing::Weighing;
use crate::book::word::Level;
use crate::measure::{Affinity, Amount, Grade, Measures, Money, Score};

/// A draft of a record of a house book.
pub(super) trait HouseDraft: Draft + Send {
    /// What its file must be named after, once it is known.
    fn stem(&self) -> Option<String>;
}

/// How two get on, as written: `goes(0.8)` or `clashes`.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum BondWord {
    Goes(Affinity),
    Clashes,
}

impl From<BondWord> for Bond {
    fn from(word: BondWord) -> Self {
        match word {
            BondWord::Goes(affinity) => Self::Affinity(affinity),
            BondWord::Clashes => Self::Clash,
        }
    }
}

/// A bond as written.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "Bond")]
pub(super) struct BondDraft {
    pub(super) between: Option<(IngredientId, IngredientId)>,
    pub(super) bond: Option<BondWord>,
    pub(super) note: Option<String>,
    pub(super) by: Option<String>,
    pub(super) origin: Option<Origin>,
}

/// A price as written.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "Price")]
pub(super) struct PriceDraft {
    pub(super) of: Option<IngredientId>,
    pub(super) paid: Option<Money>,
    pub(super) size: Option<Amount>,
    pub(super) note: Option<String>,
}

/// Stock as written.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "Stock")]
pub(super) struct StockDraft {
    pub(super) of: Option<IngredientId>,
    pub(super) level: Option<Level>,
    pub(super) note: Option<String>,
}

/// A hold-back as written.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "HoldBack")]
pub(super) struct HoldBackDraft {
    pub(super) of: Option<IngredientId>,
    pub(super) goes_in: Option<Grade>,
    pub(super) why: Option<String>,
}

/// A tasting as written.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "Tasting")]
pub(super) struct TastingDraft {
    pub(super) id: Option<String>,
    pub(super) of: Option<TastedThing>,
    pub(super) score: Option<Score>,
    pub(super) words: Option<String>,
    pub(super) by: Option<String>,
    pub(super) on: Option<String>,
    pub(super) told: Vec<Told>,
}

impl Draft for BondDraft {
    const WHAT: &'static str = "bond";

    fn label(&self) -> Option<String> {
        self.between.as_ref().map(|(a, b)| format!("{a} and {b}"))
    }

    fn missing(&self) -> Vec<&'static str> {
        missing!(self: between)
    }
}

impl HouseDraft for BondDraft {
    fn stem(&self) -> Option<String> {
        self.between.as_ref().map(|(a, b)| pair_stem(a.as_str(), b.as_str()))
    }
}

impl Draft for PriceDraft {
    const WHAT: &'static str = "price of";

    fn label(&self) -> Option<String> {
        self.of.as_ref().map(ToString::to_string)
    }

    fn missing(&self) -> Vec<&'static str> {
        missing!(self: of, paid, size)
    }
}

impl HouseDraft for PriceDraft {
    fn stem(&self) -> Option<String> {
        self.label()
    }
}

impl Draft for StockDraft {
    const WHAT: &'static str = "stock of";

    fn label(&self) -> Option<String> {
        self.of.as_ref().map(ToString::to_string)
    }

    fn missing(&self) -> Vec<&'static str> {
        missing!(self: of, level)
    }
}

impl HouseDraft for StockDraft {
    fn stem(&self) -> Option<String> {
        self.label()
    }
}

impl Draft for HoldBackDraft {
    const WHAT: &'static str = "hold-back of";

    fn label(&self) -> Option<String> {
        self.of.as_ref().map(ToString::to_string)
    }

    fn missing(&self) -> Vec<&'static str> {
        missing!(self: of, goes_in)
    }
}

impl HouseDraft for HoldBackDraft {
    fn stem(&self) -> Option<String> {
        self.label()
    }
}

impl Draft for TastingDraft {
    const WHAT: &'static str = "tasting";

    fn label(&self) -> Option<String> {
        self.id.clone()
    }

    fn missing(&self) -> Vec<&'static str> {
        missing!(self: id, of, score, on)
    }
}

impl HouseDraft for TastingDraft {
    fn stem(&self) -> Option<String> {
        self.label()
    }
}

impl HouseDraft for IngredientDraft {
    fn stem(&self) -> Option<String> {
        self.label()
    }
}

impl HouseDraft for TemplateDraft {
    fn stem(&self) -> Option<String> {
        self.label()
    }
}

impl HouseDraft for PrepDraft {
    fn stem(&self) -> Option<String> {
        self.label()
    }
}

impl Draft for Measures {
    const WHAT: &'static str = "measures";

    fn label(&self) -> Option<String> {
        None
    }

    fn missing(&self) -> Vec<&'static str> {
        Vec::new()
    }
}

impl HouseDraft for Measures {
    fn stem(&self) -> Option<String> {
        Some(RecordKind::Measures.word().to_owned())
    }
}

impl Draft for Weighing {
    const WHAT: &'static str = "weighing";

    fn label(&self) -> Option<String> {
        Some(self.id.clone())
    }

    fn missing(&self) -> Vec<&'static str> {
        Vec::new()
    }
}

impl HouseDraft for Weighing {
    fn stem(&self) -> Option<String> {
        self.label()
    }
}

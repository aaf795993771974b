//! The kinds of record that a house book holds: where each stands, and the order of its fields.

/// A kind of record.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RecordKind {
    /// How two ingredients get on: an affinity or a clash.
    Bond,
    /// How much of something goes into a batch.
    HoldBack,
    /// An ingredient of the house, or what the house says otherwise of one of a pack.
    Ingredient,
    /// A preparation.
    Prep,
    /// What something costs.
    Price,
    /// What the house's own measures hold.
    Measures,
    /// A drink that was kept.
    Spec,
    /// What stands on the back bar.
    Stock,
    /// A tasting.
    Tasting,
    /// A template.
    Template,
    /// A drink weighed before and after the ice.
    Weighing,
}

/// Among what a name must lead to one thing only.
#[cfg(compiled_pack)]
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum NameSpace {
    Ingredients,
    Drinks,
    Nothing,
}

impl RecordKind {
    /// Every kind, in the order of their folders' names.
    pub const ALL: [Self; 11] = [
        Self::Bond,
        Self::HoldBack,
        Self::Ingredient,
        Self::Prep,
        Self::Price,
        Self::Measures,
        Self::Spec,
        Self::Stock,
        Self::Tasting,
        Self::Template,
        Self::Weighing,
    ];

    /// Among what its names must lead to one thing only.
    #[cfg(compiled_pack)]
    pub(super) const fn names(self) -> NameSpace {
        match self {
            Self::Ingredient => NameSpace::Ingredients,
            Self::Template | Self::Spec => NameSpace::Drinks,
            _ => NameSpace::Nothing,
        }
    }

    /// The folder of the book that its records stand in.
    pub const fn folder(self) -> &'static str {
        match self {
            Self::Ingredient => "ingredients",
            Self::Bond => "affinities",
            Self::HoldBack => "hold_backs",
            Self::Template => "templates",
            Self::Spec => "specs",
            Self::Prep => "preps",
            Self::Price => "prices",
            Self::Stock => "stock",
            Self::Tasting => "tastings",
            Self::Measures => "settings",
            Self::Weighing => "weighings",
        }
    }

    /// The kind whose records stand in a folder.
    pub fn in_folder(folder: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.folder() == folder)
    }

    /// The word for it, in a file and in a message.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Ingredient => "ingredient",
            Self::Bond => "bond",
            Self::HoldBack => "hold_back",
            Self::Template => "template",
            Self::Spec => "spec",
            Self::Prep => "prep",
            Self::Price => "price",
            Self::Stock => "stock",
            Self::Tasting => "tasting",
            Self::Measures => "measures",
            Self::Weighing => "weighing",
        }
    }

    /// Its fields, in the order in which they are written.
    pub const fn order(self) -> &'static [&'static str] {
        match self {
            Self::Ingredient => &[
                "id",
                "name",
                "aliases",
                "kind",
                "roles",
                "makeup",
                "spread",
                "facets",
                "loudness",
                "season",
                "climates",
                "flesh",
                "juice",
                "keeps",
                "allergens",
                "diet",
                "made_from",
                "cautions",
                "origin",
            ],
            Self::Bond => &["between", "bond", "note", "by", "origin"],
            Self::Template | Self::Spec => &[
                "id", "name", "aliases", "from", "family", "method", "glass", "slots", "garnish", "essence",
                "origin",
            ],
            Self::Prep => {
                &["makes", "way", "lines", "boils_off", "lost", "steps", "keeps", "cautions", "origin"]
            }
            Self::Price => &["of", "paid", "size", "note"],
            Self::HoldBack => &["of", "goes_in", "why"],
            Self::Stock => &["of", "level", "note"],
            Self::Tasting => &["id", "of", "score", "words", "by", "on", "told"],
            Self::Measures => &["dash", "barspoon", "drop", "top", "part"],
            Self::Weighing => &["id", "method", "long", "drink", "before", "after", "volume", "strength"],
        }
    }
}

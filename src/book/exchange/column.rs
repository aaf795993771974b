//! The tables and their columns, and what else people call them.

/// A column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Column {
    /// Its name, as it is written.
    pub(super) name: &'static str,
    /// Other names it is known by, in small letters.
    pub(super) also: &'static [&'static str],
}

const fn column(name: &'static str, also: &'static [&'static str]) -> Column {
    Column { name, also }
}

/// A kind of table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Table {
    /// Ingredients: the nodes of the graph.
    Ingredients,
    /// Affinities and clashes: its edges.
    Affinities,
    /// Drinks, a row for each line of one.
    Specs,
    /// Preparations.
    Preps,
    /// Cautions.
    Cautions,
    /// Prices.
    Prices,
    /// The back bar.
    Stock,
    /// What is held back of a batch.
    HoldBacks,
    /// Tastings.
    Tastings,
    /// Drinks weighed before and after the ice.
    Weighings,
    /// What the house's measures hold.
    Measures,
}

impl Table {
    /// Every table, in the order in which they are read: what others refer to comes first.
    pub const ALL: [Self; 11] = [
        Self::Ingredients,
        Self::Affinities,
        Self::Specs,
        Self::Preps,
        Self::Cautions,
        Self::Prices,
        Self::Stock,
        Self::HoldBacks,
        Self::Tastings,
        Self::Weighings,
        Self::Measures,
    ];

    /// Its name, which its file has too.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Ingredients => "ingredients",
            Self::Affinities => "affinities",
            Self::Specs => "specs",
            Self::Preps => "preps",
            Self::Cautions => "cautions",
            Self::Prices => "prices",
            Self::Stock => "stock",
            Self::HoldBacks => "hold_backs",
            Self::Tastings => "tastings",
            Self::Weighings => "weighings",
            Self::Measures => "measures",
        }
    }

    /// The table of a word: its name, or nodes and edges.
    pub fn named(word: &str) -> Option<Self> {
        match word {
            "nodes" => Some(Self::Ingredients),
            "edges" => Some(Self::Affinities),
            word => Self::ALL.into_iter().find(|table| table.name() == word),
        }
    }

    /// Columns of which each set holds one that must be there.
    pub(super) const fn needed(self) -> &'static [&'static [&'static str]] {
        match self {
            Self::Ingredients => &[&["name", "id"]],
            Self::Affinities => &[&["a"], &["b"], &["affinity", "clash"]],
            Self::Specs => &[&["drink", "id"], &["amount"], &["ingredient"]],
            Self::Preps => &[&["makes"], &["lines"], &["steps"]],
            Self::Cautions => &[&["id"], &["text"]],
            Self::Prices => &[&["ingredient"], &["paid"], &["size"]],
            Self::Stock => &[&["ingredient"], &["level"]],
            Self::HoldBacks => &[&["ingredient"], &["goes_in"]],
            Self::Tastings => &[&["id"], &["on"], &["of"], &["score"]],
            Self::Weighings => &[&["id"], &["method"], &["before"], &["after"]],
            Self::Measures => &[&["dash", "barspoon", "drop", "top", "part"]],
        }
    }

    /// Its columns, in the order in which they are written.
    pub(super) const fn columns(self) -> &'static [Column] {
        match self {
            Self::Ingredients => INGREDIENTS,
            Self::Affinities => AFFINITIES,
            Self::Specs => SPECS,
            Self::Preps => PREPS,
            Self::Cautions => CAUTIONS,
            Self::Prices => PRICES,
            Self::Stock => STOCK,
            Self::HoldBacks => HOLD_BACKS,
            Self::Tastings => TASTINGS,
            Self::Weighings => WEIGHINGS,
            Self::Measures => MEASURES,
        }
    }

    /// Columns that are written though nothing is in them: those that must be there, and of a drink's lines all, for a file
    /// without one says nothing of it.
    pub(super) fn is_always_written(self, column: &str) -> bool {
        let of_a_line = self == Self::Specs && matches!(column, "role" | "least" | "most" | "open");
        of_a_line || self.needed().iter().any(|set| set.first() == Some(&column))
    }

    /// Columns that are read and never written: what others part over two columns.
    pub(super) fn is_written(column: &str) -> bool {
        !matches!(column, "unit" | "currency")
    }
}

const INGREDIENTS: &[Column] = &[
    column("id", &["key", "code"]),
    column("name", &["ingredient", "label", "title", "product", "item"]),
    column("aliases", &["alias", "other names", "synonyms", "also"]),
    column("kind", &["type", "category", "class", "group"]),
    column("roles", &["role"]),
    column("strength", &["abv", "alcohol", "vol", "strength vol", "alcohol by volume", "abv vol"]),
    column("sugar", &["sugars", "sugar g l"]),
    column("glucose", &[]),
    column("fructose", &[]),
    column("acid", &["acidity", "acid g l"]),
    column("malic", &[]),
    column("tartaric", &[]),
    column("lactic", &[]),
    column("acetic", &[]),
    column("phosphoric", &[]),
    column("bitterness", &["bitter"]),
    column("salt", &[]),
    column("carbonated", &["sparkling", "fizzy"]),
    column("solid", &[]),
    column("sets", &[]),
    column("facets", &["facet", "flavours", "flavors", "flavour"]),
    column("loudness", &[]),
    column("peak", &["best months"]),
    column("available", &["season", "months"]),
    column("warm peak", &[]),
    column("warm available", &[]),
    column("tropical peak", &[]),
    column("tropical available", &[]),
    column("strength from", &[]),
    column("strength to", &[]),
    column("sugar from", &[]),
    column("sugar to", &[]),
    column("acid from", &[]),
    column("acid to", &[]),
    column("flesh water", &[]),
    column("flesh sugar", &[]),
    column("flesh glucose", &[]),
    column("flesh fructose", &[]),
    column("flesh acid", &[]),
    column("juice", &["gives"]),
    column("juice ml", &[]),
    column("juice least", &[]),
    column("juice most", &[]),
    column("weighs", &["piece weighs"]),
    column("store", &["storage", "keeps in"]),
    column("opened", &["keeps", "shelf life", "days opened"]),
    column("sealed", &["days sealed"]),
    column("allergens", &["allergen"]),
    column("diet", &["diets", "suits"]),
    column("made from", &["source", "made of"]),
    column("cautions", &["caution"]),
    column("flavour origin", &["origin"]),
    column("makeup origin", &[]),
    column("season origin", &[]),
    column("fruit origin", &[]),
    column("keeping origin", &[]),
];

const AFFINITIES: &[Column] = &[
    column("a", &["from", "source", "one", "ingredient", "ingredient 1", "ingredient a", "first"]),
    column("b", &["to", "target", "other", "ingredient 2", "ingredient b", "second", "partner"]),
    column("affinity", &["weight", "score", "strength", "value"]),
    column("clash", &["clashes"]),
    column("note", &["notes", "why", "reason", "comment"]),
    column("by", &["who", "author"]),
    column("origin", &[]),
];

const SPECS: &[Column] = &[
    column("id", &[]),
    column("drink", &["cocktail", "name", "spec", "title"]),
    column("amount", &["quantity", "qty", "measure", "pour"]),
    column("unit", &["units", "uom"]),
    column("ingredient", &["item", "product", "line"]),
    column("role", &[]),
    column("least", &["min", "minimum"]),
    column("most", &["max", "maximum"]),
    column("open", &[]),
    column("method", &["technique"]),
    column("family", &["style"]),
    column("glass", &["glassware"]),
    column("garnish", &["garnishes"]),
    column("essence", &["description", "note", "notes"]),
    column("aliases", &["alias", "other names"]),
    column("from", &["based on"]),
    column("kept", &[]),
    column("origin", &[]),
];

const PREPS: &[Column] = &[
    column("makes", &["name", "ingredient"]),
    column("way", &["kind"]),
    column("lines", &["goes in"]),
    column("boils off", &[]),
    column("lost", &[]),
    column("steps", &["method"]),
    column("store", &["storage"]),
    column("opened", &["keeps"]),
    column("sealed", &[]),
    column("cautions", &["caution"]),
    column("origin", &[]),
];

const CAUTIONS: &[Column] =
    &[column("id", &[]), column("text", &[]), column("carries", &[]), column("origin", &[])];

const PRICES: &[Column] = &[
    column("ingredient", &["name", "item", "product", "of"]),
    column("paid", &["price", "cost", "unit price", "amount"]),
    column("currency", &[]),
    column("size", &["bottle size", "pack size", "volume", "contents"]),
    column("unit", &["units", "uom", "size unit"]),
    column("note", &["notes", "comment", "supplier"]),
];

const STOCK: &[Column] = &[
    column("ingredient", &["name", "item", "product", "of"]),
    column("level", &["stock", "status", "have", "on hand"]),
    column("note", &["notes", "comment", "where", "location"]),
];

const HOLD_BACKS: &[Column] = &[
    column("ingredient", &["name", "item", "of"]),
    column("goes_in", &["goes in", "share in the batch"]),
    column("why", &["reason", "note"]),
];

const TASTINGS: &[Column] = &[
    column("id", &[]),
    column("on", &["date", "day"]),
    column("what", &["kind"]),
    column("of", &["tasted"]),
    column("score", &["points"]),
    column("words", &["note", "notes", "comment"]),
    column("by", &["who", "taster"]),
    column("told", &["tells of"]),
];

const WEIGHINGS: &[Column] = &[
    column("id", &[]),
    column("method", &[]),
    column("long", &[]),
    column("drink", &["name"]),
    column("before", &[]),
    column("after", &[]),
    column("volume", &[]),
    column("strength", &["abv"]),
];

const MEASURES: &[Column] = &[
    column("dash", &[]),
    column("barspoon", &[]),
    column("drop", &[]),
    column("top", &[]),
    column("part", &[]),
];

//! A good house book of the Weir House: a dozen records and more, of every kind, made by talking.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use medlar::book::{HouseBook, RecordKind};
use medlar::console::Library;

use crate::bar;

const PREP: &str = r#"(
    format: 1,
    prep: (
        makes: "honey-syrup",
        way: syrup,
        lines: [
            (of: "simple-syrup", amount: "100 ml"),
        ],
        steps: ["Stir."],
        keeps: (store: fridge, opened: 14),
    ),
)
"#;

/// A template of the house, drawn up by hand.
pub(crate) const TEMPLATE: &str = r#"(
    format: 1,
    template: (
        id: "lock-gate",
        name: "Lock Gate",
        family: stirred,
        method: stirred,
        glass: "rocks glass",
        slots: [
            (role: base, classic: "rye-whiskey", amount: "2 oz"),
            (role: modifier, classic: "sweet-vermouth", amount: "1 oz"),
        ],
        essence: "Rye under fruit.",
    ),
)
"#;

const TALK: [&str; 13] = [
    "new ingredient damson gin --kind liqueur --role modifier --strength 26 --sugar 180 --facet orchard=0.7 --alias the purple one",
    "edit quince --loudness 0.6",
    "goes damson gin, mezcal 0.8 --why smoke under stewed fruit --by the river bar",
    "goes quince, mezcal 0.9",
    "clash oyster, peach --why two kinds of sweet",
    "save 45 ml damson gin, 25 ml lime juice, 15 ml honey syrup as Weir Sour",
    "price mezcal 34.50 EUR for 700 ml",
    "price damson gin 28 EUR for 500 ml",
    "stock mezcal low",
    "stock damson gin out",
    "taste quince, mezcal 9 smoke under baked fruit --by the river bar",
    "measure dash 0.9 ml",
    "bench weigh negroni before 90 g after 121 g",
];

/// Makes the book in a folder that is not there yet.
pub(crate) fn book(house: &Path) {
    let mut session = bar::session(house);
    for line in TALK {
        bar::told(&mut session, line);
    }
    let notes = tempfile::tempdir().unwrap();
    for (name, text, line) in
        [("prep.ron", PREP, "new prep honey syrup"), ("template.ron", TEMPLATE, "new template Lock Gate")]
    {
        let file = notes.path().join(name);
        fs::write(&file, text).unwrap();
        bar::told(&mut session, &format!("{line} --file '{}'", file.display()));
    }
}

/// Every record that a library has from its house book, by file, with what it holds.
pub(crate) fn held(library: &Library) -> BTreeMap<String, String> {
    let (book, house): (_, &HouseBook) = (&library.book, library.book.house());
    let mut held = BTreeMap::new();
    let mut put = |kind: RecordKind, stem: &str, value: String| {
        held.insert(format!("{}/{stem}.ron", kind.folder()), value);
    };
    for (kind, stem, _) in house.all() {
        let found = match kind {
            RecordKind::Ingredient => {
                book.ingredients().iter().find(|i| i.id.as_str() == stem).map(|i| format!("{i:?}"))
            }
            RecordKind::Bond => book
                .edges()
                .iter()
                .find(|e| format!("{}--{}", e.pair.0, e.pair.1) == stem && e.said.is_some())
                .map(|e| format!("{e:?}")),
            RecordKind::Template | RecordKind::Spec => book
                .templates()
                .iter()
                .find(|t| t.id.as_str() == stem && t.kept == (kind == RecordKind::Spec))
                .map(|t| format!("{t:?}")),
            RecordKind::Prep => book
                .ingredients()
                .iter()
                .find(|i| i.id.as_str() == stem)
                .and_then(|i| book.prep_of(&i.id))
                .map(|p| format!("{p:?}")),
            _ => None,
        };
        if let Some(found) = found {
            put(kind, stem, found);
        }
    }
    for price in house.prices() {
        put(RecordKind::Price, price.of.as_str(), format!("{price:?}"));
    }
    for stock in house.stock() {
        put(RecordKind::Stock, stock.of.as_str(), format!("{stock:?}"));
    }
    for tasting in house.tastings() {
        put(RecordKind::Tasting, &tasting.id, format!("{tasting:?}"));
    }
    for weighing in house.weighings() {
        put(RecordKind::Weighing, &weighing.id, format!("{weighing:?}"));
    }
    if let Some(measures) = house.measures() {
        put(RecordKind::Measures, "measures", format!("{measures:?}"));
    }
    held
}

//! A book as one JSON file, and back.

use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;

use super::bundle::{Bundle, WrittenBond};
use super::fault::{NotBrought, RowFault, Spot};
use super::flat::BondRow;
use super::item::{Brought, Item};
use crate::book::bond::Bond;
use crate::book::check::ingredient::finish_ingredient;
use crate::book::check::prep::finish_prep;
use crate::book::check::template::finish_template;
use crate::book::draft::{CautionDraft, Draft, IngredientDraft, PrepDraft, TemplateDraft};
use crate::book::hold_back::HoldBack;
use crate::book::id::IngredientId;
use crate::book::origin::Origin;
use crate::book::price::Price;
use crate::book::stock::Stock;
use crate::book::tasting::{TastedThing, Tasting, Told};
use crate::book::weighing::Weighing;
use crate::book::word::Level;
use crate::measure::{Affinity, Amount, Grade, Measures, Money, Score};

/// The format that is written and read.
const FORMAT: u32 = 1;

/// The whole file on its way out.
#[derive(Serialize)]
struct Out<'b> {
    medlar: u32,
    packs: &'b [String],
    ingredients: &'b [crate::book::ingredient::Ingredient],
    affinities: Vec<PairRecord>,
    templates: &'b [crate::book::template::Template],
    preps: &'b [crate::book::prep::Prep],
    cautions: &'b [crate::book::caution::Caution],
    prices: Vec<PriceRecord>,
    stock: Vec<StockRecord>,
    hold_backs: Vec<HoldBackRecord>,
    tastings: Vec<TastingRecord>,
    weighings: &'b [Weighing],
    measures: Option<Measures>,
}

/// The whole file on its way in: each record as its text.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct In<'t> {
    medlar: u32,
    #[serde(default)]
    #[serde(rename = "packs")]
    _packs: Vec<String>,
    #[serde(default, borrow)]
    ingredients: Vec<&'t RawValue>,
    #[serde(default, borrow)]
    affinities: Vec<&'t RawValue>,
    #[serde(default, borrow)]
    templates: Vec<&'t RawValue>,
    #[serde(default, borrow)]
    preps: Vec<&'t RawValue>,
    #[serde(default, borrow)]
    cautions: Vec<&'t RawValue>,
    #[serde(default, borrow)]
    prices: Vec<&'t RawValue>,
    #[serde(default, borrow)]
    stock: Vec<&'t RawValue>,
    #[serde(default, borrow)]
    hold_backs: Vec<&'t RawValue>,
    #[serde(default, borrow)]
    tastings: Vec<&'t RawValue>,
    #[serde(default, borrow)]
    weighings: Vec<&'t RawValue>,
    #[serde(default, borrow)]
    measures: Option<&'t RawValue>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PairRecord {
    a: IngredientId,
    b: IngredientId,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    affinity: Option<Affinity>,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    clash: bool,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    note: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    by: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    origin: Option<Origin>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PriceRecord {
    of: IngredientId,
    paid: Money,
    size: Amount,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    note: Option<String>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct HoldBackRecord {
    of: IngredientId,
    goes_in: Grade,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    why: Option<String>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StockRecord {
    of: IngredientId,
    level: Level,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    note: Option<String>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct TastingRecord {
    id: String,
    of: TastedThing,
    score: Score,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    words: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    by: Option<String>,
    on: String,
    #[serde(default)]
    told: Vec<Told>,
}

impl PairRecord {
    fn of(bond: &WrittenBond) -> Self {
        let (affinity, clash) = match bond.bond {
            Bond::Affinity(affinity) => (Some(affinity), false),
            Bond::Clash => (None, true),
        };
        let (a, b) = bond.pair.clone();
        let (note, by, origin) = (bond.note.clone(), bond.by.clone(), Some(bond.origin.clone()));
        Self { a, b, affinity, clash, note, by, origin }
    }

    fn row(self) -> Result<BondRow, String> {
        let bond = match (self.affinity, self.clash) {
            (Some(affinity), false) => Bond::Affinity(affinity),
            (None, true) => Bond::Clash,
            (Some(_), true) => return Err("it is an affinity and a clash at once".to_owned()),
            (None, false) => return Err("neither affinity nor clash is said".to_owned()),
        };
        if self.a == self.b {
            return Err(format!("'{}' is paired with itself", self.a));
        }
        let pair = if self.a < self.b { (self.a, self.b) } else { (self.b, self.a) };
        Ok(BondRow { pair, bond, note: self.note, by: self.by, origin: self.origin })
    }
}

/// A bundle as the text of a JSON file.
///
/// # Errors
/// Whatever JSON cannot hold; nothing a record has.
pub fn json_text(bundle: &Bundle, packs: &[String]) -> Result<String, serde_json::Error> {
    let price =
        |p: &Price| PriceRecord { of: p.of.clone(), paid: p.paid, size: p.size, note: p.note.clone() };
    let hold_back =
        |h: &HoldBack| HoldBackRecord { of: h.of.clone(), goes_in: h.goes_in, why: h.why.clone() };
    let stock = |s: &Stock| StockRecord { of: s.of.clone(), level: s.level, note: s.note.clone() };
    let tasting = |t: &Tasting| TastingRecord {
        id: t.id.clone(),
        of: t.of.clone(),
        score: t.score,
        words: t.words.clone(),
        by: t.by.clone(),
        on: t.on.clone(),
        told: t.told.clone(),
    };
    let out = Out {
        medlar: FORMAT,
        packs,
        ingredients: &bundle.ingredients,
        affinities: bundle.bonds.iter().map(PairRecord::of).collect(),
        templates: &bundle.templates,
        preps: &bundle.preps,
        cautions: &bundle.cautions,
        prices: bundle.prices.iter().map(price).collect(),
        stock: bundle.stock.iter().map(stock).collect(),
        hold_backs: bundle.hold_backs.iter().map(hold_back).collect(),
        tastings: bundle.tastings.iter().map(tasting).collect(),
        weighings: &bundle.weighings,
        measures: bundle.measures,
    };
    serde_json::to_string_pretty(&out).map(|text| text + "\n")
}

/// Reads a JSON file; faulty records are told with the rest.
///
/// # Errors
/// [`NotBrought::Json`] for text that is not JSON, or not of this making.
pub fn read_json(file: &str, text: &str) -> Result<Brought, NotBrought> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let refuse = |line: usize, why: String| NotBrought::Json { file: file.to_owned(), line, why };
    let all: In<'_> = serde_json::from_str(text).map_err(|e| refuse(e.line(), plain(&e)))?;
    if all.medlar != FORMAT {
        let why = format!("format {} is not known here: this version reads format {FORMAT}", all.medlar);
        return Err(refuse(1, why));
    }
    let mut reading = Reading { text, file: file.into(), at: 0, line: 1, brought: Brought::default() };
    reading.drafts("cautions", &all.cautions, |draft: CautionDraft| {
        Some(Item::Caution(draft.id.clone()?, draft.text.clone()?))
    });
    reading.drafts("ingredients", &all.ingredients, |draft: IngredientDraft| {
        Some(Item::Ingredient(Box::new(finish_ingredient(&draft)?), true))
    });
    reading.each("affinities", &all.affinities, |raw| read::<PairRecord>(raw)?.row().map(Item::Bond));
    reading.drafts("templates", &all.templates, |draft: TemplateDraft| {
        Some(Item::Drink(Box::new(finish_template(&draft)?)))
    });
    reading.drafts("preps", &all.preps, |draft: PrepDraft| Some(Item::Prep(Box::new(finish_prep(&draft)?))));
    reading.each("prices", &all.prices, |raw| {
        let PriceRecord { of, paid, size, note } = read(raw)?;
        Ok(Item::Price(Price { of, paid, size, note }))
    });
    reading.each("stock", &all.stock, |raw| {
        let StockRecord { of, level, note } = read(raw)?;
        Ok(Item::Stock(Stock { of, level, note }))
    });
    reading.each("hold_backs", &all.hold_backs, |raw| {
        let HoldBackRecord { of, goes_in, why } = read(raw)?;
        Ok(Item::HoldBack(HoldBack { of, goes_in, why }))
    });
    reading.each("tastings", &all.tastings, |raw| {
        let TastingRecord { id, of, score, words, by, on, told } = read(raw)?;
        Ok(Item::Tasting(Box::new(Tasting { id, of, score, words, by, on, told })))
    });
    reading.each("weighings", &all.weighings, |raw| Ok(Item::Weighing(Box::new(read::<Weighing>(raw)?))));
    let measures: Vec<&RawValue> = all.measures.into_iter().filter(|raw| raw.get() != "null").collect();
    reading.each("measures", &measures, |raw| Ok(Item::Measures(read::<Measures>(raw)?)));
    Ok(reading.brought)
}

fn read<'t, T: Deserialize<'t>>(raw: &'t RawValue) -> Result<T, String> {
    serde_json::from_str(raw.get()).map_err(|error| plain(&error))
}

/// What is wrong, without the place, which is told in front.
fn plain(error: &serde_json::Error) -> String {
    let text = error.to_string();
    text.rsplit_once(" at line ").map_or(text.clone(), |(why, _)| why.to_owned())
}

struct Reading<'t> {
    text: &'t str,
    file: std::sync::Arc<str>,
    /// How far lines have been counted, and the line there.
    at: usize,
    line: u64,
    brought: Brought,
}

impl<'t> Reading<'t> {
    fn drafts<D: Draft>(&mut self, of: &str, all: &[&'t RawValue], finish: impl Fn(D) -> Option<Item>) {
        self.each(of, all, |raw| {
            let draft: D = read(raw)?;
            let missing = draft.missing();
            if !missing.is_empty() {
                return Err(format!("missing: {}", missing.join(", ")));
            }
            finish(draft).ok_or_else(|| "it is not whole".to_owned())
        });
    }

    fn each(&mut self, of: &str, all: &[&'t RawValue], item: impl Fn(&'t RawValue) -> Result<Item, String>) {
        for raw in all {
            self.brought.rows += 1;
            let spot = Spot { file: self.file.clone(), line: self.line_of(raw.get()) };
            match item(raw) {
                Ok(item) => self.brought.items.push((spot, item)),
                Err(why) => {
                    let message = format!("{of}: {why}");
                    self.brought.fault(RowFault { spot, message, hint: None });
                }
            }
        }
    }

    /// The line on which a part of the text starts. Parts mostly come in order, so lines are counted on from the last.
    fn line_of(&mut self, part: &str) -> u64 {
        let at = (part.as_ptr() as usize).saturating_sub(self.text.as_ptr() as usize);
        if at < self.at {
            (self.at, self.line) = (0, 1);
        }
        let between = self.text.as_bytes().get(self.at..at).unwrap_or_default();
        self.line += between.iter().filter(|byte| **byte == b'\n').count() as u64;
        self.at = at;
        self.line
    }
}

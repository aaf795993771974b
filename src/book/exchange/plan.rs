//! What bringing records in comes to: which are new, which change, which are the same already, and the changes of the house
//! book that it takes.

use std::collections::BTreeMap;

use super::MOST_RECORDS;
use super::bundle::{Bonds, WrittenBond};
use super::change::{drink_change, facts, named, prep_change};
use super::differ::{Fields, differing, field, filled, fitting};
use super::fault::{RowFault, Spot};
use super::flat::BondRow;
use super::item::{Brought, Item};
use crate::book::bond::{Bond, pair_stem};
use crate::book::house::{RecordChange, RecordEdit, Whose, ingredient_fields};
use crate::book::ingredient::Ingredient;
use crate::book::origin::Origin;
use crate::book::record_kind::RecordKind;
use crate::book::shelf::Book;
use crate::book::store::RecordPath;
use crate::book::template::Template;

/// What becomes of a record that is brought in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fate {
    /// Nobody had it.
    New,
    /// The book says otherwise now.
    Changed,
}

/// One record that is to be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// Where it stood.
    pub spot: Spot,
    /// Whether it is new.
    pub fate: Fate,
    /// What changes.
    pub edit: RecordEdit,
}

/// What bringing records in comes to.
#[derive(Debug, Default)]
pub struct Plan {
    /// Records that are to be written, in the order of the files.
    pub steps: Vec<Step>,
    /// How many more there are than a house book holds; nothing is kept of them but the number.
    pub more_steps: usize,
    /// How many records of each kind are the same already.
    pub same: BTreeMap<RecordKind, usize>,
    /// Rows or records that cannot be taken.
    pub faults: Vec<RowFault>,
    /// How many more there are.
    pub more_faults: usize,
    /// How many rows or records were read.
    pub rows: usize,
    /// What else a person should know.
    pub notes: Vec<String>,
}

/// Works out what bringing records in comes to. `packs` is what the house book lies over, `now` both together; `replace`
/// allows records of the house to be changed.
pub fn plan(brought: Brought, packs: &Book, now: &Book, replace: bool) -> Plan {
    let Brought { items, faults, more_faults, rows, notes } = brought;
    let mut collect = Brought { faults, more_faults, notes, ..Brought::default() };
    let mut planning = Planning { packs, now, replace, first: BTreeMap::new(), cautions: 0 };
    let mut steps = Vec::new();
    let mut more_steps = 0;
    let mut same = BTreeMap::new();
    for (spot, item) in items {
        match planning.step(&spot, item) {
            Ok(None) => {}
            Ok(Some((kind, None))) => *same.entry(kind).or_insert(0) += 1,
            Ok(Some((_, Some(_)))) if steps.len() == MOST_RECORDS => more_steps += 1,
            Ok(Some((_, Some((fate, edit))))) => steps.push(Step { spot, fate, edit }),
            Err((message, hint)) => collect.fault(RowFault { spot, message, hint }),
        }
    }
    if planning.cautions > 0 {
        collect.notes.push(format!(
            "{} cautions differ from the book's and were left out: a house book holds none, bring them with --pack",
            planning.cautions
        ));
    }
    Plan {
        steps,
        more_steps,
        same,
        faults: collect.faults,
        more_faults: collect.more_faults,
        rows,
        notes: collect.notes,
    }
}

type Refused = (String, Option<String>);
/// The record's kind and what becomes of it, where a house book can hold it.
type Planned = Result<Option<(RecordKind, Option<(Fate, RecordEdit)>)>, Refused>;

struct Planning<'b> {
    packs: &'b Book,
    now: &'b Book,
    replace: bool,
    /// Where each record stood that is written.
    first: BTreeMap<RecordPath, Spot>,
    /// How many cautions are not the book's.
    cautions: usize,
}

impl Planning<'_> {
    fn step(&mut self, spot: &Spot, item: Item) -> Planned {
        let (kind, stem, planned) = match item {
            Item::Ingredient(ingredient, told) => {
                (RecordKind::Ingredient, ingredient.id.to_string(), self.ingredient(&ingredient, told)?)
            }
            Item::Bond(bond) => {
                let stem = pair_stem(bond.pair.0.as_str(), bond.pair.1.as_str());
                (RecordKind::Bond, stem, self.bond(&bond))
            }
            Item::Drink(drink) => {
                let known = self.now.template(&drink.id);
                let drink = Template { kept: known.map_or(drink.kept, |t| t.kept), ..*drink };
                (drink.record_kind(), drink.id.to_string(), drink_change(self.now, &drink))
            }
            Item::Prep(prep) => (RecordKind::Prep, prep.makes.to_string(), prep_change(self.now, &prep)),
            Item::Caution(id, text) => {
                let same = self.now.caution(&id).is_some_and(|caution| caution.text == text);
                self.cautions += usize::from(!same);
                return Ok(None);
            }
            other => facts(self.now, &other),
        };
        let Some((fate, change)) = planned else {
            self.once(kind, &stem, spot)?;
            return Ok(Some((kind, None)));
        };
        let path = self.once(kind, &stem, spot)?;
        if fate == Fate::Changed && self.is_house(kind, &stem) && !self.replace {
            let message = format!("the house book says otherwise already of {}", stem.replace("--", " and "));
            return Err((message, Some("--replace lets this take its place".to_owned())));
        }
        Ok(Some((kind, Some((fate, RecordEdit { path, change })))))
    }

    /// The file of a record, which comes once only.
    fn once(&mut self, kind: RecordKind, stem: &str, spot: &Spot) -> Result<RecordPath, Refused> {
        let path = RecordPath::within(kind, stem).map_err(|error| (error.to_string(), None))?;
        if let Some(first) = self.first.get(&path) {
            return Err((
                format!("this is a second {}: the first is in {first}", stem.replace("--", " and ")),
                None,
            ));
        }
        self.first.insert(path.clone(), spot.clone());
        Ok(path)
    }

    fn is_house(&self, kind: RecordKind, stem: &str) -> bool {
        let house = self.now.house();
        house.whose(kind, stem).is_some()
            || matches!(
                kind,
                RecordKind::Price
                    | RecordKind::Stock
                    | RecordKind::HoldBack
                    | RecordKind::Tasting
                    | RecordKind::Weighing
                    | RecordKind::Measures
            )
    }

    fn ingredient(&self, new: &Ingredient, told: bool) -> Result<Option<(Fate, RecordChange)>, Refused> {
        if let Some(id) = new.cautions.iter().find(|id| self.packs.caution(id).is_none()) {
            return Err((format!("cautions: there is no caution '{id}' in the packs"), None));
        }
        let Some(now) = self.now.ingredient(&new.id) else {
            let mut fields = ingredient_fields(new);
            if let Some(origin) = fields.iter_mut().find(|(name, _)| name == "origin") {
                origin.1 = field("origin", &new.origin).1.unwrap_or_default();
            }
            return Ok(Some((Fate::New, RecordChange::New(fields))));
        };
        let pack = self.packs.ingredient(&new.id);
        let plain = Ingredient { origin: now.origin.clone(), ..new.clone() };
        let mut fields = differing(now, &plain);
        let wanted = match pack {
            // The house's own record says every origin itself.
            None => {
                let filled = filled(&now.origin, &fields);
                Some(if told { new.origin.clone() } else { fitting(filled, new) })
            }
            Some(pack) => {
                let before = self.said_before(new);
                let all: Fields =
                    before.iter().map(|f| (vec![f.clone()], None)).chain(fields.clone()).collect();
                let explicit = before.iter().any(|field| field == "origin");
                // An origin that the house has named counts for all that it has said before.
                let filled = if explicit { filled(&now.origin, &fields) } else { filled(&pack.origin, &all) };
                let wanted = if told { new.origin.clone() } else { fitting(filled.clone(), new) };
                (wanted != filled || explicit).then_some(wanted)
            }
        };
        let same = fields.is_empty() && (!told || new.origin == now.origin);
        if same {
            return Ok(None);
        }
        if let Some(wanted) = wanted {
            let under = pack.map_or(&now.origin, |pack| &pack.origin);
            fields.push(field("origin.flavour", &wanted.flavour));
            if let Some((path, _)) = fields.last_mut() {
                *path = vec!["origin".to_owned(), "flavour".to_owned()];
            }
            for (mut path, value) in
                differing(under, &wanted).into_iter().filter(|(path, _)| path[0] != "flavour")
            {
                path.insert(0, "origin".to_owned());
                fields.push((path, value));
            }
            // What the house said of it before stands in its own record, and may be what is no longer so.
            for (mut path, value) in differing(&now.origin, &wanted) {
                path.insert(0, "origin".to_owned());
                if !fields.iter().any(|(known, _)| *known == path) {
                    fields.push((path, value));
                }
            }
        }
        Ok(Some((Fate::Changed, named(field("id", &new.id), fields))))
    }

    /// The fields of an ingredient that the house has said already.
    fn said_before(&self, ingredient: &Ingredient) -> Vec<String> {
        match self.now.house().whose(RecordKind::Ingredient, ingredient.id.as_str()) {
            Some(Whose::Both(fields)) => fields.clone(),
            _ => Vec::new(),
        }
    }

    fn bond(&self, new: &BondRow) -> Option<(Fate, RecordChange)> {
        let now = self.now.edge(&new.pair.0, &new.pair.1).and_then(|e| WrittenBond::of(e, Bonds::Written));
        let same = now.as_ref().is_some_and(|now| {
            let note = new.note.is_none() || new.note == now.note;
            let by = new.by.is_none() || new.by == now.by;
            let origin = new.origin.as_ref().is_none_or(|origin| *origin == now.origin);
            new.bond == now.bond && note && by && origin
        });
        if same {
            return None;
        }
        let word = match new.bond {
            Bond::Affinity(affinity) => format!("goes({:?})", affinity.value()),
            Bond::Clash => "clashes".to_owned(),
        };
        let mut fields = vec![(vec!["bond".to_owned()], Some(word))];
        fields.extend(new.note.as_ref().map(|note| field("note", note)));
        fields.extend(new.by.as_ref().map(|by| field("by", by)));
        let origin = new.origin.clone().unwrap_or(Origin::House);
        if origin != Origin::House || self.says_origin(new) {
            fields.push(field("origin", &origin));
        }
        let fate = if now.is_some() { Fate::Changed } else { Fate::New };
        Some((fate, named(field("between", &new.pair), fields)))
    }

    /// Whether the house's record of a pair names an origin, as far as the book can tell.
    fn says_origin(&self, bond: &BondRow) -> bool {
        let edge = self.now.edge(&bond.pair.0, &bond.pair.1);
        let stem = pair_stem(bond.pair.0.as_str(), bond.pair.1.as_str());
        let written = self.now.house().whose(RecordKind::Bond, &stem).is_some();
        written && edge.is_some_and(|edge| edge.origin != Origin::House)
    }
}

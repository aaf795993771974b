//! Records on their way out of a book or into it.

use crate::book::bond::{Bond, pair_stem};
use crate::book::caution::Caution;
use crate::book::edge::Edge;
use crate::book::hold_back::HoldBack;
use crate::book::id::IngredientId;
use crate::book::ingredient::Ingredient;
use crate::book::origin::Origin;
use crate::book::prep::Prep;
use crate::book::price::Price;
use crate::book::record_kind::RecordKind;
use crate::book::shelf::Book;
use crate::book::stock::Stock;
use crate::book::tasting::Tasting;
use crate::book::template::Template;
use crate::book::weighing::Weighing;
use crate::measure::Measures;

/// A bond as someone wrote it down, before anyone tasted.
#[derive(Debug, Clone, PartialEq)]
pub struct WrittenBond {
    /// The two, the lesser id first.
    pub pair: (IngredientId, IngredientId),
    /// What they are to each other.
    pub bond: Bond,
    /// Why.
    pub note: Option<String>,
    /// Who of the house says so.
    pub by: Option<String>,
    /// Where it comes from.
    pub origin: Origin,
}

/// Which bonds are meant: what was written down, or what the tastings have made of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bonds {
    /// As written, for where the tastings come along.
    Written,
    /// As they count now, for where they do not.
    Tasted,
}

/// Whose records are meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// All that is in use.
    Whole,
    /// What the house says.
    House,
}

/// Records of every kind, each by id.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Bundle {
    /// Ingredients.
    pub ingredients: Vec<Ingredient>,
    /// Affinities and clashes.
    pub bonds: Vec<WrittenBond>,
    /// Templates, and drinks that were kept.
    pub templates: Vec<Template>,
    /// Preparations.
    pub preps: Vec<Prep>,
    /// Cautions.
    pub cautions: Vec<Caution>,
    /// Prices.
    pub prices: Vec<Price>,
    /// The back bar.
    pub stock: Vec<Stock>,
    /// Hold-backs.
    pub hold_backs: Vec<HoldBack>,
    /// Tastings.
    pub tastings: Vec<Tasting>,
    /// Drinks weighed before and after the ice.
    pub weighings: Vec<Weighing>,
    /// What the house's measures hold.
    pub measures: Option<Measures>,
}

impl WrittenBond {
    /// An edge as it was written down, or as it counts now; none if only tastings tell of it.
    pub(super) fn of(edge: &Edge, bonds: Bonds) -> Option<Self> {
        let said = edge.said.as_deref();
        let tasted = said.and_then(|s| s.tasted.as_ref()).filter(|_| bonds == Bonds::Written);
        let (bond, origin) = match tasted {
            Some(tasted) => tasted.before.clone()?,
            None => (edge.bond, edge.origin.clone()),
        };
        Some(Self {
            pair: edge.pair.clone(),
            bond,
            note: edge.note.as_ref().map(ToString::to_string),
            by: said.and_then(|s| s.by.clone()),
            origin,
        })
    }

    /// The stem of its file in a house book.
    pub(super) fn stem(&self) -> String {
        pair_stem(self.pair.0.as_str(), self.pair.1.as_str())
    }
}

impl Bundle {
    /// The records of a book.
    pub fn of(book: &Book, part: Part, bonds: Bonds) -> Self {
        let house = book.house();
        let whole = part == Part::Whole;
        let wanted = |kind: RecordKind, id: &str| whole || house.whose(kind, id).is_some();
        let edge = |edge: &Edge| {
            let tasted = edge.said.as_ref().is_some_and(|said| said.tasted.is_some());
            let bond = WrittenBond::of(edge, bonds)?;
            let own = (tasted && bonds == Bonds::Tasted) || wanted(RecordKind::Bond, &bond.stem());
            own.then_some(bond)
        };
        let template = |t: &&Template| {
            wanted(RecordKind::Template, t.id.as_str()) || wanted(RecordKind::Spec, t.id.as_str())
        };
        let ingredient = |i: &&Ingredient| wanted(RecordKind::Ingredient, i.id.as_str());
        Self {
            ingredients: book.ingredients().iter().filter(ingredient).cloned().collect(),
            bonds: book.edges().iter().filter_map(edge).collect(),
            templates: book.templates().iter().filter(template).cloned().collect(),
            preps: book
                .preps()
                .iter()
                .filter(|p| wanted(RecordKind::Prep, p.makes.as_str()))
                .cloned()
                .collect(),
            cautions: if whole { book.cautions().to_vec() } else { Vec::new() },
            prices: house.prices().cloned().collect(),
            stock: house.stock().cloned().collect(),
            hold_backs: house.hold_backs().cloned().collect(),
            tastings: house.tastings().to_vec(),
            weighings: house.weighings().to_vec(),
            measures: house.measures().copied(),
        }
    }

    /// How many records of each kind there are, with the word for them; kinds without one are left out.
    pub fn counts(&self) -> Vec<(&'static str, usize)> {
        let kept = self.templates.iter().filter(|t| t.kept).count();
        let counts = [
            ("ingredients", self.ingredients.len()),
            ("affinities and clashes", self.bonds.len()),
            ("templates", self.templates.len() - kept),
            ("kept drinks", kept),
            ("preparations", self.preps.len()),
            ("cautions", self.cautions.len()),
            ("prices", self.prices.len()),
            ("stock records", self.stock.len()),
            ("hold-backs", self.hold_backs.len()),
            ("tastings", self.tastings.len()),
            ("weighings", self.weighings.len()),
            ("measures", usize::from(self.measures.is_some())),
        ];
        counts.into_iter().filter(|(_, count)| *count > 0).collect()
    }
}

//! Records that are being brought in, each with where it stood.

use super::fault::{RowFault, Spot};
use super::flat::BondRow;
use crate::book::hold_back::HoldBack;
use crate::book::id::CautionId;
use crate::book::ingredient::Ingredient;
use crate::book::prep::Prep;
use crate::book::price::Price;
use crate::book::stock::Stock;
use crate::book::tasting::Tasting;
use crate::book::template::Template;
use crate::book::weighing::Weighing;
use crate::measure::Measures;

/// A record that is brought in.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Item {
    /// An ingredient, and whether it said where its facts come from.
    Ingredient(Box<Ingredient>, bool),
    /// A pair.
    Bond(BondRow),
    /// A template or a kept drink.
    Drink(Box<Template>),
    /// A preparation.
    Prep(Box<Prep>),
    /// A caution, which a house book cannot hold.
    Caution(CautionId, String),
    /// A price.
    Price(Price),
    /// Stock.
    Stock(Stock),
    /// A hold-back.
    HoldBack(HoldBack),
    /// A tasting.
    Tasting(Box<Tasting>),
    /// A weighing.
    Weighing(Box<Weighing>),
    /// Measures.
    Measures(Measures),
}

/// What a file, or a folder of them, holds.
#[derive(Debug, Default)]
pub struct Brought {
    pub(super) items: Vec<(Spot, Item)>,
    /// Rows or records that are faulty.
    pub(super) faults: Vec<RowFault>,
    /// How many more are, of which nothing is kept but the number.
    pub(super) more_faults: usize,
    /// How many rows or records were read.
    pub(super) rows: usize,
    /// What else a person should know: columns that were left out.
    pub(super) notes: Vec<String>,
}

/// Most faults that are kept; the rest is counted.
const MOST_FAULTS: usize = 1000;

impl Brought {
    /// Adds a fault, or counts it.
    pub(super) fn fault(&mut self, fault: RowFault) {
        if self.faults.len() < MOST_FAULTS {
            self.faults.push(fault);
        } else {
            self.more_faults += 1;
        }
    }

    /// The prices in it.
    pub fn prices(&self) -> impl Iterator<Item = &Price> {
        self.items
            .iter()
            .filter_map(|(_, item)| if let Item::Price(price) = item { Some(price) } else { None })
    }

    /// Rows or records that are faulty.
    pub fn faults(&self) -> &[RowFault] {
        &self.faults
    }

    /// How many rows or records were read.
    pub fn rows(&self) -> usize {
        self.rows
    }
}

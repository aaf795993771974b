//! What a house pays for what it buys: its own prices, another list's, the demo list's.

use std::collections::BTreeMap;
use std::fmt;
use std::sync::LazyLock;

use crate::book::{Book, IngredientId, Price};
use crate::measure::{Amount, Currency, Money};

/// Whose price it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Source {
    /// The house's own.
    House,
    /// Of a list that was named.
    List(String),
    /// Of the Weir House, which is invented.
    Demo,
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::House => f.write_str("house"),
            Self::List(name) => f.write_str(name),
            Self::Demo => f.write_str("demo"),
        }
    }
}

/// A price and whose it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Listed {
    /// What is paid, and for how much.
    pub price: Price,
    /// Whose it is.
    pub source: Source,
}

/// Prices by ingredient, all in one currency.
#[derive(Debug, Clone, PartialEq)]
pub struct PriceList {
    /// What it is called.
    pub name: String,
    prices: BTreeMap<IngredientId, Listed>,
}

/// The demo list. The text is part of the program and a test reads it whole.
static DEMO: LazyLock<Vec<Price>> = LazyLock::new(|| {
    let text = include_str!("../../data/weir-house/prices.csv");
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    reader.records().filter_map(|row| demo_price(&row.ok()?)).collect()
});

fn demo_price(row: &csv::StringRecord) -> Option<Price> {
    Some(Price {
        of: IngredientId::new(row.get(0)?).ok()?,
        paid: row.get(1)?.parse::<Money>().ok()?,
        size: row.get(2)?.parse::<Amount>().ok()?,
        note: row.get(3).filter(|note| !note.is_empty()).map(str::to_owned),
    })
}

impl PriceList {
    /// A list of prices that all come from one place.
    pub fn new<'p>(
        name: impl Into<String>,
        prices: impl Iterator<Item = &'p Price>,
        source: &Source,
    ) -> Self {
        let mut list = Self { name: name.into(), prices: BTreeMap::new() };
        for price in prices {
            list.prices.insert(price.of.clone(), Listed { price: price.clone(), source: source.clone() });
        }
        list
    }

    /// What the house of a book pays. Where it has no price of its own the demo list stands in, if it is in the house's
    /// currency or the house has no price at all.
    pub fn of_house(book: &Book) -> Self {
        let mut list = Self::new("house", book.house().prices(), &Source::House);
        let own: Vec<Currency> = list.currencies();
        let demo = Self::demo();
        if own.iter().all(|currency| demo.currencies().contains(currency)) {
            for (id, listed) in demo.prices {
                list.prices.entry(id).or_insert(listed);
            }
        }
        list
    }

    /// The demo list.
    pub fn demo() -> Self {
        Self::new("demo", DEMO.iter(), &Source::Demo)
    }

    /// What an ingredient costs.
    pub fn of(&self, id: &IngredientId) -> Option<&Listed> {
        self.prices.get(id)
    }

    /// The currencies of its prices, each once.
    pub fn currencies(&self) -> Vec<Currency> {
        let mut all: Vec<Currency> = Vec::new();
        for listed in self.prices.values() {
            let currency = listed.price.paid.currency();
            if !all.contains(&currency) {
                all.push(currency);
            }
        }
        all
    }

    /// How many prices there are.
    pub fn len(&self) -> usize {
        self.prices.len()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.prices.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_of_the_demo_list_is_read_and_is_of_the_book() {
        let text = include_str!("../../data/weir-house/prices.csv");
        assert_eq!(DEMO.len(), text.lines().count() - 1);
        let book = crate::book::read_built_in().book;
        for price in DEMO.iter() {
            assert!(book.ingredient(&price.of).is_some(), "{}", price.of);
            assert!(price.paid.ten_thousandths() > 0 && price.paid.currency().code() == "GBP");
        }
        assert_eq!(PriceList::demo().currencies().len(), 1);
    }
}

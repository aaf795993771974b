//! Whether records came through as they were.

use super::super::bundle::{Bonds, Bundle, Part, WrittenBond};
use super::super::flat::BondRow;
use super::super::item::{Brought, Item};
use crate::book::shelf::Book;

/// The records on their way into a house.
pub(super) fn items(bundle: &Bundle) -> Vec<Item> {
    let bond = |b: &WrittenBond| {
        let WrittenBond { pair, bond, note, by, origin } = b.clone();
        Item::Bond(BondRow { pair, bond, note, by, origin: Some(origin) })
    };
    let mut items: Vec<Item> = Vec::new();
    items.extend(bundle.ingredients.iter().map(|i| Item::Ingredient(Box::new(i.clone()), true)));
    items.extend(bundle.bonds.iter().map(bond));
    items.extend(bundle.templates.iter().map(|t| Item::Drink(Box::new(t.clone()))));
    items.extend(bundle.preps.iter().map(|p| Item::Prep(Box::new(p.clone()))));
    items.extend(bundle.prices.iter().cloned().map(Item::Price));
    items.extend(bundle.stock.iter().cloned().map(Item::Stock));
    items.extend(bundle.tastings.iter().map(|t| Item::Tasting(Box::new(t.clone()))));
    items.extend(bundle.weighings.iter().map(|w| Item::Weighing(Box::new(w.clone()))));
    items.extend(bundle.measures.map(Item::Measures));
    items
}

/// Whether the book has every record as it was meant.
pub(super) fn holds(bundle: &Bundle, book: &Book) {
    for ingredient in &bundle.ingredients {
        assert_eq!(book.ingredient(&ingredient.id), Some(ingredient));
    }
    for template in &bundle.templates {
        assert_eq!(book.template(&template.id), Some(template));
    }
    for prep in &bundle.preps {
        assert_eq!(book.prep_of(&prep.makes), Some(prep));
    }
    let written = Bundle::of(book, Part::Whole, Bonds::Written);
    for bond in &bundle.bonds {
        let now = written.bonds.iter().find(|b| b.pair == bond.pair).unwrap();
        assert_eq!(
            (now.bond, &now.note, &now.by, &now.origin),
            (bond.bond, &bond.note, &bond.by, &bond.origin)
        );
    }
    assert_eq!(book.house().prices().cloned().collect::<Vec<_>>(), bundle.prices);
    assert_eq!(book.house().stock().cloned().collect::<Vec<_>>(), bundle.stock);
    assert_eq!(book.house().tastings(), bundle.tastings);
    assert_eq!(book.house().weighings(), bundle.weighings);
    assert_eq!(book.house().measures(), bundle.measures.as_ref());
}

/// Every record that was brought in, as text.
pub(super) fn records(brought: &Brought) -> Vec<String> {
    let text = |item: &Item| match item {
        Item::Ingredient(ingredient, _) => Some(format!("{ingredient:?}")),
        Item::Bond(bond) => {
            Some(format!("{:?} {:?} {:?} {:?}", bond.pair, bond.bond, bond.note, bond.origin))
        }
        Item::Drink(drink) => Some(format!("{drink:?}")),
        Item::Prep(prep) => Some(format!("{prep:?}")),
        _ => None,
    };
    brought.items.iter().filter_map(|(_, item)| text(item)).collect()
}

/// The records of a book in the same way, sorted.
pub(super) fn records_of(book: &Book) -> Vec<String> {
    let bundle = Bundle::of(book, Part::Whole, Bonds::Written);
    let items = items(&bundle).into_iter();
    let spot = super::super::Spot { file: "".into(), line: 0 };
    let brought = Brought { items: items.map(|item| (spot.clone(), item)).collect(), ..Brought::default() };
    let mut all = records(&brought);
    all.sort();
    all
}

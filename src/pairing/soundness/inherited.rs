//! What a made ingredient should have from its sources, and does not tell.

use std::collections::{BTreeSet, VecDeque};

use crate::book::{Allergen, Book, CautionId, Diet, Ingredient, Kind};

/// A made ingredient that leaves out what something it is made from brings.
#[derive(Debug, Clone)]
pub struct Untold<'b, T> {
    /// The ingredient that is made.
    pub made: &'b Ingredient,
    /// The nearest thing it is made from that brings this, at any remove.
    pub from: &'b Ingredient,
    /// What is left out; of diets, the marks that the source does not bear.
    pub what: Vec<T>,
}

/// What the rule lets go when a distillate is made.
///
/// # Source
/// Regulation (EU) No 1169/2011, Annex II: cereals (1 d), whey (7 a) and nuts (8) used for making alcoholic distillates.
const LET_GO_BY_DISTILLING: [Allergen; 3] = [Allergen::Gluten, Allergen::Milk, Allergen::Nuts];

/// Allergens that are left out, except those that distilling leaves behind.
pub(super) fn allergens(book: &Book) -> Vec<Untold<'_, Allergen>> {
    untold(
        book,
        |source, distilled| {
            let stays = |a: &Allergen| !distilled || !LET_GO_BY_DISTILLING.contains(a);
            source.allergens.iter().copied().filter(stays).collect()
        },
        |made, allergen| made.allergens.contains(allergen),
    )
}

/// Cautions that are left out.
pub(super) fn cautions(book: &Book) -> Vec<Untold<'_, CautionId>> {
    let carried = |source: &Ingredient, _distilled: bool| -> Vec<CautionId> {
        let carries = |id: &&CautionId| book.caution(id).is_some_and(|caution| caution.carries);
        source.cautions.iter().filter(carries).cloned().collect()
    };
    untold(book, carried, |made, caution| made.cautions.contains(caution))
}

/// Marks `vegan` and `vegetarian` on what is made from something that bears them not.
pub(super) fn diets(book: &Book) -> Vec<Untold<'_, Diet>> {
    let marks = [Diet::Vegan, Diet::Vegetarian];
    untold(
        book,
        |source, _| marks.into_iter().filter(|d| !source.diet.contains(d)).collect(),
        |made, diet| !made.diet.contains(diet),
    )
}

/// Follows every ingredient through what it is made from, nearest first, and keeps what it does not tell.
///
/// `brings` is handed a source and whether a spirit stands between; `tells`, the made ingredient.
fn untold<T: Ord + Clone>(
    book: &Book,
    brings: impl Fn(&Ingredient, bool) -> Vec<T>,
    tells: impl Fn(&Ingredient, &T) -> bool,
) -> Vec<Untold<'_, T>> {
    let mut all = Vec::new();
    for made in book.ingredients().iter().filter(|i| !i.made_from.is_empty()) {
        let mut told = BTreeSet::new();
        let mut seen = BTreeSet::from([(&made.id, false), (&made.id, true)]);
        let mut ahead = VecDeque::from([(made, false)]);
        while let Some((at, distilled)) = ahead.pop_front() {
            let distilled = distilled || at.kind == Kind::Spirit;
            for from in book.sources_of(at) {
                if !seen.insert((&from.id, distilled)) {
                    continue;
                }
                let what: Vec<T> = brings(from, distilled)
                    .into_iter()
                    .filter(|t| !tells(made, t) && told.insert(t.clone()))
                    .collect();
                if !what.is_empty() {
                    all.push(Untold { made, from, what });
                }
                ahead.push_back((from, distilled));
            }
        }
    }
    all
}

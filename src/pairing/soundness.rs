//! How sound a book is: what in it is thin, lopsided or at odds with itself, and how its graph hangs together.
//!
//! A soft spot is no fault: reading has refused those. It is what a contributor would look at next.

mod company;
mod drink;
mod form;
mod inherited;
mod record;
mod shape;

pub use company::{Few, OneKind};
pub use drink::{Alone, AtOdds};
pub use form::Contradiction;
pub use inherited::Untold;
pub use record::SmallKind;
pub use shape::{Counts, Degrees, Shape, Step};

use super::graph::Graph;
use crate::book::{Allergen, CautionId, Diet, Ingredient};

/// Under this many affinities an ingredient has few.
pub const FEW_AFFINITIES: usize = 8;
/// Under this many ingredients a kind is small.
pub const SMALL_KIND: usize = 5;
/// Over this difference two affinities of an ingredient and its form contradict each other; a clash counts as 0.
pub const CONTRADICTS_OVER: f64 = 0.35;

/// What a contributor may want to mend: soft spots, those that matter most first, and the graph's shape.
///
/// # Limits
/// It judges what is written, not whether it is true: a pack may be sound and wrong, and some soft spots are right as
/// they are.
#[derive(Debug, Clone)]
pub struct Soundness<'b> {
    /// Made from what brings an allergen, without bringing it.
    pub untold_allergens: Vec<Untold<'b, Allergen>>,
    /// Made from what carries a caution, without carrying it.
    pub untold_cautions: Vec<Untold<'b, CautionId>>,
    /// Marked with a diet that what it is made from does not suit.
    pub untrue_diets: Vec<Untold<'b, Diet>>,
    /// Of a poured kind, without a makeup.
    pub without_makeup: Vec<&'b Ingredient>,
    /// Two lines of one classic that clash.
    pub at_odds: Vec<AtOdds<'b>>,
    /// Lines of a classic without an affinity to any other line.
    pub alone: Vec<Alone<'b>>,
    /// Pairs that go well with an ingredient and badly with a form of it, or the other way round, widest first.
    pub contradictions: Vec<Contradiction<'b>>,
    /// Under [`FEW_AFFINITIES`] affinities, fewest first.
    pub few_affinities: Vec<Few<'b>>,
    /// Two affinities or more, all with one kind.
    pub one_kind: Vec<OneKind<'b>>,
    /// Affinities, but not one with a note.
    pub without_note: Vec<&'b Ingredient>,
    /// No clash.
    pub without_clash: Vec<&'b Ingredient>,
    /// Juices and syrups whose sugar is common practice, where published figures are common.
    pub practice_sugar: Vec<&'b Ingredient>,
    /// Of a kind that grows, to be had all year.
    pub all_year: Vec<&'b Ingredient>,
    /// Kinds of under [`SMALL_KIND`] ingredients.
    pub small_kinds: Vec<SmallKind>,
    /// How the graph hangs together.
    pub shape: Shape<'b>,
    /// How much of everything there is.
    pub counts: Counts,
}

impl<'b> Graph<'b> {
    /// Looks the whole book over.
    ///
    /// # Model
    /// Allergens, cautions and diets are followed through `made_from` as far as it leads. Affinities are counted both
    /// ways; an ingredient and a form of it are not held against each other.
    pub fn soundness(&self) -> Soundness<'b> {
        let book = self.book();
        Soundness {
            untold_allergens: inherited::allergens(book),
            untold_cautions: inherited::cautions(book),
            untrue_diets: inherited::diets(book),
            without_makeup: record::without_makeup(book),
            at_odds: drink::at_odds(self),
            alone: drink::alone(self),
            contradictions: form::contradictions(self),
            few_affinities: company::few_affinities(self),
            one_kind: company::one_kind(self),
            without_note: company::without_note(self),
            without_clash: company::without_clash(self),
            practice_sugar: record::practice_sugar(book),
            all_year: record::all_year(book),
            small_kinds: record::small_kinds(book),
            shape: Shape::of(self),
            counts: Counts::of(self),
        }
    }
}

#[cfg(test)]
mod tests;

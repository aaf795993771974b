//! Which ingredients a person will have.

use std::collections::BTreeSet;

use crate::book::{Allergen, Book, Diet, Ingredient, IngredientId, Kind, Presence, Role, When};

/// What an ingredient must be to be suggested; an empty list asks for nothing.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Filter {
    /// Kinds that will do.
    pub kinds: Vec<Kind>,
    /// Roles of which it must play one.
    pub roles: Vec<Role>,
    /// When and where it must be to be had.
    pub in_season: Option<When>,
    /// Diets it must suit.
    pub suits: BTreeSet<Diet>,
    /// Allergens it must not bring.
    pub without: BTreeSet<Allergen>,
    /// Ingredients that it must not be, nor be made from.
    pub no: BTreeSet<IngredientId>,
    /// What is there, where nothing else will do.
    pub have: Option<BTreeSet<IngredientId>>,
    /// What ran out.
    pub out: BTreeSet<IngredientId>,
}

/// Why an ingredient was ruled out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ruled {
    /// Another kind was asked for.
    Kind,
    /// It plays another role.
    Role,
    /// It is not to be had fresh.
    Season,
    /// It brings an allergen.
    Allergen(Allergen),
    /// It does not suit a diet.
    Diet(Diet),
    /// It, or what it is made from, is not wanted.
    Unwanted,
    /// It is not among what is there.
    NotHad,
    /// It ran out.
    Out,
}

impl Filter {
    /// Why the ingredient is ruled out, if it is.
    pub fn rules_out(&self, ingredient: &Ingredient) -> Option<Ruled> {
        if self.no.contains(&ingredient.id) || ingredient.made_from.iter().any(|i| self.no.contains(i)) {
            return Some(Ruled::Unwanted);
        }
        if self.out.contains(&ingredient.id) {
            return Some(Ruled::Out);
        }
        if self.have.as_ref().is_some_and(|have| !have.contains(&ingredient.id)) {
            return Some(Ruled::NotHad);
        }
        if let Some(allergen) = ingredient.allergens.intersection(&self.without).next() {
            return Some(Ruled::Allergen(*allergen));
        }
        if let Some(diet) = self.suits.difference(&ingredient.diet).next() {
            return Some(Ruled::Diet(*diet));
        }
        if !self.kinds.is_empty() && !self.kinds.contains(&ingredient.kind) {
            return Some(Ruled::Kind);
        }
        if !self.roles.is_empty() && !self.roles.iter().any(|r| ingredient.roles.contains(r)) {
            return Some(Ruled::Role);
        }
        match self.in_season {
            Some(when) if ingredient.presence(when) == Presence::None => Some(Ruled::Season),
            _ => None,
        }
    }

    /// The same, and an allergen that it brings only by what it is made from, however far back: where one is to stay
    /// out, a record that forgets its source's is not trusted.
    pub fn rules_out_in(&self, book: &Book, ingredient: &Ingredient) -> Option<Ruled> {
        self.rules_out(ingredient).or_else(|| self.source_brings(book, ingredient).map(Ruled::Allergen))
    }

    fn source_brings(&self, book: &Book, ingredient: &Ingredient) -> Option<Allergen> {
        if self.without.is_empty() {
            return None;
        }
        let mut seen = BTreeSet::new();
        let mut to_see: Vec<&Ingredient> = book.sources_of(ingredient).collect();
        while let Some(source) = to_see.pop() {
            if let Some(allergen) = source.allergens.intersection(&self.without).next() {
                return Some(*allergen);
            }
            if seen.insert(&source.id) {
                to_see.extend(book.sources_of(source));
            }
        }
        None
    }

    /// Whether the ingredient passes.
    pub fn admits(&self, ingredient: &Ingredient) -> bool {
        self.rules_out(ingredient).is_none()
    }
}

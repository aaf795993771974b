//! Which ingredients a person will have.

use std::collections::BTreeSet;

use crate::book::{Allergen, Diet, Ingredient, Kind, Presence, Role, When};

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
}

impl Filter {
    /// Why the ingredient is ruled out, if it is.
    pub fn rules_out(&self, ingredient: &Ingredient) -> Option<Ruled> {
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

    /// Whether the ingredient passes.
    pub fn admits(&self, ingredient: &Ingredient) -> bool {
        self.rules_out(ingredient).is_none()
    }
}

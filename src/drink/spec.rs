//! A spec: a drink's written formula, of a template's classic or typed by a person.

use std::collections::BTreeSet;

use super::house::{House, melt_of};
use super::typed::UNNAMED;
use crate::book::{Allergen, Book, CautionId, Diet, Family, Ingredient, Method, Role, Template};
use crate::liquid::{HouseIce, Ice, Melt};
use crate::measure::{Amount, Measures, Volume};

/// One ingredient of a spec, its amount and how far a variant may move it.
#[derive(Debug, Clone)]
pub struct Line<'b> {
    /// What it does here.
    pub role: Role,
    /// What it is.
    pub ingredient: &'b Ingredient,
    /// How much, as written.
    pub amount: Amount,
    /// How much, by volume; none for leaves, slices and the like.
    pub volume: Option<Volume>,
    /// Least and most a variant may take; the same for what does not move.
    pub limits: Option<(Volume, Volume)>,
    /// Whether a variant may fill it with something else unasked.
    pub open: bool,
}

/// What is poured of less, ml, is no part of a drink but dashes and spoons.
const LEAST_PART_ML: f64 = 5.0;

/// A drink's written formula.
#[derive(Debug, Clone)]
pub struct Spec<'b> {
    /// Its name.
    pub name: String,
    /// How it is made and drunk, if known.
    pub family: Option<Family>,
    /// What is done to it.
    pub method: Method,
    /// The glass, in the trade's word; may be empty.
    pub glass: String,
    /// What the house has measured of its ice.
    pub ice: HouseIce,
    /// What goes in.
    pub lines: Vec<Line<'b>>,
    /// What goes on top, and in what form.
    pub garnish: Vec<(&'b Ingredient, String)>,
}

impl<'b> Line<'b> {
    /// A line that does not move.
    pub fn fixed(role: Role, ingredient: &'b Ingredient, amount: Amount, measures: &Measures) -> Self {
        let volume = amount.volume(measures);
        Self { role, ingredient, amount, volume, limits: volume.map(|v| (v, v)), open: false }
    }

    /// Whether it goes in after the ice has done its work.
    pub fn is_lengthener(&self) -> bool {
        self.role == Role::Lengthener || self.ingredient.makeup.is_some_and(|m| m.carbonated)
    }

    /// Whether a variant may take more or less of it.
    pub fn moves(&self) -> bool {
        self.limits.is_some_and(|(least, most)| least < most)
    }
}

impl<'b> Spec<'b> {
    /// The classic of a template. A line whose ingredient is not in the book is left out; reading refuses those.
    pub fn of_template(book: &'b Book, template: &Template, house: &House) -> Self {
        let lines = template.slots.iter().filter_map(|slot| {
            let volume = slot.amount.volume(&house.measures);
            let limit =
                |amount: &Option<Amount>| amount.as_ref().and_then(|a| a.volume(&house.measures)).or(volume);
            Some(Line {
                role: slot.role,
                ingredient: book.ingredient(&slot.classic)?,
                amount: slot.amount,
                volume,
                limits: limit(&slot.least).zip(limit(&slot.most)),
                open: slot.open,
            })
        });
        let garnish = template.garnish.iter();
        Self {
            name: template.name.clone(),
            family: Some(template.family),
            method: template.method,
            glass: template.glass.clone(),
            ice: house.ice,
            lines: lines.collect(),
            garnish: garnish.filter_map(|g| Some((book.ingredient(&g.0)?, g.1.clone()))).collect(),
        }
    }

    /// The lines of one amount in a drink that is made of equal parts: written so in a family that is, or three and more
    /// where the family is not known. Lengtheners, dashes and spoons do not count.
    pub fn equal_parts(&self) -> Option<Vec<usize>> {
        let poured = |l: &Line<'_>| l.volume.is_some_and(|v| v.ml() >= LEAST_PART_ML) && !l.is_lengthener();
        let parts: Vec<usize> = (0..self.lines.len()).filter(|at| poured(&self.lines[*at])).collect();
        let least = match self.family {
            Some(Family::EqualParts) => 2,
            Some(_) => return None,
            None => 3,
        };
        let ml = |at: &usize| self.lines[*at].volume.map_or(0.0, |v| v.ml());
        let same = parts.iter().all(|at| (ml(at) - ml(&parts[0])).abs() < 0.5);
        (parts.len() >= least && same).then_some(parts)
    }

    /// The drink as a sentence says it: the Daiquiri, your drink.
    pub fn in_words(&self) -> String {
        if self.name == UNNAMED { self.name.clone() } else { format!("the {}", self.name) }
    }

    /// What melts into it: decided by the method, and for a built drink by whether it is long.
    pub fn melt(&self) -> Melt {
        melt_of(self.method, self.lines.iter().any(Line::is_lengthener))
    }

    /// How it meets the house's ice.
    pub fn over_ice(&self) -> Ice {
        self.ice.of(self.melt())
    }

    /// Everything in it and on it, lines first.
    pub fn ingredients(&self) -> impl Iterator<Item = &'b Ingredient> + '_ {
        self.lines.iter().map(|l| l.ingredient).chain(self.garnish.iter().map(|(i, _)| *i))
    }

    /// The EU groups it brings.
    pub fn allergens(&self) -> BTreeSet<Allergen> {
        self.ingredients().flat_map(|i| i.allergens.iter().copied()).collect()
    }

    /// The diets that everything in it and on it suits.
    pub fn diets(&self) -> BTreeSet<Diet> {
        Diet::ALL.iter().copied().filter(|diet| self.ingredients().all(|i| i.diet.contains(diet))).collect()
    }

    /// The cautions that go with it.
    pub fn cautions(&self) -> BTreeSet<&'b CautionId> {
        self.ingredients().flat_map(|i| i.cautions.iter()).collect()
    }
}

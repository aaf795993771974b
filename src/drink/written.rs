//! A spec by its ingredients' ids: it needs no book to be kept, and two of them can be compared.

use super::spec::{Line, Spec};
use crate::book::{Book, Family, IngredientId, Method, Role};
use crate::liquid::HouseIce;
use crate::measure::{Amount, Volume};

/// A drink's written formula without the records behind it.
#[derive(Debug, Clone, PartialEq)]
pub struct Written {
    /// Its name.
    pub name: String,
    /// How it is made and drunk, if known.
    pub family: Option<Family>,
    /// What is done to it.
    pub method: Method,
    /// The glass, in the trade's word; may be empty.
    pub glass: String,
    /// What goes in.
    pub lines: Vec<WrittenLine>,
    /// What goes on top, and in what form.
    pub garnish: Vec<(IngredientId, String)>,
}

/// A line of it.
#[derive(Debug, Clone, PartialEq)]
pub struct WrittenLine {
    /// What it does here.
    pub role: Role,
    /// What it is.
    pub ingredient: IngredientId,
    /// How much, as written.
    pub amount: Amount,
    /// How much, by volume; none for leaves, slices and the like.
    pub volume: Option<Volume>,
    /// Least and most a variant may take.
    pub limits: Option<(Volume, Volume)>,
    /// Whether a variant may fill it with something else unasked.
    pub open: bool,
}

impl WrittenLine {
    /// A line of a spec.
    pub fn of(line: &Line<'_>) -> Self {
        Self {
            role: line.role,
            ingredient: line.ingredient.id.clone(),
            amount: line.amount,
            volume: line.volume,
            limits: line.limits,
            open: line.open,
        }
    }
}

impl Written {
    /// A spec as it is written.
    pub fn of(spec: &Spec<'_>) -> Self {
        Self {
            name: spec.name.clone(),
            family: spec.family,
            method: spec.method,
            glass: spec.glass.clone(),
            lines: spec.lines.iter().map(WrittenLine::of).collect(),
            garnish: spec.garnish.iter().map(|(i, form)| (i.id.clone(), form.clone())).collect(),
        }
    }

    /// The spec it stands for, over a house's ice. A line whose ingredient is not in the book is left out.
    pub fn spec<'b>(&self, book: &'b Book, ice: HouseIce) -> Spec<'b> {
        let line = |line: &WrittenLine| {
            Some(Line {
                role: line.role,
                ingredient: book.ingredient(&line.ingredient)?,
                amount: line.amount,
                volume: line.volume,
                limits: line.limits,
                open: line.open,
            })
        };
        Spec {
            name: self.name.clone(),
            family: self.family,
            method: self.method,
            glass: self.glass.clone(),
            ice,
            lines: self.lines.iter().filter_map(line).collect(),
            garnish: self
                .garnish
                .iter()
                .filter_map(|(id, form)| Some((book.ingredient(id)?, form.clone())))
                .collect(),
        }
    }
}

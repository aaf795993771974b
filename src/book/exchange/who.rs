//! Whom a name in a table means.

use std::cell::RefCell;
use std::collections::{HashMap, HashSet};

use super::fault::quoted;
use crate::book::fold::fold;
use crate::book::id::{IngredientId, TemplateId};
use crate::book::names::{Lookup, Names, Target, Wanted};
use crate::book::shelf::Book;

/// Names of a book, and of ingredients that come with the same import.
pub(super) struct Who<'b> {
    book: &'b Book,
    names: &'b Names,
    coming: HashSet<IngredientId>,
    /// What the names of those are compared by.
    called: HashMap<String, IngredientId>,
    /// What was looked up already; tables name the same things again and again.
    known: RefCell<HashMap<String, Result<IngredientId, Unknown>>>,
}

/// A name that leads nowhere or to several.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Unknown {
    pub(super) message: String,
    pub(super) hint: Option<String>,
}

impl<'b> Who<'b> {
    pub(super) fn new(book: &'b Book, names: &'b Names) -> Self {
        Self {
            book,
            names,
            coming: HashSet::new(),
            called: HashMap::new(),
            known: RefCell::new(HashMap::new()),
        }
    }

    pub(super) fn book(&self) -> &'b Book {
        self.book
    }

    /// An ingredient that comes with the import may be referred to.
    pub(super) fn comes<'n>(&mut self, id: &IngredientId, names: impl IntoIterator<Item = &'n str>) {
        for name in names {
            self.called.entry(fold(name)).or_insert_with(|| id.clone());
        }
        self.coming.insert(id.clone());
        self.known.borrow_mut().clear();
    }

    /// The ingredient of a name, as a person would type it, or of an id.
    pub(super) fn ingredient(&self, typed: &str) -> Result<IngredientId, Unknown> {
        if let Some(known) = self.known.borrow().get(typed) {
            return known.clone();
        }
        let found = self.look_up(typed);
        self.known.borrow_mut().insert(typed.to_owned(), found.clone());
        found
    }

    fn look_up(&self, typed: &str) -> Result<IngredientId, Unknown> {
        if let Ok(id) = IngredientId::new(typed)
            && (self.coming.contains(&id) || self.book.ingredient(&id).is_some())
        {
            return Ok(id);
        }
        if let Some(id) = self.called.get(&fold(typed)) {
            return Ok(id.clone());
        }
        match self.names.find(typed, Wanted::Ingredient) {
            Lookup::Found(Target::Ingredient(id)) => Ok(id),
            lookup => Err(unknown("ingredient", typed, &lookup)),
        }
    }

    /// The ingredient that has exactly this name, or alias, or id.
    pub(super) fn named_exactly(&self, name: &str) -> Option<IngredientId> {
        let Lookup::Found(Target::Ingredient(id)) = self.names.find(name, Wanted::Ingredient) else {
            return None;
        };
        let ingredient = self.book.ingredient(&id)?;
        is_called(name, ingredient.id.as_str(), &ingredient.name, &ingredient.aliases).then_some(id)
    }

    /// The template or kept drink that has exactly this name, or alias, or id.
    pub(super) fn drink_named_exactly(&self, name: &str) -> Option<TemplateId> {
        let Lookup::Found(Target::Template(id)) = self.names.find(name, Wanted::Template) else {
            return None;
        };
        let template = self.book.template(&id)?;
        is_called(name, template.id.as_str(), &template.name, &template.aliases).then_some(id)
    }

    /// A name that leads back to an ingredient: its own if it does, else its id.
    pub(super) fn name_of<'i>(&'i self, id: &'i IngredientId) -> &'i str {
        match self.book.ingredient(id) {
            Some(i) if self.ingredient(&i.name).as_ref() == Ok(id) => &i.name,
            _ => id.as_str(),
        }
    }
}

fn is_called(name: &str, id: &str, main: &str, aliases: &[String]) -> bool {
    let key = fold(name);
    [id, main].into_iter().chain(aliases.iter().map(String::as_str)).any(|other| fold(other) == key)
}

/// A name that led nowhere, with what may be meant.
pub(super) fn unknown(what: &str, typed: &str, lookup: &Lookup) -> Unknown {
    let shown = quoted(typed);
    match lookup {
        Lookup::Tie(names) => {
            Unknown { message: format!("{shown} could be several things"), hint: Some(one_of(names)) }
        }
        Lookup::Miss(near) if near.is_empty() => Unknown {
            message: format!("there is no {what} {shown} in the book"),
            hint: Some(format!("bring it first, or see 'list {what}s'")),
        },
        Lookup::Miss(near) => Unknown {
            message: format!("there is no {what} {shown} in the book"),
            hint: Some(format!("did you mean {}?", near.join(", "))),
        },
        Lookup::Found(_) => Unknown { message: format!("{shown} is no {what}"), hint: None },
    }
}

fn one_of(names: &[String]) -> String {
    const MOST: usize = 6;
    let shown: Vec<&str> = names.iter().take(MOST).map(String::as_str).collect();
    let more = names.len().saturating_sub(MOST);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("say which: {}{more}", shown.join(", "))
}

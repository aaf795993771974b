//! Rows of a table of ingredients as ingredients.

use std::collections::{BTreeMap, HashMap};

use super::cell::Cells;
use super::fields::{CellFault, Taking};
use super::flat;
use super::item::Item;
use super::rows::{Bringing, Read, text};
use super::slug::slug;
use super::who::Who;
use crate::book::id::IngredientId;
use crate::book::shelf::Book;
use crate::book::word::{Kind, Role};

/// The id that a row says, or that its name has in the book, or that its name makes.
pub(super) fn ingredient_id(cells: &Cells, who: &Who<'_>) -> Option<IngredientId> {
    if let Some(id) = text(cells, "id") {
        return IngredientId::new(id).ok();
    }
    let name = text(cells, "name")?;
    who.named_exactly(name).or_else(|| IngredientId::new(&slug(name)?).ok())
}

/// For each kind the roles that most of its ingredients have.
pub(super) fn usual_roles(book: &Book) -> HashMap<Kind, Vec<Role>> {
    let mut counts: HashMap<Kind, (usize, BTreeMap<Role, usize>)> = HashMap::new();
    for ingredient in book.ingredients() {
        let (all, roles) = counts.entry(ingredient.kind).or_default();
        *all += 1;
        for role in &ingredient.roles {
            *roles.entry(*role).or_default() += 1;
        }
    }
    let most = |(all, roles): (usize, BTreeMap<Role, usize>)| {
        roles.into_iter().filter(|(_, count)| count * 2 > all).map(|(role, _)| role).collect()
    };
    counts.into_iter().map(|(kind, counted)| (kind, most(counted))).collect()
}

impl Bringing<'_> {
    /// The ingredient of a row: what the book has of it, with what the row says.
    pub(super) fn ingredient(&self, read: &Read, cells: &Cells) -> Result<Item, Vec<CellFault>> {
        let Some(id) = ingredient_id(cells, self.who) else {
            let mut row = Taking::new(cells, self.who, read.comma);
            match row.needed("name") {
                Some(_) if row.says("id") => {
                    let id = row.text("id").unwrap_or_default();
                    row.taken("id", IngredientId::new(&id));
                }
                Some(name) => row.fault("name", format!("'{name}' makes no id"), None),
                None => {}
            }
            return Err(row.faults);
        };
        let under = self.who.book().ingredient(&id);
        let whole =
            flat::over(under.map(flat::ingredient_cells).unwrap_or_default(), name_first(cells, under));
        let mut row = Taking::new(&whole, self.who, read.comma);
        let roles = |kind| self.roles.get(&kind).cloned().unwrap_or_default();
        let ingredient = flat::ingredient_of(&mut row, id, roles).ok_or(row.faults)?;
        for (count, column) in self.unsaid.iter().zip(["roles", "loudness"]) {
            count.set(count.get() + usize::from(!whole.contains_key(column)));
        }
        let origins = ["flavour origin", "makeup origin", "season origin", "fruit origin", "keeping origin"];
        let told = origins.iter().any(|column| cells.contains_key(column));
        Ok(Item::Ingredient(Box::new(ingredient), told))
    }
}

/// The name of an ingredient that the book has stays as the book writes it, if the row's is the same name.
fn name_first(cells: &Cells, under: Option<&crate::book::ingredient::Ingredient>) -> Cells {
    let mut cells = cells.clone();
    if let (Some(under), Some(name)) = (under, text(&cells, "name")) {
        let alias = |alias: &String| crate::book::fold::fold(alias) == crate::book::fold::fold(name);
        if !cells.contains_key("id") && (alias(&under.name) || under.aliases.iter().any(alias)) {
            cells.remove("name");
        }
    }
    cells
}

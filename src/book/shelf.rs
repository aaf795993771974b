//! A book whose records have been checked against each other.

use std::collections::BTreeMap;

use super::caution::Caution;
use super::edge::Edge;
use super::house::HouseBook;
use super::id::{CautionId, IngredientId, TemplateId};
use super::ingredient::Ingredient;
use super::prep::Prep;
use super::template::Template;

/// Every record of the packs in use, each list sorted by id.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Book {
    ingredients: Vec<Ingredient>,
    edges: Vec<Edge>,
    templates: Vec<Template>,
    cautions: Vec<Caution>,
    preps: Vec<Prep>,
    house: HouseBook,
}

fn find<'a, T, K: Ord + ?Sized>(sorted: &'a [T], key: impl Fn(&T) -> &K, wanted: &K) -> Option<&'a T> {
    sorted.binary_search_by(|record| key(record).cmp(wanted)).ok().map(|index| &sorted[index])
}

/// Sorted records with others over them, sorted by the same key.
fn laid_over<T: Clone, K: Ord>(under: &[T], over: impl Iterator<Item = T>, key: impl Fn(&T) -> &K) -> Vec<T> {
    let mut all = Vec::with_capacity(under.len());
    let mut under = under.iter().peekable();
    for record in over {
        while let Some(next) = under.next_if(|u| key(u) < key(&record)) {
            all.push(next.clone());
        }
        under.next_if(|u| key(u) == key(&record));
        all.push(record);
    }
    all.extend(under.cloned());
    all
}

impl Book {
    /// Puts records on the shelf and sorts them. The caller has checked them: ids unique, references known.
    pub fn new(
        mut ingredients: Vec<Ingredient>,
        mut edges: Vec<Edge>,
        mut templates: Vec<Template>,
        mut cautions: Vec<Caution>,
    ) -> Self {
        ingredients.sort_unstable_by(|a, b| a.id.cmp(&b.id));
        edges.sort_unstable_by(|a, b| a.pair.cmp(&b.pair));
        templates.sort_unstable_by(|a, b| a.id.cmp(&b.id));
        cautions.sort_unstable_by(|a, b| a.id.cmp(&b.id));
        Self { ingredients, edges, templates, cautions, preps: Vec::new(), house: HouseBook::default() }
    }

    /// The same with preparations.
    #[must_use]
    pub fn with_preps(mut self, mut preps: Vec<Prep>) -> Self {
        preps.sort_unstable_by(|a, b| a.makes.cmp(&b.makes));
        self.preps = preps;
        self
    }

    /// These packs with a house's records over them: one of the same id, or of the same pair, takes the other's place.
    pub(super) fn laid_over(
        &self,
        ingredients: BTreeMap<IngredientId, Ingredient>,
        edges: Vec<Edge>,
        templates: BTreeMap<TemplateId, Template>,
        preps: BTreeMap<IngredientId, Prep>,
        house: HouseBook,
    ) -> Self {
        Self {
            ingredients: laid_over(&self.ingredients, ingredients.into_values(), |i| &i.id),
            edges: laid_over(&self.edges, edges.into_iter(), |e| &e.pair),
            templates: laid_over(&self.templates, templates.into_values(), |t| &t.id),
            cautions: self.cautions.clone(),
            preps: laid_over(&self.preps, preps.into_values(), |p| &p.makes),
            house,
        }
    }

    /// What the house's own book says beside the packs.
    pub fn house(&self) -> &HouseBook {
        &self.house
    }

    /// The bond of two ingredients, if there is one.
    pub fn edge(&self, a: &IngredientId, b: &IngredientId) -> Option<&Edge> {
        let (a, b) = if a < b { (a, b) } else { (b, a) };
        self.edges.binary_search_by(|e| (&e.pair.0, &e.pair.1).cmp(&(a, b))).ok().map(|at| &self.edges[at])
    }

    /// All preparations, by what they make.
    pub fn preps(&self) -> &[Prep] {
        &self.preps
    }

    /// How an ingredient is made, if the book says so.
    pub fn prep_of(&self, makes: &IngredientId) -> Option<&Prep> {
        find(&self.preps, |p| &p.makes, makes)
    }

    /// All ingredients, by id.
    pub fn ingredients(&self) -> &[Ingredient] {
        &self.ingredients
    }

    /// One ingredient.
    pub fn ingredient(&self, id: &IngredientId) -> Option<&Ingredient> {
        find(&self.ingredients, |i| &i.id, id)
    }

    /// What an ingredient is made from.
    pub fn sources_of<'b>(&'b self, ingredient: &'b Ingredient) -> impl Iterator<Item = &'b Ingredient> {
        ingredient.made_from.iter().filter_map(|id| self.ingredient(id))
    }

    /// These, and the juices that are pressed from them.
    pub fn with_juices<'b>(&'b self, all: Vec<&'b Ingredient>) -> Vec<&'b Ingredient> {
        let pressed = all.iter().filter_map(|i| self.ingredient(&i.juice.as_ref()?.gives));
        let more: Vec<&Ingredient> = pressed.filter(|juice| all.iter().all(|i| i.id != juice.id)).collect();
        all.into_iter().chain(more).collect()
    }

    /// These, and all that is made from them, however far back.
    pub fn with_forms<'b>(&'b self, mut all: Vec<&'b Ingredient>) -> Vec<&'b Ingredient> {
        let mut at = 0;
        while let Some(source) = all.get(at) {
            for form in self.forms_of(source) {
                if !all.iter().any(|known| known.id == form.id) {
                    all.push(form);
                }
            }
            at += 1;
        }
        all
    }

    /// What is made from an ingredient, by id.
    pub fn forms_of<'b>(&'b self, ingredient: &'b Ingredient) -> impl Iterator<Item = &'b Ingredient> {
        self.ingredients.iter().filter(|i| i.made_from.contains(&ingredient.id))
    }

    /// All affinities and clashes, by pair.
    pub fn edges(&self) -> &[Edge] {
        &self.edges
    }

    /// All templates, by id.
    pub fn templates(&self) -> &[Template] {
        &self.templates
    }

    /// One template.
    pub fn template(&self, id: &TemplateId) -> Option<&Template> {
        find(&self.templates, |t| &t.id, id)
    }

    /// All cautions, by id.
    pub fn cautions(&self) -> &[Caution] {
        &self.cautions
    }

    /// One caution.
    pub fn caution(&self, id: &CautionId) -> Option<&Caution> {
        find(&self.cautions, |c| &c.id, id)
    }
}

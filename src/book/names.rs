//! Finding a record by what a person typed.

use std::collections::BTreeMap;

use super::fold::fold;
use super::id::{IngredientId, TemplateId};
use super::near::slips_between;
use super::shelf::Book;

/// What a name may lead to.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Target {
    /// An ingredient.
    Ingredient(IngredientId),
    /// A template.
    Template(TemplateId),
}

/// What kinds of record a name may lead to here.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wanted {
    /// Ingredients only.
    Ingredient,
    /// Templates only.
    Template,
    /// Either.
    Any,
}

/// What looking a name up came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Lookup {
    /// One record.
    Found(Target),
    /// Several would do: their names, sorted.
    Tie(Vec<String>),
    /// None; the nearest names, nearest first.
    Miss(Vec<String>),
}

/// How many near names are offered.
const MOST_OFFERED: usize = 4;

/// Every name and alias of a book.
#[derive(Debug, Clone, Default)]
pub struct Names {
    entries: Vec<Entry>,
    /// Positions of entries, by key and then as they came.
    by_key: Vec<usize>,
}

#[derive(Debug, Clone)]
struct Entry {
    key: String,
    shown: String,
    main: bool,
    target: Target,
}

impl Names {
    /// Gathers the names of a book.
    pub fn new(book: &Book) -> Self {
        let mut names = Self::default();
        for ingredient in book.ingredients() {
            let target = Target::Ingredient(ingredient.id.clone());
            names.add(&ingredient.name, &ingredient.aliases, ingredient.id.as_str(), &target);
        }
        for template in book.templates() {
            let target = Target::Template(template.id.clone());
            names.add(&template.name, &template.aliases, template.id.as_str(), &target);
        }
        names.by_key = (0..names.entries.len()).collect();
        names.by_key.sort_by(|a, b| names.entries[*a].key.cmp(&names.entries[*b].key));
        names
    }

    fn add(&mut self, name: &str, aliases: &[String], id: &str, target: &Target) {
        let all = std::iter::once(name).chain(aliases.iter().map(String::as_str)).chain(std::iter::once(id));
        let first = self.entries.len();
        for (index, shown) in all.enumerate() {
            let key = fold(shown);
            if key.is_empty() || self.entries[first..].iter().any(|e| e.key == key) {
                continue;
            }
            self.entries.push(Entry {
                key,
                shown: shown.to_owned(),
                main: index == 0,
                target: target.clone(),
            });
        }
    }

    /// Main names of what is wanted, sorted, for completion.
    pub fn main_names(&self, wanted: Wanted) -> Vec<&str> {
        let mut names: Vec<&str> = self
            .entries
            .iter()
            .filter(|e| e.main && fits(&e.target, wanted))
            .map(|e| e.shown.as_str())
            .collect();
        names.sort_unstable();
        names.dedup();
        names
    }

    /// Names and aliases of what is wanted, sorted, for completion.
    pub fn all_names(&self, wanted: Wanted) -> Vec<&str> {
        let mut names: Vec<&str> =
            self.entries.iter().filter(|e| fits(&e.target, wanted)).map(|e| e.shown.as_str()).collect();
        names.sort_unstable();
        names.dedup();
        names
    }

    /// Looks a name up: the name itself first, then names that hold all its words, then the nearest.
    pub fn find(&self, typed: &str, wanted: Wanted) -> Lookup {
        let key = fold(typed);
        if key.is_empty() {
            return Lookup::Miss(Vec::new());
        }
        let start = self.by_key.partition_point(|e| self.entries[*e].key < key);
        let named = self.by_key[start..].iter().copied().take_while(|e| self.entries[*e].key == key);
        let found = self.targets(named, wanted);
        if !found.is_empty() {
            return one_or_tie(found);
        }
        let words: Vec<&str> = key.split(' ').collect();
        let holding = (0..self.entries.len()).filter(|index| {
            let own: Vec<&str> = self.entries[*index].key.split(' ').collect();
            words.iter().all(|w| own.contains(w))
        });
        let found = self.targets(holding, wanted);
        if !found.is_empty() {
            return one_or_tie(found);
        }
        Lookup::Miss(self.nearest(&key, wanted))
    }

    fn targets(&self, entries: impl Iterator<Item = usize>, wanted: Wanted) -> BTreeMap<Target, String> {
        let mut found = BTreeMap::new();
        for index in entries {
            let target = &self.entries[index].target;
            if fits(target, wanted) {
                found.entry(target.clone()).or_insert_with(|| self.main_name(target));
            }
        }
        found
    }

    fn main_name(&self, target: &Target) -> String {
        self.entries
            .iter()
            .find(|e| e.main && e.target == *target)
            .map(|e| e.shown.clone())
            .unwrap_or_default()
    }

    fn nearest(&self, key: &str, wanted: Wanted) -> Vec<String> {
        let mut near: Vec<(usize, String, bool)> = Vec::new();
        for entry in self.entries.iter().filter(|e| fits(&e.target, wanted)) {
            let whole = slips_between(key, &entry.key);
            let one_word = || entry.key.split(' ').filter_map(|w| slips_between(key, w)).min().map(|d| d + 1);
            let starts = || (key.len() >= 3 && entry.key.starts_with(key)).then_some(1);
            if let Some(distance) = whole.or_else(starts).or_else(one_word) {
                near.push((distance, self.main_name(&entry.target), whole.is_some()));
            }
        }
        // A slip in the whole name is likelier meant than one in a word of a longer name.
        if near.iter().any(|(distance, _, whole)| *whole && *distance <= 2) {
            near.retain(|(_, _, whole)| *whole);
        }
        near.sort();
        let mut names: Vec<String> = Vec::new();
        for (_, name, _) in near {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        names.truncate(MOST_OFFERED);
        names
    }
}

fn fits(target: &Target, wanted: Wanted) -> bool {
    match wanted {
        Wanted::Any => true,
        Wanted::Ingredient => matches!(target, Target::Ingredient(_)),
        Wanted::Template => matches!(target, Target::Template(_)),
    }
}

fn one_or_tie(found: BTreeMap<Target, String>) -> Lookup {
    if found.len() > 1 {
        let mut names: Vec<String> = found.into_values().collect();
        names.sort();
        return Lookup::Tie(names);
    }
    found.into_keys().next().map_or_else(|| Lookup::Miss(Vec::new()), Lookup::Found)
}

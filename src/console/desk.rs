//! What a command works with: the library, the house, what the last answers left, and names found for it.

use super::clock::Clock;
use super::editor::Editor;
use super::failure::Failure;
use super::hand::{Hand, means_this};
use super::library::Library;
use super::session::Pick;
use crate::book::{Ingredient, Lookup, Target, Template, Wanted};
use crate::drink::{House, Spec, read_spec};
use crate::measure::Jigger;
use crate::pairing::Graph;

/// What a command works with.
#[derive(Debug)]
pub(super) struct Desk<'s> {
    pub(super) library: &'s Library,
    pub(super) graph: &'s Graph<'s>,
    pub(super) house: House,
    pub(super) picks: &'s [Pick],
    pub(super) hand: &'s Hand,
    pub(super) at_prompt: bool,
    /// What time it is; without it nothing is kept.
    pub(super) clock: Option<&'s Clock>,
    /// The person's editor, where there is one.
    pub(super) editor: Option<&'s Editor>,
    /// Whether the person said which unit they want.
    pub(super) unit_chosen: bool,
}

impl<'s> Desk<'s> {
    /// The same desk, in millilitres if a line of a typed spec is metric and no unit was chosen.
    pub(super) fn in_unit_of(&self, spec: &Spec<'_>, typed: bool) -> Desk<'s> {
        let mut house = self.house.clone();
        let metric = spec.lines.iter().filter(|l| l.volume.is_some()).any(|l| l.amount.unit().is_metric());
        if typed && metric && !self.unit_chosen {
            house.jigger = Jigger::millilitres();
        }
        Desk { house, ..*self }
    }

    /// What a typed number stands for, if it is one.
    fn picked(&self, typed: &str) -> Result<Option<&'s Pick>, Failure> {
        let Ok(number) = typed.trim().parse::<usize>() else { return Ok(None) };
        if !self.at_prompt {
            return Err(Failure::mistake(format!(
                "'{number}' points at a numbered result, which only the prompt keeps"
            ))
            .hint("start the prompt with: medlar"));
        }
        match number.checked_sub(1).and_then(|n| self.picks.get(n)) {
            Some(pick) => Ok(Some(pick)),
            None if self.picks.is_empty() => {
                Err(Failure::mistake(format!("there is no result {number}: nothing is numbered yet")))
            }
            None => Err(Failure::mistake(format!(
                "there is no result {number}: the last list is numbered 1 to {}",
                self.picks.len()
            ))),
        }
    }

    /// The ingredient that a name or a number stands for.
    pub(super) fn ingredient(&self, typed: &str) -> Result<&'s Ingredient, Failure> {
        match self.target(typed, Wanted::Ingredient)? {
            Named::Ingredient(ingredient) => Ok(ingredient),
            Named::Template(template) => {
                Err(Failure::mistake(format!("{} is a drink, not an ingredient", template.name)))
            }
            Named::Spec(..) if means_this(typed) => {
                Err(Failure::mistake("'this' is the drink in hand, not an ingredient"))
            }
            Named::Spec(..) => Err(Failure::mistake(format!("result {typed} is a drink, not an ingredient"))
                .hint(format!("'balance {typed}' shows its figures"))),
        }
    }

    /// Whatever a name or a number stands for.
    pub(super) fn target(&self, typed: &str, wanted: Wanted) -> Result<Named<'s>, Failure> {
        if means_this(typed) {
            return Ok(Named::Spec(Box::new(self.spec_of(self.work()?.now()))));
        }
        let (name, wanted) = match self.picked(typed)? {
            Some(Pick::Ingredient(id)) => (id.as_str(), Wanted::Ingredient),
            Some(Pick::Template(id)) => (id.as_str(), Wanted::Template),
            Some(Pick::Spec { text, method }) => {
                let spec =
                    read_spec(text, &self.library.book, &self.library.names, Some(*method), &self.house)?;
                return Ok(Named::Spec(Box::new(spec)));
            }
            Some(Pick::Name(name)) => (name.as_str(), wanted),
            None => (typed, wanted),
        };
        let lookup = self.library.names.find(name, wanted);
        let named = match &lookup {
            Lookup::Found(Target::Ingredient(id)) => self.library.book.ingredient(id).map(Named::Ingredient),
            Lookup::Found(Target::Template(id)) => self.library.book.template(id).map(Named::Template),
            _ => None,
        };
        named.ok_or_else(|| self.other_wanted(typed, wanted, &lookup))
    }

    /// A miss, with a word on it if the name is known as something else.
    fn other_wanted(&self, typed: &str, wanted: Wanted, lookup: &Lookup) -> Failure {
        if matches!(lookup, Lookup::Miss(_))
            && let Lookup::Found(target) = self.library.names.find(typed, Wanted::Any)
        {
            return match target {
                Target::Template(_) => Failure::mistake(format!("{typed} is a drink, not an ingredient"))
                    .hint(format!("'show {typed}' shows what is in it")),
                Target::Ingredient(_) => Failure::mistake(format!("{typed} is an ingredient, not a drink"))
                    .hint("'list templates' shows the drinks"),
            };
        }
        Failure::of_name(typed, wanted, lookup)
    }

    /// The ingredients of a comma-separated list, each once.
    pub(super) fn ingredients(&self, typed: &str) -> Result<Vec<&'s Ingredient>, Failure> {
        let mut found: Vec<&'s Ingredient> = Vec::new();
        for name in names_in(typed) {
            let ingredient = self.ingredient(name)?;
            if !found.iter().any(|f| f.id == ingredient.id) {
                found.push(ingredient);
            }
        }
        Ok(found)
    }
}

/// The names of a comma-separated list.
pub(super) fn names_in(typed: &str) -> impl Iterator<Item = &str> {
    typed.split(',').map(str::trim).filter(|n| !n.is_empty())
}

/// What a name stands for.
#[derive(Debug)]
pub(super) enum Named<'s> {
    Ingredient(&'s Ingredient),
    Template(&'s Template),
    Spec(Box<Spec<'s>>),
}

//! The drink in hand: what the prompt is working on, and the drinks that the last answer suggested.

use super::desk::Desk;
use super::failure::Failure;
use super::library::Library;
use crate::book::{IngredientId, Lookup, Target, Wanted};
use crate::drink::{CannotStep, Spec, UNNAMED, Work, Written};
use crate::measure::Jigger;

/// The word that stands for the drink in hand wherever a drink is asked for.
pub(super) const THIS: &str = "this";
/// Longest name that the prompt shows, in letters.
const LONGEST_SHOWN: usize = 24;
/// The prompt with nothing in hand.
const PROMPT: &str = "medlar> ";

/// Whether a text stands for the drink in hand.
pub(super) fn means_this(text: &str) -> bool {
    text.trim().eq_ignore_ascii_case(THIS)
}

/// Drinks that an answer numbered, to be taken over with `take`.
#[derive(Debug, Clone)]
pub(super) struct Suggestions {
    /// The command that gave them.
    pub(super) command: &'static str,
    /// The drink they were made from.
    pub(super) base: Written,
    /// Whether that was the drink in hand.
    pub(super) of_this: bool,
    /// The drinks, in the order of their numbers.
    pub(super) drinks: Vec<Written>,
}

/// What the prompt keeps from line to line, beside the numbers.
#[derive(Debug, Default)]
pub(super) struct Hand {
    work: Option<Work>,
    last: Option<Suggestions>,
}

impl Hand {
    /// The drink in hand.
    pub(super) fn work(&self) -> Option<&Work> {
        self.work.as_ref()
    }

    /// The drinks that may be taken.
    pub(super) fn last(&self) -> Option<&Suggestions> {
        self.last.as_ref()
    }

    /// Keeps the work of an answer.
    pub(super) fn keep(&mut self, work: Option<Work>) {
        let Some(work) = work else { return };
        let is_other = self.work.as_ref().is_none_or(|old| old.origin() != work.origin());
        if let Some(last) = self.last.as_mut().filter(|_| is_other) {
            last.of_this = false;
        }
        self.work = Some(work);
    }

    /// Keeps the drinks of an answer that numbered something; none if that was no drinks.
    pub(super) fn suggest(&mut self, last: Option<Suggestions>) {
        self.last = last;
    }

    /// The prompt's text: the name of the drink in hand.
    pub(super) fn prompt(&self) -> String {
        let Some(work) = &self.work else { return PROMPT.to_owned() };
        let name = crate::report::clean(&work.now().name).to_lowercase();
        if name.chars().count() <= LONGEST_SHOWN {
            return format!("{name}> ");
        }
        format!("{}…> ", name.chars().take(LONGEST_SHOWN - 1).collect::<String>().trim_end())
    }
}

/// The line that `work` reads a drink back from, if there is anything in it that is not in the book.
pub(super) fn line_to_keep(library: &Library, work: &Work) -> Option<String> {
    let (now, origin) = (work.now(), work.origin());
    let is_typed = origin.family.is_none();
    (is_typed || now != origin).then(|| work_line(library, now, (!is_typed).then_some(origin)))
}

/// A line that was kept, for one who leaves.
pub(super) fn to_go_on(line: &str) -> String {
    format!("to go on with it another time:\n{line}\n")
}

/// `work "2 oz gin, 1 oz lime juice" --method shaken --name "Weir Sour" --from "Gimlet"`.
fn work_line(library: &Library, drink: &Written, origin: Option<&Written>) -> String {
    let lines: Vec<String> = drink
        .lines
        .iter()
        .map(|line| {
            let id = &line.ingredient;
            let name = library.book.ingredient(id).map(|i| i.name.as_str()).filter(|name| {
                matches!(library.names.find(name, Wanted::Ingredient), Lookup::Found(Target::Ingredient(found)) if found == *id)
            });
            format!("{} {}", line.amount, name.unwrap_or(id.as_str()))
        })
        .collect();
    let method = drink.method.name().replace(' ', "-");
    let has_it = origin.map_or(UNNAMED, |o| o.name.as_str()) == drink.name;
    let name = if has_it { String::new() } else { format!(" --name \"{}\"", drink.name) };
    let from = origin.map_or(String::new(), |o| format!(" --from \"{}\"", o.name));
    let lent = origin.map_or(&[][..], |o| &o.garnish);
    let garnish = if drink.garnish == lent { String::new() } else { garnish_option(library, drink) };
    format!("work \"{}\" --method {method}{name}{from}{garnish}", lines.join(", "))
}

fn garnish_option(library: &Library, drink: &Written) -> String {
    let one = |(id, form): &(IngredientId, String)| {
        let name = library.book.ingredient(id).map_or(id.as_str(), |i| i.name.as_str());
        format!("{name} {form}").trim().to_owned()
    };
    let all: Vec<String> = drink.garnish.iter().map(one).collect();
    let words = if all.is_empty() { "none".to_owned() } else { all.join(", ") };
    format!(" --garnish \"{words}\"")
}

impl<'s> Desk<'s> {
    /// The drink in hand.
    pub(super) fn work(&self) -> Result<&'s Work, Failure> {
        self.hand.work().ok_or_else(|| {
            if self.at_prompt {
                Failure::mistake("there is no drink in hand").hint("take one up first: work margarita")
            } else {
                Failure::mistake("there is no drink in hand: only the prompt keeps one")
                    .hint("start the prompt with: medlar, then: work margarita")
            }
        })
    }

    /// The spec of a drink that was kept.
    pub(super) fn spec_of(&self, written: &Written) -> Spec<'s> {
        written.spec(&self.library.book, self.house.ice)
    }

    /// The same desk in the unit that the drink in hand came in, if no unit was chosen.
    pub(super) fn in_unit_of_hand(&self, work: &Work) -> Desk<'s> {
        let mut house = self.house.clone();
        if comes_metric(work) && !self.unit_chosen {
            house.jigger = Jigger::millilitres();
        }
        Desk { house, ..*self }
    }
}

/// Whether more than half of the poured lines of a drink as it came are in metric units.
pub(super) fn comes_metric(work: &Work) -> bool {
    let poured = || work.origin().lines.iter().filter(|l| l.volume.is_some());
    2 * poured().filter(|l| l.amount.unit().is_metric()).count() > poured().count()
}

impl From<CannotStep> for Failure {
    fn from(error: CannotStep) -> Self {
        let failure = Self::mistake(error.to_string());
        match error {
            CannotStep::AlreadyIn { name } => {
                failure.hint(format!("'amount {name} 1 oz' gives it another amount"))
            }
            CannotStep::OnlyLine => {
                failure.hint("put something else in its place, or take up another drink with work")
            }
            CannotStep::NoName { .. } => failure.hint("for example: name Weir Sour"),
            CannotStep::NoLine { .. }
            | CannotStep::NoChange { .. }
            | CannotStep::NothingToUndo
            | CannotStep::NothingToRedo => failure,
        }
    }
}

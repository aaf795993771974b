//! One command, one file.

pub(super) mod accord;
pub(super) mod ahead;
pub(super) mod alias;
mod back;
pub(super) mod balance;
pub(super) mod bench;
pub(super) mod book;
pub(super) mod bridge;
pub(super) mod check;
pub(super) mod edit;
pub(super) mod explain;
pub(super) mod export;
mod facts;
pub(super) mod goes;
pub(super) mod help;
pub(super) mod history;
pub(super) mod import;
pub(super) mod list;
pub(super) mod measure;
pub(super) mod new;
pub(super) mod pairs;
pub(super) mod price;
pub(super) mod quit;
mod record;
pub(super) mod remove;
pub(super) mod rename;
pub(super) mod riff;
pub(super) mod save;
pub(super) mod season;
pub(super) mod show;
pub(super) mod stock;
pub(super) mod swap;
pub(super) mod taste;
pub(super) mod tune;
pub(super) mod work;

use std::collections::BTreeSet;

use crate::book::{Allergen, Diet, Ingredient, IngredientId, Kind, Role};
use crate::console::desk::{Desk, names_in};
use crate::console::failure::Failure;
use crate::console::hand::THIS;
use crate::pairing::Filter;
use crate::report::View;

/// What an ingredient must be: options that several commands share.
#[derive(Debug, Clone, Default, clap::Args)]
pub(super) struct Narrow {
    /// Only this kind; see 'list kinds'. May be given several times
    #[arg(long, value_name = "KIND", value_parser = kind)]
    kind: Vec<Kind>,
    /// Only what can play this role: base, modifier, sour, sweet, bitter, lengthener, texture, accent, garnish
    #[arg(long, value_name = "ROLE", value_parser = role)]
    role: Vec<Role>,
    #[command(flatten)]
    limits: Limits,
}

/// What must not be: options that several commands share.
#[derive(Debug, Clone, Default, clap::Args)]
pub(super) struct Limits {
    /// Only what is to be had this month, or in --month
    #[arg(long)]
    in_season: bool,
    /// Nothing that brings this allergen (one of the EU's 14). May be given several times
    #[arg(long, value_name = "ALLERGEN", value_parser = allergen)]
    without: Vec<Allergen>,
    /// Only what suits this diet: vegan, vegetarian, gluten-free, no-alcohol. May be given several times
    #[arg(long, value_name = "DIET", value_parser = diet)]
    suits: Vec<Diet>,
}

fn word<W: std::str::FromStr<Err = crate::book::UnknownWord>>(text: &str) -> Result<W, String> {
    text.parse().map_err(|error: crate::book::UnknownWord| {
        let near = crate::book::nearest_word(&error.found.to_lowercase(), error.allowed.iter().copied());
        let near = near.map_or(String::new(), |n| format!(" (did you mean {n}?)"));
        format!("it is not {}{near}; allowed are {}", error.what, error.allowed.join(", "))
    })
}

fn kind(text: &str) -> Result<Kind, String> {
    word(text)
}

fn role(text: &str) -> Result<Role, String> {
    word(text)
}

fn allergen(text: &str) -> Result<Allergen, String> {
    word(text)
}

fn diet(text: &str) -> Result<Diet, String> {
    word(text)
}

impl Narrow {
    fn filter(&self, desk: &Desk<'_>) -> Filter {
        Filter { kinds: self.kind.clone(), roles: self.role.clone(), ..self.limits.filter(desk) }
    }
}

impl Limits {
    fn filter(&self, desk: &Desk<'_>) -> Filter {
        Filter {
            in_season: self.in_season.then_some(desk.house.when),
            without: self.without.iter().copied().collect(),
            suits: self.suits.iter().copied().collect(),
            ..Filter::default()
        }
    }
}

/// What ran out on the house's back bar, but for what is asked for by name.
fn ran_out(desk: &Desk<'_>, named: &[&Ingredient]) -> BTreeSet<IngredientId> {
    let out = desk.library.book.house().out();
    out.filter(|id| named.iter().all(|i| i.id != **id)).cloned().collect()
}

/// The view that the desk's settings describe.
fn view(desk: &Desk<'_>) -> View {
    View { unit: desk.house.jigger.unit(), when: desk.house.when }
}

/// Words as one text: `sweet` `vermouth` is `sweet vermouth`.
fn joined(words: &[String]) -> String {
    words.join(" ")
}

/// The words that name a drink; where there are none, the drink in hand.
fn drink_named(words: &[String], desk: &Desk<'_>, what: &str) -> Result<String, Failure> {
    if !words.is_empty() {
        return Ok(joined(words));
    }
    if desk.hand.work().is_some() {
        return Ok(THIS.to_owned());
    }
    Err(Failure::usage(format!("something is missing: {what}"))
        .hint("'help' lists the commands, 'help COMMAND' shows one with examples"))
}

/// The two names of a command that takes two.
fn two_names(words: &[String], command: &str) -> Result<(String, String), Failure> {
    let text = joined(words);
    let names: Vec<&str> = names_in(&text).collect();
    match names.as_slice() {
        [a, b] => Ok(((*a).to_owned(), (*b).to_owned())),
        [one] => match one.split_once(" to ") {
            Some((a, b)) => Ok((a.trim().to_owned(), b.trim().to_owned())),
            None => Err(Failure::usage(format!(
                "{command} takes two ingredients with a comma between, this is one: '{one}'"
            ))
            .hint(format!("for example: {command} oyster, peach"))),
        },
        names => Err(Failure::usage(format!(
            "{command} takes two ingredients with a comma between, these are {}",
            names.len()
        ))
        .hint(format!("for example: {command} oyster, peach"))),
    }
}

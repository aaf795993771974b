//! `swap`: stand-ins for an ingredient, alone or in a drink.

use std::collections::BTreeSet;

use super::balance::spec_named;
use super::explain::not_so_many;
use super::{Narrow, joined, view};
use crate::book::{IngredientId, Method, fold};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::hand::{Suggestions, THIS, means_this};
use crate::console::session::{Answer, Pick};
use crate::drink::{Aim, Spec, Written};
use crate::pairing::{Filter, Mixture, proportions};
use crate::report::{self, Standing};
use crate::riff::{SwapIn, equivalents, explained, one_measure, swap_in};

/// What can stand in for an ingredient; in a drink, with the amounts solved again.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  swap orgeat --without nuts\n  swap gin --in negroni")]
pub struct Args {
    /// The ingredient to replace
    #[arg(required = true, value_name = "NAME")]
    name: Vec<String>,
    /// The drink: a template's name, a result's number, or lines with commas between; without one, the drink in
    /// hand
    #[arg(long = "in", value_name = "DRINK", num_args = 0..=1, default_missing_value = THIS)]
    drink: Option<String>,
    #[command(flatten)]
    narrow: Narrow,
    /// Leave this out, and what is made from it. Several with commas between
    #[arg(long, value_name = "NAME")]
    no: Vec<String>,
    /// Only from what is there. Several with commas between
    #[arg(long, value_name = "NAME")]
    have: Vec<String>,
    /// How many stand-ins are listed
    #[arg(long, value_name = "N", default_value_t = 6, value_parser = clap::value_parser!(u8).range(1..=100))]
    limit: u8,
    /// Show how the suggestion of this number came about, in figures
    #[arg(long, value_name = "N", value_parser = super::explain::number)]
    pub(in crate::console) explain: Option<u16>,
}

impl Args {
    fn filter(&self, desk: &Desk<'_>) -> Result<Filter, Failure> {
        let book = &desk.library.book;
        let ids = |option: &str, names: &[String]| -> Result<BTreeSet<IngredientId>, Failure> {
            let found = desk.ingredients(&names.join(", "))?;
            // Who has lemons has their juice; who wants none wants nothing made from them.
            let found = if option == "--have" { book.with_juices(found) } else { book.with_forms(found) };
            let found: BTreeSet<IngredientId> = found.into_iter().map(|i| i.id.clone()).collect();
            if found.is_empty() && !names.is_empty() {
                let failure = Failure::usage(format!("{option} names no ingredient"));
                return Err(failure.hint(format!("for example: {option} \"vodka, orange juice\"")));
            }
            Ok(found)
        };
        let have = if self.have.is_empty() { None } else { Some(ids("--have", &self.have)?) };
        Ok(Filter {
            no: ids("--no", &self.no)?,
            have,
            out: super::ran_out(desk, &[]),
            ..self.narrow.filter(desk)
        })
    }
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let typed = joined(&args.name);
    let filter = args.filter(desk)?;
    let most = usize::from(args.limit);
    let Some(drink) = &args.drink else {
        let of = desk.ingredient(&typed).map_err(|failure| as_put(failure, &typed))?;
        let found = desk.graph.stand_ins(&of.id, &[], &filter, most);
        let found = found.ok_or_else(|| Failure::mistake(format!("{} is not in the graph", of.name)))?;
        let closest = found.found.first().map(|s| s.likeness.score());
        let mut mixtures = desk.graph.mixtures(&of.id, &[], &filter, &proportions(), MIXTURES);
        mixtures.retain(|m| m.is_worth_it(closest));
        if let Some(number) = args.explain {
            let place = usize::from(number) - 1;
            let one = found.found.get(place).map(Standing::One);
            let mixed = place.checked_sub(found.found.len()).and_then(|p| mixtures.get(p));
            let standing = one.or(mixed.map(Standing::Two));
            let there = found.found.len() + mixtures.len();
            let standing = standing.ok_or_else(|| not_so_many(number, there))?;
            return Ok(Answer::new(report::stand_in_explained(of, place + 1, &standing)));
        }
        let singles = found.found.iter().map(|s| Pick::Ingredient(s.ingredient.id.clone()));
        let picks = singles.chain(mixtures.iter().map(|m| mixed_pick(desk, m))).collect();
        let book = &desk.library.book;
        let worth = equivalents(book, &found, &filter, &desk.house);
        let report = report::stand_ins(book, &found, &mixtures, worth.as_ref(), view(desk));
        return Ok(Answer::picking(report, picks));
    };
    let (given, by_line) = spec_named(desk, drink, None)?;
    let desk = &desk.in_unit_of(&given, by_line);
    let line = line_named(desk, &given, &typed).map_err(|failure| as_put(failure, &typed))?;
    let spec = desk.house.in_pours(&given);
    let found =
        swap_in(desk.graph, &SwapIn { spec, line, filter, count: most, mixtures: MIXTURES }, &desk.house)?;
    if let Some(number) = args.explain {
        let place = usize::from(number) - 1;
        let riff = found.riffs().nth(place).ok_or_else(|| not_so_many(number, found.riffs().count()))?;
        let drink = explained(riff, &Aim::of(&found.figures), desk.house.when)?;
        let (book, of) = (&desk.library.book, found.stand_ins.of);
        let mixed = place.checked_sub(found.drinks.len()).and_then(|p| found.mixtures.get(p));
        let standing = match (found.drinks.get(place), mixed) {
            (Some(drink), _) => Standing::One(&drink.stand_in),
            (None, Some(drink)) => Standing::Two(&drink.mixture),
            (None, None) => return Err(not_so_many(number, found.riffs().count())),
        };
        return Ok(Answer::new(report::swap_explained(book, of, place + 1, &standing, &drink, view(desk))));
    }
    let picks = found.riffs().map(|riff| super::riff::pick_of(&riff.spec)).collect();
    let suggested = Suggestions {
        command: "swap",
        base: Written::of(&given),
        of_this: means_this(drink),
        drinks: found.riffs().map(|riff| Written::of(&riff.spec)).collect(),
    };
    let report = report::swapped_in(&desk.library.book, &found, view(desk));
    Ok(Answer { last: Some(suggested), ..Answer::picking(report, picks) })
}

/// The most mixtures of two that are listed.
const MIXTURES: usize = 2;

/// A measure of a mixture, so that a later command can ask what it comes to.
fn mixed_pick(desk: &Desk<'_>, mixture: &Mixture<'_>) -> Pick {
    let lines = mixture.parts.iter().zip(one_measure(mixture, desk.house.jigger.unit())).map(
        |((part, _), volume)| match desk.house.amount(volume) {
            Some(amount) => format!("{amount} {}", part.id),
            None => format!("1 part {}", part.id),
        },
    );
    Pick::Spec { text: lines.collect::<Vec<_>>().join(", "), method: Method::NoIce }
}

/// A hint for one who says `swap gin for mezcal` and means the drink in hand.
fn as_put(failure: Failure, typed: &str) -> Failure {
    match typed.split_once(" for ").or_else(|| typed.split_once('=')) {
        Some((old, new)) => failure.hint(format!(
            "'put {} for {}' does that to the drink in hand; swap looks for stand-ins",
            new.trim(),
            old.trim()
        )),
        None if typed.contains(',') => failure.hint("swap looks for stand-ins of one ingredient at a time"),
        None => failure,
    }
}

/// The line of a drink that a name means: the ingredient itself, or the one line whose name has its words, or that
/// is of its kind and role: `gin` is the old tom gin where there is one.
pub(super) fn line_named(desk: &Desk<'_>, spec: &Spec<'_>, typed: &str) -> Result<usize, Failure> {
    let key = fold(typed);
    let has_words = |name: &str| {
        let own = fold(name);
        let own: Vec<&str> = own.split(' ').collect();
        !key.is_empty() && key.split(' ').all(|w| own.contains(&w))
    };
    let named = desk.ingredient(typed);
    let exact = |id: &IngredientId| spec.lines.iter().position(|l| l.ingredient.id == *id);
    if let Some(line) = named.as_ref().ok().and_then(|i| exact(&i.id)) {
        return Ok(line);
    }
    let by_words: Vec<usize> = spec
        .lines
        .iter()
        .enumerate()
        .filter(|(_, l)| has_words(&l.ingredient.name) || l.ingredient.aliases.iter().any(|a| has_words(a)))
        .map(|(index, _)| index)
        .collect();
    match by_words.as_slice() {
        [line] => return Ok(*line),
        [] => {}
        several => {
            let names: Vec<String> = several.iter().map(|l| spec.lines[*l].ingredient.name.clone()).collect();
            let failure = Failure::mistake(format!("'{typed}' could be several lines of {}", spec.name));
            return Err(Failure { offers: names, ..failure }.hint("say which"));
        }
    }
    let ingredient = named?;
    let held: Vec<&str> = spec.lines.iter().map(|l| l.ingredient.name.as_str()).collect();
    Err(Failure::mistake(format!("there is no {} in {}", ingredient.name, spec.name))
        .hint(format!("it holds {}", held.join(", "))))
}

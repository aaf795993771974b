//! `work`: take a drink up, to work on it step by step; the steps are in files of their own.

pub(in crate::console) mod add;
pub(in crate::console) mod amount;
pub(in crate::console) mod compare;
pub(in crate::console) mod drink;
pub(in crate::console) mod drop;
pub(in crate::console) mod method;
pub(in crate::console) mod name;
pub(in crate::console) mod put;
pub(in crate::console) mod redo;
pub(in crate::console) mod steps;
pub(in crate::console) mod take;
pub(in crate::console) mod undo;

use super::balance::spec_named;
use super::{joined, view};
use crate::book::{Ingredient, Lookup, Method, Target, Wanted};
use crate::console::desk::{Desk, Named, names_in};
use crate::console::failure::Failure;
use crate::console::hand::{line_to_keep, means_this};
use crate::console::session::Answer;
use crate::drink::{CannotStep, Spec, Work, Written, figures};
use crate::report::{self, InHand};
use crate::riff::{clashes, side_by_side};

/// Takes a drink up, to work on it step by step: put, amount, add, drop, method and name change it, undo and redo go
/// back and forth. 'this' stands for it wherever a drink is asked for.
#[derive(Debug, Clone, clap::Args)]
#[command(
    after_help = "Examples:\n  work margarita\n  work 2 oz london dry gin, 3/4 oz lemon juice, 3/4 oz simple syrup --method shaken"
)]
pub struct Args {
    /// A template's name, the number of a result, or lines with commas between; the drink in hand if not given
    #[arg(value_name = "SPEC")]
    spec: Vec<String>,
    /// stirred, shaken, built, blended or no ice; supposed from the lines if not given
    #[arg(long, value_name = "METHOD", value_parser = super::balance::method)]
    method: Option<Method>,
    /// What to call it
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
    /// The classic that the lines come from: it lends glass and garnish, and 'compare' sets them beside it
    #[arg(long, value_name = "CLASSIC")]
    from: Option<String>,
    /// What goes on top, with commas between, or none; the classic's own if not given
    #[arg(long, value_name = "GARNISH")]
    garnish: Option<String>,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = super::drink_named(&args.spec, desk, "SPEC")?;
    let again = means_this(&text);
    let mut notes = Vec::new();
    let mut work = if again { desk.work()?.clone() } else { taken_up(args, &text, desk, &mut notes)? };
    if let Some(method) = args.method.filter(|m| *m != work.now().method) {
        work = work.method(method)?;
    }
    if let Some(name) = args.name.as_ref().filter(|n| **n != work.now().name) {
        work = work.name(name)?;
    }
    let left = if again { None } else { former(desk) };
    if !desk.at_prompt {
        notes.push(
            "put, amount, add, drop and the other steps are for the prompt; start it with: medlar".to_owned(),
        );
    }
    Ok(leaving(shown("work", work, notes, desk)?, left))
}

/// A drink as it is taken up, and a remark on what was supposed of it.
fn taken_up(args: &Args, text: &str, desk: &Desk<'_>, notes: &mut Vec<String>) -> Result<Work, Failure> {
    let (mut spec, typed) = spec_named(desk, text, args.method)?;
    if let Some(from) = &args.from {
        let Named::Template(template) = desk.target(from, Wanted::Template)? else {
            return Err(Failure::mistake(format!("{from} is no classic of the book"))
                .hint("'list templates' shows the drinks"));
        };
        let classic = Spec::of_template(&desk.library.book, template, &desk.house);
        lend(&classic, &mut spec);
        if let Some(text) = &args.garnish {
            spec.garnish = garnish(desk, text)?;
        }
        let work = Work::on(Written::of(&classic));
        return Ok(work.take(Written::of(&spec), "typed lines").unwrap_or(work));
    }
    if typed && args.method.is_none() {
        notes.push(format!("{} is supposed from what is in it; 'method' says it otherwise", spec.method));
    }
    // What was typed with the drink is how it comes, not a step.
    if let Some(text) = &args.garnish {
        spec.garnish = garnish(desk, text)?;
    }
    spec.method = args.method.unwrap_or(spec.method);
    let origin = Work::on(Written::of(&spec));
    Ok(match args.name.as_ref().filter(|_| typed) {
        Some(name) if *name != spec.name => Work::on(origin.name(name)?.now().clone()),
        _ => origin,
    })
}

/// Garnishes as they are written: a name and what form it comes in, `lime wheel`.
fn garnish<'s>(desk: &Desk<'s>, text: &str) -> Result<Vec<(&'s Ingredient, String)>, Failure> {
    if text.trim().eq_ignore_ascii_case("none") {
        return Ok(Vec::new());
    }
    let one = |item: &str| {
        let words: Vec<&str> = item.split_whitespace().collect();
        let named = (1..=words.len()).rev().find_map(|end| {
            let (name, form) = words.split_at_checked(end)?;
            match desk.library.names.find(&name.join(" "), Wanted::Ingredient) {
                Lookup::Found(Target::Ingredient(id)) => {
                    Some((desk.library.book.ingredient(&id)?, form.join(" ")))
                }
                _ => None,
            }
        });
        // What is no name with any form is told as a name.
        named.map_or_else(|| Ok((desk.ingredient(item)?, String::new())), Ok)
    };
    names_in(text).map(one).collect()
}

/// Gives a typed drink what a classic says beyond its lines, and to lines of the same ingredient its slot's limits.
fn lend<'b>(classic: &Spec<'b>, spec: &mut Spec<'b>) {
    spec.family = classic.family;
    spec.glass.clone_from(&classic.glass);
    spec.garnish.clone_from(&classic.garnish);
    for line in &mut spec.lines {
        let Some(slot) = classic.lines.iter().find(|l| l.ingredient.id == line.ingredient.id) else {
            continue;
        };
        line.role = slot.role;
        line.open = slot.open;
        line.limits = match (slot.limits.filter(|_| slot.moves()), line.volume) {
            (Some((least, most)), Some(volume)) => Some((least.min(volume), most.max(volume))),
            _ => line.volume.map(|v| (v, v)),
        };
    }
}

/// The line that takes up again the drink that another takes the place of.
fn former(desk: &Desk<'_>) -> Option<String> {
    line_to_keep(desk.library, desk.hand.work()?)
}

/// An answer that also says how to come back to the former drink, so that nothing typed is lost.
fn leaving(mut answer: Answer, former: Option<String>) -> Answer {
    answer.report.data["former"] = serde_json::json!(former);
    let words = |line| format!("\nthe drink before this one comes back with:\n{line}\n");
    Answer { left: former.map(words), ..answer }
}

/// The answer that shows a drink in hand as it is.
fn shown(command: &'static str, work: Work, notes: Vec<String>, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let desk = desk.in_unit_of_hand(&work);
    let spec = desk.spec_of(work.now());
    let clashes = clashes(desk.graph, &spec);
    let hand = InHand { command, figures: figures(&spec)?, work: &work, spec, notes };
    let report = report::in_hand(&desk.library.book, &hand, &clashes, view(&desk));
    Ok(Answer { work: Some(work), ..Answer::new(report) })
}

/// The answer to a step: from one drink to another, with what that was.
fn stepped(
    command: &'static str,
    before: &Written,
    work: Work,
    what: &str,
    desk: &Desk<'_>,
) -> Result<Answer, Failure> {
    let desk = desk.in_unit_of_hand(&work);
    let spec = desk.spec_of(work.now());
    let beside = side_by_side(desk.graph, &desk.spec_of(before), &spec)?;
    let hand = InHand { command, figures: beside.figures.1, work: &work, spec, notes: Vec::new() };
    let report = report::stepped(&desk.library.book, &hand, what, &beside, view(&desk));
    Ok(Answer { work: Some(work), ..Answer::new(report) })
}

/// The answer to the step that was last taken.
fn last_step(
    command: &'static str,
    before: &Written,
    work: Work,
    desk: &Desk<'_>,
) -> Result<Answer, Failure> {
    let what = step_words(&work, work.done().len(), desk);
    stepped(command, before, work, &what, desk)
}

/// A step in words by its number: 0 is how the drink came.
fn step_words(work: &Work, number: usize, desk: &Desk<'_>) -> String {
    let all: Vec<_> = work.done().iter().chain(work.undone()).collect();
    match number.checked_sub(1).and_then(|n| all.get(n)) {
        Some(done) => report::step_words(&desk.library.book, &done.step),
        None => format!("{} as it came", work.origin().name),
    }
}

/// How many steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum HowMany {
    /// A number of them.
    So(usize),
    /// Every one there is.
    All,
}

fn how_many(text: &str) -> Result<HowMany, String> {
    match text.trim() {
        word if word.eq_ignore_ascii_case("all") => Ok(HowMany::All),
        number => match number.parse() {
            Ok(number) if number > 0 => Ok(HowMany::So(number)),
            _ => Err("allowed is a number of steps from 1 on, or all".to_owned()),
        },
    }
}

/// The steps that are asked for, if any are.
fn steps_of(text: &str) -> Result<Option<HowMany>, Failure> {
    if text.is_empty() {
        return Ok(None);
    }
    how_many(text).map(Some).map_err(|why| {
        Failure::usage(format!("'{text}': {why}"))
            .hint("a drink is in hand, so its steps are meant; --house means the house book's changes")
    })
}

/// So many of the steps that are there, back or on; none of them if there are fewer.
fn several(
    work: &Work,
    asked: Option<HowMany>,
    there: usize,
    one: fn(&Work) -> Result<Work, CannotStep>,
) -> Result<Work, Failure> {
    let steps = match asked.unwrap_or(HowMany::So(1)) {
        HowMany::So(steps) => steps,
        HowMany::All => there.max(1),
    };
    if there > 0 && steps > there {
        return Err(Failure::mistake(format!("{steps} steps are more than the {there} that can be taken")));
    }
    let mut moved = work.clone();
    for _ in 0..steps.min(there.max(1)) {
        moved = one(&moved)?;
    }
    Ok(moved)
}

/// The line of the drink in hand that a name means.
fn line_of_hand(desk: &Desk<'_>, work: &Work, typed: &str) -> Result<usize, Failure> {
    super::swap::line_named(desk, &desk.spec_of(work.now()), typed)
}

/// Words, or what is missing with an example.
fn words_or(words: &[String], missing: &str, example: &str) -> Result<String, Failure> {
    let text = joined(words);
    if text.trim().is_empty() {
        return Err(Failure::usage(format!("something is missing: {missing}"))
            .hint(format!("for example: {example}")));
    }
    Ok(text)
}

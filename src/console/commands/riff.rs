//! `riff`: variants of a classic, kept in balance.

mod turns;

use super::balance::spec_named;
use super::explain::not_so_many;
use super::swap::line_named;
use super::{Limits, drink_named, view};
use crate::book::Ingredient;
use crate::console::desk::{Desk, names_in};
use crate::console::failure::Failure;
use crate::console::hand::{Suggestions, means_this};
use crate::console::session::{Answer, Pick};
use crate::drink::{Aim, Spec, Written};
use crate::pairing::Filter;
use crate::report::{self, Report};
use crate::riff::{Request, RiffError, Riffs, Swap, Turned, explained, riffs, turned};

/// Most variants.
const MOST: u16 = 20;

/// Variants of a classic: swaps asked for, ingredients worked in, the rest chosen from the graph, the amounts solved
/// so that strength, sugar and acid come as near the classic's own as they can.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  riff negroni --swap gin=mezcal\n  riff paloma --less-sugar --count 5")]
pub struct Args {
    /// The classic: a template's name, the number of a result, or lines with commas between; the drink in
    /// hand if not given
    #[arg(value_name = "TEMPLATE")]
    template: Vec<String>,
    /// Replace one ingredient by another: gin=mezcal. May be given several times
    #[arg(long, value_name = "X=Y")]
    swap: Vec<String>,
    /// Work this in, in the form that fits. Several with commas between
    #[arg(long, value_name = "NAME")]
    with: Vec<String>,
    /// Leave this out, and what is made from it. Several with commas between
    #[arg(long, value_name = "NAME")]
    no: Vec<String>,
    #[command(flatten)]
    turns: turns::Kinds,
    #[command(flatten)]
    limits: Limits,
    /// How many variants
    #[arg(long, value_name = "N", default_value_t = 3, value_parser = clap::value_parser!(u8).range(1..=20))]
    count: u8,
    /// Open this line too, so that it may be filled with something else. Several with commas between
    #[arg(long, value_name = "NAME")]
    open: Vec<String>,
    /// How many ingredients you did not ask for two variants may share
    #[arg(long, value_name = "N", default_value_t = 0, value_parser = clap::value_parser!(u8).range(0..=8))]
    overlap: u8,
    /// Let what the classic has in equal parts come out otherwise
    #[arg(long)]
    uneven: bool,
    /// Show how the suggestion of this number came about, in figures
    #[arg(long, value_name = "N", value_parser = super::explain::number)]
    pub(in crate::console) explain: Option<u16>,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let named = drink_named(&args.template, desk, "TEMPLATE")?;
    let (spec, typed) = spec_named(desk, &named, None)?;
    let desk = &desk.in_unit_of(&spec, typed);
    let mut classic = desk.house.in_pours(&spec);
    for name in names_in(&args.open.join(", ")) {
        let line = line_named(desk, &classic, name)?;
        classic.lines[line].open = true;
    }
    let mut swaps: Vec<Swap<'_>> = Vec::new();
    for text in names_in(&args.swap.join(", ")) {
        let swap = swap_of(desk, &classic, text)?;
        if swaps.iter().any(|s| s.line == swap.line) {
            let name = &classic.lines[swap.line].ingredient.name;
            return Err(
                Failure::mistake(format!("{name} is swapped twice")).hint("say one swap for each line")
            );
        }
        swaps.push(swap);
    }
    let with = desk.ingredients(&args.with.join(", "))?;
    let no = desk.library.book.with_forms(desk.ingredients(&args.no.join(", "))?);
    let count = usize::from(args.explain.unwrap_or(0).min(MOST)).max(usize::from(args.count));
    let overlap = usize::from(args.overlap);
    // What someone asks for by name they will have.
    let named_ones: Vec<&Ingredient> = swaps.iter().map(|s| s.to).chain(with.iter().copied()).collect();
    let filter = Filter { out: super::ran_out(desk, &named_ones), ..args.limits.filter(desk) };
    let asked = args.turns.read(desk, filter, no)?;
    if asked.is_empty() {
        let (no, filter) = (asked.no, asked.filter);
        let request =
            Request { swaps, with, no, filter, count, overlap, uneven: args.uneven, ..Request::new(classic) };
        let found = riffs(desk.graph, &request, &desk.house)?;
        if let Some(number) = args.explain {
            return explain(&found, &Aim::of(&found.figures), number, desk);
        }
        let report = report::riffs(&desk.library.book, &found, view(desk));
        return Ok(suggesting(report, &spec, &named, &found));
    }
    let turned = turned(desk.graph, &classic, &asked, &desk.house)?;
    let request = Request {
        swaps: swaps.into_iter().map(|s| moved(s, &turned)).collect::<Result<_, _>>()?,
        with: with.into_iter().chain(turned.with.iter().copied()).collect(),
        aim: Some(turned.aim),
        no: turned.no.clone(),
        filter: turned.filter.clone(),
        count: count + SPARE,
        overlap,
        ..Request::new(turned.spec.clone())
    };
    let found = riffs(desk.graph, &request, &desk.house)?;
    let kept = turned.keep(desk.graph, found, count);
    if let Some(number) = args.explain {
        return explain(&kept.riffs, &turned.aim, number, desk);
    }
    let report = report::turned_riffs(&desk.library.book, &turned, &kept, view(desk));
    Ok(suggesting(report, &spec, &named, &kept.riffs))
}

/// How a suggestion came about.
fn explain(found: &Riffs<'_>, aim: &Aim, number: u16, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let place = usize::from(number) - 1;
    let riff = found.found.get(place).ok_or_else(|| not_so_many(number, found.found.len()))?;
    let explained = explained(riff, aim, desk.house.when)?;
    let (book, name) = (&desk.library.book, &found.classic.name);
    Ok(Answer::new(report::riff_explained(book, name, place + 1, &explained, view(desk))))
}

/// An answer whose drinks can be named by number and taken in hand.
fn suggesting(report: Report, spec: &Spec<'_>, named: &str, found: &Riffs<'_>) -> Answer {
    let last = Suggestions {
        command: "riff",
        base: Written::of(spec),
        of_this: means_this(named),
        drinks: found.found.iter().map(|r| Written::of(&r.spec)).collect(),
    };
    let picks = found.found.iter().map(|r| pick_of(&r.spec)).collect();
    Answer { last: Some(last), ..Answer::picking(report, picks) }
}

/// So many more are looked for as may not keep what their kind promises.
const SPARE: usize = 8;

/// A swap in a classic, as one in the reshaped drink.
fn moved<'s>(swap: Swap<'s>, turned: &Turned<'s>) -> Result<Swap<'s>, Failure> {
    let line = turned.stands_for.iter().position(|at| *at == Some(swap.line));
    line.map(|line| Swap { line, ..swap }).ok_or_else(|| {
        let gone = turned.classic.lines[swap.line].ingredient;
        let turns: Vec<&str> = turned.turns.iter().map(|t| t.turn.name()).collect();
        Failure::from(RiffError::SwapsGone { name: gone.name.clone(), turn: turns.join(", ") })
    })
}

fn swap_of<'s>(desk: &Desk<'s>, classic: &Spec<'s>, text: &str) -> Result<Swap<'s>, Failure> {
    let parts = text.split_once('=').or_else(|| text.split_once("→")).or_else(|| text.split_once(" for "));
    let Some((from, to)) =
        parts.map(|(a, b)| (a.trim(), b.trim())).filter(|(a, b)| !a.is_empty() && !b.is_empty())
    else {
        return Err(Failure::usage(format!("'{text}' is not a swap: write what goes, =, what comes"))
            .hint("for example: --swap gin=mezcal"));
    };
    let swap = Swap { line: line_named(desk, classic, from)?, to: desk.ingredient(to)? };
    if classic.lines[swap.line].ingredient.id == swap.to.id {
        return Err(Failure::mistake(format!("{} is swapped for itself", swap.to.name))
            .hint("say something else after the =, or leave the swap out"));
    }
    Ok(swap)
}

/// A drink as a result that the next command can name by its number.
pub(super) fn pick_of(spec: &Spec<'_>) -> Pick {
    let lines: Vec<String> =
        spec.lines.iter().map(|l| format!("{} {}", l.amount, l.ingredient.id.as_str())).collect();
    Pick::Spec { text: lines.join(", "), method: spec.method }
}

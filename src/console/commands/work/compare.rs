//! `compare`: the drink in hand beside another.

use super::super::balance::spec_named;
use super::super::{joined, view};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::drink::{Spec, Written};
use crate::report::{self, InHand};
use crate::riff::side_by_side;

/// Sets the drink in hand beside the one it came from, or beside another: lines, figures, and what a guest would
/// notice.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  compare\n  compare daiquiri")]
pub struct Args {
    /// A template's name, the number of a result, or lines with commas between; the drink it came from if not given
    #[arg(value_name = "DRINK")]
    drink: Vec<String>,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let work = desk.work()?;
    let desk = &desk.in_unit_of_hand(work);
    let other = match joined(&args.drink) {
        text if text.is_empty() => desk.spec_of(work.origin()),
        text => match suggested(desk, &text) {
            Some(drink) => Spec { name: format!("suggestion {}", text.trim()), ..desk.spec_of(drink) },
            None => spec_named(desk, &text, None)?.0,
        },
    };
    let spec = desk.spec_of(work.now());
    let beside = side_by_side(desk.graph, &other, &spec)?;
    let hand = InHand { command: "compare", work, figures: beside.figures.1, spec, notes: Vec::new() };
    Ok(Answer::new(report::beside(&desk.library.book, &hand, &beside, view(desk))))
}

/// The drink of the last answer that a number stands for, if that suggested any.
pub(in crate::console) fn suggested<'s>(desk: &Desk<'s>, text: &str) -> Option<&'s Written> {
    let number = text.trim().parse::<usize>().ok()?.checked_sub(1)?;
    desk.hand.last()?.drinks.get(number)
}

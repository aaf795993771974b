//! `steps`: what was done to the drink in hand.

use super::step_words;
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::drink::{Figures, figures};
use crate::report::{self, InHand};

/// Lists what was done to the drink in hand, with what it came to each time.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  steps\n  steps --json")]
pub struct Args {}

pub(in crate::console) fn run(_: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let work = desk.work()?;
    let desk = &desk.in_unit_of_hand(work);
    let drinks = work.done().iter().chain(work.undone()).map(|d| &d.drink);
    let all: Vec<(String, Option<Figures>)> = std::iter::once(work.origin())
        .chain(drinks)
        .enumerate()
        .map(|(number, drink)| (step_words(work, number, desk), figures(&desk.spec_of(drink)).ok()))
        .collect();
    let spec = desk.spec_of(work.now());
    let hand = InHand { command: "steps", work, figures: figures(&spec)?, spec, notes: Vec::new() };
    Ok(Answer::new(report::steps(&hand, &all)))
}

//! `check`: what a contributor may want to mend in the packs, and what is broken in the house book.

use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::mend::mends;
use crate::console::session::Answer;
use crate::report;

/// What to mend: every file of the house book that cannot be read, and soft spots of the packs, those that matter most first.
///
/// A pack with faults is refused when it is opened, with all of them and status 1; soft spots refuse nothing. A faulty file of
/// the house book is left out, and never hides the others.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  check\n  check --mend")]
pub struct Args {
    /// Every place of every soft spot, not the first few
    #[arg(long)]
    all: bool,
    /// Only the house book, and how each of its faults could be mended
    #[arg(long)]
    mend: bool,
    /// With --mend: do it. What can't be read is moved aside, and nothing is deleted
    #[arg(long, requires = "mend")]
    yes: bool,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let house = &desk.library.house;
    let history = match desk.store() {
        Ok(store) => store.history().map(|h| h.problems).unwrap_or_default(),
        Err(_) => Vec::new(),
    };
    let wrong = report::HouseFaults {
        faults: &house.faults,
        sources: &house.sources,
        problems: house
            .problems
            .iter()
            .chain(history.iter().filter(|p| !house.problems.contains(p)))
            .collect(),
        closed: house.closed.as_deref(),
    };
    if !args.mend {
        let report = report::soundness(&desk.graph.soundness(), &desk.library.packs, args.all);
        return Ok(Answer::new(report::with_house_faults(report, &wrong)));
    }
    if let Some(why) = &house.closed {
        return Err(Failure::mistake(format!("the house book is left out: {why}")));
    }
    let (mends, by_hand) = mends(desk)?;
    let mut done = Vec::new();
    let mut not_done = Vec::new();
    if args.yes {
        for mend in &mends {
            match mend.carry_out(desk) {
                Ok(words) => done.push(words),
                Err(failure) => not_done.push(format!("{mend}: {failure}")),
            }
        }
    }
    let mends: Vec<String> = mends.iter().map(ToString::to_string).collect();
    let told = report::Mends { wrong: &wrong, mends, by_hand, done, not_done, carried_out: args.yes };
    Ok(Answer { changed: args.yes, ..Answer::new(report::mends(&told)) })
}

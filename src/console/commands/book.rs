//! `book`: the house book itself: where it is, what is in it, how it is shared.

use std::path::PathBuf;

use crate::book::{RecordPath, merge};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::report;

/// Where the house book is, what is in it, and what is wrong with it.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  book\n  book share")]
pub struct Args {
    #[command(subcommand)]
    job: Option<Job>,
}

/// What can be done with the book as a whole.
#[derive(Debug, Clone, clap::Subcommand)]
#[command(disable_help_subcommand = true)]
enum Job {
    /// How to share it between bars with git
    Share,
    /// Merge two versions of a record, for git: it calls this itself once 'book share' is set up
    Merge(MergeArgs),
}

/// What git hands over.
#[derive(Debug, Clone, clap::Args)]
struct MergeArgs {
    /// The version both come from (%O)
    base: PathBuf,
    /// Our version (%A); the result is written here
    ours: PathBuf,
    /// Their version (%B)
    theirs: PathBuf,
    /// The record's name in the book (%P)
    name: String,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    match &args.job {
        None => Ok(Answer::new(report::house_book(
            &desk.library.book,
            &report::HouseFilesTold {
                root: desk.library.house.root.as_deref(),
                records: desk.library.house.records,
                faults: desk.library.house.faults.len() + desk.library.house.problems.len(),
                closed: desk.library.house.closed.as_deref(),
            },
        ))),
        Some(Job::Share) => Ok(Answer::new(report::sharing(desk.root()?))),
        Some(Job::Merge(args)) => merged(args),
    }
}

/// Merges as git asks: the result in the place of our version, and a failure where a person must decide.
fn merged(args: &MergeArgs) -> Result<Answer, Failure> {
    let read = |path: &PathBuf| super::edit::text_of_file(path);
    let base = read(&args.base).ok().filter(|text| !text.trim().is_empty());
    let (ours, theirs) = (read(&args.ours)?, read(&args.theirs)?);
    let order = args.name.parse::<RecordPath>().map_or(&[][..], |path| path.kind().order());
    let merged = merge(base.as_deref(), &ours, &theirs, order);
    std::fs::write(&args.ours, &merged.text)
        .map_err(|why| Failure::mistake(format!("{}: {why}", args.ours.display())))?;
    if merged.conflicts.is_empty() {
        return Ok(Answer::new(report::merged(&args.name)));
    }
    Err(Failure::mistake(format!(
        "{}: both changed {} differently",
        args.name,
        merged.conflicts.join(", ")
    ))
    .hint("the file holds both between <<<<<<< and >>>>>>>: leave one and take the marks out, then 'git add' it"))
}

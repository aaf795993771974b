//! `hold`: what is held back of a batch, and what this house does otherwise.

use super::percent;
use crate::book::{RecordChange, RecordEdit, RecordKind};
use crate::console::commands::joined;
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::keep::{field, kept, path_of, set};
use crate::console::session::{Answer, Pick};
use crate::measure::Grade;
use crate::report;

/// What stays out of a batch and goes in at service, and why. With names and a word: how much of them this house puts in, against
/// the rules.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  hold\n  hold aromatic bitters in --why we dash it in before bottling")]
pub struct Args {
    /// Ingredients with commas between, and out, half, in, or so many per cent
    #[arg(value_name = "NAMES HOW")]
    words: Vec<String>,
    /// Why
    #[arg(long, value_name = "WORDS")]
    why: Option<String>,
    /// Go back to the rules
    #[arg(long)]
    forget: bool,
    /// Show the change, and keep nothing
    #[arg(long)]
    dry_run: bool,
}

const HOW: [(&str, f64); 3] = [("out", 0.0), ("half", 0.5), ("in", 1.0)];

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.words);
    let book = &desk.library.book;
    if text.trim().is_empty() {
        let picks = book.house().hold_backs().map(|h| Pick::Ingredient(h.of.clone())).collect();
        return Ok(Answer::picking(report::hold_backs(book), picks));
    }
    let (names, goes_in) = if args.forget { (text.trim(), None) } else { parted(text.trim())? };
    let of = desk.ingredients(names)?;
    let mut edits = Vec::new();
    for ingredient in &of {
        let path = path_of(RecordKind::HoldBack, ingredient.id.as_str())?;
        edits.push(match goes_in {
            None => RecordEdit { path, change: RecordChange::Remove },
            Some(goes_in) => {
                let mut fields = vec![field(&["of"], &ingredient.id), field(&["goes_in"], &goes_in)];
                fields.extend(args.why.iter().map(|why| field(&["why"], why)));
                set(path, fields)
            }
        });
    }
    let edited = desk.keep(&format!("hold {text}"), &edits, args.dry_run)?;
    let names: Vec<&str> = of.iter().map(|i| i.name.as_str()).collect();
    let title = match goes_in {
        None => format!("{}: by the rules again", names.join(", ")),
        Some(share) => {
            format!("{}: {:.0} % goes into a batch", names.join(", "), 100.0 * share.value())
        }
    };
    let mut notes = Vec::new();
    if goes_in.is_some_and(|g| g.value() > 0.0) && of.iter().any(|i| i.makeup.is_some_and(|m| m.carbonated)) {
        notes.push("what sparkles goes flat in a batch, and builds pressure in a closed bottle".to_owned());
    }
    Ok(kept("hold", title, &edited, args.dry_run, notes))
}

/// The names, and how much of them goes in.
fn parted(text: &str) -> Result<(&str, Option<Grade>), Failure> {
    let missing = || {
        Failure::usage(format!("'{text}' does not say how much goes in")).hint(
            "out, half, in, or per cent: hold aromatic bitters half, hold lime juice in, hold saline 25%",
        )
    };
    let (names, how) = text.rsplit_once(char::is_whitespace).ok_or_else(missing)?;
    let word = HOW.iter().find(|(word, _)| how.eq_ignore_ascii_case(word)).map(|(_, share)| *share);
    let share = match word {
        Some(share) => share,
        None if how.starts_with(|c: char| c.is_ascii_digit()) => {
            percent(how, 1.0, "a share that goes in").map_err(Failure::usage)?
        }
        None => return Err(missing()),
    };
    Ok((names.trim_end_matches([',', ':']), Some(Grade::clamped(share))))
}

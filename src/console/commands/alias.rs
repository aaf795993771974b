//! `alias`: another name that a person may type.

use super::joined;
use super::record::house_record;
use crate::book::{RecordKind, fold};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::keep::{field, kept, path_of, set};
use crate::console::session::Answer;

/// Adds another name that may be typed for an ingredient or a drink, or takes one away.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  alias gin = the clear one\n  alias gin = the clear one --forget")]
pub struct Args {
    /// The name, '=', and the other name
    #[arg(required = true, value_name = "NAME = OTHER")]
    words: Vec<String>,
    /// Take the other name away
    #[arg(long)]
    forget: bool,
    /// Show the change, and keep nothing
    #[arg(long)]
    dry_run: bool,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.words);
    let (name, other) = text.split_once('=').map(|(a, b)| (a.trim(), b.trim())).ok_or_else(|| {
        Failure::usage(format!("'{text}' does not say the other name: '=' and the name are missing"))
            .hint("for example: alias quince liqueur = the yellow bottle")
    })?;
    let (kind, id, _) = house_record(name, desk)?;
    let book = &desk.library.book;
    let mut aliases = match kind {
        RecordKind::Ingredient => {
            book.ingredients().iter().find(|i| i.id.as_str() == id).map(|i| i.aliases.clone())
        }
        _ => book.templates().iter().find(|t| t.id.as_str() == id).map(|t| t.aliases.clone()),
    }
    .unwrap_or_default();
    let there = aliases.iter().position(|a| fold(a) == fold(other));
    match (there, args.forget) {
        (Some(at), true) => {
            aliases.remove(at);
        }
        (None, true) => {
            let known = if aliases.is_empty() {
                "it has none".to_owned()
            } else {
                format!("it has {}", aliases.join(", "))
            };
            return Err(Failure::mistake(format!("'{other}' is no other name of {name}: {known}")));
        }
        (Some(_), false) => return Err(Failure::mistake(format!("'{other}' stands for {name} already"))),
        (None, false) => aliases.push(other.to_owned()),
    }
    let edit = set(path_of(kind, &id)?, vec![field(&["id"], &id), field(&["aliases"], &aliases)]);
    let edited = desk.keep(&format!("alias {text}"), &[edit], args.dry_run)?;
    let title = if args.forget {
        format!("{other} stands for nothing any more")
    } else {
        format!("{other} stands for {name}")
    };
    Ok(kept("alias", title, &edited, args.dry_run, Vec::new()))
}

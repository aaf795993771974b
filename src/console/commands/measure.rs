//! `measure`: what the house's own measures hold.

use super::joined;
use crate::book::{RecordChange, RecordEdit, RecordKind};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::keep::{kept, path_of, plain_field, set};
use crate::console::session::Answer;
use crate::measure::{Amount, Measures};
use crate::report;

/// Writes down what a dash, a barspoon, a drop, a top or a part holds in this house. Without words: what is reckoned with.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  measure dash 1 ml\n  measure barspoon 5 ml")]
pub struct Args {
    /// The measure and its volume
    #[arg(value_name = "MEASURE VOLUME")]
    words: Vec<String>,
    /// Go back to the usual volume of a measure, or of all
    #[arg(long)]
    forget: bool,
    /// Show the change, and keep nothing
    #[arg(long)]
    dry_run: bool,
}

pub(in crate::console) const MEASURES: [&str; 5] = ["dash", "barspoon", "drop", "top", "part"];

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.words);
    if text.is_empty() && !args.forget {
        return Ok(Answer::new(report::measures(
            &desk.house.measures,
            desk.library.book.house().measures().is_some(),
        )));
    }
    let path = path_of(RecordKind::Measures, RecordKind::Measures.word())?;
    let (name, volume) = text.trim().split_once(char::is_whitespace).unwrap_or((text.trim(), ""));
    let lower = name.to_lowercase();
    let found = MEASURES
        .into_iter()
        .find(|n| *n == lower || Some(*n) == lower.strip_suffix('s') || Some(*n) == lower.strip_suffix("es"));
    let (edit, title) = match (found, args.forget, name.is_empty()) {
        (None, true, true) => {
            (RecordEdit { path, change: RecordChange::Remove }, "The usual measures".to_owned())
        }
        (None, ..) => {
            let failure = Failure::mistake(format!("there is no measure '{name}'"))
                .hint(format!("measures are {}", MEASURES.join(", ")));
            return Err(match crate::book::nearest_word(&lower, MEASURES.into_iter()) {
                Some(near) => failure.hint(format!("did you mean {near}?")),
                None => failure,
            });
        }
        (Some(name), true, _) => {
            (set(path, vec![(vec![name.to_owned()], None)]), format!("The usual {name}"))
        }
        (Some(name), false, _) => {
            let amount = volume.trim_start_matches(['=', ' ']).parse::<Amount>().map_err(|e| {
                Failure::usage(e.to_string()).hint(format!("for example: measure {name} 1 ml"))
            })?;
            let ml = amount.volume(&Measures::default()).map_or(0.0, |v| v.ml());
            if !(ml > 0.0 && ml <= 1000.0) {
                return Err(Failure::mistake(format!("{amount} can't be what a {name} holds"))
                    .hint("allowed is a volume above 0 and up to 1 l"));
            }
            (set(path, vec![plain_field(&[name], format!("{ml}"))]), format!("A {name} holds {amount}"))
        }
    };
    let edited = desk.keep(&format!("measure {text}"), &[edit], args.dry_run)?;
    Ok(kept("measure", title, &edited, args.dry_run, Vec::new()))
}

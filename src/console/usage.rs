//! A line that is not written as it should be, in our words.

use clap::error::{ContextKind, ErrorKind};

use super::command::COMMANDS;
use super::failure::Failure;
use crate::book::nearest_word;

/// A usage failure in our words, from clap's.
pub(super) fn usage_failure(error: &clap::Error) -> Failure {
    let context = |kind: ContextKind| error.get(kind).map(ToString::to_string);
    let (message, near) = match error.kind() {
        ErrorKind::InvalidSubcommand => {
            let typed = context(ContextKind::InvalidSubcommand).unwrap_or_default();
            let suggested = context(ContextKind::SuggestedSubcommand);
            let is_command = suggested.as_deref().is_none_or(|s| COMMANDS.contains(&s));
            let near = nearest_word(&typed.to_lowercase(), COMMANDS.into_iter()).filter(|_| is_command);
            (format!("there is no command '{typed}'"), near.map(str::to_owned).or(suggested))
        }
        ErrorKind::UnknownArgument => {
            let typed = context(ContextKind::InvalidArg).unwrap_or_default();
            (format!("there is no option '{typed}' here"), context(ContextKind::SuggestedArg))
        }
        ErrorKind::MissingRequiredArgument => {
            let missing = context(ContextKind::InvalidArg).unwrap_or_default();
            let missing = missing.trim().replace(['<', '>', '.'], "");
            (format!("something is missing: {missing}"), None)
        }
        ErrorKind::ValueValidation | ErrorKind::InvalidValue => {
            let option = context(ContextKind::InvalidArg).unwrap_or_default();
            let option = option
                .split(' ')
                .next()
                .unwrap_or_default()
                .trim_matches(['<', '>', '[', ']', '.'])
                .to_owned();
            let typed = context(ContextKind::InvalidValue).unwrap_or_default();
            match std::error::Error::source(error) {
                Some(why) => {
                    let why = in_range_words(why.to_string());
                    // A message that quotes what was typed needs it no second time.
                    let quoted = if why.contains(&typed) { String::new() } else { format!(" '{typed}'") };
                    (format!("{option}{quoted}: {why}"), None)
                }
                None => (format!("{option} needs a value"), None),
            }
        }
        _ => {
            let text = error.render().to_string();
            let first = text.split("\n\n").next().unwrap_or_default();
            (first.trim_start_matches("error: ").split_whitespace().collect::<Vec<_>>().join(" "), None)
        }
    };
    let failure = Failure::usage(message);
    let failure = match near {
        Some(near) => failure.hint(format!("did you mean {near}?")),
        None => failure,
    };
    failure.hint("'help' lists the commands, 'help COMMAND' shows one with examples")
}

/// `1 is not in 2..=6` as `1 is outside 2 to 6`; anything else as it is.
fn in_range_words(why: String) -> String {
    let parted =
        why.split_once(" is not in ").and_then(|(found, range)| Some((found, range.split_once("..=")?)));
    match parted {
        Some((found, (least, most))) => format!("{found} is outside {least} to {most}"),
        None => why,
    }
}

//! `take`: a suggestion of the last answer as the drink in hand.

use super::{former, leaving, stepped};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::drink::Work;

/// Takes over a drink that the last answer suggested, by its number. Of 'riff this' and 'swap ... --in this' it is a
/// step; of another drink it is taken up anew.
#[derive(Debug, Clone, clap::Args)]
#[command(allow_negative_numbers = true, after_help = "Examples:\n  take 2\n  take 1 --json")]
pub struct Args {
    /// The number of the suggestion
    #[arg(value_name = "NUMBER")]
    number: String,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let Some(last) = desk.hand.last() else {
        let failure = Failure::mistake("the last answer suggested no drink");
        return Err(if desk.at_prompt {
            failure.hint("'riff', 'tune' and 'swap ... --in DRINK' suggest drinks: riff this")
        } else {
            failure.hint("only the prompt keeps its last answer; start it with: medlar")
        });
    };
    let range = || match last.drinks.len() {
        0 => "the last answer suggested none".to_owned(),
        1 => "the last answer suggested one drink, take 1".to_owned(),
        most => format!("the last answer suggested 1 to {most}"),
    };
    let number = args.number.trim().parse::<usize>().ok().and_then(|n| n.checked_sub(1));
    let Some(drink) = number.and_then(|n| last.drinks.get(n)) else {
        return Err(Failure::mistake(format!("there is no suggestion '{}': {}", args.number, range())));
    };
    let what = format!("suggestion {} of {}", args.number.trim(), last.command);
    let (work, left) = match desk.hand.work().filter(|_| last.of_this) {
        Some(work) => (work.clone(), None),
        None => (Work::on(last.base.clone()), former(desk)),
    };
    let after = work.take(drink.clone(), &what)?;
    let answer = stepped("take", work.now(), after, &format!("{what} taken over"), desk)?;
    Ok(leaving(answer, left))
}

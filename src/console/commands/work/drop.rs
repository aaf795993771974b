//! `drop`: a line less in the drink in hand.

use super::{last_step, line_of_hand, words_or};
use crate::book::{IngredientId, fold};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::drink::Work;

/// Takes a line out of the drink in hand, or a garnish off it.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  drop triple sec\n  drop aromatic bitters")]
pub struct Args {
    /// The ingredient that goes
    #[arg(value_name = "NAME")]
    name: Vec<String>,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = words_or(&args.name, "NAME", "drop orange liqueur")?;
    let work = desk.work()?;
    let after = match (line_of_hand(desk, work, &text), garnish_named(desk, work, &text)) {
        (Err(_), Some(garnish)) => work.bare(garnish)?,
        (line, _) => work.drop_line(line?)?,
    };
    last_step("drop", work.now(), after, desk)
}

/// The garnish that a name means, with or without its form: `lime`, `lime wheel`.
fn garnish_named(desk: &Desk<'_>, work: &Work, typed: &str) -> Option<usize> {
    let key = fold(typed);
    let is_it = |(id, form): &(IngredientId, String)| {
        let name = desk.library.book.ingredient(id).map_or(id.as_str(), |i| i.name.as_str());
        key == fold(name) || key == fold(&format!("{name} {form}"))
    };
    work.now().garnish.iter().position(is_it)
}

//! `name`: what the drink in hand is called.

use super::{shown, words_or};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;

/// Names the drink in hand, for as long as the prompt is open.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  name Weir Sour\n  name Long Orchard")]
pub struct Args {
    /// The name
    #[arg(value_name = "NAME")]
    name: Vec<String>,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = words_or(&args.name, "NAME", "name Weir Sour")?;
    let work = desk.work()?;
    let notes =
        vec!["kept until the prompt is left; 'quit' then shows the line that takes it up again".to_owned()];
    shown("name", work.name(&text)?, notes, desk)
}

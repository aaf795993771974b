//! `bridge`: what joins two ingredients that do not obviously meet.

use super::two_names;
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::{Answer, Pick};
use crate::report;

/// What joins two ingredients that do not obviously meet, in up to four steps.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  bridge oyster, peach\n  bridge blue cheese, mezcal --limit 3")]
pub struct Args {
    /// Two ingredients, with a comma between
    #[arg(required = true, value_name = "NAMES")]
    names: Vec<String>,
    /// How many bridges are listed
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = clap::value_parser!(u8).range(1..=50))]
    limit: u8,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let (from, to) = two_names(&args.names, "bridge")?;
    let (from, to) = (desk.ingredient(&from)?, desk.ingredient(&to)?);
    let found = desk.graph.bridges(&from.id, &to.id, usize::from(args.limit));
    let found = found.ok_or_else(|| Failure::mistake("one of the two is not in the graph"))?;
    let picks =
        found.found.iter().filter_map(|b| b.path.get(1)).map(|i| Pick::Ingredient(i.id.clone())).collect();
    Ok(Answer::picking(report::bridges(&found), picks))
}

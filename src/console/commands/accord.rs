//! `accord`: small groups in which every pair agrees.

use super::{Narrow, joined};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::{Answer, Pick};
use crate::measure::Affinity;
use crate::pairing::MOST_SIZE;
use crate::report;

/// Small groups around one or two ingredients, in which every pair agrees.
#[derive(Debug, Clone, clap::Args)]
#[command(
    after_help = "Examples:\n  accord quince --size 4\n  accord pear, rye --size 3 --least 0.6 --in-season"
)]
pub struct Args {
    /// One or more ingredients, with commas between
    #[arg(required = true, value_name = "NAMES")]
    names: Vec<String>,
    /// How many ingredients in all, 2 to 6
    #[arg(long, value_name = "N", default_value_t = 4, value_parser = clap::value_parser!(u8).range(2..=6))]
    size: u8,
    /// Least affinity that every pair must have, 0.01 to 1
    #[arg(long, value_name = "AFFINITY", default_value_t = 0.5)]
    least: f64,
    /// How many accords are listed
    #[arg(long, value_name = "N", default_value_t = 8, value_parser = clap::value_parser!(u8).range(1..=100))]
    limit: u8,
    #[command(flatten)]
    narrow: Narrow,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let set = desk.ingredients(&joined(&args.names))?;
    let size = usize::from(args.size).min(MOST_SIZE);
    if set.is_empty() {
        return Err(
            Failure::usage("an accord of what? There is no name").hint("for example: accord quince --size 4")
        );
    }
    if set.len() >= size {
        return Err(Failure::mistake(format!(
            "an accord of {size} around {} ingredients has no room for more",
            set.len()
        ))
        .hint(format!("give a --size from {} to {MOST_SIZE}", set.len() + 1)));
    }
    let least = Affinity::new(args.least).map_err(|error| Failure::mistake(error.to_string()))?.value();
    let ids: Vec<_> = set.iter().map(|i| &i.id).collect();
    let found = desk.graph.accords(&ids, size, least, &args.narrow.filter(desk), usize::from(args.limit));
    let others =
        found.found.iter().filter_map(|a| a.members.iter().find(|m| !set.iter().any(|s| s.id == m.id)));
    let picks = others.map(|i| Pick::Ingredient(i.id.clone())).collect();
    Ok(Answer::picking(report::accords(&found, size, least), picks))
}

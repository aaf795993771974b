//! `pairs`: what goes with an ingredient, or with several at once.

use super::explain::not_so_many;
use super::{Narrow, joined, view};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::{Answer, Pick};
use crate::pairing::Agreements;
use crate::report;

/// Most ingredients in one question.
const MOST: usize = 4;

/// What goes with one to four ingredients: the worst pair counts most.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  pairs quince\n  pairs quince, mezcal --in-season --kind herb")]
pub struct Args {
    /// One to four ingredients, with commas between
    #[arg(required = true, value_name = "NAMES")]
    names: Vec<String>,
    #[command(flatten)]
    narrow: Narrow,
    /// List what should go with one ingredient although the book does not say so
    #[arg(long)]
    inferred: bool,
    /// List what clashes, with the reasons
    #[arg(long)]
    clashes: bool,
    /// How many companions are listed
    #[arg(long, value_name = "N", default_value_t = 12, value_parser = clap::value_parser!(u16).range(1..=1000))]
    limit: u16,
    /// Show how the suggestion of this number came about, in figures
    #[arg(long, value_name = "N", value_parser = super::explain::number)]
    pub(in crate::console) explain: Option<u16>,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let set = desk.ingredients(&joined(&args.names))?;
    if set.is_empty() {
        return Err(
            Failure::usage("pairs of what? There is no name").hint("for example: pairs quince, mezcal")
        );
    }
    if set.len() > MOST {
        return Err(Failure::mistake(format!(
            "pairs takes up to {MOST} ingredients, these are {}",
            set.len()
        ))
        .hint("'accord' finds groups in which every pair agrees"));
    }
    if args.inferred {
        let [of] = set.as_slice() else {
            return Err(Failure::usage(format!("--inferred takes one ingredient, these are {}", set.len()))
                .hint("without it, 'pairs' says what is inferred where only one pair is missing"));
        };
        let expected = Agreements::new(desk.graph).expected_with(
            &of.id,
            &args.narrow.filter(desk),
            usize::from(args.limit),
        );
        let picks = expected.iter().map(|(i, _)| Pick::Ingredient(i.id.clone())).collect();
        return Ok(Answer::picking(report::expected(of, &expected), picks));
    }
    let ids: Vec<_> = set.iter().map(|i| &i.id).collect();
    let found = desk.graph.companions(
        &ids,
        &args.narrow.filter(desk),
        usize::from(args.limit.max(args.explain.unwrap_or(0))),
    );
    if let Some(number) = args.explain {
        let place = usize::from(number) - 1;
        let companion = found.found.get(place).ok_or_else(|| not_so_many(number, found.found.len()))?;
        return Ok(Answer::new(report::companion_explained(&set, place + 1, companion)));
    }
    let picks = found.found.iter().map(|c| Pick::Ingredient(c.ingredient.id.clone())).collect();
    Ok(Answer::picking(report::companions(&found, view(desk), args.clashes), picks))
}

//! `kit`: the mix without its spirit, for a guest to take home.

use std::path::PathBuf;

use super::{MakeArgs, PaperArgs, for_how_many, in_unit_of_vessels, to_buy};
use crate::console::commands::balance::spec_named;
use crate::console::commands::{drink_named, view};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::report::{self, BatchTold};
use crate::service::{KitAsked, PriceList, Style, kit};

/// A take-home kit: the mix of a drink without its spirit, in the bottles the guest takes, with what the guest adds and what it
/// makes. --page writes the paper for the bag, --labels the labels.
#[derive(Debug, Clone, clap::Args)]
#[command(
    after_help = "Examples:\n  kit daiquiri --bottle 500ml\n  kit margarita --bottle \"20 x 500ml\" --parts 2 --page insert.html"
)]
pub struct Args {
    /// A template's name, a result's number, or lines with commas between; the drink in hand if not given
    #[arg(value_name = "SPEC")]
    spec: Vec<String>,
    #[command(flatten)]
    make: MakeArgs,
    /// Parts of mix to one of spirit, water making it up: 2 or 3; what the spec has, without water, if not given
    #[arg(long, value_name = "N", value_parser = parts)]
    parts: Option<f64>,
    /// Leave room in the bottle for the spirit, so that the guest fills it up
    #[arg(long)]
    room: bool,
    /// Write a label for each bottle: labels.html
    #[arg(long, value_name = "FILE", help_heading = "Papers")]
    labels: Option<PathBuf>,
    #[command(flatten)]
    papers: PaperArgs,
}

fn parts(text: &str) -> Result<f64, String> {
    let number = text.trim().trim_end_matches(":1").trim();
    let parts: f64 = number.parse().map_err(|_| "write a number of parts, such as 2".to_owned())?;
    if (0.1..=20.0).contains(&parts) {
        Ok(parts)
    } else {
        Err(format!("{parts} parts: allowed are 0.1 to 20"))
    }
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let (words, serves) = for_how_many(&args.spec.join(" "), desk);
    let words: Vec<String> = if words.is_empty() { Vec::new() } else { vec![words] };
    let named = drink_named(&words, desk, "SPEC")
        .map_err(|failure| failure.hint("for example: kit daiquiri --bottle 500ml"))?;
    let (given, typed) = spec_named(desk, &named, args.make.method)?;
    let desk = &in_unit_of_vessels(&desk.in_unit_of(&given, typed), &args.make.bottle);
    let spec = args.make.named(desk.house.in_pours(&given));
    let book = &desk.library.book;
    let prices = PriceList::of_house(&desk.library.book);
    let of = args.make.asked(spec, serves, Style::ToOrder, desk)?;
    let made = kit(book, &KitAsked { of, parts: args.parts, room: args.room }, &prices)?;
    let buy = to_buy(&made.mix, &prices, desk)?;
    let told = BatchTold {
        book,
        batch: &made.mix,
        buy: &buy,
        cost: None,
        by_eye: None,
        made: args.make.day(desk),
        house: args.make.by.clone(),
        view: view(desk),
    };
    let report = report::kit(&made, &told);
    let page = match &args.papers.page {
        Some(_) => Some(report::insert(&report::kit_insert(&made, &told), args.papers.sheet())?),
        None => None,
    };
    let labels = match &args.labels {
        Some(path) => {
            let labels = report::kit_labels(&made, &told);
            Some((path.as_path(), report::labels(&labels, args.papers.sheet())?))
        }
        None => None,
    };
    let rows = report::kit_rows(&made, &buy);
    Ok(Answer::new(args.papers.write(report, &rows, page, labels)?))
}

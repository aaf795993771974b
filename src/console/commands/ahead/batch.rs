//! `batch`: a drink made ahead, for many.

use std::path::PathBuf;

use super::{MakeArgs, PaperArgs, for_how_many, in_unit_of_vessels, percent, price_lists, style, to_buy};
use crate::console::commands::balance::spec_named;
use crate::console::commands::{drink_named, view};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::drink::classic_band;
use crate::liquid::freezing;
use crate::measure::{Temperature, Volume};
use crate::report::{self, BatchTold};
use crate::service::{
    Asked, PriceList, ServiceError, Style, USUAL_ACROSS, USUAL_WASTE, Vessel, WaterWish, batch, by_eye, cost,
};

/// A drink made ahead for many: what goes in, how much water, what is held back and why, the bottles and their fill lines, how
/// it keeps, what to buy and what it costs. --page, --labels and --csv write it to print.
#[derive(Debug, Clone, clap::Args)]
#[command(
    allow_negative_numbers = true,
    after_help = "Examples:\n  batch negroni for 40\n  batch negroni --serves 40 --bottle 700ml --style freezer"
)]
pub struct Args {
    /// A template's name, a result's number, or lines with commas between, and 'for' how many; the drink in hand if not given
    #[arg(value_name = "SPEC")]
    spec: Vec<String>,
    #[command(flatten)]
    make: MakeArgs,
    /// How it is kept and poured: chilled, freezer, over ice, to order, long, punch or tap; what suits the drink if not given
    #[arg(long, value_name = "STYLE", value_parser = style)]
    style: Option<Style>,
    /// The water: method (what its method would melt in), none, or so many per cent of what is poured
    #[arg(long, value_name = "WATER", value_parser = water, allow_hyphen_values = true)]
    water: Option<WaterWish>,
    /// How cold the freezer is
    #[arg(long, value_name = "TEMPERATURE", value_parser = freezer, allow_hyphen_values = true)]
    freezer: Option<Temperature>,
    /// How far each line may be off when a bottle is filled by eye
    #[arg(long)]
    by_eye: bool,
    /// How wide the bottle is inside, for --by-eye: 70 mm
    #[arg(long, value_name = "WIDTH", value_parser = across)]
    across: Option<f64>,
    /// The prices: house, demo, or a table that 'export prices.csv' writes; the house's, demo where it has none, if not given
    #[arg(long, value_name = "LIST")]
    prices: Option<String>,
    /// Write a label for each container: labels.html
    #[arg(long, value_name = "FILE", help_heading = "Papers")]
    labels: Option<PathBuf>,
    #[command(flatten)]
    papers: PaperArgs,
}

/// Most water that may be given, as a share of what is poured.
const MOST_WATER: f64 = 3.0;

fn water(text: &str) -> Result<WaterWish, String> {
    match text.trim().to_lowercase().as_str() {
        "method" => Ok(WaterWish::Method),
        "none" => Ok(WaterWish::Share(0.0)),
        _ => percent(text, MOST_WATER, "a share of what is poured")
            .map(WaterWish::Share)
            .map_err(|why| format!("{why}; or method, or none")),
    }
}

fn freezer(text: &str) -> Result<Temperature, String> {
    let at: Temperature = text.parse().map_err(|e: crate::measure::NotAQuantity| e.to_string())?;
    if (-40.0..=0.0).contains(&at.celsius()) {
        Ok(at)
    } else {
        Err(format!("{at:.0} is no freezer that the tables answer for: allowed is -40 to 0 °C"))
    }
}

fn across(text: &str) -> Result<f64, String> {
    let number = text.trim().trim_end_matches("mm").trim();
    let mm: f64 = number.parse().map_err(|_| "write it in millimetres, such as 70 mm".to_owned())?;
    if (20.0..=500.0).contains(&mm) { Ok(mm) } else { Err(format!("{mm} mm: allowed is 20 to 500 mm")) }
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let (words, serves) = for_how_many(&args.spec.join(" "), desk);
    let words: Vec<String> = if words.is_empty() { Vec::new() } else { vec![words] };
    let named = drink_named(&words, desk, "SPEC")
        .map_err(|failure| failure.hint("for example: batch negroni for 40"))?;
    let (given, typed) = spec_named(desk, &named, args.make.method)?;
    let desk = &in_unit_of_vessels(&desk.in_unit_of(&given, typed), &args.make.bottle);
    let spec = args.make.named(desk.house.in_pours(&given));
    let style = args.style.unwrap_or_else(|| Style::suiting(&spec));
    let asked = Asked {
        water: args.water.unwrap_or(WaterWish::Method),
        freezer: args.freezer.unwrap_or(Temperature::clamped(freezing::HOUSEHOLD)),
        ..args.make.asked(spec, serves, style, desk)?
    };
    let book = &desk.library.book;
    let named_list: Vec<String> = args.prices.iter().cloned().collect();
    let prices = price_lists(&named_list, desk)?.pop().unwrap_or_else(PriceList::demo);
    let made = batch(book, &asked, &prices)?;
    let buy = to_buy(&made, &prices, desk)?;
    let serve = match cost(book, &asked.spec, &prices, USUAL_WASTE, None, &desk.house.measures) {
        Ok(serve) => Some(serve),
        Err(ServiceError::NoPrice { .. }) => None,
        Err(other) => return Err(other.into()),
    };
    let eye = if args.by_eye || args.across.is_some() {
        let holds = asked.vessels.first().map_or(Volume::clamped(USUAL_BOTTLE), |v: &Vessel| v.holds);
        let family = made.spec.family;
        let band = family.and_then(|family| classic_band(book, family, &desk.house));
        let water = crate::book::IngredientId::new("water").ok().and_then(|id| book.ingredient(&id));
        let across = args.across.unwrap_or(USUAL_ACROSS);
        Some(by_eye(&made, holds, across, band.as_ref(), water, &desk.house.measures)?)
    } else {
        None
    };
    let told = BatchTold {
        book,
        batch: &made,
        buy: &buy,
        cost: serve.as_ref(),
        by_eye: eye.as_ref(),
        made: args.make.day(desk),
        house: args.make.by.clone(),
        view: view(desk),
    };
    let report = report::batch(&told);
    let labels = match &args.labels {
        Some(path) => {
            let labels = report::batch_labels(&told);
            Some((path.as_path(), report::labels(&labels, args.papers.sheet())?))
        }
        None => None,
    };
    let rows = report::batch_rows(&made, &buy);
    Ok(Answer::new(args.papers.write(report, &rows, None, labels)?))
}

/// The bottle that is filled by eye where none was named, ml.
const USUAL_BOTTLE: f64 = 700.0;

//! `cost`: what a serve costs, and what it may be sold for.

use super::{PaperArgs, percent, price_lists};
use crate::console::commands::balance::spec_named;
use crate::console::commands::{drink_named, ran_out, view};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::drink::Spec;
use crate::measure::{Currency, Money};
use crate::pairing::Filter;
use crate::report::{self, CostTold, StandInCost};
use crate::riff::{SwapIn, swap_in};
use crate::service::{Cost, PriceList, Selling, ServiceError, USUAL_WASTE, cost, selling};

/// What a serve costs line by line, the price at a target pour cost and on the menu, the margin, what moves it most, and a
/// cheaper stand-in for the dearest line. Several --prices stand beside each other.
#[derive(Debug, Clone, clap::Args)]
#[command(
    after_help = "Examples:\n  cost negroni\n  cost negroni --tax 20% --prices house --prices mill-prices.csv"
)]
pub struct Args {
    /// A template's name, a result's number, or lines with commas between; the drink in hand if not given
    #[arg(value_name = "SPEC")]
    spec: Vec<String>,
    /// The pour cost that is aimed at, in per cent of the price without tax
    #[arg(long, value_name = "PER CENT", value_parser = target, default_value = "20 %")]
    target: f64,
    /// Tax on top, in per cent
    #[arg(long, value_name = "PER CENT", value_parser = tax, default_value = "0 %")]
    tax: f64,
    /// The price on the menu, tax included, in place of one worked out: 9.50 GBP
    #[arg(long, value_name = "SUM")]
    price: Option<String>,
    /// What menu prices are rounded up to: 0.50 GBP
    #[arg(long, value_name = "SUM")]
    step: Option<String>,
    /// What is spilt, tasted and left in bottles, in per cent
    #[arg(long, value_name = "PER CENT", value_parser = waste)]
    waste: Option<f64>,
    /// What a kilogram of ice costs, to count it: 0.30 GBP
    #[arg(long, value_name = "SUM")]
    ice_price: Option<String>,
    /// The prices: house, demo, or a table that 'export prices.csv' writes; may be given several times
    #[arg(long, value_name = "LIST")]
    prices: Vec<String>,
    #[command(flatten)]
    papers: PaperArgs,
}

fn target(text: &str) -> Result<f64, String> {
    match percent(text, 1.0, "a pour cost")? {
        share if share >= 0.01 => Ok(share),
        _ => Err("a pour cost under 1 % is no target".to_owned()),
    }
}

fn tax(text: &str) -> Result<f64, String> {
    percent(text, 1.0, "a tax")
}

fn waste(text: &str) -> Result<f64, String> {
    percent(text, 0.5, "a waste")
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let named = drink_named(&args.spec, desk, "SPEC").map_err(|f| f.hint("for example: cost negroni"))?;
    let (given, typed) = spec_named(desk, &named, None)?;
    let desk = &desk.in_unit_of(&given, typed);
    let spec = desk.house.in_pours(&given);
    let lists = price_lists(&args.prices, desk)?;
    let mut priced = Vec::new();
    for list in &lists {
        priced.push(with_list(args, &spec, list, desk)?);
    }
    let cheaper = match (lists.first(), priced.first()) {
        (Some(list), Some((first, _))) => Some(cheaper(args, &spec, first, list, desk)?),
        _ => None,
    };
    let told =
        CostTold { name: spec.in_words(), lists: &priced, cheaper: cheaper.as_deref(), view: view(desk) };
    let report = report::cost(&told);
    let rows = report::cost_rows(&priced);
    Ok(Answer::new(args.papers.write(report, &rows, None, None)?))
}

fn with_list<'s>(
    args: &Args,
    spec: &Spec<'s>,
    list: &PriceList,
    desk: &Desk<'s>,
) -> Result<(Cost<'s>, Selling<'s>), Failure> {
    let currency = currency_of(list)?;
    let ice = args.ice_price.as_deref().map(|text| sum("--ice-price", text, currency)).transpose()?;
    let waste = args.waste.unwrap_or(USUAL_WASTE);
    let serve = cost(&desk.library.book, spec, list, waste, ice, &desk.house.measures)?;
    let step = match &args.step {
        Some(text) => sum("--step", text, currency)?,
        None => usual_step(currency),
    };
    if step.ten_thousandths() <= 0 {
        return Err(Failure::usage(format!("--step {step}: it must be above 0")));
    }
    let given = args.price.as_deref().map(|text| sum("--price", text, currency)).transpose()?;
    if let Some(price) = given.filter(|p| p.ten_thousandths() <= 0) {
        return Err(Failure::usage(format!("--price {price}: it must be above 0")));
    }
    let sold = selling(&serve, args.target, args.tax, step, given)?;
    Ok((serve, sold))
}

/// The one currency of a list.
fn currency_of(list: &PriceList) -> Result<Currency, Failure> {
    match list.currencies().as_slice() {
        [one] => Ok(*one),
        [] => Err(Failure::mistake(format!("there is no price in '{}'", list.name)).hint(
            "write one down: price gin 24.50 GBP for 700 ml; or take the invented ones: --prices demo",
        )),
        [left, right, ..] => Err(ServiceError::Currencies { left: *left, right: *right }.into()),
    }
}

/// Half of the main unit where it has hundredths, fifty of it where it has none.
fn usual_step(currency: Currency) -> Money {
    let ten_thousandths = if currency.decimals() == 0 { 500_000 } else { 5_000 };
    // Both are far within the range.
    Money::new(ten_thousandths, currency).unwrap_or_else(|_| unreachable!("half a unit is in every range"))
}

fn sum(option: &str, text: &str, currency: Currency) -> Result<Money, Failure> {
    let bare = !text.contains(char::is_alphabetic);
    let whole = if bare { format!("{text} {currency}") } else { text.to_owned() };
    let sum: Money =
        whole.parse().map_err(|e: crate::measure::NotMoney| Failure::usage(format!("{option}: {e}")))?;
    if sum.currency() == currency {
        Ok(sum)
    } else {
        Err(Failure::usage(format!(
            "{option} {sum}: the prices are in {currency}, and currencies are never mixed"
        )))
    }
}

/// Stand-ins looked at, and shown.
const LOOKED_AT: usize = 40;
const SHOWN: usize = 3;
/// A stand-in keeps the drink in balance up to so many just-noticeable differences; *ours*.
const IN_BALANCE: f64 = 1.5;

/// Stand-ins for the dearest line that cost less and keep the balance, the most alike first.
fn cheaper<'s>(
    args: &Args,
    spec: &Spec<'s>,
    now: &Cost<'s>,
    list: &PriceList,
    desk: &Desk<'s>,
) -> Result<Vec<StandInCost<'s>>, Failure> {
    let Some(dearest) = now.dearest().filter(|l| !l.garnish) else { return Ok(Vec::new()) };
    let Some(line) = spec.lines.iter().position(|l| l.ingredient.id == dearest.ingredient.id) else {
        return Ok(Vec::new());
    };
    let filter = Filter { out: ran_out(desk, &[]), ..Filter::default() };
    let asked = SwapIn { spec: spec.clone(), line, filter, count: LOOKED_AT, mixtures: 0 };
    // Where nothing can stand in for it there is nothing to show.
    let Ok(found) = swap_in(desk.graph, &asked, &desk.house) else { return Ok(Vec::new()) };
    let ice = match (&args.ice_price, currency_of(list)) {
        (Some(text), Ok(currency)) => Some(sum("--ice-price", text, currency)?),
        _ => None,
    };
    let mut all = Vec::new();
    for drink in &found.drinks {
        let with = &drink.riff.spec;
        let priced = cost(&desk.library.book, with, list, now.waste_share, ice, &desk.house.measures);
        let Ok(priced) = priced else { continue };
        let all_priced = priced.missing().count() <= now.missing().count();
        if all_priced
            && priced.total.ten_thousandths() < now.total.ten_thousandths()
            && drink.riff.distance <= IN_BALANCE
        {
            all.push(StandInCost {
                instead_of: dearest.ingredient,
                ingredient: drink.stand_in.ingredient,
                lines: with
                    .lines
                    .iter()
                    .map(|l| format!("{} {}", l.amount.shown(desk.house.jigger.unit()), l.ingredient.name))
                    .collect(),
                alike: drink.stand_in.likeness.score(),
                total: priced.total,
                noticed: drink.riff.distance,
            });
        }
    }
    all.truncate(SHOWN);
    Ok(all)
}

//! `prep`: what to make for a day.

use jiff::civil::Date;

use super::{PaperArgs, date, number_behind, percent, today};
use crate::book::Wanted as Names;
use crate::console::commands::balance::spec_named;
use crate::console::commands::{joined, view};
use crate::console::desk::{Desk, Named, names_in};
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::measure::{Amount, Unit};
use crate::report;
use crate::service::{PriceList, Size, Wanted, prep_list};

/// What to make for a day: preparations, juice and garnish for the drinks that are expected, in the order of work, with how much,
/// what it costs and when it dies. A preparation by itself: prep 1 l ginger syrup.
#[derive(Debug, Clone, clap::Args)]
#[command(
    after_help = "Examples:\n  prep 30 daiquiri, 20 mojito\n  prep daiquiri, mojito --covers 80 --each 1.5"
)]
pub struct Args {
    /// Drinks with how many serves, or preparations with how much, with commas between
    #[arg(required = true, value_name = "N DRINK")]
    items: Vec<String>,
    /// How many guests are expected; the numbers before the drinks are then their shares
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=100_000))]
    covers: Option<u32>,
    /// How many of these drinks a guest has
    #[arg(long, value_name = "N", value_parser = each, default_value = "1", requires = "covers")]
    each: f64,
    /// What is made over what is expected, in per cent
    #[arg(long, value_name = "PER CENT", value_parser = spare, default_value = "10 %")]
    spare: f64,
    /// The day it is for, as 2026-11-27; today if not given
    #[arg(long, value_name = "DAY", value_parser = date)]
    made: Option<Date>,
    #[command(flatten)]
    papers: PaperArgs,
}

fn each(text: &str) -> Result<f64, String> {
    let number: f64 = text.trim().parse().map_err(|_| "write a number of drinks, such as 1.5".to_owned())?;
    if number > 0.0 && number <= 20.0 {
        Ok(number)
    } else {
        Err(format!("{text} drinks a guest: allowed is above 0 and up to 20"))
    }
}

fn spare(text: &str) -> Result<f64, String> {
    percent(text, 1.0, "a spare")
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.items);
    let mut wanted = Wanted { drinks: Vec::new(), preps: Vec::new(), spare: args.spare };
    for item in names_in(&text) {
        read(item, args, &mut wanted, desk)?;
    }
    if let Some(covers) = args.covers {
        let shares: f64 = wanted.drinks.iter().map(|(_, share)| share).sum();
        for (_, serves) in &mut wanted.drinks {
            *serves *= f64::from(covers) * args.each / shares;
        }
    }
    let all: f64 = wanted.drinks.iter().map(|(_, serves)| serves).sum();
    if all > f64::from(Size::MOST_SERVES) {
        return Err(Failure::mistake(format!("{all:.0} serves: allowed are up to {}", Size::MOST_SERVES)));
    }
    let prices = PriceList::of_house(&desk.library.book);
    let list = prep_list(&desk.library.book, &wanted, &prices, &desk.house.measures)?;
    let report = report::prep_list(&list, args.made.or_else(|| today(desk)), view(desk));
    let rows = report::prep_rows(&list);
    Ok(Answer::new(args.papers.write(report, &rows, None, None)?))
}

/// `30 daiquiri`, `1 l honey syrup`, or a drink alone where the covers are known.
fn read<'s>(item: &str, args: &Args, wanted: &mut Wanted<'s>, desk: &Desk<'s>) -> Result<(), Failure> {
    // Thirty daiquiris are thirty of the daiquiri.
    let is_there = |name: &str| desk.target(name, Names::Any).is_ok();
    let single = |name: &str| match name.strip_suffix('s') {
        Some(one) if !is_there(name) && is_there(one) => one.to_owned(),
        _ => name.to_owned(),
    };
    let named = |name: &str| match desk.target(&single(name), Names::Any)? {
        Named::Ingredient(ingredient) => Err(match desk.library.book.prep_of(&ingredient.id) {
            Some(_) => Failure::usage(format!("how much {}?", ingredient.name))
                .hint(format!("for example: prep 1 l {}", ingredient.name)),
            None => Failure::mistake(format!("{} is bought, not made", ingredient.name))
                .hint("'list preps' shows what the book makes"),
        }),
        _ => spec_named(desk, &single(name), None).map(|(spec, _)| desk.house.in_pours(&spec)),
    };
    if let Some((name, count)) =
        number_behind(item).filter(|_| !is_there(item) && Amount::split_from(item).is_err())
    {
        wanted.drinks.push((named(name)?, count));
        return Ok(());
    }
    match Amount::split_from(item) {
        Ok((amount, name)) if amount.unit() == Unit::Piece => {
            let name = name.strip_prefix("x ").unwrap_or(name);
            wanted.drinks.push((named(name)?, amount.count()));
        }
        Ok((amount, name)) => {
            let ingredient = desk.ingredient(name)?;
            if desk.library.book.prep_of(&ingredient.id).is_none() {
                return Err(Failure::mistake(format!(
                    "the book has no preparation that makes {}",
                    ingredient.name
                ))
                .hint("'list preps' shows those it has; 'new prep' adds one"));
            }
            let volume = amount.volume(&desk.house.measures).ok_or_else(|| {
                Failure::mistake(format!("{amount} is no volume")).hint("give ml, l, oz or cups")
            })?;
            wanted.preps.push((ingredient, volume));
        }
        Err(_) if args.covers.is_some() => wanted.drinks.push((named(item)?, 1.0)),
        Err(_) => {
            // A name that leads nowhere is told first.
            named(item)?;
            return Err(Failure::usage(format!("how many of {item}?"))
                .hint(format!("for example: prep 30 {item}; or give the guests: --covers 80")));
        }
    }
    Ok(())
}

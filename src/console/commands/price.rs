//! `price`: what an ingredient costs as it is bought.

use super::joined;
use crate::book::{Ingredient, Price, RecordChange, RecordEdit, RecordKind};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::keep::{field, kept, path_of, set};
use crate::console::session::{Answer, Pick};
use crate::measure::{Amount, Currency, Money};
use crate::report;

/// Writes down what an ingredient costs and how much is in one. Without a sum: what is written; without a name: all prices.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  price mezcal 34.50 EUR for 700 ml\n  price --missing")]
pub struct Args {
    /// An ingredient, the sum with its currency (left out: that of the other prices), 'for', and what is in one
    #[arg(value_name = "NAME SUM for SIZE")]
    words: Vec<String>,
    /// What there is to say of it: where from, with or without tax
    #[arg(long, value_name = "WORDS")]
    note: Option<String>,
    /// Take the price out
    #[arg(long)]
    forget: bool,
    /// What the kept drinks of the house pour that has no price yet
    #[arg(long, conflicts_with = "words")]
    missing: bool,
    /// Show the change, and keep nothing
    #[arg(long)]
    dry_run: bool,
}

const EXAMPLE: &str = "for example: price mezcal 34.50 EUR for 700 ml";

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let house = desk.library.book.house();
    let text = joined(&args.words);
    if args.missing {
        return Ok(listed(&missing(desk), "No price yet", desk));
    }
    if text.is_empty() {
        let all: Vec<_> = house.prices().filter_map(|p| desk.library.book.ingredient(&p.of)).collect();
        return Ok(listed(&all, "Prices", desk));
    }
    let (name, sum) = parted(&text);
    let of = desk.ingredient(&name)?;
    let path = path_of(RecordKind::Price, of.id.as_str())?;
    let (edit, title) = match (&sum, args.forget) {
        (None, false) if args.note.is_none() => {
            return Ok(listed(&[of], &format!("What {} costs", of.name), desk));
        }
        (None, false) => {
            (set(path, args.note.iter().map(|n| field(&["note"], n)).collect()), of.name.clone())
        }
        (_, true) => (
            RecordEdit { path, change: RecordChange::Remove },
            format!("{}: the price is taken out", of.name),
        ),
        (Some(sum), false) => {
            let (paid, size) = read(sum, desk)?;
            let mut fields = vec![field(&["of"], &of.id), field(&["paid"], &paid), field(&["size"], &size)];
            fields.extend(args.note.iter().map(|n| field(&["note"], n)));
            (set(path, fields), format!("{}: {paid} for {size}", of.name))
        }
    };
    let edited = desk.keep(&format!("price {text}"), &[edit], args.dry_run)?;
    Ok(kept("price", title, &edited, args.dry_run, Vec::new()))
}

fn listed(all: &[&Ingredient], title: &str, desk: &Desk<'_>) -> Answer {
    let picks = all.iter().map(|i| Pick::Ingredient(i.id.clone())).collect();
    Answer::picking(report::prices(&desk.library.book, all, title), picks)
}

/// What the house's drinks pour that has no price.
fn missing<'s>(desk: &Desk<'s>) -> Vec<&'s Ingredient> {
    let book = &desk.library.book;
    let kept = book.templates().iter().filter(|t| t.kept);
    let mut poured: Vec<&Ingredient> =
        kept.flat_map(|t| &t.slots).filter_map(|s| book.ingredient(&s.classic)).collect();
    poured.sort_by(|a, b| a.id.cmp(&b.id));
    poured.dedup_by(|a, b| a.id == b.id);
    poured.retain(|i| book.house().price(&i.id).is_none());
    poured
}

/// The name, and what is said of the price: from the first number, or sign of money, on.
fn parted(text: &str) -> (String, Option<String>) {
    let words: Vec<&str> = text.split_whitespace().collect();
    let starts = |word: &str| word.starts_with(|c: char| c.is_ascii_digit() || "€£$-.".contains(c));
    match (1..words.len()).find(|at| starts(words[*at])) {
        Some(at) => {
            // `mezcal EUR 34.50`: the currency before the sum belongs to it.
            let is_code = |w: &str| w.len() == 3 && w.bytes().all(|b| b.is_ascii_uppercase());
            let at = if at > 1 && is_code(words[at - 1]) { at - 1 } else { at };
            (words[..at].join(" ").trim_end_matches([',', ':', '=']).to_owned(), Some(words[at..].join(" ")))
        }
        None => (text.to_owned(), None),
    }
}

/// `34.50 EUR for 700 ml`: the sum and the size.
fn read(text: &str, desk: &Desk<'_>) -> Result<(Money, Amount), Failure> {
    let parts =
        text.split_once(" for ").or_else(|| text.split_once(" per ")).or_else(|| text.split_once('/'));
    let Some((sum, size)) = parts else {
        return Err(Failure::usage(format!(
            "'{text}' does not say what is in one: 'for' and a size are missing"
        ))
        .hint(EXAMPLE));
    };
    let size = size.trim();
    let size = if size.starts_with(|c: char| c.is_ascii_digit() || c == '.') {
        size.to_owned()
    } else {
        format!("1 {size}")
    };
    let size = size.parse::<Amount>().map_err(|e| Failure::usage(e.to_string()).hint(EXAMPLE))?;
    let sum = signed(sum.trim());
    let has_code = sum.chars().any(char::is_alphabetic);
    let sum = if has_code { sum } else { format!("{sum} {}", usual_currency(desk)?) };
    let paid = sum.parse::<Money>().map_err(|e| Failure::usage(e.to_string()).hint(EXAMPLE))?;
    if paid.ten_thousandths() < 0 {
        return Err(Failure::usage(format!("{paid} is less than nothing")).hint(EXAMPLE));
    }
    Ok((paid, size))
}

/// `€34.50` as `34.50 EUR`; the dollar sign is many countries' and stays.
fn signed(sum: &str) -> String {
    for (sign, code) in [('€', "EUR"), ('£', "GBP")] {
        if sum.contains(sign) {
            return format!("{} {code}", sum.replace(sign, "").trim());
        }
    }
    sum.to_owned()
}

/// The currency that all prices of the house are in.
fn usual_currency(desk: &Desk<'_>) -> Result<Currency, Failure> {
    let mut all: Vec<Currency> =
        desk.library.book.house().prices().map(|p: &Price| p.paid.currency()).collect();
    all.sort_by_key(|c| c.code().to_owned());
    all.dedup();
    match all.as_slice() {
        [one] => Ok(*one),
        _ => Err(Failure::usage("which currency? its three letters are missing").hint(EXAMPLE)),
    }
}

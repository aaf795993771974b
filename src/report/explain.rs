//! How an answer came about: every term with what it is made of, so that a person can add it up again.
//!
//! Each figure is rounded where it is printed and nowhere earlier, so a printed sum may differ from the sum of what is
//! printed by half of the last digit for each term.

mod glass;
mod harmony;
mod likeness;
mod score;

use serde_json::{Value, json};

pub use self::likeness::{Standing, companion_explained, stand_in_explained, swap_explained};

use self::glass::{account_data, account_table, account_words, difference_data, difference_table};
use self::harmony::{harmony_data, pairs_table, voices_table, weight_digits};
use self::score::{score_rows_data, score_table};
use super::balance::dilution_words;
use super::describe::cautions;
use super::phrase::{View, counted};
use super::riffs::{change_names, comes_to, spec_words};
use super::{Column, Report, Table};
use crate::book::Book;
use crate::riff::Explained;

/// Under every sum that is printed.
const ROUNDED: &str =
    "figures are rounded as printed: a sum may be off by half of the last digit for each term";

/// How a variant of a classic came to its place.
pub fn riff_explained(
    book: &Book,
    classic: &str,
    number: usize,
    found: &Explained<'_>,
    view: View,
) -> Report {
    let riff = &found.riff;
    let data = json!({
        "ok": true,
        "command": "explain",
        "of": "riff",
        "number": number,
        "classic": classic,
        "harmony": harmony_data(found),
        "score": score_rows_data(found),
        "balance": difference_data(found),
        "amounts": amounts_data(found),
        "account": account_data(&found.account),
    });
    let mut report = Report::new(format!("{classic}, variant {number}: {}", change_names(riff)), data)
        .facts(vec![
            ("it is".to_owned(), spec_words(&riff.spec, view)),
            ("comes to".to_owned(), comes_to(&riff.figures, view)),
        ])
        .heading("What it was ranked by")
        .table(score_table(found))
        .note("the plainest that does what was asked stands first whatever its figure, then the best others, none of them one idea twice")
        .heading("Harmony: how well it goes together");
    report = with_harmony(report, found);
    report = report.heading("Balance: how far it is from what it should come to");
    report = with_balance(report, found);
    report = report.heading("The glass: how strength, sugar and acid come about");
    report = with_glass(report, found, view);
    for caution in cautions(book, riff.spec.cautions().into_iter()) {
        report = report.caution(caution.text.clone());
    }
    report
}

fn with_harmony(report: Report, found: &Explained<'_>) -> Report {
    let weights: f64 = found.pairs.iter().map(|p| p.weight).sum();
    let products: f64 = found.pairs.iter().map(|p| p.product()).sum();
    let digits = weight_digits(found);
    let report = report.table(voices_table(found)).table(pairs_table(found));
    let report = if weights > 0.0 {
        report.text(format!(
            "harmony = {products:.digits$} / {weights:.digits$} = {:.3}",
            found.riff.harmony.score
        ))
    } else {
        report.text("there are no two lines to go together, so harmony is 0")
    };
    report
        .note("a line's weight is its loudness times the square root of its share of what is poured, before the amounts were found; a pair's is both lines' multiplied; product: affinity times weight")
        .note("where the book has neither an affinity nor a clash, it is inferred; a clash counts nothing")
}

fn with_balance(report: Report, found: &Explained<'_>) -> Report {
    let (combinations, mixed) = found.riff.amounts;
    let of = counted(
        usize::try_from(combinations).unwrap_or(usize::MAX),
        "combination of amounts",
        "combinations of amounts",
    );
    report
        .table(difference_table(found))
        .note("step: the least that a taster notices; noticed: off by, divided by the step; their sum is the distance")
        .text(format!(
            "The jigger and the limits of the lines allow {of}; {mixed} had to be mixed, the others are proven to be no better."
        ))
        .note("better is nearer, but also close to the amounts it started from, with few second marks, in as full a glass")
}

fn with_glass(report: Report, found: &Explained<'_>, view: View) -> Report {
    let report = report
        .table(account_table(&found.account, view))
        .note("ethanol, water, sugar and acid in grams; acid as citric")
        .text(account_words(&found.account).join("\n"));
    report.note(dilution_words(&found.riff.figures, view)).note(ROUNDED)
}

fn amounts_data(found: &Explained<'_>) -> Value {
    let (combinations, mixed) = found.riff.amounts;
    json!({ "combinations": combinations, "mixed": mixed })
}

/// A table of a term, how it comes about, and what it adds.
fn terms_table(first: &str, last: &str) -> Table {
    Table::new([Column::left(first), Column::flexible("how"), Column::right(last)])
}

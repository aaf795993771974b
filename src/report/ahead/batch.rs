//! A batch, as a report.

mod blocks;
mod data;

use jiff::civil::Date;

use self::blocks::{
    buy_table, by_eye_marks, by_eye_table, container_facts, freezer_facts, held_table, lines_table,
    steps_text, top_facts,
};
pub(super) use self::blocks::{buys, lines_table as lines};
pub(super) use self::data::{batch_data, bought_data};
use super::cost::total_words;
use super::words::{
    ahead_texts, keep_by, keeping_facts, keeps_words, percent, practice_words, standard_drinks,
};
use crate::book::Book;
use crate::measure::Volume;
use crate::report::Report;
use crate::report::describe::cautions;
use crate::report::phrase::{View, signed};
use crate::service::{Batch, Bought, ByEye, Cost, Style};

/// A batch and what goes with it.
#[derive(Debug, Clone)]
pub struct BatchTold<'b, 'r> {
    /// The book it is from.
    pub book: &'b Book,
    /// The batch.
    pub batch: &'r Batch<'b>,
    /// What must be bought.
    pub buy: &'r [Bought<'b>],
    /// What a serve costs; none where nothing has a price.
    pub cost: Option<&'r Cost<'b>>,
    /// Bottles filled by eye, if that was asked.
    pub by_eye: Option<&'r ByEye<'b>>,
    /// The day it is made.
    pub made: Option<Date>,
    /// Who makes it, for the papers.
    pub house: Option<String>,
    /// What it is read with.
    pub view: View,
}

/// A batch: what goes in, what is held back, the bottles, the freezer, how it keeps, what to buy and what it costs.
pub fn batch(told: &BatchTold<'_, '_>) -> Report {
    let (batch, view) = (told.batch, told.view);
    let unit = view.unit;
    let title = format!("{}: {}", batch.spec.name, batch.style.words());
    let mut report = Report::new(title, data::data(told))
        .facts(top_facts(batch, unit))
        .heading("In the batch")
        .table(lines_table(told));
    report = report.note(format!(
        "rounded to what a jug or a scale shows: off by {} at most in a line; all of it {} % vol, {} g/L sugar, {} g/L acid",
        percent(batch.rounding_error()),
        signed(batch.as_measured.strength.percent_vol() - batch.measured.strength.percent_vol(), 2),
        signed(batch.as_measured.sugar.grams_per_litre() - batch.measured.sugar.grams_per_litre(), 1),
        signed(batch.as_measured.acid.grams_per_litre() - batch.measured.acid.grams_per_litre(), 2),
    ));
    let cold = matches!(batch.style, Style::Chilled | Style::Freezer);
    if let Some(practice) = batch.water.practice.as_ref().filter(|_| batch.water_in_batch > Volume::ZERO) {
        report = report.note(practice_words(practice, batch.single.water, cold, unit));
    }
    if let Some(table) = held_table(batch, unit) {
        report = report.heading("Held back, for service").table(table);
    }
    if batch.style == Style::Punch {
        report = report.note(
            "a block of ice melts slowly: freeze one that fills a third of the bowl, and put it in when the guests come; common practice",
        );
    }
    if let Some(facts) = container_facts(batch, unit) {
        report = report.heading("Containers").facts(facts);
    }
    if let Some(facts) = freezer_facts(batch, unit) {
        report = report.heading("In the freezer").facts(facts);
    }
    if let Some(by_eye) = told.by_eye {
        report = report.heading("Filled by eye").table(by_eye_table(by_eye, unit)).bottle(by_eye_marks(by_eye, unit)).note(format!(
            "each line alone off, the rest as written; a height where the sides are straight, {:.0} mm wide inside; the volumes stand as poured, before they mix and contract",
            by_eye.across_mm
        ));
    }
    let mut keeping = vec![
        ("keeps".to_owned(), keeps_words(&batch.keeps)),
        ("by the rules".to_owned(), keeping_facts(&batch.keeps, &batch.measured)),
    ];
    if let Some(made) = told.made {
        keeping.insert(0, ("made on".to_owned(), made.to_string()));
        keeping.insert(1, ("keep by".to_owned(), keep_by(made, batch.keeps.days).to_string()));
    }
    let allergens = batch.spec.allergens();
    if !allergens.is_empty() {
        let names: Vec<&str> = allergens.iter().map(|a| a.name()).collect();
        keeping.push(("allergens".to_owned(), names.join(", ")));
    }
    keeping.push(("a serve is".to_owned(), standard_drinks(batch.in_glass.ethanol).join(", ")));
    report = report.heading("Keeping, and for the label").facts(keeping);
    report = report.heading("In this order").text(steps_text(batch, unit));
    report = report.heading("To buy").table(buy_table(told.buy, unit));
    if let Some(cost) = told.cost {
        report = report.facts(total_words(cost, batch.serves));
    }
    if told.buy.iter().any(is_demo) || told.cost.is_some_and(Cost::is_demo) {
        report = report
            .note("demo prices, invented, where the house has none of its own: 'price' writes yours down");
    }
    for text in ahead_texts(batch.cautions()) {
        report = report.caution(text);
    }
    for caution in cautions(told.book, batch.spec.cautions().into_iter()) {
        report = report.caution(caution.text.clone());
    }
    report
}

fn is_demo(bought: &Bought<'_>) -> bool {
    bought.pack.as_ref().is_some_and(|pack| pack.source == crate::service::Source::Demo)
}

//! What to make for a day, as a report.

use jiff::civil::Date;
use serde_json::json;

use super::batch::{bought_data, buys};
use super::words::{days_words, keep_by, money, much, need_data, need_words, place_words};
use crate::measure::{HouseUnit, Money};
use crate::report::phrase::{View, counted, listed, trimmed};
use crate::report::{Cell, Column, Report, Table, Tone};
use crate::service::{Need, PrepJob, PrepList};

/// What to make, in which order, how much, and when it dies.
pub fn prep_list(list: &PrepList<'_>, made: Option<Date>, view: View) -> Report {
    let unit = view.unit;
    let data = json!({
        "ok": true,
        "command": "prep",
        "drinks": list.drinks.iter().map(|(name, serves)| json!({ "name": name, "serves": serves })).collect::<Vec<_>>(),
        "spare": list.spare,
        "made_on": made.map(|d| d.to_string()),
        "jobs": list.jobs.iter().map(|job| json!({
            "id": job.ingredient.id.as_str(),
            "name": job.ingredient.name,
            "need": need_data(job.need),
            "form": job.form,
            "times": job.recipe.map(|(_, times)| times),
            "lines": job.lines.iter().map(|(of, need)| json!({
                "id": of.id.as_str(), "name": of.name, "need": need_data(*need),
            })).collect::<Vec<_>>(),
            "keeps_days": job.keeps.and_then(|k| k.opened),
            "dies_on": dies(job, made).map(|d| d.to_string()),
            "cost": job.cost.map(|c| c.to_string()),
            "drinks": job.drinks,
        })).collect::<Vec<_>>(),
        "bring": list.bring.iter().map(bought_data).collect::<Vec<_>>(),
    });
    let title = made.map_or_else(|| "Prep list".to_owned(), |made| format!("Prep list for {made}"));
    let mut report = Report::new(title, data);
    if !list.drinks.is_empty() {
        let drinks: Vec<String> =
            list.drinks.iter().map(|(name, serves)| format!("{} {name}", trimmed(*serves, 1))).collect();
        report = report.facts(vec![
            ("for".to_owned(), listed(&drinks)),
            ("spare".to_owned(), format!("{} % over what is expected", trimmed(100.0 * list.spare, 1))),
        ]);
    }
    if list.jobs.is_empty() {
        return report.text("Nothing is made or pressed for these drinks.");
    }
    report = report.heading("In this order").table(jobs_table(list, made, unit));
    for job in list.jobs.iter().filter(|job| job.recipe.is_some()) {
        report = with_recipe(report, job, unit);
    }
    if !list.bring.is_empty() {
        report = report.heading("To have there").table(bring_table(list, unit));
    }
    let costs: Vec<Money> = list.jobs.iter().filter_map(|job| job.cost).collect();
    // What goes into another preparation is in its cost already, so the sum would count it twice.
    let unpriced = list.jobs.len() - costs.len();
    if unpriced > 0 {
        report = report.note(format!("{} with no price in it", counted(unpriced, "line", "lines")));
    }
    report.note("the dates are common practice with clean bottles and a cold fridge: label each with its day, taste before you use it, follow your local food rules")
}

fn dies(job: &PrepJob<'_>, made: Option<Date>) -> Option<Date> {
    Some(keep_by(made?, job.keeps?.opened?))
}

fn jobs_table(list: &PrepList<'_>, made: Option<Date>, unit: HouseUnit) -> Table {
    let mut table = Table::new([
        Column::flexible("make"),
        Column::right("how much"),
        Column::flexible("from"),
        Column::left(if made.is_some() { "dies on" } else { "keeps" }),
        Column::right("costs"),
        Column::flexible("for"),
    ])
    .numbered();
    for job in &list.jobs {
        let name = match &job.form {
            Some(form) => format!("{}: {form}", job.ingredient.name),
            None => job.ingredient.name.clone(),
        };
        let from = match (&job.recipe, &job.pieces) {
            (Some((_, times)), _) => format!("{} of its making", trimmed(*times, 2)),
            (None, Some(p)) => format!("{} {} ({} to {})", p.usual, p.fruit.name, p.fewest, p.most),
            (None, None) => String::new(),
        };
        let keeps = match (dies(job, made), job.keeps) {
            (Some(date), _) => date.to_string(),
            (None, Some(keeps)) => keeps.opened.map_or_else(|| "for years".to_owned(), days_words),
            (None, None) => String::new(),
        };
        table.push([
            Cell::new(name, Tone::Strong),
            job_words(job, unit).into(),
            from.into(),
            keeps.into(),
            job.cost.map(money).unwrap_or_default().into(),
            Cell::new(job.drinks.join(", "), Tone::Quiet),
        ]);
    }
    table
}

/// How much of it, a volume in both units.
fn job_words(job: &PrepJob<'_>, unit: HouseUnit) -> String {
    match job.need {
        Need::Volume(of) => much(of, unit),
        need => need_words(need, unit),
    }
}

fn with_recipe(report: Report, job: &PrepJob<'_>, unit: HouseUnit) -> Report {
    let Some((prep, _)) = job.recipe else { return report };
    let mut table = Table::new([Column::right("amount"), Column::flexible("goes in")]);
    for (of, need) in &job.lines {
        table.push([Cell::from(need_words(*need, unit)), Cell::new(of.name.clone(), Tone::Strong)]);
    }
    let steps: Vec<String> =
        prep.steps.iter().enumerate().map(|(i, step)| format!("{}. {step}", i + 1)).collect();
    let keeps = format!(
        "keeps {} {}",
        prep.keeps.opened.map_or_else(|| "for years".to_owned(), days_words),
        place_words(prep.keeps.store)
    );
    report
        .heading(format!("{}: {}", job.ingredient.name, job_words(job, unit)))
        .table(table)
        .text(steps.join("\n"))
        .note(keeps)
}

fn bring_table(list: &PrepList<'_>, unit: HouseUnit) -> Table {
    let mut table = Table::new([Column::flexible("what"), Column::right("needed"), Column::flexible("buy")]);
    for bought in list.bring.iter().filter(|b| !b.water) {
        let (buys, left, _) = buys(bought);
        let buys = if left.is_empty() || left == "nothing" { buys } else { format!("{buys}, {left} left") };
        table.push([
            Cell::new(bought.ingredient.name.clone(), Tone::Strong),
            need_words(bought.need, unit).into(),
            Cell::new(buys, Tone::Quiet),
        ]);
    }
    table
}

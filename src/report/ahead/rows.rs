//! What is made ahead as rows for a spreadsheet.

use crate::drink::Spec;
use crate::service::{Batch, Bought, Cost, Kit, Need, PrepList, Selling};

/// Rows under the names of their columns, which say their units.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rows {
    /// The names of the columns.
    pub header: Vec<&'static str>,
    /// The rows.
    pub rows: Vec<Vec<String>>,
}

/// What a spreadsheet would take for a formula begins with one of these; an apostrophe before it says that it is text.
const STARTS: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

impl Rows {
    /// As CSV: RFC 4180, a line feed at the end of a line.
    ///
    /// # Errors
    /// None that writing into memory has.
    pub fn text(&self) -> Result<Vec<u8>, csv::Error> {
        let mut writer =
            csv::WriterBuilder::new().terminator(csv::Terminator::Any(b'\n')).from_writer(Vec::new());
        writer.write_record(&self.header)?;
        for row in &self.rows {
            writer.write_record(row.iter().map(|cell| {
                let is_number = cell.parse::<f64>().is_ok();
                if cell.starts_with(STARTS) && !is_number { format!("'{cell}") } else { cell.clone() }
            }))?;
        }
        writer.into_inner().map_err(|error| error.into_error().into())
    }
}

fn number(value: f64) -> String {
    format!("{value:.4}").trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn some(value: Option<f64>) -> String {
    value.map(number).unwrap_or_default()
}

/// `ml`, `g` or the unit it is counted in, and how many.
fn need(need: Need) -> [String; 2] {
    match need {
        Need::Volume(of) => [number(of.ml()), "ml".to_owned()],
        Need::Mass(of) => [number(of.grams()), "g".to_owned()],
        Need::Count(count, unit) => [number(count), unit.name().to_owned()],
    }
}

/// A batch: a row a line, the water first.
pub fn batch_rows(batch: &Batch<'_>, buy: &[Bought<'_>]) -> Rows {
    let header = vec![
        "goes in",
        "in batch ml",
        "measure ml",
        "weighs g",
        "at service each",
        "unit",
        "held back because",
        "needed",
        "needed unit",
        "packs",
        "pack",
        "paid",
    ];
    let water = |ml: f64, measured: f64| {
        let mut row = vec!["water".to_owned(), number(ml), number(measured), number(0.9982 * ml)];
        row.resize(header.len(), String::new());
        row
    };
    let mut rows = Vec::new();
    if batch.water_in_batch.ml() > 0.0 {
        rows.push(water(batch.water_in_batch.ml(), batch.water_measured.volume.ml()));
    }
    for (line, bought) in batch.lines.iter().zip(buy) {
        let [each, unit] = line.at_service.map_or([String::new(), String::new()], need);
        let [needed, needed_unit] = need(line.need);
        let pack = bought.pack.as_ref();
        rows.push(vec![
            line.line.ingredient.name.clone(),
            number(line.in_batch.ml()),
            number(line.measured.volume.ml()),
            some(line.grams.map(|g| g.grams())),
            each,
            unit,
            line.held.as_ref().map_or(String::new(), |h| h.why.clone()),
            needed,
            needed_unit,
            pack.map_or(String::new(), |p| p.whole.to_string()),
            pack.map_or(String::new(), |p| p.size.to_string()),
            pack.map_or(String::new(), |p| p.paid.to_string()),
        ]);
    }
    Rows { header, rows }
}

/// A kit: what is in the mix, then the spirit that the guest adds.
pub fn kit_rows(kit: &Kit<'_>, buy: &[Bought<'_>]) -> Rows {
    let mut rows = batch_rows(&kit.mix, buy);
    for (spirit, volume) in &kit.spirits {
        let mut row = vec![String::new(); rows.header.len()];
        row[0].clone_from(&spirit.name);
        row[4] = number(volume.ml());
        "ml".clone_into(&mut row[5]);
        "the guest adds it".clone_into(&mut row[6]);
        rows.rows.push(row);
    }
    rows
}

/// Costs: a row a line and list of prices, and one for the whole.
pub fn cost_rows(lists: &[(Cost<'_>, Selling<'_>)]) -> Rows {
    let header =
        vec!["prices", "line", "amount", "unit", "cost", "currency", "pour cost", "menu price", "margin"];
    let mut rows = Vec::new();
    let money = |sum: crate::measure::Money| {
        let text = sum.to_string();
        let (number, currency) = text.split_once(' ').unwrap_or((&text, ""));
        [number.to_owned(), currency.to_owned()]
    };
    for (cost, selling) in lists {
        let mut push =
            |line: &str, amount: [String; 2], sum: Option<crate::measure::Money>, rest: [String; 3]| {
                let [sum, currency] = sum.map_or([String::new(), String::new()], money);
                let [amount, unit] = amount;
                let [pour_cost, menu, margin] = rest;
                rows.push(vec![
                    cost.list.clone(),
                    line.to_owned(),
                    amount,
                    unit,
                    sum,
                    currency,
                    pour_cost,
                    menu,
                    margin,
                ]);
            };
        let none = || [String::new(), String::new(), String::new()];
        for line in &cost.lines {
            push(&line.ingredient.name, need(line.need), line.cost.as_ref().map(|(sum, _)| *sum), none());
        }
        push("waste", [number(100.0 * cost.waste_share), "%".to_owned()], Some(cost.waste), none());
        if let Some(ice) = cost.ice {
            push("ice", [String::new(), String::new()], Some(ice), none());
        }
        let [menu, _] = money(selling.menu);
        let [margin, _] = money(selling.margin);
        push(
            "a serve",
            ["1".to_owned(), String::new()],
            Some(cost.total),
            [number(selling.pour_cost), menu, margin],
        );
    }
    Rows { header, rows }
}

/// A prep list: a row a job, in order.
pub fn prep_rows(list: &PrepList<'_>) -> Rows {
    let header =
        vec!["order", "make", "form", "amount", "unit", "times its making", "keeps days", "cost", "for"];
    let rows = list
        .jobs
        .iter()
        .enumerate()
        .map(|(place, job)| {
            let [amount, unit] = need(job.need);
            vec![
                (place + 1).to_string(),
                job.ingredient.name.clone(),
                job.form.clone().unwrap_or_default(),
                amount,
                unit,
                some(job.recipe.map(|(_, times)| times)),
                job.keeps.and_then(|k| k.opened).map_or(String::new(), |days| days.to_string()),
                job.cost.map_or(String::new(), |sum| sum.to_string()),
                job.drinks.join(", "),
            ]
        })
        .collect();
    Rows { header, rows }
}

/// Specs: a row a line, garnish last.
pub fn card_rows(specs: &[&Spec<'_>]) -> Rows {
    let header = vec!["drink", "method", "glass", "amount", "ingredient", "role"];
    let mut rows = Vec::new();
    for spec in specs {
        let start = || vec![spec.name.clone(), spec.method.name().to_owned(), spec.glass.clone()];
        for line in &spec.lines {
            let mut row = start();
            row.extend([line.amount.to_string(), line.ingredient.name.clone(), line.role.name().to_owned()]);
            rows.push(row);
        }
        for (ingredient, form) in &spec.garnish {
            let mut row = start();
            row.extend([form.clone(), ingredient.name.clone(), "garnish".to_owned()]);
            rows.push(row);
        }
    }
    Rows { header, rows }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_spreadsheet_would_run_is_text() {
        let rows = Rows {
            header: vec!["a"],
            rows: vec![vec!["=1+1".to_owned()], vec!["-2.5".to_owned()], vec!["a, \"b\"".to_owned()]],
        };
        assert_eq!(String::from_utf8(rows.text().unwrap()).unwrap(), "a\n'=1+1\n-2.5\n\"a, \"\"b\"\"\"\n");
    }
}

//! What a drink costs and what it may be sold for, as a report.

use serde_json::{Value, json};

use super::words::{money, need_data, need_words, percent};
use crate::book::Ingredient;
use crate::measure::{HouseUnit, Money};
use crate::report::phrase::{View, listed, trimmed};
use crate::report::{Cell, Column, Report, Table, Tone};
use crate::service::{Cost, CostLine, From, ICE_A_SERVE, Need, Selling, share_of};

/// A stand-in for the dearest line that costs less.
#[derive(Debug, Clone)]
pub struct StandInCost<'b> {
    /// What would come out.
    pub instead_of: &'b Ingredient,
    /// What would come in.
    pub ingredient: &'b Ingredient,
    /// The drink with it, line by line.
    pub lines: Vec<String>,
    /// How alike the two are, 0 to 1.
    pub alike: f64,
    /// What a serve would cost.
    pub total: Money,
    /// How far the drink would move, in just-noticeable differences; under 1 is too close to taste.
    pub noticed: f64,
}

/// A drink's cost and what goes with it.
#[derive(Debug, Clone)]
pub struct CostTold<'b, 'r> {
    /// What the drink is called.
    pub name: String,
    /// By each list of prices, with what it may be sold for; the first is the one that is shown in full.
    pub lists: &'r [(Cost<'b>, Selling<'b>)],
    /// Cheaper stand-ins for the dearest line, the most alike first; none if that was not asked.
    pub cheaper: Option<&'r [StandInCost<'b>]>,
    /// What it is read with.
    pub view: View,
}

/// What a serve costs, line by line; the price at the target; what moves it; other lists beside it.
pub fn cost(told: &CostTold<'_, '_>) -> Report {
    let mut report = Report::new(format!("What {} costs", told.name), data(told));
    let Some((cost, selling)) = told.lists.first() else { return report };
    let (unit, currency) = (told.view.unit, cost.total.currency());
    report = report.table(lines_table(cost, unit));
    let missing: Vec<&str> = cost.missing().map(|i| i.name.as_str()).collect();
    if !missing.is_empty() {
        report = report.note(format!(
            "no price for {}: all that stands here is at least so much; 'price {} 24.50 {currency} for 700 ml' writes one down",
            listed(&missing),
            missing[0]
        ));
    }
    report = report.heading("On the menu").facts(selling_facts(cost, selling));
    report = report.heading("What moves it").table(moves_table(selling));
    if let Some(cheaper) = told.cheaper {
        report = with_cheaper(report, cost, cheaper);
    }
    if told.lists.len() > 1 {
        report = report.heading("Beside each other").table(lists_table(told.lists));
    }
    if cost.ice.is_none() {
        report = report.note(format!(
            "ice is not counted: --ice-price 0.30 {currency} a kilogram counts {} g a serve, common practice",
            trimmed(ICE_A_SERVE, 0)
        ));
    }
    if told.lists.iter().any(|(cost, _)| cost.is_demo()) {
        report = report
            .note("demo prices, invented, where the house has none of its own: 'price' writes yours down");
    }
    report
}

fn lines_table(cost: &Cost<'_>, unit: HouseUnit) -> Table {
    let mut table = Table::new([
        Column::flexible("line"),
        Column::right("amount"),
        Column::flexible("at"),
        Column::right("costs"),
        Column::right("share"),
    ]);
    for line in &cost.lines {
        let name = if line.garnish {
            format!("{}, on top", line.ingredient.name)
        } else {
            line.ingredient.name.clone()
        };
        let (at, sum, share) = match &line.cost {
            Some((sum, from)) => (from_words(from), fine(*sum), percent(share_of(*sum, cost.total))),
            None => ("no price".to_owned(), "?".to_owned(), String::new()),
        };
        table.push([
            Cell::new(name, Tone::Strong),
            need_words(line.need, unit).into(),
            Cell::new(at, Tone::Quiet),
            sum.into(),
            share.into(),
        ]);
    }
    table.push([
        Cell::from("waste"),
        percent(cost.waste_share).into(),
        Cell::new("spilt, tasted, left in bottles", Tone::Quiet),
        fine(cost.waste).into(),
        percent(share_of(cost.waste, cost.total)).into(),
    ]);
    if let Some(ice) = cost.ice {
        table.push([
            Cell::from("ice"),
            format!("{} g", trimmed(ICE_A_SERVE, 0)).into(),
            Cell::new("made and poured over", Tone::Quiet),
            fine(ice).into(),
            percent(share_of(ice, cost.total)).into(),
        ]);
    }
    table.push([
        Cell::new("a serve", Tone::Strong),
        "".into(),
        "".into(),
        Cell::new(fine(cost.total), Tone::Strong),
        percent(1.0).into(),
    ]);
    table
}

/// Money to a hundredth of the smallest coin: a dash costs less than a penny.
fn fine(sum: Money) -> String {
    if sum == sum.rounded() { money(sum) } else { sum.to_string() }
}

fn from_words(from: &From<'_>) -> String {
    match from {
        From::Price { paid, size, source } => format!("{paid} for {size}, {source}"),
        From::Fruit { fruit, pieces, source } => {
            format!("{} {}, pressed, {source}", trimmed(*pieces, 2), fruit.name)
        }
        From::Prep { whole, makes, .. } => format!("made here: {} for {:.0} ml", money(*whole), makes.ml()),
        From::Water => "from the tap".to_owned(),
    }
}

fn selling_facts(cost: &Cost<'_>, selling: &Selling<'_>) -> Vec<(String, String)> {
    let fact = |label: &str, value: String| (label.to_owned(), value);
    let tax = if selling.tax > 0.0 {
        format!(", {} with {} tax", money(selling.at_target), percent(selling.tax))
    } else {
        String::new()
    };
    let mut facts = vec![
        fact("a serve costs", money(cost.total)),
        fact(
            "at target",
            format!("{} at a pour cost of {}{tax}", money(selling.net_at_target), percent(selling.target)),
        ),
    ];
    facts.push(fact(
        "menu price",
        match selling.step {
            Some(step) => format!("{}, rounded up to the next {}", money(selling.menu), money(step)),
            None => format!("{}, as given", money(selling.menu)),
        },
    ));
    let without =
        if selling.tax > 0.0 { format!(" of {} without tax", money(selling.net)) } else { String::new() };
    facts.push(fact("pour cost", format!("{:.1} %{without}", 100.0 * selling.pour_cost)));
    let margin = share_of(selling.margin, selling.net);
    facts.push(fact("margin", format!("{} a serve, {:.1} %", money(selling.margin), 100.0 * margin)));
    facts
}

fn moves_table(selling: &Selling<'_>) -> Table {
    let mut table = Table::new([
        Column::flexible("line"),
        Column::right("share of the cost"),
        Column::right("a tenth dearer moves the pour cost"),
    ]);
    for moves in selling.moves.iter().take(4) {
        table.push([
            Cell::new(moves.ingredient.name.clone(), Tone::Strong),
            percent(moves.share).into(),
            format!("+{:.2} points", 100.0 * moves.by_a_tenth).into(),
        ]);
    }
    table
}

fn with_cheaper(report: Report, cost: &Cost<'_>, cheaper: &[StandInCost<'_>]) -> Report {
    let Some(dearest) = cost.dearest() else { return report };
    let report = report.heading(format!("In place of the dearest, {}", dearest.ingredient.name));
    if cheaper.is_empty() {
        return report.text("Nothing that would cost less keeps the drink in balance.");
    }
    let mut table = Table::new([
        Column::left("stand-in"),
        Column::right("alike"),
        Column::flexible("the drink with it"),
        Column::right("a serve"),
        Column::right("saves"),
        Column::right("noticed"),
    ])
    .numbered();
    for one in cheaper {
        let saves = cost.total.minus(one.total).map_or_else(|_| String::new(), money);
        table.push([
            Cell::new(one.ingredient.name.clone(), Tone::Strong),
            format!("{:.2}", one.alike).into(),
            one.lines.join(", ").into(),
            money(one.total).into(),
            saves.into(),
            format!("{:.1}", one.noticed).into(),
        ]);
    }
    report.table(table).note("noticed: how far strength, sugar, acid and bitterness move, in just-noticeable differences together; taste it before it goes on the menu")
}

fn lists_table(lists: &[(Cost<'_>, Selling<'_>)]) -> Table {
    let mut table = Table::new([
        Column::left("prices"),
        Column::right("a serve"),
        Column::right("menu price"),
        Column::right("pour cost"),
        Column::right("margin"),
        Column::flexible("no price"),
    ]);
    for (cost, selling) in lists {
        let missing: Vec<&str> = cost.missing().map(|i| i.name.as_str()).collect();
        table.push([
            Cell::new(cost.list.clone(), Tone::Strong),
            money(cost.total).into(),
            money(selling.menu).into(),
            format!("{:.1} %", 100.0 * selling.pour_cost).into(),
            money(selling.margin).into(),
            Cell::new(missing.join(", "), Tone::Warn),
        ]);
    }
    table
}

/// What a batch costs, as facts under its shopping.
pub(super) fn total_words(cost: &Cost<'_>, serves: f64) -> Vec<(String, String)> {
    let all = cost.of_serves(serves).map_or_else(|_| String::new(), |all| format!("{} in all, ", money(all)));
    let missing: Vec<&str> = cost.missing().map(|i| i.name.as_str()).collect();
    let least = if missing.is_empty() {
        String::new()
    } else {
        format!("; without {}, which has no price", listed(&missing))
    };
    vec![(
        "it costs".to_owned(),
        format!("{all}{} a serve, {} waste in it{least}", money(cost.total), percent(cost.waste_share)),
    )]
}

pub(super) fn cost_data(cost: &Cost<'_>) -> Value {
    json!({
        "prices": cost.list,
        "total": cost.total.to_string(),
        "waste_share": cost.waste_share,
        "waste": cost.waste.to_string(),
        "ice": cost.ice.map(|ice| ice.to_string()),
        "demo": cost.is_demo(),
        "missing": cost.missing().map(|i| i.id.as_str()).collect::<Vec<_>>(),
        "lines": cost.lines.iter().map(line_data).collect::<Vec<_>>(),
    })
}

fn line_data(line: &CostLine<'_>) -> Value {
    let need: Need = line.need;
    json!({
        "id": line.ingredient.id.as_str(),
        "name": line.ingredient.name,
        "garnish": line.garnish,
        "need": need_data(need),
        "cost": line.cost.as_ref().map(|(sum, _)| sum.to_string()),
        "from": line.cost.as_ref().map(|(_, from)| from_words(from)),
    })
}

fn selling_data(selling: &Selling<'_>) -> Value {
    json!({
        "target_pour_cost": selling.target,
        "tax": selling.tax,
        "net_at_target": selling.net_at_target.to_string(),
        "at_target": selling.at_target.to_string(),
        "menu": selling.menu.to_string(),
        "net": selling.net.to_string(),
        "pour_cost": selling.pour_cost,
        "margin": selling.margin.to_string(),
        "moves": selling.moves.iter().map(|m| json!({
            "id": m.ingredient.id.as_str(), "share": m.share, "by_a_tenth": m.by_a_tenth,
        })).collect::<Vec<_>>(),
    })
}

fn data(told: &CostTold<'_, '_>) -> Value {
    json!({
        "ok": true,
        "command": "cost",
        "name": told.name,
        "lists": told.lists.iter().map(|(cost, selling)| json!({
            "cost": cost_data(cost), "selling": selling_data(selling),
        })).collect::<Vec<_>>(),
        "cheaper": told.cheaper.map(|all| all.iter().map(|one| json!({
            "instead_of": one.instead_of.id.as_str(),
            "id": one.ingredient.id.as_str(),
            "name": one.ingredient.name,
            "lines": one.lines,
            "alike": one.alike,
            "total": one.total.to_string(),
            "noticed": one.noticed,
        })).collect::<Vec<_>>()),
    })
}

//! How a drink's figures come about, in grams, and how far they are from what they should be.

use serde_json::{Value, json};

use crate::drink::{Account, Difference, Direction, Grams};
use crate::liquid::ethanol::PURE_20;
use crate::measure::Volume;
use crate::report::balance::figures_data;
use crate::report::phrase::{View, signed};
use crate::report::{Cell, Column, Table, Tone};
use crate::riff::Explained;

/// Decimals of each direction's figures.
const DIGITS: [usize; 4] = [2, 1, 2, 1];

/// Each direction against the aim, and the distance they add up to.
pub(super) fn difference_table(found: &Explained<'_>) -> Table {
    let mut table = Table::new([
        Column::left("figure"),
        Column::right("comes to"),
        Column::right("aim"),
        Column::right("off by"),
        Column::right("step"),
        Column::right("noticed"),
    ]);
    for (direction, (difference, digits)) in
        Direction::ALL.into_iter().zip(found.differences.iter().zip(&DIGITS))
    {
        let Difference { figure, aim, step, .. } = difference;
        table.push([
            Cell::new(format!("{}, {}", direction.name(), direction.unit()), Tone::Strong),
            format!("{figure:.digits$}").into(),
            format!("{aim:.digits$}").into(),
            signed(figure - aim, *digits).into(),
            format!("{step:.digits$}").into(),
            format!("{:.3}", difference.noticed()).into(),
        ]);
    }
    let blank = || Cell::from("");
    table.push([
        Cell::new("together", Tone::Strong),
        blank(),
        blank(),
        blank(),
        blank(),
        format!("{:.3}", found.riff.distance).into(),
    ]);
    table
}

pub(super) fn difference_data(found: &Explained<'_>) -> Value {
    let one = |(direction, d): (Direction, &Difference)| {
        json!({
            "direction": direction.name(),
            "figure": d.figure,
            "aim": d.aim,
            "just_noticed": d.step,
            "noticed": d.noticed(),
        })
    };
    json!({
        "directions": Direction::ALL.into_iter().zip(&found.differences).map(one).collect::<Vec<_>>(),
        "distance": found.riff.distance,
    })
}

/// What each line brings, what mixes before the ice, what melts in, and what is in the glass.
pub(super) fn account_table(account: &Account<'_>, view: View) -> Table {
    let mut table = Table::new([
        Column::flexible("line"),
        Column::right("ml"),
        Column::right("g"),
        Column::right("ethanol"),
        Column::right("water"),
        Column::right("sugar"),
        Column::right("acid"),
    ]);
    let mut row = |name: String, tone: Tone, w: &Grams| {
        let one = |value: f64| Cell::from(format!("{value:.1}"));
        let acid = Cell::from(format!("{:.2}", w.acid_g));
        let cells = [one(w.ml), one(w.mass_g), one(w.ethanol_g), one(w.water_g), one(w.sugar_g), acid];
        table.push(std::iter::once(Cell::new(name, tone)).chain(cells));
    };
    let long = account.lines.iter().any(|l| l.lengthens);
    let name =
        |l: &crate::drink::LineAccount<'_>| format!("{} {}", l.amount.shown(view.unit), l.ingredient.name);
    for line in account.lines.iter().filter(|l| !l.lengthens) {
        row(name(line), Tone::Strong, &line.brings);
    }
    row("mixed, before the ice".to_owned(), Tone::Quiet, &account.before_ice);
    if account.melted.mass_g > 0.0 {
        row("water from the ice".to_owned(), Tone::Strong, &account.melted);
    }
    for line in account.lines.iter().filter(|l| l.lengthens) {
        row(name(line), Tone::Strong, &line.brings);
    }
    if long || account.melted.mass_g > 0.0 {
        row("in the glass".to_owned(), Tone::Quiet, &account.glass);
    }
    table
}

/// The arithmetic in words.
pub(super) fn account_words(account: &Account<'_>) -> Vec<String> {
    let Account { before_ice, glass, melted, figures, .. } = account;
    let mut words = Vec::new();
    if melted.mass_g > 0.0 {
        words.push(format!(
            "before the ice: {:.1} ml of {:.1} % vol, by which the water is found: {:.1} % of {:.1} ml = {:.1} ml",
            before_ice.ml,
            account.strength_before_ice,
            figures.dilution.share * 100.0,
            before_ice.ml,
            melted.ml
        ));
    }
    let apart: f64 = account.lines.iter().map(|l| l.brings.ml).sum::<f64>() + melted.ml;
    let shrinks = if apart - glass.ml >= 0.05 { ", for ethanol and water shrink together" } else { "" };
    words.push(format!(
        "volume: {apart:.1} ml one by one, {:.1} ml mixed: grams add up, volumes do not{shrinks}",
        glass.ml
    ));
    let density = PURE_20 / 1000.0;
    words.push(format!(
        "strength = {:.1} g ethanol / {density:.4} g/ml = {:.1} ml; in {:.1} ml that is {:.1} % vol",
        glass.ethanol_g,
        glass.ethanol_g / density,
        glass.ml,
        figures.strength.percent_vol()
    ));
    let litres = Volume::clamped(glass.ml).ml() / 1000.0;
    words.push(format!(
        "sugar = {:.1} g / {litres:.4} L = {:.1} g/L",
        glass.sugar_g,
        figures.sugar.grams_per_litre()
    ));
    words.push(format!(
        "acid = {:.2} g / {litres:.4} L = {:.1} g/L, as citric",
        glass.acid_g,
        figures.acid.grams_per_litre()
    ));
    words
}

fn grams_data(grams: &Grams) -> Value {
    json!({
        "ml": grams.ml,
        "g": grams.mass_g,
        "ethanol_g": grams.ethanol_g,
        "water_g": grams.water_g,
        "sugar_g": grams.sugar_g,
        "acid_g": grams.acid_g,
    })
}

pub(super) fn account_data(account: &Account<'_>) -> Value {
    json!({
        "lines": account.lines.iter().map(|l| json!({
            "id": l.ingredient.id.as_str(),
            "amount": l.amount.to_string(),
            "after_ice": l.lengthens,
            "brings": grams_data(&l.brings),
        })).collect::<Vec<_>>(),
        "before_ice": grams_data(&account.before_ice),
        "strength_before_ice_percent_vol": account.strength_before_ice,
        "melted": grams_data(&account.melted),
        "glass": grams_data(&account.glass),
        "figures": figures_data(&account.figures),
    })
}

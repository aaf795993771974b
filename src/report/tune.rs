//! A drink tuned to what was asked of it: its amounts beside those it had.

use serde_json::{Value, json};

use super::balance::{capital, figures_data, line_data, volume_short};
use super::noticed::noticed_words;
use super::phrase::{View, acid, counted, listed, served, strength, sugar, volume};
use super::riffs::spec_words;

use super::{Cell, Column, Report, Table, Tone};
use crate::drink::{
    Aim, Direction, Equal, Figures, Glass, Held, Spec, Tune, Tuned, WayOut, Wish, differences,
};

/// From so many just-noticeable differences from the aim on, amounts alone do not do it well.
const FAR: f64 = 4.0;

/// A drink tuned, best first.
pub fn tuned(asked: &Tune<'_>, found: &Tuned<'_>, view: View) -> Report {
    let title = format!("{}: {}", capital(&found.before.name), asked_words(asked));
    let mut facts = vec![
        ("as it was".to_owned(), spec_words(&found.before, view)),
        ("aimed at".to_owned(), aim_words(asked, found, view)),
    ];
    if let Some(glass) = asked.glass {
        facts.push(("the glass".to_owned(), glass_words(&glass, view)));
    }
    let mut report = Report::new(title, data(asked, found)).facts(facts).table(table(found, view));
    for (index, drink) in found.drinks.iter().enumerate() {
        let noticed = differences(&Aim::of(&found.figures).tasted_by(asked.palate), &drink.figures);
        let words = noticed_words(noticed.map(|d| d.signed), (&found.figures, &drink.figures), view);
        report = report.note(format!("{}: {words}", index + 1));
    }
    report = match found.equal {
        Some(Equal::Stay) => report.note("equal parts stay equal; --uneven lets them go"),
        Some(Equal::LetGo) => report.note("equal parts were let go: they leave the taste as it is"),
        None => report,
    };
    if found.drinks.first().is_some_and(|d| d.distance >= FAR) {
        report = report.note(
            "it takes much else along: another ingredient may do better than other amounts; 'swap NAME --in DRINK' lists them",
        );
    }
    let (combinations, mixed) = found.amounts;
    let ways = usize::try_from(combinations).unwrap_or(usize::MAX);
    report.note(format!(
        "{} of amounts, {mixed} mixed; none of the rest comes nearer",
        counted(ways, "combination", "combinations")
    ))
}

/// `drier, weaker, in a 5 oz glass`.
fn asked_words(asked: &Tune<'_>) -> String {
    let mut words: Vec<String> = asked.wishes.iter().map(|w| w.name().to_owned()).collect();
    if asked.glass.is_some() {
        words.push("to fit the glass".to_owned());
    }
    if asked.alcohol.is_some() {
        words.push("with no more alcohol than asked".to_owned());
    }
    if words.is_empty() { "within what was said of its lines".to_owned() } else { listed(&words) }
}

fn aim_words(asked: &Tune<'_>, found: &Tuned<'_>, view: View) -> String {
    let was = Aim::of(&found.figures);
    let parts: Vec<String> = asked
        .wishes
        .iter()
        .map(|wish| match wish.moves().0 {
            Held::Taste(direction) => {
                let at = direction as usize;
                let unit = direction.unit();
                let digits = digits_of(direction);
                let (to, from) = (found.aim.values()[at], was.values()[at]);
                format!("{} {to:.digits$} {unit}, was {from:.digits$}", direction.name())
            }
            Held::Glass | Held::Alcohol => format!(
                "{} in the glass, was {}",
                volume_short(found.aim.served, view),
                volume_short(was.served, view)
            ),
        })
        .collect();
    if parts.is_empty() { "the same balance".to_owned() } else { parts.join("; ") }
}

fn digits_of(direction: Direction) -> usize {
    usize::from(direction != Direction::Sugar)
}

/// `5.0 oz to the rim takes 4.5 oz: a tenth stays free`.
fn glass_words(glass: &Glass, view: View) -> String {
    format!(
        "{} to the rim takes {} of drink: a tenth stays free{}",
        volume_short(glass.rim.ml(), view),
        volume_short(glass.takes().ml(), view),
        if glass.on_ice { ", and ice takes half of the rest" } else { "" }
    )
}

/// Its lines and figures, and beside them those of each answer.
fn table(found: &Tuned<'_>, view: View) -> Table {
    let numbers = (1..=found.drinks.len()).map(|n| Column::right(n.to_string()));
    let columns = [Column::flexible("line"), Column::right("was")].into_iter().chain(numbers);
    let mut table = Table::new(columns);
    let amount = |spec: &Spec<'_>, at: usize| spec.lines[at].amount.shown(view.unit).to_string();
    for (at, line) in found.before.lines.iter().enumerate() {
        let was = amount(&found.before, at);
        let now = found.drinks.iter().map(|d| {
            let own = amount(&d.spec, at);
            let tone = if own == was { Tone::Quiet } else { Tone::Strong };
            Cell::new(own, tone)
        });
        let own = [Cell::new(line.ingredient.name.clone(), Tone::Strong), Cell::from(was.clone())];
        table.push(own.into_iter().chain(now));
    }
    let mut figure = |name: &str, of: &dyn Fn(&Figures) -> String| {
        let all = std::iter::once(&found.figures).chain(found.drinks.iter().map(|d| &d.figures));
        let cells = all.map(|figures| Cell::from(of(figures)));
        table.push(std::iter::once(Cell::new(name, Tone::Quiet)).chain(cells));
    };
    figure("strength, % vol", &strength);
    figure("sugar, g/L", &sugar);
    figure("acid, g/L", &acid);
    let bitter = |f: &Figures| f.bitterness.points();
    if bitter(&found.figures) >= 0.5 {
        figure("bitterness, of 100", &|f| format!("{:.1}", bitter(f)));
    }
    figure("in the glass", &|f| served(f, view.unit));
    figure("alcohol, g", &|f| format!("{:.0}", f.ethanol.grams()));
    table
}

/// What is in the way, and what alone would do: `the glass is in the way: one of 5.6 oz to the rim would do`.
pub fn way_out_words(way: &WayOut, asked: &Tune<'_>, view: View) -> String {
    match way {
        WayOut::LessOf { wish, to, asked } => less_words(*wish, *to, *asked, view),
        WayOut::Glass { rim } => {
            let iced = if asked.glass.is_some_and(|g| g.on_ice) { ", full of ice," } else { "" };
            format!("the glass is in the way: one of {} to the rim{iced} would do", up_to(rim.ml(), view))
        }
        WayOut::Alcohol { most } => {
            let grams = (most.grams() * 10.0 - 1e-6).ceil() / 10.0;
            format!("the limit on alcohol is in the way: {grams:.1} g would do")
        }
        WayOut::Line { line, to } => {
            let (name, shown) = (&asked.spec.lines[*line].ingredient.name, volume(*to, view.unit));
            format!("what was said of {name} is in the way: {shown} would do")
        }
        WayOut::Uneven => "equal parts are in the way: --uneven lets them go".to_owned(),
    }
}

fn less_words(wish: Wish, to: f64, asked: f64, view: View) -> String {
    let (held, up) = wish.moves();
    let end = if up { "or more" } else { "or less" };
    let name = wish.name();
    match held {
        Held::Taste(direction) => format!(
            "'{name}' is in the way: it asks for {} {asked:.1} {} {end}, and with the rest {to:.1} can be had",
            direction.name(),
            direction.unit()
        ),
        Held::Glass | Held::Alcohol => format!(
            "'{name}' is in the way: it asks for {} in the glass {end}, and with the rest {} can be had",
            volume_short(asked, view),
            volume_short(to, view)
        ),
    }
}

/// A volume that is no less, at the precision it is shown with.
fn up_to(ml: f64, view: View) -> String {
    match view.unit {
        crate::measure::HouseUnit::Ounce => {
            format!("{:.1} oz", (ml / crate::measure::ML_PER_OUNCE * 10.0 - 1e-6).ceil() / 10.0)
        }
        crate::measure::HouseUnit::Millilitre => format!("{:.0} ml", (ml - 1e-6).ceil()),
    }
}

fn data(asked: &Tune<'_>, found: &Tuned<'_>) -> Value {
    json!({
        "ok": true,
        "command": "tune",
        "name": found.before.name,
        "wishes": asked.wishes.iter().map(|w| w.name()).collect::<Vec<_>>(),
        "glass_takes_ml": asked.glass.map(|g| g.takes().ml()),
        "most_alcohol_g": asked.alcohol.map(|a| a.grams()),
        "equal_parts": found.equal.map(|e| e == Equal::Stay),
        "before": {
            "lines": found.before.lines.iter().map(line_data).collect::<Vec<_>>(),
            "figures": figures_data(&found.figures),
        },
        "aim": {
            "strength_percent_vol": found.aim.strength,
            "sugar_g_per_l": found.aim.sugar,
            "acid_g_per_l": found.aim.acid,
            "bitterness": found.aim.bitterness,
            "served_ml": found.aim.served,
        },
        "drinks": found.drinks.iter().map(|d| json!({
            "lines": d.spec.lines.iter().map(line_data).collect::<Vec<_>>(),
            "figures": figures_data(&d.figures),
            "distance": d.distance,
        })).collect::<Vec<_>>(),
        "combinations": found.amounts.0,
        "mixed": found.amounts.1,
    })
}

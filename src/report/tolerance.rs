//! What a pour that is off does to a drink, as a report.

use serde_json::{Value, json};

use super::balance::{data as balance_data, figures_data, title};
use super::describe::cautions;
use super::phrase::{View, counted, listed, signed, trimmed, volume};
use super::riffs::comes_to;
use super::{Balance, Cell, Column, Report, Table, Tone};
use crate::book::Book;
use crate::drink::{Alone, Effect, Figures, Interval, Melting, Miss, Over, Tolerance};
use crate::measure::{HouseUnit, ML_PER_OUNCE, Unit, Volume};

/// What a pour that is off does to a drink, and which lines are to be measured.
pub fn tolerance(book: &Book, balance: &Balance<'_>, found: &Tolerance<'_>, view: View) -> Report {
    let mut data = balance_data(balance);
    data["tolerance"] = tolerance_data(found);
    let mut report = Report::new(format!("{}: off by {}", title(balance), over_words(found.over, view)), data)
        .facts(vec![
            ("as written".to_owned(), comes_to(&found.figures, view)),
            ("measured".to_owned(), serves_words(found.serves)),
        ])
        .table(effects_table(found, view))
        .note("noticed: in just-noticeable differences of strength, sugar, acid and bitterness together; under 1 is too close to taste")
        .note(format!("at worst: {}", worst_words(found)));
    let held = found.alone.len().saturating_sub(Tolerance::MOST_TOGETHER);
    if held > 0 {
        report = report.note(format!(
            "all at once: the {} that matter most; the rest as written",
            Tolerance::MOST_TOGETHER
        ));
    }
    report = report.note(batch_words(found));
    if let Melting::Held(dilution) = found.melting {
        report = report.note(format!("the water is held at {:.0} % throughout", dilution.share * 100.0));
    }
    if found.alone.iter().any(by_dash) && matches!(found.over, Over::Volume(_)) {
        report = report.note("a dash is taken as half a dash short to one over, common practice");
    }
    report = report.heading("Measure, or pour by eye").table(eye_table(found, view));
    for caution in cautions(book, balance.spec.cautions().into_iter()) {
        report = report.caution(caution.text.clone());
    }
    report
}

fn by_dash(alone: &Alone<'_>) -> bool {
    matches!(alone.amount.unit(), Unit::Dash | Unit::Drop)
}

fn over_words(over: Over, view: View) -> String {
    match over {
        Over::Volume(off) => volume(off, view.unit),
        Over::Share(share) => format!("{} %", trimmed(share * 100.0, 1)),
    }
}

fn serves_words(serves: u32) -> String {
    if serves == 1 {
        "one serve by itself".to_owned()
    } else {
        format!("{serves} serves at once, each line once")
    }
}

fn effects_table(found: &Tolerance<'_>, view: View) -> Table {
    let mut table = Table::new([
        Column::flexible("line"),
        Column::right("off by"),
        Column::right("% vol"),
        Column::right("sugar"),
        Column::right("acid"),
        Column::right("glass"),
        Column::right("noticed"),
    ]);
    for alone in &found.alone {
        let name = format!("{} {}", alone.amount.shown(view.unit), alone.ingredient.name);
        let ways = [(name, &alone.less, Miss::Less), (String::new(), &alone.more, Miss::More)];
        for (name, effect, miss) in ways {
            let mut cells = vec![Cell::new(name, Tone::Strong), off_words(alone, miss, found, view).into()];
            cells.extend(moves(&found.figures, &effect.figures, view).into_iter().map(Cell::from));
            cells.push(noticed_cell(effect.noticed));
            table.push(cells);
        }
    }
    let noticed = noticed_cell(found.together.worst.noticed);
    table.push(end_row("all at once", "least", found, |i| i.least, "".into(), view));
    table.push(end_row("", "most", found, |i| i.most, noticed, view));
    table
}

/// One end of where the figures lie when all lines are off.
fn end_row(
    name: &str,
    label: &str,
    found: &Tolerance<'_>,
    end: fn(&Interval) -> f64,
    noticed: Cell,
    view: View,
) -> [Cell; 7] {
    let (spread, figures) = (&found.together.spread, &found.figures);
    [
        Cell::new(name, Tone::Strong),
        label.into(),
        signed(end(&spread.strength) - figures.strength.percent_vol(), 1).into(),
        signed(end(&spread.sugar) - figures.sugar.grams_per_litre(), 0).into(),
        signed(end(&spread.acid) - figures.acid.grams_per_litre(), 1).into(),
        glass(end(&spread.served) - figures.served.ml(), view).into(),
        noticed,
    ]
}

fn noticed_cell(noticed: f64) -> Cell {
    let tone = if noticed <= 1.0 { Tone::Good } else { Tone::Warn };
    Cell::new(format!("{noticed:.1}"), tone)
}

/// What moved: strength, sugar, acid, the glass.
fn moves(from: &Figures, to: &Figures, view: View) -> [String; 4] {
    [
        signed(to.strength.percent_vol() - from.strength.percent_vol(), 1),
        signed(to.sugar.grams_per_litre() - from.sugar.grams_per_litre(), 0),
        signed(to.acid.grams_per_litre() - from.acid.grams_per_litre(), 1),
        glass(to.served.ml() - from.served.ml(), view),
    ]
}

fn glass(ml: f64, view: View) -> String {
    match view.unit {
        HouseUnit::Ounce => format!("{} oz", signed(ml / ML_PER_OUNCE, 1)),
        HouseUnit::Millilitre => format!("{} ml", signed(ml, 0)),
    }
}

/// What is poured wrong: of the whole batch, where one is measured.
fn off_words(alone: &Alone<'_>, miss: Miss, found: &Tolerance<'_>, view: View) -> String {
    let (sign, slip) = match miss {
        Miss::Less => ("-", alone.slip.less),
        Miss::Right => ("", Volume::ZERO),
        Miss::More => ("+", alone.slip.more),
    };
    if let Over::Share(share) = found.over {
        return format!("{sign}{} %", trimmed(share * 100.0, 1));
    }
    if miss == Miss::Less && slip.ml() > 0.0 && slip >= alone.volume {
        return "left out".to_owned();
    }
    let whole = slip.ml() * f64::from(found.serves);
    format!("{sign}{}", in_its_measure(alone, whole, view))
}

/// A volume of a line in what it is counted in, dashes say, or in the house's unit.
fn in_its_measure(alone: &Alone<'_>, ml: f64, view: View) -> String {
    let unit = alone.amount.unit();
    let one = match unit {
        Unit::Dash | Unit::Drop | Unit::Barspoon => alone.one_ml(),
        _ => None,
    };
    match one {
        Some(one) => {
            let count = ml / one;
            let half = (count - 0.5).abs() < 1e-9;
            let shown = if half { "½".to_owned() } else { trimmed(count, usize::from(count < 10.0)) };
            format!("{shown} {}", unit.written(count))
        }
        None => match view.unit {
            HouseUnit::Ounce => volume(Volume::clamped(ml), view.unit),
            HouseUnit::Millilitre => format!("{} ml", trimmed(ml, 1)),
        },
    }
}

/// Which way each went in the worst of all combinations.
fn worst_words(found: &Tolerance<'_>) -> String {
    let of = |wanted: Miss, words: &str| {
        let gone: Vec<&str> = found
            .alone
            .iter()
            .zip(&found.together.misses)
            .filter(|(_, miss)| **miss == wanted)
            .map(|(alone, _)| alone.ingredient.name.as_str())
            .collect();
        (!gone.is_empty()).then(|| format!("too {words} {}", listed(&gone)))
    };
    let parts: Vec<String> = of(Miss::More, "much").into_iter().chain(of(Miss::Less, "little")).collect();
    let mixed = counted(
        usize::try_from(found.together.combinations).unwrap_or(usize::MAX),
        "combination",
        "combinations",
    );
    if parts.is_empty() {
        return format!("nothing changes ({mixed} mixed)");
    }
    format!("{} ({mixed} mixed, all there are)", parts.join(", "))
}

fn batch_words(found: &Tolerance<'_>) -> String {
    let worst = found.together.worst.noticed;
    match (found.over, found.serves) {
        (Over::Share(_), _) => {
            "a share stays that share, however many serves are measured at once".to_owned()
        }
        (Over::Volume(_), 1) => format!(
            "for one serve; where each line is measured once for a batch of N, a serve gets only one part in N of the same error{}",
            unnoticed_words(found)
        ),
        (Over::Volume(_), serves) => format!(
            "the same error in a batch of {serves} is one part in {serves} of it in each serve: at worst {worst:.1} noticed, {:.1} where each serve is poured by itself{}",
            found.one_serve,
            unnoticed_words(found)
        ),
    }
}

/// `; from 9 serves on even the worst is too close to taste`.
fn unnoticed_words(found: &Tolerance<'_>) -> String {
    match found.unnoticed_from {
        Some(1) => "; even the worst is too close to taste".to_owned(),
        Some(serves) => format!("; from {serves} serves on even the worst is too close to taste"),
        None => String::new(),
    }
}

/// The lines, the one that bears least first.
fn eye_table(found: &Tolerance<'_>, view: View) -> Table {
    let title = if found.serves == 1 { "may be off by" } else { "batch may be off by" };
    let mut table = Table::new([Column::left("line"), Column::right(title), Column::flexible("so")]);
    let mut order: Vec<&Alone<'_>> = found.alone.iter().collect();
    order.sort_by(|a, b| {
        let worst = |x: &Alone<'_>| x.less.noticed.max(x.more.noticed);
        worst(b).total_cmp(&worst(a)).then_with(|| a.line.cmp(&b.line))
    });
    for (place, alone) in order.into_iter().enumerate() {
        let bears = match alone.unnoticed {
            Some(most) => in_its_measure(alone, most.ml(), view),
            None => "any amount".to_owned(),
        };
        let so = match (alone.by_eye, place) {
            (true, _) => Cell::new("by eye", Tone::Good),
            (false, _) if bears_it(alone) => {
                Cell::new("count or measure: its own taste is not counted here", Tone::Quiet)
            }
            (false, 0) => Cell::new("measure, this one first of all", Tone::Warn),
            (false, _) => Cell::new("measure", Tone::Warn),
        };
        table.push([Cell::new(alone.ingredient.name.clone(), Tone::Strong), bears.into(), so]);
    }
    table
}

/// Whether strength, sugar and acid would bear the slip.
fn bears_it(alone: &Alone<'_>) -> bool {
    alone.less.noticed.max(alone.more.noticed) <= 1.0
}

fn effect_data(effect: &Effect) -> Value {
    json!({
        "figures": figures_data(&effect.figures),
        "strength": effect.strength,
        "sugar": effect.sugar,
        "acid": effect.acid,
        "bitterness": effect.bitterness,
        "noticed": effect.noticed,
    })
}

fn miss_word(miss: Miss) -> &'static str {
    match miss {
        Miss::Less => "too little",
        Miss::Right => "as written",
        Miss::More => "too much",
    }
}

fn tolerance_data(found: &Tolerance<'_>) -> Value {
    let (off_ml, off_share) = match found.over {
        Over::Volume(off) => (Some(off.ml()), None),
        Over::Share(share) => (None, Some(share)),
    };
    let span = |i: Interval| json!([i.least, i.most]);
    let spread = &found.together.spread;
    json!({
        "off_ml": off_ml,
        "off_share": off_share,
        "serves": found.serves,
        "lines": found.alone.iter().map(|alone| json!({
            "id": alone.ingredient.id.as_str(),
            "name": alone.ingredient.name,
            "amount": alone.amount.to_string(),
            "serve_short_ml": alone.slip.less.ml(),
            "serve_over_ml": alone.slip.more.ml(),
            "too_little": effect_data(&alone.less),
            "too_much": effect_data(&alone.more),
            "unnoticed_ml": alone.unnoticed.map(|v| v.ml()),
            "uncounted_taste": alone.uncounted,
            "by_eye": alone.by_eye,
        })).collect::<Vec<_>>(),
        "together": {
            "strength_percent_vol": span(spread.strength),
            "sugar_g_per_l": span(spread.sugar),
            "acid_g_per_l": span(spread.acid),
            "served_ml": span(spread.served),
            "worst": effect_data(&found.together.worst),
            "lines": found.together.misses.iter().map(|m| miss_word(*m)).collect::<Vec<_>>(),
            "combinations": found.together.combinations,
        },
        "one_serve_noticed": found.one_serve,
        "unnoticed_from_serves": found.unnoticed_from,
    })
}

//! The blocks of a batch's report.

use super::BatchTold;
use crate::liquid::freezing::{Pours, RUNS_COLDER, UNCERTAIN_KELVIN};
use crate::measure::{HouseUnit, ML_PER_OUNCE, Mass, Temperature, Unit, Volume};
use crate::report::ahead::words::{
    by_hand, grams, money, much, need_words, percent, place_words, serves_words, short,
};
use crate::report::describe::garnish_name;
use crate::report::phrase::{listed, trimmed, volume};
use crate::report::{Cell, Column, FillMark, Table, Tone};
use crate::service::{Batch, BatchLine, Bought, ByEye, FillLine, Filled, Need, Style, Task};

type Facts = Vec<(String, String)>;

fn fact(label: &str, value: String) -> (String, String) {
    (label.to_owned(), value)
}

pub(super) fn top_facts(batch: &Batch<'_>, unit: HouseUnit) -> Facts {
    let all = Volume::clamped(batch.pour.ml() * batch.serves);
    let glass = &batch.in_glass;
    let mut facts = vec![
        fact("makes", format!("{} from {} of batch", serves_words(batch.serves), much(all, unit))),
        fact("a serve", pour_words(batch, unit)),
        fact(
            "in the glass",
            format!(
                "{}, {:.1}, {:.0} sugar, {:.1} acid",
                short(glass.served, unit),
                glass.measured.strength,
                glass.measured.sugar,
                glass.measured.acid
            ),
        ),
    ];
    let water = &batch.water;
    if water.a_serve > Volume::ZERO {
        let rest = if water.at_service > Volume::ZERO {
            format!("; the ice at service brings about {} more", short(water.at_service, unit))
        } else {
            String::new()
        };
        facts.push(fact(
            "water",
            format!("{} a serve, {} of the batch{rest}", short(water.a_serve, unit), percent(water.share)),
        ));
    } else {
        let brings = if water.at_service > Volume::ZERO {
            format!("none: the ice at service brings about {}", short(water.at_service, unit))
        } else {
            "none".to_owned()
        };
        facts.push(fact("water", brings));
    }
    let single = batch.single.strength.percent_vol();
    let off = glass.measured.strength.percent_vol() - single;
    if off.abs() >= 0.05 {
        facts.push(fact("made singly", format!("{single:.1} % vol: this is {off:+.1}")));
    }
    facts
}

/// `pour 94 ml, 1 dash, top with 60 ml soda water`.
fn pour_words(batch: &Batch<'_>, unit: HouseUnit) -> String {
    let how = match batch.style {
        Style::Chilled => "from the fridge, no ice",
        Style::Freezer => "from the freezer, no ice",
        Style::OverIce | Style::Long => "over fresh ice",
        Style::ToOrder => match batch.spec.method {
            crate::book::Method::Shaken => "shaken with ice",
            crate::book::Method::Stirred => "stirred with ice",
            crate::book::Method::Blended => "blended with ice",
            _ => "over ice",
        },
        Style::Punch => return format!("ladle {} from the bowl", by_hand(batch.pour, unit)),
        Style::Tap => "from the tap",
    };
    format!("pour {} {how}", by_hand(batch.pour, unit))
}

pub(in crate::report::ahead) fn lines_table(told: &BatchTold<'_, '_>) -> Table {
    let batch = told.batch;
    let (unit, other) = match told.view.unit {
        HouseUnit::Ounce => (HouseUnit::Ounce, HouseUnit::Millilitre),
        HouseUnit::Millilitre => (HouseUnit::Millilitre, HouseUnit::Ounce),
    };
    let mut table = Table::new([
        Column::flexible("goes in"),
        Column::right("measure"),
        Column::right(if other == HouseUnit::Ounce { "oz" } else { "ml" }),
        Column::right("weighs"),
        Column::right("bottles"),
    ]);
    if batch.water_in_batch > Volume::ZERO {
        let mass = Mass::clamped(0.9982 * batch.water_measured.volume.ml());
        table.push([
            Cell::new("water", Tone::Strong),
            short(batch.water_measured.volume, unit).into(),
            bare(batch.water_measured.volume, other).into(),
            grams(mass).into(),
            "".into(),
        ]);
    }
    for (line, buy) in batch.lines.iter().zip(told.buy).filter(|(l, _)| l.in_batch > Volume::ZERO) {
        let weighs = line.grams.map(|g| Mass::clamped(g.grams() * (1.0 + line.measured.error)));
        table.push([
            Cell::new(line.line.ingredient.name.clone(), Tone::Strong),
            short(line.measured.volume, unit).into(),
            bare(line.measured.volume, other).into(),
            weighs.map(grams).unwrap_or_default().into(),
            bottles(line, buy, told).into(),
        ]);
    }
    table
}

/// A volume without its unit.
fn bare(of: Volume, unit: HouseUnit) -> String {
    match unit {
        HouseUnit::Ounce => trimmed(of.ml() / ML_PER_OUNCE, 2),
        HouseUnit::Millilitre => format!("{:.0}", of.ml()),
    }
}

/// What goes in, counted in bottles: `1 + 480 ml`.
fn bottles(line: &BatchLine<'_>, buy: &Bought<'_>, told: &BatchTold<'_, '_>) -> String {
    let Some(pack) = &buy.pack else { return String::new() };
    let Some(size) = pack.size.volume(&crate::measure::Measures::default()) else { return String::new() };
    let whole = (line.measured.volume.ml() / size.ml() + 1e-9).floor();
    let rest = Volume::clamped(line.measured.volume.ml() - whole * size.ml());
    match (whole > 0.0, rest.ml() > 0.5) {
        (true, true) => format!("{whole:.0} + {}", short(rest, told.view.unit)),
        (true, false) => format!("{whole:.0}"),
        (false, _) => format!("{} of one", percent(rest.ml() / size.ml())),
    }
}

pub(super) fn held_table(batch: &Batch<'_>, unit: HouseUnit) -> Option<Table> {
    let mut table = Table::new([
        Column::left("at service"),
        Column::right("each"),
        Column::right("in all"),
        Column::flexible("why"),
    ]);
    for line in &batch.lines {
        let Some(each) = line.at_service else { continue };
        let why = line.held.as_ref().map_or("it is not measured by volume", |h| h.why.as_str());
        table.push([
            Cell::new(line.line.ingredient.name.clone(), Tone::Strong),
            each_words(line, each, unit).into(),
            need_words(each.times(batch.serves), unit).into(),
            Cell::new(why, Tone::Quiet),
        ]);
    }
    for (ingredient, form) in &batch.spec.garnish {
        table.push([
            Cell::new(garnish_name(ingredient, form), Tone::Strong),
            "1".into(),
            format!("{:.0}", batch.serves.ceil()).into(),
            Cell::new("goes on at the table", Tone::Quiet),
        ]);
    }
    (!table.rows.is_empty()).then_some(table)
}

/// In dashes or spoons where the spec has it so.
fn each_words(line: &BatchLine<'_>, each: Need, unit: HouseUnit) -> String {
    let own = line.line.amount;
    match (each, own.unit(), line.line.volume) {
        (Need::Volume(of), Unit::Dash | Unit::Drop | Unit::Barspoon, Some(whole)) if whole > Volume::ZERO => {
            let count = own.count() * of.ml() / whole.ml();
            format!("{} {}", trimmed(count, 1), own.unit().written(count))
        }
        (Need::Volume(of), ..) => volume(of, unit),
        _ => need_words(each, unit),
    }
}

pub(super) fn container_facts(batch: &Batch<'_>, unit: HouseUnit) -> Option<Facts> {
    let packing = batch.packing.as_ref()?;
    let mut facts = Vec::new();
    for filled in &packing.filled {
        let vessel = &filled.vessel;
        let head = Volume::clamped(vessel.holds.ml() - filled.line.ml());
        let last = filled.last.map_or(String::new(), |last| {
            if filled.count == 1 {
                format!("; it takes {}", short(last, unit))
            } else {
                format!("; the last takes {}", short(last, unit))
            }
        });
        let pours = filled.line.ml() / batch.pour.ml();
        facts.push(fact(
            &format!("{} {}", filled.count, vessel.kind.written(filled.count)),
            format!(
                "of {}, filled to {} ({} of the brim, {} left free){last}; a full one pours {}",
                short(vessel.holds, unit),
                short(filled.line, unit),
                percent(packing.fill),
                short(head, unit),
                serves_words(pours),
            ),
        ));
    }
    if packing.left_over.ml() >= 1.0 {
        facts.push(fact("room to spare", much(packing.left_over, unit)));
    }
    Some(facts)
}

pub(super) fn freezer_facts(batch: &Batch<'_>, unit: HouseUnit) -> Option<Facts> {
    let cold = batch.cold.as_ref()?;
    let at = cold.at;
    let mut facts = vec![
        fact("freezes from", format!("{:.1}, give or take {UNCERTAIN_KELVIN} K", cold.freezes_from)),
        fact(
            "pours",
            match cold.pours {
                Pours::Freely => format!("yes: no ice at {at:.0}"),
                Pours::AtTheEdge => format!("perhaps: too near {at:.0} to say"),
                Pours::NotFreely => format!("no: {} of its weight is ice at {at:.0}", percent(cold.ice)),
            },
        ),
    ];
    if cold.pours != Pours::Freely {
        let strong = cold.strength_to_pour.map_or_else(
            || "no strength would do with its sugar as it is".to_owned(),
            |s| format!("{s:.1} with its sugar as it is; it is {:.1}", batch.measured.strength),
        );
        facts.push(fact("must be", strong));
        facts.push(fact(
            "so",
            match (cold.most_water, cold.strength_with_it) {
                (Some(water), Some(strength)) => {
                    let left = Volume::clamped(batch.water.a_serve.ml() - water.ml());
                    format!(
                        "at most {} of water a serve goes in ({strength:.1}), and {} at service: --water {:.0}%; or keep it in the fridge",
                        short(water, unit),
                        short(left, unit),
                        (100.0 * water.ml() / (batch.pour.ml() - batch.water.a_serve.ml()).max(1.0)).floor()
                    )
                }
                _ => format!(
                    "even without water it begins to freeze at {:.1}: keep it in the fridge, or in a freezer no colder than {:.0}",
                    cold.without_water,
                    Temperature::clamped((cold.freezes_from.celsius() + UNCERTAIN_KELVIN).ceil())
                ),
            },
        ));
    }
    facts.push(fact(
        "headspace",
        format!(
            "{} of the brim at most, for a freezer {RUNS_COLDER:.0} K colder than it says",
            percent((100.0 * batch.fill).floor() / 100.0)
        ),
    ));
    Some(facts)
}

pub(super) fn by_eye_table(by_eye: &ByEye<'_>, unit: HouseUnit) -> Table {
    let mut table = Table::new([
        Column::flexible("pour in"),
        Column::right("as much"),
        Column::right("up to"),
        Column::right("unnoticed"),
        Column::right("on the glass"),
        Column::right("in its band"),
    ]);
    let signed = |sign: &str, off: Option<Volume>| match off {
        Some(off) => format!("{sign}{}", short(off, unit)),
        None if sign == "-" => "any less".to_owned(),
        None => "any more".to_owned(),
    };
    for line in &by_eye.lines {
        let band = match (&by_eye.band, line.in_band) {
            (None, _) => String::new(),
            (Some(_), (None, None)) => "any".to_owned(),
            (Some(_), (less, more)) => format!("{}, {}", signed("-", less), signed("+", more)),
        };
        table.push([
            Cell::new(line.ingredient.map_or_else(|| "water".to_owned(), |i| i.name.clone()), Tone::Strong),
            short(line.volume, unit).into(),
            short(line.up_to, unit).into(),
            line.unnoticed.map_or_else(|| "any".to_owned(), |off| format!("± {}", short(off, unit))).into(),
            line.unnoticed_mm.map_or_else(String::new, |mm| format!("± {} mm", trimmed(mm, 1))).into(),
            band.into(),
        ]);
    }
    table
}

/// The lines on the bottle, the first at its floor.
pub(super) fn by_eye_marks(by_eye: &ByEye<'_>, unit: HouseUnit) -> Vec<FillMark> {
    let mark = |line: &FillLine<'_>| {
        let name = line.ingredient.map_or("water", |i| i.name.as_str());
        let off =
            line.unnoticed_mm.map_or_else(String::new, |mm| format!(", give or take {} mm", trimmed(mm, 1)));
        FillMark {
            label: format!("{name} up to {}{off}", short(line.up_to, unit)),
            share: line.up_to.ml() / by_eye.holds.ml(),
        }
    };
    by_eye.lines.iter().map(mark).collect()
}

pub(super) fn steps_text(batch: &Batch<'_>, unit: HouseUnit) -> String {
    let mut lines = Vec::new();
    for task in &batch.tasks {
        lines.push(match task {
            Task::Water => format!(
                "Measure {} of cold water in. No ice goes into a batch: nobody knows how much of it melts.",
                short(batch.water_measured.volume, unit)
            ),
            Task::Pour(line) => {
                let line = &batch.lines[*line];
                let last = if line.line.role == crate::book::Role::Base {
                    ", last: it is the dear part"
                } else {
                    ""
                };
                format!(
                    "Pour in {} of {}{last}.",
                    short(line.measured.volume, unit),
                    line.line.ingredient.name
                )
            }
            Task::Mix => "Mix without air: stir, or turn the closed vessel over a few times.".to_owned(),
            Task::Taste => {
                "Taste it as cold as it is served; add what was held back of the dashes, one by one."
                    .to_owned()
            }
            Task::Fill => match &batch.packing {
                Some(packing) => {
                    let of = |f: &Filled| format!("{} {}", f.count, f.vessel.kind.written(f.count));
                    let all: Vec<String> = packing.filled.iter().map(of).collect();
                    format!("Fill {} up to the line, never to the brim.", listed(&all))
                }
                None => "Bottle it in clean bottles, never to the brim.".to_owned(),
            },
            Task::Label => {
                "Write on each: name, day, keep by, strength, serve, allergens (--labels prints them)."
                    .to_owned()
            }
            Task::Store => format!("Put it {}.", place_words(batch.keeps.store)),
        });
    }
    lines.iter().enumerate().map(|(i, line)| format!("{}. {line}", i + 1)).collect::<Vec<_>>().join("\n")
}

pub(super) fn buy_table(buy: &[Bought<'_>], unit: HouseUnit) -> Table {
    let mut table = Table::new([
        Column::flexible("what"),
        Column::right("needed"),
        Column::left("buy"),
        Column::left("left over"),
        Column::right("paid"),
    ]);
    for bought in buy.iter().filter(|b| !b.water) {
        let (buys, left, paid) = buys(bought);
        table.push([
            Cell::new(bought.ingredient.name.clone(), Tone::Strong),
            need_words(bought.need, unit).into(),
            buys.into(),
            Cell::new(left, Tone::Quiet),
            paid.into(),
        ]);
    }
    table
}

/// What to buy of something, what is left of the last pack, and what is paid.
pub(in crate::report::ahead) fn buys(bought: &Bought<'_>) -> (String, String, String) {
    match (&bought.pack, &bought.pieces, bought.prep) {
        (Some(pack), ..) => (
            format!("{} x {}", pack.whole, pack.size),
            if pack.left > 0.005 { format!("{} of one", percent(pack.left)) } else { "nothing".to_owned() },
            money(pack.paid),
        ),
        (None, Some(pieces), prep) => {
            let (usual, fewest, most) = (pieces.usual, pieces.fewest, pieces.most);
            let or_made = if prep.is_some() { ", or made" } else { "" };
            (
                format!("{usual} {} ({fewest} to {most}){or_made}", pieces.fruit.name),
                String::new(),
                String::new(),
            )
        }
        (None, None, Some(_)) => ("made here: 'prep' says how".to_owned(), String::new(), String::new()),
        (None, None, None) => ("no price, no size".to_owned(), String::new(), String::new()),
    }
}

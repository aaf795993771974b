//! A take-home kit, as a report and as the paper in the bag.

use serde_json::json;

use super::batch::{BatchTold, batch_data};
use super::label::{allergens, parts};
use super::words::{
    ahead_texts, by_hand, keep_by, keeps_words, much, need_words, percent, serves_words, short,
    small_cautions, standard_drinks,
};
use crate::book::Method;
use crate::measure::{HouseUnit, Volume};
use crate::report::describe::{cautions, garnish_name};
use crate::report::phrase::{listed, trimmed};
use crate::report::{Cell, Column, FillMark, Insert, Report, Table, Tone};
use crate::service::{AheadCaution, Kit};

/// A kit: the mix, what the guest adds, what it makes.
pub fn kit(kit: &Kit<'_>, told: &BatchTold<'_, '_>) -> Report {
    let unit = told.view.unit;
    let names: Vec<&str> = kit.spirits.iter().map(|(i, _)| i.name.as_str()).collect();
    let fact = |label: &str, value: String| (label.to_owned(), value);
    let mut facts = vec![
        fact("the guest adds", listed(&names)),
        fact("parts", ratio_words(kit)),
        fact(
            "a serve",
            format!(
                "{} of mix and {} of spirit, {}",
                by_hand(kit.mix.pour, unit),
                by_hand(kit.spirit, unit),
                how(kit)
            ),
        ),
        fact(
            "at home",
            format!(
                "{}, {:.1}; the bar's own is {:.1}",
                short(kit.served, unit),
                kit.strength,
                kit.single.strength
            ),
        ),
        fact(
            "makes",
            format!("{} from {} of mix", serves_words(kit.mix.serves), much(kit.mix.measured.volume, unit)),
        ),
    ];
    if kit.water > Volume::ZERO {
        facts.push(fact(
            "water",
            format!("{} a serve in the mix, {} of it", short(kit.water, unit), percent(kit.mix.water.share)),
        ));
    }
    let mut data = json!({
        "ok": true,
        "command": "kit",
        "name": kit.spec.name,
        "parts": kit.parts,
        "spirits": kit.spirits.iter().map(|(i, v)| json!({
            "id": i.id.as_str(), "name": i.name, "a_serve_ml": v.ml(),
        })).collect::<Vec<_>>(),
        "spirit_a_serve_ml": kit.spirit.ml(),
        "water_a_serve_ml": kit.water.ml(),
        "at_home": { "served_ml": kit.served.ml(), "strength_percent_vol": kit.strength.percent_vol() },
        "made_singly_percent_vol": kit.single.strength.percent_vol(),
        "mix": batch_data(&kit.mix),
        "made_on": told.made.map(|d| d.to_string()),
        "keep_by": told.made.map(|d| keep_by(d, kit.mix.keeps.days).to_string()),
    });
    if let Some(bottle) = &kit.bottle {
        facts.push(fact("a bottle", bottle_words(kit, unit)));
        data["bottle"] = json!({
            "holds_ml": bottle.holds.ml(),
            "mix_ml": bottle.mix.ml(),
            "spirit_ml": bottle.spirit.ml(),
            "serves": bottle.serves,
            "room_for_spirit": bottle.room,
            "count": kit.mix.packing.as_ref().map(crate::service::Packing::count),
        });
    }
    let mut report = Report::new(format!("{}: the mix to take home", kit.spec.name), data)
        .facts(facts)
        .heading("In the mix")
        .table(super::batch::lines(told));
    if let Some(table) = adds_table(kit, unit) {
        report = report.heading("In the bag, for the guest to add").table(table);
    }
    let mut keeping = Vec::new();
    if let Some(made) = told.made {
        keeping.push(fact("made on", made.to_string()));
        keeping.push(fact("keep by", keep_by(made, kit.mix.keeps.days).to_string()));
    }
    keeping.push(fact("keeps", keeps_words(&kit.mix.keeps)));
    let held = allergens(&kit.mix);
    if !held.is_empty() {
        keeping.push(fact("allergens", held.join(", ")));
    }
    report = report.heading("Keeping, and for the label").facts(keeping);
    for text in ahead_texts(vec![AheadCaution::TakeHome, AheadCaution::Keeping, AheadCaution::Label]) {
        report = report.caution(text);
    }
    for caution in cautions(told.book, kit.spec.cautions().into_iter()) {
        report = report.caution(caution.text.clone());
    }
    report
}

fn ratio_words(kit: &Kit<'_>) -> String {
    // In whole parts where a few will do: 2 to 3.
    for spirit in 1..=4_u8 {
        let mix = (kit.parts * f64::from(spirit)).round();
        if mix >= 1.0 && (mix / f64::from(spirit) / kit.parts - 1.0).abs() < 0.01 {
            return format!("{mix:.0} of mix to {spirit} of spirit");
        }
    }
    format!("{} of mix to 1 of spirit", trimmed(kit.parts, 2))
}

fn how(kit: &Kit<'_>) -> &'static str {
    match kit.spec.method {
        Method::Shaken => "shaken with ice",
        Method::Stirred => "stirred over ice",
        Method::Blended => "blended with ice",
        Method::Built | Method::NoIce => "over ice",
    }
}

fn bottle_words(kit: &Kit<'_>, unit: HouseUnit) -> String {
    let Some(bottle) = &kit.bottle else { return String::new() };
    let count = kit.mix.packing.as_ref().map_or(1, crate::service::Packing::count);
    let of = format!("{count} of {}: ", short(bottle.holds, unit));
    let mix = short(bottle.mix, unit);
    let spirit = short(bottle.spirit, unit);
    let makes = serves_words(bottle.serves);
    if bottle.room {
        format!("{of}{mix} of mix, room for {spirit} of spirit up to the second line; makes {makes}")
    } else {
        format!("{of}{mix} of mix, which takes {spirit} of spirit; makes {makes}")
    }
}

fn adds_table(kit: &Kit<'_>, unit: HouseUnit) -> Option<Table> {
    let mut table = Table::new([Column::left("add"), Column::right("each"), Column::flexible("why")]);
    for line in kit.mix.lines.iter().filter(|l| l.at_service.is_some()) {
        let why = line.held.as_ref().map_or("", |h| h.why.as_str());
        table.push([
            Cell::new(line.line.ingredient.name.clone(), Tone::Strong),
            line.at_service.map_or_else(String::new, |need| need_words(need, unit)).into(),
            Cell::new(why, Tone::Quiet),
        ]);
    }
    for (ingredient, form) in &kit.spec.garnish {
        table.push([
            Cell::new(garnish_name(ingredient, form), Tone::Strong),
            "1".into(),
            Cell::new("on top", Tone::Quiet),
        ]);
    }
    (!table.rows.is_empty()).then_some(table)
}

/// What lies in the bag.
pub fn kit_insert(kit: &Kit<'_>, told: &BatchTold<'_, '_>) -> Insert {
    let unit = told.view.unit;
    let names: Vec<&str> = kit.spirits.iter().map(|(i, _)| i.name.as_str()).collect();
    let mut steps = vec!["Shake the bottle: what is in it settles.".to_owned()];
    let spirit = listed(&names);
    match &kit.bottle {
        Some(bottle) if bottle.room => {
            steps.push(format!(
                "Fill the bottle up to the second line with {spirit}: {}. Turn it over a few times.",
                short(bottle.spirit, unit)
            ));
            let serve = Volume::clamped(kit.mix.pour.ml() + kit.spirit.ml());
            steps.push(format!("Measure {} for each drink.", by_hand(serve, unit)));
        }
        _ => steps.push(format!(
            "Measure {} of the mix and {} of {spirit} for each drink.",
            by_hand(kit.mix.pour, unit),
            by_hand(kit.spirit, unit)
        )),
    }
    steps.push(match kit.spec.method {
        Method::Shaken => "Shake it hard with plenty of ice for twelve seconds and strain it.".to_owned(),
        Method::Stirred => "Stir it over plenty of ice for half a minute and strain it.".to_owned(),
        Method::Blended => "Blend it with a cup of ice.".to_owned(),
        Method::Built | Method::NoIce => "Pour it over fresh ice.".to_owned(),
    });
    let adds: Vec<String> = kit
        .mix
        .lines
        .iter()
        .filter_map(|l| Some(format!("{} {}", need_words(l.at_service?, unit), l.line.ingredient.name)))
        .collect();
    if !adds.is_empty() {
        steps.push(format!("Add {}.", listed(&adds)));
    }
    for (ingredient, form) in &kit.spec.garnish {
        steps.push(format!("On top: {}.", garnish_name(ingredient, form)));
    }
    let mut facts =
        vec![("a serve at home".to_owned(), format!("{}, {:.1}", short(kit.served, unit), kit.strength))];
    facts.push(("standard drinks".to_owned(), standard_drinks(kit.ethanol).join(", ")));
    facts.push(("keeps".to_owned(), keeps_words(&kit.mix.keeps)));
    if let Some(made) = told.made {
        facts.push(("keep by".to_owned(), keep_by(made, kit.mix.keeps.days).to_string()));
    }
    let marks = kit.bottle.as_ref().map_or_else(Vec::new, |b| {
        let mix =
            FillMark { label: format!("mix: {}", short(b.mix, unit)), share: b.mix.ml() / b.holds.ml() };
        let both = b.mix.ml() + b.spirit.ml();
        if b.room {
            let spirit = FillMark {
                label: format!("{spirit}: {} more", short(b.spirit, unit)),
                share: both / b.holds.ml(),
            };
            vec![mix, spirit]
        } else {
            vec![mix]
        }
    });
    let mut texts = ahead_texts(vec![AheadCaution::TakeHome]);
    texts.extend(small_cautions(told.book, &kit.spec));
    Insert {
        house: told.house.clone(),
        name: kit.spec.name.clone(),
        adds: spirit,
        ratio: ratio_words(kit),
        makes: kit.bottle.as_ref().map_or_else(|| serves_words(kit.mix.serves), |b| serves_words(b.serves)),
        steps,
        facts,
        ingredients: parts(&kit.mix),
        allergens: allergens(&kit.mix),
        cautions: texts,
        marks,
    }
}

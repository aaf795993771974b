//! Labels of what is made ahead.

use std::collections::BTreeSet;

use super::batch::BatchTold;
use super::words::{
    ahead_texts, by_hand, day, days_words, first_sentence, keep_by, label_name, place_words, short,
    small_cautions, standard_drinks,
};
use crate::book::{Allergen, Method};
use crate::measure::{HouseUnit, Mass, Volume};
use crate::report::{FillMark, Label, Part};
use crate::service::{AheadCaution, Batch, Kit, Style};

/// The ingredients of a batch as a label has them: by weight, the heaviest first.
pub(super) fn parts(batch: &Batch<'_>) -> Vec<Part> {
    batch
        .by_weight()
        .into_iter()
        .map(|(ingredient, _)| match ingredient {
            Some(i) => Part { name: label_name(i), allergen: !i.allergens.is_empty() },
            None => Part { name: "water".to_owned(), allergen: false },
        })
        .collect()
}

/// The EU groups of what is in the bottle, not of what is added at service.
pub(super) fn allergens(batch: &Batch<'_>) -> Vec<String> {
    let poured = batch.lines.iter().filter(|l| l.in_batch > Volume::ZERO);
    let all: BTreeSet<Allergen> = poured.flat_map(|l| l.line.ingredient.allergens.iter().copied()).collect();
    all.iter().map(|a| a.name().to_owned()).collect()
}

/// What is done with it at service: `shake 94 ml with ice, strain; add 1 dash ...`.
fn serve_words(batch: &Batch<'_>, unit: HouseUnit) -> String {
    let pour = by_hand(batch.pour, unit);
    let how = match (batch.style, batch.spec.method) {
        (Style::Chilled, _) => format!("Turn over once. Pour {pour} from the fridge, no ice"),
        (Style::Freezer, _) => format!("Turn over once. Pour {pour} from the freezer, no ice"),
        (Style::OverIce, _) => format!("Turn over once. Pour {pour} over fresh ice"),
        (Style::Long, _) => format!("Shake. Pour {pour} over fresh ice and lengthen"),
        (Style::ToOrder, Method::Shaken) => format!("Shake {pour} with ice and strain"),
        (Style::ToOrder, Method::Stirred) => format!("Stir {pour} over ice and strain"),
        (Style::ToOrder, Method::Blended) => format!("Blend {pour} with ice"),
        (Style::ToOrder, _) => format!("Shake. Pour {pour} over ice"),
        (Style::Punch, _) => "Pour over a block of ice in the bowl, ladle out".to_owned(),
        (Style::Tap, _) => format!("Draw {pour} from the tap"),
    };
    let adds: Vec<&str> = batch
        .lines
        .iter()
        .filter(|l| l.at_service.is_some())
        .map(|l| l.line.ingredient.name.as_str())
        .collect();
    if adds.is_empty() { format!("{how}.") } else { format!("{how}; add {}.", adds.join(", ")) }
}

/// Strength that a label tells, from so much on, % vol: under it the figure would read 0.
const TOLD_FROM: f64 = 0.05;

fn label(told: &BatchTold<'_, '_>, name: String, serve: String) -> Label {
    let batch = told.batch;
    let gas = batch.cautions().into_iter().filter(|c| *c == AheadCaution::Gas).collect();
    let of_parts = small_cautions(told.book, &batch.spec);
    let keeps = match told.made {
        Some(_) => String::new(),
        None => format!(", {}", days_words(batch.keeps.days)),
    };
    Label {
        house: told.house.clone(),
        name,
        made_on: told.made.map(day),
        keep_by: told.made.map(|made| day(keep_by(made, batch.keeps.days))),
        strength: (batch.measured.strength.percent_vol() >= TOLD_FROM)
            .then(|| format!("{:.1}", batch.measured.strength)),
        volume: String::new(),
        ingredients: parts(batch),
        allergens: allergens(batch),
        standard_drinks: Vec::new(),
        storage: vec![format!("Keep {}{keeps}.", place_words(batch.keeps.store))],
        serve: Some(serve),
        cautions: ahead_texts(gas).iter().map(|text| first_sentence(text)).chain(of_parts).collect(),
        fill: None,
    }
}

/// A label for every container of a batch; one without a fill line where none was named.
pub fn batch_labels(told: &BatchTold<'_, '_>) -> Vec<Label> {
    let (batch, unit) = (told.batch, told.view.unit);
    let one = label(told, batch.spec.name.clone(), serve_words(batch, unit));
    let ethanol = |of: Volume| {
        let all = batch.measured.volume.ml().max(1e-9);
        Mass::clamped(batch.liquid.ethanol().grams() * of.ml() / all)
    };
    let with = |held: Volume, of: Option<Volume>| Label {
        volume: short(held, unit),
        standard_drinks: vec![standard_drinks(ethanol(held)).join(", ")],
        fill: of.map(|of| FillMark {
            label: format!("filled to {}", short(held, unit)),
            share: held.ml() / of.ml(),
        }),
        ..one.clone()
    };
    let Some(packing) = &batch.packing else { return vec![with(batch.measured.volume, None)] };
    let mut labels = Vec::new();
    for filled in &packing.filled {
        for place in 1..=filled.count {
            let held = filled.last.filter(|_| place == filled.count).unwrap_or(filled.line);
            labels.push(with(held, Some(filled.vessel.holds)));
        }
    }
    labels
}

/// A label for every bottle of a kit.
pub fn kit_labels(kit: &Kit<'_>, told: &BatchTold<'_, '_>) -> Vec<Label> {
    let unit = told.view.unit;
    let names: Vec<&str> = kit.spirits.iter().map(|(i, _)| i.name.as_str()).collect();
    let how = match kit.spec.method {
        Method::Shaken => "shake with ice and strain",
        Method::Stirred => "stir over ice and strain",
        Method::Blended => "blend with ice",
        Method::Built | Method::NoIce => "pour over ice",
    };
    let serve = format!(
        "Shake the bottle. {} of this to {} of {}; {how}.",
        by_hand(kit.mix.pour, unit),
        by_hand(kit.spirit, unit),
        names.join(" and ")
    );
    let held = kit.bottle.as_ref().map_or(kit.mix.measured.volume, |b| b.mix);
    let count = kit.mix.packing.as_ref().map_or(1, crate::service::Packing::count);
    let ethanol = kit.mix.liquid.ethanol().grams() * held.ml() / kit.mix.measured.volume.ml().max(1e-9);
    let name = format!("{}: the mix", kit.spec.name);
    let one = Label {
        volume: short(held, unit),
        standard_drinks: if ethanol > 0.1 {
            vec![standard_drinks(Mass::clamped(ethanol)).join(", ")]
        } else {
            Vec::new()
        },
        fill: kit.bottle.as_ref().map(|b| FillMark {
            label: format!("mix to {}", short(b.mix, unit)),
            share: b.mix.ml() / b.holds.ml(),
        }),
        ..label(told, name, serve)
    };
    vec![one; count as usize]
}

//! A batch, for another program.

use serde_json::{Value, json};

use super::BatchTold;
use crate::liquid::Measured;
use crate::liquid::freezing::Pours;
use crate::report::ahead::cost::cost_data;
use crate::report::ahead::words::{keep_by, need_data, standard_drinks_data};
use crate::report::balance::figures_data;
use crate::service::{Batch, Bought, ByEye, Task};

pub(super) fn data(told: &BatchTold<'_, '_>) -> Value {
    let batch = told.batch;
    json!({
        "ok": true,
        "command": "batch",
        "name": batch.spec.name,
        "style": batch.style.name(),
        "batch": batch_data(batch),
        "buy": told.buy.iter().map(bought_data).collect::<Vec<_>>(),
        "cost": told.cost.map(cost_data),
        "by_eye": told.by_eye.map(by_eye_data),
        "made_on": told.made.map(|d| d.to_string()),
        "keep_by": told.made.map(|d| keep_by(d, batch.keeps.days).to_string()),
    })
}

pub(in crate::report::ahead) fn measured_data(m: &Measured) -> Value {
    json!({
        "volume_ml": m.volume.ml(),
        "strength_percent_vol": m.strength.percent_vol(),
        "sugar_g_per_l": m.sugar.grams_per_litre(),
        "acid_g_per_l": m.acid.grams_per_litre(),
    })
}

pub(in crate::report::ahead) fn batch_data(batch: &Batch<'_>) -> Value {
    json!({
        "serves": batch.serves,
        "pour_ml": batch.pour.ml(),
        "days": batch.days,
        "lines": batch.lines.iter().map(|l| json!({
            "id": l.line.ingredient.id.as_str(),
            "name": l.line.ingredient.name,
            "role": l.line.role.name(),
            "amount": l.line.amount.to_string(),
            "in_batch_ml": l.in_batch.ml(),
            "measure_ml": l.measured.volume.ml(),
            "rounding_error": l.measured.error,
            "weighs_g": l.grams.map(|g| g.grams()),
            "at_service": l.at_service.map(need_data),
            "held_back": l.held.as_ref().map(|h| json!({
                "rule": h.rule, "goes_in": h.goes_in, "why": h.why, "origin": h.origin.to_string(),
            })),
        })).collect::<Vec<_>>(),
        "garnish": batch.spec.garnish.iter().map(|(i, form)| json!({
            "id": i.id.as_str(), "name": i.name, "form": form,
        })).collect::<Vec<_>>(),
        "water": {
            "a_serve_ml": batch.water.a_serve.ml(),
            "at_service_ml": batch.water.at_service.ml(),
            "in_batch_ml": batch.water_in_batch.ml(),
            "measure_ml": batch.water_measured.volume.ml(),
            "share_of_batch": batch.water.share,
            "basis": batch.water.dilution.basis.name(),
            "practice": batch.water.practice.as_ref().map(|p| json!({
                "rule": p.rule,
                "a_serve_ml": [p.a_serve.0.ml(), p.a_serve.1.ml()],
                "strength_percent_vol": [p.strength.0.percent_vol(), p.strength.1.percent_vol()],
            })),
        },
        "liquid": measured_data(&batch.measured),
        "as_measured": measured_data(&batch.as_measured),
        "made_singly": figures_data(&batch.single),
        "in_glass": measured_data(&batch.in_glass.measured),
        "standard_drinks_a_serve": standard_drinks_data(batch.in_glass.ethanol),
        "fill_share": batch.fill,
        "containers": batch.packing.as_ref().map(|p| json!({
            "filled": p.filled.iter().map(|f| json!({
                "kind": f.vessel.kind.one(),
                "holds_ml": f.vessel.holds.ml(),
                "count": f.count,
                "line_ml": f.line.ml(),
                "last_ml": f.last.map(|v| v.ml()),
            })).collect::<Vec<_>>(),
            "left_over_ml": p.left_over.ml(),
        })),
        "freezer": batch.cold.as_ref().map(|c| json!({
            "celsius": c.at.celsius(),
            "freezes_from_celsius": c.freezes_from.celsius(),
            "freezes_without_water_from_celsius": c.without_water.celsius(),
            "pours": match c.pours {
                Pours::Freely => "freely",
                Pours::AtTheEdge => "at the edge",
                Pours::NotFreely => "not freely",
            },
            "ice_share": c.ice,
            "strength_to_pour_percent_vol": c.strength_to_pour.map(|s| s.percent_vol()),
            "most_water_a_serve_ml": c.most_water.map(|v| v.ml()),
        })),
        "keeps": {
            "days": batch.keeps.days,
            "store": batch.keeps.store.name(),
            "strong": batch.keeps.strong,
            "sour": batch.keeps.sour,
        },
        "allergens": batch.spec.allergens().iter().map(|a| a.name()).collect::<Vec<_>>(),
        "cautions": batch.cautions().iter().map(|c| c.id()).chain(batch.spec.cautions().into_iter().map(|c| c.as_str())).collect::<Vec<_>>(),
        "order": batch.tasks.iter().map(|task| match task {
            Task::Water => json!("water"),
            Task::Pour(line) => json!(batch.lines[*line].line.ingredient.id.as_str()),
            Task::Mix => json!("mix"),
            Task::Taste => json!("taste"),
            Task::Fill => json!("fill"),
            Task::Label => json!("label"),
            Task::Store => json!("store"),
        }).collect::<Vec<_>>(),
    })
}

pub(in crate::report::ahead) fn bought_data(bought: &Bought<'_>) -> Value {
    json!({
        "id": bought.ingredient.id.as_str(),
        "name": bought.ingredient.name,
        "need": need_data(bought.need),
        "weighs_g": bought.grams,
        "pack": bought.pack.as_ref().map(|p| json!({
            "size": p.size.to_string(),
            "used": p.used,
            "buy": p.whole,
            "left_of_one": p.left,
            "paid": p.paid.to_string(),
            "source": p.source.to_string(),
        })),
        "fruit": bought.pieces.as_ref().map(|p| json!({
            "id": p.fruit.id.as_str(), "usual": p.usual, "fewest": p.fewest, "most": p.most,
        })),
        "made_here": bought.prep.is_some(),
    })
}

fn by_eye_data(by_eye: &ByEye<'_>) -> Value {
    json!({
        "holds_ml": by_eye.holds.ml(),
        "serves": by_eye.serves,
        "across_mm": by_eye.across_mm,
        "band": by_eye.band,
        "lines": by_eye.lines.iter().map(|l| json!({
            "id": l.ingredient.map_or("water", |i| i.id.as_str()),
            "ml": l.volume.ml(),
            "up_to_ml": l.up_to.ml(),
            "unnoticed_ml": l.unnoticed.map(|v| v.ml()),
            "unnoticed_mm": l.unnoticed_mm,
            "short_in_band_ml": l.in_band.0.map(|v| v.ml()),
            "over_in_band_ml": l.in_band.1.map(|v| v.ml()),
        })).collect::<Vec<_>>(),
    })
}

//! Checks of preparations.

use super::{Known, MOST_TEXT, Record, quoted, texts};
use crate::book::draft::PrepDraft;
use crate::book::fault::{Fault, Problem};
use crate::book::id::{CautionId, IngredientId};
use crate::book::ingredient::Ingredient;
use crate::book::near::nearest_word;
use crate::book::prep::Prep;

/// Most lines and most steps of a preparation.
const MOST_LINES: usize = 20;

pub(in super::super) fn check_prep<'i>(
    record: &Record<'_, PrepDraft>,
    known: &Known,
    ingredient: impl Fn(&IngredientId) -> Option<&'i Ingredient>,
    faults: &mut Vec<Fault>,
) {
    let draft = &record.listed.draft;
    if let Some(makes) = &draft.makes
        && known.ingredient(record, makes, faults).is_some()
        && ingredient(makes).is_some_and(|i| i.makeup.is_none())
    {
        faults.push(record.fault(Some(&quoted(makes)), Problem::PrepWithoutMakeup));
    }
    let (lines, steps) = (draft.lines.as_deref().unwrap_or(&[]), draft.steps.as_deref().unwrap_or(&[]));
    for (field, count) in [("lines", lines.len()), ("steps", steps.len())] {
        if (count == 0 && !record.listed.blanked) || count > MOST_LINES {
            let problem = Problem::PrepCount { field, found: count, most: MOST_LINES };
            faults.push(record.fault(Some(field), problem));
        }
    }
    for line in lines {
        known.ingredient(record, &line.of, faults);
        if draft.makes.as_ref() == Some(&line.of) {
            faults.push(
                record.fault(Some(&quoted(&line.of)), Problem::MadeFromItself { id: line.of.to_string() }),
            );
        }
    }
    for step in steps {
        texts(record, &[("steps", Some(step), MOST_TEXT)], faults);
    }
    for id in draft.cautions.iter().filter(|id| !known.cautions.contains(id)) {
        let nearest = nearest_word(id.as_str(), known.cautions.iter().map(CautionId::as_str));
        let problem =
            Problem::UnknownId { what: "caution", id: id.to_string(), nearest: nearest.map(str::to_owned) };
        faults.push(record.fault(Some(&quoted(id)), problem));
    }
}

pub(in super::super) fn finish_prep(draft: &PrepDraft) -> Option<Prep> {
    Some(Prep {
        makes: draft.makes.clone()?,
        way: draft.way?,
        lines: draft.lines.clone()?,
        boils_off: draft.boils_off,
        lost: draft.lost,
        steps: draft.steps.clone()?,
        keeps: draft.keeps?,
        cautions: draft.cautions.clone(),
        origin: draft.origin.clone()?,
    })
}

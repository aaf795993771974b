//! Checks of templates.

use super::{Known, MOST_NAME, MOST_TEXT, Record, quoted, texts};
use crate::book::draft::TemplateDraft;
use crate::book::fault::{Fault, Problem};
use crate::book::id::IngredientId;
use crate::book::ingredient::Ingredient;
use crate::book::template::{Slot, Template};
use crate::measure::Measures;

/// Most slots of a template.
const MOST_SLOTS: usize = 10;

pub(in super::super) fn check_template<'i>(
    record: &Record<'_, TemplateDraft>,
    known: &Known,
    ingredient: impl Fn(&IngredientId) -> Option<&'i Ingredient>,
    faults: &mut Vec<Fault>,
) {
    let draft = &record.listed.draft;
    texts(
        record,
        &[("essence", draft.essence.as_deref(), MOST_TEXT), ("glass", draft.glass.as_deref(), MOST_NAME)],
        faults,
    );
    for garnish in &draft.garnish {
        known.ingredient(record, &garnish.0, faults);
    }
    let Some(slots) = &draft.slots else { return };
    if (slots.is_empty() && !record.listed.blanked) || slots.len() > MOST_SLOTS {
        let problem = Problem::SlotCount { found: slots.len(), most: MOST_SLOTS };
        faults.push(record.fault(Some("slots"), problem));
    }
    for (index, slot) in slots.iter().enumerate() {
        if known.ingredient(record, &slot.classic, faults).is_none() {
            continue;
        }
        if let Some(why) = ingredient(&slot.classic).and_then(|filler| cannot_fill(slot, filler)) {
            let problem = Problem::Slot { slot: index + 1, role: slot.role.name(), why };
            faults.push(record.fault(Some(&quoted(&slot.classic)), problem));
        }
    }
}

/// Why the classic's own filler cannot fill its slot, if so.
fn cannot_fill(slot: &Slot, filler: &Ingredient) -> Option<String> {
    if !filler.roles.contains(&slot.role) {
        let roles: Vec<_> = filler.roles.iter().map(|r| r.name()).collect();
        let can = if roles.is_empty() { "nothing in a drink".to_owned() } else { roles.join(", ") };
        return Some(format!("{} can be {can}", filler.name));
    }
    let measures = Measures::default();
    let own = slot.amount.volume(&measures);
    if own.is_some() && filler.makeup.is_none() {
        return Some(format!("{} is measured by volume but has no makeup", filler.name));
    }
    let limit = |amount: &Option<crate::measure::Amount>| amount.as_ref().map(|a| a.volume(&measures));
    match (limit(&slot.least), limit(&slot.most)) {
        (Some(None), _) | (_, Some(None)) => Some("least and most must be volumes".to_owned()),
        (least, most) => {
            let own = own?;
            let least = least.flatten().unwrap_or(own);
            let most = most.flatten().unwrap_or(own);
            (least > own || own > most)
                .then(|| format!("its own {} lies outside its least and most", slot.amount))
        }
    }
}

pub(in super::super) fn finish_template(draft: &TemplateDraft) -> Option<Template> {
    Some(Template {
        id: draft.id.clone()?,
        name: draft.name.clone()?,
        aliases: draft.aliases.clone(),
        from: draft.from.clone(),
        kept: draft.kept,
        family: draft.family?,
        method: draft.method?,
        glass: draft.glass.clone()?,
        slots: draft.slots.clone()?,
        garnish: draft.garnish.clone(),
        essence: draft.essence.clone()?,
        origin: draft.origin.clone()?,
    })
}

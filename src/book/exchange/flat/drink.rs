//! A template or a kept drink as rows, a row for each line, and back.

use crate::book::exchange::cell::Cells;
use crate::book::exchange::fields::Taking;
use crate::book::exchange::filling::Filling;
use crate::book::exchange::who::Who;
use crate::book::id::{IngredientId, TemplateId};
use crate::book::ingredient::Ingredient;
use crate::book::origin::Origin;
use crate::book::template::{Garnish, Slot, Template};
use crate::book::word::{Family, Kind, Method, Role};

/// A drink as rows; what is said of the whole drink stands in the first.
pub(in super::super) fn drink_rows(template: &Template, who: &Who<'_>) -> Vec<Cells> {
    let rows = template.slots.iter().enumerate().map(|(index, slot)| {
        let mut row = Filling::default();
        row.text("id", template.id.as_str());
        row.text("drink", &template.name);
        if index == 0 {
            fill_head(&mut row, template);
        }
        row.text("amount", slot.amount.to_string());
        row.text("ingredient", who.name_of(&slot.classic));
        row.text("role", slot.role.name());
        row.some("least", slot.least.as_ref());
        row.some("most", slot.most.as_ref());
        row.yes("open", slot.open);
        row.done()
    });
    rows.collect()
}

fn fill_head(row: &mut Filling, template: &Template) {
    row.text("method", template.method.name());
    row.text("family", template.family.name());
    row.text("glass", &template.glass);
    row.list("garnish", template.garnish.iter().map(|Garnish(id, form)| format!("{id}: {form}")));
    row.text("essence", &template.essence);
    row.list("aliases", &template.aliases);
    row.some("from", template.from.as_ref());
    row.text("kept", if template.kept { "yes" } else { "no" });
    row.origin("origin", &template.origin);
}

/// The drink of its rows: the cells of the whole drink, and those of each line.
pub(in super::super) fn drink_of<'i>(
    head: &mut Taking<'_>,
    lines: &mut [Taking<'_>],
    id: TemplateId,
    ingredient: impl Fn(&IngredientId) -> Option<&'i Ingredient>,
) -> Option<Template> {
    let name = head.needed("drink");
    let slots: Vec<Slot> = lines.iter_mut().filter_map(|line| slot_of(line, &ingredient)).collect();
    let family = head.word::<Family>("family");
    let method = head.word::<Method>("method").or_else(|| family.map(usual_method));
    if method.is_none() && head.faults.is_empty() {
        let allowed: Vec<&str> = Method::ALL.iter().map(|m| m.name()).collect();
        head.fault("method", "nothing is written", Some(format!("write one of {}", allowed.join(", "))));
    }
    let from = head.raw("from").and_then(|text| head.taken("from", TemplateId::new(text)));
    let garnish = garnish_of(head);
    let kept = !head.says("kept") || head.yes("kept");
    let template = Template {
        id,
        name: name?,
        aliases: head.list("aliases"),
        from,
        kept,
        family: family.unwrap_or_else(|| usual_family(method.unwrap_or(Method::Built), &slots)),
        method: method?,
        glass: head.text("glass").unwrap_or_else(|| "glass".to_owned()),
        slots,
        garnish,
        essence: head.text("essence").unwrap_or_else(|| "A drink of the house.".to_owned()),
        origin: head.origin("origin").unwrap_or(Origin::House),
    };
    (head.faults.is_empty() && lines.iter().all(|line| line.faults.is_empty())).then_some(template)
}

fn slot_of<'i>(
    line: &mut Taking<'_>,
    ingredient: impl Fn(&IngredientId) -> Option<&'i Ingredient>,
) -> Option<Slot> {
    let unit = line.text("unit");
    line.needed("amount");
    let amount = line.amount("amount", unit.as_deref());
    let (least, most) = (line.amount("least", unit.as_deref()), line.amount("most", unit.as_deref()));
    let classic = line.ingredient("ingredient");
    let open = line.yes("open");
    let role = if line.says("role") {
        line.word("role")
    } else {
        classic.as_ref().and_then(ingredient).map(usual_role)
    };
    let role = role.or_else(|| line.faults.is_empty().then_some(Role::Modifier));
    Some(Slot { role: role?, classic: classic?, amount: amount?, least, most, open })
}

/// What an ingredient does in a drink as a rule: the first of its roles.
fn usual_role(ingredient: &Ingredient) -> Role {
    let first = ingredient.roles.iter().next().copied();
    first.unwrap_or(if ingredient.kind == Kind::Spirit { Role::Base } else { Role::Modifier })
}

fn usual_method(family: Family) -> Method {
    match family {
        Family::Stirred | Family::EqualParts => Method::Stirred,
        Family::Sour | Family::SourWithEgg | Family::FlipAndCream => Method::Shaken,
        Family::BuiltShort | Family::BuiltLong | Family::Sparkling | Family::Punch => Method::Built,
        Family::Blended => Method::Blended,
        Family::Hot => Method::NoIce,
    }
}

fn usual_family(method: Method, slots: &[Slot]) -> Family {
    let long = slots.iter().any(|slot| slot.role == Role::Lengthener);
    match method {
        Method::Stirred => Family::Stirred,
        Method::Shaken => Family::Sour,
        Method::Built if long => Family::BuiltLong,
        Method::Built => Family::BuiltShort,
        Method::Blended => Family::Blended,
        Method::NoIce => Family::Hot,
    }
}

fn garnish_of(head: &mut Taking<'_>) -> Vec<Garnish> {
    let all = head.list("garnish");
    let mut garnish = Vec::new();
    for item in all {
        let (name, form) = match item.split_once(':') {
            Some((name, form)) => (name.trim().to_owned(), form.strip_prefix(' ').unwrap_or(form).to_owned()),
            None => parted(&item, head.who),
        };
        garnish.extend(head.ingredient_of("garnish", &name).map(|id| Garnish(id, form)));
    }
    garnish
}

/// `orange peel` as orange and peel, where only the first is an ingredient.
fn parted(item: &str, who: &Who<'_>) -> (String, String) {
    if who.ingredient(item).is_err() {
        for (at, _) in item.rmatch_indices(' ') {
            if who.ingredient(&item[..at]).is_ok() {
                return (item[..at].to_owned(), item[at + 1..].to_owned());
            }
        }
    }
    (item.to_owned(), String::new())
}

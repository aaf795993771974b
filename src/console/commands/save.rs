//! `save`: a drink kept in the house book under a name.

use super::balance::spec_named;
use super::joined;
use super::work::compare::suggested;
use crate::book::{
    Family, Garnish, Leaf, Method, Origin, RecordChange, RecordEdit, RecordKind, Slot, Template, TemplateId,
    Whose, template_fields,
};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::keep::{id_of_name, kept as told, path_of};
use crate::console::session::Answer;
use crate::drink::{UNNAMED, Work, Written};
use crate::measure::{Amount, Unit, Volume};

/// Keeps a drink in the house book under a name: the one in hand, a suggestion of the last answer, or lines. From then on the
/// name stands for it wherever a drink is asked for.
#[derive(Debug, Clone, clap::Args)]
#[command(
    after_help = "Examples:\n  save Weir Sour\n  save 2 as Orchard Negroni --note for the river bar, in autumn"
)]
pub struct Args {
    /// The name; or a drink, 'as', and the name
    #[arg(required = true, value_name = "DRINK as NAME")]
    words: Vec<String>,
    /// What there is to say of it, in a line
    #[arg(long, value_name = "WORDS")]
    note: Option<String>,
    /// Put it in the place of a drink that was kept under the name before
    #[arg(long)]
    over: bool,
    /// Show the record, and keep nothing
    #[arg(long)]
    dry_run: bool,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.words);
    let lower = text.to_lowercase();
    let parted = lower.find(" as ").filter(|_| lower.len() == text.len());
    let (drink, name) = match parted.and_then(|at| Some((text.get(..at)?, text.get(at + 4..)?))) {
        Some((drink, name)) => (Some(drink.trim()), name.trim()),
        None => (None, text.trim()),
    };
    let drink = drink.filter(|d| !crate::console::hand::means_this(d));
    let in_hand = drink.is_none();
    let (written, from) = match drink {
        None => {
            let work = desk.work().map_err(|failure| {
                failure.hint(
                    "or say which drink: save 2 as Weir Sour, save 2 oz gin, 1 oz lime juice as Weir Gimlet",
                )
            })?;
            (work.now().clone(), template_called(&work.origin().name, desk))
        }
        Some(text) => match suggested(desk, text) {
            Some(written) => {
                let base = desk.hand.last().map(|last| last.base.name.clone()).unwrap_or_default();
                (written.clone(), template_called(&base, desk))
            }
            None => {
                let (spec, _) = spec_named(desk, text, None)?;
                let from = template_called(&spec.name, desk);
                (Written::of(&spec), from)
            }
        },
    };
    if name.is_empty() || name == UNNAMED {
        return Err(Failure::usage("the name is missing").hint("for example: save Weir Sour"));
    }
    let mut template = kept(&written, name, from, args.note.as_deref(), desk)?;
    let path = path_of(RecordKind::Spec, template.id.as_str())?;
    if let Some(there) = desk.library.book.template(&template.id) {
        // What is worked on further is not made from itself.
        if template.from.as_ref() == Some(&template.id) {
            template.from.clone_from(&there.from);
        }
        let own =
            desk.library.book.house().whose(RecordKind::Spec, template.id.as_str()) == Some(&Whose::House);
        if !own {
            return Err(Failure::mistake(format!("{} is a drink of the book already", there.name))
                .hint("keep yours under another name"));
        }
        if !args.over {
            return Err(Failure::mistake(format!("{} is kept already", there.name))
                .hint("--over puts this one in its place; the old one stays in the history"));
        }
    }
    let text = Leaf::new(RecordKind::Spec.word(), &template_fields(&template))
        .map_err(|fault| Failure::mistake(fault.to_string()))?;
    let edit = RecordEdit { path, change: RecordChange::Text(text.text().to_owned()) };
    let edited = desk.keep(&format!("save {name}"), &[edit], args.dry_run)?;
    let title = format!("{name}: kept");
    let notes =
        vec![format!("'work {name}' takes it up, 'riff {name}' varies it, 'taste {name} 8' says how it was")];
    let work = in_hand.then(|| desk.work().ok().and_then(|w: &Work| w.name(name).ok())).flatten();
    Ok(Answer { work, ..told("save", title, &edited, args.dry_run, notes) })
}

/// The id of a template by its name.
fn template_called(name: &str, desk: &Desk<'_>) -> Option<TemplateId> {
    desk.library.book.templates().iter().find(|t| t.name == name).map(|t| t.id.clone())
}

/// A written drink as a record.
fn kept(
    written: &Written,
    name: &str,
    from: Option<TemplateId>,
    note: Option<&str>,
    desk: &Desk<'_>,
) -> Result<Template, Failure> {
    let id = TemplateId::new(&id_of_name(name)?).map_err(|e| Failure::mistake(e.to_string()))?;
    // A line in millilitres has its limits in millilitres.
    let limit = |volume: Volume, unit: Unit| {
        if unit.is_metric() {
            Amount::new(volume.ml(), Unit::Millilitre).ok()
        } else {
            desk.house.amount(volume)
        }
    };
    let slot = |line: &crate::drink::WrittenLine| {
        let moves = line.limits.filter(|(least, most)| least < most);
        Slot {
            role: line.role,
            classic: line.ingredient.clone(),
            amount: line.amount,
            least: moves.and_then(|(least, _)| limit(least, line.amount.unit())),
            most: moves.and_then(|(_, most)| limit(most, line.amount.unit())),
            open: line.open,
        }
    };
    Ok(Template {
        id,
        name: name.to_owned(),
        aliases: Vec::new(),
        from,
        kept: true,
        family: written.family.unwrap_or_else(|| family_of(written, desk)),
        method: written.method,
        glass: if written.glass.is_empty() { "glass".to_owned() } else { written.glass.clone() },
        slots: written.lines.iter().map(slot).collect(),
        garnish: written.garnish.iter().map(|(id, form)| Garnish(id.clone(), form.clone())).collect(),
        essence: note.unwrap_or("A drink of the house.").to_owned(),
        origin: Origin::House,
    })
}

/// The family that a drink of which nobody said one is most like.
fn family_of(written: &Written, desk: &Desk<'_>) -> Family {
    let spec = desk.spec_of(written);
    let long = spec.lines.iter().any(crate::drink::Line::is_lengthener);
    let egg = spec.ingredients().any(|i| i.allergens.contains(&crate::book::Allergen::Eggs));
    match (written.method, long) {
        (Method::Blended, _) => Family::Blended,
        (_, true) => Family::BuiltLong,
        (Method::Shaken, _) if egg => Family::SourWithEgg,
        (Method::Shaken, _) => Family::Sour,
        (Method::Stirred, _) => Family::Stirred,
        (Method::Built | Method::NoIce, false) => Family::BuiltShort,
    }
}

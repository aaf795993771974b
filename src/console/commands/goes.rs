//! `goes` and `clash`: how two ingredients get on, in the house's own word.

use super::{joined, two_names};
use crate::book::{Bond, Ingredient, IngredientId, RecordChange, RecordEdit};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::keep::{FieldEdit, field, kept, pair_path, plain_field, set};
use crate::console::session::Answer;
use crate::measure::Affinity;

/// Writes down how well two ingredients go together, from 0.01 to 1. It counts before what a pack says.
#[derive(Debug, Clone, clap::Args)]
#[command(
    after_help = "Examples:\n  goes quince, mezcal 0.8\n  goes quince, mezcal 0.8 --why smoke under baked fruit --by the river bar"
)]
pub struct GoesArgs {
    /// Two ingredients with a comma between, and a number from 0.01 to 1
    #[arg(required = true, value_name = "A, B NUMBER")]
    words: Vec<String>,
    #[command(flatten)]
    opinion: Opinion,
}

/// Writes down that two ingredients do not go together.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  clash oyster, peach\n  clash oyster, peach --why two kinds of sweet")]
pub struct ClashArgs {
    /// Two ingredients with a comma between
    #[arg(required = true, value_name = "A, B")]
    words: Vec<String>,
    #[command(flatten)]
    opinion: Opinion,
}

/// What goes with an opinion.
#[derive(Debug, Clone, clap::Args)]
struct Opinion {
    /// Why, in a few words
    #[arg(long, value_name = "WORDS")]
    why: Option<String>,
    /// Who says so
    #[arg(long, value_name = "WHO")]
    by: Option<String>,
    /// Take the house's word on the two back; what a pack says counts again
    #[arg(long)]
    forget: bool,
    /// Show the change, and keep nothing
    #[arg(long)]
    dry_run: bool,
}

pub(in crate::console) fn goes(args: &GoesArgs, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.words);
    let (names, number) = parted(&text);
    let (a, b) = two_of(&names, "goes", desk)?;
    let affinity = match number {
        Some(number) => Some(number.parse::<Affinity>().map_err(|e| Failure::usage(e.to_string()))?),
        None => None,
    };
    if affinity.is_none() && !args.opinion.forget && args.opinion.why.is_none() {
        return Err(Failure::usage("how well? a number from 0.01 to 1 is missing")
            .hint("for example: goes quince, mezcal 0.8"));
    }
    keep_bond("goes", (a, b), affinity.map(Bond::Affinity), &args.opinion, desk)
}

pub(in crate::console) fn clash(args: &ClashArgs, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let (a, b) = two_of(&joined(&args.words), "clash", desk)?;
    keep_bond("clash", (a, b), Some(Bond::Clash), &args.opinion, desk)
}

/// The names, and the number after them.
fn parted(text: &str) -> (String, Option<&str>) {
    match text.trim().rsplit_once(char::is_whitespace) {
        Some((names, number)) if number.starts_with(|c: char| c.is_ascii_digit() || c == '.' || c == '-') => {
            (names.trim_end().trim_end_matches([',', ':', '=']).to_owned(), Some(number))
        }
        _ => (text.to_owned(), None),
    }
}

fn two_of<'s>(
    names: &str,
    command: &str,
    desk: &Desk<'s>,
) -> Result<(&'s Ingredient, &'s Ingredient), Failure> {
    let plain = names.replace(" goes with ", ", ").replace(" with ", ", ").replace(" and ", ", ");
    let (a, b) = match two_names(&[names.to_owned()], command) {
        Ok(names) => names,
        Err(failure) => two_names(&[plain], command).map_err(|_| failure)?,
    };
    let (a, b) = (desk.ingredient(&a)?, desk.ingredient(&b)?);
    if a.id == b.id {
        return Err(Failure::mistake(format!("these are one ingredient: {}", a.name)));
    }
    Ok((a, b))
}

fn keep_bond(
    command: &'static str,
    (a, b): (&Ingredient, &Ingredient),
    bond: Option<Bond>,
    opinion: &Opinion,
    desk: &Desk<'_>,
) -> Result<Answer, Failure> {
    let path = pair_path(&a.id, &b.id)?;
    let what = format!("{command} {}, {}", a.name, b.name);
    let (edit, title) = if opinion.forget {
        let edge = desk.library.book.edge(&a.id, &b.id);
        if edge.is_none_or(|e| e.said.is_none()) {
            return Err(Failure::mistake(format!("the house has said nothing of {} and {}", a.name, b.name)));
        }
        let edit = RecordEdit { path, change: RecordChange::Remove };
        (edit, format!("The house's word on {} and {} is taken back", a.name, b.name))
    } else {
        let title = match bond {
            Some(Bond::Affinity(affinity)) => {
                format!("{} goes with {}: {:.2}", a.name, b.name, affinity.value())
            }
            Some(Bond::Clash) => format!("{} and {} clash", a.name, b.name),
            None => format!("{} and {}: why", a.name, b.name),
        };
        (set(path, bond_fields((&a.id, &b.id), bond, opinion.why.as_deref(), opinion.by.as_deref())), title)
    };
    let edited = desk.keep(&what, &[edit], opinion.dry_run)?;
    let notes = before_words((a, b), desk).into_iter().collect();
    Ok(kept(command, title, &edited, opinion.dry_run, notes))
}

/// What the pack says of the two, if anything.
fn before_words((a, b): (&Ingredient, &Ingredient), desk: &Desk<'_>) -> Option<String> {
    let edge = desk.library.packs_alone().edge(&a.id, &b.id)?;
    Some(match edge.bond {
        Bond::Affinity(affinity) => format!("the pack says {:.2} ({})", affinity.value(), edge.origin),
        Bond::Clash => format!("the pack says that they clash ({})", edge.origin),
    })
}

/// The fields of a bond.
pub(super) fn bond_fields(
    (a, b): (&IngredientId, &IngredientId),
    bond: Option<Bond>,
    why: Option<&str>,
    by: Option<&str>,
) -> Vec<FieldEdit> {
    let (a, b) = if a <= b { (a, b) } else { (b, a) };
    let mut fields = vec![field(&["between"], &(a, b))];
    fields.extend(bond.map(|bond| match bond {
        Bond::Affinity(affinity) => plain_field(&["bond"], format!("goes({})", affinity.value())),
        Bond::Clash => plain_field(&["bond"], "clashes"),
    }));
    fields.extend(why.map(|why| field(&["note"], &why)));
    fields.extend(by.map(|by| field(&["by"], &by)));
    fields
}

//! `stock`: what stands on the back bar.

use super::joined;
use crate::book::{Level, RecordChange, RecordEdit, RecordKind};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::keep::{field, kept, path_of, set};
use crate::console::session::{Answer, Pick};
use crate::report;

/// Writes down how much of something there is: have, low, or out (86). 'riff' and 'swap' suggest nothing that is out. Without a
/// level: what is written; without a name: the whole back bar.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  stock mezcal out\n  stock mezcal, quince liqueur low")]
pub struct Args {
    /// Ingredients with commas between, and have, low or out
    #[arg(value_name = "NAMES LEVEL")]
    words: Vec<String>,
    /// What there is to say of it: where it stands, who orders it
    #[arg(long, value_name = "WORDS")]
    note: Option<String>,
    /// Only what is at this level: have, low or out
    #[arg(long, value_name = "LEVEL", value_parser = level, conflicts_with_all = ["note", "forget"])]
    level: Option<Level>,
    /// Take it off the list: nobody keeps count of it any more
    #[arg(long)]
    forget: bool,
    /// Show the change, and keep nothing
    #[arg(long)]
    dry_run: bool,
}

fn level(text: &str) -> Result<Level, String> {
    super::word(text)
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let house = desk.library.book.house();
    let text = joined(&args.words);
    let (names, level) = match text.trim().rsplit_once(char::is_whitespace) {
        Some((names, word)) => match word.parse::<Level>() {
            Ok(level) => (names.trim_end().trim_end_matches([',', ':', '=']), Some(level)),
            // A last word that no name has was meant as a level.
            Err(unknown) if desk.ingredients(&text).is_err() && desk.ingredients(names).is_ok() => {
                return Err(unknown.into());
            }
            Err(_) => (text.trim(), None),
        },
        None => (text.trim(), None),
    };
    if names.is_empty() {
        let mut all: Vec<_> =
            house.stock().filter(|s| args.level.is_none_or(|level| s.level == level)).collect();
        // What ran out is what a person looks for.
        all.sort_by_key(|s| std::cmp::Reverse(s.level));
        let picks = all.iter().map(|s| Pick::Ingredient(s.of.clone())).collect();
        return Ok(Answer::picking(report::stock(&desk.library.book, &all), picks));
    }
    let of = desk.ingredients(names)?;
    if level.is_none() && args.note.is_none() && !args.forget {
        let all: Vec<_> = of.iter().filter_map(|i| house.stock_of(&i.id)).collect();
        if all.is_empty() {
            return Err(Failure::mistake(format!("nobody has said how much {names} there is"))
                .hint(format!("say it: stock {names} have, stock {names} low, stock {names} out")));
        }
        let picks = all.iter().map(|s| Pick::Ingredient(s.of.clone())).collect();
        return Ok(Answer::picking(report::stock(&desk.library.book, &all), picks));
    }
    let mut edits = Vec::new();
    for ingredient in &of {
        let path = path_of(RecordKind::Stock, ingredient.id.as_str())?;
        edits.push(if args.forget {
            RecordEdit { path, change: RecordChange::Remove }
        } else {
            let mut fields = vec![field(&["of"], &ingredient.id)];
            fields.extend(level.map(|level| field(&["level"], &level)));
            fields.extend(args.note.iter().map(|n| field(&["note"], n)));
            set(path, fields)
        });
    }
    let edited = desk.keep(&format!("stock {text}"), &edits, args.dry_run)?;
    let names: Vec<&str> = of.iter().map(|i| i.name.as_str()).collect();
    let title = match (level, args.forget) {
        (_, true) => format!("{}: off the list", names.join(", ")),
        (Some(level), _) => format!("{}: {level}", names.join(", ")),
        (None, _) => names.join(", "),
    };
    Ok(kept("stock", title, &edited, args.dry_run, drinks_without(&of, level, desk)))
}

/// Which drinks of the house cannot be made without what ran out.
fn drinks_without(of: &[&crate::book::Ingredient], level: Option<Level>, desk: &Desk<'_>) -> Vec<String> {
    if level != Some(Level::Out) {
        return Vec::new();
    }
    let has = |t: &&crate::book::Template| t.slots.iter().any(|s| of.iter().any(|i| i.id == s.classic));
    let kept = desk.library.book.templates().iter().filter(|t| t.kept);
    let names: Vec<&str> = kept.filter(has).map(|t| t.name.as_str()).collect();
    if names.is_empty() {
        return Vec::new();
    }
    vec![format!("in {}: 'swap {} --in ...' finds a stand-in", names.join(", "), of[0].name)]
}

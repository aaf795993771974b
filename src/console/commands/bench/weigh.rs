//! `bench weigh`: the house's own dilution, from a drink weighed before and after the ice.

use super::asked::{Clause, clauses, missing};
use super::ice::needs_ice;
use crate::book::{Method, RecordChange, RecordEdit, RecordKind, Weighing};
use crate::console::commands::balance::{method, spec_named};
use crate::console::commands::joined;
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::keep::{dated_stem, field, named_fields, path_of};
use crate::console::session::Answer;
use crate::drink::{Line, before_ice, ice_of};
use crate::liquid::{MeasuredDilution, Melt, dilution};
use crate::measure::{Mass, Volume};
use crate::report::{self, Kin, Weighed};

const EXAMPLE: &str = "bench weigh negroni before 95 g after 131 g";

/// Weigh a drink in a tared vessel before the ice, and again strained off it: the difference is your dilution. It is kept for
/// its method, and 'balance', 'show' and 'riff' use it from then on. Without a drink: what is kept.
#[derive(Debug, Clone, clap::Args)]
#[command(
    allow_negative_numbers = true,
    after_help = "Examples:\n  bench weigh negroni before 95 g after 131 g\n  bench weigh --forget stirred"
)]
pub(super) struct Args {
    /// A drink, 'before' and what it weighed without its ice, 'after' and what it weighed strained
    #[arg(value_name = "QUESTION")]
    asked: Vec<String>,
    /// Say what it comes to, and keep nothing
    #[arg(long)]
    dry_run: bool,
    /// Take out the weighings of a method
    #[arg(long, value_name = "METHOD", value_parser = method, conflicts_with = "asked")]
    forget: Option<Method>,
    /// How the drink was made, if not as its template says: stirred, shaken, built or blended
    #[arg(long, value_name = "METHOD", value_parser = method)]
    method: Option<Method>,
}

pub(super) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let kept = desk.library.book.house().weighings();
    if let Some(method) = args.forget {
        return forget(method, kept, args.dry_run, desk);
    }
    if args.asked.is_empty() {
        return listed(kept.to_vec(), Vec::new());
    }
    let (mut weighing, mut notes) = weighing(args, desk)?;
    let mut changed = false;
    if args.dry_run {
        notes.push("nothing was kept: --dry-run".to_owned());
    } else if desk.library.house.root.is_none() {
        notes.push("nothing was kept: there is no folder for the house; say one with --book DIR".to_owned());
    } else {
        weighing.id = dated_stem(&desk.occasion()?);
        let path = path_of(RecordKind::Weighing, &weighing.id)?;
        notes.push(format!("kept in {}", desk.root()?.join(path.to_string()).display()));
        let edit = RecordEdit { path, change: RecordChange::New(fields(&weighing)) };
        desk.keep(&format!("bench weigh {}", joined(&args.asked)), &[edit], false)?;
        changed = true;
    }
    let all = kept.iter().cloned().chain([weighing]).collect();
    Ok(Answer { changed, ..listed(all, notes)? })
}

/// Takes out the weighings of a method.
fn forget(method: Method, kept: &[Weighing], dry_run: bool, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let (gone, rest): (Vec<Weighing>, Vec<Weighing>) = kept.iter().cloned().partition(|w| w.method == method);
    if gone.is_empty() {
        return Err(Failure::mistake(format!("no weighing of a {method} drink is kept"))
            .hint("'bench weigh' lists what is kept"));
    }
    let edits: Vec<RecordEdit> = gone
        .iter()
        .map(|w| Ok(RecordEdit { path: path_of(RecordKind::Weighing, &w.id)?, change: RecordChange::Remove }))
        .collect::<Result<_, Failure>>()?;
    desk.keep(&format!("bench weigh --forget {method}"), &edits, dry_run)?;
    let done =
        if dry_run { "would be taken out: --dry-run" } else { "taken out; 'undo --house' brings them back" };
    Ok(Answer { changed: !dry_run, ..listed(rest, vec![format!("{} {done}", gone.len())])? })
}

/// A weighing as a record.
fn fields(weighing: &Weighing) -> Vec<(String, String)> {
    let long = weighing.long.then(|| field(&["long"], &true));
    let first = [field(&["id"], &weighing.id), field(&["method"], &weighing.method)];
    let rest = [
        field(&["drink"], &weighing.drink),
        field(&["before"], &weighing.before),
        field(&["after"], &weighing.after),
        field(&["volume"], &weighing.volume),
        field(&["strength"], &weighing.strength),
    ];
    named_fields(first.into_iter().chain(long).chain(rest))
}

/// A weighing as typed, and what is to be said of it.
fn weighing(args: &Args, desk: &Desk<'_>) -> Result<(Weighing, Vec<String>), Failure> {
    let text = joined(&args.asked);
    let (mut what, mut before, mut after) = ("", None, None);
    for (word, text) in clauses(&text, &["before", "after"]) {
        if word.is_empty() {
            what = text;
            continue;
        }
        let mut clause = Clause::read(word, text, desk)?;
        let mass = match (clause.mass(), clause.number()) {
            (Some(mass), _) => mass,
            (None, Some(grams)) => Mass::new(grams)?,
            (None, None) => return Err(missing(&format!("the weight after '{word}'"), EXAMPLE)),
        };
        clause.done(EXAMPLE)?;
        if word == "before" { before = Some(mass) } else { after = Some(mass) }
    }
    let before = before.ok_or_else(|| missing("'before' and what the drink weighed", EXAMPLE))?;
    let after = after.ok_or_else(|| missing("'after' and what the drink weighed", EXAMPLE))?;
    if what.is_empty() {
        return Err(missing("the drink", EXAMPLE));
    }
    let (mut spec, _) = spec_named(desk, what, args.method)?;
    if let Some(method) = args.method {
        spec.method = method;
    }
    needs_ice(spec.method)?;
    let poured = before_ice(&spec)?;
    let own = poured.mass().grams();
    let volume = Volume::clamped(poured.volume().ml() * before.grams() / own);
    let weighing = Weighing {
        id: String::new(),
        method: spec.method,
        long: spec.lines.iter().any(Line::is_lengthener),
        drink: spec.name.clone(),
        before,
        after,
        volume,
        strength: poured.strength(),
    };
    MeasuredDilution::from_weighings(before, after, volume, poured.strength())?;
    let mut notes = Vec::new();
    if (before.grams() / own - 1.0).abs() > 0.05 {
        notes.push(format!(
            "as written it weighs {own:.0} g before the ice, not {before:.0}: taken as so much more or less of the same drink"
        ));
    }
    Ok((weighing, notes))
}

/// What is kept, and what it comes to for each method.
fn listed(all: Vec<Weighing>, notes: Vec<String>) -> Result<Answer, Failure> {
    let ice = ice_of(&all)?;
    let kin = Melt::MEASURED.into_iter().filter_map(|melt| {
        let measured = ice.of(melt).measured?;
        Some(Kin { melt, measured, published: dilution(melt, measured.strength) })
    });
    Ok(Answer::new(report::weighed(&Weighed { kin: kin.collect(), weighings: all, notes })?))
}

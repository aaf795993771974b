//! `taste`: how a pair or a drink was liked.

use super::balance::spec_named;
use super::joined;
use super::work::compare::suggested;
use crate::book::{
    Book, Ingredient, IngredientId, RecordChange, RecordEdit, RecordKind, Tasted, TastedThing, Tasting,
    TemplateId, Told,
};
use crate::console::desk::{Desk, Named, names_in};
use crate::console::failure::Failure;
use crate::console::keep::{dated_stem, field, named_fields, path_of};
use crate::console::session::Answer;
use crate::drink::Spec;
use crate::measure::{Grade, Score};
use crate::report;
use crate::riff::pair_shares;

/// Writes down how a pair or a drink was liked, from 0 (undrinkable) over 5 (neither way) to 10 (could not be better). Suggestions
/// follow it: the pairs in it move towards the score. Without a score: what was tasted so far.
#[derive(Debug, Clone, clap::Args)]
#[command(
    after_help = "Examples:\n  taste weir sour 8 dry and long\n  taste quince, mezcal 9 smoke under baked fruit --by the river bar"
)]
pub struct Args {
    /// Two ingredients with a comma between, a drink, or the number of a suggestion; a score from 0 to 10; words
    #[arg(value_name = "WHAT SCORE WORDS")]
    words: Vec<String>,
    /// Who tasted
    #[arg(long, value_name = "WHO")]
    by: Option<String>,
    /// The day, as 2026-11-27; today if not given
    #[arg(long, value_name = "DAY")]
    on: Option<String>,
    /// Show what it would come to, and keep nothing
    #[arg(long)]
    dry_run: bool,
}

const EXAMPLE: &str = "for example: taste quince, mezcal 9 smoke under baked fruit";

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.words);
    if !text.split_whitespace().any(is_score) {
        return so_far(&text, desk);
    }
    let (what, score, words) = parted(&text)?;
    let (of, name, told) = tasted(&what, desk)?;
    let occasion = desk.occasion()?;
    let id = dated_stem(&occasion);
    let on = args.on.clone().unwrap_or_else(|| occasion.at.get(..10).unwrap_or_default().to_owned());
    let shares: Vec<Told> = told
        .iter()
        .map(|(a, b, share)| Told(a.id.clone(), b.id.clone(), Grade::clamped((share * 1e4).round() / 1e4)))
        .collect();
    let fields = [
        Some(field(&["id"], &id)),
        Some(field(&["of"], &of)),
        Some(field(&["score"], &score)),
        words.as_ref().map(|words| field(&["words"], words)),
        args.by.as_ref().map(|by| field(&["by"], by)),
        Some(field(&["on"], &on)),
        Some(field(&["told"], &shares)),
    ];
    let path = path_of(RecordKind::Tasting, &id)?;
    let change = RecordChange::New(named_fields(fields.into_iter().flatten()));
    let edits = [RecordEdit { path, change }];
    let edited = desk.keep(&format!("taste {name} {}", score.points()), &edits, args.dry_run)?;
    let moved = told.iter().zip(&shares).map(|((a, b, _), told)| report::Moved {
        one: a,
        other: b,
        share: told.2.value(),
        before: desk.graph.book().edge(&a.id, &b.id).map(|e| e.bond),
        after: after(a, b, score, told.2.value(), desk),
    });
    let tasting = report::TastingKept {
        name,
        score,
        words,
        by: args.by.clone(),
        on,
        moved: moved.collect(),
        change: edited.id.as_ref().map(ToString::to_string),
    };
    Ok(Answer { changed: !args.dry_run, ..Answer::new(report::tasted(&tasting)) })
}

fn is_score(word: &str) -> bool {
    word.trim_end_matches("/10").trim_end_matches([':', ',']).parse::<f64>().is_ok()
}

/// What was tasted so far, of everything or of one thing.
fn so_far(text: &str, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let book = &desk.library.book;
    let tells: Box<dyn Fn(&Tasting) -> bool> = if text.is_empty() {
        Box::new(|_| true)
    } else if text.contains(',') {
        let both: Vec<IngredientId> = desk.ingredients(text)?.iter().map(|i| i.id.clone()).collect();
        Box::new(move |t| t.told.iter().any(|told| both.contains(&told.0) && both.contains(&told.1)))
    } else {
        match desk.target(text, crate::book::Wanted::Any)? {
            Named::Ingredient(i) => {
                Box::new(move |t| t.told.iter().any(|told| told.0 == i.id || told.1 == i.id))
            }
            Named::Template(drink) => {
                Box::new(move |t| matches!(&t.of, TastedThing::Drink(id) if id == &drink.id))
            }
            Named::Spec(_) => {
                return Err(Failure::usage("the score is missing: a number from 0 to 10").hint(EXAMPLE));
            }
        }
    };
    let all: Vec<&Tasting> = book.house().tastings().iter().rev().filter(|t| tells(t)).collect();
    Ok(Answer::new(report::tastings(book, &all)))
}

/// What the pair comes to with one tasting more.
fn after(a: &Ingredient, b: &Ingredient, score: Score, share: f64, desk: &Desk<'_>) -> Tasted {
    let edge = desk.library.book.edge(&a.id, &b.id);
    let so_far = edge.and_then(|e| e.said.as_ref()?.tasted.clone());
    let mut tasted = so_far.unwrap_or_else(|| Tasted::from(edge.map(|e| (e.bond, e.origin.clone()))));
    tasted.count(score, share);
    tasted
}

/// What was tasted, the score, and what was said.
fn parted(text: &str) -> Result<(String, Score, Option<String>), Failure> {
    let words: Vec<&str> = text.split_whitespace().collect();
    // The first word may be a suggestion's number, so the score comes after it; amounts have a unit behind them.
    let typed_lines = words.first().is_some_and(|w| is_score(w)) && text.contains(',');
    let at = if typed_lines {
        (1..words.len()).rev().find(|at| is_score(words[*at]))
    } else {
        (1..words.len()).find(|at| is_score(words[*at]))
    };
    let Some(at) = at else {
        return Err(Failure::usage("the score is missing: a number from 0 to 10").hint(EXAMPLE));
    };
    let number = words[at].trim_end_matches("/10").trim_end_matches([':', ',']);
    let score = number.parse::<Score>().map_err(|e| Failure::usage(e.to_string()).hint(EXAMPLE))?;
    let what = words[..at].join(" ").trim_end_matches([',', ':']).to_owned();
    let said = words[at + 1..].join(" ");
    Ok((what, score, (!said.is_empty()).then_some(said)))
}

type Pairs<'s> = Vec<(&'s Ingredient, &'s Ingredient, f64)>;

/// What a text stands for, what it is called, and the pairs of which a tasting of it tells.
fn tasted<'s>(what: &str, desk: &Desk<'s>) -> Result<(TastedThing, String, Pairs<'s>), Failure> {
    let named: Vec<&str> = names_in(what).collect();
    let as_pair = || -> Option<Vec<&'s Ingredient>> {
        named.iter().map(|name| desk.ingredient(name).ok()).collect::<Option<Vec<_>>>()
    };
    if named.len() == 2
        && let Some([a, b]) = as_pair().as_deref()
    {
        if a.id == b.id {
            return Err(Failure::mistake(format!("these are one ingredient: {}", a.name)));
        }
        let name = format!("{}, {}", a.name, b.name);
        return Ok((TastedThing::Pair(a.id.clone(), b.id.clone()), name, vec![(*a, *b, 1.0)]));
    }
    if named.len() == 2 && named.iter().all(|n| !n.starts_with(|c: char| c.is_ascii_digit())) {
        desk.ingredients(what)?;
    }
    if let Some(written) = suggested(desk, what) {
        let spec = desk.spec_of(written);
        let name = spec.name.clone();
        return drink(&desk.library.book, TastedThing::Other(name.clone()), name, &spec);
    }
    if !what.contains(',')
        && let Ok(Named::Template(template)) = desk.target(what, crate::book::Wanted::Template)
    {
        let spec = Spec::of_template(&desk.library.book, template, &desk.house);
        let id: TemplateId = template.id.clone();
        return drink(&desk.library.book, TastedThing::Drink(id), template.name.clone(), &spec);
    }
    let (spec, _) = spec_named(desk, what, None)?;
    let name = spec.name.clone();
    drink(&desk.library.book, TastedThing::Other(name.clone()), name, &spec)
}

fn drink<'s>(
    book: &Book,
    of: TastedThing,
    name: String,
    spec: &Spec<'s>,
) -> Result<(TastedThing, String, Pairs<'s>), Failure> {
    // One that is kept under that name is meant, even if it is in hand.
    let kept = book.templates().iter().find(|t| t.kept && t.name == name);
    let of = kept.map_or(of, |t| TastedThing::Drink(t.id.clone()));
    let shares = pair_shares(spec);
    if shares.is_empty() {
        return Err(Failure::mistake(format!(
            "{name} has no two ingredients that are measured, so it tells of no pair"
        )));
    }
    Ok((of, name, shares.into_iter().map(|s| (s.one, s.other, s.share)).collect()))
}

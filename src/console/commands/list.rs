//! `list`: what the book holds.

use super::joined;
use crate::book::Kind;
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::{Answer, Pick};
use crate::report;

/// What the book holds: all in figures, or one list.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  list templates\n  list ingredients --kind herb")]
pub struct Args {
    /// ingredients, templates, specs, preps, kinds, facets or families
    #[arg(value_name = "WHAT")]
    what: Vec<String>,
    /// Only ingredients of this kind
    #[arg(long, value_name = "KIND", value_parser = super::kind)]
    kind: Option<Kind>,
}

pub(in crate::console) const LISTS: [&str; 7] =
    ["ingredients", "templates", "specs", "preps", "kinds", "facets", "families"];

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let book = &desk.library.book;
    let asked = joined(&args.what).to_lowercase();
    let what = LISTS.iter().find(|l| **l == asked || l.strip_suffix('s') == Some(asked.as_str())).copied();
    let what = if asked == "family" { Some("families") } else { what };
    match (what, asked.is_empty(), args.kind) {
        (Some("ingredients"), _, kind) | (None, true, kind @ Some(_)) => {
            Ok(Answer::new(report::ingredients(book, kind)))
        }
        (Some("templates"), ..) => {
            let picks = report::by_family(book).iter().map(|(_, t)| Pick::Template(t.id.clone())).collect();
            Ok(Answer::picking(report::templates(book), picks))
        }
        (Some("specs"), ..) => {
            let kept = report::by_family(book).into_iter().filter(|(_, t)| t.kept);
            let picks = kept.map(|(_, t)| Pick::Template(t.id.clone())).collect();
            Ok(Answer::picking(report::specs(book), picks))
        }
        (Some("preps"), ..) => {
            let picks = book.preps().iter().map(|p| Pick::Ingredient(p.makes.clone())).collect();
            Ok(Answer::picking(report::preps(book), picks))
        }
        (Some("kinds"), ..) => Ok(Answer::new(report::kinds(book))),
        (Some("facets"), ..) => Ok(Answer::new(report::facets(book))),
        (Some("families"), ..) => Ok(Answer::new(report::families(book, &desk.house))),
        (_, true, None) => Ok(Answer::new(report::contents(desk.graph, &desk.library.packs))),
        _ => match asked.parse::<Kind>() {
            Ok(kind) => Ok(Answer::new(report::ingredients(book, Some(kind)))),
            Err(_) => {
                let near = crate::book::nearest_word(&asked, LISTS.into_iter());
                let failure = Failure::mistake(format!("there is no list of '{asked}'"))
                    .hint(format!("lists are {}, or a kind", LISTS.join(", ")));
                Err(match near {
                    Some(near) => failure.hint(format!("did you mean {near}?")),
                    None => failure,
                })
            }
        },
    }
}

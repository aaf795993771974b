//! `show`: everything known of an ingredient or a template.

use super::{joined, view};
use crate::book::Wanted;
use crate::console::desk::{Desk, Named};
use crate::console::failure::Failure;
use crate::console::session::{Answer, Pick};
use crate::drink::{Spec, figures, made};
use crate::report;

/// Everything known of an ingredient or a template, with its season drawn across the year.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  show quince\n  show negroni --units ml")]
pub struct Args {
    /// The name, or the number of a result
    #[arg(required = true, value_name = "NAME")]
    name: Vec<String>,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    match desk.target(&joined(&args.name), Wanted::Any)? {
        Named::Ingredient(ingredient) => {
            let book = &desk.library.book;
            let made = book.prep_of(&ingredient.id).and_then(|prep| made(book, prep, &desk.house.measures));
            let report = report::ingredient(desk.graph, ingredient, made.as_ref(), view(desk));
            Ok(Answer::picking(report, vec![Pick::Ingredient(ingredient.id.clone())]))
        }
        Named::Template(template) => {
            let spec = Spec::of_template(&desk.library.book, template, &desk.house);
            let figures = figures(&spec).ok();
            let report = report::template(&desk.library.book, template, &spec, figures.as_ref(), view(desk));
            Ok(Answer::picking(report, vec![Pick::Template(template.id.clone())]))
        }
        Named::Spec(spec) => super::balance::answer(desk, *spec, false),
    }
}

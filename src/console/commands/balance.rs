//! `balance`: the figures of a drink, against its family's band.

use super::{joined, view};
use crate::book::{Family, Method, Role, Wanted};
use crate::console::failure::Failure;
use crate::console::session::{Answer, Desk, Named};
use crate::drink::{Line, Spec, classic_band, figures, published_band, read_spec};
use crate::report::{self, Balance};

/// The figures of a template, or of lines typed in, and where each stands against its family's band.
#[derive(Debug, Clone, clap::Args)]
#[command(
    allow_negative_numbers = true,
    after_help = "Examples:\n  balance manhattan\n  balance 45 ml gin, 30 ml red bitter liqueur, 30 ml sweet vermouth --method stirred"
)]
pub struct Args {
    /// A template's name, the number of a result, or lines with commas between
    #[arg(required = true, value_name = "SPEC")]
    spec: Vec<String>,
    /// stirred, shaken, built, blended or no ice; supposed from the lines if not given
    #[arg(long, value_name = "METHOD", value_parser = method)]
    method: Option<Method>,
    /// The family whose band to hold it against; supposed from the method if not given
    #[arg(long, value_name = "FAMILY", value_parser = family)]
    family: Option<Family>,
}

pub(super) fn method(text: &str) -> Result<Method, String> {
    super::word(text)
}

pub(super) fn family(text: &str) -> Result<Family, String> {
    super::word(text)
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let (mut spec, typed) = spec_named(desk, &joined(&args.spec), args.method)?;
    if let Some(method) = args.method {
        spec.method = method;
    }
    let method_supposed = typed && args.method.is_none();
    if args.family.is_some() {
        spec.family = args.family;
    }
    let desk = desk.in_unit_of(&spec, typed);
    answer(&desk, spec, method_supposed)
}

/// The spec that a text stands for, and whether it was typed line by line.
pub(super) fn spec_named<'s>(
    desk: &Desk<'s>,
    text: &str,
    method: Option<Method>,
) -> Result<(Spec<'s>, bool), Failure> {
    let is_lines = text.contains(',')
        || (text.contains(' ') && starts_with_amount(text))
        || starts_with_amount(text) && text.trim().parse::<usize>().is_err();
    if is_lines {
        let spec = read_spec(text, &desk.library.book, &desk.library.names, method, &desk.house)?;
        return Ok((spec, true));
    }
    match desk.target(text, Wanted::Any)? {
        Named::Template(template) => {
            Ok((Spec::of_template(&desk.library.book, template, &desk.house), false))
        }
        Named::Spec(spec) => Ok((*spec, false)),
        Named::Ingredient(ingredient) => {
            Err(Failure::mistake(format!("{} is an ingredient, not a drink", ingredient.name))
                .hint(format!("give amounts: 2 oz {0}, ...; or 'show {0}'", ingredient.name)))
        }
    }
}

fn starts_with_amount(text: &str) -> bool {
    let text = text.trim_start();
    text.starts_with(|c: char| c.is_ascii_digit() || c == '.' || c == '-' || "½¼¾⅓⅔⅛".contains(c))
        || text.starts_with("top ")
        || text.starts_with("a dash ")
}

pub(super) fn answer(desk: &Desk<'_>, mut spec: Spec<'_>, method_supposed: bool) -> Result<Answer, Failure> {
    let figures = figures(&spec)?;
    let family_supposed = spec.family.is_none();
    let family = spec.family.unwrap_or_else(|| supposed_family(&spec));
    spec.family = Some(family);
    let balance = Balance {
        published: published_band(family),
        classics: classic_band(&desk.library.book, family, &desk.house),
        spec,
        figures,
        family_supposed,
        method_supposed,
    };
    Ok(Answer::new(report::balance(&desk.library.book, &balance, view(desk))))
}

/// The family that a drink of unknown family is held against.
fn supposed_family(spec: &Spec<'_>) -> Family {
    let has = |wanted: Role| spec.lines.iter().any(|l| l.role == wanted);
    let egg = || spec.lines.iter().any(|l| l.role == Role::Texture);
    match spec.method {
        Method::Stirred if equal_parts(spec) => Family::EqualParts,
        Method::Stirred => Family::Stirred,
        Method::Shaken if has(Role::Sour) && egg() => Family::SourWithEgg,
        Method::Shaken if has(Role::Sour) => Family::Sour,
        Method::Shaken if egg() => Family::FlipAndCream,
        Method::Shaken => Family::Sour,
        Method::Built if spec.lines.iter().any(Line::is_lengthener) => Family::BuiltLong,
        Method::Built => Family::BuiltShort,
        Method::Blended => Family::Blended,
        Method::NoIce => Family::Hot,
    }
}

/// Whether three or more lines are of the same amount and nothing else is poured but dashes.
fn equal_parts(spec: &Spec<'_>) -> bool {
    let poured: Vec<f64> =
        spec.lines.iter().filter_map(|l| l.volume).map(|v| v.ml()).filter(|ml| *ml >= 5.0).collect();
    poured.len() >= 3 && poured.iter().all(|ml| (ml - poured[0]).abs() < 0.5)
}

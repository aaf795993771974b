//! `balance`: the figures of a drink, against its family's band.

mod tolerance;

use self::tolerance::{ToleranceArgs, melting};
use super::bench::{IceArgs, by_heat};
use super::{drink_named, view};
use crate::book::{Family, Method, Role, Wanted};
use crate::console::desk::{Desk, Named};
use crate::console::failure::Failure;
use crate::console::hand::{comes_metric, means_this};
use crate::console::session::Answer;
use crate::drink::{
    Figures, Line, Spec, before_ice, classic_band, figures, figures_with, published_band, read_spec,
};
use crate::liquid::{Basis, Dilution, Sweetness, dilution};
use crate::measure::{Strength, Temperature};
use crate::report::{self, Balance};

/// The figures of a template, or of lines typed in, and where each stands against its family's band.
#[derive(Debug, Clone, clap::Args)]
#[command(
    allow_negative_numbers = true,
    after_help = "Examples:\n  balance manhattan\n  balance 45 ml gin, 30 ml red bitter liqueur, 30 ml sweet vermouth --tolerance"
)]
pub struct Args {
    /// A template's name, the number of a result, or lines with commas between; the drink in hand if not given
    #[arg(value_name = "SPEC")]
    spec: Vec<String>,
    /// stirred, shaken, built, blended or no ice; supposed from the lines if not given
    #[arg(long, value_name = "METHOD", value_parser = method)]
    method: Option<Method>,
    /// The family whose band to hold it against; supposed from the method if not given
    #[arg(long, value_name = "FAMILY", value_parser = family)]
    family: Option<Family>,
    /// How the dilution is found: published, house, heat (a balance of heat, as the options below say), none, or so many
    /// per cent
    #[arg(long, value_name = "WAY", value_parser = way, allow_hyphen_values = true)]
    dilution: Option<DilutionWay>,
    /// How sweet glucose and fructose taste, gram for gram, beside table sugar
    #[arg(long, value_name = "GLUCOSE,FRUCTOSE", value_parser = sweetness, default_value = "0.74,1.2", allow_hyphen_values = true)]
    sweetness: Sweetness,
    #[command(flatten)]
    tolerance: ToleranceArgs,
    #[command(flatten)]
    ice: IceArgs,
}

/// How the dilution is found.
#[derive(Debug, Clone, Copy, PartialEq)]
enum DilutionWay {
    /// The published figure, whatever the house has measured.
    Published,
    /// The house's own.
    House,
    /// A balance of heat.
    Heat,
    /// A share of the volume before ice.
    Given(f64),
}

/// Most water that may be given, as a share of the volume before ice.
const MOST_GIVEN: f64 = 3.0;

fn way(text: &str) -> Result<DilutionWay, String> {
    let word = text.trim().to_lowercase();
    match word.as_str() {
        "published" => return Ok(DilutionWay::Published),
        "house" => return Ok(DilutionWay::House),
        "heat" => return Ok(DilutionWay::Heat),
        "none" => return Ok(DilutionWay::Given(0.0)),
        _ => {}
    }
    let number = word.trim_end_matches('%').trim();
    let share = number.parse::<f64>().map_err(|_| {
        "allowed are published, house, heat, none, or per cent of the volume before ice, such as 35 %"
            .to_owned()
    })? / 100.0;
    if (0.0..=MOST_GIVEN).contains(&share) {
        Ok(DilutionWay::Given(share))
    } else {
        Err(format!("{number} % is no dilution: allowed is 0 to 300 % of the volume before ice"))
    }
}

fn sweetness(text: &str) -> Result<Sweetness, String> {
    let numbers: Option<Vec<f64>> = text.split(',').map(|n| n.trim().parse().ok()).collect();
    let Some([glucose, fructose]) = numbers.as_deref() else {
        return Err("write two numbers with a comma between, table sugar being 1: 0.74,1.2".to_owned());
    };
    Sweetness::new(*glucose, *fructose).map_err(|error| error.to_string())
}

pub(super) fn method(text: &str) -> Result<Method, String> {
    super::word(text)
}

pub(super) fn family(text: &str) -> Result<Family, String> {
    super::word(text)
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let named = drink_named(&args.spec, desk, "SPEC")?;
    let (mut spec, typed) = spec_named(desk, &named, args.method)?;
    if let Some(method) = args.method {
        spec.method = method;
    }
    let method_supposed = typed && args.method.is_none() && !means_this(&named);
    if args.family.is_some() {
        spec.family = args.family;
    }
    let desk = desk.in_unit_of(&spec, typed);
    let diluted = diluted(args, &spec)?;
    let published = args.dilution == Some(DilutionWay::Published);
    let off = args.tolerance.of(&desk, &spec, melting(&diluted.figures, &spec, published))?;
    let balance = balance_of(&desk, spec, diluted, method_supposed, args.sweetness);
    Ok(Answer::new(match off {
        Some(off) => report::tolerance(&desk.library.book, &balance, &off, view(&desk)),
        None => report::balance(&desk.library.book, &balance, view(&desk)),
    }))
}

/// The figures, and where the chilling ends if that is known or follows.
fn diluted(args: &Args, spec: &Spec<'_>) -> Result<Diluted, Failure> {
    let figures = match args.dilution {
        None if args.ice.is_given() => return heated(args, spec),
        Some(DilutionWay::Heat) => return heated(args, spec),
        Some(_) if args.ice.is_given() => {
            return Err(Failure::usage("what the ice is like only counts in a balance of heat")
                .hint("leave --dilution out, or say --dilution heat"));
        }
        None => figures(spec)?,
        Some(DilutionWay::Given(share)) => figures_with(spec, Dilution { share, basis: Basis::Given })?,
        Some(DilutionWay::Published) => {
            let initial = before_ice(spec).map_or(Strength::ZERO, |p| p.strength());
            figures_with(spec, dilution(spec.melt(), initial))?
        }
        Some(DilutionWay::House) => {
            if spec.over_ice().measured.is_none() {
                return Err(Failure::mistake(format!(
                    "the house has measured no {} drink",
                    spec.melt().name()
                ))
                .hint("weigh one: bench weigh negroni before 95 g after 131 g"));
            }
            figures(spec)?
        }
    };
    Ok(Diluted { figures, ends: None })
}

fn heated(args: &Args, spec: &Spec<'_>) -> Result<Diluted, Failure> {
    let (chilled, dilution) = by_heat(spec, &args.ice.conditions()?)?;
    Ok(Diluted { figures: figures_with(spec, dilution)?, ends: Some(chilled.at) })
}

/// A drink's figures and where its chilling ended, if that was asked.
pub(super) struct Diluted {
    figures: Figures,
    ends: Option<Temperature>,
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
        Named::Spec(spec) => {
            let metric = means_this(text) && desk.hand.work().is_some_and(comes_metric);
            Ok((*spec, metric))
        }
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

/// A drink as the house makes it.
pub(super) fn answer(desk: &Desk<'_>, spec: Spec<'_>, method_supposed: bool) -> Result<Answer, Failure> {
    let diluted = Diluted { figures: figures(&spec)?, ends: None };
    let balance = balance_of(desk, spec, diluted, method_supposed, Sweetness::WORKING);
    Ok(Answer::new(report::balance(&desk.library.book, &balance, view(desk))))
}

/// A drink as the house makes it, against its bands.
pub(super) fn balance_of_spec<'s>(desk: &Desk<'_>, spec: Spec<'s>) -> Result<Balance<'s>, Failure> {
    let diluted = Diluted { figures: figures(&spec)?, ends: None };
    Ok(balance_of(desk, spec, diluted, false, Sweetness::WORKING))
}

fn balance_of<'s>(
    desk: &Desk<'_>,
    mut spec: Spec<'s>,
    Diluted { figures, ends }: Diluted,
    method_supposed: bool,
    sweetness: Sweetness,
) -> Balance<'s> {
    let family_supposed = spec.family.is_none();
    let family = spec.family.unwrap_or_else(|| supposed_family(&spec));
    spec.family = Some(family);
    Balance {
        published: published_band(family),
        classics: classic_band(&desk.library.book, family, &desk.house),
        spec,
        figures,
        ends,
        sweetness,
        family_supposed,
        method_supposed,
    }
}

/// The family that a drink of unknown family is held against.
fn supposed_family(spec: &Spec<'_>) -> Family {
    let has = |wanted: Role| spec.lines.iter().any(|l| l.role == wanted);
    let egg = || spec.lines.iter().any(|l| l.role == Role::Texture);
    match spec.method {
        Method::Stirred if spec.equal_parts().is_some() => Family::EqualParts,
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

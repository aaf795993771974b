//! `bench acid`: one juice as sour as another.

use super::asked::{
    Clause, acid_named, amount_and_name, clauses, is_ingredient, liquid_named, missing, unit_for,
};
use crate::console::commands::joined;
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::liquid::{AcidMix, CitricForm, Contents, Parts, Solute};
use crate::measure::{Concentration, Given, Volume, read_given};
use crate::report;

const EXAMPLE: &str = "bench acid 1 l orange juice to lime juice with 2 citric 1 malic";

/// Acid powders that make one juice as sour as another, or as g/L says, by titration.
#[derive(Debug, Clone, clap::Args)]
#[command(
    allow_negative_numbers = true,
    after_help = "Examples:\n  bench acid 1 l orange juice to lime juice with 2 citric 1 malic\n  bench acid 500 ml water to 60 g/L"
)]
pub(super) struct Args {
    /// A juice and how much, 'to' another juice or g/L as citric, 'with' powders and their parts (citric alone if not said)
    #[arg(required = true, value_name = "QUESTION")]
    asked: Vec<String>,
    /// The citric acid is the monohydrate, as its label says
    #[arg(long)]
    monohydrate: bool,
}

pub(super) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.asked);
    let (mut have, mut to, mut with) = ("", None, None);
    for (word, text) in clauses(&text, &["to", "as", "with"]) {
        match word {
            "to" | "as" => to = Some(text),
            "with" => with = Some(text),
            _ => have = text,
        }
    }
    let to = to.ok_or_else(|| missing("what it should be as sour as, after 'to',", EXAMPLE))?;
    let metric = Clause::read("", have, desk)?.is_metric();
    let (volume, name) = amount_and_name(have, desk);
    let (name, contents) = liquid_or_figures(desk, name, "", "what should be made sour")?;
    let (target, wanted) = liquid_or_figures(desk, to, "to", "what it should be as sour as")?;
    let wanted = acid_of(&wanted)?;
    let mix = mix(with)?.with_citric(if args.monohydrate {
        CitricForm::Monohydrate
    } else {
        CitricForm::Anhydrous
    });
    let juice = Parts::of_liquid(volume.unwrap_or(Volume::clamped(1000.0)), &contents)?;
    let soured = mix.added_to(&juice, wanted)?;
    let adjusted = report::Adjusted { name, target, wanted, soured };
    Ok(Answer::new(report::adjusted(&adjusted, unit_for(desk, metric))))
}

/// A liquid by its name, or by figures such as `13 g/L acid`.
fn liquid_or_figures(
    desk: &Desk<'_>,
    text: &str,
    word: &'static str,
    what: &str,
) -> Result<(String, Contents), Failure> {
    if text.trim().is_empty() {
        return Err(missing(what, EXAMPLE));
    }
    let mut clause = Clause::read(word, text, desk)?;
    if clause.is_quantities() && !is_ingredient(desk, text) {
        let liquid = if clause.holds_one_concentration() {
            // `to 45.9 g/L` means acid here.
            let held = clause.concentration().unwrap_or(Concentration::ZERO);
            clause.says(&["acid", "citric"]);
            Contents::default().with(Solute::Citric, held)
        } else {
            clause.liquid()?.contents
        };
        clause.done(EXAMPLE)?;
        return Ok((text.trim().to_owned(), liquid));
    }
    liquid_named(desk, text)
}

/// What a titration of a litre finds.
fn acid_of(contents: &Contents) -> Result<Concentration, Failure> {
    let whole = Parts::of_liquid(Volume::clamped(1000.0), contents)?;
    Ok(whole.acid())
}

/// `2 citric 1 malic`, `citric`.
fn mix(text: Option<&str>) -> Result<AcidMix, Failure> {
    let Some(text) = text else { return Ok(AcidMix::of(Solute::Citric)?) };
    let mut parts = Vec::new();
    let mut count = 1.0;
    for given in read_given(text, &crate::measure::Measures::default())? {
        match given {
            Given::Number(number) => count = number,
            Given::Word(word) if matches!(word.as_str(), "acid" | "and" | "part" | "parts" | "of") => {}
            Given::Word(word) => {
                let acid = acid_named(&word).ok_or_else(|| {
                    let names: Vec<&str> = Solute::ACIDS.iter().map(|a| a.name()).collect();
                    Failure::mistake(format!("'{word}' is no acid powder known here"))
                        .hint(format!("allowed are {}", names.join(", ")))
                })?;
                parts.push((acid, count));
                count = 1.0;
            }
            _ => {
                return Err(missing(
                    "acids and their parts, such as 2 citric 1 malic, after 'with',",
                    EXAMPLE,
                ));
            }
        }
    }
    if parts.is_empty() {
        return Err(missing("an acid after 'with'", EXAMPLE));
    }
    Ok(AcidMix::of_parts(&parts)?)
}

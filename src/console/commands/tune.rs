//! `tune`: other amounts of the same lines, nearer to what is wanted.

use super::balance::spec_named;
use super::swap::line_named;
use super::{drink_named, view};
use crate::book::nearest_word;
use crate::console::desk::{Desk, names_in};
use crate::console::failure::Failure;
use crate::console::hand::{Suggestions, means_this};
use crate::console::session::Answer;
use crate::drink::{CannotTune, Glass, Palate, Spec, Tune, Wish, Written, tune};
use crate::measure::{Amount, Given, Mass, Measures, Volume, read_given};
use crate::report;

/// Other amounts for a drink of your own: less sweet, stronger, to fit a glass, with a line locked. Say after the drink what
/// is wrong with it or how it should be: too sweet, too strong, drier, more sour, less bitter, longer.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  tune daiquiri too sweet\n  tune margarita weaker --keep tequila 2 oz")]
pub struct Args {
    /// The drink, and how it should be: a template's name, a result's number, or lines with commas between; the drink in
    /// hand if not given
    #[arg(value_name = "SPEC")]
    spec: Vec<String>,
    /// A line that stays as it is, or at this amount: "tequila 2 oz". Several with commas between
    #[arg(long, value_name = "NAME")]
    keep: Vec<String>,
    /// No more of a line than this: "lime 1 oz". Several with commas between
    #[arg(long, value_name = "NAME")]
    most: Vec<String>,
    /// No less of a line than this: "lime 1/2 oz". Several with commas between
    #[arg(long, value_name = "NAME")]
    least: Vec<String>,
    /// The glass it must fit, to the rim: 5 oz, 150 ml
    #[arg(long, value_name = "VOLUME")]
    fit: Option<String>,
    /// No more alcohol than this, in grams: 14
    #[arg(long, value_name = "GRAMS", value_parser = grams)]
    alcohol: Option<Mass>,
    /// Let what is written in equal parts come out otherwise
    #[arg(long)]
    uneven: bool,
    /// What the taster just notices: strength in % vol, sugar, acid and bitterness in per cent of what is there
    #[arg(long, value_name = "PALATE", default_value_t = Palate::default())]
    palate: Palate,
    /// How many answers
    #[arg(long, value_name = "N", default_value_t = 2, value_parser = clap::value_parser!(u8).range(1..=5))]
    count: u8,
}

/// Least and most ethanol that may be asked for, g.
const ALCOHOL: (f64, f64) = (0.0, 200.0);

fn grams(text: &str) -> Result<Mass, String> {
    let number = text.trim().trim_end_matches(['g', ' ']);
    let grams: f64 = number.parse().map_err(|_| "write grams of alcohol, such as 14".to_owned())?;
    if (ALCOHOL.0..=ALCOHOL.1).contains(&grams) {
        Ok(Mass::clamped(grams))
    } else {
        Err(format!("{grams} g is not allowed: {} to {} g", ALCOHOL.0, ALCOHOL.1))
    }
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = super::joined(&args.spec);
    let (wishes, rest) = wishes(&text);
    if let Some(wrong) = no_wish(rest) {
        return Err(wrong);
    }
    let words: Vec<String> = if rest.is_empty() { Vec::new() } else { vec![rest.to_owned()] };
    let named = drink_named(&words, desk, "SPEC")
        .map_err(|failure| failure.hint("name a drink, or take one up first: tune daiquiri too sweet"))?;
    let (given, typed) = spec_named(desk, &named, None).map_err(|failure| mistyped(failure, &named))?;
    let desk = &desk.in_unit_of(&given, typed);
    let spec = desk.house.in_pours(&given);
    let glass = args.fit.as_deref().map(volume).transpose()?.map(|rim| Glass::for_drink(rim, &spec));
    let keep = lines(desk, &spec, &args.keep, "--keep")?;
    let must = |all: Vec<(usize, Option<Volume>)>, option: &str| {
        let one = |(line, amount): (usize, Option<Volume>)| {
            let name = &spec.lines[line].ingredient.name;
            let missing = || {
                Failure::usage(format!("{option} {name}: how much?"))
                    .hint(format!("for example: {option} \"{name} 1 oz\""))
            };
            Ok((line, amount.ok_or_else(missing)?))
        };
        all.into_iter().map(one).collect::<Result<Vec<_>, Failure>>()
    };
    let asked = Tune {
        wishes,
        keep,
        most: must(lines(desk, &spec, &args.most, "--most")?, "--most")?,
        least: must(lines(desk, &spec, &args.least, "--least")?, "--least")?,
        glass,
        alcohol: args.alcohol,
        uneven: args.uneven,
        palate: args.palate,
        count: usize::from(args.count),
        spec,
    };
    if asked.asks_nothing() {
        return Err(Failure::usage("how should it be?")
            .hint(format!("say what is wrong with it: tune {named} too sweet"))
            .hint("or give --fit, --keep, --most, --least or --alcohol; 'help tune' shows more"));
    }
    let found = tune(&asked, &desk.house).map_err(|error| refused(error, &asked, desk))?;
    let last = Suggestions {
        command: "tune",
        base: Written::of(&given),
        of_this: means_this(&named),
        drinks: found.drinks.iter().map(|d| Written::of(&d.spec)).collect(),
    };
    let picks = found.drinks.iter().map(|d| super::riff::pick_of(&d.spec)).collect();
    let report = report::tuned(&asked, &found, view(desk));
    Ok(Answer { last: Some(last), ..Answer::picking(report, picks) })
}

/// The wishes at the end of a text, in the order in which they were said, and what stands before them.
fn wishes(text: &str) -> (Vec<Wish>, &str) {
    let mut found = Vec::new();
    let mut rest = text.trim();
    while let Some((wish, before)) = Wish::at_the_end(rest) {
        found.insert(0, wish);
        rest = without_measure(before.trim_end().trim_end_matches(',').trim_end());
        rest = rest.strip_suffix(" and").or_else(|| (rest == "and").then_some("")).unwrap_or(rest);
        rest = rest.trim_end().trim_end_matches(',').trim_end();
    }
    (found, rest)
}

/// A text without the words that say how much, which no jigger knows, or that only lead to the wish.
fn without_measure(text: &str) -> &str {
    let mut rest = text;
    while let Some(before) = MEASURES.iter().find_map(|words| {
        let at = rest.len().checked_sub(words.len())?;
        let (before, end) = (rest.get(..at)?, rest.get(at..)?);
        (end.eq_ignore_ascii_case(words) && (before.is_empty() || before.ends_with(' '))).then_some(before)
    }) {
        rest = before.trim_end();
    }
    rest
}

/// What may stand before a wish.
const MEASURES: [&str; 12] = [
    "a little",
    "a little bit",
    "a bit",
    "a touch",
    "slightly",
    "much",
    "a lot",
    "far",
    "way",
    "make it",
    "it's",
    "it is",
];

/// A text that ends with `too` and a word, which is none of those that can be helped.
fn no_wish(text: &str) -> Option<Failure> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let [.., too, word] = words.as_slice() else { return None };
    if !too.eq_ignore_ascii_case("too") {
        return None;
    }
    let complaints = || Wish::ALL.iter().filter_map(|w| w.complaint().strip_prefix("too "));
    let failure = Failure::usage(format!("'too {word}': nothing can be done about that by amounts alone"));
    let near = nearest_word(&word.to_lowercase(), complaints());
    let failure = near.map_or(failure.clone(), |near| failure.hint(format!("did you mean: too {near}?")));
    let all: Vec<&str> = complaints().collect();
    Some(failure.hint(format!("too {} can be helped", all.join(", "))))
}

/// A hint for one who mistyped a wish.
fn mistyped(failure: Failure, text: &str) -> Failure {
    let last = text.split_whitespace().last().unwrap_or_default().to_lowercase();
    let near = nearest_word(&last, Wish::ALL.iter().map(|w| w.name()));
    match near {
        Some(near) if near != last => failure.hint(format!("or did you mean: {near}?")),
        _ => failure,
    }
}

/// Lines named with or without an amount: `tequila 2 oz`, `2 oz tequila`, `tequila`.
fn lines(
    desk: &Desk<'_>,
    spec: &Spec<'_>,
    texts: &[String],
    option: &str,
) -> Result<Vec<(usize, Option<Volume>)>, Failure> {
    let mut found: Vec<(usize, Option<Volume>)> = Vec::new();
    for text in names_in(&texts.join(", ")) {
        let (name, amount) = apart(text);
        let line = line_named(desk, spec, &name)?;
        if found.iter().any(|(known, _)| *known == line) {
            let name = &spec.lines[line].ingredient.name;
            return Err(Failure::mistake(format!("{name} is there twice in {option}")));
        }
        let volume = match amount {
            None => None,
            Some(amount) => Some(amount.volume(&desk.house.measures).ok_or_else(|| {
                Failure::mistake(format!("{option} '{text}': {amount} is no volume"))
                    .hint("give oz, ml, barspoons or dashes")
            })?),
        };
        found.push((line, volume));
    }
    Ok(found)
}

/// A name and the amount before or after it.
fn apart(text: &str) -> (String, Option<Amount>) {
    if let Ok((amount, name)) = Amount::split_from(text)
        && !name.is_empty()
    {
        return (name.to_owned(), Some(amount));
    }
    let starts = text.char_indices().filter(|(at, _)| *at > 0 && text[..*at].ends_with(' '));
    for (at, _) in starts {
        if let Ok((amount, "")) = Amount::split_from(&text[at..]) {
            return (text[..at].trim().to_owned(), Some(amount));
        }
    }
    (text.to_owned(), None)
}

fn volume(text: &str) -> Result<Volume, Failure> {
    let refused =
        |why: String| Failure::usage(format!("--fit '{text}': {why}")).hint("for example: --fit 5 oz");
    match read_given(text, &Measures::default()).map_err(|e| refused(e.to_string()))?.as_slice() {
        [Given::Volume(volume)] if volume.ml() > 0.0 => Ok(*volume),
        [Given::Number(_)] => Err(refused("it has no unit".to_owned())),
        _ => Err(refused("it is not the volume of a glass".to_owned())),
    }
}

fn refused(error: CannotTune, asked: &Tune<'_>, desk: &Desk<'_>) -> Failure {
    let failure = Failure::mistake(error.to_string());
    match error {
        CannotTune::Blocked { ways } if ways.is_empty() => {
            failure.hint("no single change would do: ask for less, or leave one of the options out")
        }
        CannotTune::Blocked { ways } => {
            let ways = ways.iter().map(|way| report::way_out_words(way, asked, view(desk)));
            ways.fold(failure, |failure, way| failure.hint(way))
        }
        CannotTune::Contradiction(one, other) => {
            failure.hint(format!("ask for {} or for {}", one.name(), other.name()))
        }
        CannotTune::NothingMoves => {
            failure.hint("give the amounts of one serve; for a batch, tune one serve and multiply it")
        }
        CannotTune::NoPour { .. } => failure.hint("give more room, or another unit"),
        CannotTune::NothingPoured(_) | CannotTune::NothingOfIt(_) | CannotTune::NoAmount { .. } => failure,
    }
}

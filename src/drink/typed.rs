//! A spec as a person types it: `45 ml gin, 30 ml red bitter liqueur, 30 ml sweet vermouth`.

use thiserror::Error;

use super::house::House;
use super::spec::{Line, Spec};
use crate::book::{Book, Ingredient, Lookup, Method, Names, Role, Target, Wanted};
use crate::measure::{Amount, Measures, NotAnAmount, Unit, Volume};

/// Text that is not a spec.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum NotASpec {
    /// No lines at all.
    #[error(
        "there is no line: type amounts and ingredients with commas between, like 2 oz rye, 1 oz sweet vermouth"
    )]
    Empty,
    /// A line whose amount cannot be read.
    #[error("line {line}, '{text}': {why}")]
    Amount {
        /// Which line, from 1.
        line: usize,
        /// The line.
        text: String,
        /// What is wrong.
        why: NotAnAmount,
    },
    /// A line with an amount and nothing after it.
    #[error("line {line}, '{text}': an amount of what?")]
    NoName {
        /// Which line, from 1.
        line: usize,
        /// The line.
        text: String,
    },
    /// A line whose ingredient is not known, or could be several.
    #[error("line {line}, '{text}': no such ingredient here")]
    Name {
        /// Which line, from 1.
        line: usize,
        /// The name as typed.
        text: String,
        /// What was found instead.
        lookup: Lookup,
    },
}

/// How far a variant may move a typed line: between these shares of it.
const LEAST_SHARE: f64 = 0.5;
const MOST_SHARE: f64 = 1.5;
/// Lines smaller than this, in ml, do not move.
const SMALL_ML: f64 = 5.0;

/// What a typed drink is called until it has a name.
pub const UNNAMED: &str = "your drink";

/// Reads a spec of comma-separated lines. Where no method is given, one is supposed: stirred for clear drinks,
/// shaken where something sour, cloudy or creamy goes in, built where something sparkles and nothing is sour.
///
/// # Errors
/// [`NotASpec`] for the first line that cannot be read.
pub fn read_spec<'b>(
    text: &str,
    book: &'b Book,
    names: &Names,
    method: Option<Method>,
    house: &House,
) -> Result<Spec<'b>, NotASpec> {
    let texts: Vec<&str> = text.split([',', ';', '\n']).map(str::trim).filter(|l| !l.is_empty()).collect();
    let mut lines = Vec::new();
    for (index, text) in rejoined(&texts).iter().enumerate() {
        lines.push(read_line(index + 1, text, book, names, &house.measures)?);
    }
    if lines.is_empty() {
        return Err(NotASpec::Empty);
    }
    let method = method.unwrap_or_else(|| supposed_method(&lines));
    Ok(Spec {
        name: UNNAMED.to_owned(),
        family: None,
        method,
        glass: String::new(),
        ice: house.ice,
        lines,
        garnish: Vec::new(),
    })
}

/// Puts a decimal comma back together: `4` and `5 cl gin` are one line.
fn rejoined(texts: &[&str]) -> Vec<String> {
    let mut whole: Vec<String> = Vec::new();
    for text in texts {
        match whole.last_mut() {
            Some(last) if last.bytes().all(|b| b.is_ascii_digit()) => *last = format!("{last}.{text}"),
            _ => whole.push((*text).to_owned()),
        }
    }
    whole
}

/// Reads one line of a spec: an amount and a name.
///
/// # Errors
/// [`NotASpec`] if it cannot be read; `line` is the number that this tells.
pub fn read_line<'b>(
    line: usize,
    text: &str,
    book: &'b Book,
    names: &Names,
    measures: &Measures,
) -> Result<Line<'b>, NotASpec> {
    let (amount, name) =
        Amount::split_from(text).map_err(|why| NotASpec::Amount { line, text: text.to_owned(), why })?;
    if name.is_empty() {
        return Err(NotASpec::NoName { line, text: text.to_owned() });
    }
    let lookup = names.find(name, Wanted::Ingredient);
    let found = match &lookup {
        Lookup::Found(Target::Ingredient(id)) => book.ingredient(id),
        _ => None,
    };
    let ingredient = found.ok_or_else(|| NotASpec::Name { line, text: name.to_owned(), lookup })?;
    let role = supposed_role(ingredient, amount);
    let mut line = Line::fixed(role, ingredient, amount, measures);
    if let Some(volume) = line.volume.filter(|v| v.ml() >= SMALL_ML && role != Role::Lengthener) {
        let share = |s: f64| Volume::clamped(volume.ml() * s);
        line.limits = Some((share(LEAST_SHARE), share(MOST_SHARE)));
    }
    Ok(line)
}

pub(super) fn supposed_role(ingredient: &Ingredient, amount: Amount) -> Role {
    let sparkles = ingredient.makeup.is_some_and(|m| m.carbonated);
    if sparkles || (amount.unit() == Unit::Top && ingredient.roles.contains(&Role::Lengthener)) {
        return Role::Lengthener;
    }
    let order = [
        Role::Base,
        Role::Sour,
        Role::Bitter,
        Role::Modifier,
        Role::Sweet,
        Role::Texture,
        Role::Accent,
        Role::Lengthener,
        Role::Garnish,
    ];
    order.into_iter().find(|r| ingredient.roles.contains(r)).unwrap_or(Role::Accent)
}

/// Acid, in g/L, from which an ingredient is shaken in.
const SHAKEN_FROM_ACID: f64 = 15.0;

fn supposed_method(lines: &[Line<'_>]) -> Method {
    let cloudy = lines.iter().any(|l| {
        l.role == Role::Texture
            || l.ingredient.makeup.is_some_and(|m| m.acid.grams_per_litre() >= SHAKEN_FROM_ACID)
    });
    if cloudy {
        Method::Shaken
    } else if lines.iter().any(Line::is_lengthener) {
        Method::Built
    } else {
        Method::Stirred
    }
}

//! How a companion came to its affinity, and a stand-in to its likeness.

use serde_json::{Value, json};

use super::glass::{account_data, difference_data};
use super::harmony::harmony_data;
use super::{ROUNDED, amounts_data, terms_table, with_balance, with_glass};
use crate::book::{Book, Ingredient};
use crate::pairing::{Companion, Likeness, Mixture, StandIn, Tie};

use crate::report::companions::named;
use crate::report::describe::cautions;
use crate::report::phrase::{View, affinity, listed};
use crate::report::riffs::{comes_to, spec_words};
use crate::report::said::{said_data, said_words};
use crate::report::swap::mixture_name;
use crate::report::{Cell, Column, Report, Table, Tone};
use crate::riff::Explained;

/// How a companion of a set came to its affinity: the power mean, written out.
pub fn companion_explained(set: &[&Ingredient], number: usize, found: &Companion<'_>) -> Report {
    let names: Vec<&str> = set.iter().map(|i| i.name.as_str()).collect();
    let affinities: Vec<f64> = found.ties.iter().map(|t| t.affinity.value()).collect();
    let data = json!({
        "ok": true,
        "command": "explain",
        "of": "pairs",
        "number": number,
        "with": set.iter().map(|i| named(i)).collect::<Vec<_>>(),
        "companion": named(found.ingredient),
        "pairs": found.ties.iter().map(|t| json!({
            "with": t.other.id.as_str(),
            "affinity": t.affinity.value(),
            "inverse_square": t.affinity.value().powi(-2),
            "note": t.edge.note,
            "origin": t.edge.origin.to_string(),
            "house": said_data(t.edge),
        })).collect::<Vec<_>>(),
        "score": found.score,
    });
    let mut table = Table::new([
        Column::left("with"),
        Column::right("affinity"),
        Column::right("1/affinity²"),
        Column::left("from"),
        Column::flexible("why"),
    ]);
    for tie in &found.ties {
        table.push([
            Cell::new(tie.other.name.clone(), Tone::Strong),
            affinity(tie.affinity.value()).into(),
            format!("{:.3}", tie.affinity.value().powi(-2)).into(),
            Cell::new(said_words(tie.edge).unwrap_or_else(|| tie.edge.origin.to_string()), Tone::Quiet),
            tie.edge.note.as_deref().unwrap_or_default().into(),
        ]);
    }
    let report = Report::new(format!("{} with {}", found.ingredient.name, listed(&names)), data).table(table);
    match affinities.as_slice() {
        [only] => report.text(format!("one pair, so its affinity is the figure: {}", affinity(*only))),
        several => {
            let squares: Vec<String> = several.iter().map(|a| format!("{:.3}", a.powi(-2))).collect();
            let mean = several.iter().map(|a| a.powi(-2)).sum::<f64>() / several.len() as f64;
            report
                .text(format!(
                    "affinity to all = 1 / √(({}) / {}) = 1 / √{mean:.3} = {:.3}",
                    squares.join(" + "),
                    several.len(),
                    found.score
                ))
                .note("the power mean of exponent -2: the worst pair counts most")
                .note(ROUNDED)
        }
    }
}

/// What stands in, as its likeness is explained.
#[derive(Debug, Clone, Copy)]
pub enum Standing<'s, 'b> {
    /// One ingredient.
    One(&'s StandIn<'b>),
    /// A mixture of two.
    Two(&'s Mixture<'b>),
}

impl<'s, 'b> Standing<'s, 'b> {
    fn name(&self) -> String {
        match self {
            Self::One(stand_in) => stand_in.ingredient.name.clone(),
            Self::Two(mixture) => mixture_name(mixture),
        }
    }

    fn likeness(&self) -> &'s Likeness {
        match self {
            Self::One(stand_in) => &stand_in.likeness,
            Self::Two(mixture) => &mixture.likeness,
        }
    }

    fn ties(&self) -> &'s [Tie<'b>] {
        match self {
            Self::One(stand_in) => &stand_in.ties,
            Self::Two(_) => &[],
        }
    }

    fn data(&self) -> Value {
        match self {
            Self::One(stand_in) => named(stand_in.ingredient),
            Self::Two(mixture) => mixture
                .parts
                .iter()
                .map(|(i, share)| json!({ "id": i.id.as_str(), "name": i.name, "share": share }))
                .collect(),
        }
    }
}

/// How a stand-in or a mixture came to its likeness.
pub fn stand_in_explained(of: &Ingredient, number: usize, found: &Standing<'_, '_>) -> Report {
    let data = stand_in_data(of, number, found);
    let report = Report::new(format!("{} for {}", found.name(), of.name), data);
    with_likeness(report, found).note(ROUNDED)
}

/// How a stand-in in a drink came to its likeness, and the drink with it to its figures.
pub fn swap_explained(
    book: &Book,
    of: &Ingredient,
    number: usize,
    found: &Standing<'_, '_>,
    drink: &Explained<'_>,
    view: View,
) -> Report {
    let mut data = stand_in_data(of, number, found);
    data["drink"] = json!({
        "harmony": harmony_data(drink),
        "balance": difference_data(drink),
        "amounts": amounts_data(drink),
        "account": account_data(&drink.account),
    });
    let spec = &drink.riff.spec;
    let report = Report::new(format!("{} for {} in {}", found.name(), of.name, spec.name), data)
        .facts(vec![
            ("it is".to_owned(), spec_words(spec, view)),
            ("comes to".to_owned(), comes_to(&drink.riff.figures, view)),
        ])
        .heading("Likeness: what it was ranked by");
    let report = with_likeness(report, found).heading("Balance: how far it is from the drink as it was");
    let report = with_balance(report, drink).heading("The glass: how strength, sugar and acid come about");
    let mut report = with_glass(report, drink, view);
    for caution in cautions(book, spec.cautions().into_iter()) {
        report = report.caution(caution.text.clone());
    }
    report
}

fn with_likeness(report: Report, found: &Standing<'_, '_>) -> Report {
    let mut table = terms_table("part", "adds");
    for (name, part, weight) in found.likeness().terms() {
        let how = format!("{part:.3} × {weight:.3}: {}", part_words(name));
        table.push([Cell::new(name, Tone::Strong), how.into(), format!("{:.3}", part * weight).into()]);
    }
    let total = format!("{:.3}", found.likeness().score());
    table.push([Cell::new("likeness", Tone::Strong), "".into(), total.into()]);
    let mut report = report.table(table);
    if !found.ties().is_empty() {
        let ties: Vec<String> = found
            .ties()
            .iter()
            .map(|t| format!("{} {}", t.other.name, affinity(t.affinity.value())))
            .collect();
        report = report.note(format!("known with the rest: {}", ties.join(", ")));
    }
    if matches!(found, Standing::Two(_)) {
        report = report.note("a mixture counts as the mean of both: facets, company and agreement by share times loudness, makeup by share, roles of both together");
    }
    report
}

fn part_words(name: &str) -> &'static str {
    match name {
        "flavour" => "the same facets, in the same proportions",
        "company" => "what both go with",
        "role" => "roles in common, of all that either has",
        "makeup" => "strength, sugar, acid, bitterness and salt",
        _ => "goes with the rest of the drink, the louder counting more",
    }
}

fn stand_in_data(of: &Ingredient, number: usize, found: &Standing<'_, '_>) -> Value {
    json!({
        "ok": true,
        "command": "explain",
        "of": "swap",
        "number": number,
        "instead_of": named(of),
        "stand_in": found.data(),
        "parts": found.likeness().terms().iter().map(|(name, part, weight)| json!({
            "part": name, "value": part, "weight": weight, "adds": part * weight,
        })).collect::<Vec<_>>(),
        "likeness": found.likeness().score(),
    })
}

//! A drink's spec card: on the screen, and for the back of the bar.

use serde_json::json;

use super::words::small_cautions;
use crate::book::{Book, Method};
use crate::drink::Spec;
use crate::report::balance::{figures_data, gauges, line_data};
use crate::report::describe::{cautions, garnish_words};
use crate::report::phrase::{View, acid, served, strength, sugar};
use crate::report::{Balance, Card, Report};

/// A spec card on the screen.
pub fn card(book: &Book, balance: &Balance<'_>, view: View) -> Report {
    let paper = card_paper(book, balance, view);
    let (spec, figures) = (&balance.spec, &balance.figures);
    let data = json!({
        "ok": true,
        "command": "card",
        "name": spec.name,
        "family": spec.family.map(|f| f.name()),
        "method": spec.method.name(),
        "glass": spec.glass,
        "lines": spec.lines.iter().map(line_data).collect::<Vec<_>>(),
        "garnish": paper.garnish,
        "steps": paper.steps,
        "figures": figures_data(figures),
        "allergens": paper.allergens,
        "cautions": spec.cautions().iter().map(|c| c.as_str()).collect::<Vec<_>>(),
    });
    let mut facts = vec![("method".to_owned(), spec.method.name().to_owned())];
    if !paper.glass.is_empty() {
        facts.push(("glass".to_owned(), paper.glass.clone()));
    }
    let mut lines = paper.lines.clone();
    lines.extend(paper.garnish.iter().map(|g| ("on top".to_owned(), g.clone())));
    let steps: Vec<String> = paper.steps.iter().enumerate().map(|(i, s)| format!("{}. {s}", i + 1)).collect();
    let mut report = Report::new(paper.name.clone(), data).facts(facts).facts(lines).text(steps.join("\n"));
    for gauge in &paper.figures {
        report = report.gauge(gauge.clone());
    }
    let none = "none on record".to_owned();
    let allergens = if paper.allergens.is_empty() { none } else { paper.allergens.join(", ") };
    report = report.facts(paper.facts.iter().cloned().chain([("allergens".to_owned(), allergens)]).collect());
    for caution in cautions(book, spec.cautions().into_iter()) {
        report = report.caution(caution.text.clone());
    }
    report
}

/// What stands on the card.
pub fn card_paper(book: &Book, balance: &Balance<'_>, view: View) -> Card {
    let (spec, figures) = (&balance.spec, &balance.figures);
    let garnish = garnish_words(spec);
    let allergens: Vec<String> = spec.allergens().iter().map(|a| a.name().to_owned()).collect();
    let facts = vec![
        ("in the glass".to_owned(), format!("{}, {} % vol", served(figures, view.unit), strength(figures))),
        ("sugar, acid".to_owned(), format!("{} and {} g/L", sugar(figures), acid(figures))),
    ];
    Card {
        name: spec.name.clone(),
        family: spec.family.map_or(String::new(), |f| f.name().to_owned()),
        // A stirred drink that is stirred needs no second word.
        method: spec
            .family
            .map_or(
                spec.method.name(),
                |f| if f.name() == spec.method.name() { "" } else { spec.method.name() },
            )
            .to_owned(),
        glass: spec.glass.clone(),
        lines: spec
            .lines
            .iter()
            .map(|l| (l.amount.shown(view.unit).to_string(), l.ingredient.name.clone()))
            .collect(),
        garnish: (!garnish.is_empty()).then_some(garnish),
        steps: steps(spec),
        figures: gauges(figures, balance.published.as_ref(), balance.classics.as_ref()),
        facts,
        allergens,
        cautions: small_cautions(book, spec),
        note: None,
    }
}

/// What is done, in the trade's usual words for the method.
fn steps(spec: &Spec<'_>) -> Vec<String> {
    let late: Vec<&str> =
        spec.lines.iter().filter(|l| l.is_lengthener()).map(|l| l.ingredient.name.as_str()).collect();
    let mut steps = match spec.method {
        Method::Stirred => {
            vec!["Stir over ice until it is cold.".to_owned(), "Strain into the glass.".to_owned()]
        }
        Method::Shaken => vec!["Shake hard with ice.".to_owned(), "Strain into the glass.".to_owned()],
        Method::Built => vec!["Build over ice in the glass.".to_owned()],
        Method::Blended => {
            vec!["Blend with ice until it is smooth.".to_owned(), "Pour into the glass.".to_owned()]
        }
        Method::NoIce => vec!["Build in the glass, no ice.".to_owned()],
    };
    if !late.is_empty() {
        steps.push(format!("Top with {}.", late.join(" and ")));
    }
    steps
}

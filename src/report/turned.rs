//! Variants of a kind, as reports: what kind, what was done, what came of it.

use serde_json::{Value, json};

use super::Report;
use super::phrase::{View, affinity, counted, listed, note_of, volume};
use super::riffs::{
    change_names, comes_to, looked_words, riffs_data, spec_words, variant_words, warnings, why, with_cautions,
};
use crate::book::{Book, Ingredient};
use crate::drink::Aim;
use crate::pairing::Tie;
use crate::riff::{Done, Figure, Gone, Kept, Promise, Riff, TurnDone, Turned};

/// Variants of a classic, of the kinds that were asked for.
pub fn turned_riffs(book: &Book, turned: &Turned<'_>, kept: &Kept<'_>, view: View) -> Report {
    let names: Vec<&str> = turned.turns.iter().map(|t| t.turn.name()).collect();
    let mut report =
        Report::new(format!("{}: {}", turned.classic.name, names.join(", ")), data(turned, kept));
    let mut facts = vec![
        ("the classic".to_owned(), spec_words(&turned.classic, view)),
        ("comes to".to_owned(), comes_to(&turned.figures, view)),
    ];
    facts.extend(turned.turns.iter().map(|t| (t.turn.name().to_owned(), done_words(t, turned, view))));
    report = report.facts(facts);
    if kept.riffs.found.is_empty() {
        report = report.text(format!(
            "Nothing that the book has comes out {}. Ask for less at once, or swap a line by hand with --swap X=Y.",
            listed(&names)
        ));
    }
    for (index, (riff, with_dish)) in kept.riffs.found.iter().zip(&kept.with_dish).enumerate() {
        let name = heading(riff, &names);
        let method = if riff.spec.method == turned.classic.method {
            String::new()
        } else {
            format!("; {}", riff.spec.method)
        };
        report = report
            .heading(format!("{}  {name}", index + 1))
            .text(format!(
                "{}{method}\n{}: {}",
                variant_words(riff, &turned.classic, view),
                comes_to(&riff.figures, view),
                aim_words(riff.distance)
            ))
            .note(why(riff));
        if !turned.dish.is_empty() {
            report = report.note(dish_words(with_dish, &turned.dish));
        }
        if let Some(words) = warnings(riff) {
            report = report.note(words);
        }
    }
    report = report.text(looked_words(&kept.riffs));
    if kept.broken > 0 {
        report = report.note(format!(
            "left out {} that did not come out {}",
            counted(kept.broken, "variant", "variants"),
            listed(&names)
        ));
    }
    with_cautions(report, book, kept.riffs.found.iter().flat_map(|r| r.spec.cautions()))
}

fn heading(riff: &Riff<'_>, turns: &[&str]) -> String {
    let changes = change_names(riff);
    if changes == "as the classic" { format!("the plain one: {}", turns.join(", ")) } else { changes }
}

/// How far a drink is from its aim, in words; the distance is in just-noticeable differences.
fn aim_words(distance: f64) -> &'static str {
    match distance {
        d if d < 0.05 => "as aimed",
        d if d < 1.0 => "too close to the aim to taste",
        d if d < 2.5 => "a little off the aim",
        _ => "off the aim, as near as it comes",
    }
}

/// `black tea for white rum; aromatic bitters out, they hold alcohol; sugar 49 g/L (was 89)`.
fn done_words(turn: &TurnDone<'_>, turned: &Turned<'_>, view: View) -> String {
    let of_aim = |done: &Done<'_>| match done {
        Done::Aimed { figure, from, .. } => {
            format!(
                "aimed at {} {}, was {}",
                figure.name(),
                amount(*figure, aimed(&turned.aim, *figure), view),
                amount(*figure, *from, view)
            )
        }
        other => step_words(other, view),
    };
    let mut words: Vec<String> = Vec::new();
    for word in turn.done.iter().map(of_aim) {
        if !words.contains(&word) {
            words.push(word);
        }
    }
    if words.is_empty() { "as it is".to_owned() } else { words.join("; ") }
}

fn aimed(aim: &Aim, figure: Figure) -> f64 {
    match figure {
        Figure::Strength => aim.strength,
        Figure::Sugar => aim.sugar,
        Figure::Acid => aim.acid,
        Figure::Served => aim.served,
    }
}

fn amount(figure: Figure, value: f64, view: View) -> String {
    match figure {
        Figure::Strength | Figure::Acid => format!("{value:.1} {}", figure.unit()),
        Figure::Sugar => format!("{value:.0} {}", figure.unit()),
        Figure::Served => volume(crate::measure::Volume::clamped(value), view.unit),
    }
}

fn names(set: &[&Ingredient]) -> String {
    listed(&set.iter().map(|i| i.name.as_str()).collect::<Vec<_>>())
}

fn step_words(done: &Done<'_>, view: View) -> String {
    match done {
        Done::Replaced { from, to } => format!("{} for {}", to.name, from.name),
        Done::Added { what, beside: Some(other) } => format!("{} beside {}", what.name, other.name),
        Done::Added { what, beside: None } => format!("{} added", what.name),
        Done::Dropped { what, why } => format!("{} left out, {}", what.name, gone_words(*why)),
        Done::Poured { what, from, to } => {
            let more = if to > from { "more" } else { "less" };
            format!("{more} {}", what.name)
        }
        Done::Method { from, to } => format!("{to}, not {from}"),
        Done::Aimed { figure, from, to } => {
            format!("{} {}, was {}", figure.name(), amount(*figure, *to, view), amount(*figure, *from, view))
        }
        Done::WorkedIn { what } => format!("drew {}", what.name),
        Done::Seed(seed) => format!("seed {seed}"),
        Done::GoesWith(dish) => {
            format!("nothing that clashes with {}, and what is new goes with it", names(dish))
        }
    }
}

fn gone_words(why: Gone) -> &'static str {
    match why {
        Gone::Alcohol => "for its alcohol",
        Gone::Bubbles => "for bubbles do not live through a blender",
        Gone::NotHad => "not on the back bar",
        Gone::Clashes => "for a clash with the dish",
    }
}

fn dish_words(pairs: &[(&Ingredient, Tie<'_>)], dish: &[&Ingredient]) -> String {
    if pairs.is_empty() {
        return format!("nothing known of it beside {}", names(dish));
    }
    let words: Vec<String> = pairs
        .iter()
        .take(2)
        .map(|(one, tie)| {
            let note = note_of(tie).map_or(String::new(), |n| format!(", {n}"));
            format!("{} + {} {}{note}", one.name, tie.other.name, affinity(tie.affinity.value()))
        })
        .collect();
    format!("with the dish: {}", words.join("; "))
}

fn step_data(done: &Done<'_>) -> Value {
    match done {
        Done::Replaced { from, to } => {
            json!({ "kind": "replaced", "from": from.id.as_str(), "to": to.id.as_str() })
        }
        Done::Added { what, beside } => {
            json!({ "kind": "added", "what": what.id.as_str(), "beside": beside.map(|b| b.id.as_str()) })
        }
        Done::Dropped { what, why } => {
            json!({ "kind": "left out", "what": what.id.as_str(), "why": gone_words(*why) })
        }
        Done::Poured { what, from, to } => {
            json!({ "kind": "amount", "what": what.id.as_str(), "from_ml": from.ml(), "to_ml": to.ml() })
        }
        Done::Method { from, to } => json!({ "kind": "method", "from": from.name(), "to": to.name() }),
        Done::Aimed { figure, from, to } => json!({
            "kind": "aimed", "figure": figure.name(), "unit": figure.unit(), "from": from, "to": to,
        }),
        Done::WorkedIn { what } => json!({ "kind": "drawn", "what": what.id.as_str() }),
        Done::Seed(seed) => json!({ "kind": "seed", "seed": seed }),
        Done::GoesWith(dish) => {
            json!({ "kind": "goes with", "dish": dish.iter().map(|d| d.id.as_str()).collect::<Vec<_>>() })
        }
    }
}

fn promise_data(promise: &Promise) -> Value {
    json!({
        "figure": promise.figure.name(),
        "unit": promise.figure.unit(),
        "least": promise.least,
        "most": promise.most.is_finite().then_some(promise.most),
    })
}

fn data(turned: &Turned<'_>, kept: &Kept<'_>) -> Value {
    let mut value = riffs_data(&kept.riffs);
    let classic = super::riffs::classic_data(&turned.classic, &turned.figures);
    value["turned"] = json!({
        "kinds": turned.turns.iter().map(|t| json!({
            "kind": t.turn.name(),
            "done": t.done.iter().map(step_data).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "aim": {
            "strength_percent_vol": turned.aim.strength,
            "sugar_g_per_l": turned.aim.sugar,
            "acid_g_per_l": turned.aim.acid,
            "served_ml": turned.aim.served,
        },
        "from": value["classic"],
        "promises": turned.promises.iter().map(promise_data).collect::<Vec<_>>(),
        "broken": kept.broken,
        "with_dish": kept.with_dish.iter().map(|pairs| pairs.iter().map(|(one, tie)| json!({
            "pair": [one.id.as_str(), tie.other.id.as_str()],
            "affinity": tie.affinity.value(),
            "note": tie.edge.note,
        })).collect::<Vec<_>>()).collect::<Vec<_>>(),
    });
    value["classic"] = classic;
    value
}

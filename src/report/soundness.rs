//! What a contributor may want to mend, as a report.

mod spot;

use serde_json::{Value, json};

use super::phrase::counted;
use super::{Cell, Column, Report, Table, Tone};
use crate::book::Ingredient;
use crate::pairing::{Degrees, Soundness};
use spot::{Spot, spots};

/// How many places of a soft spot are shown unasked.
const FIRST: usize = 6;
/// The longest bar, in characters.
const BAR: usize = 36;

/// Soft spots, those that matter most first, and the shape of the graph; all places, or the first few of each.
pub fn soundness(sound: &Soundness<'_>, packs: &[String], all: bool) -> Report {
    let spots = spots(sound);
    let total: usize = spots.iter().map(|s| s.places.len()).sum();
    let mut report = Report::new("What to mend in the book", data(sound, packs, &spots, total));
    report = report.text(format!(
        "No faults: every record was read. {}.",
        if total == 0 {
            "No soft spots either".to_owned()
        } else {
            let sorts = spots.iter().filter(|s| !s.places.is_empty()).count();
            format!(
                "{} of {}, those that matter most first",
                counted(total, "soft spot", "soft spots"),
                counted(sorts, "sort", "sorts")
            )
        }
    ));
    for spot in spots.iter().filter(|s| !s.places.is_empty()) {
        report = shown(report, spot, all);
    }
    let clear: Vec<&str> = spots.iter().filter(|s| s.places.is_empty()).map(|s| s.name).collect();
    if total > 0 && !clear.is_empty() {
        report = report.heading("Nowhere in the book").text(clear.join("; "));
    }
    shape(report, sound, packs)
}

fn shown(report: Report, spot: &Spot, all: bool) -> Report {
    let count = spot.places.len();
    let most = if all { count } else { FIRST.min(count) };
    let words: Vec<String> = spot.places.iter().take(most).map(|p| p.words.clone()).collect();
    let report = report.heading(format!("{}, {count}", capital(spot.name)));
    let report = if spot.short { report.text(words.join(", ")) } else { report.list(words) };
    let report = if most < count {
        report.note(format!("the first {most} of {count}; --all shows every one"))
    } else {
        report
    };
    report.note(spot.advice.clone())
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// How the graph hangs together, and how much of everything there is.
fn shape(report: Report, sound: &Soundness<'_>, packs: &[String]) -> Report {
    let (shape, counts) = (&sound.shape, &sound.counts);
    let fact = |label: &str, value: String| (label.to_owned(), value);
    let cut_off: Vec<&str> = shape.kinds_cut_off.iter().map(|k| k.name()).collect();
    let share = counts.noted_share().map_or(String::new(), |s| format!(" ({:.0} %)", 100.0 * s));
    let apart = match shape.pieces.as_slice() {
        [] | [_] => String::new(),
        [first, rest @ ..] => {
            let names: Vec<&str> = rest.iter().flatten().map(|i| i.name.as_str()).take(FIRST).collect();
            let more = if rest.iter().flatten().count() > FIRST { " ..." } else { "" };
            format!("; apart from the largest, of {}: {}{more}", first.len(), names.join(", "))
        }
    };
    let facts = vec![
        fact("connected pieces", format!("{}{apart}", shape.pieces.len())),
        fact("kinds cut off", if cut_off.is_empty() { "none".to_owned() } else { cut_off.join(", ") }),
        fact(
            "affinities each",
            format!("{} to {}, median {}", shape.degrees.least, shape.degrees.most, shape.degrees.median),
        ),
    ];
    let held = vec![
        fact("packs", packs.join(", ")),
        fact("ingredients", format!("{}, of {}", counts.ingredients, counted(counts.kinds, "kind", "kinds"))),
        fact("their aliases", counts.aliases.to_string()),
        fact("made from another", counts.made.to_string()),
        fact("affinities", format!("{}, {} with a note{share}", counts.affinities, counts.noted_affinities)),
        fact("clashes", format!("{}, {} with a note", counts.clashes, counts.noted_clashes)),
        fact("templates", format!("{}, {}", counts.templates, counted(counts.slots, "slot", "slots"))),
        fact("cautions", counts.cautions.to_string()),
    ];
    report
        .heading("How it hangs together")
        .facts(facts)
        .table(bars(&shape.degrees))
        .heading("What there is")
        .facts(held)
}

/// How many ingredients have about as many affinities, as bars.
fn bars(degrees: &Degrees) -> Table {
    let mut table = Table::new([Column::right("affinities"), Column::right("ingredients"), Column::left("")]);
    let longest = degrees.steps.iter().map(|s| s.ingredients).max().unwrap_or(0).max(1);
    for step in &degrees.steps {
        // One that is there shows, however small.
        let length = (step.ingredients * BAR).div_ceil(longest);
        table.push([
            Cell::from(format!("{} to {}", step.from, step.to)),
            Cell::from(step.ingredients.to_string()),
            Cell::new("#".repeat(length), Tone::Quiet),
        ]);
    }
    table
}

fn data(sound: &Soundness<'_>, packs: &[String], spots: &[Spot], total: usize) -> Value {
    let (shape, counts) = (&sound.shape, &sound.counts);
    let spot = |s: &Spot| {
        json!({
            "spot": s.name,
            "count": s.places.len(),
            "places": s.places.iter().map(|p| &p.data).collect::<Vec<_>>(),
        })
    };
    let ids = |piece: &Vec<&Ingredient>| piece.iter().map(|i| i.id.as_str().to_owned()).collect::<Vec<_>>();
    json!({
        "ok": true,
        "command": "check",
        "packs": packs,
        "total": total,
        "soft_spots": spots.iter().map(spot).collect::<Vec<_>>(),
        "pieces": shape.pieces.iter().map(ids).collect::<Vec<_>>(),
        "kinds_cut_off": shape.kinds_cut_off.iter().map(|k| k.name()).collect::<Vec<_>>(),
        "affinities_each": {
            "least": shape.degrees.least,
            "median": shape.degrees.median,
            "most": shape.degrees.most,
            "steps": shape.degrees.steps.iter().map(|s| json!({
                "from": s.from, "to": s.to, "ingredients": s.ingredients,
            })).collect::<Vec<_>>(),
        },
        "noted_share": counts.noted_share(),
        "counts": {
            "ingredients": counts.ingredients,
            "aliases": counts.aliases,
            "kinds": counts.kinds,
            "made": counts.made,
            "affinities": counts.affinities,
            "noted_affinities": counts.noted_affinities,
            "clashes": counts.clashes,
            "noted_clashes": counts.noted_clashes,
            "templates": counts.templates,
            "slots": counts.slots,
            "cautions": counts.cautions,
        },
    })
}

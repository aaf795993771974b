//! Stand-ins for an ingredient, alone and in a drink, with what follows from each.

mod data;

use std::collections::BTreeSet;

use self::data::{changes_data, mixture_data, own_changes_data, stand_in_data};
use serde_json::{Value, json};

use super::balance::{figures_data, line_data};
use super::companions::{named, unfit_words};
use super::equivalent::with_equivalents;
use super::noticed::told_figures;
use super::phrase::{View, affinity, facet_names, listed, volume};
use super::riffs::{allergen_words, comes_to, facet_words, riff_data, spec_words, with_cautions};
use super::{Cell, Column, Report, Table, Tone};
use crate::book::{Allergen, Book, CautionId, Diet, Facet, Ingredient};
use crate::pairing::{Likeness, Mixture, Ruled, StandIns};
use crate::riff::{Change, Equivalents, Riff, SideBySide, SwappedIn, one_measure};

/// Stand-ins for an ingredient by itself, mixtures of two that are worth it, and how much is worth a measure.
pub fn stand_ins(
    book: &Book,
    found: &StandIns<'_>,
    mixtures: &[Mixture<'_>],
    equivalents: Option<&Equivalents<'_>>,
    view: View,
) -> Report {
    let data = json!({
        "ok": true,
        "command": "swap",
        "of": named(found.of),
        "in": Value::Null,
        "stand_ins": found.found.iter().map(|s| {
            let mut value = stand_in_data(s);
            value["changes"] = own_changes_data(found.of, &[s.ingredient]);
            value
        }).collect::<Vec<_>>(),
        "mixtures": mixtures.iter().map(|m| {
            let mut value = mixture_data(m, closer_by(m, found));
            value["changes"] = own_changes_data(found.of, &m.parts.map(|(i, _)| i));
            value
        }).collect::<Vec<_>>(),
    });
    let mut report = Report::new(format!("Stand-ins for {}", found.of.name), data);
    if found.found.is_empty() {
        let what = if mixtures.is_empty() { "Nothing" } else { "Nothing single" };
        report = report.text(format!("{what} in the book comes near {}.", found.of.name));
    } else {
        let mut table = Table::new([
            Column::left("stand-in"),
            Column::right("likeness"),
            Column::flexible("why"),
            Column::flexible("what changes"),
        ])
        .numbered();
        for stand_in in &found.found {
            let (gained, lost) = (&stand_in.gained, &stand_in.lost);
            table.push([
                Cell::new(stand_in.ingredient.name.clone(), Tone::Strong),
                affinity(stand_in.likeness.score()).into(),
                likeness_words(&stand_in.likeness, &stand_in.shared).into(),
                own_change_words(found.of, gained, lost, &[stand_in.ingredient]).into(),
            ]);
        }
        report = report.table(table);
    }
    for (index, mixture) in mixtures.iter().enumerate() {
        let number = found.found.len() + index + 1;
        let [(one, share), (other, _)] = mixture.parts;
        let parts = proportion_words(share);
        let measures = one_measure(mixture, view.unit).map(|v| volume(v, view.unit)).join(" and ");
        report = report
            .heading(mixture_heading(number, mixture, found))
            .text(format!("{} {} to {} {}: {measures}", parts.0, one.name, parts.1, other.name))
            .note(format!(
                "{}; {}",
                likeness_words(&mixture.likeness, &mixture.shared),
                own_change_words(found.of, &mixture.gained, &mixture.lost, &[one, other])
            ));
    }
    if let Some(equivalents) = equivalents {
        report = with_equivalents(report, equivalents, view);
    }
    report = rest_of_stand_ins(report, found);
    let powders = equivalents.into_iter().flat_map(|e| &e.soured).flat_map(|s| s.cautions.iter().copied());
    with_cautions(report, book, powders)
}

/// `2 parts` and `1 part`, from the share of the larger.
fn proportion_words(share: f64) -> (String, String) {
    let more = share / (1.0 - share);
    let (parts, others) = if (more - 1.5).abs() < 0.01 { (3.0, 2.0) } else { (more.round(), 1.0) };
    let words = |count: f64| if count > 1.5 { format!("{count:.0} parts") } else { "1 part".to_owned() };
    (words(parts), words(others))
}

/// `7 cognac and orange oleo saccharum together 0.86, closer than 1`.
fn mixture_heading(number: usize, mixture: &Mixture<'_>, found: &StandIns<'_>) -> String {
    let is_closer = found.found.first().is_some_and(|s| mixture.likeness.score() > s.likeness.score());
    let closer = if is_closer { ", closer than 1" } else { "" };
    format!("{number} {} {}{closer}", mixture_name(mixture), affinity(mixture.likeness.score()))
}

/// `cognac and orange oleo saccharum together`.
pub(super) fn mixture_name(mixture: &Mixture<'_>) -> String {
    let [(one, _), (other, _)] = mixture.parts;
    format!("{} and {} together", one.name, other.name)
}

fn closer_by(mixture: &Mixture<'_>, found: &StandIns<'_>) -> Option<f64> {
    found.found.first().map(|s| mixture.likeness.score() - s.likeness.score())
}

/// Stand-ins in a drink: the amounts solved again, and for each what follows in flavour, in the glass and for a guest.
pub fn swapped_in(book: &Book, found: &SwappedIn<'_>, view: View) -> Report {
    let of = found.stand_ins.of;
    let data = json!({
        "ok": true,
        "command": "swap",
        "of": named(of),
        "in": {
            "name": found.spec.name,
            "lines": found.spec.lines.iter().map(line_data).collect::<Vec<_>>(),
            "figures": figures_data(&found.figures),
        },
        "stand_ins": found.drinks.iter().map(|d| {
            let mut value = stand_in_data(&d.stand_in);
            value["changes"] = changes_data(&d.beside);
            value["drink"] = riff_data(&d.riff);
            value
        }).collect::<Vec<_>>(),
        "mixtures": found.mixtures.iter().map(|m| {
            let mut value = mixture_data(&m.mixture, m.closer_by);
            value["changes"] = changes_data(&m.beside);
            value["drink"] = riff_data(&m.riff);
            value
        }).collect::<Vec<_>>(),
    });
    let mut report = Report::new(format!("Stand-ins for {} in {}", of.name, found.spec.name), data);
    report = report.facts(vec![
        ("as it is".to_owned(), spec_words(&found.spec, view)),
        ("comes to".to_owned(), comes_to(&found.figures, view)),
    ]);
    if found.drinks.is_empty() {
        let what = if found.mixtures.is_empty() { "Nothing" } else { "Nothing single" };
        report = report.text(format!("{what} in the book can take the place of {} here.", of.name));
    }
    for (index, drink) in found.drinks.iter().enumerate() {
        let stand_in = &drink.stand_in;
        let likeness = affinity(stand_in.likeness.score());
        let flavour = (stand_in.gained.as_slice(), stand_in.lost.as_slice());
        report = report
            .heading(format!("{} {} {likeness}", index + 1, stand_in.ingredient.name))
            .text(glass_words(&drink.riff, &[stand_in.ingredient], &drink.beside, view))
            .note(why_words(&stand_in.likeness, &stand_in.shared, flavour, &drink.beside));
    }
    for (index, drink) in found.mixtures.iter().enumerate() {
        let mixture = &drink.mixture;
        let flavour = (mixture.gained.as_slice(), mixture.lost.as_slice());
        let parts = mixture.parts.map(|(i, _)| i);
        report = report
            .heading(mixture_heading(found.drinks.len() + index + 1, mixture, &found.stand_ins))
            .text(glass_words(&drink.riff, &parts, &drink.beside, view))
            .note(why_words(&mixture.likeness, &mixture.shared, flavour, &drink.beside));
    }
    report = rest_of_stand_ins(report, &found.stand_ins);
    with_numbered_cautions(report, book, found)
}

/// Cautions that a stand-in calls for and the drink did not, each with the numbers it goes for.
fn with_numbered_cautions(mut report: Report, book: &Book, found: &SwappedIn<'_>) -> Report {
    let sides: Vec<&SideBySide<'_>> =
        found.drinks.iter().map(|d| &d.beside).chain(found.mixtures.iter().map(|m| &m.beside)).collect();
    let mut told: Vec<&CautionId> = Vec::new();
    for id in sides.iter().flat_map(|s| s.cautions_gained.iter().copied()) {
        let Some(caution) = book.caution(id).filter(|_| !told.contains(&id)) else { continue };
        told.push(id);
        let numbers: Vec<String> = (1_usize..)
            .zip(&sides)
            .filter(|(_, side)| side.cautions_gained.contains(id))
            .map(|(number, _)| number.to_string())
            .collect();
        report = report.caution(format!("{}: {}", listed(&numbers), caution.text));
    }
    report
}

fn rest_of_stand_ins(mut report: Report, found: &StandIns<'_>) -> Report {
    if !found.clashes.is_empty() {
        let words: Vec<String> = found
            .clashes
            .iter()
            .take(5)
            .map(|c| format!("{} (with {})", c.ingredient.name, c.with.name))
            .collect();
        report = report.note(format!("left out for a clash: {}", words.join(", ")));
    }
    let ruled: Vec<String> = found
        .ruled_out
        .iter()
        .filter_map(|(reason, count)| match reason {
            Ruled::Allergen(allergen) => Some(format!("{count} with {allergen}")),
            Ruled::Diet(diet) => Some(format!("{count} {}", unfit_words(*diet))),
            Ruled::Season => Some(format!("{count} out of season")),
            Ruled::NotHad => Some(format!("{count} that are not there")),
            Ruled::Out => Some(format!("{count} that ran out")),
            Ruled::Kind | Ruled::Role | Ruled::Unwanted => None,
        })
        .collect();
    if !ruled.is_empty() {
        report = report.note(format!("left out: {}", listed(&ruled)));
    }
    report
}

/// What makes it alike: the strongest parts of the likeness, in words.
fn likeness_words(likeness: &Likeness, shared: &[Facet]) -> String {
    let mut parts = Vec::new();
    if !shared.is_empty() {
        parts.push(format!("both {}", listed(&facet_names(shared))));
    }
    let mut close = Vec::new();
    if likeness.makeup >= 0.75 {
        close.push("makeup");
    }
    if likeness.company >= 0.6 {
        close.push("company");
    }
    if !close.is_empty() {
        parts.push(format!("like {}", listed(&close)));
    }
    if let Some(agreement) = likeness.agreement {
        parts.push(format!("agrees with the rest {}", affinity(agreement)));
    }
    if parts.is_empty() {
        parts.push("does the same job".to_owned());
    }
    parts.join("; ")
}

/// Why it is close, then what it changes for the tongue and for the guest.
fn why_words(
    likeness: &Likeness,
    shared: &[Facet],
    (gained, lost): (&[Facet], &[Facet]),
    beside: &SideBySide<'_>,
) -> String {
    let mut parts = vec![likeness_words(likeness, shared)];
    parts.push(facet_words(gained, lost).unwrap_or_else(|| SAME_FLAVOUR.to_owned()));
    parts.extend(allergen_words(&beside.allergens_gained, &beside.allergens_lost));
    parts.extend(diet_words(&beside.diets_gained, &beside.diets_lost));
    if !beside.cautions_gained.is_empty() {
        parts.push(format!("caution below: {}", caution_names(&beside.cautions_gained)));
    }
    if !beside.cautions_lost.is_empty() {
        parts.push(format!("caution gone: {}", caution_names(&beside.cautions_lost)));
    }
    parts.join("; ")
}

/// Where no facet is gained or lost.
const SAME_FLAVOUR: &str = "hardly another flavour";

/// `food acids, raw egg`: what a caution is about, from its id.
fn caution_names(ids: &BTreeSet<&CautionId>) -> String {
    let names: Vec<String> = ids.iter().map(|id| id.as_str().replace('-', " ")).collect();
    names.join(", ")
}

/// `no longer vegan, now gluten free`, `now with alcohol`; none where none came or went.
fn diet_words(gained: &BTreeSet<Diet>, lost: &BTreeSet<Diet>) -> Option<String> {
    let names = |set: &BTreeSet<Diet>| {
        let names: Vec<&str> = set.iter().filter(|d| **d != Diet::NoAlcohol).map(|d| d.name()).collect();
        (!names.is_empty()).then(|| listed(&names))
    };
    let alcohol =
        |set: &BTreeSet<Diet>, words: &str| set.contains(&Diet::NoAlcohol).then(|| words.to_owned());
    let parts = [
        names(lost).map(|n| format!("no longer {n}")),
        names(gained).map(|n| format!("now {n}")),
        alcohol(lost, "now with alcohol"),
        alcohol(gained, "now without alcohol"),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    (!parts.is_empty()).then(|| parts.join(", "))
}

/// What changes from one ingredient to others in its place, outside a drink.
struct OwnChanges {
    allergens: (BTreeSet<Allergen>, BTreeSet<Allergen>),
    diets: (BTreeSet<Diet>, BTreeSet<Diet>),
}

impl OwnChanges {
    fn of(was: &Ingredient, is: &[&Ingredient]) -> Self {
        let allergens: BTreeSet<Allergen> = is.iter().flat_map(|i| i.allergens.iter().copied()).collect();
        let suits = |d: &&Diet| is.iter().all(|i| i.diet.contains(d));
        let diets: BTreeSet<Diet> = Diet::ALL.iter().filter(suits).copied().collect();
        Self {
            allergens: (&allergens - &was.allergens, &was.allergens - &allergens),
            diets: (&diets - &was.diet, &was.diet - &diets),
        }
    }
}

fn own_change_words(was: &Ingredient, gained: &[Facet], lost: &[Facet], is: &[&Ingredient]) -> String {
    let changes = OwnChanges::of(was, is);
    let mut parts = vec![facet_words(gained, lost).unwrap_or_else(|| SAME_FLAVOUR.to_owned())];
    parts.extend(allergen_words(&changes.allergens.0, &changes.allergens.1));
    parts.extend(diet_words(&changes.diets.0, &changes.diets.1));
    parts.join("; ")
}

/// `½ oz, lime juice ⅔ oz (was ¾ oz); a little weaker, 16.7 % vol (was 18.6)`.
fn glass_words(riff: &Riff<'_>, new: &[&Ingredient], beside: &SideBySide<'_>, view: View) -> String {
    let is_new = |id: &str| new.iter().any(|i| i.id.as_str() == id);
    let came: Vec<String> = riff
        .spec
        .lines
        .iter()
        .filter(|l| is_new(l.ingredient.id.as_str()))
        .map(|l| format!("{} {}", l.amount.shown(view.unit), l.ingredient.name))
        .collect();
    let moved: Vec<String> = riff
        .changes
        .iter()
        .filter_map(|c| match c {
            Change::Amount { what, from, to } if !is_new(what.id.as_str()) => {
                Some(format!("{} {} (was {})", volume(*to, view.unit), what.name, volume(*from, view.unit)))
            }
            _ => None,
        })
        .collect();
    let moved = if moved.is_empty() { "the rest as it is".to_owned() } else { moved.join(", ") };
    format!("{}; {moved}; {}", came.join(", "), told_figures(beside, view))
}

//! A month of the year, as a report.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use super::phrase::{View, counted, listed, months_words};
use super::{Mark, Report, Year};
use crate::book::{Book, Climate, Ingredient, Kind, Presence, When};
use crate::measure::Month;

/// What a month brings.
#[derive(Debug, Clone, Default)]
pub struct Season<'b> {
    /// At their best now.
    pub peak: Vec<&'b Ingredient>,
    /// To be had now.
    pub available: Vec<&'b Ingredient>,
    /// Not to be had now, but next month.
    pub coming: Vec<&'b Ingredient>,
    /// To be had now, but not next month.
    pub leaving: Vec<&'b Ingredient>,
    /// Not to be had now, but kept: in a syrup, a shrub, dried, as a liqueur.
    pub kept: Vec<(&'b Ingredient, Vec<&'b Ingredient>)>,
}

/// Kinds in which a fresh thing outlasts its season, best first.
const KEPT_AS: [Kind; 6] =
    [Kind::Syrup, Kind::Sweetener, Kind::Fruit, Kind::Seasoning, Kind::Acid, Kind::Liqueur];

/// What a fresh ingredient is kept as through the year, best first.
fn kept_as<'b>(book: &'b Book, fresh: &'b Ingredient, climate: Climate) -> Vec<&'b Ingredient> {
    let place = |i: &Ingredient| KEPT_AS.iter().position(|k| *k == i.kind);
    let mut forms: Vec<&Ingredient> =
        book.forms_of(fresh).filter(|form| place(form).is_some() && !form.is_fresh_in(climate)).collect();
    forms.sort_by_key(|form| place(form));
    forms
}

impl<'b> Season<'b> {
    /// Sorts ingredients by what a month brings.
    pub fn of(book: &'b Book, view: View) -> Self {
        let mut season = Self::default();
        for ingredient in book.ingredients().iter().filter(|i| i.is_fresh_in(view.when.climate)) {
            let now = ingredient.presence(view.when);
            let next = ingredient.presence(When { month: view.when.month.plus(1), ..view.when });
            match now {
                Presence::Peak => season.peak.push(ingredient),
                Presence::Available => season.available.push(ingredient),
                Presence::None if next != Presence::None => season.coming.push(ingredient),
                Presence::None => {}
            }
            if now == Presence::None {
                let forms = kept_as(book, ingredient, view.when.climate);
                if !forms.is_empty() {
                    season.kept.push((ingredient, forms));
                }
            }
            if now != Presence::None && next == Presence::None {
                season.leaving.push(ingredient);
            }
        }
        season
    }

    fn groups(&self) -> [(&'static str, &'static str, &[&'b Ingredient]); 4] {
        [
            ("At their peak", "peak", &self.peak),
            ("In season", "available", &self.available),
            ("Coming next month", "coming", &self.coming),
            ("Leaving after this month", "leaving", &self.leaving),
        ]
    }
}

/// The season of a month.
pub fn season(season: &Season<'_>, view: View) -> Report {
    let title = format!("{} in the {}", view.when.month, place_words(view));
    let mut report = Report::new(title, data(season, view));
    for (heading, _, group) in season.groups() {
        if group.is_empty() {
            continue;
        }
        let names: Vec<&str> = group.iter().map(|i| i.name.as_str()).collect();
        report = report.heading(format!("{heading}, {}", names.len())).text(names.join(", "));
    }
    if !season.kept.is_empty() {
        let words = season.kept.iter().map(|(fresh, forms)| {
            let names: Vec<&str> = forms.iter().take(KEPT_NAMED).map(|f| f.name.as_str()).collect();
            format!("{} ({})", fresh.name, names.join(", "))
        });
        report = report
            .heading(format!("Out of season, but kept, {}", season.kept.len()))
            .text(words.collect::<Vec<_>>().join("; "));
    }
    let fresh = season.peak.len() + season.available.len();
    if fresh == 0 {
        report = report.text("Nothing fresh of this book is in season.");
    }
    report.note(format!(
        "{}; 'show NAME' draws one across the year, 'season year' all of them",
        counted(fresh, "fresh ingredient to be had", "fresh ingredients to be had")
    ))
}

/// How many kept forms of one thing are named.
const KEPT_NAMED: usize = 3;

/// `north`, `warm south`.
fn place_words(view: View) -> String {
    let half = view.when.hemisphere.name();
    match view.when.climate {
        Climate::Cool => half.to_owned(),
        climate => format!("{climate} {half}"),
    }
}

/// Every fresh ingredient across the year, by kind.
pub fn calendar(book: &Book, only: Option<Kind>, view: View) -> Report {
    let mut by_kind: BTreeMap<Kind, Vec<&Ingredient>> = BTreeMap::new();
    for fresh in book.ingredients().iter().filter(|i| i.is_fresh_in(view.when.climate)) {
        if only.is_none_or(|kind| fresh.kind == kind) {
            by_kind.entry(fresh.kind).or_default().push(fresh);
        }
    }
    let rows = |group: &[&Ingredient]| -> Vec<(String, [Mark; 12])> {
        group.iter().map(|i| (i.name.clone(), marks_of(i, view))).collect()
    };
    let data = json!({
        "ok": true,
        "command": "season",
        "hemisphere": view.when.hemisphere.name(),
        "climate": view.when.climate.name(),
        "year": by_kind.values().flatten().map(|i| json!({
            "id": i.id.as_str(),
            "name": i.name,
            "kind": i.kind.name(),
            "months": marks_of(i, view).map(Mark::name),
        })).collect::<Vec<_>>(),
    });
    let mut report = Report::new(format!("The year in the {}", place_words(view)), data);
    if by_kind.is_empty() {
        report = report.text("Nothing fresh of this kind comes and goes with the year.");
    }
    for (kind, group) in &by_kind {
        report = report.heading(format!("{kind}, {}", group.len())).year(Year {
            rows: rows(group),
            start: Month::Jan,
            now: Some(view.when.month),
        });
    }
    report
}

/// When each of some ingredients is to be had, drawn across the year, and what it is kept as.
pub fn seasons_of(book: &Book, named: &[&Ingredient], view: View) -> Report {
    let climate = view.when.climate;
    let data = json!({
        "ok": true,
        "command": "season",
        "hemisphere": view.when.hemisphere.name(),
        "climate": climate.name(),
        "of": named.iter().map(|i| json!({
            "id": i.id.as_str(),
            "name": i.name,
            "kind": i.kind.name(),
            "fresh": i.is_fresh_in(climate),
            "months": marks_of(i, view).map(Mark::name),
            "kept_as": kept_as(book, i, climate).into_iter().map(super::companions::named).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
    });
    let names: Vec<&str> = named.iter().map(|i| i.name.as_str()).collect();
    let title = format!("When {} can be had in the {}", listed(&names), place_words(view));
    let fresh: Vec<&Ingredient> = named.iter().copied().filter(|i| i.is_fresh_in(climate)).collect();
    let mut report = Report::new(title, data);
    if !fresh.is_empty() {
        let rows = fresh.iter().map(|i| (i.name.clone(), marks_of(i, view))).collect();
        report = report.year(Year { rows, start: Month::Jan, now: Some(view.when.month) });
    }
    for ingredient in named {
        let words = months_words(ingredient.season_in(climate), view.when.hemisphere);
        let kept: Vec<&str> = kept_as(book, ingredient, climate)
            .into_iter()
            .take(KEPT_NAMED)
            .map(|f| f.name.as_str())
            .collect();
        let kept = if kept.is_empty() { String::new() } else { format!("; kept as {}", listed(&kept)) };
        report = report.note(format!("{}: {words}{kept}", ingredient.name));
    }
    report
}

fn marks_of(ingredient: &Ingredient, view: View) -> [Mark; 12] {
    Month::ALL.map(|month| match ingredient.presence(When { month, ..view.when }) {
        Presence::Peak => Mark::Peak,
        Presence::Available => Mark::Available,
        Presence::None => Mark::None,
    })
}

fn data(season: &Season<'_>, view: View) -> Value {
    let mut value = json!({
        "ok": true,
        "command": "season",
        "month": view.when.month.number(),
        "hemisphere": view.when.hemisphere.name(),
        "climate": view.when.climate.name(),
    });
    value["kept"] = season
        .kept
        .iter()
        .map(|(fresh, forms)| {
            let forms: Vec<Value> = forms.iter().map(|f| super::companions::named(f)).collect();
            json!({ "of": super::companions::named(fresh), "as": forms })
        })
        .collect();
    for (_, key, group) in season.groups() {
        value[key] = group.iter().map(|i| super::companions::named(i)).collect();
    }
    value
}

/// An ingredient's season across the year.
pub(super) fn year_of(ingredient: &Ingredient, view: View) -> Year {
    Year {
        rows: vec![("season".to_owned(), marks_of(ingredient, view))],
        start: Month::Jan,
        now: Some(view.when.month),
    }
}

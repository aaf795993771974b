//! A month of the year, as a report.

use serde_json::{Value, json};

use super::phrase::{View, counted};
use super::{Mark, Report, Year};
use crate::book::{Ingredient, Presence, When};
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
}

impl<'b> Season<'b> {
    /// Sorts ingredients by what a month brings.
    pub fn of(ingredients: impl Iterator<Item = &'b Ingredient>, view: View) -> Self {
        let mut season = Self::default();
        for ingredient in ingredients.filter(|i| i.is_fresh_in(view.when.climate)) {
            let now = ingredient.presence(view.when);
            let next = ingredient.presence(When { month: view.when.month.plus(1), ..view.when });
            match now {
                Presence::Peak => season.peak.push(ingredient),
                Presence::Available => season.available.push(ingredient),
                Presence::None if next != Presence::None => season.coming.push(ingredient),
                Presence::None => {}
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
    let title = format!("{} in the {}", view.when.month, view.when.hemisphere.name());
    let mut report = Report::new(title, data(season, view));
    for (heading, _, group) in season.groups() {
        if group.is_empty() {
            continue;
        }
        let names: Vec<&str> = group.iter().map(|i| i.name.as_str()).collect();
        report = report.heading(format!("{heading}, {}", names.len())).text(names.join(", "));
    }
    let fresh = season.peak.len() + season.available.len();
    if fresh == 0 {
        report = report.text("Nothing fresh of this book is in season.");
    }
    report.note(format!(
        "{}; 'show NAME' draws one across the year",
        counted(fresh, "fresh ingredient to be had", "fresh ingredients to be had")
    ))
}

fn data(season: &Season<'_>, view: View) -> Value {
    let mut value = json!({
        "ok": true,
        "command": "season",
        "month": view.when.month.number(),
        "hemisphere": view.when.hemisphere.name(),
        "climate": view.when.climate.name(),
    });
    for (_, key, group) in season.groups() {
        value[key] = group.iter().map(|i| super::companions::named(i)).collect();
    }
    value
}

/// An ingredient's season across the year.
pub(super) fn year_of(ingredient: &Ingredient, view: View) -> Year {
    let marks = Month::ALL.map(|month| match ingredient.presence(When { month, ..view.when }) {
        Presence::Peak => Mark::Peak,
        Presence::Available => Mark::Available,
        Presence::None => Mark::None,
    });
    Year { rows: vec![("season".to_owned(), marks)], start: Month::Jan, now: Some(view.when.month) }
}

//! Small pieces of text that several answers need.

use crate::book::{Facet, Ingredient, Presence, Season, When};
use crate::drink::Figures;
use crate::measure::{Hemisphere, HouseUnit, Month, in_unit};
use crate::pairing::Tie;

/// What every answer is read with: the house's unit, the month and the half of the world.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct View {
    /// The house's unit.
    pub unit: HouseUnit,
    /// When and where.
    pub when: When,
}

/// `a, b and c`.
pub(super) fn listed<S: AsRef<str>>(words: &[S]) -> String {
    match words {
        [] => String::new(),
        [only] => only.as_ref().to_owned(),
        [rest @ .., last] => {
            let rest: Vec<&str> = rest.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", rest.join(", "), last.as_ref())
        }
    }
}

/// `1 pair`, `2 pairs`.
pub(super) fn counted(count: usize, one: &str, many: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {many}") }
}

pub(super) fn facet_names(facets: &[Facet]) -> Vec<&'static str> {
    facets.iter().map(|f| f.name()).collect()
}

/// An affinity as it is shown: two decimals.
pub(super) fn affinity(value: f64) -> String {
    format!("{value:.2}")
}

/// `+0.4`, `-1.2`, and `0` for what rounds to nothing.
pub(super) fn signed(value: f64, digits: usize) -> String {
    let text = format!("{value:+.digits$}");
    if text.chars().any(|c| ('1'..='9').contains(&c)) { text } else { "0".to_owned() }
}

/// A number without zeros behind the point.
pub(super) fn trimmed(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// `20.7`: a strength without its unit.
pub(super) fn strength(figures: &Figures) -> String {
    format!("{:.1}", figures.strength.percent_vol())
}

/// `95`: sugars, g/L.
pub(super) fn sugar(figures: &Figures) -> String {
    format!("{:.0}", figures.sugar.grams_per_litre())
}

/// `1.4`: acid, g/L.
pub(super) fn acid(figures: &Figures) -> String {
    format!("{:.1}", figures.acid.grams_per_litre())
}

/// The volume in the glass, in the house's unit to a tenth of an ounce or a whole millilitre.
pub(super) fn served(figures: &Figures, unit: HouseUnit) -> String {
    match unit {
        HouseUnit::Ounce => format!("{:.1} oz", figures.served.ounces()),
        HouseUnit::Millilitre => format!("{:.0} ml", figures.served.ml()),
    }
}

/// A volume in the house's unit.
pub(super) fn volume(volume: crate::measure::Volume, unit: HouseUnit) -> String {
    in_unit(volume, unit).to_string()
}

/// Why two go together: the record's note, or nothing.
pub(super) fn note_of<'t>(tie: &'t Tie<'_>) -> Option<&'t str> {
    tie.edge.note.as_deref()
}

/// What a month brings, where that comes and goes: `at its peak`, `in season`, `out of season`.
pub(super) fn season_words(ingredient: &Ingredient, view: View) -> Option<&'static str> {
    ingredient.is_fresh_in(view.when.climate).then(|| presence_words(ingredient.presence(view.when)))
}

pub(super) fn presence_words(presence: Presence) -> &'static str {
    match presence {
        Presence::Peak => "at its peak",
        Presence::Available => "in season",
        Presence::None => "out of season",
    }
}

/// `all year`, or the months: `September to December, best October and November`.
pub(super) fn months_words(season: Season, hemisphere: Hemisphere) -> String {
    if !season.is_fresh() {
        return "all year".to_owned();
    }
    let in_month = |wanted: fn(Presence) -> bool| -> Vec<Month> {
        Month::ALL.into_iter().filter(|m| wanted(season.at(*m, hemisphere))).collect()
    };
    let all = runs(&in_month(|p| p != Presence::None));
    let best = runs(&in_month(|p| p == Presence::Peak));
    if best.is_empty() { all } else { format!("{all}, best {best}") }
}

/// Months as runs that may pass the turn of the year: `November to February`.
fn runs(months: &[Month]) -> String {
    if months.len() == 12 {
        return "all year".to_owned();
    }
    let starts = months.iter().copied().filter(|m| !months.contains(&m.plus(-1)));
    let mut parts = Vec::new();
    for start in starts {
        let mut end = start;
        while months.contains(&end.plus(1)) {
            end = end.plus(1);
        }
        parts.push(if start == end {
            start.name().to_owned()
        } else if start.plus(1) == end {
            format!("{} and {}", start.name(), end.name())
        } else {
            format!("{} to {}", start.name(), end.name())
        });
    }
    parts.join("; ")
}

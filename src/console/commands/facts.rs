//! Facts of an ingredient as options: what `new` and `edit` take.

use std::collections::{BTreeMap, BTreeSet};

use crate::book::{Allergen, Diet, Facet, Ingredient, IngredientId, Keeping, Kind, Role, Season, Storage};
use crate::console::desk::{Desk, names_in};
use crate::console::failure::Failure;
use crate::console::keep::{FieldEdit, field, plain_field};
use crate::measure::{Bitterness, Concentration, Grade, Month, Strength};

/// Facts of an ingredient.
#[derive(Debug, Clone, Default, clap::Args)]
pub(super) struct Facts {
    /// What sort of thing it is; see 'list kinds'
    #[arg(long, value_name = "KIND", value_parser = super::kind)]
    kind: Option<Kind>,
    /// What it can do in a drink: base, modifier, sour, sweet, bitter, lengthener, texture, accent, garnish; commas between, or none
    #[arg(long, value_name = "ROLES")]
    role: Option<String>,
    /// Strength, % vol
    #[arg(long, value_name = "% VOL")]
    strength: Option<String>,
    /// Sugar, g/L
    #[arg(long, value_name = "G/L")]
    sugar: Option<String>,
    /// Acid as citric, g/L
    #[arg(long, value_name = "G/L")]
    acid: Option<String>,
    /// Bitterness on our scale: tonic water 10, red bitter liqueur 40, aromatic bitters 100
    #[arg(long, value_name = "0 TO 100")]
    bitterness: Option<String>,
    /// Salt, g/L
    #[arg(long, value_name = "G/L")]
    salt: Option<String>,
    /// What it tastes of, from 0 to 1: smoke=0.6, orchard=0.3; see 'list facets'. 0 takes one out
    #[arg(long, value_name = "FACET=GRADE")]
    facet: Option<String>,
    /// How much it dominates what it is mixed with, from 0 to 1
    #[arg(long, value_name = "0 TO 1")]
    loudness: Option<String>,
    /// Months it is to be had fresh, for the north: aug-nov, or all-year
    #[arg(long, value_name = "MONTHS")]
    season: Option<String>,
    /// Months it is at its best: sep, oct
    #[arg(long, value_name = "MONTHS")]
    peak: Option<String>,
    /// Allergens it brings (of the EU's 14), commas between, or none
    #[arg(long, value_name = "ALLERGENS")]
    allergen: Option<String>,
    /// Diets it suits: vegan, vegetarian, gluten-free, no-alcohol; commas between, or none
    #[arg(long, value_name = "DIETS")]
    diet: Option<String>,
    /// What it is made from, commas between, or none
    #[arg(long, value_name = "NAMES")]
    made_from: Option<String>,
    /// Where it is kept once opened, and how many days: fridge 30
    #[arg(long, value_name = "PLACE DAYS")]
    keeps: Option<String>,
}

impl Facts {
    /// Whether none is given.
    pub(super) fn is_empty(&self) -> bool {
        let texts = [
            &self.role,
            &self.strength,
            &self.sugar,
            &self.acid,
            &self.bitterness,
            &self.salt,
            &self.facet,
            &self.loudness,
            &self.season,
            &self.peak,
            &self.allergen,
            &self.diet,
            &self.made_from,
            &self.keeps,
        ];
        self.kind.is_none() && texts.iter().all(|t| t.is_none())
    }

    /// The kind, if it is given.
    pub(super) fn kind(&self) -> Option<Kind> {
        self.kind
    }

    /// The fields that they change, on an ingredient as it is now. `own` says that the record is the house's alone, and
    /// must name its origins.
    pub(super) fn fields(
        &self,
        now: Option<&Ingredient>,
        own: bool,
        desk: &Desk<'_>,
    ) -> Result<Vec<FieldEdit>, Failure> {
        let mut fields = Vec::new();
        fields.extend(self.kind.map(|kind| field(&["kind"], &kind)));
        if let Some(text) = &self.role {
            fields.push(field(&["roles"], &set_of::<Role>(text)?));
        }
        fields.extend(self.makeup()?);
        if own && fields.iter().any(|(path, _)| path[0] == "makeup") {
            fields.push(plain_field(&["origin", "makeup"], "house"));
        }
        if let Some(text) = &self.facet {
            fields.push(field(&["facets"], &facets(text, now)?));
        }
        if let Some(text) = &self.loudness {
            fields.push(field(&["loudness"], &number::<Grade>("--loudness", text)?));
        }
        if let Some(season) = self.season(now)? {
            if own && season.is_fresh() {
                fields.push(plain_field(&["origin", "season"], "house"));
            }
            fields.push(field(&["season"], &season));
        }
        if let Some(text) = &self.keeps {
            fields.push(field(&["keeps"], &keeping(text)?));
            if own {
                fields.push(plain_field(&["origin", "keeping"], "house"));
            }
        }
        if let Some(text) = &self.allergen {
            fields.push(field(&["allergens"], &set_of::<Allergen>(text)?));
        }
        match (&self.diet, now) {
            (Some(text), _) => fields.push(field(&["diet"], &set_of::<Diet>(text)?)),
            // What is like something without alcohol, and is strong, is not without it.
            (None, Some(now)) if self.is_strong()? && now.diet.contains(&Diet::NoAlcohol) => {
                let rest: BTreeSet<Diet> =
                    now.diet.iter().copied().filter(|d| *d != Diet::NoAlcohol).collect();
                fields.push(field(&["diet"], &rest));
            }
            (None, _) => {}
        }
        if let Some(text) = &self.made_from {
            let none = text.trim().eq_ignore_ascii_case("none");
            let from = if none { Vec::new() } else { desk.ingredients(text)? };
            let ids: Vec<&IngredientId> = from.iter().map(|i| &i.id).collect();
            fields.push(field(&["made_from"], &ids));
        }
        Ok(fields)
    }

    /// Whether a strength is given that is more than none.
    fn is_strong(&self) -> Result<bool, Failure> {
        let strength =
            self.strength.as_ref().map(|text| number::<Strength>("--strength", text)).transpose()?;
        Ok(strength.is_some_and(|s| s.percent_vol() > 0.0))
    }

    fn makeup(&self) -> Result<Vec<FieldEdit>, Failure> {
        let mut fields = Vec::new();
        if let Some(text) = &self.strength {
            fields.push(field(&["makeup", "strength"], &number::<Strength>("--strength", text)?));
        }
        for (option, name, text) in [
            ("--sugar", "sugar", &self.sugar),
            ("--acid", "acid", &self.acid),
            ("--salt", "salt", &self.salt),
        ] {
            if let Some(text) = text {
                fields.push(field(&["makeup", name], &number::<Concentration>(option, text)?));
            }
        }
        if let Some(text) = &self.bitterness {
            fields.push(field(&["makeup", "bitterness"], &number::<Bitterness>("--bitterness", text)?));
        }
        Ok(fields)
    }

    fn season(&self, now: Option<&Ingredient>) -> Result<Option<Season>, Failure> {
        let (season, peak) = (self.season.as_deref(), self.peak.as_deref());
        if season.is_none() && peak.is_none() {
            return Ok(None);
        }
        let plain = |text: &str| text.trim().to_lowercase().replace(['-', '_'], " ");
        if season.is_some_and(|text| ["all year", "all", "none"].contains(&plain(text).as_str())) {
            return Ok(Some(Season::AllYear));
        }
        let peak = peak.map_or_else(|| Ok(Vec::new()), months)?;
        let available = match (season, now.map(|i| i.season)) {
            (Some(text), _) => months(text)?,
            (None, Some(Season::Months { available, .. })) => available.iter().collect(),
            (None, _) => peak.clone(),
        };
        let peak: crate::measure::MonthSet = peak.into_iter().collect();
        let available = available.into_iter().collect::<crate::measure::MonthSet>().union(peak);
        Ok(Some(Season::Months { peak, available }))
    }
}

/// A number with its own unit or without; another's is refused.
fn number<N: std::str::FromStr>(option: &str, text: &str) -> Result<N, Failure>
where
    N::Err: ToString,
{
    let read = text.replace(',', ".").parse();
    read.map_err(|e: N::Err| Failure::usage(format!("{option} '{text}': {}", e.to_string())))
}

/// Words of a vocabulary with commas between, or none.
fn set_of<W>(text: &str) -> Result<BTreeSet<W>, Failure>
where
    W: std::str::FromStr<Err = crate::book::UnknownWord> + Ord,
{
    if text.trim().eq_ignore_ascii_case("none") {
        return Ok(BTreeSet::new());
    }
    names_in(text).map(|word| word.parse().map_err(Failure::from)).collect()
}

/// The facets after a change: `smoke=0.6, orchard=0`.
fn facets(text: &str, now: Option<&Ingredient>) -> Result<BTreeMap<Facet, Grade>, Failure> {
    let mut facets = now.map(|i| i.facets.clone()).unwrap_or_default();
    for part in names_in(text) {
        let (name, grade) =
            part.split_once(['=', ':']).or_else(|| part.rsplit_once(' ')).ok_or_else(|| {
                Failure::usage(format!("'{part}' says no grade"))
                    .hint("for example: --facet smoke=0.6, orchard=0.3")
            })?;
        let facet: Facet = name.parse()?;
        let grade: Grade = number("--facet", grade)?;
        if grade.value() > 0.0 {
            facets.insert(facet, grade);
        } else {
            facets.remove(&facet);
        }
    }
    Ok(facets)
}

/// Months with commas between, or from one to another: `aug-nov`.
fn months(text: &str) -> Result<Vec<Month>, Failure> {
    let mut all = Vec::new();
    for part in names_in(text) {
        match part.split_once('-').or_else(|| part.split_once(" to ")) {
            None => all.push(part.parse()?),
            Some((from, to)) => {
                let (from, to): (Month, Month) = (from.trim().parse()?, to.trim().parse()?);
                let mut at = from.number();
                loop {
                    all.extend(Month::from_number(at));
                    if at == to.number() {
                        break;
                    }
                    at = at % 12 + 1;
                }
            }
        }
    }
    Ok(all)
}

/// `fridge 30`: where, and how many days once opened.
fn keeping(text: &str) -> Result<Keeping, Failure> {
    let words = text.trim().trim_end_matches("days").trim_end().trim_end_matches("day").trim_end();
    let (place, days) = match words.rsplit_once(char::is_whitespace) {
        Some((place, days)) if days.bytes().all(|b| b.is_ascii_digit()) => (place, Some(days)),
        _ => (words, None),
    };
    let store: Storage = place.parse()?;
    let opened = days
        .map(|days| {
            days.parse::<u16>().map_err(|_| Failure::usage(format!("--keeps '{text}': too many days")))
        })
        .transpose()?;
    Ok(Keeping { store, opened, sealed: None })
}

//! Working a wanted ingredient into a drink, in the form that fits.

use super::candidate::{Candidate, Change};
use super::error::RiffError;
use super::request::Request;
use crate::book::{Book, Ingredient, Kind, Method, Presence, Role};
use crate::drink::{House, Line};
use crate::measure::Volume;
use crate::pairing::flavour_likeness;

/// A second base starts at this share of the first, and may reach half of it.
const SECOND_BASE: f64 = 0.25;
/// Added liqueurs and syrups, ml: a quarter to half an ounce.
const ADDED_LEAST_ML: f64 = 7.0;
const ADDED_USUAL_ML: f64 = 7.5;
const ADDED_MOST_ML: f64 = 15.0;

/// Muddled fruit gives about so much, ml, and at most so much; a piece that gives up to this is small. *Common practice,
/// no source*: six to eight berries, a quarter of a pear.
const MUDDLED_ML: f64 = 18.0;
const MUDDLED_MOST_ML: f64 = 35.0;
const SMALL_FRUIT_ML: f64 = 20.0;
/// Two bases so alike in flavour do the same under an infusion.
const SAME_BASE: f64 = 0.75;

/// Forms of an ingredient: itself, and what is made from it, by id.
pub(super) fn forms<'b>(book: &'b Book, wanted: &'b Ingredient) -> Vec<&'b Ingredient> {
    std::iter::once(wanted).chain(book.forms_of(wanted)).collect()
}

/// Every way of working a wanted ingredient into a candidate. Each way is a candidate of its own.
pub(super) fn ways<'b>(
    book: &'b Book,
    candidate: &Candidate<'b>,
    request: &Request<'b>,
    wanted: &'b Ingredient,
    house: &House,
) -> Result<Vec<Candidate<'b>>, RiffError> {
    let mut ways = Vec::new();
    let mut why_not = Vec::new();
    if candidate.spec.ingredients().any(|i| i.id == wanted.id) {
        return Ok(vec![candidate.clone()]);
    }
    for form in forms(book, wanted) {
        if request.no.iter().any(|n| n.id == form.id) {
            continue;
        }
        if request.filter.rules_out(form).is_some() {
            why_not.push(format!("{} is ruled out by what you asked", form.name));
            continue;
        }
        if candidate.spec.ingredients().any(|i| i.id == form.id) {
            ways.push(candidate.clone());
            continue;
        }
        if let Some(reason) = unfit(form, candidate.spec.method) {
            why_not.push(format!("{} {reason}", form.name));
            continue;
        }
        ways.extend(poured_in(book, candidate, request, form, house));
    }
    ways.extend(muddled(book, candidate, request, wanted, house));
    ways.extend(on_top(candidate, wanted, house));
    if ways.is_empty() {
        let why = if why_not.is_empty() {
            format!("the book has no form of it that fits a {} drink", candidate.spec.method)
        } else {
            why_not.join("; ")
        };
        return Err(RiffError::CannotWorkIn {
            name: wanted.name.clone(),
            drink: candidate.spec.in_words(),
            why,
        });
    }
    Ok(ways)
}

/// Why a form does not suit a method: no pulp in a drink that should be clear, no butter in a cold one.
pub(super) fn unfit(form: &Ingredient, method: Method) -> Option<&'static str> {
    let cloudy = matches!(form.kind, Kind::Juice | Kind::DairyAndEgg);
    match method {
        Method::NoIce => None,
        _ if form.makeup.is_some_and(|m| m.sets) => Some("sets firm in a cold drink"),
        Method::Stirred if cloudy => Some("would cloud a stirred drink"),
        _ => None,
    }
}

/// Whether a form is a base steeped with something: this one, or one so like it that it does the same.
fn is_infusion_of(book: &Book, form: &Ingredient, base: &Ingredient) -> bool {
    let does = |source: &Ingredient| {
        source.id == base.id
            || (source.kind == base.kind
                && source.roles.contains(&Role::Base)
                && flavour_likeness(source, base) >= SAME_BASE)
    };
    form.kind == base.kind && book.sources_of(form).any(does)
}

fn poured_in<'b>(
    book: &'b Book,
    candidate: &Candidate<'b>,
    request: &Request<'b>,
    form: &'b Ingredient,
    house: &House,
) -> Vec<Candidate<'b>> {
    let Some(makeup) = form.makeup else { return Vec::new() };
    let mut ways = Vec::new();
    for (index, line) in candidate.spec.lines.iter().enumerate() {
        let asked = candidate.stands_for[index].is_some_and(|p| request.swaps.iter().any(|s| s.line == p))
            || candidate.changes.iter().any(|change| change.works_in(line.ingredient));
        let infused = line.role == Role::Base
            && form.roles.contains(&Role::Base)
            && is_infusion_of(book, form, line.ingredient);
        let takes_place = line.volume.is_some()
            && form.roles.contains(&line.role)
            && (line.open || infused || line.ingredient.kind == form.kind)
            && (line.role != Role::Base || infused)
            && !asked;
        if takes_place {
            let mut way = candidate.clone();
            way.changes.push(Change::Worked { from: line.ingredient, to: form });
            way.spec.lines[index].ingredient = form;
            way.spec.lines[index].open = false;
            ways.push(way);
        }
        if line.role == Role::Base
            && form.roles.contains(&Role::Base)
            && line.ingredient.id != form.id
            && !infused
        {
            ways.extend(second_base(candidate, index, form, house));
        }
    }
    let beside = [Role::Modifier, Role::Sweet, Role::Accent].iter().find(|r| form.roles.contains(r));
    if let Some(role) = beside.filter(|_| !makeup.carbonated && form.kind != Kind::Juice) {
        ways.extend(added(candidate, *role, form, house));
    }
    ways
}

fn second_base<'b>(
    candidate: &Candidate<'b>,
    index: usize,
    form: &'b Ingredient,
    house: &House,
) -> Option<Candidate<'b>> {
    let base = &candidate.spec.lines[index];
    let sparkles = |i: &Ingredient| i.makeup.is_some_and(|m| m.carbonated);
    if sparkles(form) != sparkles(base.ingredient) {
        return None;
    }
    let whole = base.volume?;
    let pour = |share: f64| house.jigger.nearest(Volume::clamped(whole.ml() * share)).volume;
    let (first, second) = (pour(1.0 - SECOND_BASE), pour(SECOND_BASE));
    let mut way = candidate.clone();
    let mut line = Line::fixed(Role::Base, form, house.amount(second)?, &house.measures);
    line.volume = Some(second);
    line.limits = Some((second, pour(0.5).max(second)));
    way.changes.push(Change::Split { base: base.ingredient, second: form });
    let (_, most) = base.limits.unwrap_or((whole, whole));
    let first_line = &mut way.spec.lines[index];
    first_line.volume = Some(first);
    first_line.amount = house.amount(first)?;
    first_line.limits = Some((pour(0.5).min(first), most.max(first)));
    way.spec.lines.insert(index + 1, line);
    way.stands_for.insert(index + 1, None);
    Some(way)
}

fn added<'b>(
    candidate: &Candidate<'b>,
    role: Role,
    form: &'b Ingredient,
    house: &House,
) -> Option<Candidate<'b>> {
    let usual = house.jigger.nearest(Volume::clamped(ADDED_USUAL_ML)).volume;
    let mut line = Line::fixed(role, form, house.amount(usual)?, &house.measures);
    line.volume = Some(usual);
    line.limits = Some((Volume::clamped(ADDED_LEAST_ML).min(usual), Volume::clamped(ADDED_MOST_ML)));
    let mut way = candidate.clone();
    way.changes.push(Change::Added { what: form });
    let at = way.spec.lines.iter().position(Line::is_lengthener).unwrap_or(way.spec.lines.len());
    way.spec.lines.insert(at, line);
    way.stands_for.insert(at, None);
    Some(way)
}

/// Fresh fruit crushed in the tin of a shaken drink; not into a stirred or a built one, which should be clear. As much as
/// gives about half an ounce, in whole small fruits or quarters of large ones.
fn muddled<'b>(
    book: &'b Book,
    candidate: &Candidate<'b>,
    request: &Request<'b>,
    wanted: &'b Ingredient,
    house: &House,
) -> Option<Candidate<'b>> {
    let there = wanted.presence(house.when) != Presence::None;
    let yields = wanted.juice.as_ref().filter(|_| there && candidate.spec.method == Method::Shaken)?;
    let gives = book.ingredient(&yields.gives)?;
    let unwanted = request.no.iter().any(|n| n.id == gives.id) || request.filter.rules_out(gives).is_some();
    // What is all sour goes in as juice.
    let fits = gives.makeup.is_some() && gives.roles.contains(&Role::Modifier);
    if unwanted || !fits || candidate.spec.lines.iter().any(|l| l.ingredient.id == gives.id) {
        return None;
    }
    let piece = yields.ml.ml();
    let pieces = if piece <= SMALL_FRUIT_ML {
        (MUDDLED_ML / piece).round().max(1.0)
    } else {
        ((MUDDLED_ML / piece) * 4.0).round().max(1.0) / 4.0
    };
    let poured = house.jigger.nearest(Volume::clamped(pieces * piece)).volume;
    if poured.ml() <= 0.0 || pieces * piece > MUDDLED_MOST_ML {
        return None;
    }
    let line = Line::fixed(Role::Modifier, gives, house.amount(poured)?, &house.measures);
    let mut way = candidate.clone();
    way.changes.push(Change::Muddled { fruit: wanted, pieces, gives });
    way.spec.lines.insert(0, line);
    way.stands_for.insert(0, None);
    Some(way)
}

fn on_top<'b>(candidate: &Candidate<'b>, wanted: &'b Ingredient, house: &House) -> Option<Candidate<'b>> {
    let there = wanted.presence(house.when) != Presence::None;
    if !there || !wanted.roles.contains(&Role::Garnish) {
        return None;
    }
    let mut way = candidate.clone();
    way.changes.push(Change::Garnish { what: wanted });
    way.spec.garnish = vec![(wanted, String::new())];
    Some(way)
}

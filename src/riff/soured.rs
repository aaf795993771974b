//! Juices that acid powders make as sour as another.

use std::collections::BTreeSet;

use crate::book::{Book, CautionId, Ingredient, Kind, Makeup};
use crate::drink::{House, contents_of};
use crate::liquid::{AcidMix, Parts, Solute};
use crate::measure::{HouseUnit, ML_PER_OUNCE, Mass, Volume};
use crate::pairing::{Filter, flavour_likeness};

/// A juice made as sour as another.
#[derive(Debug, Clone)]
pub struct Soured<'b> {
    /// The juice.
    pub juice: &'b Ingredient,
    /// How much of it: 8 oz or 250 ml.
    pub batch: Volume,
    /// Powders to weigh for that.
    pub powders: Vec<(Solute, Mass)>,
    /// How much there is in the end.
    pub made: Volume,
    /// Its acid then, as citric, g/L.
    pub acid: f64,
    /// Sugar in a litre more than the original has, g.
    pub sugar_more: f64,
    /// Cautions that go with the juice and the powders.
    pub cautions: BTreeSet<&'b CautionId>,
}

/// At least this like the original in flavour; *ours*.
const LIKE_ENOUGH: f64 = 0.75;
/// A juice that is less sour than this share of the original is worth powders; *ours*.
const MUCH_LESS_SOUR: f64 = 0.6;
/// The most juices.
const MOST: usize = 2;

/// The juices most like another in flavour that are much less sour, with the powders that make them as sour; none where the
/// book has no such powders, or they are ruled out.
///
/// # Model
/// Acids in the shares that the original's record names; what it does not name counts as citric. How much:
/// [`AcidMix::added_to`].
pub(super) fn soured<'b>(
    book: &'b Book,
    of: &'b Ingredient,
    filter: &Filter,
    house: &House,
) -> Vec<Soured<'b>> {
    let Some(wanted) = of.makeup.as_ref() else { return Vec::new() };
    let Some(mix) = acids_of(wanted) else { return Vec::new() };
    let filter = Filter { kinds: Vec::new(), roles: Vec::new(), ..filter.clone() };
    let holds = |i: &Ingredient, acid| {
        i.kind == Kind::Acid && i.makeup.as_ref().is_some_and(|m| is_nothing_but(m, acid))
    };
    let has_powder = |acid: Solute| {
        let is_dry = |i: &Ingredient| i.makeup.is_some_and(|m| m.solid);
        book.ingredients().iter().any(|i| holds(i, acid) && is_dry(i) && filter.admits(i))
    };
    // What goes for a solution of an acid goes for its powder.
    let cautions_of = |acid: Solute| {
        book.ingredients().iter().filter(move |i| holds(i, acid)).flat_map(|i| i.cautions.iter())
    };
    let batch = match house.jigger.unit() {
        HouseUnit::Ounce => Volume::clamped(8.0 * ML_PER_OUNCE),
        HouseUnit::Millilitre => Volume::clamped(250.0),
    };
    let mut juices: Vec<(f64, &'b Ingredient)> = book
        .ingredients()
        .iter()
        .filter(|i| i.kind == Kind::Juice && i.id != of.id && filter.rules_out_in(book, i).is_none())
        .filter(|i| i.makeup.as_ref().is_some_and(|m| is_less_sour(m, wanted) && !m.carbonated))
        .map(|i| (flavour_likeness(i, of), i))
        .filter(|(like, _)| *like >= LIKE_ENOUGH)
        .collect();
    juices.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.id.cmp(&b.1.id)));
    let made = juices.into_iter().filter_map(|(_, juice)| {
        let makeup = juice.makeup.as_ref()?;
        let parts = Parts::of_liquid(batch, &contents_of(makeup)).ok()?;
        let soured = mix.added_to(&parts, wanted.acid).ok()?;
        let powders: Vec<(Solute, Mass)> = soured.powders().collect();
        if !powders.iter().all(|(acid, _)| has_powder(*acid)) {
            return None;
        }
        let cautions: BTreeSet<&'b CautionId> =
            powders.iter().flat_map(|(acid, _)| cautions_of(*acid)).collect();
        let finished = soured.finished();
        Some(Soured {
            juice,
            batch,
            powders,
            made: finished.volume(),
            acid: finished.acid().grams_per_litre(),
            sugar_more: finished.sugar().grams_per_litre() - wanted.sugar.grams_per_litre(),
            cautions: cautions.into_iter().chain(&juice.cautions).collect(),
        })
    });
    made.take(MOST).collect()
}

fn is_less_sour(makeup: &Makeup, wanted: &Makeup) -> bool {
    makeup.acid.grams_per_litre() < MUCH_LESS_SOUR * wanted.acid.grams_per_litre()
}

/// The acids of a makeup in their shares by mass; none for what is not sour.
fn acids_of(makeup: &Makeup) -> Option<AcidMix> {
    let parts = Parts::of_liquid(Volume::clamped(1000.0), &contents_of(makeup)).ok()?;
    let held: Vec<(Solute, f64)> =
        Solute::ACIDS.iter().map(|acid| (*acid, parts.dissolved(*acid).grams())).collect();
    AcidMix::of_parts(&held).ok()
}

/// Whether the acid in something is one acid and hardly any other.
fn is_nothing_but(makeup: &Makeup, acid: Solute) -> bool {
    let Makeup { malic, tartaric, lactic, acetic, phosphoric, .. } = *makeup;
    let named = [malic, tartaric, lactic, acetic, phosphoric].map(|held| held.grams_per_litre());
    let all = makeup.acid.grams_per_litre();
    let held = match acid {
        Solute::Malic => named[0],
        Solute::Tartaric => named[1],
        Solute::Lactic => named[2],
        Solute::Acetic => named[3],
        Solute::Phosphoric => named[4],
        _ => all - named.iter().sum::<f64>(),
    };
    all > 0.0 && held >= 0.99 * all
}

//! Equivalents: how much of one thing is as sour, or as sweet, as a measure of another.

use super::soured::{Soured, soured};
use crate::book::{Book, Ingredient, Makeup, PrepWay, Role};
use crate::drink::{House, added_volume};
use crate::liquid::{Solute, Sweetness};
use crate::measure::{HouseUnit, Unit, Volume};
use crate::pairing::{Filter, StandIns};

/// What makes a measure of one thing worth a measure of another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Alike {
    /// As sour: the same acid, as citric.
    Sour,
    /// As sweet: the same sugar, each kind by how sweet it tastes.
    Sweet,
}

/// Least acid of something that is used for it, g/L as citric; *ours*.
const SOUR_FROM: f64 = 15.0;
/// Least sweetness of something that is used for it, g/L as sucrose; *ours*.
const SWEET_FROM: f64 = 200.0;
/// What one mark or kind of measure more costs against being exact, ml; *ours*.
const A_MEASURE_MORE_ML: f64 = 0.5;
/// More than this is no measure of a drink any more, and a jigger has no two marks for it; *ours*.
const MOST_ML: f64 = 90.0;
/// The most barspoons that are counted out.
const MOST_BARSPOONS: u8 = 2;

/// A volume as it is measured out: a pour, and barspoons on top.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spooned {
    /// By the jigger; nothing for little.
    pub pour: Volume,
    /// Level barspoons on top.
    pub barspoons: u8,
    /// Both together.
    pub volume: Volume,
}

/// How much of something is worth a measure of the original.
#[derive(Debug, Clone)]
pub struct Equivalent<'b> {
    /// What it is.
    pub ingredient: &'b Ingredient,
    /// How much, on the house's marks.
    pub amount: Spooned,
    /// Grams of acid, or of sugar by its sweetness, that this holds.
    pub holds: f64,
    /// Grams of sugar that it brings more than the original does; of acid where the sweetness is alike.
    pub other_more: f64,
    /// What it adds to the drink more than the original does, ml.
    pub volume_more: f64,
}

/// What is worth a measure of an ingredient.
#[derive(Debug, Clone)]
pub struct Equivalents<'b> {
    /// What is to be replaced.
    pub of: &'b Ingredient,
    /// In what they are alike.
    pub alike: Alike,
    /// The measure: 1 oz or 30 ml.
    pub measure: Volume,
    /// Grams that it holds.
    pub holds: f64,
    /// Stand-ins with their amounts, in their order, then acid-adjusted juices of the book.
    pub found: Vec<Equivalent<'b>>,
    /// Juices that acid powders make as sour.
    pub soured: Vec<Soured<'b>>,
}

impl Alike {
    /// In what an ingredient is replaced by amount; none for what is neither sour nor sweet enough, or brings alcohol.
    pub fn of(ingredient: &Ingredient) -> Option<Self> {
        let makeup = ingredient.makeup.as_ref()?;
        let can = |role| ingredient.roles.contains(&role);
        [Self::Sour, Self::Sweet].into_iter().find(|alike| match alike {
            Self::Sour => can(Role::Sour) && alike.is_in(makeup) && !Self::Sweet.is_in(makeup),
            Self::Sweet => can(Role::Sweet) && alike.is_in(makeup),
        })
    }

    /// Whether a makeup is used for it.
    fn is_in(self, makeup: &Makeup) -> bool {
        let enough = match self {
            Self::Sour => SOUR_FROM,
            Self::Sweet => SWEET_FROM,
        };
        makeup.strength.percent_vol() <= 0.0 && !makeup.carbonated && self.in_a_litre(makeup) >= enough
    }

    /// Grams in a litre: of acid as citric, or of sucrose that would taste as sweet.
    pub fn in_a_litre(self, makeup: &Makeup) -> f64 {
        match self {
            Self::Sour => makeup.acid.grams_per_litre(),
            Self::Sweet => sweetness(makeup),
        }
    }

    fn other(self) -> Self {
        match self {
            Self::Sour => Self::Sweet,
            Self::Sweet => Self::Sour,
        }
    }
}

/// Sucrose in a litre that would taste as sweet, by what we work with.
fn sweetness(makeup: &Makeup) -> f64 {
    let [sugar, glucose, fructose] =
        [makeup.sugar, makeup.glucose, makeup.fructose].map(|held| held.grams_per_litre());
    let factor = |solute| Sweetness::WORKING.factor(solute);
    (sugar - glucose - fructose).max(0.0)
        + factor(Solute::Glucose) * glucose
        + factor(Solute::Fructose) * fructose
}

/// What is worth a measure of an ingredient, of its stand-ins that are used for the same: 1 oz, or 30 ml. None for what is
/// not used for its acid or sugar alone.
///
/// # Model
/// `volume = measure × held by the original ÷ held by the other`, per litre: acid as citric, or sugar by its sweetness
/// ([`Sweetness::WORKING`]). Then the nearest pour with up to two barspoons, each mark more costing half a
/// millilitre.
///
/// # Accuracy
/// Within half the smallest mark. Fruit differs by a quarter: taste.
pub fn equivalents<'b>(
    book: &'b Book,
    stand_ins: &StandIns<'b>,
    filter: &Filter,
    house: &House,
) -> Option<Equivalents<'b>> {
    let of = stand_ins.of;
    let alike = Alike::of(of)?;
    let makeup = of.makeup.as_ref()?;
    let measure = match house.jigger.unit() {
        HouseUnit::Ounce => Volume::clamped(HouseUnit::Ounce.ml()),
        HouseUnit::Millilitre => Volume::clamped(30.0),
    };
    let litres = measure.ml() / 1000.0;
    let holds = litres * alike.in_a_litre(makeup);
    let listed: Vec<&'b Ingredient> = stand_ins.found.iter().map(|s| s.ingredient).collect();
    let adjusted = book
        .preps()
        .iter()
        .filter(|prep| alike == Alike::Sour && prep.way == PrepWay::AcidAdjusted)
        .filter_map(|prep| book.ingredient(&prep.makes))
        .filter(|made| made.id != of.id && !listed.iter().any(|i| i.id == made.id))
        .filter(|made| filter.rules_out_in(book, made).is_none());
    let other = alike.other();
    let found = listed.iter().copied().chain(adjusted).filter_map(|ingredient| {
        let theirs = ingredient.makeup.as_ref().filter(|m| alike.is_in(m))?;
        let exact = measure.ml() * alike.in_a_litre(makeup) / alike.in_a_litre(theirs);
        if exact > MOST_ML {
            return None;
        }
        let amount = spooned(exact, house);
        let poured = amount.volume.ml() / 1000.0;
        Some(Equivalent {
            ingredient,
            amount,
            holds: poured * alike.in_a_litre(theirs),
            other_more: poured * other.in_a_litre(theirs) - litres * other.in_a_litre(makeup),
            volume_more: added_volume(theirs, amount.volume).ml() - added_volume(makeup, measure).ml(),
        })
    });
    let found: Vec<Equivalent<'b>> = found.collect();
    let soured = if alike == Alike::Sour { soured(book, of, filter, house) } else { Vec::new() };
    (!found.is_empty() || !soured.is_empty()).then_some(Equivalents {
        of,
        alike,
        measure,
        holds,
        found,
        soured,
    })
}

/// The nearest volume that a jigger and barspoons measure out, a simpler one where it is as near.
///
/// # Accuracy
/// Within half the smallest mark from 2 ml to 90 ml; above 3 oz no two marks of a jigger may come so near.
pub fn spooned(ml: f64, house: &House) -> Spooned {
    let spoon = house.measures.one(Unit::Barspoon).map_or(0.0, |v| v.ml());
    let most = Volume::clamped(2.0 * ml + spoon + house.jigger.marks().first().map_or(0.0, |m| m.ml()));
    let pours = house.pours((Volume::ZERO, most), Volume::ZERO, false);
    let pours = pours.iter().map(|p| (p.volume, p.marks)).chain([(Volume::ZERO, 0)]);
    let all = pours.flat_map(|pour| (0..=MOST_BARSPOONS).map(move |spoons| (pour, spoons)));
    let measured = all.filter(|((pour, _), spoons)| pour.ml() > 0.0 || *spoons > 0);
    let cost = |((pour, marks), spoons): &((Volume, u8), u8)| {
        let off = (pour.ml() + f64::from(*spoons) * spoon - ml).abs();
        off + A_MEASURE_MORE_ML * f64::from((marks + spoons).saturating_sub(1))
    };
    let best = measured.min_by(|a, b| cost(a).total_cmp(&cost(b)).then(a.0.0.cmp(&b.0.0)));
    let ((pour, _), barspoons) = best.unwrap_or(((house.jigger.nearest(Volume::clamped(ml)).volume, 1), 0));
    Spooned { pour, barspoons, volume: Volume::clamped(pour.ml() + f64::from(barspoons) * spoon) }
}

//! What a preparation comes to: its figures from its making.

use std::collections::BTreeSet;

use super::figures::{contents_of, parts_of};
use crate::book::{Allergen, Book, CautionId, Diet, Ingredient, Makeup, Prep, PrepLine};
use crate::liquid::{Measured, Parts, Solute};
use crate::measure::{Mass, MassShare, Measures, Unit, Volume};

/// What a preparation comes to.
#[derive(Debug, Clone)]
pub struct Made<'b> {
    /// The preparation.
    pub prep: &'b Prep,
    /// What it makes.
    pub ingredient: &'b Ingredient,
    /// What went in, in order.
    pub lines: Vec<(&'b Ingredient, &'b PrepLine)>,
    /// What is made, before losses.
    pub liquid: Parts,
    /// How much there is of it after losses.
    pub volume: Volume,
    /// Its figures.
    pub measured: Measured,
    /// The EU groups that come along.
    pub allergens: BTreeSet<Allergen>,
    /// Diets that everything in it suits.
    pub diet: BTreeSet<Diet>,
    /// Cautions of what goes in, and of the making.
    pub cautions: BTreeSet<&'b CautionId>,
}

/// A figure of a makeup that its making does not bear out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Apart {
    /// Which: strength, sugar or acid, with its unit.
    pub what: &'static str,
    /// What the making comes to.
    pub computed: f64,
    /// What the record says.
    pub recorded: f64,
}

/// What a preparation comes to. None if it makes nothing that has a volume.
///
/// # Model
/// Lines are mixed by mass. A liquid counts by its makeup; dry sugar, salt and acid by their weight; what has flesh (fruit)
/// by what 100 g of it hold; anything else brings flavour alone. Of each line its share stays. Water that boils off is
/// taken out; losses take all alike.
///
/// # Accuracy
/// The mixture's is that of [`Parts`]; how much of a fruit stays is *practice*, and moves sugar by a tenth and more.
pub fn made<'b>(book: &'b Book, prep: &'b Prep, measures: &Measures) -> Option<Made<'b>> {
    let ingredient = book.ingredient(&prep.makes)?;
    let lines: Vec<(&Ingredient, &PrepLine)> =
        prep.lines.iter().filter_map(|line| Some((book.ingredient(&line.of)?, line))).collect();
    let mixed = lines.iter().fold(Parts::default(), |sum, (of, line)| {
        sum.plus(&brings(of, line, measures).times(line.stays.value()))
    });
    let liquid = mixed.without_water(prep.boils_off);
    let measured = liquid.measured();
    if measured.volume <= Volume::ZERO {
        return None;
    }
    let mut diet: BTreeSet<Diet> = Diet::ALL.iter().copied().collect();
    for (of, _) in &lines {
        diet.retain(|d| of.diet.contains(d));
    }
    Some(Made {
        prep,
        ingredient,
        liquid,
        volume: Volume::clamped(measured.volume.ml() * (1.0 - prep.lost.value())),
        measured,
        allergens: lines.iter().flat_map(|(of, _)| of.allergens.iter().copied()).collect(),
        diet,
        cautions: lines.iter().flat_map(|(of, _)| of.cautions.iter()).chain(&prep.cautions).collect(),
        lines,
    })
}

/// What a line brings before anything is strained off.
fn brings(of: &Ingredient, line: &PrepLine, measures: &Measures) -> Parts {
    let volume = line.amount.volume(measures);
    let mass = line.amount.mass().or_else(|| {
        let piece = of.juice.as_ref()?.weighs?;
        (line.amount.unit() == Unit::Piece).then(|| Mass::clamped(line.amount.count() * piece.grams()))
    });
    match (&of.makeup, &of.flesh) {
        (Some(makeup), _) if makeup.solid => dry(makeup, volume, mass),
        (Some(makeup), _) => {
            let litre = Parts::of_liquid(Volume::clamped(1000.0), &contents_of(makeup)).unwrap_or_default();
            let ml = volume.map(|v| v.ml()).or_else(|| Some(1000.0 * mass?.grams() / litre.mass().grams()));
            litre.times(ml.unwrap_or(0.0) / 1000.0)
        }
        (None, Some(flesh)) => {
            let grams = mass.map_or(0.0, Mass::grams) / 100.0;
            let of_it = |share: MassShare| Mass::clamped(grams * share.in_100_g());
            let sucrose = flesh.sugar.in_100_g() - flesh.glucose.in_100_g() - flesh.fructose.in_100_g();
            [
                (Solute::Sucrose, MassShare::clamped(sucrose)),
                (Solute::Glucose, flesh.glucose),
                (Solute::Fructose, flesh.fructose),
                (Solute::Citric, flesh.acid),
            ]
            .into_iter()
            .fold(Parts::water_weighing(of_it(flesh.water)), |sum, (solute, share)| {
                sum.plus(&Parts::dry(solute, of_it(share)))
            })
        }
        (None, None) => Parts::default(),
    }
}

/// Something dry, by its weight if that is given, else by its bulk.
fn dry(makeup: &Makeup, volume: Option<Volume>, mass: Option<Mass>) -> Parts {
    let bulk = parts_of(makeup, volume.unwrap_or(Volume::clamped(1000.0))).unwrap_or_default();
    match mass {
        Some(mass) if bulk.mass().grams() > 0.0 => bulk.times(mass.grams() / bulk.mass().grams()),
        Some(_) => Parts::default(),
        None => bulk.times(if volume.is_some() { 1.0 } else { 0.0 }),
    }
}

/// How near a makeup must be to its making: strength % vol, then shares of sugar and acid.
const NEAR: (f64, f64, f64) = (0.5, 0.05, 0.10);
/// Least differences of sugar and acid that count, g/L.
const LEAST: (f64, f64) = (5.0, 1.0);

impl Made<'_> {
    /// Figures of the ingredient's record that its making does not bear out.
    pub fn apart(&self) -> Vec<Apart> {
        let Some(makeup) = &self.ingredient.makeup else { return Vec::new() };
        let Measured { strength, sugar, acid, .. } = self.measured;
        let (strength_near, sugar_near, acid_near) = NEAR;
        let rows = [
            ("strength, % vol", strength.percent_vol(), makeup.strength.percent_vol(), strength_near),
            (
                "sugar, g/L",
                sugar.grams_per_litre(),
                makeup.sugar.grams_per_litre(),
                (sugar_near * sugar.grams_per_litre()).max(LEAST.0),
            ),
            (
                "acid, g/L",
                acid.grams_per_litre(),
                makeup.acid.grams_per_litre(),
                (acid_near * acid.grams_per_litre()).max(LEAST.1),
            ),
        ];
        rows.into_iter()
            .filter(|(_, computed, recorded, near)| (computed - recorded).abs() > *near)
            .map(|(what, computed, recorded, _)| Apart { what, computed, recorded })
            .collect()
    }
}

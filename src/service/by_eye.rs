//! Filling a bottle by eye: how far off each line may be, as a volume and as a height on the glass.

use super::batch::Batch;
use super::error::ServiceError;
use crate::book::Ingredient;
use crate::drink::{Band, Interval, Melting, Over, Spec, parts_of, tolerance};
use crate::liquid::{Basis, Dilution, Measured, Parts};
use crate::measure::{Measures, Volume};

/// One line poured straight into a bottle.
#[derive(Debug, Clone, PartialEq)]
pub struct FillLine<'b> {
    /// What it is; none for the water.
    pub ingredient: Option<&'b Ingredient>,
    /// How much of it goes into a bottle.
    pub volume: Volume,
    /// Up to where it comes, with all before it; volumes as poured, before they contract.
    pub up_to: Volume,
    /// The most it may be off, either way, and not be noticed; none if nothing that fits is noticed, or for water of a book
    /// that has none.
    pub unnoticed: Option<Volume>,
    /// The same as a height on the bottle, mm.
    pub unnoticed_mm: Option<f64>,
    /// The most it may be short, and over, before the drink leaves the band of its family; none for no band, or if a
    /// quarter more or less does not take it out.
    pub in_band: (Option<Volume>, Option<Volume>),
}

/// A bottle that is filled by eye.
#[derive(Debug, Clone, PartialEq)]
pub struct ByEye<'b> {
    /// What the bottle holds.
    pub holds: Volume,
    /// Serves in it.
    pub serves: f64,
    /// How wide it is inside, mm.
    pub across_mm: f64,
    /// Water first, then as the batch is made.
    pub lines: Vec<FillLine<'b>>,
    /// Whose band it is, if there is one.
    pub band: Option<String>,
}

/// How wide a bottle of 700 or 750 ml is inside, mm: *common practice*, measured on a few straight-sided ones.
pub const USUAL_ACROSS: f64 = 70.0;
/// As far as a line is ever taken to be off its band, as a share of it.
const MOST_OFF: f64 = 0.25;

/// What a bottle of a batch bears.
///
/// # Model
/// Each line alone is off, the rest as written. Unnoticed is what [`tolerance`] finds for so many serves poured at once; the
/// band is tried by mixing the bottle again, by halving, up to a quarter of the line. A height is the volume over the
/// bottle's cross-section, where its sides are straight.
///
/// # Errors
/// [`ServiceError`] if nothing is poured.
pub fn by_eye<'b>(
    batch: &Batch<'b>,
    holds: Volume,
    across_mm: f64,
    band: Option<&Band>,
    water: Option<&'b Ingredient>,
    measures: &Measures,
) -> Result<ByEye<'b>, ServiceError> {
    let filled = holds.ml() * batch.fill;
    let serves = filled / batch.pour.ml();
    let share = serves / batch.serves;
    let mut poured: Vec<(Option<&'b Ingredient>, Volume)> = Vec::new();
    let a_bottle = |volume: Volume| Volume::clamped(volume.ml() * share);
    if batch.water_in_batch > Volume::ZERO {
        poured.push((None, a_bottle(batch.water_in_batch)));
    }
    for task in &batch.tasks {
        if let super::order::Task::Pour(line) = task {
            let line = &batch.lines[*line];
            poured.push((Some(line.line.ingredient), a_bottle(line.in_batch)));
        }
    }
    let bottle = Bottle { batch, poured: &poured, serves };
    // A drink that lies outside its band in every direction has none to leave.
    let right = bottle.with(0, 0.0)?;
    let band = band.map(|band| (band, held(band, &right))).filter(|(_, counts)| counts.contains(&true));
    let unnoticed = unnoticed(batch, &poured, serves, water, measures)?;
    let mut lines = Vec::new();
    let mut up_to = 0.0;
    let per_mm = std::f64::consts::PI * across_mm * across_mm / 4000.0;
    for (place, (ingredient, volume)) in poured.iter().enumerate() {
        up_to += volume.ml();
        let off = unnoticed[place].filter(|off| off < volume);
        lines.push(FillLine {
            ingredient: *ingredient,
            volume: *volume,
            up_to: Volume::clamped(up_to),
            unnoticed: off,
            unnoticed_mm: off.map(|off| off.ml() / per_mm),
            in_band: match band {
                Some(band) => (bottle.leaves(place, -1.0, band)?, bottle.leaves(place, 1.0, band)?),
                None => (None, None),
            },
        });
    }
    Ok(ByEye { holds, serves, across_mm, lines, band: band.map(|(band, _)| band.source.clone()) })
}

/// What may be off of each line poured, water included where the book has it.
fn unnoticed<'b>(
    batch: &Batch<'b>,
    poured: &[(Option<&'b Ingredient>, Volume)],
    serves: f64,
    water: Option<&'b Ingredient>,
    measures: &Measures,
) -> Result<Vec<Option<Volume>>, ServiceError> {
    let mut spec = Spec { lines: Vec::new(), ..batch.spec.clone() };
    let mut places = Vec::new();
    for (place, (ingredient, volume)) in poured.iter().enumerate() {
        let Some(ingredient) = ingredient.or(water) else { continue };
        let own = batch.spec.lines.iter().find(|l| l.ingredient.id == ingredient.id);
        let role = own.map_or(crate::book::Role::Texture, |l| l.role);
        let a_serve = Volume::clamped(volume.ml() / serves);
        let Ok(amount) = crate::measure::Amount::new(a_serve.ml(), crate::measure::Unit::Millilitre) else {
            continue;
        };
        spec.lines.push(crate::drink::Line::fixed(role, ingredient, amount, measures));
        places.push(place);
    }
    let all = poured.iter().map(|(_, v)| v.ml()).sum::<f64>();
    // What the ice adds at service stays the same share of what is poured.
    let at_service = batch.water.at_service.ml() * serves;
    let melting = Melting::Held(Dilution { share: at_service / all.max(1e-9), basis: Basis::Given });
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "serves of a bottle")]
    let whole = serves.round().clamp(1.0, 1000.0) as u32;
    let found = tolerance(&spec, Over::Volume(Volume::clamped(1.0)), whole, melting, measures)?;
    let mut off = vec![None; poured.len()];
    for alone in found.alone {
        off[places[alone.line]] = alone.unnoticed;
    }
    Ok(off)
}

/// Whether strength, sugar and acid lie in a band; what it has no span for does not.
fn held(band: &Band, measured: &Measured) -> [bool; 3] {
    let inside = |span: Option<Interval>, value: f64| span.is_some_and(|span| span.holds(value));
    [
        inside(band.strength, measured.strength.percent_vol()),
        inside(band.sugar, measured.sugar.grams_per_litre()),
        inside(band.acid, measured.acid.grams_per_litre()),
    ]
}

struct Bottle<'a, 'b> {
    batch: &'a Batch<'b>,
    poured: &'a [(Option<&'b Ingredient>, Volume)],
    serves: f64,
}

impl Bottle<'_, '_> {
    /// The figures of a serve with one line off by so much of the whole bottle, ml.
    fn with(&self, place: usize, off: f64) -> Result<Measured, ServiceError> {
        let mut all = Parts::default();
        for (at, (ingredient, volume)) in self.poured.iter().enumerate() {
            let ml = volume.ml() + if at == place { off } else { 0.0 };
            let volume = Volume::clamped(ml / self.serves);
            all = match ingredient.and_then(|i| i.makeup.as_ref()) {
                Some(makeup) => all.plus(&parts_of(makeup, volume)?),
                None => all.plus(&Parts::water(volume)),
            };
        }
        Ok(all.plus(&self.batch.held_back).plus(&Parts::water(self.batch.water.at_service)).measured())
    }

    /// How far a line may go one way before a figure that lies in the band, as each of `counts` says, leaves it.
    fn leaves(
        &self,
        place: usize,
        way: f64,
        (band, counts): (&Band, [bool; 3]),
    ) -> Result<Option<Volume>, ServiceError> {
        let holds = |off: f64| -> Result<bool, ServiceError> {
            let moved = self.with(place, way * off)?;
            Ok(held(band, &moved).iter().zip(counts).all(|(inside, counts)| !counts || *inside))
        };
        let most = self.poured[place].1.ml() * MOST_OFF;
        if holds(most)? {
            return Ok(None);
        }
        let (mut low, mut high) = (0.0, most);
        for _ in 0..40 {
            let middle = f64::midpoint(low, high);
            if holds(middle)? { low = middle } else { high = middle }
        }
        Ok(Some(Volume::clamped(low)))
    }
}

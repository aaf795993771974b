//! A house: what it measures with, what its ice does, and when it is asked.

use super::spec::Spec;
use crate::book::{Method, Weighing, When};
use crate::liquid::{HouseIce, LiquidError, MeasuredDilution, Melt};
use crate::measure::{Amount, HouseUnit, Jigger, Measures, Pour, Unit, Volume};

/// What a house measures with, and when.
#[derive(Debug, Clone)]
pub struct House {
    /// The jigger.
    pub jigger: Jigger,
    /// Dashes, barspoons and the like.
    pub measures: Measures,
    /// What it has measured of its own dilution.
    pub ice: HouseIce,
    /// When and where it is asked.
    pub when: When,
}

/// How a drink of a method meets ice; a built one by whether it is long.
pub const fn melt_of(method: Method, long: bool) -> Melt {
    match method {
        Method::Stirred => Melt::Stirred,
        Method::Shaken => Melt::Shaken,
        Method::Built if long => Melt::BuiltLong,
        Method::Built => Melt::BuiltShort,
        Method::Blended => Melt::Blended,
        Method::NoIce => Melt::None,
    }
}

/// What a house's weighings say of its ice: the mean for each method.
///
/// # Errors
/// [`LiquidError`] for a weighing that cannot be.
pub fn ice_of(weighings: &[Weighing]) -> Result<HouseIce, LiquidError> {
    let mut ice = HouseIce::default();
    for melt in Melt::MEASURED {
        let of_melt = weighings.iter().filter(|w| melt_of(w.method, w.long) == melt);
        let measured =
            of_melt.map(|w| MeasuredDilution::from_weighings(w.before, w.after, w.volume, w.strength));
        let all: Vec<MeasuredDilution> = measured.collect::<Result<_, _>>()?;
        if let Some(mean) = MeasuredDilution::mean(melt, &all) {
            ice = ice.with(melt, mean);
        }
    }
    Ok(ice)
}

/// A lengthener moves in steps of this many of the house's smallest marks: it is poured from the bottle.
const LENGTHENER_STEP: f64 = 2.0;
/// Amounts below this, in ml, are dashes and barspoons and do not move.
const SMALL_ML: f64 = 5.0;

impl House {
    /// A house with a jigger, that has measured nothing else of its own.
    pub fn new(jigger: Jigger, when: When) -> Self {
        Self { jigger, measures: Measures::default(), ice: HouseIce::default(), when }
    }

    /// A volume as an amount in the house's unit; none for no volume.
    pub fn amount(&self, volume: Volume) -> Option<Amount> {
        let unit = match self.jigger.unit() {
            HouseUnit::Ounce => Unit::Ounce,
            HouseUnit::Millilitre => Unit::Millilitre,
        };
        Amount::new(volume.ml() / self.jigger.unit().ml(), unit).ok()
    }

    /// The amounts that a line may take between its limits.
    pub fn pours(&self, limits: (Volume, Volume), usual: Volume, lengthens: bool) -> Vec<Pour> {
        let (least, most) = limits;
        if !lengthens {
            let pours = self.jigger.pourable(least, most).into_iter();
            let mut pours: Vec<Pour> = pours.filter(|p| p.volume.ml() > 0.0 && self.plain(*p)).collect();
            // More than two marks hold is poured as it is.
            if usual.ml() > self.most_ml() && usual >= least && usual <= most {
                pours.push(Pour { volume: usual, marks: 2 });
            }
            return pours;
        }
        let step = LENGTHENER_STEP * self.smallest_ml();
        let mut pours = vec![Pour { volume: usual, marks: 0 }];
        for direction in [-1.0, 1.0] {
            let mut ml = usual.ml() + direction * step;
            while ml > 0.0 && ml >= least.ml() - 1e-6 && ml <= most.ml() + 1e-6 {
                pours.push(Pour { volume: Volume::clamped(ml), marks: 0 });
                ml += direction * step;
            }
        }
        pours.sort_by_key(|p| p.volume);
        pours
    }

    /// What two marks hold at most, ml.
    fn most_ml(&self) -> f64 {
        self.jigger.marks().last().map_or(0.0, |m| 2.0 * m.ml())
    }

    /// The smallest mark, ml.
    fn smallest_ml(&self) -> f64 {
        self.jigger.marks().first().map_or(SMALL_ML, |m| m.ml())
    }

    /// The nearest whole number of smallest marks.
    fn whole_marks(&self, volume: Volume) -> Volume {
        let step = self.smallest_ml();
        Volume::clamped((volume.ml() / step).round() * step)
    }

    /// Whether a pour is plain to read: one mark, or quarters or thirds of an ounce but not both.
    fn plain(&self, pour: Pour) -> bool {
        let parts = |below: f64| {
            let count = pour.volume.ounces() * below;
            (count - count.round()).abs() < 1e-6
        };
        pour.marks <= 1 || self.jigger.unit() == HouseUnit::Millilitre || parts(4.0) || parts(3.0)
    }

    /// Whether an amount is written as this house writes its own, or counted.
    fn is_own(&self, amount: Amount) -> bool {
        match amount.unit() {
            Unit::Dash | Unit::Drop | Unit::Barspoon => true,
            Unit::Ounce => self.jigger.unit() == HouseUnit::Ounce,
            Unit::Millilitre | Unit::Centilitre => self.jigger.unit() == HouseUnit::Millilitre,
            _ => false,
        }
    }

    /// A spec with every amount moved to the nearest pour of this house, if one is within half its smallest mark: `1 oz` is
    /// `30 ml` where the house works in millilitres. What is written in the house's own unit, and what is counted, stays as it is.
    pub fn in_pours<'b>(&self, spec: &Spec<'b>) -> Spec<'b> {
        let mut spec = spec.clone();
        for line in &mut spec.lines {
            let Some(volume) = line.volume.filter(|v| v.ml() >= SMALL_ML) else { continue };
            // A lengthener is poured from the bottle: more than two marks hold, and ounces stay as they are.
            let lengthens = line.is_lengthener();
            if (lengthens && self.jigger.unit() == HouseUnit::Ounce) || self.is_own(line.amount) {
                continue;
            }
            let nearest = |v: Volume| {
                let pour = if lengthens { self.whole_marks(v) } else { self.jigger.nearest(v).volume };
                let is_near = (pour.ml() - v.ml()).abs() <= self.smallest_ml() / 2.0 + 1e-6;
                if is_near { pour } else { v }
            };
            let own = nearest(volume);
            line.volume = Some(own);
            line.amount = self.amount(own).unwrap_or(line.amount);
            line.limits = line.limits.map(|(least, most)| (nearest(least).min(own), nearest(most).max(own)));
        }
        spec
    }
}

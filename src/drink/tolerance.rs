//! What a hand that pours too much or too little does to a drink.

mod mixer;

use self::mixer::Mixer;
use super::band::Interval;
use super::figures::{Figures, NothingPoured};
use super::spec::{Line, Spec};
use crate::book::{Ingredient, Makeup};
use crate::liquid::{Dilution, Ice};
use crate::measure::{Amount, Measures, Unit, Volume};

/// By how much a line may come out wrong.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Over {
    /// The same volume for every line, whatever is poured.
    Volume(Volume),
    /// A share of each line.
    Share(f64),
}

/// What a line of one serve may be short of and over.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slip {
    /// Too little by this; never more than the line itself.
    pub less: Volume,
    /// Too much by this.
    pub more: Volume,
}

/// How the water from the ice is found while amounts slip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Melting {
    /// By the method, for each strength anew.
    Over(Ice),
    /// As given or found before: the same share throughout.
    Held(Dilution),
}

/// Which way a line went.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Miss {
    /// Too little.
    Less,
    /// As written.
    Right,
    /// Too much.
    More,
}

/// What a drink comes to with its slips, and how much of that is noticed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effect {
    /// What it comes to.
    pub figures: Figures,
    /// How far strength is off, in just-noticeable differences.
    pub strength: f64,
    /// How far sugar is off, likewise.
    pub sugar: f64,
    /// How far acid is off, likewise.
    pub acid: f64,
    /// How far bitterness is off, likewise.
    pub bitterness: f64,
    /// All that is noticed together: the distance by which variants are judged.
    pub noticed: f64,
}

/// What one line does when it alone is off.
#[derive(Debug, Clone, PartialEq)]
pub struct Alone<'b> {
    /// Which line of the spec, from 0.
    pub line: usize,
    /// What it is.
    pub ingredient: &'b Ingredient,
    /// How much of it, as written.
    pub amount: Amount,
    /// How much of it.
    pub volume: Volume,
    /// By how much a serve is off.
    pub slip: Slip,
    /// Too little of it.
    pub less: Effect,
    /// Too much of it.
    pub more: Effect,
    /// The most by which the measured pour (of the whole batch) may be off, either way, and stay within one
    /// just-noticeable difference; none if nothing up to [`Tolerance::MOST_OFF_ML`] a serve is noticed.
    pub unnoticed: Option<Volume>,
    /// Whether it brings a taste that is not counted here, so that the figures alone do not free it.
    pub uncounted: bool,
    /// Whether the slip asked about stays within one just-noticeable difference and all that it brings is counted, so
    /// that it may be poured by eye.
    pub by_eye: bool,
}

/// Where the figures lie when every line may be off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// Strength, % vol.
    pub strength: Interval,
    /// Sugars, g/L.
    pub sugar: Interval,
    /// Acid as citric, g/L.
    pub acid: Interval,
    /// In the glass, ml.
    pub served: Interval,
}

/// What the lines do when all may be off at once.
#[derive(Debug, Clone, PartialEq)]
pub struct Together {
    /// Least to most of each figure.
    pub spread: Spread,
    /// The one that is noticed most.
    pub worst: Effect,
    /// Which way each of the lines went in it, in the order of [`Tolerance::alone`].
    pub misses: Vec<Miss>,
    /// How many combinations were mixed: all there are.
    pub combinations: u64,
}

/// What slips do to a drink.
#[derive(Debug, Clone, PartialEq)]
pub struct Tolerance<'b> {
    /// By how much a pour is off.
    pub over: Over,
    /// How many serves are measured at once.
    pub serves: u32,
    /// How the water was found.
    pub melting: Melting,
    /// The drink as written.
    pub figures: Figures,
    /// Each line that is poured, in the order of the spec.
    pub alone: Vec<Alone<'b>>,
    /// All of them at once.
    pub together: Together,
    /// The worst of them all at once for one serve that is poured by itself.
    pub one_serve: f64,
    /// The fewest serves of a batch in which even the worst of all at once stays within one just-noticeable difference;
    /// none where no batch helps, since each line is off by a share.
    pub unnoticed_from: Option<u32>,
}

impl Alone<'_> {
    /// What one of its measure holds, ml: a dash, say; none for nothing written.
    pub fn one_ml(&self) -> Option<f64> {
        (self.amount.count() > 0.0).then(|| self.volume.ml() / self.amount.count())
    }
}

impl Tolerance<'_> {
    /// The most lines that may be off at once; beyond that, those that matter most alone are.
    pub const MOST_TOGETHER: usize = 10;
    /// The most serves of a batch that is looked at.
    pub const MOST_SERVES: u32 = 1000;
    /// The most that a serve is ever taken to be off by, ml.
    pub const MOST_OFF_ML: f64 = 60.0;
}

/// By how much a line of one serve is off: the volume or share asked about, but of a dash or a drop half of one too
/// little to one too many, and of a barspoon half of one either way.
///
/// # Source
/// *Common practice, no source*: a dash is what a bottle gives.
pub fn slip_of(line: &Line<'_>, over: Over, measures: &Measures) -> Slip {
    let whole = line.volume.unwrap_or(Volume::ZERO);
    let (less, more) = match (over, line.amount.unit()) {
        (Over::Share(share), _) => (whole.ml() * share, whole.ml() * share),
        (Over::Volume(_), unit @ (Unit::Dash | Unit::Drop)) => {
            let one = measures.one(unit).unwrap_or(Volume::ZERO).ml();
            (one / 2.0, one)
        }
        (Over::Volume(_), Unit::Barspoon) => (measures.barspoon.ml() / 2.0, measures.barspoon.ml() / 2.0),
        (Over::Volume(volume), _) => (volume.ml(), volume.ml()),
    };
    Slip { less: Volume::clamped(less.min(whole.ml())), more: Volume::clamped(more) }
}

/// What slips do to a drink: each line alone, and all at once.
///
/// # Model
/// Every drink is mixed in full, nothing is a derivative. All at once means every combination of too little, as
/// written and too much, so that nothing worse is left out. Where a batch is measured, each line is measured once for
/// all serves, so a serve is off by the slip divided by their number; a share stays that share. What may go unnoticed
/// is found by halving, within 0.001 ml.
///
/// # Limits
/// Lines are taken as independent, and a batch as well mixed. Salt and aroma do not count as noticed, so a
/// line that is salty (1 g/L) or written in dashes is never given up to the eye; *ours*.
///
/// # Errors
/// [`NothingPoured`] if no line has a volume.
pub fn tolerance<'b>(
    spec: &Spec<'b>,
    over: Over,
    serves: u32,
    melting: Melting,
    measures: &Measures,
) -> Result<Tolerance<'b>, NothingPoured> {
    let serves = serves.max(1);
    let poured: Vec<(usize, &Line<'b>)> = spec
        .lines
        .iter()
        .enumerate()
        .filter(|(_, l)| l.ingredient.makeup.is_some() && l.volume.is_some_and(|v| v.ml() > 0.0))
        .collect();
    let mut slips: Vec<Slip> = poured.iter().map(|(_, line)| slip_of(line, over, measures)).collect();
    if let ([only], [(_, line)]) = (&mut slips[..], &poured[..]) {
        // Without its only line there is no drink to compare.
        only.less = only.less.min(half(line.volume));
    }
    let lines: Vec<&Line<'b>> = poured.iter().map(|(_, line)| *line).collect();
    let mixer = Mixer::new(&lines, melting)?;
    let of_batch = |slip: &Slip| match over {
        Over::Share(_) => *slip,
        Over::Volume(_) => slip.over_serves(serves),
    };
    let each: Vec<Slip> = slips.iter().map(of_batch).collect();
    let mut alone = Vec::new();
    for (at, (index, line)) in poured.iter().enumerate() {
        let (less, more) = (mixer.alone(at, -each[at].less.ml())?, mixer.alone(at, each[at].more.ml())?);
        alone.push(Alone {
            line: *index,
            ingredient: line.ingredient,
            amount: line.amount,
            volume: line.volume.unwrap_or(Volume::ZERO),
            slip: each[at],
            less,
            more,
            unnoticed: mixer.unnoticed(at).map(|ml| Volume::clamped(ml * f64::from(serves))),
            uncounted: uncounted(line),
            by_eye: !uncounted(line) && less.noticed.max(more.noticed) <= 1.0,
        });
    }
    let matter = most_noticed(&alone);
    let together = mixer.together(&each, &matter)?;
    let one_serve =
        if serves == 1 { together.worst.noticed } else { mixer.together(&slips, &matter)?.worst.noticed };
    let unnoticed_from = match over {
        Over::Share(_) => None,
        Over::Volume(_) => fewest_serves(&mixer, &slips, &matter, one_serve)?,
    };
    Ok(Tolerance { over, serves, melting, figures: mixer.right, alone, together, one_serve, unnoticed_from })
}

/// From this on salt, in g/L, is tasted for itself: a salted drink.
const SALTY: f64 = 1.0;

/// Whether a line is salty, or strong enough of taste to be counted in dashes.
fn uncounted(line: &Line<'_>) -> bool {
    let tasted = |m: &Makeup| m.salt.grams_per_litre() >= SALTY;
    let by_dash = matches!(line.amount.unit(), Unit::Dash | Unit::Drop);
    by_dash || line.ingredient.makeup.as_ref().is_some_and(tasted)
}

/// The fewest serves that keep the worst within one just-noticeable difference. What is noticed is nearly shared out
/// among them, so that is where to look first.
fn fewest_serves(
    mixer: &Mixer<'_, '_>,
    slips: &[Slip],
    may: &[bool],
    one_serve: f64,
) -> Result<Option<u32>, NothingPoured> {
    let within = |serves: u32| -> Result<bool, NothingPoured> {
        let each: Vec<Slip> = slips.iter().map(|s| s.over_serves(serves)).collect();
        Ok(mixer.together(&each, may)?.worst.noticed <= 1.0)
    };
    let first = (1..=Tolerance::MOST_SERVES).find(|n| f64::from(*n) >= one_serve);
    let Some(mut serves) = first else { return Ok(None) };
    while !within(serves)? {
        serves += 1;
        if serves > Tolerance::MOST_SERVES {
            return Ok(None);
        }
    }
    while serves > 1 && within(serves - 1)? {
        serves -= 1;
    }
    Ok(Some(serves))
}

fn half(volume: Option<Volume>) -> Volume {
    Volume::clamped(volume.unwrap_or(Volume::ZERO).ml() / 2.0)
}

impl Slip {
    fn over_serves(&self, serves: u32) -> Self {
        let part = |volume: Volume| Volume::clamped(volume.ml() / f64::from(serves));
        Self { less: part(self.less), more: part(self.more) }
    }
}

/// Whether each line is among those that are off at once.
fn most_noticed(alone: &[Alone<'_>]) -> Vec<bool> {
    let noticed = |at: usize| alone[at].less.noticed.max(alone[at].more.noticed);
    let mut order: Vec<usize> = (0..alone.len()).collect();
    order.sort_by(|a, b| noticed(*b).total_cmp(&noticed(*a)).then(a.cmp(b)));
    let kept = &order[..order.len().min(Tolerance::MOST_TOGETHER)];
    (0..alone.len()).map(|at| kept.contains(&at)).collect()
}

impl Spread {
    fn of(figures: &Figures) -> Self {
        let only = |value: f64| Interval { least: value, most: value };
        Self {
            strength: only(figures.strength.percent_vol()),
            sugar: only(figures.sugar.grams_per_litre()),
            acid: only(figures.acid.grams_per_litre()),
            served: only(figures.served.ml()),
        }
    }

    fn widened(self, figures: &Figures) -> Self {
        let own = Self::of(figures);
        Self {
            strength: self.strength.widened(own.strength.least),
            sugar: self.sugar.widened(own.sugar.least),
            acid: self.acid.widened(own.acid.least),
            served: self.served.widened(own.served.least),
        }
    }
}

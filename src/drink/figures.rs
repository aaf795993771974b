//! The figures of a drink in the glass.

use thiserror::Error;

use super::spec::Spec;
use crate::book::Makeup;
use crate::liquid::{Contents, Dilution, Ice, LiquidError, Measured, Parts, Solute, dilution};
use crate::measure::{Bitterness, Concentration, Mass, Strength, Volume};

/// A drink's figures, after dilution, at 20 °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figures {
    /// What is poured, lengtheners included, before ice.
    pub poured: Volume,
    /// What the ice adds.
    pub water: Volume,
    /// How that was found.
    pub dilution: Dilution,
    /// What is in the glass, ice left out.
    pub served: Volume,
    /// Strength.
    pub strength: Strength,
    /// Sugars.
    pub sugar: Concentration,
    /// Acid, as citric.
    pub acid: Concentration,
    /// Bitterness on our scale.
    pub bitterness: Bitterness,
    /// Salt.
    pub salt: Concentration,
    /// Ethanol in the glass.
    pub ethanol: Mass,
    /// What is in the glass, taken apart.
    pub liquid: Parts,
}

/// A spec in which nothing has a volume.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[error(
    "nothing here is measured by volume, so there are no figures: give amounts like 2 oz, 45 ml, 1 barspoon"
)]
pub struct NothingPoured;

/// Less acid than this, in g/L, makes no sourness to set sugar against.
const TASTES_SOUR: f64 = 0.5;

impl Figures {
    /// Grams of sugar to a gram of acid; none where there is hardly any acid.
    pub fn sugar_to_acid(&self) -> Option<f64> {
        let acid = self.acid.grams_per_litre();
        (acid >= TASTES_SOUR).then(|| self.sugar.grams_per_litre() / acid)
    }
}

/// What a makeup holds dissolved. Sugar that is neither glucose nor fructose counts as sucrose, acid of no
/// kind named as citric.
fn solutes(makeup: &Makeup) -> [(Solute, Concentration); Solute::COUNT] {
    let Makeup { sugar, glucose, fructose, acid, malic, tartaric, lactic, acetic, phosphoric, salt, .. } =
        *makeup;
    let rest = |all: Concentration, named: &[Concentration]| {
        let named: f64 = named.iter().map(|kind| kind.grams_per_litre()).sum();
        Concentration::clamped(all.grams_per_litre() - named)
    };
    // The book counts acids as citric, the liquid as what they weigh.
    let weighs = |acid: Solute, held: Concentration| {
        (acid, Concentration::clamped(held.grams_per_litre() / acid.as_citric()))
    };
    [
        (Solute::Sucrose, rest(sugar, &[glucose, fructose])),
        (Solute::Glucose, glucose),
        (Solute::Fructose, fructose),
        (Solute::Citric, rest(acid, &[malic, tartaric, lactic, acetic, phosphoric])),
        weighs(Solute::Malic, malic),
        weighs(Solute::Tartaric, tartaric),
        weighs(Solute::Lactic, lactic),
        weighs(Solute::Acetic, acetic),
        weighs(Solute::Phosphoric, phosphoric),
        (Solute::Salt, salt),
    ]
}

/// A volume of something, taken apart.
///
/// # Errors
/// [`LiquidError`] if the makeup cannot be: more sugar and alcohol than there is room for.
pub fn parts_of(makeup: &Makeup, volume: Volume) -> Result<Parts, LiquidError> {
    if makeup.solid {
        let litres = volume.ml() / 1000.0;
        let dry = |(solute, held): (Solute, Concentration)| {
            Parts::dry(solute, Mass::clamped(held.grams_per_litre() * litres))
        };
        return Ok(solutes(makeup).into_iter().map(dry).fold(Parts::default(), |sum, one| sum.plus(&one)));
    }
    Parts::of_liquid(volume, &contents_of(makeup))
}

/// What so much of something adds to a drink: its volume, and for what is dry that of what dissolves.
pub fn added_volume(makeup: &Makeup, volume: Volume) -> Volume {
    parts_of(makeup, volume).map_or(volume, |parts| parts.volume())
}

/// What a litre of an ingredient that is a liquid holds.
pub fn contents_of(makeup: &Makeup) -> Contents {
    let spirit = Contents::of_strength(makeup.strength);
    solutes(makeup).into_iter().fold(spirit, |all, (solute, held)| all.with(solute, held))
}

/// The figures of a spec.
///
/// # Model
/// Lines are mixed by mass; the method's dilution is a share of the volume before ice, lengtheners left out, since
/// they go in after; bitterness is shared by volume. Lines without a volume (leaves, slices) or without a makeup
/// count for nothing.
///
/// # Errors
/// [`NothingPoured`] if no line has a volume.
pub fn figures(spec: &Spec<'_>) -> Result<Figures, NothingPoured> {
    let poured = Poured::of_spec(spec).ok_or(NothingPoured)?;
    poured.over_ice(spec.over_ice()).ok_or(NothingPoured)
}

/// The figures of a spec with a dilution found in another way.
///
/// # Errors
/// As for [`figures`].
pub fn figures_with(spec: &Spec<'_>, dilution: Dilution) -> Result<Figures, NothingPoured> {
    Poured::of_spec(spec).and_then(|poured| poured.diluted(dilution)).ok_or(NothingPoured)
}

/// What meets the ice: the lines of a spec without its lengtheners.
///
/// # Errors
/// [`NothingPoured`] if that is nothing.
pub fn before_ice(spec: &Spec<'_>) -> Result<Parts, NothingPoured> {
    let before = Poured::of_spec(spec).ok_or(NothingPoured)?.before;
    if before.mass().grams() > 0.0 { Ok(before) } else { Err(NothingPoured) }
}

/// What has been poured so far.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Poured {
    /// Before the ice.
    before: Parts,
    /// After it.
    after: Parts,
    /// Points of bitterness times ml.
    bitter: f64,
}

impl Poured {
    /// Every line that has a volume and a makeup. None if one cannot be.
    fn of_spec(spec: &Spec<'_>) -> Option<Self> {
        spec.lines.iter().try_fold(Self::default(), |sum, line| {
            let (Some(makeup), Some(volume)) = (&line.ingredient.makeup, line.volume) else {
                return Some(sum);
            };
            Some(sum.plus(&Self::of(makeup, volume, line.is_lengthener())?))
        })
    }

    /// One line. None if its makeup cannot be.
    pub(super) fn of(makeup: &Makeup, volume: Volume, lengthens: bool) -> Option<Self> {
        let parts = parts_of(makeup, volume).ok()?;
        let bitter = makeup.bitterness.points() * volume.ml();
        let nothing = Parts::default();
        let (before, after) = if lengthens { (nothing, parts) } else { (parts, nothing) };
        Some(Self { before, after, bitter })
    }

    /// Both together.
    pub(super) fn plus(&self, other: &Self) -> Self {
        Self {
            before: self.before.plus(&other.before),
            after: self.after.plus(&other.after),
            bitter: self.bitter + other.bitter,
        }
    }

    /// The figures once the ice has done its work. None if nothing was poured.
    pub(super) fn over_ice(&self, ice: Ice) -> Option<Figures> {
        let short = self.before.measured();
        self.with(&short, dilution(ice, short.strength))
    }

    /// The figures with a given dilution. None if nothing was poured.
    pub(super) fn diluted(&self, dilution: Dilution) -> Option<Figures> {
        self.with(&self.before.measured(), dilution)
    }

    fn with(&self, short: &Measured, dilution: Dilution) -> Option<Figures> {
        let water = Volume::clamped(short.volume.ml() * dilution.share);
        let whole = self.before.plus(&Parts::water(water)).plus(&self.after);
        let served = whole.measured();
        if served.volume.ml() <= 0.0 {
            return None;
        }
        let long = self.after.mass().grams() > 0.0;
        Some(Figures {
            poured: if long { self.before.plus(&self.after).volume() } else { short.volume },
            water,
            dilution,
            served: served.volume,
            strength: served.strength,
            sugar: served.sugar,
            acid: served.acid,
            bitterness: Bitterness::clamped(self.bitter / served.volume.ml()),
            salt: served.salt,
            ethanol: whole.ethanol(),
            liquid: whole,
        })
    }
}

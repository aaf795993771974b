//! A take-home kit: the mix without its spirit, for the guest to add.

use super::batch::{Asked, Batch, batch};
use super::error::ServiceError;
use super::price_list::PriceList;
use super::size::Size;
use super::style::Style;
use super::vessel::Vessel;
use super::water::WaterWish;
use crate::book::{Book, Ingredient, Role};
use crate::drink::{Figures, Spec, figures, parts_of};
use crate::liquid::{Parts, dilution};
use crate::measure::{Mass, Strength, Volume};

/// What is asked of a kit.
#[derive(Debug, Clone)]
pub struct KitAsked<'b> {
    /// The drink, how much of it, in what. The style and the water are the kit's own.
    pub of: Asked<'b>,
    /// Parts of mix to one of spirit; none for what the spec has.
    pub parts: Option<f64>,
    /// Whether the containers leave room for the spirit, so that the guest fills them up.
    pub room: bool,
}

/// A take-home kit.
#[derive(Debug, Clone)]
pub struct Kit<'b> {
    /// The mix, made as a batch of it.
    pub mix: Batch<'b>,
    /// The drink as the bar makes it.
    pub spec: Spec<'b>,
    /// The drink as the bar makes it, in figures.
    pub single: Figures,
    /// What the guest adds, with how much of it a serve takes.
    pub spirits: Vec<(&'b Ingredient, Volume)>,
    /// The spirit of a serve.
    pub spirit: Volume,
    /// Parts of mix to one of spirit.
    pub parts: f64,
    /// Water in the mix of a serve.
    pub water: Volume,
    /// What the guest's ice adds to a serve.
    pub at_home: Volume,
    /// How strong a serve is at home.
    pub strength: Strength,
    /// How much there is of it.
    pub served: Volume,
    /// Ethanol in it.
    pub ethanol: Mass,
    /// The bottle, if one was named, and what of it the mix takes and the spirit.
    pub bottle: Option<Bottle>,
}

/// A bottle of a kit.
#[derive(Debug, Clone, PartialEq)]
pub struct Bottle {
    /// What it holds.
    pub holds: Volume,
    /// Mix in it.
    pub mix: Volume,
    /// Spirit that goes with that.
    pub spirit: Volume,
    /// Serves that makes.
    pub serves: f64,
    /// Whether there is room for the spirit in the bottle.
    pub room: bool,
}

/// A kit is for the evening it is fetched, or the next, unless someone says otherwise; *common practice, no source*.
const KIT_DAYS: u16 = 1;

/// A base is a spirit from this strength on, % vol: Regulation (EU) 2019/787, Article 2: at least 15 % vol.
const SPIRIT_FROM: f64 = 15.0;

/// Makes a kit.
///
/// # Model
/// The mix is every line but the spirits of the base. At the spec's own ratio no water goes in, and the guest shakes or
/// stirs as the bar does; at a ratio that was asked for, water makes up the mix, and what the guest's ice adds is what the
/// method gives a drink that is so much weaker already.
///
/// # Errors
/// [`ServiceError`]: no spirit, no mix, a ratio that the mix is over already.
pub fn kit<'b>(book: &'b Book, asked: &KitAsked<'b>, prices: &PriceList) -> Result<Kit<'b>, ServiceError> {
    let spec = &asked.of.spec;
    let is_spirit = |l: &crate::drink::Line<'_>| {
        l.role == Role::Base
            && l.ingredient.makeup.is_some_and(|m| m.strength.percent_vol() >= SPIRIT_FROM)
            && l.volume.is_some()
    };
    let spirits: Vec<(&Ingredient, Volume)> =
        spec.lines.iter().filter(|l| is_spirit(l)).filter_map(|l| Some((l.ingredient, l.volume?))).collect();
    if spirits.is_empty() {
        return Err(ServiceError::NoSpirit);
    }
    let spirit = Volume::clamped(spirits.iter().map(|(_, v)| v.ml()).sum());
    let without =
        Spec { lines: spec.lines.iter().filter(|l| !is_spirit(l)).cloned().collect(), ..spec.clone() };
    let single = figures(spec)?;
    let of = |water: f64| Asked {
        spec: without.clone(),
        style: Style::ToOrder,
        water: WaterWish::Share(water),
        vessels: Vec::new(),
        size: Size::Serves(1.0),
        days: Some(asked.of.days.unwrap_or(KIT_DAYS)),
        ..asked.of.clone()
    };
    let one = match batch(book, &of(0.0), prices) {
        Err(ServiceError::AllHeldBack | ServiceError::NothingPoured(_)) => return Err(ServiceError::NoMix),
        other => other?,
    };
    let own = one.pour.ml() / spirit.ml();
    let share = match asked.parts {
        None => 0.0,
        Some(wanted) if wanted < own - 1e-9 => return Err(ServiceError::MixOver { own, wanted }),
        // Volumes contract a little when water goes in; a few rounds settle that.
        Some(wanted) => water_share(&one.liquid, wanted * spirit.ml()),
    };
    let parts = asked.parts.unwrap_or(own);
    let pour = Volume::clamped(parts * spirit.ml());
    let vessels: Vec<Vessel> = asked.of.vessels.iter().map(|v| shrunk(v, parts, asked.room)).collect();
    let mix = batch(book, &Asked { size: asked.of.size, vessels, ..of(share) }, prices)?;
    let water = mix.water.a_serve;
    let mut whole = mix.liquid.times(1.0 / mix.serves);
    for line in spec.lines.iter().filter(|l| is_spirit(l)) {
        if let (Some(makeup), Some(volume)) = (&line.ingredient.makeup, line.volume) {
            whole = whole.plus(&parts_of(makeup, volume)?);
        }
    }
    let melts = whole.volume().ml() * dilution(spec.over_ice(), whole.strength()).share;
    let at_home = Volume::clamped(melts);
    let glass = whole.plus(&Parts::water(at_home)).plus(&mix.held_back);
    let bottle = asked.of.vessels.first().map(|v| {
        let filled = v.holds.ml() * mix.fill;
        let mix_ml = if asked.room { filled * parts / (parts + 1.0) } else { filled };
        Bottle {
            holds: v.holds,
            mix: Volume::clamped(mix_ml),
            spirit: Volume::clamped(mix_ml / parts),
            serves: mix_ml / pour.ml(),
            room: asked.room,
        }
    });
    Ok(Kit {
        spec: spec.clone(),
        single,
        spirits,
        spirit,
        parts,
        water,
        at_home,
        strength: glass.strength(),
        served: glass.volume(),
        ethanol: glass.ethanol(),
        bottle,
        mix,
    })
}

/// Water under this, ml a serve, is none.
const A_DROP: f64 = 0.05;

/// The water, as a share of what the mix is without it, that brings a mix to a volume, ml.
fn water_share(mix: &Parts, wanted: f64) -> f64 {
    let own = mix.volume().ml();
    let mut water = (wanted - own).max(0.0);
    for _ in 0..20 {
        let there = mix.plus(&Parts::water(Volume::clamped(water))).volume().ml();
        water = (water + wanted - there).max(0.0);
    }
    // A drop is no water, but what contraction makes of equal volumes.
    if water < A_DROP { 0.0 } else { water / own }
}

/// What of a container the mix may take, if room is left for the spirit.
fn shrunk(vessel: &Vessel, parts: f64, room: bool) -> Vessel {
    let share = if room { parts / (parts + 1.0) } else { 1.0 };
    Vessel { holds: Volume::clamped(vessel.holds.ml() * share), ..vessel.clone() }
}

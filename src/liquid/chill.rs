//! Chilling with ice: how much melts, and how cold it gets, by a balance of heat.

use super::dilution::Melt;
use super::error::LiquidError;
use super::freezing;
use super::heat::{self, Cooling, OF_WATER};
use super::parts::Parts;
use crate::measure::{Grade, Mass, Temperature};

/// The vessel that is cooled along: a tin, a mixing glass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vessel {
    /// What it weighs.
    pub mass: Mass,
    /// What it is made of.
    pub stuff: Stuff,
    /// How warm it is before.
    pub temperature: Temperature,
}

/// What a vessel is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stuff {
    /// Stainless steel.
    Steel,
    /// Glass.
    Glass,
}

impl Stuff {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Steel, Self::Glass];

    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Steel => "steel",
            Self::Glass => "glass",
        }
    }

    /// Heat capacity, J/(g K): steel 0.50, glass 0.84; *from memory*, any handbook has them.
    const fn capacity(self) -> f64 {
        match self {
            Self::Steel => 0.50,
            Self::Glass => 0.84,
        }
    }
}

/// Where the chilling stops.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ends {
    /// So far on the way from 0 °C to the freezing point of the diluted drink, 1 being all the way.
    Approach(Grade),
    /// At a temperature that was measured or is wanted.
    At(Temperature),
}

/// What a person says of their ice, drink and vessel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conditions {
    /// How warm the drink is before.
    pub drink: Temperature,
    /// How much ice.
    pub ice: Mass,
    /// How cold it is; 0 °C for ice that has stood.
    pub ice_at: Temperature,
    /// Water clinging to the ice, as a share of its mass.
    pub wet: Grade,
    /// What is cooled along, if anything.
    pub vessel: Option<Vessel>,
    /// Where it stops; none for the method's own.
    pub ends: Option<Ends>,
    /// For what stands over ice: how long, in minutes.
    pub minutes: f64,
    /// The room, for what stands over ice.
    pub room: Temperature,
}

impl Default for Conditions {
    /// A drink at 20 °C and 250 g of dry ice at 0 °C, no vessel; five minutes over ice in a room of 22 °C.
    fn default() -> Self {
        Self {
            drink: Temperature::clamped(20.0),
            ice: Mass::clamped(250.0),
            ice_at: Temperature::clamped(0.0),
            wet: Grade::clamped(0.0),
            vessel: None,
            ends: None,
            minutes: 5.0,
            room: Temperature::clamped(22.0),
        }
    }
}

/// How far a stirred drink gets on its way to its freezing point.
///
/// Chosen so that the balance, under the conditions it starts from, gives what the published fit gives for five stirred
/// classics on average (0.26 to 0.34): *ours*. That a stirred drink never reaches equilibrium is in print.
const STIRRED: f64 = 0.32;

/// A shaken or blended drink gets all the way (the published fit for shaken drinks lies there too).
const SHAKEN: f64 = 1.0;

/// Minutes in which a drink over ice covers two thirds of what is left of its way; *ours*.
const SETTLES_IN: f64 = 5.0;

/// Heat that a glass takes in from the room, W/K: about 250 cm² at 10 W/(m² K), still air (*from memory*).
const LEAK: f64 = 0.25;

/// Where the heat came from that melted the ice, as grams of melt; they add up to it, and what helped to cool is below 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeltedBy {
    /// Cooling the drink, and the water that clung to the ice.
    pub drink_grams: f64,
    /// Water and alcohol mixing.
    pub mixing_grams: f64,
    /// Cooling the vessel.
    pub vessel_grams: f64,
    /// The room, while the drink stands.
    pub room_grams: f64,
    /// The ice itself: above 0 as it grows colder than it was, below 0 where it was colder still.
    pub ice_grams: f64,
}

/// A drink chilled with ice.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chilled {
    /// Ice that melted.
    pub melt: Mass,
    /// Water that clung to the ice and came along.
    pub wet: Mass,
    /// How cold it got.
    pub at: Temperature,
    /// Ice that is left.
    pub ice_left: Mass,
    /// Where the heat came from.
    pub by: MeltedBy,
    /// The drink with its water.
    pub drink: Parts,
}

impl Chilled {
    /// Water that came into the drink.
    pub fn water(&self) -> Mass {
        self.melt + self.wet
    }
}

impl Conditions {
    fn approach(&self, melt: Melt) -> f64 {
        match (self.ends, melt) {
            (Some(Ends::Approach(share)), _) => share.value(),
            (_, Melt::Stirred) => STIRRED,
            (_, Melt::BuiltShort | Melt::BuiltLong) => {
                1.0 - (1.0 - STIRRED) * (-self.minutes.max(0.0) / SETTLES_IN).exp()
            }
            (_, Melt::Shaken | Melt::Blended | Melt::None) => SHAKEN,
        }
    }

    fn wet_grams(&self) -> f64 {
        self.ice.grams() * self.wet.value()
    }

    fn dry_grams(&self) -> f64 {
        self.ice.grams() - self.wet_grams()
    }

    fn checked(&self) -> Result<(), LiquidError> {
        let warm = self.ice_at.celsius();
        if warm > 0.0 {
            return Err(LiquidError::WarmIce { found: warm });
        }
        Ok(())
    }
}

/// A drink, its ice and what else gives heat, waiting to be balanced.
struct Balance<'a> {
    parts: &'a Parts,
    conditions: &'a Conditions,
    capacity: f64,
    room_joules: f64,
}

impl<'a> Balance<'a> {
    fn new(parts: &'a Parts, melt: Melt, conditions: &'a Conditions) -> Self {
        let stands = matches!(melt, Melt::BuiltShort | Melt::BuiltLong);
        let seconds = if stands { 60.0 * conditions.minutes.max(0.0) } else { 0.0 };
        let room_joules = LEAK * conditions.room.celsius().max(0.0) * seconds;
        Self { parts, conditions, capacity: heat::capacity(parts), room_joules }
    }

    /// The drink with so many grams melted into it.
    fn diluted(&self, melt: f64) -> Parts {
        self.parts.plus(&Parts::water_grams(melt + self.conditions.wet_grams()))
    }

    /// Where it stops with so much melted: the freezing point of what it is by then, so far as the method goes.
    fn stop(&self, melt: f64, share: f64) -> Result<f64, LiquidError> {
        Ok(share * freezing::point(&self.diluted(melt))?.at.celsius())
    }

    fn mixing_joules(&self, melt: f64) -> f64 {
        heat::of_dilution(self.parts, melt + self.conditions.wet_grams())
    }

    fn vessel_joules(&self, stop: f64) -> f64 {
        let cools = |v: Vessel| v.mass.grams() * v.stuff.capacity() * (v.temperature.celsius() - stop);
        self.conditions.vessel.map_or(0.0, cools)
    }

    fn wet_joules(&self, stop: f64) -> f64 {
        OF_WATER * self.conditions.wet_grams() * (0.0 - stop)
    }

    fn cooling(&self, melt: f64, stop: f64) -> Cooling {
        let others =
            [self.mixing_joules(melt), self.vessel_joules(stop), self.wet_joules(stop), self.room_joules];
        Cooling {
            joules_per_kelvin: self.capacity,
            from: self.conditions.drink,
            to: Temperature::clamped(stop),
            other_joules: others.iter().sum(),
            ice: Mass::clamped(self.conditions.dry_grams()),
            ice_at: self.conditions.ice_at,
        }
    }

    /// Grams that the heat melts.
    fn melts(&self, melt: f64, stop: f64) -> f64 {
        self.cooling(melt, stop).melt_grams()
    }
}

/// A drink chilled with ice.
///
/// # Model
/// The balance of [`Cooling`], with the vessel, the heat of dilution, and for what stands over ice the room. It ends where
/// the method stops: a share of the way from 0 °C to the freezing point of the drink as diluted by then; melt and end
/// are found together. Water that clings to the ice comes along at 0 °C.
///
/// # Errors
/// [`LiquidError::WarmIce`] above 0 °C; [`LiquidError::NothingToFreeze`] without any water.
///
/// # Accuracy
/// The balance closes to 1e-6 g. The end temperature is the weak part: a kelvin is about 3 % of the volume.
///
/// # Limits
/// Where so cold an ice does all the chilling, nothing melts; that water then freezes onto it is not counted. Where all
/// the ice melts, the drink ends as warm as that leaves it. No heat from a hand or, but for what stands over ice, the room.
///
/// # Source
/// Constants as in the heat module; the shape of the balance is textbook.
pub fn chill(parts: &Parts, melt: Melt, conditions: &Conditions) -> Result<Chilled, LiquidError> {
    conditions.checked()?;
    let balance = Balance::new(parts, melt, conditions);
    let share = conditions.approach(melt);
    let stop = |melted: f64| match conditions.ends {
        Some(Ends::At(at)) => Ok(at.celsius()),
        _ => balance.stop(melted, share),
    };
    let dry = conditions.dry_grams();
    if balance.melts(dry, stop(dry)?) > dry {
        let stop = all_melts(&balance, dry);
        return Ok(balance.chilled(dry, stop));
    }
    let (mut low, mut high) = (0.0, dry);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if middle < balance.melts(middle, stop(middle)?) { low = middle } else { high = middle }
    }
    let melted = if high < 1e-9 { 0.0 } else { f64::midpoint(low, high) };
    Ok(balance.chilled(melted, stop(melted)?))
}

/// The temperature at which so much melt balances: what a known dilution says of the end of the chilling.
///
/// # Errors
/// As for [`chill`]; [`LiquidError::NoSuchMelt`] if no end between −30 °C and the drink's own start melts so much.
pub fn ends_at(
    parts: &Parts,
    melt: Melt,
    water: Mass,
    conditions: &Conditions,
) -> Result<Temperature, LiquidError> {
    conditions.checked()?;
    let balance = Balance::new(parts, melt, conditions);
    let melted = water.grams() - conditions.wet_grams();
    let more_melts = |stop: f64| balance.melts(melted, stop) > melted;
    let (mut low, mut high) = (-30.0, conditions.drink.celsius());
    if melted < 0.0 || !more_melts(low) || more_melts(high) {
        return Err(LiquidError::NoSuchMelt { found: water.grams() });
    }
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if more_melts(middle) { low = middle } else { high = middle }
    }
    Ok(Temperature::clamped(f64::midpoint(low, high)))
}

/// Where it ends when all the ice melts: the heat is less than that takes further down.
fn all_melts(balance: &Balance<'_>, dry: f64) -> f64 {
    let (mut low, mut high) =
        (-40.0, balance.conditions.drink.celsius().max(balance.conditions.room.celsius()));
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if balance.melts(dry, middle) > dry { low = middle } else { high = middle }
    }
    f64::midpoint(low, high)
}

impl Balance<'_> {
    fn chilled(&self, melted: f64, stop: f64) -> Chilled {
        let cooling = self.cooling(melted, stop);
        let grams = |joules: f64| joules / cooling.joules_a_gram();
        let drink = self.capacity * (self.conditions.drink.celsius() - stop);
        Chilled {
            melt: Mass::clamped(melted),
            wet: Mass::clamped(self.conditions.wet_grams()),
            at: Temperature::clamped(stop),
            ice_left: Mass::clamped(self.conditions.dry_grams() - melted),
            by: MeltedBy {
                drink_grams: grams(drink + self.wet_joules(stop)),
                mixing_grams: grams(self.mixing_joules(melted)),
                vessel_grams: grams(self.vessel_joules(stop)),
                room_grams: grams(self.room_joules),
                ice_grams: grams(cooling.ice_joules()),
            },
            drink: self.diluted(melted),
        }
    }
}

#[cfg(test)]
mod tests;

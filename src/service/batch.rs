//! A batch: one glass made into many.

use super::caution::AheadCaution;
use super::cost::Pricing;
use super::error::ServiceError;
use super::hold_back::{Held, held};
use super::keeping::{Kept, kept};
use super::need::Need;
use super::order::{Task, Worth, order};
use super::packing::{Packing, pack, room_at_hand};
use super::price_list::PriceList;
use super::rounding::{Rounded, rounded};
use super::size::Size;
use super::style::Style;
use super::vessel::Vessel;
use super::water::{Water, WaterWish, water};
use crate::book::{Book, Ingredient};
use crate::drink::{Figures, Line, Spec, figures, parts_of};
use crate::liquid::freezing::{self, MOST_FILL, Pours, UNCERTAIN_KELVIN};
use crate::liquid::{Measured, Parts};
use crate::measure::{HouseUnit, Mass, Measures, Strength, Temperature, Volume};

/// What is asked of a batch.
#[derive(Debug, Clone)]
pub struct Asked<'b> {
    /// The drink, in the house's pours.
    pub spec: Spec<'b>,
    /// How much of it.
    pub size: Size,
    /// How it is kept and poured.
    pub style: Style,
    /// What it goes into; may be empty.
    pub vessels: Vec<Vessel>,
    /// What water is wanted.
    pub water: WaterWish,
    /// How many days it must keep; none for what the style usually does.
    pub days: Option<u16>,
    /// How cold the freezer is.
    pub freezer: Temperature,
    /// What the house measures in.
    pub unit: HouseUnit,
    /// What its dashes and spoons hold.
    pub measures: Measures,
}

/// One line of a batch.
#[derive(Debug, Clone)]
pub struct BatchLine<'b> {
    /// The line of one serve.
    pub line: Line<'b>,
    /// What of it goes into the batch, exactly.
    pub in_batch: Volume,
    /// The same as it is measured.
    pub measured: Rounded,
    /// What that weighs; none where nothing goes in.
    pub grams: Option<Mass>,
    /// Why some or all of it is held back.
    pub held: Option<Held>,
    /// What goes into each serve at service, if anything.
    pub at_service: Option<Need>,
    /// All of it that the batch's serves need, held back or not.
    pub need: Need,
}

/// What a freezer does to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cold {
    /// How cold the freezer is.
    pub at: Temperature,
    /// Where the batch begins to freeze.
    pub freezes_from: Temperature,
    /// Whether it pours.
    pub pours: Pours,
    /// The share of its weight that is ice.
    pub ice: f64,
    /// The strength from which it would pour freely, its sugar as it is; none if none would.
    pub strength_to_pour: Option<Strength>,
    /// Where it would begin to freeze with no water in it.
    pub without_water: Temperature,
    /// The most water a serve with which it still pours freely; none if it does not even without.
    pub most_water: Option<Volume>,
    /// How strong it is with that.
    pub strength_with_it: Option<Strength>,
}

/// A serve as the guest has it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InGlass {
    /// Its volume.
    pub served: Volume,
    /// Its figures.
    pub measured: Measured,
    /// Ethanol in it.
    pub ethanol: Mass,
}

/// A batch.
#[derive(Debug, Clone)]
pub struct Batch<'b> {
    /// The drink.
    pub spec: Spec<'b>,
    /// How it is kept and poured.
    pub style: Style,
    /// How many days it must keep.
    pub days: u16,
    /// How many serves it makes; not always a whole number.
    pub serves: f64,
    /// The lines, in the order of the spec.
    pub lines: Vec<BatchLine<'b>>,
    /// The water of a serve.
    pub water: Water,
    /// The water of the batch, exactly.
    pub water_in_batch: Volume,
    /// The same as it is measured.
    pub water_measured: Rounded,
    /// The batch.
    pub liquid: Parts,
    /// Its figures.
    pub measured: Measured,
    /// The same once everything is rounded to what can be measured.
    pub as_measured: Measured,
    /// What of it goes into a serve.
    pub pour: Volume,
    /// What is held back of a serve, as far as it is poured.
    pub held_back: Parts,
    /// A serve made by itself.
    pub single: Figures,
    /// A serve of the batch, with what goes in at service.
    pub in_glass: InGlass,
    /// How full a container may be, as a share of what it holds.
    pub fill: f64,
    /// The containers, if any were named.
    pub packing: Option<Packing>,
    /// What a freezer does to it, if it goes there.
    pub cold: Option<Cold>,
    /// How long it keeps.
    pub keeps: Kept<'b>,
    /// What to do, in order.
    pub tasks: Vec<Task>,
}

/// How full a keg or a dispenser may be, of what it holds; room for gas and for shaking it, *common practice, no source*.
const KEG_FILL: f64 = 0.95;

/// How full a bowl may be, a third of it left for the block of ice; *common practice, no source*.
const BOWL_FILL: f64 = 0.66;

impl<'b> Batch<'b> {
    /// Serves that it makes whole.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "serves end at 1e5")]
    pub fn whole_serves(&self) -> u32 {
        (self.serves + 1e-6).floor() as u32
    }

    /// What goes into the containers, by weight, the heaviest first; water, that is not told in a list of ingredients under
    /// 5 % of it, comes along where it is more.
    pub fn by_weight(&self) -> Vec<(Option<&'b Ingredient>, Mass)> {
        let mut all: Vec<(Option<&'b Ingredient>, Mass)> =
            self.lines.iter().filter_map(|l| Some((Some(l.line.ingredient), l.grams?))).collect();
        let water = Parts::water(self.water_in_batch).mass();
        if water.grams() > WATER_TOLD * self.liquid.mass().grams() {
            all.push((None, water));
        }
        all.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.map(|i| &i.id).cmp(&b.0.map(|i| &i.id))));
        all
    }

    /// The cautions that go with how it is made and kept.
    pub fn cautions(&self) -> Vec<AheadCaution> {
        let gassy = self
            .lines
            .iter()
            .any(|l| l.line.ingredient.makeup.is_some_and(|m| m.carbonated) && l.in_batch > Volume::ZERO);
        let mut all = vec![AheadCaution::Keeping];
        if self.style == Style::Freezer {
            all.push(AheadCaution::FreezerGlass);
        }
        if gassy || self.style == Style::Tap {
            all.push(AheadCaution::Gas);
        }
        if self.packing.is_some() {
            all.push(AheadCaution::Label);
        }
        if self.single.ethanol.grams() > 0.0 {
            all.push(AheadCaution::Strength);
        }
        all
    }

    /// The largest error of rounding, as a share of a line.
    pub fn rounding_error(&self) -> f64 {
        let lines = self.lines.iter().map(|l| l.measured.error.abs());
        lines.fold(self.water_measured.error.abs(), f64::max)
    }
}

/// Water is told among the ingredients from this share of the weight on: Regulation (EU) No 1169/2011, Annex VII, Part A:
/// added water need not be considered where it is not more than 5 % by weight of the finished product.
const WATER_TOLD: f64 = 0.05;

/// Makes a batch.
///
/// # Model
/// Everything is reckoned for one serve and multiplied: what goes in of each line, the water its method would have melted
/// into it, and what they make together by mass, so that contraction is counted. How many serves there are follows from
/// the size asked for.
///
/// # Errors
/// [`ServiceError`].
pub fn batch<'b>(book: &'b Book, asked: &Asked<'b>, prices: &PriceList) -> Result<Batch<'b>, ServiceError> {
    let spec = &asked.spec;
    let single = figures(spec)?;
    let days = asked.days.unwrap_or(asked.style.usual_days());
    let mut going_in = Vec::new();
    let (mut before, mut rest) = (Parts::default(), Parts::default());
    for line in &spec.lines {
        let held = held(book, line, asked.style, days);
        let share = held.as_ref().map_or(1.0, |h| h.goes_in);
        let (Some(makeup), Some(volume)) = (&line.ingredient.makeup, line.volume) else {
            going_in.push((held, Volume::ZERO));
            continue;
        };
        let goes_in = Volume::clamped(volume.ml() * share);
        before = before.plus(&parts_of(makeup, goes_in)?);
        rest = rest.plus(&parts_of(makeup, Volume::clamped(volume.ml() - goes_in.ml()))?);
        going_in.push((held, goes_in));
    }
    if before.mass().grams() <= 0.0 {
        return Err(ServiceError::AllHeldBack);
    }
    let water = water(spec, asked.style, asked.water, &before, &single)?;
    let one = before.plus(&Parts::water(water.a_serve));
    let pour = one.volume();
    let cold = match asked.style {
        Style::Freezer => Some(cold(&before, &one, water.a_serve, asked.freezer)?),
        _ => None,
    };
    let fill = fill_of(asked.style, &one, asked.freezer)?;
    let serves = serves_of(asked, pour, fill)?;
    let times = |volume: Volume| Volume::clamped(volume.ml() * serves);
    let mut lines = Vec::new();
    for (line, (held, goes_in)) in spec.lines.iter().zip(going_in) {
        let in_batch = times(goes_in);
        let grams = line.ingredient.makeup.as_ref().filter(|_| in_batch > Volume::ZERO);
        let whole = Need::of_amount(line.amount, &asked.measures);
        let one = line.volume.map_or(whole, Need::Volume);
        let share = held.as_ref().map_or(1.0, |h| h.goes_in);
        let at_service = (share < 1.0 || goes_in == Volume::ZERO).then(|| one.times(1.0 - share));
        lines.push(BatchLine {
            line: line.clone(),
            in_batch,
            measured: rounded(in_batch, asked.unit),
            grams: grams.map(|m| parts_of(m, in_batch)).transpose()?.map(|parts| parts.mass()),
            held,
            at_service,
            need: one.times(serves),
        });
    }
    let liquid = one.times(serves);
    let water_in_batch = times(water.a_serve);
    let water_measured = rounded(water_in_batch, asked.unit);
    let glass = one.plus(&rest).plus(&Parts::water(water.at_service));
    let packing = match asked.vessels.as_slice() {
        [] => None,
        vessels => Some(pack(Volume::clamped(pour.ml() * serves), vessels, fill)?),
    };
    let poured: Vec<&Ingredient> =
        lines.iter().filter(|l| l.in_batch > Volume::ZERO).map(|l| l.line.ingredient).collect();
    let measured = liquid.measured();
    let keeps = kept(&poured, &measured, water.a_serve > Volume::ZERO, asked.style);
    let as_measured = as_measured(&lines, water_measured.volume)?;
    let tasks = tasks(book, &lines, prices, water_in_batch, &asked.measures)?;
    Ok(Batch {
        spec: spec.clone(),
        style: asked.style,
        days,
        serves,
        lines,
        water,
        water_in_batch,
        water_measured,
        liquid,
        measured,
        as_measured,
        pour,
        held_back: rest,
        single,
        in_glass: InGlass { served: glass.volume(), measured: glass.measured(), ethanol: glass.ethanol() },
        fill,
        packing,
        cold,
        keeps,
        tasks,
    })
}

fn serves_of(asked: &Asked<'_>, pour: Volume, fill: f64) -> Result<f64, ServiceError> {
    let most = Size::MOST_SERVES;
    let by_volume = |wanted: Volume| {
        if wanted < pour {
            Err(ServiceError::LessThanAServe { wanted, serve: pour })
        } else {
            Ok(wanted.ml() / pour.ml())
        }
    };
    let serves = match asked.size {
        Size::Serves(serves) => serves,
        Size::Volume(volume) => by_volume(volume)?,
        // As many as one needs of a size is one of it.
        Size::Containers => {
            let one = |v: &Vessel| Vessel { at_hand: Some(v.at_hand.unwrap_or(1)), ..v.clone() };
            let at_hand: Vec<Vessel> = asked.vessels.iter().map(one).collect();
            by_volume(room_at_hand(&at_hand, fill).unwrap_or(Volume::ZERO))?
        }
    };
    if serves.is_finite() && serves > 0.0 && serves <= f64::from(most) {
        Ok(serves)
    } else {
        Err(ServiceError::Serves { found: serves, most })
    }
}

fn fill_of(style: Style, liquid: &Parts, freezer: Temperature) -> Result<f64, ServiceError> {
    Ok(match style {
        Style::Freezer => freezing::safe_fill(liquid, freezer)?,
        Style::Tap => KEG_FILL,
        Style::Punch => BOWL_FILL,
        _ => MOST_FILL,
    })
}

/// What a freezer does to a serve, and the most water with which it still pours.
fn cold(before: &Parts, one: &Parts, water: Volume, at: Temperature) -> Result<Cold, ServiceError> {
    let frozen = freezing::at(one, at)?;
    let surely = Temperature::clamped(at.celsius() - UNCERTAIN_KELVIN);
    let with = |ml: f64| before.plus(&Parts::water(Volume::clamped(ml)));
    let pours = |ml: f64| Ok::<_, ServiceError>(freezing::pours(&with(ml), at)? == Pours::Freely);
    let most_water = if pours(water.ml())? {
        Some(water)
    } else if pours(0.0)? {
        let (mut low, mut high) = (0.0, water.ml());
        for _ in 0..50 {
            let middle = f64::midpoint(low, high);
            if pours(middle)? { low = middle } else { high = middle }
        }
        Some(Volume::clamped(low))
    } else {
        None
    };
    Ok(Cold {
        at,
        freezes_from: frozen.point.at,
        without_water: freezing::point(before)?.at,
        pours: freezing::pours(one, at)?,
        ice: frozen.share(),
        strength_to_pour: freezing::strength_to_pour(&one.contents(), surely),
        most_water,
        strength_with_it: most_water.map(|water| with(water.ml()).strength()),
    })
}

/// The batch as it is once everything is rounded.
fn as_measured(lines: &[BatchLine<'_>], water: Volume) -> Result<Measured, ServiceError> {
    let mut all = Parts::water(water);
    for line in lines {
        if let Some(makeup) = &line.line.ingredient.makeup {
            all = all.plus(&parts_of(makeup, line.measured.volume)?);
        }
    }
    Ok(all.measured())
}

fn tasks(
    book: &Book,
    lines: &[BatchLine<'_>],
    prices: &PriceList,
    water: Volume,
    measures: &Measures,
) -> Result<Vec<Task>, ServiceError> {
    let pricing = Pricing { book, prices, measures };
    let mut worth = Vec::new();
    for (place, line) in lines.iter().enumerate().filter(|(_, l)| l.in_batch > Volume::ZERO) {
        worth.push(Worth {
            line: place,
            ingredient: line.line.ingredient,
            role: line.line.role,
            cost: pricing.of(line.line.ingredient, Need::Volume(line.in_batch), 0)?,
        });
    }
    let tastes = lines.iter().any(|l| l.in_batch > Volume::ZERO && l.at_service.is_some());
    Ok(order(worth, water > Volume::ZERO, tastes))
}

//! Kinds of variant: what is done to a classic before the search, so that the search builds a long, a weak, a frozen one.
//!
//! Each kind reshapes the spec, moves the aim along and says what it did. What it promises (less sugar, no alcohol) is
//! checked on every variant found.

mod dish;
mod have;
mod ice;
mod length;
mod promise;
mod shape;
mod split;
mod strength;
mod sugar;
mod surprise;

use std::collections::BTreeSet;

use super::error::RiffError;
use crate::book::{Ingredient, Method};
use crate::drink::{Aim, Figures, House, NothingPoured, Spec, Unsolvable, figures};
use crate::measure::Volume;
use crate::pairing::{Filter, Graph};
pub use promise::{Figure, Kept, Promise};
use shape::Shape;

/// How long a drink is wanted, against the classic.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Length {
    /// More in the glass, and weaker.
    Longer,
    /// Less in the glass, and stronger.
    Shorter,
}

/// How strong a drink is wanted, against the classic.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Strong {
    /// About half.
    Half,
    /// No alcohol at all.
    None,
}

/// The kinds of variant that are asked for; of most, none.
#[derive(Debug, Clone, Default)]
pub struct Turns<'b> {
    /// Longer or shorter.
    pub length: Option<Length>,
    /// Weaker.
    pub strength: Option<Strong>,
    /// With less sugar.
    pub less_sugar: bool,
    /// A second base beside the first.
    pub split: Option<&'b Ingredient>,
    /// Blended with ice.
    pub frozen: bool,
    /// With something sparkling on top.
    pub sparkling: bool,
    /// What is on the plate beside it.
    pub dish: Vec<&'b Ingredient>,
    /// What is on the back bar; none for everything.
    pub have: Option<Vec<&'b Ingredient>>,
    /// A surprise, by its seed.
    pub surprise: Option<u64>,
    /// What must not be in it, asked beside.
    pub no: Vec<&'b Ingredient>,
    /// What everything in it must pass, asked beside.
    pub filter: Filter,
}

/// A kind of variant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Turn {
    /// No alcohol.
    NoAlcohol,
    /// Half the strength.
    HalfStrength,
    /// Less sugar.
    LessSugar,
    /// Two bases.
    SplitBase,
    /// More in the glass.
    Longer,
    /// Less in the glass.
    Shorter,
    /// Blended with ice.
    Frozen,
    /// Something sparkling on top.
    Sparkling,
    /// For a dish.
    ForDish,
    /// From what is there.
    BackBar,
    /// Drawn by a seed.
    Surprise,
}

impl Turn {
    /// Every kind, in the order in which they are done.
    pub const ALL: [Self; 11] = [
        Self::NoAlcohol,
        Self::HalfStrength,
        Self::LessSugar,
        Self::SplitBase,
        Self::Longer,
        Self::Shorter,
        Self::Frozen,
        Self::Sparkling,
        Self::ForDish,
        Self::BackBar,
        Self::Surprise,
    ];

    /// The words for it on screen and in JSON.
    pub const fn name(self) -> &'static str {
        match self {
            Self::NoAlcohol => "no alcohol",
            Self::HalfStrength => "half strength",
            Self::LessSugar => "less sugar",
            Self::SplitBase => "split base",
            Self::Longer => "longer",
            Self::Shorter => "shorter",
            Self::Frozen => "frozen",
            Self::Sparkling => "sparkling",
            Self::ForDish => "for the dish",
            Self::BackBar => "from the back bar",
            Self::Surprise => "surprise",
        }
    }
}

/// Why an ingredient left a drink.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gone {
    /// It holds alcohol.
    Alcohol,
    /// Its bubbles do not live through a blender.
    Bubbles,
    /// It is not on the back bar.
    NotHad,
    /// It clashes with the dish.
    Clashes,
}

/// One thing that was done to a classic.
#[derive(Debug, Clone, PartialEq)]
pub enum Done<'b> {
    /// One ingredient for another.
    Replaced {
        /// What went.
        from: &'b Ingredient,
        /// What came.
        to: &'b Ingredient,
    },
    /// A line more.
    Added {
        /// What came.
        what: &'b Ingredient,
        /// Beside what, if it shares its place.
        beside: Option<&'b Ingredient>,
    },
    /// A line or a garnish less.
    Dropped {
        /// What went.
        what: &'b Ingredient,
        /// Why.
        why: Gone,
    },
    /// More or less of a line, before the amounts are solved.
    Poured {
        /// Which.
        what: &'b Ingredient,
        /// The classic's.
        from: Volume,
        /// What the search starts at.
        to: Volume,
    },
    /// Another method.
    Method {
        /// The classic's.
        from: Method,
        /// What it is now.
        to: Method,
    },
    /// A figure that the amounts are to bring out, against the classic's.
    Aimed {
        /// Which.
        figure: Figure,
        /// The classic's.
        from: f64,
        /// What is aimed at.
        to: f64,
    },
    /// An ingredient to be worked in.
    WorkedIn {
        /// Which.
        what: &'b Ingredient,
    },
    /// The seed that was drawn by.
    Seed(u64),
    /// Everything new goes with one of these.
    GoesWith(Vec<&'b Ingredient>),
}

/// One kind of variant and what was done for it.
#[derive(Debug, Clone, PartialEq)]
pub struct TurnDone<'b> {
    /// Which kind.
    pub turn: Turn,
    /// What was done, in order.
    pub done: Vec<Done<'b>>,
}

/// A classic reshaped, ready for the search.
#[derive(Debug, Clone)]
pub struct Turned<'b> {
    /// The classic as it was.
    pub classic: Spec<'b>,
    /// Its figures.
    pub figures: Figures,
    /// The reshaped spec.
    pub spec: Spec<'b>,
    /// Which line of the classic each line of the reshaped spec still is; none for what came.
    pub stands_for: Vec<Option<usize>>,
    /// What a variant should come to.
    pub aim: Aim,
    /// Diets and allergens that everything must pass.
    pub filter: Filter,
    /// What must not be in it.
    pub no: Vec<&'b Ingredient>,
    /// What is to be worked in.
    pub with: Vec<&'b Ingredient>,
    /// What is on the plate.
    pub dish: Vec<&'b Ingredient>,
    /// What every variant must keep.
    pub promises: Vec<Promise>,
    /// What was done, kind by kind; empty where nothing was asked.
    pub turns: Vec<TurnDone<'b>>,
}

/// What the kinds work with.
struct Bench<'g, 'b, 'h> {
    graph: &'g Graph<'b>,
    house: &'h House,
    asked: &'h Turns<'b>,
}

/// Reshapes a classic for the kinds of variant that are asked for.
///
/// # Model
/// Kinds are done in the order of [`Turn::ALL`], each on what the one before left; docs/model.md says what each does.
/// Before a drink is given to the search, its amounts are solved once, and if that cannot keep what the kinds promise
/// the drink is refused.
///
/// # Errors
/// [`RiffError::Contradicts`] for two kinds that cannot go together, [`RiffError::Blocked`] for a kind that this drink
/// cannot be turned into, with what stands in the way.
pub fn turned<'b>(
    graph: &Graph<'b>,
    classic: &Spec<'b>,
    asked: &Turns<'b>,
    house: &House,
) -> Result<Turned<'b>, RiffError> {
    let unpoured = |NothingPoured| RiffError::Unsolvable(Unsolvable::NothingPoured);
    let before = figures(classic).map_err(unpoured)?;
    contradictions(asked)?;
    let bench = Bench { graph, house, asked };
    let mut shape = Shape::of(classic, before, asked);
    let mut turns = Vec::new();
    for turn in Turn::ALL.into_iter().filter(|t| asked.asks(*t)) {
        shape.begin(turn);
        match turn {
            Turn::NoAlcohol => strength::none(&mut shape, &bench)?,
            Turn::HalfStrength => strength::half(&mut shape, &bench)?,
            Turn::LessSugar => sugar::less(&mut shape, &bench)?,
            Turn::SplitBase => split::split(&mut shape, &bench)?,
            Turn::Longer => length::longer(&mut shape, &bench)?,
            Turn::Shorter => length::shorter(&mut shape, &bench)?,
            Turn::Frozen => ice::frozen(&mut shape, &bench)?,
            Turn::Sparkling => ice::sparkling(&mut shape, &bench)?,
            Turn::ForDish => dish::agree(&mut shape, &bench)?,
            Turn::BackBar => have::only(&mut shape, &bench)?,
            Turn::Surprise => surprise::draw(&mut shape, &bench)?,
        }
        turns.push(TurnDone { turn, done: shape.end() });
    }
    if !turns.is_empty() {
        shape.must_keep(&bench)?;
    }
    Ok(shape.finish(classic, turns, &asked.dish))
}

impl Turns<'_> {
    fn asks(&self, turn: Turn) -> bool {
        match turn {
            Turn::NoAlcohol => self.strength == Some(Strong::None),
            Turn::HalfStrength => self.strength == Some(Strong::Half),
            Turn::LessSugar => self.less_sugar,
            Turn::SplitBase => self.split.is_some(),
            Turn::Longer => self.length == Some(Length::Longer),
            Turn::Shorter => self.length == Some(Length::Shorter),
            Turn::Frozen => self.frozen,
            Turn::Sparkling => self.sparkling,
            Turn::ForDish => !self.dish.is_empty(),
            Turn::BackBar => self.have.is_some(),
            Turn::Surprise => self.surprise.is_some(),
        }
    }

    /// Whether nothing at all is asked.
    pub fn is_empty(&self) -> bool {
        Turn::ALL.into_iter().all(|turn| !self.asks(turn))
    }
}

/// Kinds that cannot go together, and why.
const AGAINST: [(Turn, Turn, &str); 6] = [
    (Turn::Longer, Turn::Frozen, "a blended drink has no room for a lengthener"),
    (Turn::Frozen, Turn::Sparkling, "bubbles do not live through a blender"),
    (Turn::Shorter, Turn::Sparkling, "what sparkles on top makes a drink longer"),
    (Turn::Shorter, Turn::HalfStrength, "a shorter drink is a stronger one"),
    (
        Turn::Shorter,
        Turn::NoAlcohol,
        "a shorter drink is a stronger one, and there is no alcohol to be stronger",
    ),
    (Turn::NoAlcohol, Turn::SplitBase, "two bases are two spirits"),
];

fn contradictions(asked: &Turns<'_>) -> Result<(), RiffError> {
    let against = AGAINST.iter().find(|(one, other, _)| asked.asks(*one) && asked.asks(*other));
    match against {
        Some((one, other, why)) => Err(RiffError::Contradicts { one: one.name(), other: other.name(), why }),
        None => Ok(()),
    }
}

/// The ids of a set.
fn ids<'i>(set: &[&'i Ingredient]) -> BTreeSet<&'i str> {
    set.iter().map(|i| i.id.as_str()).collect()
}

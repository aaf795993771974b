//! A person's own drink brought nearer to what they want, on the marks of their jigger.

mod lines;

use thiserror::Error;

use self::lines::{Lines, pour_line};

use super::amounts::{Aim, Blocked, Direction, Frees, Held, Limit, Palate, Puzzle, Unsolvable};
use super::figures::{Figures, NothingPoured, figures};
use super::house::House;
use super::spec::{Line, Spec};
use super::wish::Wish;
use crate::book::{Method, Role};
use crate::measure::{Mass, Unit, Volume};

/// How far a wish goes, in just-noticeable differences: what it aims at, and what it must come to at least.
const WISHED: f64 = 2.0;
const AT_LEAST: f64 = 1.0;
/// The same for what is in the glass, as shares.
const WISHED_GLASS: f64 = 0.20;
const AT_LEAST_GLASS: f64 = 0.08;
/// From so much salt on, g/L, a line is salty.
const SALTY: f64 = 10.0;
/// What may be above a limit on alcohol, g: less than is shown.
const SHOWN_G: f64 = 0.05;

/// What is asked of a drink.
#[derive(Debug, Clone)]
pub struct Tune<'b> {
    /// The drink, in the house's pours.
    pub spec: Spec<'b>,
    /// How it should be other than it is.
    pub wishes: Vec<Wish>,
    /// Lines that stay, by place; at an amount if one is given.
    pub keep: Vec<(usize, Option<Volume>)>,
    /// Most and least of lines, by place.
    pub most: Vec<(usize, Volume)>,
    /// Least of lines, by place.
    pub least: Vec<(usize, Volume)>,
    /// The glass it must fit.
    pub glass: Option<Glass>,
    /// Most ethanol in it.
    pub alcohol: Option<Mass>,
    /// Whether what is written in equal parts may come out otherwise.
    pub uneven: bool,
    /// What the taster notices.
    pub palate: Palate,
    /// How many answers.
    pub count: usize,
}

impl<'b> Tune<'b> {
    /// The same with the bases kept; none where that is not what a bartender would try first.
    fn with_its_bases(&self) -> Option<Tune<'b>> {
        let of_taste =
            |w: &Wish| matches!(w.moves().0, Held::Taste(direction) if direction != Direction::Strength);
        if self.wishes.is_empty() || !self.wishes.iter().all(of_taste) {
            return None;
        }
        if self.glass.is_some() || self.alcohol.is_some() || self.spec.equal_parts().is_some() {
            return None;
        }
        let said =
            |at: usize| [&self.most, &self.least].iter().any(|all| all.iter().any(|(line, _)| *line == at));
        let bases = self.spec.lines.iter().enumerate().filter(|(_, line)| line.role == Role::Base);
        let bases = bases.map(|(at, _)| at).filter(|at| !said(*at) && self.keep.iter().all(|(l, _)| l != at));
        let keep = self.keep.iter().copied().chain(bases.map(|at| (at, None))).collect();
        Some(Tune { keep, ..self.clone() })
    }
}

impl Tune<'_> {
    /// Whether a line moves unasked: dashes and drops only where it should be more or less bitter, and nothing salty,
    /// for salt is not weighed.
    fn may_move(&self, line: &Line<'_>) -> bool {
        let by_dash = matches!(line.amount.unit(), Unit::Dash | Unit::Drop);
        let salty = line.ingredient.makeup.is_some_and(|m| m.salt.grams_per_litre() >= SALTY);
        let bitter = self.wishes.iter().any(|w| matches!(w, Wish::Bitterer | Wish::Milder));
        !salty && (bitter || !by_dash)
    }

    /// What a line is called.
    fn name_of(&self, line: usize) -> String {
        self.spec.lines[line].ingredient.name.clone()
    }

    /// Whether nothing would be other than it is.
    pub fn asks_nothing(&self) -> bool {
        self.wishes.is_empty()
            && self.keep.iter().all(|(_, amount)| amount.is_none())
            && self.most.is_empty()
            && self.least.is_empty()
            && self.glass.is_none()
            && self.alcohol.is_none()
    }
}

/// A glass, and how much of a drink it takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Glass {
    /// To the rim.
    pub rim: Volume,
    /// Whether it is full of ice.
    pub on_ice: bool,
}

impl Glass {
    /// What stays free below the rim, as a share: *common practice, no source*.
    const FREE: f64 = 0.1;
    /// What ice leaves of the rest, as a share: *common practice, no source*.
    const BESIDE_ICE: f64 = 0.5;
    /// Glasses that the trade fills with ice.
    const ICED: [&'static str; 3] = ["rocks", "highball", "julep cup"];

    /// The glass for a drink: full of ice if it is built, or comes in one that is.
    pub fn for_drink(rim: Volume, spec: &Spec<'_>) -> Self {
        let on_ice = spec.method == Method::Built
            || (spec.method != Method::NoIce && Self::ICED.contains(&spec.glass.as_str()));
        Self { rim, on_ice }
    }

    /// How much of a drink it takes.
    pub fn takes(&self) -> Volume {
        let beside = if self.on_ice { Self::BESIDE_ICE } else { 1.0 };
        Volume::clamped(self.rim.ml() * (1.0 - Self::FREE) * beside)
    }
}

/// A drink that was tuned.
#[derive(Debug, Clone)]
pub struct TunedDrink<'b> {
    /// With its amounts.
    pub spec: Spec<'b>,
    /// What it comes to.
    pub figures: Figures,
    /// How far that is from the aim, in just-noticeable differences.
    pub distance: f64,
}

/// What became of equal parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Equal {
    /// They stayed.
    Stay,
    /// They were let go, since a wish of taste cannot be had with them.
    LetGo,
}

/// A drink and what became of it.
#[derive(Debug, Clone)]
pub struct Tuned<'b> {
    /// As it was.
    pub before: Spec<'b>,
    /// What that came to.
    pub figures: Figures,
    /// What was aimed at.
    pub aim: Aim,
    /// Best first; never empty.
    pub drinks: Vec<TunedDrink<'b>>,
    /// What became of equal parts; none if it is not in any, or they might go.
    pub equal: Option<Equal>,
    /// How many combinations of amounts there were, and how many had to be mixed.
    pub amounts: (u64, u64),
}

/// A change that alone would make it possible.
#[derive(Debug, Clone, PartialEq)]
pub enum WayOut {
    /// Less of a wish.
    LessOf {
        /// Which.
        wish: Wish,
        /// The figure that can be had, in its unit.
        to: f64,
        /// The figure that was asked for at least, or at most.
        asked: f64,
    },
    /// A bigger glass.
    Glass {
        /// To the rim.
        rim: Volume,
    },
    /// More alcohol.
    Alcohol {
        /// How much.
        most: Mass,
    },
    /// Another amount of a line that was locked or limited.
    Line {
        /// Which, by place.
        line: usize,
        /// The nearest amount that would do.
        to: Volume,
    },
    /// Equal parts given up.
    Uneven,
}

/// Why a drink cannot be tuned so.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum CannotTune {
    /// It has no figures.
    #[error(transparent)]
    NothingPoured(#[from] NothingPoured),
    /// Two wishes against each other.
    #[error("{one} and {other} at once cannot be", one = .0.name(), other = .1.name())]
    Contradiction(Wish, Wish),
    /// There is nothing of it to take away.
    #[error("there is hardly any {} in it, so it can't be {}", .0.of(), .0.name())]
    NothingOfIt(Wish),
    /// A line that has no volume, or is too small to move.
    #[error("{name} has no amount that could be changed")]
    NoAmount {
        /// Its name.
        name: String,
    },
    /// A line whose limits leave nothing to pour.
    #[error("no mark of the jigger lies within what was said of {name}")]
    NoPour {
        /// Its name.
        name: String,
    },
    /// Nothing in it can be poured otherwise.
    #[error("nothing in it has another amount on the marks of this jigger")]
    NothingMoves,
    /// Not everything that was asked can be had at once.
    #[error("no amounts do all of that")]
    Blocked {
        /// What would do, each alone; empty if it takes two changes at least.
        ways: Vec<WayOut>,
    },
}

/// The amounts that bring a drink nearest to what is asked of it.
///
/// # Model
/// The aim is the drink's own figures, moved by two just-noticeable differences where a wish says so (a fifth of the
/// glass for longer and shorter); one (a twelfth) must come of it. Lines may go from half of what they are to half as
/// much again, in pours of the house; dashes and barspoons as whole counts. Where only the taste is to change,
/// the base stays as it is if that can be, but in equal parts. All lines that are poured in equal amounts
/// stay so unless it may come out uneven. Exact, see [`Puzzle::solve`].
///
/// # Errors
/// [`CannotTune`]; where limits stand in the way, with each change that alone would free them.
pub fn tune<'b>(asked: &Tune<'b>, house: &House) -> Result<Tuned<'b>, CannotTune> {
    match asked.with_its_bases().map(|with| best_amounts(&with, house)) {
        // Where the taste alone is to change, the base stays if it can.
        Some(Ok(found)) => Ok(found),
        _ => best_amounts(asked, house),
    }
}

fn best_amounts<'b>(asked: &Tune<'b>, house: &House) -> Result<Tuned<'b>, CannotTune> {
    let own = figures(&asked.spec)?;
    let (aim, wished) = aim(asked, &own)?;
    let lines = Lines::of(asked, house)?;
    if lines.free.is_empty() {
        return Err(CannotTune::NothingMoves);
    }
    let parts = equal_parts(asked, &lines.places);
    // All lines equal taste the same however much is poured.
    let tastes = asked.wishes.iter().any(|w| matches!(w.moves().0, Held::Taste(_)));
    let lets_go = tastes && parts.as_ref().is_some_and(|parts| parts.len() == lines.free.len());
    let equal = parts.as_ref().map(|_| if lets_go { Equal::LetGo } else { Equal::Stay });
    let (glass, alcohol) = (asked.glass, asked.alcohol);
    let besides = glass.map(|g| Limit::Most(Held::Glass, g.takes().ml()));
    let besides = besides.into_iter().chain(alcohol.map(|a| Limit::Most(Held::Alcohol, a.grams() + SHOWN_G)));
    let puzzle = Puzzle {
        limits: wished.iter().map(|(_, limit)| *limit).chain(besides).collect(),
        lifted: lines.lifted,
        equal: parts.filter(|_| !lets_go).into_iter().collect(),
        ..Puzzle::new(lines.free, lines.fixed, asked.spec.over_ice(), aim)
    };
    let solved = puzzle.solve(asked.count).map_err(|why| match why {
        Unsolvable::NoPour { line } => CannotTune::NoPour { name: asked.name_of(lines.places[line - 1]) },
        Unsolvable::NothingPoured => NothingPoured.into(),
        Unsolvable::Blocked(Blocked { frees }) => CannotTune::Blocked {
            ways: frees.iter().map(|frees| way_out(frees, &wished, &lines.places, asked)).collect(),
        },
    })?;
    let drinks = solved.best.iter().map(|solution| {
        let mut spec = asked.spec.clone();
        for (place, pour) in lines.places.iter().zip(&solution.pours) {
            pour_line(&mut spec.lines[*place], *pour, house);
        }
        let figures = figures(&spec)?;
        Ok(TunedDrink { spec, figures, distance: solution.distance })
    });
    Ok(Tuned {
        drinks: drinks.collect::<Result<_, NothingPoured>>()?,
        before: asked.spec.clone(),
        figures: own,
        aim,
        equal,
        amounts: (solved.combinations, solved.mixed),
    })
}

/// What is aimed at, and what each wish must come to.
fn aim(asked: &Tune<'_>, own: &Figures) -> Result<(Aim, Vec<(Wish, Limit)>), CannotTune> {
    let mut aim = Aim::of(own).tasted_by(asked.palate);
    let steps = aim.steps();
    let mut limits = Vec::new();
    for (index, wish) in asked.wishes.iter().enumerate() {
        let (held, up) = wish.moves();
        let before = &asked.wishes[..index];
        if let Some(other) = before.iter().find(|w| w.moves() == (held, !up)) {
            return Err(CannotTune::Contradiction(*other, *wish));
        }
        if before.contains(wish) {
            continue;
        }
        let (figure, wished, least) = match held {
            Held::Taste(direction) => {
                let step = steps[direction as usize];
                (aim.taste_mut(direction), WISHED * step, AT_LEAST * step)
            }
            Held::Glass | Held::Alcohol => {
                let served = aim.served;
                (&mut aim.served, WISHED_GLASS * served, AT_LEAST_GLASS * served)
            }
        };
        if !up && *figure < least {
            return Err(CannotTune::NothingOfIt(*wish));
        }
        let from = *figure;
        *figure = if up { from + wished } else { (from - wished).max(0.0) };
        let limit = if up { Limit::Least(held, from + least) } else { Limit::Most(held, from - least) };
        limits.push((*wish, limit));
    }
    Ok((aim, limits))
}

/// The free lines, by their own places, that are parts of a drink in equal parts.
fn equal_parts(asked: &Tune<'_>, places: &[usize]) -> Option<Vec<usize>> {
    let parts = asked.spec.equal_parts().filter(|_| !asked.uneven)?;
    let group: Vec<usize> = (0..places.len()).filter(|free| parts.contains(&places[*free])).collect();
    (group.len() > 1).then_some(group)
}

fn way_out(frees: &Frees, wished: &[(Wish, Limit)], places: &[usize], asked: &Tune<'_>) -> WayOut {
    match frees {
        Frees::Limit { from, to } => {
            let (Limit::Most(held, end) | Limit::Least(held, end)) = *to;
            if let Some((wish, limit)) = wished.iter().find(|(_, limit)| limit == from) {
                let (Limit::Most(_, asked) | Limit::Least(_, asked)) = *limit;
                return WayOut::LessOf { wish: *wish, to: end, asked };
            }
            match (held, asked.glass) {
                (Held::Glass, Some(glass)) => {
                    let share = glass.takes().ml() / glass.rim.ml();
                    WayOut::Glass { rim: Volume::clamped(end / share) }
                }
                _ => WayOut::Alcohol { most: Mass::clamped(end) },
            }
        }
        Frees::Line { line, to } => WayOut::Line { line: places[*line], to: to.volume },
        Frees::Uneven => WayOut::Uneven,
    }
}

//! How far a drink is from its aim, direction by direction.

use super::amounts::Aim;
use super::figures::Figures;
use crate::measure::{Concentration, Strength};

/// One direction in which a drink can be off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Difference {
    /// What the drink comes to.
    pub figure: f64,
    /// What it should come to.
    pub aim: f64,
    /// What a taster just notices here, in the figure's own unit.
    pub step: f64,
    /// How many of these steps it is off.
    pub noticed: f64,
}

/// Strength (% vol), sugar (g/L) and acid (g/L) of a drink against an aim. What is noticed adds up to
/// [`Aim::distance`].
pub fn differences(aim: &Aim, figures: &Figures) -> [Difference; 3] {
    let at = |aim: &Aim| Figures {
        strength: Strength::clamped(aim.strength),
        sugar: Concentration::clamped(aim.sugar),
        acid: Concentration::clamped(aim.acid),
        ..*figures
    };
    let (right, own) = (at(aim), Aim::of(figures));
    // What is off elsewhere than in these three is in all of them alike.
    let elsewhere = aim.distance(&right);
    let one = |figure: f64, aimed: f64, only: Figures, past: Aim| Difference {
        figure,
        aim: aimed,
        // A drink one unit past the aim is off by one over the step.
        step: 1.0 / (aim.distance(&at(&past)) - elsewhere),
        noticed: aim.distance(&only) - elsewhere,
    };
    [
        one(
            own.strength,
            aim.strength,
            Figures { strength: figures.strength, ..right },
            Aim { strength: aim.strength + 1.0, ..*aim },
        ),
        one(
            own.sugar,
            aim.sugar,
            Figures { sugar: figures.sugar, ..right },
            Aim { sugar: aim.sugar + 1.0, ..*aim },
        ),
        one(
            own.acid,
            aim.acid,
            Figures { acid: figures.acid, ..right },
            Aim { acid: aim.acid + 1.0, ..*aim },
        ),
    ]
}

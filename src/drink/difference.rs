//! How far a drink is from its aim, direction by direction.

use super::amounts::{Aim, Direction};
use super::figures::Figures;

/// How far a drink is off in one direction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Difference {
    /// What the drink comes to.
    pub figure: f64,
    /// What it should come to.
    pub aim: f64,
    /// What a taster just notices here, in the figure's own unit.
    pub step: f64,
    /// How many of these steps it is off; below 0 where it has less.
    pub signed: f64,
}

impl Difference {
    /// How many steps it is off, either way.
    pub fn noticed(&self) -> f64 {
        self.signed.abs()
    }
}

/// Strength (% vol), sugar (g/L), acid (g/L) and bitterness (points) of a drink against an aim. What is noticed adds up to
/// [`Aim::distance`].
pub fn differences(aim: &Aim, figures: &Figures) -> [Difference; 4] {
    let (values, steps, own) = (aim.values(), aim.steps(), Aim::of(figures).values());
    Direction::ALL.map(|direction| {
        let at = direction as usize;
        let (figure, aim, step) = (own[at], values[at], steps[at]);
        Difference { figure, aim, step, signed: (figure - aim) / step }
    })
}

//! Puzzles drawn by seed from the built-in pack's ingredients, for the tests and the bench of the solver of amounts.
#![allow(dead_code, reason = "the bench uses some of it, the tests all")]

use fastrand::Rng;
use medlar::book::{Book, Ingredient, Role};
use medlar::drink::{Aim, Direction, Free, Held, Limit, Mixing, Palate, Puzzle};
use medlar::liquid::Melt;
use medlar::measure::{Jigger, Pour, Volume};

/// Ingredients and what is asked of them.
#[derive(Debug, Clone)]
pub(crate) struct Drawn<'b> {
    /// One for each free line.
    pub(crate) ingredients: Vec<&'b Ingredient>,
    /// How it meets ice.
    pub(crate) melt: Melt,
    /// The puzzle.
    pub(crate) puzzle: Puzzle<'b>,
}

/// What may be poured: liquids that a book knows the makeup of.
pub(crate) fn liquids(book: &Book) -> Vec<&Ingredient> {
    book.ingredients().iter().filter(|i| i.makeup.as_ref().is_some_and(|m| !m.solid)).collect()
}

/// Whether a line of it goes in after the ice.
pub(crate) fn lengthens(ingredient: &Ingredient) -> bool {
    ingredient.roles.contains(&Role::Lengthener) || ingredient.makeup.is_some_and(|m| m.carbonated)
}

/// So many lines with so many pours each, around a usual amount; the aim is that of some other drink.
pub(crate) fn drawn<'b>(
    rng: &mut Rng,
    liquids: &[&'b Ingredient],
    lines: usize,
    pours: (usize, usize),
) -> Drawn<'b> {
    let jigger = Jigger::ounces();
    let marks = jigger.pourable(Volume::clamped(7.0), Volume::clamped(90.0));
    let pick = |rng: &mut Rng| liquids[rng.usize(..liquids.len())];
    let ingredients: Vec<&Ingredient> = (0..lines).map(|_| pick(rng)).collect();
    let free = ingredients
        .iter()
        .map(|ingredient| {
            let count = rng.usize(pours.0..=pours.1).min(marks.len());
            let first = rng.usize(..=marks.len() - count);
            let pours: Vec<Pour> = marks[first..first + count].to_vec();
            let usual = pours[rng.usize(..pours.len())].volume;
            let makeup = ingredient.makeup.as_ref().expect("liquids have one");
            Free { makeup, lengthens: lengthens(ingredient), pours, usual }
        })
        .collect();
    let melts = [Melt::Stirred, Melt::Shaken, Melt::BuiltShort, Melt::BuiltLong, Melt::Blended, Melt::None];
    let melt = melts[rng.usize(..melts.len())];
    let up_to = |rng: &mut Rng, most: f64| rng.f64() * most;
    let aim = Aim {
        strength: up_to(rng, 35.0),
        sugar: up_to(rng, 150.0),
        acid: up_to(rng, 12.0),
        bitterness: up_to(rng, 20.0),
        served: 40.0 * lines as f64 + up_to(rng, 60.0),
        palate: Palate::default(),
    };
    Drawn { ingredients, melt, puzzle: Puzzle::new(free, Vec::new(), melt.into(), aim) }
}

impl Drawn<'_> {
    /// The same with a limit or two drawn, and perhaps two lines that stay equal.
    pub(crate) fn limited(mut self, rng: &mut Rng) -> Self {
        let held = [
            (Held::Glass, 60.0, 300.0),
            (Held::Alcohol, 4.0, 40.0),
            (Held::Taste(Direction::Strength), 2.0, 30.0),
            (Held::Taste(Direction::Sugar), 5.0, 200.0),
            (Held::Taste(Direction::Acid), 0.5, 15.0),
            (Held::Taste(Direction::Bitterness), 0.5, 15.0),
        ];
        for _ in 0..rng.usize(1..=2) {
            let (held, least, most) = held[rng.usize(..held.len())];
            let end = least + rng.f64() * (most - least);
            let limit = if rng.bool() { Limit::Most(held, end) } else { Limit::Least(held, end) };
            self.puzzle.limits.push(limit);
        }
        let free = &self.puzzle.free;
        if free.len() > 1 && rng.u8(..3) == 0 {
            let both = |p: &Pour| free[1].pours.contains(p);
            if free[0].pours.iter().any(both) {
                self.puzzle.equal.push(vec![0, 1]);
            }
        }
        // One line that somebody has locked.
        let line = rng.usize(..free.len());
        if !self.puzzle.equal.iter().any(|group| group.contains(&line)) && rng.bool() {
            let all = self.puzzle.free[line].pours.clone();
            self.puzzle.free[line].pours = vec![all[rng.usize(..all.len())]];
            self.puzzle.lifted.push((line, all));
        }
        self
    }

    /// The same as a coaster reckons, over ice that adds the same whatever the strength.
    pub(crate) fn summed(mut self) -> Self {
        if matches!(self.melt, Melt::Stirred | Melt::Shaken) {
            self.melt = Melt::BuiltShort;
        }
        self.puzzle.ice = self.melt.into();
        self.puzzle.mixing = Mixing::Summed;
        self
    }
}

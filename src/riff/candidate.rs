//! A candidate: a drink with its changes, before and after its amounts are found.

use std::collections::BTreeSet;

use super::error::RiffError;
use super::harmony::Harmony;
use super::score::Score;
use crate::book::{Allergen, Book, Ingredient, Kind, Presence};
use crate::drink::{Aim, Figures, Fixed, Free, House, Puzzle, Spec, Unsolvable, figures};
use crate::measure::{Pour, Volume};

/// One thing that is other than in the classic.
#[derive(Debug, Clone)]
pub enum Change<'b> {
    /// A swap that was asked for.
    Asked {
        /// What went.
        from: &'b Ingredient,
        /// What came.
        to: &'b Ingredient,
    },
    /// A form of a wanted ingredient in a line's place.
    Worked {
        /// What went.
        from: &'b Ingredient,
        /// What came.
        to: &'b Ingredient,
    },
    /// A filler that the graph suggests, or that was needed since the classic's own is ruled out.
    Instead {
        /// What went.
        from: &'b Ingredient,
        /// What came.
        to: &'b Ingredient,
        /// How alike they are, 0 to 1.
        likeness: f64,
    },
    /// A second base beside the first.
    Split {
        /// The first base.
        base: &'b Ingredient,
        /// The second.
        second: &'b Ingredient,
    },
    /// A line more.
    Added {
        /// What came.
        what: &'b Ingredient,
    },
    /// Fresh fruit crushed in the tin: a line more, of what its pieces give.
    Muddled {
        /// The fruit.
        fruit: &'b Ingredient,
        /// How many pieces, in quarters.
        pieces: f64,
        /// What they give.
        gives: &'b Ingredient,
    },
    /// Another garnish.
    Garnish {
        /// What it is.
        what: &'b Ingredient,
    },
    /// More or less of a line that stays.
    Amount {
        /// Which.
        what: &'b Ingredient,
        /// The classic's own.
        from: Volume,
        /// The variant's.
        to: Volume,
    },
}

impl Change<'_> {
    /// Whether it brings this in because it was wanted.
    pub(super) fn works_in(&self, ingredient: &Ingredient) -> bool {
        match self {
            Self::Worked { to: came, .. }
            | Self::Split { second: came, .. }
            | Self::Added { what: came }
            | Self::Muddled { gives: came, .. } => came.id == ingredient.id,
            Self::Asked { .. } | Self::Instead { .. } | Self::Garnish { .. } | Self::Amount { .. } => false,
        }
    }
}

/// A variant of a classic, with everything that is to be said of it.
#[derive(Debug, Clone)]
pub struct Riff<'b> {
    /// The drink.
    pub spec: Spec<'b>,
    /// Its figures.
    pub figures: Figures,
    /// How far it is from the classic's own strength, sugar and acid, in just-noticeable differences.
    pub distance: f64,
    /// What changed.
    pub changes: Vec<Change<'b>>,
    /// How it goes together.
    pub harmony: Harmony<'b>,
    /// What of it comes and goes with the year, in itself or in what it is made from.
    pub seasons: Vec<(&'b Ingredient, Presence)>,
    /// Allergens that the classic does not bring.
    pub allergens_gained: BTreeSet<Allergen>,
    /// Allergens of the classic that it does not bring.
    pub allergens_lost: BTreeSet<Allergen>,
    /// What it is ranked by among riffs; a stand-in is ranked by its likeness.
    pub score: Score,
    /// How many combinations of amounts there were, and how many had to be mixed.
    pub amounts: (u64, u64),
}

/// A drink whose amounts are still the classic's.
#[derive(Debug, Clone)]
pub(super) struct Candidate<'b> {
    pub(super) spec: Spec<'b>,
    pub(super) changes: Vec<Change<'b>>,
    /// How many of the changes nobody asked for.
    pub(super) unasked: usize,
    /// The sum of likeness over those.
    pub(super) kinship: f64,
    /// Lines of the classic whose parts stay equal.
    pub(super) equal: Vec<usize>,
    /// The line of the classic that each line stands for; none for added ones.
    pub(super) stands_for: Vec<Option<usize>>,
}

impl<'b> Candidate<'b> {
    /// The classic itself.
    pub(super) fn unchanged(classic: &Spec<'b>) -> Self {
        Self {
            spec: classic.clone(),
            changes: Vec::new(),
            unasked: 0,
            kinship: 0.0,
            equal: classic.equal_parts().unwrap_or_default(),
            stands_for: (0..classic.lines.len()).map(Some).collect(),
        }
    }

    /// The puzzle of its amounts, each moving line with the pours that are given for it, and the lines that move.
    fn puzzle(
        &self,
        aim: Aim,
        pours: impl Fn((Volume, Volume), Volume, bool) -> Vec<Pour>,
    ) -> (Puzzle<'b>, Vec<usize>) {
        let (mut free, mut fixed, mut places) = (Vec::new(), Vec::new(), Vec::new());
        for (index, line) in self.spec.lines.iter().enumerate() {
            let (Some(makeup), Some(volume)) = (line.ingredient.makeup.as_ref(), line.volume) else {
                continue;
            };
            let lengthens = line.is_lengthener();
            match line.limits.filter(|_| line.moves()) {
                Some(limits) => {
                    let pours = pours(limits, volume, lengthens);
                    free.push(Free { makeup, lengthens, pours, usual: volume });
                    places.push(index);
                }
                None => fixed.push(Fixed { makeup, lengthens, volume }),
            }
        }
        (Puzzle::new(free, fixed, self.spec.over_ice(), aim), places)
    }

    /// No amounts bring it nearer to the aim than this, in just-noticeable differences: found without solving.
    pub(super) fn least_distance(&self, aim: Aim) -> f64 {
        // Whatever can be poured lies between these.
        let ends = |(least, most): (Volume, Volume), usual: Volume, _| {
            [least.min(usual), most.max(usual)].map(|volume| Pour { volume, marks: 1 }).to_vec()
        };
        self.puzzle(aim, ends).0.least_distance()
    }

    /// Finds the amounts that bring it nearest to the aim and puts them into the spec. Gives the distance, and how
    /// many combinations there were and were mixed.
    pub(super) fn solve(&mut self, aim: Aim, house: &House) -> Result<(f64, (u64, u64)), RiffError> {
        let (puzzle, places) =
            self.puzzle(aim, |limits, usual, lengthens| house.pours(limits, usual, lengthens));
        let is_part = |place: usize| self.stands_for[place].is_some_and(|own| self.equal.contains(&own));
        let parts: Vec<usize> = (0..places.len()).filter(|free| is_part(places[*free])).collect();
        // Where the parts have no amount in common, what is worked in does not come in equal parts.
        let solved = match (parts.len() > 1).then(|| Puzzle { equal: vec![parts], ..puzzle.clone() }) {
            Some(equal) => equal.solve(1).or_else(|_| puzzle.solve(1))?,
            None => puzzle.solve(1)?,
        };
        let combinations = (solved.combinations, solved.mixed);
        let best = solved.best.into_iter().next().ok_or(RiffError::Unsolvable(Unsolvable::NothingPoured))?;
        for (place, pour) in places.into_iter().zip(&best.pours) {
            let line = &mut self.spec.lines[place];
            if line.volume != Some(pour.volume) {
                line.volume = Some(pour.volume);
                line.amount = house.amount(pour.volume).unwrap_or(line.amount);
            }
        }
        Ok((best.distance, combinations))
    }

    /// Makes the finished riff of a solved candidate.
    pub(super) fn finish(
        mut self,
        classic: &Spec<'b>,
        harmony: Harmony<'b>,
        (distance, amounts): (f64, (u64, u64)),
        most: Score,
        house: &House,
        book: &'b Book,
    ) -> Result<Riff<'b>, RiffError> {
        let figures = figures(&self.spec).map_err(|_| RiffError::Unsolvable(Unsolvable::NothingPoured))?;
        for (line, place) in self.spec.lines.iter().zip(&self.stands_for) {
            let own = place.and_then(|p| classic.lines.get(p)).and_then(|l| l.volume);
            if let (Some(from), Some(to)) = (own, line.volume)
                && (from.ml() - to.ml()).abs() > 0.1
            {
                self.changes.push(Change::Amount { what: line.ingredient, from, to });
            }
        }
        let mut seasons: Vec<(&'b Ingredient, Presence)> = Vec::new();
        for ingredient in self.spec.ingredients() {
            // Nobody asks for the season of the grape in a sherry.
            let vinous = matches!(ingredient.kind, Kind::Wine | Kind::FortifiedWine | Kind::BeerAndCider);
            let from = book.sources_of(ingredient).filter(|_| !vinous);
            let all = std::iter::once(ingredient).chain(from).filter(|i| i.is_fresh_in(house.when.climate));
            for fresh in all {
                if !seasons.iter().any(|(known, _)| known.id == fresh.id) {
                    seasons.push((fresh, fresh.presence(house.when)));
                }
            }
        }
        let (had, has) = (classic.allergens(), self.spec.allergens());
        Ok(Riff {
            allergens_gained: has.difference(&had).copied().collect(),
            allergens_lost: had.difference(&has).copied().collect(),
            spec: self.spec,
            figures,
            distance,
            changes: self.changes,
            harmony,
            seasons,
            score: most.at_distance(distance),
            amounts,
        })
    }
}

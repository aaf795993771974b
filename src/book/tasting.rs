//! Tastings, and what they make of an affinity.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::bond::Bond;
use super::id::{IngredientId, TemplateId};
use super::origin::Origin;
use crate::measure::{Affinity, Grade, Score};

/// What was tasted.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TastedThing {
    /// Two ingredients, on their own.
    Pair(IngredientId, IngredientId),
    /// A drink of the book, by its id.
    Drink(TemplateId),
    /// A drink that is not in the book, as it was called.
    Other(String),
}

/// A pair of which a tasting tells, and how much: 1 for the pair itself, a share for one among others in a drink.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Told(
    /// One.
    pub IngredientId,
    /// The other.
    pub IngredientId,
    /// How much of the tasting counts for the pair.
    pub Grade,
);

/// One tasting: who tasted what, and how they liked it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tasting {
    /// Its name among the tastings: the day and a few letters.
    pub id: String,
    /// What was tasted.
    pub of: TastedThing,
    /// How it was liked.
    pub score: Score,
    /// In words.
    pub words: Option<String>,
    /// Who tasted.
    pub by: Option<String>,
    /// The day, as 2026-11-27.
    pub on: String,
    /// The pairs of which it tells, with their shares.
    pub told: Vec<Told>,
}

/// How many tastings an affinity of a pack is worth.
const PACK_WEIGHT: f64 = 4.0;
/// How many tastings an affinity that the house wrote down itself is worth.
const HOUSE_WEIGHT: f64 = 8.0;
/// How many tastings knowing nothing is worth, half of them good: the even prior, Beta(1, 1).
const EVEN_WEIGHT: f64 = 2.0;
/// Where a clash starts from.
const CLASH_MEAN: f64 = 0.1;
/// From which mean on a clash is one no longer.
const MADE_UP: f64 = 0.5;

/// What tastings have made of a pair.
///
/// # Model
/// How well two go together is a share `a`, of which one knows as much as a number of tastings tell: a Beta distribution
/// of mean `m` and weight `w`, which is Beta(`w·m`, `w·(1−m)`). A tasting with a score of `s` out of 10 that counts `h` adds `h·s/10`
/// to the first figure and `h·(1−s/10)` to the second. What is shown and used is the mean,
/// `(w·m + Σ h·s/10) / (w + Σ h)`. The prior is worth 4 tastings where the pack says it, 8 where the house wrote it down
/// itself, and 2 at 0.5 where nobody says anything; a clash starts from 0.1 and stays a clash until the mean is 0.5.
///
/// # Source
/// The rule is the conjugate prior of a share (Gelman, Carlin, Stern, Dunson, Vehtari, Rubin: Bayesian Data Analysis, 3rd ed., 2013,
/// section 2.4, *from memory*), with a score taken as a part of a success. The weights 4 and 8 and the 0.1 are ours.
///
/// ```
/// use medlar::book::{Bond, Origin, Tasted};
/// use medlar::measure::{Affinity, Score};
///
/// let mut tasted = Tasted::from(Some((Bond::Affinity(Affinity::new(0.7)?), Origin::Demo)));
/// for _ in 0..3 {
///     tasted.count(Score::new(9.5)?, 1.0);
/// }
/// assert_eq!(tasted.to_string(), "demo 0.70, 3 tastings, now 0.81");
/// # Ok::<(), medlar::measure::range::OutOfRange>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Tasted {
    /// What was said before anyone tasted.
    pub before: Option<(Bond, Origin)>,
    /// How many tastings tell of the pair.
    pub tastings: usize,
    /// How much they count together.
    pub weight: f64,
    liked: f64,
}

impl Tasted {
    /// Of a pair that nobody has tasted yet, from what the book says.
    pub fn from(before: Option<(Bond, Origin)>) -> Self {
        Self { before, tastings: 0, weight: 0.0, liked: 0.0 }
    }

    /// Counts a tasting, or a share of it.
    pub fn count(&mut self, score: Score, share: f64) {
        self.tastings += 1;
        self.weight += share;
        self.liked += share * score.points() / Score::RANGE.most;
    }

    fn prior(&self) -> (f64, f64) {
        match &self.before {
            None => (0.5, EVEN_WEIGHT),
            Some((bond, origin)) => {
                let mean = match bond {
                    Bond::Affinity(affinity) => affinity.value(),
                    Bond::Clash => CLASH_MEAN,
                };
                (mean, if *origin == Origin::House { HOUSE_WEIGHT } else { PACK_WEIGHT })
            }
        }
    }

    /// The mean after the tastings, 0 to 1.
    pub fn mean(&self) -> f64 {
        let (mean, weight) = self.prior();
        (weight * mean + self.liked) / (weight + self.weight)
    }

    /// What the two are to each other now.
    pub fn bond(&self) -> Bond {
        let mean = self.mean();
        let was_clash = matches!(self.before, Some((Bond::Clash, _)));
        if was_clash && mean < MADE_UP { Bond::Clash } else { Bond::Affinity(Affinity::clamped(mean)) }
    }
}

/// `demo 0.70, 3 tastings, now 0.81`.
impl fmt::Display for Tasted {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.before {
            None => write!(f, "not in the book")?,
            Some((bond, origin)) => {
                match origin {
                    Origin::House => write!(f, "house")?,
                    Origin::Demo => write!(f, "demo")?,
                    _ => write!(f, "pack")?,
                }
                match bond {
                    Bond::Affinity(affinity) => write!(f, " {:.2}", affinity.value())?,
                    Bond::Clash => write!(f, " clash")?,
                }
            }
        }
        let plural = if self.tastings == 1 { "" } else { "s" };
        write!(f, ", {} tasting{plural}, now ", self.tastings)?;
        match self.bond() {
            Bond::Affinity(affinity) => write!(f, "{:.2}", affinity.value()),
            Bond::Clash => write!(f, "still a clash"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn from(mean: f64, origin: Origin) -> Tasted {
        Tasted::from(Some((Bond::Affinity(Affinity::new(mean).unwrap()), origin)))
    }

    fn tasted(mut tasted: Tasted, scores: &[(f64, f64)]) -> Tasted {
        for (score, share) in scores {
            tasted.count(Score::new(*score).unwrap(), *share);
        }
        tasted
    }

    /// The mean of a Beta distribution is α/(α+β); one success adds 1 to α, one failure 1 to β (Bayesian Data Analysis,
    /// section 2.4, from memory). Even prior and 7 of 10: (1 + 7) / (2 + 10), the rule of succession of Laplace.
    #[test]
    fn an_even_prior_follows_the_rule_of_succession() {
        let scores: Vec<(f64, f64)> = (0..10).map(|n| (if n < 7 { 10.0 } else { 0.0 }, 1.0)).collect();
        let mean = tasted(Tasted::from(None), &scores).mean();
        assert!((mean - 8.0 / 12.0).abs() < 1e-12, "{mean}");
    }

    #[test]
    fn the_order_of_tastings_does_not_matter_and_shares_add_up() {
        let one = tasted(from(0.6, Origin::Demo), &[(9.0, 1.0), (2.0, 0.25), (7.0, 1.0)]);
        let other = tasted(from(0.6, Origin::Demo), &[(7.0, 1.0), (9.0, 1.0), (2.0, 0.25)]);
        assert!((one.mean() - other.mean()).abs() < 1e-12);
        let whole = tasted(from(0.6, Origin::Demo), &[(9.0, 1.0)]);
        let parts = tasted(from(0.6, Origin::Demo), &[(9.0, 0.25), (9.0, 0.75)]);
        assert!((whole.mean() - parts.mean()).abs() < 1e-12);
    }

    #[test]
    fn many_tastings_win_and_the_house_s_own_word_holds_longer() {
        let good: Vec<(f64, f64)> = vec![(10.0, 1.0); 200];
        assert!(tasted(from(0.2, Origin::Demo), &good).mean() > 0.98);
        let bad = [(0.0, 1.0); 3];
        let pack = tasted(from(0.9, Origin::Demo), &bad).mean();
        let house = tasted(from(0.9, Origin::House), &bad).mean();
        assert!(house > pack && house < 0.9, "{pack} {house}");
    }

    #[test]
    fn a_clash_is_one_until_it_is_liked_half_and_half() {
        let clash = || Tasted::from(Some((Bond::Clash, Origin::Demo)));
        assert_eq!(tasted(clash(), &[(10.0, 1.0); 3]).bond(), Bond::Clash);
        assert!(matches!(tasted(clash(), &[(10.0, 1.0); 4]).bond(), Bond::Affinity(_)));
        assert_eq!(tasted(clash(), &[(10.0, 1.0)]).to_string(), "demo clash, 1 tasting, now still a clash");
    }
}

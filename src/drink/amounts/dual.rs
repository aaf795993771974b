//! A cheap proof that nothing left can beat what is found: one sum a branch.

use super::aim::{A_FULL_GLASS, Aim};
use super::choice::Choice;
use super::glass::{InGlass, Range, Span};
use super::sums::Sums;

/// What one amount of one choice adds to the proof.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Term {
    /// Volume in the glass, ml, at least and at most.
    least: f64,
    most: f64,
    pub(super) sums: Sums,
    pub(super) pull: f64,
}

impl Term {
    pub(super) fn plus(&self, other: &Self) -> Self {
        Self {
            least: self.least + other.least,
            most: self.most + other.most,
            sums: self.sums.plus(&other.sums),
            pull: self.pull + other.pull,
        }
    }
}

/// Weights under which no drink that is left costs less than a given cost.
///
/// # Model
/// With weights w between −1 and 1, a drink costs at least Σ w (N/V − a)/s + pulls + the pull of the glass, N what it
/// carries, V what is in the glass, a the aim and s the just-noticeable difference. Times V that is
///
/// > Σ w N/s − (Σ w a/s) V + pulls V + w' (V − g) V/(0.15 g), to be no less than U V
///
/// for g what should be in the glass and U the cost to beat. The V of the pulls that are open is put at its least, V² below by a tangent or a
/// chord, and V between two linear forms of what is poured: then the whole is a sum with one term an amount, whose least is
/// found line by line. The weights are those that make this least greatest, by steps along the gradient; any weights prove
/// what they prove.
#[derive(Debug)]
pub(super) struct Dual<'p> {
    aim: &'p Aim,
    steps: [f64; 4],
    /// The least and the most in the glass.
    volumes: Span,
    fixed: Term,
    /// Of each open choice its amounts, and how many choices were made before them.
    terms: Vec<Vec<Term>>,
    before: usize,
    /// For each direction, and for the glass.
    weights: [f64; 5],
    /// How often they are bettered.
    turns: usize,
    /// What the weights come to: factors of what a term carries, of its volume, and what stands alone.
    carried: [f64; 4],
    volume: f64,
    least_volume: f64,
    constant: f64,
    /// The cost to beat, and that for which the weights were found.
    to_beat: f64,
    tuned_for: f64,
    /// The least of all choices from each on.
    rest: Vec<f64>,
}

/// How often weights are bettered: of the first proof, and of those that start from another's.
const TURNS: usize = 40;
const TURNS_NARROWED: usize = 8;
/// By what share the cost to beat must have fallen before they are bettered again.
const FALLEN: f64 = 0.8;
/// What rounding may do to a sum, ml times a cost.
const ROUNDING: f64 = 1e-6;

impl<'p> Dual<'p> {
    /// The proof for what is poured, and its pull, and the choices that are open; nothing is to beat yet.
    pub(super) fn new(
        aim: &'p Aim,
        glass: InGlass,
        (poured, pull): (Sums, f64),
        choices: &[Choice],
        open: &[Range],
    ) -> Self {
        let term = |sums: Sums, pull: f64| Term {
            least: glass.below.at(&sums),
            most: glass.above.at(&sums),
            sums,
            pull,
        };
        let terms = choices.iter().map(|c| c.steps.iter().map(|s| term(s.sums, s.pull)).collect());
        Self {
            aim,
            steps: aim.steps(),
            volumes: glass.span(&poured, open),
            fixed: term(poured, pull),
            rest: vec![f64::NEG_INFINITY; choices.len() + 1],
            terms: terms.collect(),
            before: 0,
            weights: [0.0; 5],
            turns: TURNS,
            carried: [0.0; 4],
            volume: 0.0,
            least_volume: 0.0,
            constant: 0.0,
            to_beat: f64::INFINITY,
            tuned_for: f64::INFINITY,
        }
    }

    /// The proof for more poured and fewer choices open. It starts from the same weights.
    pub(super) fn narrowed(
        &self,
        glass: InGlass,
        poured: (Sums, f64),
        choices: &[Choice],
        open: &[Range],
    ) -> Self {
        Self {
            weights: self.weights,
            turns: TURNS_NARROWED,
            before: self.before + self.terms.len() - choices.len(),
            ..Self::new(self.aim, glass, poured, choices, open)
        }
    }

    /// Of each open choice its amounts.
    pub(super) fn terms(&self) -> &[Vec<Term>] {
        &self.terms
    }

    /// An amount of a choice, by its place among all choices.
    pub(super) fn term(&self, choice: usize, amount: usize) -> &Term {
        &self.terms[choice - self.before][amount]
    }

    /// What stays, before anything is chosen.
    pub(super) fn fixed(&self) -> Term {
        self.fixed
    }

    /// About what a drink costs: its volume in the middle of its bounds.
    pub(super) fn about(&self, poured: &Term) -> f64 {
        let volume = f64::midpoint(poured.least, poured.most);
        if volume <= 0.0 {
            return f64::INFINITY;
        }
        let tastes = poured.sums.carried.map(|carried| carried / volume);
        self.aim.distance_of(&tastes) + poured.pull + self.aim.glass_pull(volume, volume)
    }

    /// Whether nothing that comes of so much poured, and any of the choices from `open` on, beats the cost.
    pub(super) fn rules_out(&self, poured: &Term, open: usize) -> bool {
        self.value(poured) + self.constant + self.rest[open - self.before] > ROUNDING
    }

    /// What an amount adds to the proof: the less, the more it promises.
    pub(super) fn value(&self, term: &Term) -> f64 {
        let carried: f64 = self.carried.iter().zip(term.sums.carried).map(|(factor, n)| factor * n).sum();
        carried
            + self.volume * if self.volume < 0.0 { term.most } else { term.least }
            + term.pull * self.least_volume
    }

    /// Takes note of the cost to beat.
    pub(super) fn beat(&mut self, cost: f64) {
        if !cost.is_finite() {
            return;
        }
        self.to_beat = cost;
        if cost < FALLEN * self.tuned_for {
            self.tune();
            self.tuned_for = cost;
        }
        self.weigh();
        let mut rest = 0.0;
        for at in (0..self.terms.len()).rev() {
            rest += self.least_of(at).0;
            self.rest[at] = rest;
        }
        if let Some(none) = self.rest.last_mut() {
            *none = 0.0;
        }
    }

    /// Goes back to no cost to beat; the weights stay.
    pub(super) fn forget(&mut self) {
        self.rest.fill(f64::NEG_INFINITY);
        (self.to_beat, self.tuned_for) = (f64::INFINITY, f64::INFINITY);
    }

    /// The least that an amount of a choice adds, and which.
    fn least_of(&self, choice: usize) -> (f64, usize) {
        let values = self.terms[choice].iter().map(|term| self.value(term)).enumerate();
        values.fold((f64::INFINITY, 0), |best, (index, v)| if v < best.0 { (v, index) } else { best })
    }

    /// Works out what the weights come to.
    fn weigh(&mut self) {
        let values = self.aim.values();
        // The pulls of what is poured are paid, whatever the volume.
        self.volume = self.fixed.pull - self.to_beat;
        for (d, value) in values.iter().enumerate() {
            self.carried[d] = self.weights[d] / self.steps[d];
            self.volume -= self.carried[d] * value;
        }
        let (weight, served) = (self.weights[4] / A_FULL_GLASS, self.aim.served);
        // A glass that is emptier costs more by itself.
        self.least_volume = self.volumes.0.max(served * (1.0 - A_FULL_GLASS * self.to_beat));
        self.constant = -self.fixed.pull * self.least_volume;
        if served > 0.0 && weight >= 0.0 {
            // (V − g) V ≥ (V − g) g
            self.volume += weight;
            self.constant -= weight * served;
        } else if served > 0.0 {
            // (g − V) V lies above its chord.
            let (least, most) = (self.least_volume, self.most_volume());
            self.volume -= weight / served * (served - least - most);
            self.constant -= weight / served * least * most;
        }
    }

    fn most_volume(&self) -> f64 {
        self.volumes.1.min(self.aim.served * (1.0 + A_FULL_GLASS * self.to_beat)).max(self.least_volume)
    }

    /// Betters the weights for the cost to beat.
    fn tune(&mut self) {
        let mut best = (f64::NEG_INFINITY, self.weights);
        for turn in 0..self.turns {
            self.weigh();
            let mut sum = self.fixed;
            for at in 0..self.terms.len() {
                sum = sum.plus(&self.terms[at][self.least_of(at).1]);
            }
            let least = self.value(&sum) + self.constant;
            if least > best.0 {
                best = (least, self.weights);
            }
            let volume = if self.volume < 0.0 { sum.most } else { sum.least };
            let (values, served) = (self.aim.values(), self.aim.served);
            let mut slope = [0.0; 5];
            for d in 0..4 {
                slope[d] = (sum.sums.carried[d] - values[d] * volume) / self.steps[d];
            }
            slope[4] = if served > 0.0 { (volume - served) / A_FULL_GLASS } else { 0.0 };
            let size = slope.iter().map(|s| s * s).sum::<f64>().sqrt();
            if size <= 0.0 {
                break;
            }
            let far = FIRST_STEP / (1.0 + turn as f64).sqrt();
            for (weight, slope) in self.weights.iter_mut().zip(slope) {
                *weight = (*weight + far * slope / size).clamp(-1.0, 1.0);
            }
        }
        self.weights = best.1;
    }
}

/// How far the first step along the gradient goes.
const FIRST_STEP: f64 = 1.0;

//! The best ways to fill the open lines of a drink, before any amounts are found: exact, by bounds. In numbers alone: what they
//! stand for is found out elsewhere.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use super::score::Score;

/// What may fill an open line, in numbers.
#[derive(Debug, Clone, Copy)]
pub struct Choice {
    /// How much it counts in the drink.
    pub weight: f64,
    /// What its pairs with the lines that stay carry: weight times affinity; −∞ where it may not stand beside one.
    pub carried: f64,
    /// The weights of those pairs.
    pub beside: f64,
    /// How like it is to the line's own, if nobody asked for it; none for the line's own.
    pub likeness: Option<f64>,
    /// What its season is worth.
    pub season: f64,
}

/// A drink with open lines, in numbers.
#[derive(Debug, Clone)]
pub struct Open {
    /// What the pairs of the lines that stay carry.
    pub carried: f64,
    /// The weights of those pairs.
    pub beside: f64,
    /// What counts whatever fills the lines.
    pub constant: f64,
    /// The choices for each open line.
    pub lines: Vec<Vec<Choice>>,
    /// For each two open lines, the earlier first: the affinities of their choices, row by row; −∞ where two may not
    /// stand together. In the order of [`Open::between`].
    pub affinities: Vec<Vec<f64>>,
}

/// One way to fill the open lines.
#[derive(Debug, Clone, PartialEq)]
pub struct Fill {
    /// Its score without the balance, which only lowers it.
    pub most: f64,
    /// Which drink.
    pub drink: usize,
    /// Which choice for each open line.
    pub picks: Vec<usize>,
}

impl Open {
    /// How many ways there are to fill it.
    pub fn combinations(&self) -> u64 {
        self.lines.iter().fold(1, |all, line| all.saturating_mul(line.len() as u64))
    }

    /// Where the affinities of two open lines stand, the earlier first.
    fn between(&self, one: usize, other: usize) -> usize {
        one * self.lines.len() - one * (one + 1) / 2 + other - one - 1
    }

    fn affinity(&self, one: usize, pick: usize, other: usize, other_pick: usize) -> f64 {
        self.affinities[self.between(one, other)][pick * self.lines[other].len() + other_pick]
    }

    /// The score of one way to fill it, without the balance; −∞ where two may not stand together.
    pub fn score(&self, picks: &[usize]) -> f64 {
        let chosen = self.lines.iter().zip(picks).map(|(line, pick)| &line[*pick]);
        self.harmony(picks) + chosen.fold(Extra::default(), Extra::with).worth() + self.constant
    }

    /// The mean affinity of one way to fill it.
    pub fn harmony(&self, picks: &[usize]) -> f64 {
        let (mut carried, mut beside) = (self.carried, self.beside);
        for (line, pick) in picks.iter().enumerate() {
            let choice = &self.lines[line][*pick];
            carried += choice.carried;
            beside += choice.beside;
            for (before, earlier) in picks[..line].iter().enumerate() {
                let weight = self.lines[before][*earlier].weight * choice.weight;
                let affinity = self.affinity(before, *earlier, line, *pick);
                carried += if affinity == f64::NEG_INFINITY { affinity } else { weight * affinity };
                beside += weight;
            }
        }
        mean(carried, beside)
    }
}

fn mean(carried: f64, beside: f64) -> f64 {
    if beside > 0.0 { carried / beside } else { carried.min(0.0) }
}

/// What choices are worth apart from their pairs.
#[derive(Debug, Clone, Copy, Default)]
struct Extra {
    likeness: f64,
    unasked: usize,
    season: f64,
}

impl Extra {
    fn with(self, choice: &Choice) -> Self {
        Self {
            likeness: self.likeness + choice.likeness.unwrap_or(0.0),
            unasked: self.unasked + usize::from(choice.likeness.is_some()),
            season: self.season + choice.season,
        }
    }

    fn worth(&self) -> f64 {
        let kinship = if self.unasked == 0 { 1.0 } else { self.likeness / self.unasked as f64 };
        Score::A_LIKENESS * kinship + Score::A_CHANGE * self.unasked as f64 + self.season
    }
}

/// What is asked of a search for fills.
#[allow(missing_debug_implementations, reason = "it holds a function")]
pub struct Wanted<'w> {
    /// How many.
    pub count: usize,
    /// At most so many changes that nobody asked for.
    pub unasked: usize,
    /// Whether a fill may be among them.
    pub allowed: &'w dyn Fn(usize, &[usize]) -> bool,
}

/// The best fills over several drinks, best first, and how many were looked at. Fewer than wanted only if there are no
/// more.
///
/// # Model
/// Depth first, one open line after another. With T the score of the last of the best so far and U the most that
/// likeness, novelty and season can add, a fill comes among the best only if its pairs carry more than λ = T − U on
/// average, that is, if the sum of weight · (affinity − λ) over all pairs is above nothing. Of what is not chosen yet,
/// every line is given its best such sum with what is chosen, and every two lines the best of their pairs: no fill
/// can do better, so where that is not above nothing, the rest of the branch is left out.
pub fn best(drinks: &[Open], wanted: &Wanted<'_>) -> (Vec<Fill>, u64) {
    let mut best = Best { wanted, fills: BinaryHeap::new(), looked: 0 };
    for (drink, open) in drinks.iter().enumerate() {
        Branches::new(drink, open).walk(&mut best);
    }
    (best.fills.into_sorted_vec().into_iter().map(|late| late.0).collect(), best.looked)
}

/// A fill, greatest where it comes last: less of a score, then the later in order.
#[derive(Debug, PartialEq)]
struct Late(Fill);

impl Eq for Late {}

impl PartialOrd for Late {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Late {
    fn cmp(&self, other: &Self) -> Ordering {
        let (one, two) = (&self.0, &other.0);
        two.most.total_cmp(&one.most).then_with(|| (one.drink, &one.picks).cmp(&(two.drink, &two.picks)))
    }
}

struct Best<'w> {
    wanted: &'w Wanted<'w>,
    /// The best so far, the last of them on top.
    fills: BinaryHeap<Late>,
    looked: u64,
}

impl Best<'_> {
    fn to_beat(&self) -> f64 {
        if self.fills.len() < self.wanted.count {
            f64::NEG_INFINITY
        } else {
            self.fills.peek().map_or(f64::INFINITY, |late| late.0.most)
        }
    }

    fn offer(&mut self, most: f64, drink: usize, picks: &[usize]) {
        self.looked += 1;
        if most == f64::NEG_INFINITY || most < self.to_beat() || !(self.wanted.allowed)(drink, picks) {
            return;
        }
        self.fills.push(Late(Fill { most, drink, picks: picks.to_vec() }));
        if self.fills.len() > self.wanted.count {
            self.fills.pop();
        }
    }
}

/// A rounding error that a bound may be too low by.
const SLACK: f64 = 1e-9;

/// The walk through one drink.
struct Branches<'o> {
    drink: usize,
    open: &'o Open,
    /// For each line, the greatest likeness and the best season from it on.
    later: Vec<(f64, f64)>,
    /// The λ of the bounds.
    least_mean: f64,
    /// For each two lines and each choice of the earlier, the best of its pairs with the later, and the best of all.
    best_pairs: Vec<(Vec<f64>, f64)>,
    picks: Vec<usize>,
    /// For each depth and each line, what each choice carries with what is chosen, and the weights of that.
    sums: Vec<Vec<Vec<(f64, f64)>>>,
}

impl<'o> Branches<'o> {
    fn new(drink: usize, open: &'o Open) -> Self {
        let mut later = vec![(0.0, 0.0)];
        for line in open.lines.iter().rev() {
            let (likest, season) = later[later.len() - 1];
            let own = line.iter().filter_map(|c| c.likeness).fold(0.0, f64::max);
            let best = line.iter().map(|c| c.season).fold(f64::NEG_INFINITY, f64::max);
            later.push((own.max(likest), season + best));
        }
        later.reverse();
        let first: Vec<Vec<(f64, f64)>> =
            open.lines.iter().map(|l| l.iter().map(|c| (c.carried, c.beside)).collect()).collect();
        Self {
            drink,
            open,
            later,
            least_mean: f64::NEG_INFINITY,
            best_pairs: Vec::new(),
            picks: Vec::new(),
            sums: vec![first; open.lines.len().max(1)],
        }
    }

    fn walk(&mut self, best: &mut Best<'_>) {
        // The drink as it is stands outside the bounds: its kinship is above any likeness.
        let own: Option<Vec<usize>> =
            self.open.lines.iter().map(|l| l.iter().position(|c| c.likeness.is_none())).collect();
        if let Some(own) = own {
            best.offer(self.open.score(&own), self.drink, &own);
        }
        if self.open.lines.iter().all(|l| !l.is_empty()) && !self.open.lines.is_empty() {
            self.go_on(self.open.carried, self.open.beside, Extra::default(), best);
        }
    }

    /// The most that likeness, novelty, season and the constant can come to once some lines are filled.
    fn most_extra(&self, line: usize, so_far: Extra) -> f64 {
        let (likest, season) = self.later[line];
        let rest = self.open.lines.len() - line;
        let all = so_far.unasked + rest;
        let mean = |likeness: f64, of: usize| if of == 0 { 0.0 } else { likeness / of as f64 };
        let kinship = mean(so_far.likeness, so_far.unasked)
            .max(mean(so_far.likeness + likest * rest as f64, all))
            .max(if so_far.unasked == 0 { likest } else { 0.0 });
        Score::A_LIKENESS * kinship
            + Score::A_CHANGE * all as f64
            + so_far.season
            + season
            + self.open.constant
    }

    /// Raises the λ of the bounds once the last of the best has risen enough to be worth it; tells whether it did.
    fn sharpen(&mut self, best: &Best<'_>) -> bool {
        const WORTH_IT: f64 = 0.004;
        let least_mean = best.to_beat() - self.most_extra(0, Extra::default());
        if least_mean == f64::NEG_INFINITY || least_mean < self.least_mean + WORTH_IT {
            return false;
        }
        self.least_mean = least_mean;
        let lines = &self.open.lines;
        self.best_pairs.clear();
        for (one, choices) in lines.iter().enumerate() {
            for (other, others) in lines.iter().enumerate().skip(one + 1) {
                let affinities = &self.open.affinities[self.open.between(one, other)];
                let rows: Vec<f64> = choices
                    .iter()
                    .zip(affinities.chunks(others.len()))
                    .map(|(choice, row)| {
                        let above = |(a, o): (&f64, &Choice)| {
                            if *a == f64::NEG_INFINITY {
                                *a
                            } else {
                                choice.weight * o.weight * (a - least_mean)
                            }
                        };
                        row.iter().zip(others).map(above).fold(f64::NEG_INFINITY, f64::max)
                    })
                    .collect();
                let most = rows.iter().copied().fold(f64::NEG_INFINITY, f64::max);
                self.best_pairs.push((rows, most));
            }
        }
        true
    }

    /// What the lines after one, and their pairs with each other, can come to above λ at most.
    fn rest(&self, line: usize) -> f64 {
        let later = line + 1..self.open.lines.len();
        let own = |l: usize| {
            let above = |(carried, beside): &(f64, f64)| carried - self.least_mean * beside;
            self.sums[line][l].iter().map(above).fold(f64::NEG_INFINITY, f64::max)
        };
        let alone: f64 = later.clone().map(own).sum();
        let pairs = later.clone().flat_map(|one| (one + 1..later.end).map(move |other| (one, other)));
        alone + pairs.map(|(one, other)| self.best_pairs[self.open.between(one, other)].1).sum::<f64>()
    }

    fn go_on(&mut self, carried: f64, beside: f64, extra: Extra, best: &mut Best<'_>) {
        let line = self.picks.len();
        let is_last = line + 1 == self.open.lines.len();
        let mut rest = if is_last || self.best_pairs.is_empty() { f64::INFINITY } else { self.rest(line) };
        for pick in 0..self.open.lines[line].len() {
            if line == 0 && !is_last && self.sharpen(best) {
                rest = self.rest(line);
            }
            let choice = self.open.lines[line][pick];
            let (its, weights) = self.sums[line][line][pick];
            let extra = extra.with(&choice);
            if extra.unasked > best.wanted.unasked || its == f64::NEG_INFINITY {
                continue;
            }
            let (carried, beside) = (carried + its, beside + weights);
            if is_last {
                if extra.unasked > 0 {
                    self.picks.push(pick);
                    let most = mean(carried, beside) + extra.worth() + self.open.constant;
                    best.offer(most, self.drink, &self.picks);
                    self.picks.pop();
                }
                continue;
            }
            if rest < f64::INFINITY {
                let with: f64 = (line + 1..self.open.lines.len())
                    .map(|l| self.best_pairs[self.open.between(line, l)].0[pick])
                    .sum();
                // λ is for the most that could be added at all; by now it may be less.
                let less = best.to_beat() - self.most_extra(line + 1, extra) - self.least_mean;
                if carried - (self.least_mean + less.max(0.0)) * beside + rest + with < -SLACK {
                    continue;
                }
            }
            self.picks.push(pick);
            self.put_beside(line, pick, choice.weight);
            self.go_on(carried, beside, extra, best);
            self.picks.pop();
        }
    }

    /// Works out what the choices of later lines carry once a choice is made.
    fn put_beside(&mut self, line: usize, pick: usize, weight: f64) {
        let (before, after) = self.sums.split_at_mut(line + 1);
        for later in line + 1..self.open.lines.len() {
            let choices = &self.open.lines[later];
            let at = self.open.between(line, later);
            let row = &self.open.affinities[at][pick * choices.len()..(pick + 1) * choices.len()];
            let sums = before[line][later].iter().zip(row).zip(choices);
            for (new, (((carried, beside), affinity), choice)) in after[0][later].iter_mut().zip(sums) {
                let pair = weight * choice.weight;
                let more = if *affinity == f64::NEG_INFINITY { *affinity } else { pair * affinity };
                *new = (carried + more, beside + pair);
            }
        }
    }
}

#[cfg(test)]
mod tests;

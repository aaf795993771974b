//! Drinks with open lines drawn by seed, and the same search for a general solver of mixed integers.
//!
//! The mean affinity is a ratio of sums over pairs. With t = 1 / the sum of the weights, y = x t for each choice x and z for each
//! two, it is linear: Charnes and Cooper (Naval Research Logistics Quarterly 9, 1962); the z of a choice with another line add up
//! to its y, as in the linear form of quadratic assignment of Adams and Johnson (*from memory*).

use fastrand::Rng;
use good_lp::{Expression, ProblemVariables, Solution, SolverModel, constraint, microlp, variable};
use medlar::riff::Score;
use medlar::riff::fills::{Choice, Open};

/// So many open lines, each with so many choices that nobody asked for.
pub(crate) fn drawn(rng: &mut Rng, lines: usize, choices: usize) -> Open {
    let beside = rng.f64() * 0.3;
    let choice = |rng: &mut Rng| {
        let (weight, beside) = (0.1 + 0.7 * rng.f64(), 0.6 * rng.f64());
        Choice {
            weight,
            carried: if rng.u8(..12) == 0 { f64::NEG_INFINITY } else { rng.f64() * beside * weight },
            beside: beside * weight,
            likeness: Some(0.35 + 0.6 * rng.f64()),
            season: 0.08 * rng.f64() - 0.04,
        }
    };
    let affinity = |rng: &mut Rng| if rng.u8(..12) == 0 { f64::NEG_INFINITY } else { rng.f64() };
    let pairs = lines * (lines - 1) / 2;
    Open {
        carried: rng.f64() * beside,
        beside,
        constant: 0.0,
        lines: (0..lines).map(|_| (0..choices).map(|_| choice(rng)).collect()).collect(),
        affinities: (0..pairs).map(|_| (0..choices * choices).map(|_| affinity(rng)).collect()).collect(),
    }
}

/// The score of the best way to fill a drink all of whose choices are unasked; none if no way may stand.
pub(crate) fn best_score(open: &Open) -> Option<f64> {
    let count = open.lines.len() as f64;
    let mut vars = ProblemVariables::new();
    let inverse = vars.add(variable().min(0.0));
    let (mut whole, mut carried) = (open.beside * inverse, open.carried * inverse);
    let mut extra = Expression::default();
    let mut rows = Vec::new();
    let mut shares = Vec::new();
    // No sum of weights is below this.
    let least: f64 = open.beside
        + open.lines.iter().map(|l| l.iter().map(|c| c.beside).fold(f64::MAX, f64::min)).sum::<f64>();
    let most_inverse = 1.0 / least.max(1e-3);
    for line in &open.lines {
        let (mut one, mut all) = (Expression::default(), Expression::default());
        let mut own = Vec::new();
        for choice in line {
            let may = choice.carried > f64::NEG_INFINITY;
            let x = vars.add(variable().integer().min(0.0).max(if may { 1.0 } else { 0.0 }));
            let y = vars.add(variable().min(0.0));
            rows.push(constraint!(y <= most_inverse * x));
            one += x;
            all += y;
            whole += choice.beside * y;
            if may {
                carried += choice.carried * y;
            }
            let kinship = Score::A_LIKENESS * choice.likeness.unwrap_or(0.0) / count;
            extra += (kinship + Score::A_CHANGE + choice.season) * x;
            own.push(y);
        }
        rows.push(constraint!(one == 1.0));
        rows.push(constraint!(all - inverse == 0.0));
        shares.push(own);
    }
    let mut pair = 0;
    for one in 0..open.lines.len() {
        for other in one + 1..open.lines.len() {
            let size = open.lines[other].len();
            let mut columns = vec![Expression::default(); size];
            for (row, choice) in open.lines[one].iter().enumerate() {
                let mut sum = Expression::default();
                for (column, with) in open.lines[other].iter().enumerate() {
                    let affinity = open.affinities[pair][row * size + column];
                    let may = affinity > f64::NEG_INFINITY;
                    let z = vars.add(variable().min(0.0).max(if may { most_inverse } else { 0.0 }));
                    let weight = choice.weight * with.weight;
                    sum += z;
                    columns[column] += z;
                    whole += weight * z;
                    if may {
                        carried += weight * affinity * z;
                    }
                }
                rows.push(constraint!(sum - shares[one][row] == 0.0));
            }
            for (column, sum) in columns.into_iter().enumerate() {
                rows.push(constraint!(sum - shares[other][column] == 0.0));
            }
            pair += 1;
        }
    }
    rows.push(constraint!(whole == 1.0));
    let score = carried + extra;
    let mut model = vars.maximise(score.clone()).using(microlp);
    for row in rows {
        model.add_constraint(row);
    }
    match model.solve() {
        Ok(solved) => Some(solved.eval(&score) + open.constant),
        Err(good_lp::ResolutionError::Infeasible) => None,
        Err(error) => panic!("the general solver gave up: {error}"),
    }
}

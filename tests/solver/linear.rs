//! The same puzzle for a general solver: mixed integers, exact for volumes that add up.
//!
//! A figure is a ratio, g over ml. With t = 1 / volume and y = x t for each choice x, ratios are linear in y (Charnes and
//! Cooper, Programming with linear fractional functionals, Naval Research Logistics Quarterly 9, 1962); y = x t holds since
//! the y of a line add up to t and none is above 0 where its x is 0.

use good_lp::{Expression, ProblemVariables, Solution, SolverModel, constraint, microlp, variable};
use medlar::drink::{Held, Limit, Mixing, Puzzle};
use medlar::liquid::{dilution, ethanol::PURE_20};
use medlar::measure::Strength;

/// Volumes are in 100 ml: the numbers of a puzzle are then all near 1.
const UNIT_ML: f64 = 100.0;

/// The least cost of a puzzle whose volumes add up and whose ice adds the same whatever the strength; none if its limits
/// cannot be kept. The formula of the cost is that of docs/model.md, written out anew.
pub(crate) fn least_cost(puzzle: &Puzzle<'_>) -> Option<f64> {
    assert_eq!(puzzle.mixing, Mixing::Summed);
    assert!(puzzle.fixed.is_empty() && puzzle.lifted.is_empty());
    let share = |q: f64| dilution(puzzle.ice, Strength::clamped(q)).share;
    assert!((share(10.0) - share(40.0)).abs() < 1e-12, "a share that depends on the strength is not linear");
    let share = share(20.0);
    let mut vars = ProblemVariables::new();
    let inverse = vars.add(variable().min(0.0));
    let mut cost = Expression::default();
    let (mut volume, mut whole) = (Expression::default(), Expression::default());
    let mut tastes = vec![Expression::default(); 4];
    let mut alcohol = Expression::default();
    let mut rows = Vec::new();
    let least: f64 = puzzle.free.iter().map(|f| least_ml(f.pours.iter().map(|p| p.volume.ml()))).sum();
    let most_inverse = UNIT_ML / least;
    let mut chosen = Vec::new();
    for free in &puzzle.free {
        let (mut one, mut inverses) = (Expression::default(), Expression::default());
        let mut own = Vec::new();
        for pour in &free.pours {
            let ml = pour.volume.ml();
            let x = vars.add(variable().binary());
            let y = vars.add(variable().min(0.0).max(most_inverse));
            rows.push(constraint!(y <= most_inverse * x));
            one += x;
            inverses += y;
            let in_glass = ml * if free.lengthens { 1.0 } else { 1.0 + share } / UNIT_ML;
            volume += in_glass * x;
            whole += in_glass * y;
            let m = free.makeup;
            let carried = [
                m.strength.percent_vol(),
                m.sugar.grams_per_litre(),
                m.acid.grams_per_litre(),
                m.bitterness.points(),
            ];
            for (taste, carried) in tastes.iter_mut().zip(carried) {
                *taste += carried * ml / UNIT_ML * y;
            }
            alcohol += m.strength.percent_vol() / 100.0 * ml * PURE_20 / 1000.0 * x;
            let moved = (ml - free.usual.ml()).abs() / (29.573_529_562_5 / 4.0);
            let second = if pour.marks > 1 && moved > 1e-6 { 0.25 } else { 0.0 };
            cost += (0.5 * moved + second) * x;
            own.push((ml, x));
        }
        rows.push(constraint!(one == 1.0));
        rows.push(constraint!(inverses - inverse == 0.0));
        chosen.push(own);
    }
    rows.push(constraint!(whole == 1.0));
    let aim = &puzzle.aim;
    let tastings = [
        (aim.strength, 1.0),
        (aim.sugar, (0.10 * aim.sugar).max(3.0)),
        (aim.acid, (0.15 * aim.acid).max(0.5)),
        (aim.bitterness, (0.25 * aim.bitterness).max(2.0)),
    ];
    for (taste, (aim, step)) in tastes.iter().zip(tastings) {
        let off = vars.add(variable().min(0.0));
        rows.push(constraint!((taste.clone() - aim) * (1.0 / step) <= off));
        rows.push(constraint!((aim - taste.clone()) * (1.0 / step) <= off));
        cost += off;
    }
    let (glass, served) = (vars.add(variable().min(0.0)), aim.served / UNIT_ML);
    rows.push(constraint!((volume.clone() - served) * (1.0 / (0.15 * served)) <= glass));
    rows.push(constraint!((served - volume.clone()) * (1.0 / (0.15 * served)) <= glass));
    cost += glass;
    for limit in &puzzle.limits {
        let figure = |held: &Held| match held {
            Held::Taste(direction) => tastes[*direction as usize].clone(),
            Held::Glass => volume.clone() * UNIT_ML,
            Held::Alcohol => alcohol.clone(),
        };
        rows.push(match limit {
            Limit::Most(held, end) => constraint!(figure(held) <= *end),
            Limit::Least(held, end) => constraint!(figure(held) >= *end),
        });
    }
    for group in &puzzle.equal {
        let amount = |line: usize| -> Expression { chosen[line].iter().map(|(ml, x)| *ml * *x).sum() };
        for line in &group[1..] {
            rows.push(constraint!(amount(group[0]) - amount(*line) == 0.0));
        }
    }
    let mut model = vars.minimise(cost.clone()).using(microlp);
    for row in rows {
        model.add_constraint(row);
    }
    match model.solve() {
        Ok(solved) => Some(solved.eval(&cost)),
        Err(good_lp::ResolutionError::Infeasible) => None,
        Err(error) => panic!("the general solver gave up: {error}"),
    }
}

fn least_ml(all: impl Iterator<Item = f64>) -> f64 {
    all.fold(f64::INFINITY, f64::min)
}

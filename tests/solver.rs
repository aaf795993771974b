//! The solver of amounts and the search for fillers against trying everything, and against a general solver of mixed integers.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

#[path = "solver/fillers.rs"]
mod fillers;
#[path = "solver/instances.rs"]
mod instances;
#[path = "solver/linear.rs"]
mod linear;

use std::sync::LazyLock;

use fastrand::Rng;
use instances::{Drawn, drawn, liquids};
use medlar::book::{Book, Method, Role, read_built_in};
use medlar::drink::{Blocked, Figures, Frees, Held, Limit, Line, Puzzle, Spec, Unsolvable, figures};
use medlar::liquid::{HouseIce, Melt};
use medlar::measure::{Amount, Measures, Unit};
use medlar::riff::fills::{Wanted, best};

static BOOK: LazyLock<Book> = LazyLock::new(|| read_built_in().book);

/// The drink of given amounts, as a spec.
fn spec(drawn: &Drawn<'static>, ml: &[f64]) -> Spec<'static> {
    let method = match drawn.melt {
        Melt::Stirred => Method::Stirred,
        Melt::Shaken => Method::Shaken,
        Melt::BuiltShort | Melt::BuiltLong => Method::Built,
        Melt::Blended => Method::Blended,
        Melt::None => Method::NoIce,
    };
    let measures = Measures::default();
    let line = |(ingredient, ml): (&&'static medlar::book::Ingredient, &f64)| {
        let role = if instances::lengthens(ingredient) { Role::Lengthener } else { Role::Base };
        Line::fixed(role, ingredient, Amount::new(*ml, Unit::Millilitre).unwrap(), &measures)
    };
    Spec {
        name: "drawn".to_owned(),
        family: None,
        method,
        glass: String::new(),
        ice: HouseIce::default(),
        lines: drawn.ingredients.iter().zip(ml).map(line).collect(),
        garnish: Vec::new(),
    }
}

/// What amounts cost: the formula of docs/model.md, written out anew on the figures of the spec.
fn cost(puzzle: &Puzzle<'_>, ml: &[f64], marks: &[usize], found: &Figures) -> f64 {
    let aim = &puzzle.aim;
    let off = |value: f64, aim: f64, step: f64| (value - aim).abs() / step;
    let tastes = off(found.strength.percent_vol(), aim.strength, 1.0)
        + off(found.sugar.grams_per_litre(), aim.sugar, (0.10 * aim.sugar).max(3.0))
        + off(found.acid.grams_per_litre(), aim.acid, (0.15 * aim.acid).max(0.5))
        + off(found.bitterness.points(), aim.bitterness, (0.25 * aim.bitterness).max(2.0));
    let glass = off(found.served.ml(), aim.served, 0.15 * aim.served);
    let pulls = puzzle.free.iter().zip(ml).zip(marks).map(|((free, ml), marks)| {
        let moved = (ml - free.usual.ml()).abs() / (29.573_529_562_5 / 4.0);
        0.5 * moved + if *marks > 1 && moved > 1e-6 { 0.25 } else { 0.0 }
    });
    tastes + glass + pulls.sum::<f64>()
}

fn held(found: &Figures, held: Held) -> f64 {
    use medlar::drink::Direction::{Acid, Bitterness, Strength, Sugar};
    match held {
        Held::Taste(Strength) => found.strength.percent_vol(),
        Held::Taste(Sugar) => found.sugar.grams_per_litre(),
        Held::Taste(Acid) => found.acid.grams_per_litre(),
        Held::Taste(Bitterness) => found.bitterness.points(),
        Held::Glass => found.served.ml(),
        Held::Alcohol => found.ethanol.grams(),
    }
}

fn past(limit: &Limit, found: &Figures) -> f64 {
    let past = match limit {
        Limit::Most(of, end) => held(found, *of) - end,
        Limit::Least(of, end) => end - held(found, *of),
    };
    if past > 1e-9 { past } else { 0.0 }
}

/// One way to pour, and what came of it.
struct Tried {
    ml: Vec<f64>,
    cost: f64,
    past: Vec<f64>,
}

/// Every way to pour that keeps what should be equal equal.
fn all(drawn: &Drawn<'static>, puzzle: &Puzzle<'static>) -> Vec<Tried> {
    let mut ways: Vec<(Vec<f64>, Vec<usize>)> = vec![Default::default()];
    for free in &puzzle.free {
        ways = ways
            .iter()
            .flat_map(|(ml, marks)| {
                free.pours.iter().map(move |pour| {
                    let (mut ml, mut marks) = (ml.clone(), marks.clone());
                    ml.push(pour.volume.ml());
                    marks.push(usize::from(pour.marks));
                    (ml, marks)
                })
            })
            .collect();
    }
    let even =
        |ml: &[f64]| puzzle.equal.iter().all(|g| g.iter().all(|line| (ml[*line] - ml[g[0]]).abs() < 1e-9));
    let ways = ways.into_iter().filter(|(ml, _)| even(ml));
    ways.map(|(ml, marks)| {
        let found = figures(&spec(drawn, &ml)).unwrap();
        Tried {
            cost: cost(puzzle, &ml, &marks, &found),
            past: puzzle.limits.iter().map(|l| past(l, &found)).collect(),
            ml,
        }
    })
    .collect()
}

/// A built drink is long where it has a lengthener; the puzzle must melt as the spec does.
fn melting_alike(mut drawn: Drawn<'static>) -> Drawn<'static> {
    if matches!(drawn.melt, Melt::BuiltShort | Melt::BuiltLong) {
        let long = drawn.ingredients.iter().any(|i| instances::lengthens(i));
        drawn.melt = if long { Melt::BuiltLong } else { Melt::BuiltShort };
        drawn.puzzle.ice = drawn.melt.into();
    }
    drawn
}

fn least(of: impl Iterator<Item = f64>) -> Option<f64> {
    of.min_by(f64::total_cmp)
}

/// What alone would free a puzzle, against trying it.
fn check_what_frees(drawn: &Drawn<'static>, blocked: &Blocked, seed: u64) {
    let puzzle = &drawn.puzzle;
    let tried = all(drawn, puzzle);
    let mut expected = Vec::new();
    for (index, limit) in puzzle.limits.iter().enumerate() {
        let others = |t: &&Tried| t.past.iter().enumerate().all(|(at, past)| at == index || *past == 0.0);
        if let Some(by) = least(tried.iter().filter(others).map(|t| t.past[index])) {
            expected.push((format!("{:?}", limit.of()), by));
        }
    }
    let kept = |t: &&Tried| t.past.iter().all(|past| *past == 0.0);
    for (line, pours) in &puzzle.lifted {
        let mut lifted = puzzle.clone();
        lifted.free[*line].pours.clone_from(pours);
        let moved = |t: &Tried| (t.ml[*line] - puzzle.free[*line].usual.ml()).abs();
        if let Some(by) = least(all(drawn, &lifted).iter().filter(kept).map(moved)) {
            expected.push((format!("line {line}"), by));
        }
    }
    let uneven = Puzzle { equal: Vec::new(), ..puzzle.clone() };
    if !puzzle.equal.is_empty() && all(drawn, &uneven).iter().any(|t| kept(&t)) {
        expected.push(("uneven".to_owned(), 0.0));
    }
    let told = blocked.frees.iter().map(|frees| match frees {
        Frees::Limit { from: Limit::Most(held, from), to: Limit::Most(_, to) } => {
            (format!("{held:?}"), to - from)
        }
        Frees::Limit { from: Limit::Least(held, from), to: Limit::Least(_, to) } => {
            (format!("{held:?}"), from - to)
        }
        Frees::Limit { .. } => panic!("seed {seed}: a limit turned round"),
        Frees::Line { line, to } => {
            (format!("line {line}"), (to.volume.ml() - puzzle.free[*line].usual.ml()).abs())
        }
        Frees::Uneven => ("uneven".to_owned(), 0.0),
    });
    let told: Vec<_> = told.collect();
    assert_eq!(told.len(), expected.len(), "seed {seed}: {told:?} {expected:?}");
    for ((name, by), (other, right)) in told.iter().zip(&expected) {
        assert!(name == other && (by - right).abs() < 1e-6, "seed {seed}: {told:?} {expected:?}");
    }
}

#[test]
fn two_thousand_puzzles_come_out_as_by_trying_everything() {
    let liquids = liquids(&BOOK);
    let (mut solved, mut blocked, mut freed) = (0, 0, 0);
    for seed in 0..2000 {
        let mut rng = Rng::with_seed(seed);
        let lines = rng.usize(1..=5);
        let mut drawn = melting_alike(drawn(&mut rng, &liquids, lines, (2, if lines > 3 { 4 } else { 5 })));
        if seed % 2 == 1 {
            drawn = drawn.limited(&mut rng);
        }
        let mut costs: Vec<f64> = all(&drawn, &drawn.puzzle)
            .iter()
            .filter(|t| t.past.iter().all(|past| *past == 0.0))
            .map(|t| t.cost)
            .collect();
        costs.sort_by(f64::total_cmp);
        match drawn.puzzle.solve(3) {
            Ok(found) => {
                solved += 1;
                assert_eq!(found.best.len(), costs.len().min(3), "seed {seed}");
                for (own, right) in found.best.iter().zip(&costs) {
                    assert!((own.cost - right).abs() < 1e-9, "seed {seed}: {} {right}", own.cost);
                }
                assert!(found.mixed <= found.combinations);
            }
            Err(Unsolvable::Blocked(why)) => {
                blocked += 1;
                freed += usize::from(!why.frees.is_empty());
                assert!(costs.is_empty(), "seed {seed}");
                check_what_frees(&drawn, &why, seed);
            }
            Err(other) => panic!("seed {seed}: {other}"),
        }
    }
    println!("{solved} solved, {blocked} blocked, of which {freed} are freed by one change");
    assert!(solved > 1200 && blocked > 200 && freed > 100, "{solved} {blocked} {freed}");
}

#[test]
fn two_hundred_puzzles_come_out_as_by_a_general_solver() {
    let liquids = liquids(&BOOK);
    let (mut solved, mut blocked) = (0, 0);
    for seed in 0..200 {
        let mut rng = Rng::with_seed(seed);
        let lines = rng.usize(3..=7);
        let mut drawn = drawn(&mut rng, &liquids, lines, (3, 6)).summed();
        if seed % 4 == 3 {
            drawn = drawn.limited(&mut rng);
            drawn.puzzle.lifted.clear();
        }
        let right = linear::least_cost(&drawn.puzzle);
        match (drawn.puzzle.solve(1), right) {
            (Ok(found), Some(right)) => {
                solved += 1;
                assert!(
                    (found.best[0].cost - right).abs() < 1e-5,
                    "seed {seed}: {} {right}",
                    found.best[0].cost
                );
            }
            (Err(Unsolvable::Blocked(_)), None) => blocked += 1,
            (own, right) => panic!("seed {seed}: {own:?} {right:?}"),
        }
    }
    println!("{solved} solved, {blocked} blocked");
    assert!(solved > 150 && blocked > 5, "{solved} {blocked}");
}

#[test]
fn fillers_come_out_as_by_a_general_solver() {
    let (mut found, mut none) = (0, 0);
    for seed in 0..60 {
        let mut rng = Rng::with_seed(seed);
        let lines = rng.usize(1..=3);
        let choices = rng.usize(2..=7);
        let open = fillers::drawn(&mut rng, lines, choices);
        let wanted = Wanted { count: 1, unasked: usize::MAX, allowed: &|_, _| true };
        let (fills, _) = best(std::slice::from_ref(&open), &wanted);
        match (fills.first(), fillers::best_score(&open)) {
            (Some(own), Some(right)) => {
                found += 1;
                assert!((own.most - right).abs() < 1e-6, "seed {seed}: {} {right}", own.most);
            }
            (None, None) => none += 1,
            (own, right) => panic!("seed {seed}: {own:?} {right:?}"),
        }
    }
    println!("{found} found, {none} cannot be filled");
    assert!(found > 50, "{found} {none}");
}

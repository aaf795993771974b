//! How fast the solver of amounts and the search for fillers are, and how fast a general solver of mixed integers is on the same puzzles.
#![allow(clippy::unwrap_used, reason = "a bench that cannot go on should stop")]

#[path = "../tests/solver/fillers.rs"]
mod fillers;
#[path = "../tests/solver/instances.rs"]
mod instances;
#[path = "../tests/solver/linear.rs"]
mod linear;

use std::hint::black_box;
use std::time::{Duration, Instant};

use fastrand::Rng;
use instances::{Drawn, drawn, liquids};
use medlar::book::read_built_in;
use medlar::riff::fills::{Wanted, best};

/// Puzzles of each size; the general solver gets the first few of them only.
const PUZZLES: u64 = 200;
const FOR_THE_PEER: usize = 40;
/// Amounts a line may take: what a jigger pours between half and half as much again.
const POURS: (usize, usize) = (5, 9);

/// The shortest of three runs.
fn time<T>(mut run: impl FnMut() -> T) -> Duration {
    let one = |_| {
        let start = Instant::now();
        black_box(run());
        start.elapsed()
    };
    (0..3).map(one).min().unwrap_or_default()
}

fn micros(of: Duration) -> f64 {
    of.as_secs_f64() * 1e6
}

fn spread(mut times: Vec<Duration>) -> (f64, f64) {
    times.sort();
    (micros(times[times.len() / 2]), micros(times[times.len() - 1]))
}

fn main() {
    let book = read_built_in().book;
    let liquids = liquids(&book);
    println!("amounts of {PUZZLES} puzzles a row, each line with {} to {} amounts", POURS.0, POURS.1);
    println!("lines   median µs   worst µs   mixed of combinations   best 10, median µs");
    for lines in [3, 5, 7] {
        let draw = |seed| drawn(&mut Rng::with_seed(seed), &liquids, lines, POURS);
        let all: Vec<Drawn<'_>> = (0..PUZZLES).map(draw).collect();
        let (median, worst) = spread(all.iter().map(|d| time(|| d.puzzle.solve(1).unwrap())).collect());
        let (ten, _) = spread(all.iter().map(|d| time(|| d.puzzle.solve(10).unwrap())).collect());
        let (mut mixed, mut combinations) = (0, 0);
        for solved in all.iter().map(|d| d.puzzle.solve(1).unwrap()) {
            mixed += solved.mixed;
            combinations += solved.combinations;
        }
        println!("{lines:>5}   {median:>9.1}   {worst:>8.1}   {mixed:>9} of {combinations:<12}   {ten:>9.1}");
    }
    println!("\nthe same against a general solver, volumes added up; {FOR_THE_PEER} puzzles a row");
    println!("lines   ours, median µs   general, median µs   median ratio");
    for lines in [3, 5, 7] {
        let draw = |seed| drawn(&mut Rng::with_seed(seed), &liquids, lines, POURS).summed();
        let all: Vec<Drawn<'_>> = (0..PUZZLES).map(draw).take(FOR_THE_PEER).collect();
        let (mut own, mut peer, mut ratios) = (Vec::new(), Vec::new(), Vec::new());
        for d in &all {
            let found = d.puzzle.solve(1).unwrap().best[0].cost;
            let start = Instant::now();
            let right = linear::least_cost(&d.puzzle).unwrap();
            let theirs = start.elapsed();
            assert!((found - right).abs() < 1e-4, "{found} {right}");
            let ours = time(|| d.puzzle.solve(1).unwrap());
            ratios.push(theirs.as_secs_f64() / ours.as_secs_f64());
            own.push(ours);
            peer.push(theirs);
        }
        ratios.sort_by(f64::total_cmp);
        let (own, peer) = (spread(own).0, spread(peer).0);
        println!("{lines:>5}   {own:>15.1}   {peer:>18.1}   {:>12.0}", ratios[ratios.len() / 2]);
    }
    println!("\nthe best fillers, against a general solver; 5 drinks a row");
    println!("open lines x choices   ours, median µs   general, median µs   median ratio");
    for (lines, choices) in [(2, 10), (2, 20), (3, 8), (3, 12)] {
        let (mut own, mut peer, mut ratios) = (Vec::new(), Vec::new(), Vec::new());
        for seed in 0..5 {
            let open = fillers::drawn(&mut Rng::with_seed(seed), lines, choices);
            let wanted = Wanted { count: 1, unasked: usize::MAX, allowed: &|_, _| true };
            let ask = || best(std::slice::from_ref(&open), &wanted).0;
            let start = Instant::now();
            let right = fillers::best_score(&open);
            let theirs = start.elapsed();
            let found = ask();
            assert!((found[0].most - right.unwrap()).abs() < 1e-5);
            let ours = time(ask);
            ratios.push(theirs.as_secs_f64() / ours.as_secs_f64());
            own.push(ours);
            peer.push(theirs);
        }
        ratios.sort_by(f64::total_cmp);
        let (own, peer) = (spread(own).0, spread(peer).0);
        println!(
            "{lines:>10} x {choices:<8} {own:>17.1}   {peer:>18.1}   {:>12.0}",
            ratios[ratios.len() / 2]
        );
    }
}

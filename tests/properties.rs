//! Laws that hold whatever the numbers are, on the small frozen pack and on the built-in one.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::LazyLock;

use medlar::book::{
    Book, Climate, Content, IngredientId, Makeup, Reading, Source, When, read, read_built_in, read_packs,
    written_cautions, written_edges, written_ingredients, written_templates,
};
use medlar::drink::{Aim, Free, House, Palate, Puzzle, Spec, figures};
use medlar::liquid::Melt;
use medlar::measure::{Bitterness, Concentration, Hemisphere, Jigger, Month, Pour, Strength, Volume};
use medlar::pairing::{Filter, Graph, power_mean};
use medlar::riff::{Request, Swap, riffs};
use proptest::prelude::*;

static WEIR: LazyLock<Book> = LazyLock::new(|| {
    let reading = read_packs(&[Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/packs/weir"))], false);
    assert!(reading.faults.is_empty(), "{:?}", reading.faults);
    reading.book
});
static BUILT_IN: LazyLock<Book> = LazyLock::new(|| read_built_in().book);

fn house(jigger: Jigger) -> House {
    House::new(jigger, When { month: Month::Oct, hemisphere: Hemisphere::North, climate: Climate::Cool })
}

fn of_text(content: Content, text: String) -> Source {
    Source { path: format!("{content:?}"), content, text: text.into() }
}

fn round_trip(book: &Book) -> Reading {
    read(
        vec![
            of_text(Content::Cautions, written_cautions(book.cautions()).unwrap()),
            of_text(Content::Ingredients, written_ingredients(book.ingredients()).unwrap()),
            of_text(Content::Affinities, written_edges(book.edges()).unwrap()),
            of_text(Content::Templates, written_templates(book.templates()).unwrap()),
        ],
        Vec::new(),
    )
}

#[test]
fn every_record_printed_and_read_again_is_the_same() {
    for book in [&*WEIR, &*BUILT_IN] {
        let again = round_trip(book);
        assert!(again.faults.is_empty(), "{:?}", &again.faults[..again.faults.len().min(3)]);
        assert_eq!(again.book.ingredients(), book.ingredients());
        assert_eq!(again.book.templates(), book.templates());
        assert_eq!(again.book.cautions(), book.cautions());
        assert_eq!(again.book.edges(), book.edges());
    }
}

#[test]
fn swapping_an_ingredient_for_itself_changes_nothing() {
    let mut tried = 0;
    for book in [&*WEIR, &*BUILT_IN] {
        let graph = Graph::new(book);
        for jigger in [Jigger::ounces(), Jigger::millilitres()] {
            let house = house(jigger);
            for template in book.templates() {
                let classic = house.in_pours(&Spec::of_template(book, template, &house));
                let Some(line) = classic.lines.iter().position(|l| l.moves()) else { continue };
                let swaps = vec![Swap { line, to: classic.lines[line].ingredient }];
                let mut kept = classic.clone();
                for line in &mut kept.lines {
                    line.open = false;
                }
                let request = Request { swaps, count: 1, ..Request::new(kept) };
                let found = riffs(&graph, &request, &house).unwrap();
                assert!(found.found.is_empty(), "{}: {:?}", template.id, found.found[0].changes);
                tried += 1;
            }
        }
    }
    assert!(tried > 100, "{tried}");
}

/// The search stops once the rest cannot come among what is shown; asking for more must then keep what came first.
#[test]
fn asking_for_more_riffs_keeps_the_first_ones() {
    let book = &*BUILT_IN;
    let graph = Graph::new(book);
    let house = house(Jigger::ounces());
    let named = |text: &str| book.ingredient(&IngredientId::new(text).unwrap()).unwrap();
    let mut compared = 0;
    for template in book.templates().iter().step_by(6) {
        for with in [Vec::new(), vec![named("pear")]] {
            let ask = |count| {
                let classic = house.in_pours(&Spec::of_template(book, template, &house));
                let request = Request { with: with.clone(), count, ..Request::new(classic) };
                let found = riffs(&graph, &request, &house).ok()?.found;
                let drink = |r: &medlar::riff::Riff<'_>| {
                    let lines = r.spec.lines.iter().map(|l| l.ingredient.id.to_string());
                    lines.chain(r.spec.garnish.iter().map(|g| g.0.id.to_string())).collect::<Vec<_>>()
                };
                Some(found.iter().map(drink).collect::<Vec<_>>())
            };
            let Some((few, many)) = ask(2).zip(ask(12)) else { continue };
            assert_eq!(few, many[..few.len()], "{} {}", template.id, with.len());
            compared += 1;
        }
    }
    assert!(compared > 20, "{compared}");
}

fn ids(book: &Book, picks: &[prop::sample::Index]) -> Vec<IngredientId> {
    let chosen: BTreeSet<usize> = picks.iter().map(|p| p.index(book.ingredients().len())).collect();
    chosen.into_iter().map(|at| book.ingredients()[at].id.clone()).collect()
}

fn makeups() -> impl Strategy<Value = Makeup> {
    (0.0..60.0_f64, 0.0..600.0_f64, 0.0..60.0_f64, 0.0..60.0_f64).prop_map(
        |(strength, sugar, acid, bitter)| Makeup {
            strength: Strength::new(strength).unwrap(),
            sugar: Concentration::new(sugar).unwrap(),
            acid: Concentration::new(acid).unwrap(),
            bitterness: Bitterness::new(bitter).unwrap(),
            ..Makeup::default()
        },
    )
}

/// Tries every combination of pours and mixes each.
fn brute(puzzle: &Puzzle<'_>) -> f64 {
    fn go(puzzle: &Puzzle<'_>, chosen: &mut Vec<Pour>, best: &mut f64) {
        if chosen.len() == puzzle.free.len() {
            let alone = Puzzle {
                free: puzzle
                    .free
                    .iter()
                    .zip(chosen.iter())
                    .map(|(f, p)| Free { pours: vec![*p], ..f.clone() })
                    .collect(),
                ..puzzle.clone()
            };
            let cost = alone.solve(1).unwrap().best[0].cost;
            *best = best.min(cost);
            return;
        }
        for pour in &puzzle.free[chosen.len()].pours {
            chosen.push(*pour);
            go(puzzle, chosen, best);
            chosen.pop();
        }
    }
    let mut best = f64::INFINITY;
    go(puzzle, &mut Vec::new(), &mut best);
    best
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn companions_do_not_mind_the_order_and_never_beat_their_best_pair(
        picks in prop::collection::vec(any::<prop::sample::Index>(), 1..4),
    ) {
        let graph = Graph::new(&BUILT_IN);
        let set = ids(&BUILT_IN, &picks);
        let forward: Vec<&IngredientId> = set.iter().collect();
        let backward: Vec<&IngredientId> = set.iter().rev().collect();
        let one = graph.companions(&forward, &Filter::default(), 1000);
        let other = graph.companions(&backward, &Filter::default(), 1000);
        let named = |c: &medlar::pairing::Companions<'_>| {
            c.found.iter().map(|x| (x.ingredient.id.clone(), x.score.to_bits())).collect::<Vec<_>>()
        };
        prop_assert_eq!(named(&one), named(&other));
        for companion in &one.found {
            let best = companion.ties.iter().map(|t| t.affinity.value()).fold(0.0, f64::max);
            let worst = companion.ties.iter().map(|t| t.affinity.value()).fold(1.0, f64::min);
            prop_assert!(companion.score <= best && companion.score >= worst);
            prop_assert_eq!(companion.ties.len(), one.set.len());
            for member in &one.set {
                prop_assert!(graph.clash(&companion.ingredient.id, &member.id).is_none());
            }
        }
    }

    #[test]
    fn the_power_mean_lies_between_the_ends_and_nearer_the_worst(
        values in prop::collection::vec(0.01..=1.0_f64, 1..6),
    ) {
        let mean = power_mean(&values);
        let plain = values.iter().sum::<f64>() / values.len() as f64;
        let least = values.iter().copied().fold(1.0, f64::min);
        prop_assert!(mean >= least && mean <= plain + 1e-12, "{mean} {plain}");
    }

    #[test]
    fn the_solver_finds_what_trying_everything_finds(
        lines in prop::collection::vec((makeups(), 1_usize..8, 0_usize..4), 1..5),
        aim in (0.0..40.0_f64, 0.0..150.0_f64, 0.0..15.0_f64, 0.0..40.0_f64, 60.0..200.0_f64),
        melt in prop::sample::select(vec![Melt::Stirred, Melt::Shaken, Melt::BuiltShort, Melt::None]),
    ) {
        let jigger = Jigger::ounces();
        let all = jigger.pourable(Volume::new(7.0).unwrap(), Volume::new(75.0).unwrap());
        let free = lines
            .iter()
            .map(|(makeup, first, count)| {
                let pours: Vec<Pour> = all.iter().copied().skip(*first).take(count + 1).collect();
                Free { makeup, lengthens: false, usual: pours[pours.len() / 2].volume, pours }
            })
            .collect();
        let (strength, sugar, acid, bitterness, served) = aim;
        let aim = Aim { strength, sugar, acid, bitterness, served, palate: Palate::default() };
        let puzzle = Puzzle::new(free, Vec::new(), melt.into(), aim);
        let solved = puzzle.solve(1).unwrap();
        prop_assert!((solved.best[0].cost - brute(&puzzle)).abs() < 1e-9);
        prop_assert!(solved.mixed <= solved.combinations);
    }
}

#[test]
fn a_bridge_found_by_bounds_is_the_best_that_walking_everywhere_finds() {
    let book = &*WEIR;
    let graph = Graph::new(book);
    for from in book.ingredients() {
        for to in book.ingredients().iter().filter(|t| t.id != from.id) {
            let found = graph.bridges(&from.id, &to.id, 3).unwrap();
            let best = found.found.first().map_or(0.0, |b| b.strength);
            let all = walk(&graph, &from.id, &to.id, &mut vec![from.id.clone()], 1.0);
            assert!((best - all).abs() < 1e-12, "{} {}: {best} {all}", from.id, to.id);
        }
    }
}

/// The strength of the best simple path of two to four edges, by trying every one.
fn walk(
    graph: &Graph<'_>,
    at: &IngredientId,
    to: &IngredientId,
    path: &mut Vec<IngredientId>,
    so_far: f64,
) -> f64 {
    let mut best = 0.0_f64;
    for tie in graph.ties(at) {
        let next = &tie.other.id;
        let strength = so_far * tie.affinity.value();
        if next == to {
            if path.len() > 1 {
                best = best.max(strength);
            }
        } else if path.len() < 4
            && !path.contains(next)
            && graph.clash(next, to).is_none()
            && graph.clash(next, &path[0]).is_none()
            && [to, &path[0]].iter().all(|end| !tie.other.is_kin_of(graph.book().ingredient(end).unwrap()))
        {
            path.push(next.clone());
            best = best.max(walk(graph, next, to, path, strength));
            path.pop();
        }
    }
    best
}

#[test]
fn accords_are_the_best_groups_that_there_are() {
    let book = &*WEIR;
    let graph = Graph::new(book);
    let mezcal = IngredientId::new("mezcal").unwrap();
    let found = graph.accords(&[&mezcal], 3, 0.5, &Filter::default(), 5);
    let affinity = |a: &IngredientId, b: &IngredientId| graph.tie(a, b).map(|t| t.affinity.value());
    let mut all = Vec::new();
    for a in book.ingredients() {
        for b in book.ingredients().iter().filter(|b| b.id > a.id) {
            let pairs = [affinity(&mezcal, &a.id), affinity(&mezcal, &b.id), affinity(&a.id, &b.id)];
            let pairs: Option<Vec<f64>> = pairs.into_iter().collect();
            let kin = a.is_kin_of(b);
            if let Some(pairs) = pairs.filter(|p| !kin && p.iter().all(|x| *x >= 0.5)) {
                all.push(power_mean(&pairs));
            }
        }
    }
    all.sort_by(|x, y| y.total_cmp(x));
    let scores: Vec<f64> = found.found.iter().map(|a| a.score).collect();
    assert_eq!(scores.len(), 5);
    for (score, best) in scores.iter().zip(&all) {
        assert!((score - best).abs() < 1e-12, "{scores:?} {all:?}");
    }
}

#[test]
fn every_classic_of_the_built_in_pack_has_figures_that_can_be() {
    let house = house(Jigger::ounces());
    for template in BUILT_IN.templates() {
        let found = figures(&Spec::of_template(&BUILT_IN, template, &house)).unwrap();
        assert!(found.served.ml() >= found.poured.ml() * 0.98, "{}", template.id);
        assert!(found.strength.percent_vol() < 50.0, "{}: {}", template.id, found.strength.percent_vol());
    }
}

//! How fast the answers come; see README.md beside this file.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    reason = "criterion's macros; a bench that cannot go on should stop"
)]

use std::hint::black_box;
use std::process::Command;

use criterion::{Criterion, criterion_group, criterion_main};
use medlar::book::{Book, Climate, IngredientId, Names, Wanted, When, built_in, read, read_built_in};
use medlar::drink::{House, Spec, figures, read_spec};
use medlar::liquid::chill::{Conditions, chill};
use medlar::liquid::{Contents, Melt, Parts, Solute, ethanol, freezing};
use medlar::measure::{Concentration, Hemisphere, Jigger, Month, Strength, Temperature, Volume};
use medlar::pairing::{Filter, Graph};
use medlar::riff::{Request, Swap, SwapIn, riffs, swap_in};

fn cold(c: &mut Criterion) {
    let run = |words: &[&str]| {
        let output = Command::new(env!("CARGO_BIN_EXE_medlar")).args(words).output().unwrap();
        assert!(output.status.success() && !output.stdout.is_empty());
    };
    c.bench_function("cold/process/version", |b| b.iter(|| run(&["--version"])));
    c.bench_function("cold/pairs/one", |b| b.iter(|| run(&["--month", "10", "pairs", "quince"])));
    let words = ["--month", "10", "riff", "negroni", "--swap", "gin=mezcal"];
    c.bench_function("cold/riff/one-swap-one-open", |b| b.iter(|| run(&words)));
}

fn warm(c: &mut Criterion) {
    let book = read_built_in().book;
    let graph = Graph::new(&book);
    let id = |text: &str| IngredientId::new(text).unwrap();
    let (quince, mezcal) = (id("quince"), id("mezcal"));
    c.bench_function("read/pack/built-in", |b| b.iter(|| assert!(!read_built_in().book.edges().is_empty())));
    c.bench_function("read/pack/text", |b| {
        b.iter(|| assert!(read(built_in(), Vec::new()).book.edges().len() == book.edges().len()));
    });
    c.bench_function("read/names/built-in", |b| {
        b.iter(|| assert!(!Names::new(black_box(&book)).main_names(Wanted::Template).is_empty()));
    });
    c.bench_function("read/graph/built-in", |b| {
        b.iter(|| assert!(Graph::new(black_box(&book)).affinity_count() > 1000));
    });
    c.bench_function("pairs/companions/two", |b| {
        b.iter(|| {
            assert!(graph.companions(black_box(&[&quince, &mezcal]), &Filter::default(), 20).total > 10)
        });
    });
    // The peer: the same answer by asking every ingredient for both affinities through the public look-up.
    c.bench_function("pairs/companions/two-by-looking-up-all", |b| {
        b.iter(|| {
            let both = |i: &IngredientId| graph.tie(i, &quince).is_some() && graph.tie(i, &mezcal).is_some();
            assert!(book.ingredients().iter().filter(|i| both(&i.id)).count() > 10);
        });
    });
    let house = House::new(
        Jigger::ounces(),
        When { month: Month::Oct, hemisphere: Hemisphere::North, climate: Climate::Cool },
    );
    let negroni = book.templates().iter().find(|t| t.id.as_str() == "negroni").unwrap();
    let classic = house.in_pours(&Spec::of_template(&book, negroni, &house));
    c.bench_function("balance/figures/negroni", |b| b.iter(|| figures(black_box(&classic)).unwrap()));
    let six = read_spec(
        "1 1/2 oz london dry gin, 1/2 oz maraschino liqueur, 3/4 oz lemon juice, 1/2 oz honey syrup, 1/4 oz sweet vermouth, 2 dashes aromatic bitters",
        &book,
        &Names::new(&book),
        None,
        &house,
    )
    .unwrap();
    assert_eq!(six.lines.len(), 6);
    c.bench_function("balance/figures/six-lines", |b| b.iter(|| figures(black_box(&six)).unwrap()));
    let swaps = vec![Swap { line: 0, to: book.ingredient(&mezcal).unwrap() }];
    let request = Request { swaps, ..Request::new(classic.clone()) };
    c.bench_function("riff/search/one-swap-one-open", |b| {
        b.iter(|| assert!(!riffs(&graph, &request, &house).unwrap().found.is_empty()));
    });
    swaps_of(c, &book, &graph, &house);
    // The sweet vermouth is open in the template.
    let mut opened = classic;
    for (count, name) in [(1, "riff/search/two-open-best-ten"), (2, "riff/search/three-open-best-ten")] {
        opened.lines.iter_mut().take(count).for_each(|l| l.open = true);
        let request = Request { count: 10, overlap: 8, ..Request::new(opened.clone()) };
        let found = riffs(&graph, &request, &house).unwrap();
        println!("{name}: {:?}", found.looked);
        c.bench_function(name, |b| {
            b.iter(|| assert_eq!(riffs(&graph, black_box(&request), &house).unwrap().found.len(), 10));
        });
        let varied = Request { overlap: 0, ..request };
        println!("{name}-varied: {:?}", riffs(&graph, &varied, &house).unwrap().looked);
        c.bench_function(&format!("{name}-varied"), |b| {
            b.iter(|| assert_eq!(riffs(&graph, black_box(&varied), &house).unwrap().found.len(), 10));
        });
    }
}

/// Stand-ins in a drink without and with mixtures of two.
fn swaps_of(c: &mut Criterion, book: &Book, graph: &Graph<'_>, house: &House) {
    let margarita = book.templates().iter().find(|t| t.id.as_str() == "margarita").unwrap();
    let spec = house.in_pours(&Spec::of_template(book, margarita, house));
    let no = ["curacao", "limoncello", "grapefruit-liqueur"].map(|id| IngredientId::new(id).unwrap());
    let filter = Filter { no: no.into_iter().collect(), ..Filter::default() };
    for (name, mixtures) in [("swap/in-drink/six", 0), ("swap/in-drink/six-and-mixtures", 2)] {
        let asked = SwapIn { spec: spec.clone(), line: 1, filter: filter.clone(), count: 6, mixtures };
        c.bench_function(name, |b| {
            b.iter(|| {
                let found = swap_in(graph, black_box(&asked), house).unwrap();
                assert_eq!((found.drinks.len(), found.mixtures.len()), (6, mixtures));
            });
        });
    }
}

fn physics(c: &mut Criterion) {
    let strengths: Vec<Strength> = (0..100).map(|q| Strength::clamped(f64::from(q) + 0.37)).collect();
    let quick = || strengths.iter().map(|q| ethanol::mass_fraction(black_box(*q))).sum::<f64>();
    // The peer: the same inverse by halving on the public function.
    let by_halving = |wanted: Strength| {
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..40 {
            let middle = f64::midpoint(low, high);
            if ethanol::strength(middle).unwrap() < wanted { low = middle } else { high = middle }
        }
        f64::midpoint(low, high)
    };
    let slow = || strengths.iter().map(|q| by_halving(black_box(*q))).sum::<f64>();
    assert!((quick() - slow()).abs() < 1e-9);
    c.bench_function("liquid/strength/inverse", |b| b.iter(quick));
    c.bench_function("liquid/strength/inverse-by-halving", |b| b.iter(slow));
    let contents = Contents::of_strength(Strength::clamped(20.0))
        .with(Solute::Sucrose, Concentration::clamped(95.0))
        .with(Solute::Citric, Concentration::clamped(1.4));
    let drink = Parts::of_liquid(Volume::clamped(126.0), &contents).unwrap();
    let freezer = Temperature::clamped(-18.0);
    c.bench_function("liquid/freezing/ice", |b| {
        b.iter(|| {
            let share = freezing::at(black_box(&drink), freezer).unwrap().share();
            assert!((0.25..0.35).contains(&share), "{share}");
        });
    });
    let conditions = Conditions::default();
    c.bench_function("liquid/chill/stirred", |b| {
        b.iter(|| {
            let chilled = chill(black_box(&drink), Melt::Stirred, &conditions).unwrap();
            assert!(chilled.at.celsius() < 0.0 && chilled.melt.grams() > 10.0);
        });
    });
}

criterion_group!(benches, cold, warm, physics);
criterion_main!(benches);

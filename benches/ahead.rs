//! How fast a batch is answered; see README.md beside this file.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    reason = "criterion's macros; a bench that cannot go on should stop"
)]

use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use medlar::book::{Climate, Method, Names, When, read_built_in};
use medlar::console::{Library, Session, Settings, Today};
use medlar::drink::{House, read_spec};
use medlar::measure::{Hemisphere, HouseUnit, Jigger, Measures, Month, Temperature, Volume};
use medlar::report::Style as Look;
use medlar::service::{
    Asked, Need, PriceList, Size, Style, USUAL_WASTE, Vessel, WaterWish, batch, bought, cost, pack,
};

fn ahead(c: &mut Criterion) {
    let book = read_built_in().book;
    let names = Names::new(&book);
    let when = When { month: Month::Oct, hemisphere: Hemisphere::North, climate: Climate::Cool };
    let house = House::new(Jigger::millilitres(), when);
    let text =
        "30 ml reposado tequila, 30 ml red bitter liqueur, 30 ml sweet vermouth, 1 dash aromatic bitters";
    let spec = read_spec(text, &book, &names, Some(Method::Stirred), &house).unwrap();
    let prices = PriceList::demo();
    let asked = |serves: f64| Asked {
        spec: spec.clone(),
        size: Size::Serves(serves),
        style: Style::Freezer,
        vessels: [700.0, 1000.0, 375.0].map(|ml| Vessel::bottle(Volume::clamped(ml))).to_vec(),
        water: WaterWish::Method,
        days: None,
        freezer: Temperature::clamped(-18.0),
        unit: HouseUnit::Millilitre,
        measures: Measures::default(),
    };
    let mut group = c.benchmark_group("ahead");
    for (name, serves) in [("one", 1.0), ("forty", 40.0), ("ten-thousand", 10_000.0)] {
        let asked = asked(serves);
        group.bench_function(format!("batch/{name}"), |b| {
            b.iter(|| {
                let made = batch(&book, &asked, &prices).unwrap();
                let buy: Vec<_> = made
                    .lines
                    .iter()
                    .map(|l| bought(&book, l.line.ingredient, l.need, &prices, &asked.measures).unwrap())
                    .collect();
                let serve = cost(&book, &asked.spec, &prices, USUAL_WASTE, None, &asked.measures).unwrap();
                assert!(buy.len() == 4 && serve.missing().count() == 0);
                made.packing.unwrap().count()
            });
        });
    }
    // What is bought is found by looking it up, whatever there is of it: the floor under the above.
    group.bench_function("buy/one-line", |b| {
        let gin = &spec.lines[0].ingredient;
        let need = Need::Volume(Volume::clamped(1200.0));
        b.iter(|| bought(&book, gin, need, &prices, &Measures::default()).unwrap().pack.unwrap().whole);
    });
    let volume = Volume::clamped(1.25e6);
    let three = asked(1.0).vessels;
    group.bench_function("pack/three-sizes", |b| {
        b.iter(|| {
            let packing = pack(volume, &three, 0.96).unwrap();
            assert!(packing.left_over.ml() < 30.0);
            packing.count()
        });
    });
    group.bench_function("pack/by-division", |b| {
        b.iter(|| {
            let count = (volume.ml() / (700.0 * 0.96)).ceil();
            assert!(count > 1000.0);
            count
        });
    });
    let library = Arc::new(Library::of(read_built_in()).unwrap());
    let look = Look { width: 80, colour: false, unicode: true };
    let mut session = Session::new(library, Settings::default(), Today(Month::Oct), look);
    group.bench_function("answer/forty", |b| {
        b.iter(|| {
            let answer = session.answer("batch negroni for 40 --bottle 700ml --style freezer");
            assert_eq!(answer.status, 0);
            answer.out.len()
        });
    });
    group.bench_function("answer/cost", |b| {
        b.iter(|| {
            let answer = session.answer("cost negroni");
            assert_eq!(answer.status, 0);
            answer.out.len()
        });
    });
    group.finish();
}

criterion_group!(benches, ahead);
criterion_main!(benches);

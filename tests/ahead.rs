//! Drinks made ahead: a batch by hand, prices by the textbook, and laws that hold however many are made.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::path::Path;
use std::sync::LazyLock;

use medlar::book::{
    Book, Climate, IngredientId, Method, Names, Price, Storage, When, read_built_in, read_packs,
};
use medlar::drink::{House, Spec, read_spec};
use medlar::liquid::freezing::{self, Pours};
use medlar::liquid::{Country, Parts};
use medlar::measure::{Hemisphere, HouseUnit, Jigger, Mass, Measures, Money, Month, Temperature, Volume};
use medlar::service::{
    Asked, Batch, Cost, KitAsked, Need, Packing, PriceList, ServiceError, Size, Source, Style, Task, Vessel,
    VesselKind, Wanted, WaterWish, batch, bought, by_eye, cost, kit, prep_list, selling,
};
use proptest::prelude::*;

type Read = (Book, Names);

static WEIR: LazyLock<Read> = LazyLock::new(|| {
    let reading = read_packs(&[Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/packs/weir"))], false);
    assert!(reading.faults.is_empty(), "{:?}", reading.faults);
    let names = Names::new(&reading.book);
    (reading.book, names)
});

static BUILT_IN: LazyLock<Read> = LazyLock::new(|| {
    let book = read_built_in().book;
    let names = Names::new(&book);
    (book, names)
});

fn house() -> House {
    let when = When { month: Month::Oct, hemisphere: Hemisphere::North, climate: Climate::Cool };
    House::new(Jigger::millilitres(), when)
}

fn drink_of(read: &'static Read, text: &str, method: Method) -> Spec<'static> {
    read_spec(text, &read.0, &read.1, Some(method), &house()).unwrap()
}

fn drink(text: &str, method: Method) -> Spec<'static> {
    drink_of(&WEIR, text, method)
}

fn ml(ml: f64) -> Volume {
    Volume::new(ml).unwrap()
}

fn celsius(degrees: f64) -> Temperature {
    Temperature::new(degrees).unwrap()
}

fn asked(spec: Spec<'_>, size: Size, style: Style) -> Asked<'_> {
    Asked {
        spec,
        size,
        style,
        vessels: Vec::new(),
        water: WaterWish::Method,
        days: None,
        freezer: celsius(-18.0),
        unit: HouseUnit::Millilitre,
        measures: Measures::default(),
    }
}

fn prices(rows: &[(&str, &str, &str)]) -> PriceList {
    let all: Vec<Price> = rows
        .iter()
        .map(|(of, paid, size)| Price {
            of: IngredientId::new(of).unwrap(),
            paid: paid.parse().unwrap(),
            size: size.parse().unwrap(),
            note: None,
        })
        .collect();
    PriceList::new("test", all.iter(), &Source::House)
}

fn made<'b>(read: &'b Read, asked: &Asked<'b>) -> Batch<'b> {
    batch(&read.0, asked, &prices(&[])).unwrap()
}

fn near(found: f64, by_hand: f64, within: f64) {
    assert!((found - by_hand).abs() <= within, "{found}, by hand {by_hand}");
}

const EQUAL_PARTS: &str = "30 ml blanco tequila, 30 ml red bitter liqueur, 30 ml sweet vermouth";

/// Fifty of an equal-parts drink by hand, volumes added up, as docs/ahead.md works it out. Strength before ice is
/// (40 + 24 + 16) / 3 = 26.67 % vol; the published fit for stirring (D. Arnold 2014, -1.21 a² + 1.246 a + 0.145) gives 0.391 of
/// the volume, so 90 x 0.391 = 35.2 ml of water a serve. Fifty: 3 x 1,500 ml and 1,760 ml of water, 6,260 ml; into bottles of
/// 700 ml filled to 98 % (686 ml) that is 9.13, so ten, with 600 ml of room. Contraction takes about 1 % of the volume.
#[test]
fn fifty_serves_come_out_as_they_do_by_hand() {
    let spec = drink(EQUAL_PARTS, Method::Stirred);
    let asked =
        Asked { vessels: vec![Vessel::bottle(ml(700.0))], ..asked(spec, Size::Serves(50.0), Style::Chilled) };
    let batch = made(&WEIR, &asked);
    for line in &batch.lines {
        near(line.in_batch.ml(), 1500.0, 1e-6);
        near(line.measured.volume.ml(), 1500.0, 1e-6);
    }
    let a = 0.2667_f64;
    let by_fit = 90.0 * (-1.21 * a * a + 1.246 * a + 0.145);
    near(by_fit, 35.2, 0.05);
    near(batch.water.a_serve.ml(), by_fit, 0.6);
    near(batch.measured.volume.ml(), 6260.0, 70.0);
    near(batch.measured.strength.percent_vol(), 80.0 * 1500.0 / 6260.0, 0.3);
    let packing = batch.packing.as_ref().unwrap();
    assert_eq!((packing.count(), packing.filled[0].count), (10, 10));
    near(packing.filled[0].line.ml(), 686.0, 1e-6);
    near(packing.left_over.ml(), 600.0, 70.0);
    // Common practice, no source: a sixth to a fifth of an equal-parts drink is water. 90/5 = 18, 90/4 = 22.5 ml.
    let practice = batch.water.practice.as_ref().unwrap();
    near(practice.a_serve.0.ml(), 18.0, 0.3);
    near(practice.a_serve.1.ml(), 22.5, 0.3);
    assert!(practice.strength.0 > practice.strength.1 && practice.strength.1 > batch.measured.strength);
}

/// Half an ounce stirred, three quarters shaken: common practice, no source.
#[test]
fn practice_is_told_beside_the_physics() {
    for (text, method, ounces) in [
        ("60 ml rye whiskey, 30 ml sweet vermouth, 2 dashes aromatic bitters", Method::Stirred, 0.5),
        ("60 ml blanco tequila, 20 ml lime juice, 20 ml simple syrup", Method::Shaken, 0.75),
    ] {
        let batch = made(&WEIR, &asked(drink(text, method), Size::Serves(10.0), Style::Chilled));
        let practice = batch.water.practice.as_ref().unwrap();
        near(practice.a_serve.0.ounces(), ounces, 1e-9);
        assert!(batch.water.a_serve > practice.a_serve.1, "the published fits give more: {text}");
    }
}

#[test]
fn what_does_not_scale_is_held_back_with_its_reason() {
    let text = "60 ml rye whiskey, 20 ml lime juice, 20 ml simple syrup, 20 ml egg white, 2 dashes aromatic bitters, \
                60 ml soda water, 6 leaves mint";
    let week =
        Asked { days: Some(7), ..asked(drink(text, Method::Shaken), Size::Serves(20.0), Style::Chilled) };
    let batch = made(&WEIR, &week);
    let rule = |id: &str| {
        let line = batch.lines.iter().find(|l| l.line.ingredient.id.as_str() == id).unwrap();
        line.held.as_ref().map(|h| (h.rule.clone(), h.goes_in.to_string()))
    };
    let held = |rule: &str, goes_in: &str| Some((rule.to_owned(), goes_in.to_owned()));
    assert_eq!(rule("rye-whiskey"), None);
    assert_eq!(rule("simple-syrup"), None);
    assert_eq!(rule("lime-juice"), held("citrus", "0"));
    assert_eq!(rule("egg-white"), held("egg-and-dairy", "0"));
    assert_eq!(rule("aromatic-bitters"), held("dashes", "0.5"));
    assert_eq!(rule("soda-water"), held("sparkling", "0"));
    assert_eq!(rule("mint"), held("herbs", "0"));
    // Within the day the juice goes in.
    let day = made(&WEIR, &Asked { days: Some(1), ..week });
    assert!(day.lines.iter().any(|l| l.line.ingredient.id.as_str() == "lime-juice" && l.held.is_none()));
    assert!(batch.lines.iter().all(|l| l.held.as_ref().is_none_or(|h| !h.why.is_empty())));
}

/// Water first, the cheap before the dear, the base last, and no ice anywhere.
#[test]
fn the_work_goes_from_cheap_to_dear() {
    let prices = prices(&[
        ("blanco-tequila", "21.00 GBP", "700 ml"),
        ("red-bitter-liqueur", "18.00 GBP", "700 ml"),
        ("sweet-vermouth", "9.00 GBP", "750 ml"),
    ]);
    let spec = drink(EQUAL_PARTS, Method::Stirred);
    let batch = batch(&WEIR.0, &asked(spec, Size::Serves(10.0), Style::Chilled), &prices).unwrap();
    assert_eq!(
        batch.tasks,
        [
            Task::Water,
            Task::Pour(2),
            Task::Pour(1),
            Task::Pour(0),
            Task::Mix,
            Task::Fill,
            Task::Label,
            Task::Store
        ]
    );
}

/// A stirred dry drink in a freezer of -18 °C. CRC Handbook, 102nd edition: ethanol in water freezes at -18.43 °C with 28 % by
/// mass, which is 0.28 x 0.9580 / 0.78924 = 34.0 % vol; -18.5 °C, so that half a kelvin is sure, takes a little more, the few
/// grams of sugar and acid in the vermouth a little less.
#[test]
fn a_dry_drink_freezes_until_it_is_strong_enough() {
    let spec = drink("75 ml london dry gin, 15 ml dry vermouth", Method::Stirred);
    let full = made(&WEIR, &asked(spec.clone(), Size::Serves(10.0), Style::Freezer));
    let cold = full.cold.unwrap();
    assert_eq!(cold.pours, Pours::NotFreely);
    near(cold.strength_to_pour.unwrap().percent_vol(), 34.0, 0.4);
    let most = cold.most_water.unwrap();
    assert!(most > Volume::ZERO && most < full.water.a_serve);
    // With what it says, it pours; with a little more than its uncertainty it does not.
    let poured = 90.0;
    let with = |water: f64| {
        let asked = Asked {
            water: WaterWish::Share(water / poured),
            ..asked(spec.clone(), Size::Serves(10.0), Style::Freezer)
        };
        made(&WEIR, &asked).cold.unwrap().pours
    };
    assert_eq!(with(most.ml() - 0.5), Pours::Freely);
    assert_ne!(with(most.ml() + 1.5), Pours::Freely);
    assert!(full.fill < freezing::MOST_FILL && full.fill > 0.9, "{}", full.fill);
}

/// A bottle of the undiluted drink, and what a label counts in it. UK: a unit is 8 g (10 ml) of ethanol; US: 14 g; AU: 10 g
/// (public health pages). 700 ml of 26.67 % vol hold 700 x 0.2667 x 0.78924 = 147.3 g.
#[test]
fn standard_drinks_of_a_bottle_are_counted_from_its_ethanol() {
    let spec = drink(EQUAL_PARTS, Method::Stirred);
    let undiluted =
        Asked { water: WaterWish::Share(0.0), ..asked(spec, Size::Volume(ml(700.0)), Style::Chilled) };
    let batch = made(&WEIR, &undiluted);
    near(batch.measured.volume.ml(), 700.0, 1e-6);
    let grams = batch.liquid.ethanol();
    near(grams.grams(), 147.3, 1.5);
    near(Country::UnitedKingdom.drinks(grams), 147.3 / 8.0, 0.2);
    near(Country::UnitedStates.drinks(grams), 147.3 / 14.0, 0.11);
    near(Country::Australia.drinks(grams), 147.3 / 10.0, 0.15);
}

#[test]
fn ingredients_stand_by_weight_with_water_where_there_is_much() {
    let batch = made(&WEIR, &asked(drink(EQUAL_PARTS, Method::Stirred), Size::Serves(10.0), Style::Chilled));
    let by_weight = batch.by_weight();
    let names: Vec<&str> = by_weight.iter().map(|(i, _)| i.map_or("water", |i| i.id.as_str())).collect();
    // 351 ml of water, and 300 ml each of what weighs 1.06, 1.04 and 0.95 g/ml.
    assert_eq!(names, ["water", "red-bitter-liqueur", "sweet-vermouth", "blanco-tequila"]);
    assert!(by_weight.windows(2).all(|pair| pair[0].1 >= pair[1].1));
}

#[test]
fn it_keeps_as_long_as_its_shortest_lived_part() {
    let keeps = |text: &str, method, style| {
        let batch = made(&BUILT_IN, &asked(drink_of(&BUILT_IN, text, method), Size::Serves(10.0), style));
        (batch.keeps.days, batch.keeps.store)
    };
    let dry = keeps("60 ml london dry gin, 10 ml dry vermouth", Method::Stirred, Style::Freezer);
    assert_eq!(dry.1, Storage::Freezer);
    assert!(dry.0 > 14, "{dry:?}");
    let sour = keeps("60 ml white rum, 20 ml lime juice, 20 ml simple syrup", Method::Shaken, Style::Punch);
    assert_eq!(sour.1, Storage::Fridge);
    assert!(sour.0 <= 3, "{sour:?}");
    let weak = keeps("30 ml fino sherry, 60 ml sweet vermouth", Method::Stirred, Style::Chilled);
    assert!(weak.0 <= 14, "{weak:?}");
}

#[test]
fn from_the_fridge_over_ice_the_ice_brings_a_part_of_the_water() {
    let of = |style| made(&WEIR, &asked(drink(EQUAL_PARTS, Method::Stirred), Size::Serves(10.0), style));
    let (chilled, over_ice, punch, to_order) =
        (of(Style::Chilled), of(Style::OverIce), of(Style::Punch), of(Style::ToOrder));
    assert!(over_ice.water.a_serve < chilled.water.a_serve && over_ice.water.a_serve > Volume::ZERO);
    assert!(punch.water.a_serve < chilled.water.a_serve && punch.water.a_serve > Volume::ZERO);
    assert_eq!(to_order.water.a_serve, Volume::ZERO);
    for batch in [&chilled, &over_ice, &punch, &to_order] {
        // However the water comes, the guest has the drink that the bar makes singly.
        near(batch.in_glass.measured.strength.percent_vol(), batch.single.strength.percent_vol(), 0.05);
        near(batch.in_glass.served.ml(), batch.single.served.ml(), 0.3);
    }
}

/// Two parts of mix to one of spirit: a sour of 60 ml spirit takes 120 ml of mix, of which 40 ml are juice and syrup.
#[test]
fn a_kit_holds_its_ratio_and_leaves_room() {
    let spec = drink("60 ml blanco tequila, 20 ml lime juice, 20 ml simple syrup", Method::Shaken);
    let of =
        Asked { vessels: vec![Vessel::bottle(ml(500.0))], ..asked(spec, Size::Containers, Style::ToOrder) };
    let own = kit(&WEIR.0, &KitAsked { of: of.clone(), parts: None, room: false }, &prices(&[])).unwrap();
    near(own.parts, 40.0 / 60.0, 0.01);
    assert_eq!(own.water, Volume::ZERO);
    near(own.strength.percent_vol(), own.single.strength.percent_vol(), 0.05);
    let two = kit(&WEIR.0, &KitAsked { of: of.clone(), parts: Some(2.0), room: true }, &prices(&[])).unwrap();
    near(two.mix.pour.ml(), 120.0, 0.1);
    near(two.water.ml(), 80.0, 0.5);
    assert!(two.strength < two.single.strength);
    let bottle = two.bottle.unwrap();
    near(bottle.mix.ml() + bottle.spirit.ml(), 490.0, 0.2);
    near(bottle.mix.ml() / bottle.spirit.ml(), 2.0, 1e-6);
    assert_eq!(two.mix.packing.as_ref().map(Packing::count), Some(1));
    let over = kit(&WEIR.0, &KitAsked { of: of.clone(), parts: Some(0.5), room: false }, &prices(&[]));
    assert!(matches!(over, Err(ServiceError::MixOver { .. })), "{over:?}");
    let no_spirit =
        Asked { spec: drink("60 ml lime juice, 20 ml simple syrup", Method::Shaken), ..of.clone() };
    let none = kit(&WEIR.0, &KitAsked { of: no_spirit, parts: None, room: false }, &prices(&[]));
    assert!(matches!(none, Err(ServiceError::NoSpirit)), "{none:?}");
    let no_mix = Asked { spec: drink("60 ml blanco tequila", Method::Stirred), ..of };
    let none = kit(&WEIR.0, &KitAsked { of: no_mix, parts: None, room: false }, &prices(&[]));
    assert!(matches!(none, Err(ServiceError::NoMix)), "{none:?}");
}

/// By hand: 30 ml of a bottle of 700 ml for 21.00 GBP is 0.90; 30 of 700 for 18.20 is 0.78; 30 of 750 for 9.00 is 0.36; in all
/// 2.04, with 3 % waste 2.1012. At a pour cost of 20 % (cost over price, the textbook formula) the price is 10.506 without tax,
/// 12.6072 with 20 %, on the menu 13.00; of that 10.8333 is without tax: pour cost 19.396 %, margin 8.7321.
#[test]
fn a_serve_is_priced_as_by_hand() {
    let list = prices(&[
        ("blanco-tequila", "21.00 GBP", "700 ml"),
        ("red-bitter-liqueur", "18.20 GBP", "700 ml"),
        ("sweet-vermouth", "9.00 GBP", "750 ml"),
    ]);
    let spec = drink(EQUAL_PARTS, Method::Stirred);
    let serve = cost(&WEIR.0, &spec, &list, 0.03, None, &Measures::default()).unwrap();
    let sums: Vec<String> = serve.lines.iter().map(|l| l.cost.as_ref().unwrap().0.to_string()).collect();
    assert_eq!(sums, ["0.90 GBP", "0.78 GBP", "0.36 GBP"]);
    assert_eq!(serve.total.to_string(), "2.1012 GBP");
    assert_eq!(serve.dearest().unwrap().ingredient.id.as_str(), "blanco-tequila");
    let step: Money = "0.50 GBP".parse().unwrap();
    let sold = selling(&serve, 0.2, 0.2, step, None).unwrap();
    assert_eq!(sold.net_at_target.to_string(), "10.506 GBP");
    assert_eq!(sold.at_target.to_string(), "12.6072 GBP");
    assert_eq!(sold.menu.to_string(), "13.00 GBP");
    near(sold.pour_cost, 0.19396, 1e-5);
    assert_eq!(sold.margin.to_string(), "8.7321 GBP");
    // A tenth more for the tequila: 0.09 with its waste 0.0927, over 10.8333: 0.856 points.
    near(sold.moves[0].by_a_tenth, 0.0927 / 10.8333, 1e-6);
    let euros: Money = "0.50 EUR".parse().unwrap();
    assert!(matches!(selling(&serve, 0.2, 0.0, euros, None), Err(ServiceError::Currencies { .. })));
}

#[test]
fn two_currencies_are_never_added_up() {
    let list = prices(&[("blanco-tequila", "21.00 GBP", "700 ml"), ("sweet-vermouth", "9.00 EUR", "750 ml")]);
    let spec = drink(EQUAL_PARTS, Method::Stirred);
    let found = cost(&WEIR.0, &spec, &list, 0.0, None, &Measures::default());
    assert!(matches!(found, Err(ServiceError::Currencies { .. })), "{found:?}");
    let none = cost(&WEIR.0, &spec, &prices(&[]), 0.0, None, &Measures::default());
    assert!(matches!(none, Err(ServiceError::NoPrice { .. })), "{none:?}");
}

/// Simple syrup of the built-in book costs what its sugar does, over what it yields; the water is from the tap.
#[test]
fn a_preparation_is_rolled_up_with_its_yield() {
    let book = &BUILT_IN.0;
    let list = prices(&[("sugar", "2.00 GBP", "1000 g")]);
    let spec = drink_of(&BUILT_IN, "100 ml simple syrup", Method::NoIce);
    let serve = cost(book, &spec, &list, 0.0, None, &Measures::default()).unwrap();
    let made = book.prep_of(&IngredientId::new("simple-syrup").unwrap()).unwrap();
    let sugar = made.lines.iter().find(|l| l.of.as_str() == "sugar").unwrap();
    let grams = sugar.amount.mass().unwrap().grams();
    let making = medlar::drink::made(book, made, &Measures::default()).unwrap();
    let by_hand = grams / 1000.0 * 2.00 * 100.0 / making.volume.ml();
    near(serve.total.ten_thousandths() as f64 / 1e4, by_hand, 2e-4);
}

#[test]
fn juice_is_bought_as_fruit_with_its_spread() {
    let book = &BUILT_IN.0;
    let lime = book.ingredient(&IngredientId::new("lime").unwrap()).unwrap();
    let juice = book.ingredient(&IngredientId::new("lime-juice").unwrap()).unwrap();
    let held = lime.juice.as_ref().unwrap();
    let list = prices(&[("lime", "0.30 GBP", "1 piece")]);
    let bought = bought(book, juice, Need::Volume(ml(900.0)), &list, &Measures::default()).unwrap();
    let pieces = bought.pieces.unwrap();
    assert_eq!(pieces.fruit.id, lime.id);
    near(f64::from(pieces.usual), (900.0 / held.ml.ml()).ceil(), 1e-9);
    near(f64::from(pieces.most), (900.0 / held.least.ml()).ceil(), 1e-9);
    assert!(pieces.fewest <= pieces.usual && pieces.usual <= pieces.most);
}

#[test]
fn a_day_s_work_is_in_an_order_that_can_be_done() {
    let book = &BUILT_IN.0;
    let names = ["daiquiri", "mojito", "bees-knees"];
    let drinks: Vec<(Spec<'_>, f64)> = names
        .iter()
        .filter_map(|id| book.template(&medlar::book::TemplateId::new(id).ok()?))
        .map(|t| (Spec::of_template(book, t, &house()), 30.0))
        .collect();
    assert!(drinks.len() == 3);
    let syrup = book.ingredient(&IngredientId::new("pineapple-syrup").unwrap()).unwrap();
    let wanted = Wanted { drinks, preps: vec![(syrup, ml(1000.0))], spare: 0.1 };
    let list = prep_list(book, &wanted, &PriceList::demo(), &Measures::default()).unwrap();
    assert!(list.jobs.iter().any(|j| j.ingredient.id.as_str() == "simple-syrup"));
    // Its juice is pressed for it, before it.
    let at = |id: &str| list.jobs.iter().position(|j| j.ingredient.id.as_str() == id).unwrap();
    assert!(at("pineapple-juice") < at("pineapple-syrup"));
    for (place, job) in list.jobs.iter().enumerate() {
        for (part, _) in &job.lines {
            let made_at = list.jobs.iter().position(|j| j.form.is_none() && j.ingredient.id == part.id);
            assert!(
                job.form.is_some() || made_at.is_none_or(|at| at < place),
                "{} needs {}",
                job.ingredient.id,
                part.id
            );
        }
    }
}

#[test]
fn what_may_go_wrong_by_eye_is_in_proportion_to_the_bottle() {
    let spec = drink("60 ml blanco tequila, 20 ml lime juice, 20 ml simple syrup", Method::Shaken);
    let batch = made(&WEIR, &asked(spec, Size::Serves(20.0), Style::ToOrder));
    let of = |holds: f64| by_eye(&batch, ml(holds), 70.0, None, None, &Measures::default()).unwrap();
    let (small, large) = (of(500.0), of(1000.0));
    let unnoticed = |found: &medlar::service::ByEye<'_>| -> Vec<f64> {
        found.lines.iter().map(|l| l.unnoticed.map_or(0.0, |v| v.ml())).collect()
    };
    for (small, large) in unnoticed(&small).iter().zip(unnoticed(&large)) {
        assert!(*small > 0.0 && (large / small - 2.0).abs() < 0.2, "{small} {large}");
    }
    let last = large.lines.last().unwrap();
    near(last.up_to.ml(), 980.0, 15.0);
    // A circle of 70 mm across is 38.48 cm²: 3.848 ml a millimetre.
    let line = &large.lines[0];
    near(line.unnoticed.unwrap().ml() / line.unnoticed_mm.unwrap(), 3.848, 0.001);
}

#[test]
fn what_cannot_be_made_is_told() {
    let spec = drink(EQUAL_PARTS, Method::Stirred);
    let fails = |asked: &Asked<'_>| batch(&WEIR.0, asked, &prices(&[])).unwrap_err().to_string();
    for serves in [0.0, -3.0, f64::NAN, 1e9] {
        let told = fails(&asked(spec.clone(), Size::Serves(serves), Style::Chilled));
        assert!(told.contains("allowed are 1 to 100000"), "{told}");
    }
    let told = fails(&asked(spec.clone(), Size::Volume(ml(50.0)), Style::Chilled));
    assert!(told.contains("less than one serve"), "{told}");
    let few = Vessel { kind: VesselKind::Bottle, holds: ml(700.0), at_hand: Some(2) };
    let told = fails(&Asked { vessels: vec![few], ..asked(spec, Size::Serves(40.0), Style::Chilled) });
    assert!(told.contains("do not go into the containers"), "{told}");
    let told = fails(&asked(drink("120 ml soda water", Method::Built), Size::Serves(4.0), Style::Chilled));
    assert!(told.contains("held back"), "{told}");
}

fn any_drink() -> impl Strategy<Value = (Spec<'static>, Method)> {
    let lines = prop::sample::subsequence(
        vec![
            "rye whiskey",
            "red bitter liqueur",
            "sweet vermouth",
            "orange liqueur",
            "lime juice",
            "simple syrup",
        ],
        0..5,
    );
    let method = prop::sample::select(vec![Method::Stirred, Method::Shaken, Method::Built]);
    (lines, prop::collection::vec(10.0_f64..70.0, 7), 0_u8..4, method).prop_map(
        |(names, sizes, dashes, method)| {
            let mut text: Vec<String> =
                names.iter().zip(&sizes).map(|(name, ml)| format!("{ml:.0} ml {name}")).collect();
            // Something that no rule holds back.
            text.push(format!("{:.0} ml blanco tequila", sizes[6]));
            if dashes > 0 {
                text.push(format!("{dashes} dashes aromatic bitters"));
            }
            (drink(&text.join(", "), method), method)
        },
    )
}

fn any_style() -> impl Strategy<Value = Style> {
    prop::sample::select(Style::ALL.to_vec())
}

proptest! {
    /// Twice the serves is twice of everything; what a serve takes stays.
    #[test]
    fn twice_the_serves_is_twice_of_everything((spec, _) in any_drink(), style in any_style(), serves in 1_u32..2000) {
        let of = |serves: f64| made(&WEIR, &asked(spec.clone(), Size::Serves(serves), style));
        let (once, twice) = (of(f64::from(serves)), of(2.0 * f64::from(serves)));
        let double = |a: f64, b: f64| (b - 2.0 * a).abs() <= 1e-9 * b.abs().max(1.0);
        for (a, b) in once.lines.iter().zip(&twice.lines) {
            prop_assert!(double(a.in_batch.ml(), b.in_batch.ml()));
            prop_assert_eq!(a.at_service, b.at_service);
            prop_assert_eq!(&a.held, &b.held);
        }
        prop_assert!(double(once.water_in_batch.ml(), twice.water_in_batch.ml()));
        prop_assert!(double(once.liquid.mass().grams(), twice.liquid.mass().grams()));
        prop_assert_eq!(once.pour, twice.pour);
        prop_assert_eq!(once.keeps, twice.keeps);
    }

    /// What goes in and what is held back is the whole drink, by mass; the batch is what its lines and its water weigh.
    #[test]
    fn the_parts_sum_to_the_whole((spec, _) in any_drink(), style in any_style(), serves in 1_u32..500) {
        let batch = made(&WEIR, &asked(spec.clone(), Size::Serves(f64::from(serves)), style));
        let lines: f64 = batch.lines.iter().filter_map(|l| l.grams).map(Mass::grams).sum();
        let water = Parts::water(batch.water_in_batch).mass().grams();
        prop_assert!((lines + water - batch.liquid.mass().grams()).abs() < 1e-6 * batch.liquid.mass().grams());
        for line in &batch.lines {
            let whole = line.line.volume.unwrap().ml() * f64::from(serves);
            let held = match line.at_service {
                Some(Need::Volume(each)) => each.ml() * f64::from(serves),
                _ => 0.0,
            };
            prop_assert!((line.in_batch.ml() + held - whole).abs() < 1e-6 * whole.max(1.0));
        }
        prop_assert!((batch.pour.ml() * batch.serves - batch.measured.volume.ml()).abs() < 1e-6 * batch.measured.volume.ml());
    }

    /// Asked for by volume or by containers, it is that volume, and never over a fill line.
    #[test]
    fn containers_are_full_and_no_fuller((spec, _) in any_drink(), style in any_style(), ml_each in 200.0_f64..20_000.0, count in 1_u32..12) {
        let vessel = Vessel { kind: VesselKind::Bottle, holds: ml(ml_each), at_hand: Some(count) };
        let asked = Asked { vessels: vec![vessel], ..asked(spec, Size::Containers, style) };
        match batch(&WEIR.0, &asked, &prices(&[])) {
            Ok(batch) => {
                let packing = batch.packing.as_ref().unwrap();
                prop_assert_eq!(packing.count(), count);
                prop_assert!(packing.left_over.ml() < 0.2 * f64::from(count), "{:?}", packing);
                prop_assert!(batch.measured.volume.ml() <= f64::from(count) * ml_each * batch.fill + 1e-6);
            }
            Err(error) => prop_assert!(matches!(error, ServiceError::LessThanAServe { .. }), "{error}"),
        }
    }

    /// Rounded amounts are off by no more than they say, and the drink hardly moves.
    #[test]
    fn rounding_stays_within_what_it_states((spec, _) in any_drink(), serves in 10_u32..500) {
        let batch = made(&WEIR, &asked(spec, Size::Serves(f64::from(serves)), Style::Chilled));
        for line in batch.lines.iter().filter(|l| l.in_batch > Volume::ZERO) {
            let off = line.measured.volume.ml() / line.in_batch.ml() - 1.0;
            prop_assert!(off.abs() <= batch.rounding_error() + 1e-12);
        }
        prop_assert!((batch.as_measured.strength.percent_vol() - batch.measured.strength.percent_vol()).abs() < 0.3);
    }

    /// Twice of every line costs twice as much, to a ten-thousandth a line.
    #[test]
    fn cost_is_linear(volumes in prop::collection::vec(1_u32..200, 3), paid in 100_i64..2_000_000) {
        let list = prices(&[("blanco-tequila", "1.00 GBP", "700 ml")]);
        let currency = list.of(&IngredientId::new("blanco-tequila").unwrap()).unwrap().price.paid.currency();
        let sum = Money::new(paid, currency).unwrap().to_string();
        let list = prices(&[
            ("blanco-tequila", &sum, "700 ml"), ("lime-juice", &sum, "1000 ml"), ("simple-syrup", &sum, "500 ml"),
        ]);
        let of = |times: u32| -> Cost<'static> {
            let [a, b, c] = [volumes[0] * times, volumes[1] * times, volumes[2] * times];
            let spec = drink(&format!("{a} ml blanco tequila, {b} ml lime juice, {c} ml simple syrup"), Method::Shaken);
            cost(&WEIR.0, &spec, &list, 0.0, None, &Measures::default()).unwrap()
        };
        let (one, two) = (of(1).total.ten_thousandths(), of(2).total.ten_thousandths());
        prop_assert!((two - 2 * one).abs() <= 5, "{one} {two}");
        let many = of(1).of_serves(40.0).unwrap().ten_thousandths();
        prop_assert_eq!(many, 40 * one);
    }
}

//! Syrups, acid powders and sweetness against figures that others published. Each test names its source.
//!
//! Every figure stands beside ours in docs/model.md.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod checks;

use checks::Checks;
use medlar::liquid::{
    AcidMix, Addition, CitricForm, Contents, Panel, Parts, Solute, Sweetness, Syrup, saturated_brix,
};
use medlar::measure::{Brix, Concentration, Mass, Strength, Temperature, Volume};

fn grams(grams: f64) -> Mass {
    Mass::new(grams).unwrap()
}

fn ml(ml: f64) -> Volume {
    Volume::new(ml).unwrap()
}

fn g_l(grams: f64) -> Concentration {
    Concentration::new(grams).unwrap()
}

fn celsius(degrees: f64) -> Temperature {
    Temperature::new(degrees).unwrap()
}

fn by_mass(sugar: f64, water: f64) -> Syrup {
    Syrup::by_mass(grams(sugar), grams(water)).unwrap()
}

/// By mass, sugar to water: g of sugar, g of water, °Bx, kg/m³, g in 100 ml, ml made.
///
/// Worked from the densities of Bubník, Kadlec, Urban, Bruhns: Sugar Technologists Manual (1995), p. 164 (ICUMSA
/// SPS-4), apart from this program.
const BY_MASS: [[f64; 6]; 3] = [
    [100.0, 100.0, 50.00, 1229.65, 61.48, 162.6],
    [200.0, 100.0, 66.67, 1326.76, 88.45, 226.1],
    [150.0, 100.0, 60.00, 1286.61, 77.20, 194.3],
];

#[test]
fn syrups_by_mass() {
    let mut checks = Checks::against("Syrups by mass: Sugar Technologists Manual (1995), worked apart");
    for [sugar, water, brix, kg_m3, per_100_ml, made] in BY_MASS {
        let ours = by_mass(sugar, water);
        let what = format!("{sugar}:{water} by mass");
        checks.near(&format!("°Bx of {what}"), brix, ours.brix().degrees(), 0.005);
        checks.near(&format!("kg/m³ of {what}"), kg_m3, ours.density(), 0.01);
        let concentration = ours.sugar_per_litre();
        checks.near(
            &format!("g in 100 ml of {what}"),
            per_100_ml,
            concentration.grams_per_litre() / 10.0,
            0.006,
        );
        checks.near(&format!("ml of {what}"), made, ours.volume().ml(), 0.05);
        // And the other way: what makes that volume of that Brix, within what the printed volume leaves open.
        let back = Syrup::of_brix(ours.brix(), ml(made)).unwrap();
        checks.near(
            &format!("g of sugar for {made} ml of {what}"),
            sugar,
            back.sugar().grams(),
            0.0004 * sugar,
        );
        checks.near(
            &format!("g of water for {made} ml of {what}"),
            water,
            back.water().grams(),
            0.0004 * water,
        );
    }
    checks.all_agree(18);
}

/// By volume, 100 ml of water: ml of sugar, g of sugar, g of water, °Bx, kg/m³, g in 100 ml, ml made.
///
/// As above, with the bulk density of granulated sugar of the USDA National Nutrient Database for Standard Reference,
/// release 28, food 19335: 200 g a cup, rounded to 0.8454 g/ml, where ours is 0.84535; that is 0.006 ml and 0.0015 °Bx.
const BY_VOLUME: [[f64; 7]; 2] =
    [[100.0, 84.5, 99.8, 45.86, 1207.2, 55.36, 152.7], [200.0, 169.1, 99.8, 62.88, 1303.7, 81.98, 206.3]];

#[test]
fn syrups_by_volume() {
    let mut checks = Checks::against(
        "Syrups by the cup: USDA SR28 19335 and the Sugar Technologists Manual, worked apart",
    );
    for [heap, sugar, water, brix, kg_m3, per_100_ml, made] in BY_VOLUME {
        let ours = Syrup::by_volume(ml(heap), ml(100.0)).unwrap();
        let what = format!("{heap}:100 by volume");
        checks.near(&format!("g of sugar in {what}"), sugar, ours.sugar().grams(), 0.05);
        checks.near(&format!("g of water in {what}"), water, ours.water().grams(), 0.05);
        checks.near(&format!("°Bx of {what}"), brix, ours.brix().degrees(), 0.006);
        checks.near(&format!("kg/m³ of {what}"), kg_m3, ours.density(), 0.06);
        let concentration = ours.sugar_per_litre();
        checks.near(
            &format!("g in 100 ml of {what}"),
            per_100_ml,
            concentration.grams_per_litre() / 10.0,
            0.011,
        );
        checks.near(&format!("ml of {what}"), made, ours.volume().ml(), 0.056);
    }
    checks.all_agree(12);
}

/// What brings a syrup to another Brix, by what it holds at both ends: 300 g of 2:1 hold 200 g of sugar, which in 1:1
/// stand with 200 g of water, 100 more than there are; and 200 g of 1:1 want 100 g of sugar to be 2:1.
///
/// Source: arithmetic.
#[test]
fn from_rich_to_simple_and_back() {
    let mut checks = Checks::against("From one Brix to another: arithmetic");
    let added = by_mass(200.0, 100.0).to_reach(Brix::new(50.0).unwrap()).unwrap();
    let Addition::Water(water) = added else { panic!("{added:?}") };
    checks.near("g of water, 300 g from 2:1 to 1:1", 100.0, water.grams(), 1e-9);
    let added = by_mass(100.0, 100.0).to_reach(Brix::new(200.0 / 3.0).unwrap()).unwrap();
    let Addition::Sugar(sugar) = added else { panic!("{added:?}") };
    checks.near("g of sugar, 200 g from 1:1 to 2:1", 100.0, sugar.grams(), 1e-9);
    checks.all_agree(2);
}

/// °C, % by mass.
///
/// Worked from the formula apart from this program (public reference code; that it is of the Sugar Technologists
/// Manual, 1995, is *from memory*).
const SOLUBILITY: [[f64; 2]; 5] = [[0.0, 64.45], [4.0, 64.80], [20.0, 66.72], [25.0, 67.47], [40.0, 70.10]];

/// A table derived from the CRC Handbook disagrees with the formula: 67.09 at 20 °C.
const SOLUBILITY_OTHERWISE: [f64; 2] = [20.0, 67.09];

fn solubility(at: f64) -> f64 {
    saturated_brix(celsius(at)).map_or(f64::NAN, Brix::degrees)
}

#[test]
fn water_holds_what_the_formula_says() {
    let mut checks = Checks::against("Solubility of sugar: published formula, worked apart");
    for [at, published] in SOLUBILITY {
        checks.near(&format!("°Bx saturated at {at} °C"), published, solubility(at), 0.005);
    }
    let [at, otherwise] = SOLUBILITY_OTHERWISE;
    checks.near(&format!("°Bx saturated at {at} °C, another table"), otherwise, solubility(at), 0.4);
    checks.all_agree(6);
}

/// 2:1 by mass is 66.67 °Bx: 0.05 under saturation at 20 °C, 1.87 over it at 4 °C, so it crystallises in a fridge. 1:1
/// never does.
///
/// Source: the figures of [`SOLUBILITY`], taken from 66.67 by hand.
#[test]
fn rich_syrup_crystallises_in_a_fridge_and_not_on_the_bar() {
    let mut checks = Checks::against("Syrup against saturation: the same, by hand");
    for (at, margin, crystals) in [(20.0, -0.05, false), (4.0, 1.87, true)] {
        let rich = by_mass(2.0, 1.0).saturation(celsius(at)).unwrap();
        checks.near(&format!("°Bx that 2:1 is over saturation at {at} °C"), margin, rich.degrees_over, 0.01);
        assert_eq!(rich.will_crystallise(), crystals, "2:1 at {at} °C");
        assert!(!by_mass(1.0, 1.0).saturation(celsius(at)).unwrap().will_crystallise(), "1:1 at {at} °C");
    }
    checks.all_agree(2);
}

/// Grams that count as much in a titration as a gram of anhydrous citric acid.
///
/// Source: monohydrate, malic and tartaric acid on a juice trade's page; lactic, acetic and phosphoric acid (two
/// hydrogens) from equivalent weights, worked apart from this program.
const EQUIVALENTS: [(Solute, f64); 5] = [
    (Solute::Malic, 1.047),
    (Solute::Tartaric, 1.172),
    (Solute::Lactic, 1.407),
    (Solute::Acetic, 0.938),
    (Solute::Phosphoric, 0.765),
];

/// Each is weighed out for water of 10 g/L, where citric acid is the measure: the grams in the finished litre.
#[test]
fn acids_stand_for_citric_acid_as_published() {
    let mut checks = Checks::against("Acids as citric: a juice trade's page; equivalent weights");
    let monohydrate = CitricForm::Monohydrate.for_anhydrous(grams(1.0)).unwrap();
    checks.near("g of citric acid monohydrate for 1 g", 1.094, monohydrate.grams(), 0.0005);
    let citric = AcidMix::of(Solute::Citric).unwrap().with_citric(CitricForm::Monohydrate);
    let powder = citric.in_water(ml(1000.0), g_l(10.0)).unwrap().weighed(Solute::Citric);
    checks.near("g of citric acid monohydrate in a litre of 10 g/L", 10.94, powder.grams(), 0.005);
    for (acid, published) in EQUIVALENTS {
        checks.near(
            &format!("g of {acid} for 1 g of citric acid"),
            published,
            1.0 / acid.as_citric(),
            0.0005,
        );
        let litre = AcidMix::of(acid).unwrap().in_water(ml(1000.0), g_l(10.0)).unwrap();
        let what = format!("g of {acid} in a litre of 10 g/L");
        checks.near(&what, 10.0 * published, litre.weighed(acid).grams(), 0.005);
    }
    checks.all_agree(12);
}

/// Orange juice, a litre: acids of Karadeniz (2004), 13.28 g/L citric and 7.79 g/L malic; sugars of the USDA National
/// Nutrient Database for Standard Reference, release 28, food 09207 (canned, unsweetened), 4.06, 2.27 and 2.43 g in 100
/// g, at its 1.0516 g/ml.
fn orange() -> Parts {
    let sugar = |per_100_g: f64| g_l(10.0 * per_100_g * 1.0516);
    let contents = Contents::of_strength(Strength::ZERO)
        .with(Solute::Sucrose, sugar(4.06))
        .with(Solute::Glucose, sugar(2.27))
        .with(Solute::Fructose, sugar(2.43))
        .with(Solute::Citric, g_l(13.28))
        .with(Solute::Malic, g_l(7.79));
    Parts::of_liquid(ml(1000.0), &contents).unwrap()
}

/// Acid of lime juice, g/L as citric: Penniston (2008), 45.9 ± 6.9, two fruits.
const LIME: f64 = 45.9;

/// Orange juice as sour as lime, worked by hand.
///
/// - Acid of a litre: 13.28 + 7.79 / 1.047 = 13.28 + 7.440 = 20.72 g as citric. To 45.9 g/L 25.18 g are missing.
/// - It holds 92.1 g of sugar and 21.1 g of acid, 113 g/L, and some 26 g come in. There a gram of what is dissolved
///   takes 0.619 ml: by the Sugar Technologists Manual (1995) 111.11 g of sugar in a kilogram of water (10 °Bx, 1038.12
///   kg/m³) make 1070.31 ml and 176.47 g (15 °Bx, 1059.16 kg/m³) 1110.76 ml, 40.45 ml more for 65.36 g.
/// - Citric alone, x g: 20.72 + x = 45.9 (1 + 0.000619 x), so x = 25.18 / (1 − 0.02841) = 25.92 g, and the litre
///   becomes 1000 + 0.619 × 25.92 = 1016.0 ml.
/// - Citric 2 : malic 1: a gram counts (2 + 1/1.047) / 3 = 0.98504, so x = 25.18 / (0.98504 − 0.02841) = 26.32 g, 17.55
///   g of citric and 8.77 g of malic, and 1016.3 ml.
/// - Citric as monohydrate, x g of anhydrous: 0.094 g of water come with each, 0.094 ml: x = 25.18 / (1 − 0.0459 ×
///   0.713) = 26.03 g, 28.48 g of powder, and 1018.6 ml.
#[test]
fn an_orange_juice_as_sour_as_lime() {
    let mut checks =
        Checks::against("Acid-adjusted orange juice: Karadeniz (2004), Penniston (2008), worked by hand");
    let orange = orange();
    checks.near("orange juice: g/L as citric", 20.72, orange.acid().grams_per_litre(), 0.005);
    let citric = AcidMix::of(Solute::Citric).unwrap();
    let two_to_one = AcidMix::of_parts(&[(Solute::Citric, 2.0), (Solute::Malic, 1.0)]).unwrap();
    let monohydrate = citric.with_citric(CitricForm::Monohydrate);
    for (what, mix, [of_citric, of_malic, made]) in [
        ("citric", citric, [25.92, 0.0, 1016.0]),
        ("2:1", two_to_one, [17.55, 8.77, 1016.3]),
        ("monohydrate", monohydrate, [28.48, 0.0, 1018.6]),
    ] {
        let soured = mix.added_to(&orange, g_l(LIME)).unwrap();
        let weighed = |acid| soured.weighed(acid).grams();
        checks.near(&format!("orange as lime, {what}: g citric"), of_citric, weighed(Solute::Citric), 0.015);
        checks.near(&format!("orange as lime, {what}: g malic"), of_malic, weighed(Solute::Malic), 0.015);
        checks.near(&format!("orange as lime, {what}: ml"), made, soured.volume().ml(), 0.1);
        let reached = soured.finished().acid().grams_per_litre();
        checks.near(&format!("orange as lime, {what}: g/L"), LIME, reached, 1e-9);
    }
    checks.all_agree(13);
}

/// A litre of water as sour as lime, worked by hand: 45.9 g of citric acid in it. As sugar 45.9 g/L are 4.52 °Bx; at 5
/// °Bx, 1017.81 kg/m³ (Sugar Technologists Manual, 1995), 50.89 g take 1000 − 966.92 / 0.99820 = 31.34 ml, 0.6158 ml a
/// gram. So 1000 − 45.9 × 0.6158 = 971.73 ml of water, 969.98 g.
#[test]
fn water_as_sour_as_lime() {
    let mut checks = Checks::against("Acid water: worked by hand");
    let litre = AcidMix::of(Solute::Citric).unwrap().in_water(ml(1000.0), g_l(LIME)).unwrap();
    checks.near("water as lime: g citric", LIME, litre.weighed(Solute::Citric).grams(), 1e-6);
    checks.near("water as lime: g water", 969.98, litre.juice().mass().grams(), 0.05);
    checks.near("water as lime: ml", 1000.0, litre.volume().ml(), 1e-6);
    checks.all_agree(3);
}

/// Grams in 100 g: sucrose, glucose, fructose, maltose, water; then sweetness by weight beside sucrose.
///
/// Composition: USDA National Nutrient Database for Standard Reference, release 28, foods 19296 (honey), 19912 (agave
/// syrup) and 19353 (maple syrup). Sweetness: worked from it apart from this program, fructose 1.2 (*from memory*),
/// glucose 0.74.
const SYRUPS: [(&str, [f64; 5], f64); 3] = [
    ("honey", [0.89, 35.75, 40.94, 1.44, 17.10], 0.77),
    ("agave syrup", [0.0, 12.43, 55.6, 0.0, 22.94], 0.76),
    ("maple syrup", [58.32, 1.6, 0.52, 0.0, 32.39], 0.60),
];

fn of_sugars([sucrose, glucose, fructose, _, water]: [f64; 5]) -> Parts {
    Parts::water_weighing(grams(water))
        .plus(&Parts::dry(Solute::Sucrose, grams(sucrose)))
        .plus(&Parts::dry(Solute::Glucose, grams(glucose)))
        .plus(&Parts::dry(Solute::Fructose, grams(fructose)))
}

/// Maltose counts as the first panel has it, by hand: it is none of the solutes, and 0.005 of honey's sweetness.
#[test]
fn natural_syrups_are_as_sweet_by_weight_as_published() {
    let mut checks = Checks::against(
        "Sweetness of honey, agave and maple: USDA SR28 and the working factors, worked apart",
    );
    for (what, in_100_g, published) in SYRUPS {
        let ours = Sweetness::WORKING.as_sucrose(&of_sugars(in_100_g)).unwrap().grams();
        let maltose = in_100_g[3] * Panel::ALL[0].maltose.unwrap();
        checks.near(&format!("sweetness of {what} by weight"), published, (ours + maltose) / 100.0, 0.005);
    }
    checks.all_agree(3);
}

/// Relative sweetness by panel: glucose, fructose, lactose, maltose; not a number where it was not tasted.
///
/// Source: three classical panels, as tabulated in public sources; PMC10346066, Table 2.
const PANELS: [[f64; 4]; 4] = [
    [0.74, 1.73, 0.16, 0.33],
    [0.50, 1.50, f64::NAN, 0.50],
    [0.52, 1.03, 0.28, f64::NAN],
    [0.8, 1.7, 0.2, f64::NAN],
];

/// 100 g of honey by each panel, by hand from [`SYRUPS`] without its maltose: 0.89 + 0.74 × 35.75 + 1.73 × 40.94 =
/// 98.17; 80.18 by the second, 61.65 by the third, 99.09 by the fourth. PMC10346066 itself puts honey at 1.0.
#[test]
fn the_panels_are_as_published_and_spread_honey_from_0_62_to_0_99() {
    let mut checks =
        Checks::against("Sweetness by published panels: PMC10346066 and three classical panels, by hand");
    let honey = of_sugars(SYRUPS[0].1);
    for ((panel, published), by_hand) in Panel::ALL.iter().zip(PANELS).zip([98.17, 80.18, 61.65, 99.09]) {
        let [glucose, fructose, lactose, maltose] = published;
        assert_eq!(panel.lactose.map(f64::to_bits), Some(lactose).filter(|x| !x.is_nan()).map(f64::to_bits));
        assert_eq!(panel.maltose.map(f64::to_bits), Some(maltose).filter(|x| !x.is_nan()).map(f64::to_bits));
        let sweetness = panel.sweetness();
        let source = panel.source;
        checks.near(&format!("glucose, {source}"), glucose, sweetness.factor(Solute::Glucose), 0.0);
        checks.near(&format!("fructose, {source}"), fructose, sweetness.factor(Solute::Fructose), 0.0);
        let ours = sweetness.as_sucrose(&honey).unwrap().grams();
        checks.near(&format!("100 g of honey as g of sucrose, {source}"), by_hand, ours, 0.005);
    }
    let spread = Sweetness::spread(&honey).unwrap();
    let kilograms_per_litre = honey.mass().grams() / honey.volume().ml();
    let by_weight =
        |c: Concentration| c.grams_per_litre() * honey.mass().grams() / 100_000.0 / kilograms_per_litre;
    checks.near("honey by weight, least of the panels", 0.6165, by_weight(spread.least), 0.0001);
    checks.near("honey by weight, most of the panels", 0.9909, by_weight(spread.most), 0.0001);
    checks.near("honey by weight, PMC10346066", 1.0, by_weight(spread.most), 0.05);
    checks.all_agree(15);
}

//! Carbon dioxide in drinks against figures that others published. Each test names its source.
//!
//! Every figure stands beside ours in docs/model.md.

mod checks;

use checks::Checks;
use medlar::liquid::LiquidError;
use medlar::liquid::carbonation::{Bottle, Carbonation, Solubility};
use medlar::measure::{Pressure, Strength, Temperature, Volume};

/// bar in a standard atmosphere.
const ATMOSPHERE: f64 = 1.013_25;

/// Grams of carbon dioxide in a mole.
const MOLAR_MASS: f64 = 44.01;

/// g/L for each bar; not a number where it is refused.
fn per_bar(strength: f64, celsius: f64) -> f64 {
    Solubility::of(Strength::clamped(strength), Temperature::clamped(celsius))
        .map_or(f64::NAN, Solubility::grams_per_litre_bar)
}

/// Volumes at a pressure in bar; not a number where they are refused.
fn volumes(strength: f64, celsius: f64, pressure: Pressure) -> f64 {
    Solubility::of(Strength::clamped(strength), Temperature::clamped(celsius))
        .and_then(|solubility| solubility.held_at(pressure))
        .map_or(f64::NAN, Carbonation::volumes)
}

/// What a gauge reads over a drink at rest that holds so many volumes, psi; not a number where it is refused.
fn psi_for(strength: f64, celsius: f64, volumes: f64) -> f64 {
    let solubility = Solubility::of(Strength::clamped(strength), Temperature::clamped(celsius));
    let pressure =
        solubility.and_then(|s| Carbonation::from_volumes(volumes).map(|held| s.pressure_for(held)));
    pressure.map_or(f64::NAN, Pressure::gauge_psi)
}

/// Pressure in a closed bottle, bar; not a number where it is refused.
fn pressure(bottle: &Result<Bottle, LiquidError>, celsius: f64) -> f64 {
    let at = Temperature::clamped(celsius);
    bottle.and_then(|bottle| bottle.pressure(at)).map_or(f64::NAN, Pressure::bar)
}

/// Water: °C, K0 in mol/(L atm), volumes under 1 atm, g/L for each bar.
const WATER: [[f64; 4]; 7] = [
    [0.0, 0.07758, 1.727, 3.370],
    [4.0, 0.06650, 1.480, 2.888],
    [10.0, 0.05366, 1.195, 2.331],
    [15.0, 0.04553, 1.014, 1.977],
    [20.0, 0.03910, 0.870, 1.698],
    [25.0, 0.03397, 0.756, 1.475],
    [30.0, 0.02983, 0.664, 1.296],
];

/// Source: Weiss, Marine Chemistry 2 (1974) 203-215, the formula for pure water, worked apart from this program.
#[test]
fn water_holds_what_weiss_says() {
    let mut checks = Checks::against("Gas in water: Weiss (1974), its formula worked apart");
    for [celsius, k0, one_atmosphere, grams] in WATER {
        let ours = per_bar(0.0, celsius);
        checks.near(&format!("K0 at {celsius} °C"), k0, ours * ATMOSPHERE / MOLAR_MASS, 0.000_005_1);
        let held = volumes(0.0, celsius, Pressure::clamped(ATMOSPHERE));
        checks.near(&format!("volumes at 1 atm, {celsius} °C"), one_atmosphere, held, 0.000_51);
        checks.near(&format!("g/L/bar of water at {celsius} °C"), grams, ours, 0.000_51);
    }
    checks.all_agree(21);
}

/// Source: R. Sander, Compilation of Henry's law constants: 3.3e-4 to 3.4e-4 mol/(m³ Pa) at 25 °C and 2300 to 2400 K.
///
/// Other measurements than Weiss's among them; half of the last printed digit comes on top.
#[test]
fn water_is_within_the_compilation() {
    let mut checks = Checks::against("Gas in water at 25 °C: Sander, compilation of Henry's law constants");
    let si = |celsius| per_bar(0.0, celsius) / MOLAR_MASS * 1000.0 / 1e5;
    checks.near("1e4 mol/(m³ Pa) at 25 °C", 3.35, 1e4 * si(25.0), 0.05);
    let slope = (si(24.0) / si(26.0)).ln() / (1.0 / 297.15 - 1.0 / 299.15);
    checks.near("K by which it falls at 25 °C", 2350.0, slope, 100.0);
    checks.all_agree(2);
}

/// Source: as for the table of water: °C, psi on a gauge, volumes.
#[test]
fn volumes_at_a_gauge_are_those_of_weiss() {
    let mut checks = Checks::against("Volumes at a gauge: Weiss (1974), worked apart");
    for [celsius, psi, published] in [
        [0.0, 30.0, 5.25],
        [2.0, 35.0, 5.40],
        [4.0, 30.0, 4.50],
        [4.0, 40.0, 5.51],
        [8.0, 40.0, 4.77],
        [20.0, 40.0, 3.24],
    ] {
        let ours = Pressure::from_gauge_psi(psi).map_or(f64::NAN, |pressure| volumes(0.0, celsius, pressure));
        checks.near(&format!("volumes in water at {celsius} °C, {psi} psi"), published, ours, 0.005);
        // 0.005 volumes are so many psi.
        let within = 0.005 * (psi + 14.696) / published;
        let back = psi_for(0.0, celsius, published);
        checks.near(&format!("psi for {published} volumes in water at {celsius} °C"), psi, back, within);
    }
    checks.all_agree(12);
}

/// Source: PMC8047704, Table 1: champagne of 12.5 % vol at 10 °C, beer at 6 °C, g/L for each bar, to two digits.
///
/// The beer's strength is not in the figure: 5 % vol is taken. Ours is 6 % too high for it, since what else is dissolved in
/// a beer is not counted, and that is what is allowed. For the champagne half of the last digit.
#[test]
fn champagne_and_beer_hold_what_was_published() {
    let mut checks = Checks::against("Gas in champagne and beer: PMC8047704, Table 1");
    checks.near("g/L/bar of champagne at 10 °C", 2.1, per_bar(12.5, 10.0), 0.05);
    checks.near("g/L/bar of beer at 6 °C", 2.4, per_bar(5.0, 6.0), 0.15);
    checks.all_agree(2);
}

/// A bottle of 750 ml and 20 ml of headspace, 12.5 % vol, closed at rest at 6 °C; the headspace is ours.
fn sparkling_wine() -> Result<Bottle, LiquidError> {
    Bottle::filled_at(
        Strength::clamped(12.5),
        Volume::clamped(750.0),
        Volume::clamped(20.0),
        Pressure::clamped(4.7),
        Temperature::clamped(6.0),
    )
}

/// Source: Liger-Belair and others, Scientific Reports 7 (2017), s41598-017-10702-6, Table 1: 4.7, 5.8 and 7.5 bar at 6, 12
/// and 20 °C. The first is what the bottle is filled to; the others are checked.
#[test]
fn a_bottle_of_sparkling_wine_warms_as_was_published() {
    let mut checks = Checks::against(
        "A bottle of sparkling wine: Scientific Reports 7 (2017), s41598-017-10702-6, Table 1",
    );
    for (celsius, published) in [(12.0, 5.8), (20.0, 7.5)] {
        let ours = pressure(&sparkling_wine(), celsius);
        checks.near(&format!("bar in a bottle of sparkling wine at {celsius} °C"), published, ours, 0.3);
    }
    checks.all_agree(2);
}

/// 1 L of water filled with 4.0 volumes, and 5 % of headspace.
fn soda() -> Result<Bottle, LiquidError> {
    let holds = Carbonation::from_volumes(4.0)?;
    Bottle::filled_with(Strength::ZERO, Volume::clamped(1000.0), Volume::clamped(50.0), holds)
}

/// Source: Weiss (1974) with the mass balance of Liger-Belair and others (2017), worked apart from this program. At 50 °C,
/// where that gives 8.5 bar, the formula for water is not published: refused.
#[test]
fn a_bottle_of_soda_water_warms_as_worked_apart() {
    let mut checks =
        Checks::against("A bottle of soda water: Weiss (1974) with a mass balance, worked apart");
    for (celsius, published) in [(2.0, 2.5), (20.0, 4.4), (30.0, 5.7)] {
        let ours = pressure(&soda(), celsius);
        checks.near(&format!("bar in soda of 4.0 volumes at {celsius} °C"), published, ours, 0.05);
    }
    checks.all_agree(3);
    let beyond = soda().and_then(|bottle| bottle.pressure(Temperature::clamped(50.0)));
    assert_eq!(beyond, Err(LiquidError::GasTemperature { found: 50.0, least: -1.0, most: 40.0 }));
}

/// The rule that the pressure from a vacuum grows 2.2 times from 4 °C and 2.3 times from 2 °C to 30 °C.
///
/// Source: as above, for the soda water, within half of the last digit. The bottle of sparkling wine has half as much
/// headspace for its size, and rises more, 2.36 times from 2 °C: one digit is allowed it.
#[test]
fn from_fridge_to_warm_room_the_pressure_more_than_doubles() {
    let mut checks =
        Checks::against("From fridge to 30 °C: the rule of 2.2 to 2.3 times the pressure, worked apart");
    for (celsius, published) in [(4.0, 2.2), (2.0, 2.3)] {
        for (what, bottle, within) in [("soda", soda(), 0.05), ("sparkling wine", sparkling_wine(), 0.1)] {
            let ours = pressure(&bottle, 30.0) / pressure(&bottle, celsius);
            checks.near(&format!("times the bar of {what}, {celsius} to 30 °C"), published, ours, within);
        }
    }
    checks.all_agree(4);
}

/// Brewers' regression for beer: °F, volumes, psi on a gauge.
///
/// Source: brewers' pages, which print it without naming its author: weak. 5 % vol is taken.
const BEER: [[f64; 3]; 6] = [
    [34.0, 2.5, 9.22],
    [38.0, 2.5, 11.25],
    [38.0, 4.0, 26.82],
    [40.0, 2.7, 14.44],
    [50.0, 2.6, 18.81],
    [68.0, 3.0, 35.48],
];

/// Source: as above. Loose: 1 psi in a cellar; at 68 °F ours is 3 psi more, 6 % of the pressure from a vacuum, and 3.5 is allowed.
#[test]
fn beer_is_near_the_brewers_regression() {
    let mut checks = Checks::against("Gas in beer: brewers' regression, weak");
    for [fahrenheit, held, published] in BEER {
        let within = if fahrenheit < 60.0 { 1.0 } else { 3.5 };
        let ours = psi_for(5.0, (fahrenheit - 32.0) / 1.8, held);
        checks.near(&format!("psi for {held} volumes in beer at {fahrenheit} °F"), published, ours, within);
    }
    checks.all_agree(6);
}

/// Source: Bunsen's coefficients of the nineteenth century, as a brewing page still prints them: known to be some 4 % high.
#[test]
fn bunsens_old_figures_are_four_percent_higher() {
    let mut checks = Checks::against("Gas in water: Bunsen, as a brewing page prints it");
    for (celsius, bunsen) in [(0.0, 1.7967), (20.0, 0.9014)] {
        let ours = bunsen / volumes(0.0, celsius, Pressure::clamped(ATMOSPHERE));
        checks.near(&format!("Bunsen's volumes over ours at {celsius} °C"), 1.04, ours, 0.005);
    }
    checks.all_agree(2);
}

/// Another formula for champagne, 1.21 exp(2983 (1/T − 1/298.15)) g/L for each bar, *from memory*, worked apart.
///
/// It and ours agree within 3 % in a cool cellar. Carried on into the warm, which nobody is known to have measured, it makes
/// of the same bottle 12 % more at 30 °C and 21 % more at 40: part of what the safety factor must cover.
#[test]
fn another_formula_for_champagne_is_a_fifth_higher_in_the_warm() {
    let mut checks = Checks::against("Gas in champagne: another formula, *from memory*");
    for (celsius, published) in [(6.0, 2.391), (10.0, 2.056), (12.0, 1.909)] {
        let ours = per_bar(12.5, celsius);
        checks.near(&format!("g/L/bar of champagne at {celsius} °C, other formula"), published, ours, 0.06);
    }
    for (celsius, published, within) in [(30.0, 10.7, 1.2), (40.0, 14.4, 2.5)] {
        let ours = pressure(&sparkling_wine(), celsius);
        checks.near(&format!("bar of champagne at {celsius} °C, other formula"), published, ours, within);
    }
    checks.all_agree(5);
}

/// Source: exact by definition: 1 atm is 1.01325 bar, a psi 0.06894757 bar.
#[test]
fn gauges_read_what_is_above_the_open_air() {
    let mut checks = Checks::against("Gauges: by definition");
    let thirty = Pressure::from_gauge_psi(30.0);
    checks.near("bar from a vacuum at 30 psi", 3.081_68, thirty.map_or(f64::NAN, Pressure::bar), 0.000_005);
    checks.near(
        "bar on a gauge at 30 psi",
        2.068_43,
        thirty.map_or(f64::NAN, Pressure::gauge_bar),
        0.000_005,
    );
    checks.all_agree(2);
}

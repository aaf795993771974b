//! What the physics cannot answer.

use thiserror::Error;

use super::solute::Solute;
use crate::measure::range::OutOfRange;

/// A question outside the range of the physics.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum LiquidError {
    /// A mass fraction that is none.
    #[error("a mass fraction of {found}: allowed is 0 to 1, since it is a share of the whole")]
    MassFraction {
        /// What was asked.
        found: f64,
    },
    /// A temperature that the density formula does not cover.
    #[error("{found} °C: the density of ethanol and water is published from {least} to {most} °C")]
    Temperature {
        /// What was asked.
        found: f64,
        /// Least published.
        least: f64,
        /// Most published.
        most: f64,
    },
    /// More dissolved than a solution can hold by the formula.
    #[error(
        "{:.1} °Bx of sugar: allowed is 0 to {} °Bx, since the density of sugar solutions is published so far",
        100.0 * found,
        100.0 * most
    )]
    Sugar {
        /// What was asked.
        found: f64,
        /// Most published.
        most: f64,
    },
    /// Ethanol without water, or nothing at all.
    #[error("there is no water in it, so nothing that freezes as a drink does")]
    NothingToFreeze,
    /// A freezer colder than the tables reach.
    #[error(
        "a freezer at {found} °C: allowed is {least} °C and warmer, since no table of freezing goes lower"
    )]
    Freezer {
        /// What was asked.
        found: f64,
        /// Coldest.
        least: f64,
    },
    /// Ice above 0 °C.
    #[error("ice at {found} °C: allowed is -80 to 0 °C, since it is water above that")]
    WarmIce {
        /// What was asked.
        found: f64,
    },
    /// A dilution that no end of the chilling explains.
    #[error("no end of the chilling melts {found} g of ice under these conditions")]
    NoSuchMelt {
        /// Grams of water.
        found: f64,
    },
    /// A drink that lost weight over ice.
    #[error(
        "{after} g after the ice and {before} g before: a drink gains weight, so weigh both with the same vessel, tared"
    )]
    LostWeight {
        /// Grams before.
        before: f64,
        /// Grams after.
        after: f64,
    },
    /// A measured dilution that no ice makes.
    #[error(
        "water of {found:.1} times the drink: allowed is up to 3, so weigh the drink without its vessel and without ice"
    )]
    NoDilution {
        /// Water over the volume before ice.
        found: f64,
    },
    /// Water asked to make something stronger.
    #[error("{from:.1} % vol to {to:.1} % vol: water only brings a strength down")]
    NotWeaker {
        /// The strength there is.
        from: f64,
        /// The strength wanted.
        to: f64,
    },
    /// Water asked to take all the alcohol.
    #[error("0 % vol cannot be reached with water: however much is added, some strength is left")]
    NoStrengthZero,
    /// A spirit asked to do what it cannot.
    #[error(
        "{from:.1} % vol to {to:.1} % vol with {with:.1} % vol: what is added must be stronger than what is wanted, and that stronger than what is there"
    )]
    NotStronger {
        /// The strength there is.
        from: f64,
        /// The strength wanted.
        to: f64,
        /// The strength of what is added.
        with: f64,
    },
    /// Strength, sugar, acid and salt that leave less than no room for water.
    #[error("{strength} % vol with {dissolved} g/L dissolved cannot be: no water would be left")]
    NoWater {
        /// The strength.
        strength: f64,
        /// Sugar, acid and salt together.
        dissolved: f64,
    },
    /// A temperature that the solubility of carbon dioxide does not cover.
    #[error("{found} °C: the solubility of carbon dioxide in water is published from {least} to {most} °C")]
    GasTemperature {
        /// What was asked.
        found: f64,
        /// Least published.
        least: f64,
        /// Most published.
        most: f64,
    },
    /// A syrup of nothing.
    #[error("no sugar and no water make no syrup: allowed is any mass of either above 0 g")]
    NoSyrup,
    /// A syrup brought to where only pure water is.
    #[error(
        "a syrup of {found:.2} °Bx cannot be thinned to 0 °Bx: its sugar stays in it, however much water goes in"
    )]
    SugarStays {
        /// What the syrup has, °Bx.
        found: f64,
    },
    /// A temperature that the solubility formula does not cover.
    #[error("{found} °C: the solubility of sugar in water is published from {least} to {most} °C")]
    Solubility {
        /// What was asked.
        found: f64,
        /// Least published.
        least: f64,
        /// Most published.
        most: f64,
    },
    /// Carbon dioxide that no drink holds.
    #[error("{found:.2} volumes of gas: allowed is 0 to {most}, since no bottle for drinks is made for more")]
    Carbonation {
        /// Volumes asked.
        found: f64,
        /// Most allowed.
        most: f64,
    },
    /// Gas without a liquid to hold it.
    #[error("0 ml of liquid: there must be some to hold the gas")]
    NoLiquid,
    /// A vessel that is never put under pressure.
    #[error("{vessel} is not made for pressure: none is advised in it, however little")]
    NotForPressure {
        /// Its name, with the article.
        vessel: &'static str,
    },
    /// A pressure beyond the working limit, at the warmest the bottle may meet.
    #[error(
        "{becomes:.2} bar at {at} °C: the most advised in {vessel} is {limit:.2} bar, of the {bears} that such are said to bear"
    )]
    Burst {
        /// The vessel's name, with the article.
        vessel: &'static str,
        /// The warmest, °C.
        at: f64,
        /// What it would become there, bar.
        becomes: f64,
        /// The working limit, bar.
        limit: f64,
        /// What such a vessel is said to bear when new, bar.
        bears: f64,
    },
    /// A headspace that leaves the liquid no room to grow.
    #[error(
        "a headspace of {found:.1} ml: at least {least:.1} ml are needed, twice what the liquid grows by from 4 to {at} °C"
    )]
    TooFull {
        /// The headspace, ml.
        found: f64,
        /// The least needed, ml.
        least: f64,
        /// The warmest, °C.
        at: f64,
    },
    /// A powder that is no acid.
    #[error("{found} is no acid: allowed are acids, since nothing else makes a juice sourer")]
    NotAnAcid {
        /// What was asked.
        found: Solute,
    },
    /// A share of a mix that is none.
    #[error("{found} is no share: allowed is 0 or more")]
    Share {
        /// What was asked.
        found: f64,
    },
    /// Shares that do not make a whole.
    #[error("shares of {found} in all: allowed are shares that make 1, since they are shares of the whole")]
    Shares {
        /// Their sum.
        found: f64,
    },
    /// An acidity that no juice is brought to.
    #[error(
        "an acidity of {found} g/L: allowed is {least} to {most} g/L, since less is not tasted, and solutions of citric acid \
         are published up to 30 g in 100 g"
    )]
    Acidity {
        /// What was asked.
        found: f64,
        /// Least allowed.
        least: f64,
        /// Most allowed.
        most: f64,
    },
    /// Acid wanted in what has no water.
    #[error("no water to dissolve acid in: allowed is a juice, or any other liquid with water in it")]
    Dry,
    /// A juice that needs no acid.
    #[error(
        "the juice has {found:.1} g/L of acid and {wanted:.1} are wanted: acid only makes it sourer; {water:.0} g of water \
         would bring it down"
    )]
    SourAlready {
        /// What the juice has, g/L as citric.
        found: f64,
        /// What was wanted, g/L as citric.
        wanted: f64,
        /// Water that brings it down, g.
        water: f64,
    },
    /// A search for an acidity that came to no end.
    #[error(
        "the acid for {wanted} g/L was not found: the volume of such a liquid cannot be told well enough"
    )]
    AcidNotFound {
        /// What was wanted, g/L as citric.
        wanted: f64,
    },
    /// A relative sweetness that is none.
    #[error(
        "{found} times as sweet as table sugar: allowed is {least} to {most}, since published panels put glucose and \
         fructose between 0.5 and 1.73"
    )]
    Sweetness {
        /// What was asked.
        found: f64,
        /// Least allowed.
        least: f64,
        /// Most allowed.
        most: f64,
    },
    /// A quantity that comes out past the end of its range.
    #[error(transparent)]
    Quantity(#[from] OutOfRange),
}

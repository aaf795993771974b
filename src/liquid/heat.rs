//! Heat: what a liquid, ice and a vessel take to cool, and what mixing gives off.

use super::parts::Parts;
use crate::measure::{Mass, Temperature};

/// Heat that a gram of ice takes to melt at 0 °C, J/g.
///
/// # Source
/// IAPWS, by the reference library `iapws` 1.5.5; handbooks print 333.55.
const LATENT: f64 = 333.43;

/// Heat capacity of ice, J/(g K); the value at −5 °C, where 2.097 is that at 0 and 1.986 that at −15.
///
/// # Source
/// IAPWS, by the reference library `iapws` 1.5.5.
const OF_ICE: f64 = 2.06;

/// Heat capacity of the water that has melted, J/(g K), a few degrees around 0 °C.
///
/// # Source
/// IAPWS-95: 4.195 at 10 °C, 4.22 at 0.
pub(super) const OF_WATER: f64 = 4.20;

/// Heat capacity of ethanol and water at 10 °C by mass fraction of ethanol, J/(g K).
///
/// # Source
/// `CoolProp` 8.0.0, incompressible fluid MEA (Melinder); the ends by the equations of state of water and ethanol.
const OF_SPIRIT: [(f64, f64); 13] = [
    (0.0, 4.195),
    (0.05, 4.286),
    (0.1, 4.351),
    (0.15, 4.372),
    (0.2, 4.349),
    (0.25, 4.285),
    (0.3, 4.193),
    (0.35, 4.083),
    (0.4, 3.967),
    (0.45, 3.852),
    (0.5, 3.738),
    (0.6, 3.449),
    (1.0, 2.324),
];

/// What a gram of sugar or acid in solution takes, J/(g K).
///
/// # Source
/// Sucrose solutions, 4.184 − 2.511 w + 0.0075 w T (Llano 2005), at 10 °C, less water's own share.
const OF_DISSOLVED: f64 = 1.75;

/// Something cooled with ice.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cooling {
    /// Its heat capacity, J/K.
    pub joules_per_kelvin: f64,
    /// How warm it was.
    pub from: Temperature,
    /// Where it and the ice end.
    pub to: Temperature,
    /// Heat from elsewhere, J: a vessel, mixing, the room.
    pub other_joules: f64,
    /// The ice, without water on it.
    pub ice: Mass,
    /// How cold the ice was.
    pub ice_at: Temperature,
}

impl Cooling {
    /// Grams of ice that melt; negative where very cold ice does more than all the chilling.
    ///
    /// # Model
    /// `m [c_ice (0 − T_ice) + L + c_water T − c_ice (T − T_ice)] = C (T₀ − T) + other − m_ice c_ice (T − T_ice)`: the ice
    /// that is left ends at T too.
    ///
    /// # Source
    /// Textbook; 333.43 J/g, ice 2.06 and water 4.20 J/(g K).
    pub fn melt_grams(&self) -> f64 {
        let drink = self.joules_per_kelvin * (self.from.celsius() - self.to.celsius());
        (drink + self.other_joules + self.ice_joules()) / self.joules_a_gram()
    }

    /// What the ice gives off as it grows colder, J; negative where it grows warmer.
    pub(super) fn ice_joules(&self) -> f64 {
        self.ice.grams() * OF_ICE * (self.ice_at.celsius() - self.to.celsius())
    }

    /// What a gram of ice takes to become water at the end, over what it takes to stay ice.
    pub(super) fn joules_a_gram(&self) -> f64 {
        let (ice_at, to) = (self.ice_at.celsius(), self.to.celsius());
        OF_ICE * (0.0 - ice_at) + LATENT + OF_WATER * to - OF_ICE * (to - ice_at)
    }
}

/// Heat capacity of a liquid, J/K.
///
/// # Model
/// Ethanol and water by the table; each gram dissolved adds 1.75 J/K, as sucrose does, salt and acids too.
///
/// # Accuracy
/// 2 % for ethanol and water (two fits of the source differ by so much). There is a maximum near 20 % vol: sharing
/// between water and ethanol by mass would be up to 10 % low.
pub(super) fn capacity(parts: &Parts) -> f64 {
    let (ethanol, water) = (parts.ethanol().grams(), parts.water_mass().grams());
    let spirit = ethanol + water;
    let fraction = if spirit > 0.0 { ethanol / spirit } else { 0.0 };
    spirit * of_spirit(fraction) + OF_DISSOLVED * (parts.grams() - spirit)
}

/// J/(g K), straight between two rows.
fn of_spirit(fraction: f64) -> f64 {
    let above = OF_SPIRIT.partition_point(|(known, _)| *known < fraction).clamp(1, OF_SPIRIT.len() - 1);
    let ((low, below), (high, over)) = (OF_SPIRIT[above - 1], OF_SPIRIT[above]);
    below + (over - below) * (fraction - low) / (high - low)
}

/// Coefficients of the excess enthalpy: a power of the mole fraction, then terms in 1, T and T².
const EXCESS: [(f64, [f64; 3]); 5] = [
    (0.0, [-3.63868e5, 1.83829e3, -2.32763]),
    (0.5, [9.25982e5, -4.83586e3, 6.37228]),
    (1.5, [-14.04894e5, 7.51661e3, -10.11280]),
    (2.5, [10.91318e5, -5.89498e3, 7.98868]),
    (4.5, [-2.79986e5, 1.50557e3, -2.03127]),
];

/// Temperature at which the heat of dilution is taken, K: that of the ice.
const MIXED_AT: f64 = 273.15;

/// Excess enthalpy of ethanol and water, J for a mole of both, by the mole fraction of ethanol; negative: heat is given off.
///
/// # Source
/// Larkin (1975), 298 to 383 K; *from memory*, and it gives the −810 J/mol at x = 0.15 and 25 °C that is printed.
fn excess(x: f64, kelvin: f64) -> f64 {
    let term =
        |(power, [one, t, tt]): (f64, [f64; 3])| (one + t * kelvin + tt * kelvin * kelvin) * x.powf(power);
    x * (1.0 - x) * EXCESS.into_iter().map(term).sum::<f64>()
}

/// Heat that was given off when ethanol and water were mixed, J.
fn given_off(ethanol: f64, water: f64) -> f64 {
    let (ethanol, water) = (ethanol / 46.068, water / 18.015);
    let all = ethanol + water;
    if all > 0.0 { -all * excess(ethanol / all, MIXED_AT) } else { 0.0 }
}

/// Heat of dilution: what is given off when so many grams of water go into a liquid, J.
///
/// # Model
/// The excess enthalpy of ethanol and water (Larkin 1975) after, less that before; what is dissolved counts for nothing.
///
/// # Limits
/// The published range starts at 25 °C; it is carried on to 0 °C, where it gives half as much again.
pub(super) fn of_dilution(parts: &Parts, added: f64) -> f64 {
    let (ethanol, water) = (parts.ethanol().grams(), parts.water_mass().grams());
    given_off(ethanol, water + added) - given_off(ethanol, water)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::liquid::Contents;
    use crate::measure::{Strength, Volume};

    fn spirit(percent: f64) -> Parts {
        let contents = Contents::of_strength(Strength::new(percent).unwrap());
        Parts::of_liquid(Volume::new(100.0).unwrap(), &contents).unwrap()
    }

    /// Larkin (1975), as quoted: −810 J/mol at a mole fraction of 0.15 and 25 °C.
    #[test]
    fn mixing_gives_off_what_was_published() {
        let found = excess(0.15, 298.15);
        assert!((found + 810.0).abs() < 1.0, "{found}");
    }

    /// `CoolProp` 8.0.0 run at 10 °C by strength; its fine steps against the table's coarse ones.
    #[test]
    fn heat_capacities_are_those_of_the_fit() {
        for (percent, published) in [
            (0.0, 4.195),
            (10.0, 4.325),
            (15.0, 4.360),
            (20.0, 4.366),
            (25.0, 4.344),
            (30.0, 4.290),
            (40.0, 4.120),
            (50.0, 3.911),
            (60.0, 3.678),
        ] {
            let parts = spirit(percent);
            let found = capacity(&parts) / parts.grams();
            assert!((found - published).abs() < 0.01, "{percent}: {found} {published}");
        }
    }

    #[test]
    fn water_gives_off_nothing_in_water_and_something_in_spirit() {
        assert!(of_dilution(&spirit(0.0), 50.0).abs() < 1e-9);
        assert!(of_dilution(&spirit(40.0), 0.0).abs() < 1e-9);
        assert!(of_dilution(&spirit(40.0), 20.0) > 100.0);
    }
}

//! Pressures as gauges show them.

use super::range::OutOfRange;
use super::scalar::Pressure;

/// bar in a standard atmosphere, exact: what a gauge leaves out.
const ATMOSPHERE: f64 = 1.013_25;

/// bar in a pound-force on a square inch.
const PSI: f64 = 0.068_947_572_93;

impl Pressure {
    /// The open air.
    pub const OPEN_AIR: Self = Self::of(ATMOSPHERE);

    /// The pressure at which a gauge reads so many bar.
    ///
    /// # Errors
    /// [`OutOfRange`] below a vacuum or above the range of pressures.
    pub fn from_gauge_bar(bar: f64) -> Result<Self, OutOfRange> {
        Self::new(bar + ATMOSPHERE)
    }

    /// The pressure at which a gauge reads so many psi.
    ///
    /// # Errors
    /// [`OutOfRange`] below a vacuum or above the range of pressures.
    pub fn from_gauge_psi(psi: f64) -> Result<Self, OutOfRange> {
        Self::from_gauge_bar(psi * PSI)
    }

    /// What a gauge reads, bar: so much above the open air.
    pub const fn gauge_bar(self) -> f64 {
        self.bar() - ATMOSPHERE
    }

    /// What a gauge reads, psi.
    pub const fn gauge_psi(self) -> f64 {
        self.gauge_bar() / PSI
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn open_air_reads_nothing_on_a_gauge() {
        let open = Pressure::from_gauge_psi(0.0).unwrap();
        assert_eq!(open, Pressure::OPEN_AIR);
        assert!((open.bar() - 1.01325).abs() < 1e-12 && open.gauge_bar().abs() < 1e-12);
        assert!(Pressure::from_gauge_bar(-1.1).is_err() && Pressure::from_gauge_psi(f64::NAN).is_err());
    }

    proptest! {
        #[test]
        fn gauges_lead_back(psi in -14.0..300.0_f64) {
            let pressure = Pressure::from_gauge_psi(psi).unwrap();
            prop_assert!((pressure.gauge_psi() - psi).abs() < 1e-9);
            let back = Pressure::from_gauge_bar(pressure.gauge_bar()).unwrap();
            prop_assert!((back.bar() - pressure.bar()).abs() < 1e-9);
        }
    }
}

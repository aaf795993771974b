//! What a batch goes into.

use std::fmt;
use std::str::FromStr;
use std::sync::LazyLock;

use serde::Deserialize;

use super::rules::read;
use crate::book::Origin;
use crate::measure::{Quoted, Volume};

/// What sort of container it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum VesselKind {
    /// A bottle.
    Bottle,
    /// A keg.
    Keg,
    /// A dispenser with a tap on a counter.
    Dispenser,
    /// A bowl.
    Bowl,
}

impl VesselKind {
    /// Every kind.
    pub const ALL: [Self; 4] = [Self::Bottle, Self::Keg, Self::Dispenser, Self::Bowl];

    /// One of it.
    pub const fn one(self) -> &'static str {
        match self {
            Self::Bottle => "bottle",
            Self::Keg => "keg",
            Self::Dispenser => "dispenser",
            Self::Bowl => "bowl",
        }
    }

    /// One, or many of it.
    pub const fn written(self, count: u32) -> &'static str {
        match (self, count) {
            (_, 1) => self.one(),
            (Self::Bottle, _) => "bottles",
            (Self::Keg, _) => "kegs",
            (Self::Dispenser, _) => "dispensers",
            (Self::Bowl, _) => "bowls",
        }
    }
}

/// A size of container, and how many of it there are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Vessel {
    /// What sort it is.
    pub kind: VesselKind,
    /// What it holds, as it is stated on it; taken as its brim, to the safe side.
    pub holds: Volume,
    /// How many are at hand; as many as are needed where it is not said.
    pub at_hand: Option<u32>,
}

/// Text that is not a container.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotAVessel {
    /// What was found.
    pub found: String,
    /// What is wrong with it.
    pub why: String,
}

impl fmt::Display for NotAVessel {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} is no container: {}; write its size, like 700ml, or how many of it there are, like 6 x 700ml",
            Quoted(&self.found),
            self.why
        )
    }
}

impl std::error::Error for NotAVessel {}

/// Smallest and largest container, ml.
const SIZES: (f64, f64) = (20.0, 1_000_000.0);
/// Most of one size that may be at hand.
const MOST_AT_HAND: u32 = 10_000;

/// A keg that goes by a name.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct Named {
    name: String,
    ml: Volume,
    #[expect(dead_code, reason = "for the reader of the file")]
    origin: Origin,
}

static NAMED: LazyLock<Vec<Named>> =
    LazyLock::new(|| read("vessels.ron", include_str!("../../data/service/vessels.ron")));

impl Vessel {
    /// A bottle, as many as are needed.
    pub const fn bottle(holds: Volume) -> Self {
        Self { kind: VesselKind::Bottle, holds, at_hand: None }
    }

    /// Reads `700ml`, `6 x 700 ml` or, for a keg, its name: `sixth barrel`.
    ///
    /// # Errors
    /// [`NotAVessel`].
    pub fn read(text: &str, kind: VesselKind) -> Result<Self, NotAVessel> {
        let refused = |why: String| NotAVessel { found: text.trim().to_owned(), why };
        let lower = text.trim().to_lowercase().replace('×', "x");
        let (count, size) = match lower.split_once('x') {
            Some((count, size)) if count.trim().parse::<f64>().is_ok() => {
                let whole = count.trim().parse::<u32>().ok().filter(|n| (1..=MOST_AT_HAND).contains(n));
                let whole = whole.ok_or_else(|| {
                    refused(format!("allowed are 1 to {MOST_AT_HAND} of a size, found {}", count.trim()))
                })?;
                (Some(whole), size.trim())
            }
            _ => (None, lower.trim()),
        };
        let holds = match (named(size), kind) {
            (Some(volume), VesselKind::Keg) => volume,
            _ => {
                if size.parse::<f64>().is_ok() {
                    return Err(refused("its unit is missing".to_owned()));
                }
                Volume::from_str(size).map_err(|e| refused(e.to_string()))?
            }
        };
        if !(SIZES.0..=SIZES.1).contains(&holds.ml()) {
            return Err(refused(format!(
                "it holds {holds:.0}; allowed are {:.0} ml to {:.0} l",
                SIZES.0,
                SIZES.1 / 1000.0
            )));
        }
        Ok(Self { kind, holds, at_hand: count })
    }
}

/// The keg of a name, with or without the word keg.
fn named(text: &str) -> Option<Volume> {
    let plain =
        |t: &str| t.replace('-', " ").trim_end_matches("keg").trim_end_matches("kegs").trim().to_owned();
    NAMED.iter().find(|n| plain(&n.name) == plain(text)).map(|n| n.ml)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn sizes_counts_and_names_are_read() {
        let read = |text: &str, kind| Vessel::read(text, kind).unwrap();
        assert_eq!(read("700ml", VesselKind::Bottle), Vessel::bottle(Volume::clamped(700.0)));
        assert_eq!(read("6 x 700 ml", VesselKind::Bottle).at_hand, Some(6));
        assert_eq!(read("2×1 l", VesselKind::Bottle).holds, Volume::clamped(1000.0));
        assert_eq!(read("sixth barrel", VesselKind::Keg).holds, Volume::clamped(19532.0));
        assert_eq!(read("soda keg", VesselKind::Keg).holds, Volume::clamped(18927.0));
    }

    /// 15.5, 7.75, 5.16 and 5 US gallons of 231 cubic inches (NIST Handbook 44, Appendix C: 3.785411784 l).
    #[test]
    fn kegs_hold_their_gallons() {
        for (name, gallons) in
            [("half barrel", 15.5), ("quarter barrel", 7.75), ("sixth barrel", 5.16), ("soda", 5.0)]
        {
            let litres = gallons * 231.0 * 2.54_f64.powi(3) / 1000.0;
            let ml = named(name).map(Volume::ml).unwrap();
            assert!((ml / 1000.0 - litres).abs() < 0.002, "{name}: {ml} ml, {litres} l");
        }
    }

    proptest! {
        #[test]
        fn whatever_is_typed_is_a_container_that_can_be_or_told(text in ".{0,30}", sized in "[0-9.x ]{0,8}(ml|l|oz|keg)?") {
            for text in [text, sized] {
                for kind in VesselKind::ALL {
                    if let Ok(vessel) = Vessel::read(&text, kind) {
                        prop_assert!((SIZES.0..=SIZES.1).contains(&vessel.holds.ml()), "{text}: {vessel:?}");
                        prop_assert!(vessel.at_hand.is_none_or(|n| (1..=MOST_AT_HAND).contains(&n)));
                    }
                }
            }
        }
    }

    #[test]
    fn what_is_no_container_is_told() {
        let told = |text: &str| Vessel::read(text, VesselKind::Bottle).unwrap_err().to_string();
        for (text, has) in [
            ("0 ml", "it holds 0 ml"),
            ("700", "its unit is missing"),
            ("0 x 700ml", "allowed are 1 to 10000 of a size"),
            ("-3 x 700ml", "allowed are 1 to 10000 of a size"),
            ("big", "big"),
        ] {
            assert!(told(text).contains(has), "{}", told(text));
        }
    }
}

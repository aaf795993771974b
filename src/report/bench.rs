//! Answers of the bench, one a file.

mod acid;
mod carbonate;
mod chill;
mod cut;
mod freezer;
mod syrup;
mod weigh;

pub use acid::{Adjusted, adjusted};
pub use carbonate::{Gas, Held, Kept, gas};
pub use chill::{Compared, Way, compared};
pub use cut::{Cut, Fortified, cut, fortified};
pub use freezer::{Freezer, InFreezer, freezer};
pub use syrup::{Made, Reading, brix, syrup};
pub use weigh::{Kin, Weighed, weighed};

use crate::measure::{HouseUnit, Volume};

/// A volume to a tenth of a millilitre, and in ounces where the house thinks in them: `246.3 ml`, `8.33 oz (246.3 ml)`.
pub(super) fn measured(volume: Volume, unit: HouseUnit) -> String {
    match unit {
        HouseUnit::Ounce => format!("{:.2} oz ({:.1} ml)", volume.ounces(), volume.ml()),
        HouseUnit::Millilitre => format!("{:.1} ml", volume.ml()),
    }
}

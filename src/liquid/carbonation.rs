//! Carbon dioxide in drinks: how much dissolves, at which pressure, in a closed bottle and in an open glass.

mod bottle;
mod gas;
mod lengthened;
mod solubility;
mod vessel;

pub use bottle::Bottle;
pub use gas::Carbonation;
pub use lengthened::{Lengthened, OpenGlass};
pub use solubility::{Ground, Solubility};
pub use vessel::{Advice, RATINGS, Rating, SAFETY_FACTOR, Vessel, Warmest, advise};

//! The physics of mixtures: ethanol and water, sugar, what they weigh together, what the ice adds.
//!
//! This floor knows amounts, not what they are amounts of.

mod acid;
mod contents;
mod dilution;
mod error;
pub mod ethanol;
mod parts;
mod salt;
mod solute;
mod standard_drink;
pub mod sucrose;
mod sweetness;
mod syrup;

pub use acid::{AcidMix, CitricForm, Soured};
pub use contents::Contents;
pub use dilution::{Basis, Dilution, Melt, dilution, shaken_share, stirred_share};
pub use error::LiquidError;
pub use parts::{Measured, Parts};
pub use solute::Solute;
pub use standard_drink::Country;
pub use sweetness::{Panel, Spread, Sweetness};
pub use syrup::{Addition, Saturation, Syrup, saturated_brix};

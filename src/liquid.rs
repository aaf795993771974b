//! The physics of mixtures: ethanol and water, sugar, what they weigh together, what the ice adds, what gas they
//! hold.
//!
//! This floor knows amounts, not what they are amounts of.

pub mod carbonation;
pub mod chill;
mod contents;
mod cut;
mod dilution;
mod error;
pub mod ethanol;
pub mod freezing;
pub mod heat;
mod parts;
mod salt;
mod solute;
mod standard_drink;
pub mod sucrose;

pub use contents::Contents;
pub use cut::{naive_water, spirit_to_fortify, water_to_cut};
pub use dilution::{
    Basis, Dilution, HouseIce, Ice, MeasuredDilution, Melt, dilution, shaken_share, stirred_share,
};
pub use error::LiquidError;
pub use parts::{Measured, Parts};
pub use solute::Solute;
pub use standard_drink::Country;

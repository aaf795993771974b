//! The physics of mixtures: ethanol and water, sugar, what they weigh together, what the ice adds, how sweet and
//! sour they are, where they freeze, what gas they hold.
//!
//! This floor knows amounts, not what they are amounts of.

mod acid;
pub mod carbonation;
pub mod chill;
mod contents;
mod contraction;
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
mod sweetness;
mod syrup;

pub use acid::{AcidMix, CitricForm, Soured};
pub use contents::Contents;
pub use contraction::{MIXED, contraction, contraction_between};
pub use cut::{naive_water, spirit_to_fortify, water_to_cut};
pub use dilution::{
    Basis, Dilution, HouseIce, Ice, MeasuredDilution, Melt, dilution, shaken_share, share_between,
    stirred_share,
};
pub use error::LiquidError;
pub use parts::{Measured, Parts};
pub use solute::Solute;
pub use standard_drink::Country;
pub use sweetness::{Panel, Spread, Sweetness};
pub use syrup::{Addition, Saturation, Syrup, saturated_brix};

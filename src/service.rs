//! Drinks made ahead: batches, take-home kits, preparations, and what they cost.
//!
//! [`batch()`] makes one glass into many: what goes in, how much water, what is held back, the bottles and how long they
//! keep. [`kit()`] leaves out the spirit. [`cost()`] prices a serve from a [`PriceList`], [`prep_list()`] says what to make
//! for a day. Rules and cautions are data (`data/service`).

mod batch;
mod buy;
mod by_eye;
mod caution;
mod cost;
mod error;
mod hold_back;
mod keeping;
mod kit;
mod need;
mod order;
mod packing;
mod prep_list;
mod price_list;
mod rounding;
mod rules;
mod selling;
mod size;
mod style;
mod vessel;
mod water;

pub use batch::{Asked, Batch, BatchLine, Cold, InGlass, batch};
pub use buy::{Bought, Pack, Pieces, bought};
pub use by_eye::{ByEye, FillLine, USUAL_ACROSS, by_eye};
pub use caution::{AheadCaution, ahead_cautions};
pub use cost::{Cost, CostLine, From, ICE_A_SERVE, USUAL_WASTE, cost};
pub use error::ServiceError;
pub use hold_back::{Held, HoldRule, Meets, rules};
pub use keeping::{Kept, Limit};
pub use kit::{Kit, KitAsked, kit};
pub use need::Need;
pub use order::Task;
pub use packing::{Filled, Packing, pack};
pub use prep_list::{PrepJob, PrepList, Wanted, prep_list};
pub use price_list::{Listed, PriceList, Source};
pub use rounding::{Rounded, rounded};
pub use selling::{Moves, Selling, selling, share_of};
pub use size::Size;
pub use style::Style;
pub use vessel::{NotAVessel, Vessel, VesselKind};
pub use water::{FRIDGE, PracticeWater, Water, WaterWish};

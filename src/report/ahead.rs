//! Drinks made ahead, as reports, tables for other programs, and papers.

mod batch;
mod card;
mod cost;
mod hold_backs;
mod kit;
mod label;
mod prep_list;
mod rows;
mod words;

pub use batch::{BatchTold, batch};
pub use card::{card, card_paper};
pub use cost::{CostTold, StandInCost, cost};
pub use hold_backs::hold_backs;
pub use kit::{kit, kit_insert};
pub use label::{batch_labels, kit_labels};
pub use prep_list::prep_list;
pub use rows::{Rows, batch_rows, card_rows, cost_rows, kit_rows, prep_rows};

//! Quantities as types: what bar people measure, parsed and printed in their own units.
//!
//! This floor knows nothing of drinks.

mod amount;
mod currency;
mod given;
mod jigger;
mod measures;
mod money;
mod month;
mod number;
mod pressure;
mod print;
mod quantity;
mod quoted;
pub mod range;
mod scalar;
mod unit;

pub use amount::{Amount, AmountFault, NotAnAmount};
pub use currency::{Currency, NotACurrency};
pub use given::{Given, NotGiven, read_given};
pub use jigger::{HouseUnit, Jigger, NotAHouseUnit, NotAJigger, Pour};
pub use measures::Measures;
pub use money::{Money, MoneyFault, NotMoney, NotMoneyFault};
pub use month::{Hemisphere, Month, MonthSet, NotAMonth};
pub use print::{ShownAmount, ShownVolume, in_unit};
pub use quantity::NotAQuantity;
pub(crate) use quoted::Quoted;
pub use scalar::{
    Affinity, Bitterness, Brix, Concentration, Grade, Mass, MassShare, Pressure, Score, Strength,
    Temperature, Volume,
};
pub use unit::{ML_PER_OUNCE, Unit};

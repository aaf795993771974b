//! Why something cannot be made ahead or priced.

use thiserror::Error;

use crate::drink::NothingPoured;
use crate::liquid::LiquidError;
use crate::measure::{Currency, MoneyFault, Volume};

/// Why something cannot be made ahead or priced.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ServiceError {
    /// A spec in which nothing has a volume.
    #[error(transparent)]
    NothingPoured(#[from] NothingPoured),
    /// Everything in it is held back.
    #[error("everything in it is held back, so there is nothing to put into a batch")]
    AllHeldBack,
    /// A liquid that cannot be.
    #[error(transparent)]
    Liquid(#[from] LiquidError),
    /// Too few or too many serves.
    #[error("{found} serves: allowed are 1 to {most}")]
    Serves {
        /// What was asked for.
        found: f64,
        /// The most.
        most: u32,
    },
    /// A volume of which no serve can be poured.
    #[error("{wanted:.0} is less than one serve, which takes {serve:.0} of the batch")]
    LessThanAServe {
        /// The volume asked for, or what the containers hold.
        wanted: Volume,
        /// What a serve takes.
        serve: Volume,
    },
    /// The containers at hand hold less than the batch.
    #[error("{batch:.0} do not go into the containers at hand: they take {room:.0} up to the fill line")]
    NoRoom {
        /// The batch.
        batch: Volume,
        /// What they take.
        room: Volume,
    },
    /// More containers than anyone fills.
    #[error("that takes more than {most} containers: name bigger ones, or make less")]
    TooManyContainers {
        /// The most.
        most: u32,
    },
    /// Too many sizes of container.
    #[error("{found} sizes of container: at most {most} at once")]
    TooManySizes {
        /// How many were named.
        found: usize,
        /// The most.
        most: usize,
    },
    /// A drink without a spirit to leave out.
    #[error("there is no spirit in it for the guest to add: a kit is the mix without its base")]
    NoSpirit,
    /// A drink that is all spirit.
    #[error("there is nothing in it but the spirit: no mix to take home")]
    NoMix,
    /// A ratio that the mix is over already.
    #[error(
        "the mix is {own:.2} parts to one of spirit already, before any water: ask for more parts than {wanted}, or leave --parts out"
    )]
    MixOver {
        /// Parts of mix to one of spirit as the spec has them.
        own: f64,
        /// Parts that were asked for.
        wanted: f64,
    },
    /// Prices in two currencies.
    #[error("prices in {left} and {right} do not add up: give them all in one currency")]
    Currencies {
        /// One.
        left: Currency,
        /// The other.
        right: Currency,
    },
    /// A sum that leaves its range, or is divided by nothing.
    #[error("{0}")]
    Money(MoneyFault),
    /// Nothing of it has a price.
    #[error("nothing in {what} has a price")]
    NoPrice {
        /// The drink.
        what: String,
    },
}

impl From<MoneyFault> for ServiceError {
    fn from(fault: MoneyFault) -> Self {
        match fault {
            MoneyFault::Currencies { left, right } => Self::Currencies { left, right },
            fault => Self::Money(fault),
        }
    }
}

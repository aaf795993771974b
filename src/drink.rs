//! A spec in the glass: its figures after dilution, the bands of its family, the amounts that bring it into balance.

mod account;
mod amounts;
mod band;
mod difference;
mod figures;
mod house;
mod prep;
mod spec;
mod tolerance;
mod tune;
mod typed;
mod wish;
mod work;
mod written;

pub use account::{Account, Grams, LineAccount, account};
pub use amounts::{
    Aim, Blocked, Direction, Fixed, Free, Frees, Held, Limit, Mixing, NotAPalate, Palate, Puzzle, Solution,
    Solved, Unsolvable,
};
pub use band::{Band, Interval, classic_band, published_band};
pub use difference::{Difference, differences};
pub use figures::{
    Figures, NothingPoured, added_volume, before_ice, contents_of, figures, figures_with, parts_of,
};
pub use house::{House, ice_of, melt_of};
pub use prep::{Apart, Made, made};
pub use spec::{Line, Spec};
pub use tolerance::{
    Alone, Effect, Melting, Miss, Over, Slip, Spread, Together, Tolerance, slip_of, tolerance,
};
pub use tune::{CannotTune, Equal, Glass, Tune, Tuned, TunedDrink, WayOut, tune};
pub use typed::{NotASpec, UNNAMED, read_line, read_spec};
pub use wish::Wish;
pub use work::{CannotStep, Done, Step, Work};
pub use written::{Written, WrittenLine};

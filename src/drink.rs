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
mod typed;
mod work;
mod written;

pub use account::{Account, Grams, LineAccount, account};
pub use amounts::{Aim, Fixed, Free, Puzzle, Solution, Solved, Unsolvable};
pub use band::{Band, Interval, classic_band, published_band};
pub use difference::{Difference, differences};
pub use figures::{Figures, NothingPoured, added_volume, before_ice, contents_of, figures, figures_with};
pub use house::{House, ice_of, melt_of};
pub use prep::{Apart, Made, made};
pub use spec::{Line, Spec};
pub use tolerance::{
    Alone, Effect, Melting, Miss, Over, Slip, Spread, Together, Tolerance, slip_of, tolerance,
};
pub use typed::{NotASpec, UNNAMED, read_line, read_spec};
pub use work::{CannotStep, Done, Step, Work};
pub use written::{Written, WrittenLine};

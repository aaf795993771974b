//! A spec in the glass: its figures after dilution, the bands of its family, the amounts that bring it into balance.

mod amounts;
mod band;
mod figures;
mod spec;
mod typed;

pub use amounts::{Aim, Fixed, Free, Puzzle, Solution, Solved, Unsolvable};
pub use band::{Band, Interval, classic_band, published_band};
pub use figures::{Figures, NothingPoured, figures};
pub use spec::{Line, Spec};
pub use typed::{NotASpec, read_spec};

//! The amounts that bring a drink nearest to its aim, on the marks of a jigger: exact.

mod aim;
mod blocked;
mod bounds;
mod choice;
mod dual;
mod glass;
mod limit;
mod palate;
mod puzzle;
mod search;
mod sums;

pub use aim::Aim;
pub use blocked::{Blocked, Frees};
pub use limit::{Held, Limit};
pub use palate::{Direction, NotAPalate, Palate};
pub use puzzle::{Fixed, Free, Puzzle, Solution, Solved, Unsolvable};
pub use sums::Mixing;

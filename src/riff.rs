//! Building variants: filling a drink's lines from the graph and finding the amounts.

mod candidate;
mod error;
mod filler;
mod harmony;
mod request;
mod search;
mod swap;
mod turn;
mod work_in;

pub use candidate::{Change, Riff};
pub use error::RiffError;
pub use harmony::{Harmony, PairFound};
pub use request::{Request, Swap};
pub use search::{Looked, Riffs, riffs};
pub use swap::{SwapIn, SwappedIn, swap_in};
pub use turn::{Done, Figure, Gone, Kept, Length, Promise, Strong, Turn, TurnDone, Turned, Turns, turned};

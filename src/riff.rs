//! Building variants: filling a drink's lines from the graph and finding the amounts.

mod beside;
mod candidate;
mod equivalent;
mod error;
mod explain;
mod filler;
pub mod fills;
mod harmony;
mod mixture;
mod request;
mod score;
mod search;
mod shape;
mod shares;
mod soured;
mod swap;
mod turn;
mod varied;
mod voice;
mod work_in;

pub use beside::{ClashFound, Newcomer, SideBySide, clashes, side_by_side};
pub use candidate::{Change, Riff};
pub use equivalent::{Alike, Equivalent, Equivalents, Spooned, equivalents, spooned};
pub use error::RiffError;
pub use explain::{Explained, Knowledge, PairTerm, explained};
pub use harmony::{Harmony, PairFound, PairInferred};
pub use mixture::{MixedIn, one_measure};
pub use request::{Request, Swap};
pub use score::Score;
pub use search::{Looked, Riffs, riffs};
pub use shares::{PairShare, pair_shares};
pub use soured::Soured;
pub use swap::{SwapIn, Swapped, SwappedIn, swap_in};
pub use turn::{Done, Figure, Gone, Kept, Length, Promise, Strong, Turn, TurnDone, Turned, Turns, turned};
pub use voice::Voice;

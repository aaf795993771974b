//! The graph over a book's ingredients: companions, bridges, accords, stand-ins, and how sound the book is.
//!
//! Affinities stand in one compact graph and clashes in another, both with neighbours sorted, so that what several
//! ingredients share is found by merging. Positions in the graph never leave this floor: ids and records do.

mod accord;
mod agreement;
mod bridge;
mod companion;
mod filter;
mod graph;
mod grid;
mod likeness;
mod mixture;
mod soundness;
mod stand_in;

pub use accord::{Accord, Accords, MOST_SIZE};
pub use agreement::{Agreement, Agreements, MOST_INFERRED};
pub use bridge::{Bridge, Bridges, MOST_STEPS};
pub use companion::{Clashing, Companion, Companions, Nearly};
pub use filter::{Filter, Ruled};
pub use graph::{Graph, Tie, Web, power_mean};
pub use grid::{Grid, Pair};
pub use likeness::{facets as flavour_likeness, shared_facets, strongest_facets};
pub use mixture::{MOST_PARTS, Mixture, PROPORTIONS, proportions};
pub use soundness::{
    Alone, AtOdds, CONTRADICTS_OVER, Contradiction, Counts, Degrees, FEW_AFFINITIES, Few, OneKind,
    SMALL_KIND, Shape, SmallKind, Soundness, Step, Untold,
};
pub use stand_in::{Likeness, StandIn, StandIns, own_facets};

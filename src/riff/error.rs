//! Why there is no riff.

use thiserror::Error;

use crate::book::{Allergen, Diet};
use crate::drink::Unsolvable;

/// Why a riff cannot be had, in a bartender's words.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum RiffError {
    /// What is to come is not something one pours.
    #[error("{name} isn't poured, so it can't take the place of {place}")]
    NotPoured {
        /// What was to come.
        name: String,
        /// What it was to replace.
        place: String,
    },
    /// What is to come is there already.
    #[error("{name} is in {drink} already")]
    AlreadyIn {
        /// What was to come.
        name: String,
        /// The drink, as a sentence says it: the Daiquiri, your drink.
        drink: String,
    },
    /// It was asked for and asked away.
    #[error("{name} is asked for and asked to stay out")]
    WantedAndUnwanted {
        /// Which.
        name: String,
    },
    /// What was asked for brings an allergen that must stay out.
    #[error("{name} brings {allergen}, which is asked to stay out")]
    Brings {
        /// Which.
        name: String,
        /// What it brings.
        allergen: Allergen,
    },
    /// What was asked for does not suit a diet that is asked for.
    #[error("{name} is not {diet}, which is asked for")]
    DoesNotSuit {
        /// Which.
        name: String,
        /// The diet.
        diet: Diet,
    },
    /// What was asked for is not to be had in the month.
    #[error("{name} is not in season in {month}")]
    OutOfSeason {
        /// Which.
        name: String,
        /// When.
        month: String,
    },
    /// Nothing can fill a line.
    #[error("nothing in the book can take the place of {name} as {role} here: {why}")]
    NothingFits {
        /// The line's own filler.
        name: String,
        /// Its role.
        role: &'static str,
        /// What ruled the others out.
        why: String,
    },
    /// A wanted ingredient that no form of fits.
    #[error("{name} can't be worked into {drink}: {why}")]
    CannotWorkIn {
        /// The wanted one.
        name: String,
        /// The drink, as a sentence says it: the Daiquiri, your drink.
        drink: String,
        /// Why not.
        why: String,
    },
    /// Two kinds of variant that cannot go together.
    #[error("{one} and {other} don't go together: {why}")]
    Contradicts {
        /// One kind.
        one: &'static str,
        /// The other.
        other: &'static str,
        /// Why not.
        why: &'static str,
    },
    /// A kind of variant that a drink cannot be turned into.
    #[error("{drink} has no '{turn}' variant: {why}")]
    Blocked {
        /// The drink, as a sentence says it: the Daiquiri, your drink.
        drink: String,
        /// The kind.
        turn: &'static str,
        /// What stands in the way.
        why: String,
        /// What to loosen.
        loosen: String,
    },
    /// A swap of a line that a kind of variant takes out itself.
    #[error("{name} is not in the drink any more to be swapped: '{turn}' takes it out")]
    SwapsGone {
        /// What was to go.
        name: String,
        /// The kinds asked for.
        turn: String,
    },
    /// No amounts within the limits.
    #[error("no amounts fit: {0}")]
    Unsolvable(#[from] Unsolvable),
}

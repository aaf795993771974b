//! A caution: what a person must know before serving, as data with its source.

use serde::{Deserialize, Serialize};

use super::id::CautionId;
use super::origin::Origin;

/// One caution, in plain words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Caution {
    /// Its id, unique among cautions.
    pub id: CautionId,
    /// What to know and what to do, ending by deferring to local rules or licensed practice.
    pub text: String,
    /// Whether it goes for what is made from a thing as well, unless its own record says otherwise.
    pub carries: bool,
    /// Where it comes from.
    pub origin: Origin,
}

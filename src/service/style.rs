//! The ways in which a drink is made ahead.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use crate::book::{Family, Method, UnknownWord};
use crate::drink::{Line, Spec};

/// How a batch is kept and poured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Style {
    /// Ready to pour from the fridge, its water in it.
    Chilled,
    /// Ready to pour from the freezer, its water in it.
    Freezer,
    /// From the fridge over ice, which brings a part of the water.
    OverIce,
    /// Mixed only: shaken or stirred with ice to order.
    ToOrder,
    /// The base of a long drink; the lengthener tops it at service.
    Long,
    /// In a bowl with a block of ice.
    Punch,
    /// From a keg.
    Tap,
}

impl Style {
    /// Every style.
    pub const ALL: [Self; 7] =
        [Self::Chilled, Self::Freezer, Self::OverIce, Self::ToOrder, Self::Long, Self::Punch, Self::Tap];

    /// Its word.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Chilled => "chilled",
            Self::Freezer => "freezer",
            Self::OverIce => "over ice",
            Self::ToOrder => "to order",
            Self::Long => "long",
            Self::Punch => "punch",
            Self::Tap => "tap",
        }
    }

    /// What it means, as a title says it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Chilled => "ready to pour from the fridge",
            Self::Freezer => "ready to pour from the freezer",
            Self::OverIce => "from the fridge, over ice",
            Self::ToOrder => "mixed, shaken or stirred to order",
            Self::Long => "the base of a long drink",
            Self::Punch => "punch, with a block of ice",
            Self::Tap => "on tap",
        }
    }

    /// How many days a batch of it must keep, unless someone says otherwise: one for what is served at once, a week for
    /// what stands by; *common practice, no source*.
    pub const fn usual_days(self) -> u16 {
        match self {
            Self::OverIce | Self::ToOrder | Self::Long | Self::Punch => 1,
            Self::Chilled | Self::Freezer | Self::Tap => 7,
        }
    }

    /// The style that suits a drink where nobody says: to order where egg or cream must be shaken in, long where something
    /// lengthens it, over ice where it is built, else chilled.
    pub fn suiting(spec: &Spec<'_>) -> Self {
        match (spec.family, spec.method) {
            (Some(Family::SourWithEgg | Family::FlipAndCream), _) | (_, Method::Blended) => Self::ToOrder,
            (Some(Family::Punch), _) => Self::Punch,
            _ if spec.lines.iter().any(Line::is_lengthener) => Self::Long,
            (_, Method::Built) => Self::OverIce,
            _ => Self::Chilled,
        }
    }
}

impl fmt::Display for Style {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}

impl FromStr for Style {
    type Err = UnknownWord;

    /// Reads the word with blanks, hyphens or underscores, in any case.
    fn from_str(text: &str) -> Result<Self, UnknownWord> {
        let plain = text.trim().to_lowercase().replace(['_', '-'], " ");
        Self::ALL.into_iter().find(|style| style.name() == plain).ok_or_else(|| UnknownWord {
            what: "a way of serving a batch",
            found: text.trim().to_owned(),
            allowed: Self::ALL.iter().map(|style| style.name()).collect(),
        })
    }
}

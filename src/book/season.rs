//! When an ingredient is to be had fresh.

use serde::{Deserialize, Serialize};

use super::word::Climate;
use crate::measure::{Hemisphere, Month, MonthSet};

/// How much of an ingredient a month brings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Presence {
    /// Not to be had fresh.
    None,
    /// To be had.
    Available,
    /// At its best.
    Peak,
}

/// When and where someone asks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct When {
    /// The month.
    pub month: Month,
    /// The half of the world.
    pub hemisphere: Hemisphere,
    /// The climate.
    pub climate: Climate,
}

/// The months of an ingredient, written for the north.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Season {
    /// It keeps, or comes all year.
    AllYear,
    /// Fresh in some months only; a peak month is also an available one.
    Months {
        /// Months at its best.
        peak: MonthSet,
        /// Months to be had, peak months included.
        available: MonthSet,
    },
}

/// The season as it stands in a file: `all_year` or `months(peak: [oct], available: [sep, nov])`.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields, rename = "Season")]
enum Written {
    AllYear,
    Months {
        #[serde(default)]
        peak: Vec<Month>,
        #[serde(default)]
        available: Vec<Month>,
    },
}

impl<'de> Deserialize<'de> for Season {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        match Written::deserialize(deserializer)? {
            Written::AllYear => Ok(Self::AllYear),
            Written::Months { peak, available } => {
                let peak: MonthSet = peak.into_iter().collect();
                let available = available.into_iter().collect::<MonthSet>().union(peak);
                if available.is_empty() {
                    return Err(serde::de::Error::custom(
                        "a season without a month: name at least one, or write all_year",
                    ));
                }
                Ok(Self::Months { peak, available })
            }
        }
    }
}

impl Serialize for Season {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match *self {
            Self::AllYear => Written::AllYear,
            Self::Months { peak, available } => Written::Months {
                peak: peak.iter().collect(),
                available: available.iter().filter(|m| !peak.contains(*m)).collect(),
            },
        }
        .serialize(serializer)
    }
}

impl Season {
    /// What a month brings in one half of the world.
    pub fn at(&self, month: Month, hemisphere: Hemisphere) -> Presence {
        let northern = hemisphere.northern(month);
        match self {
            Self::AllYear => Presence::Available,
            Self::Months { peak, .. } if peak.contains(northern) => Presence::Peak,
            Self::Months { available, .. } if available.contains(northern) => Presence::Available,
            Self::Months { .. } => Presence::None,
        }
    }

    /// Whether it comes and goes with the year.
    pub fn is_fresh(&self) -> bool {
        matches!(self, Self::Months { .. })
    }
}

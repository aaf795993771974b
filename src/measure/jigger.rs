//! The measure a bar pours with, and what can be poured with it.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::quoted::Quoted;
use super::scalar::Volume;
use super::unit::ML_PER_OUNCE;

/// The unit a house works in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HouseUnit {
    /// US fluid ounces.
    #[default]
    #[serde(rename = "oz")]
    Ounce,
    /// Millilitres.
    #[serde(rename = "ml")]
    Millilitre,
}

/// Text that is not a house's unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotAHouseUnit {
    /// What was found.
    pub found: String,
}

impl fmt::Display for NotAHouseUnit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} is not a unit a house works in: write oz or ml", Quoted(&self.found))
    }
}

impl std::error::Error for NotAHouseUnit {}

impl HouseUnit {
    /// How it is written: `oz`, `ml`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Ounce => "oz",
            Self::Millilitre => "ml",
        }
    }

    /// Millilitres in one.
    pub const fn ml(self) -> f64 {
        match self {
            Self::Ounce => ML_PER_OUNCE,
            Self::Millilitre => 1.0,
        }
    }
}

impl fmt::Display for HouseUnit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}

impl FromStr for HouseUnit {
    type Err = NotAHouseUnit;

    fn from_str(text: &str) -> Result<Self, NotAHouseUnit> {
        match text.trim().to_ascii_lowercase().as_str() {
            "oz" | "ounce" | "ounces" => Ok(Self::Ounce),
            "ml" | "millilitre" | "millilitres" | "milliliter" | "milliliters" => Ok(Self::Millilitre),
            _ => Err(NotAHouseUnit { found: text.trim().to_owned() }),
        }
    }
}

/// A volume that can be poured without guessing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Pour {
    /// How much.
    pub volume: Volume,
    /// How many marks it takes: 0 for nothing, 1, or 2.
    pub marks: u8,
}

/// Volumes closer than this are the same pour.
///
/// # Units
/// Millilitres.
const SAME_ML: f64 = 1e-6;

/// The marks of a jigger in US fluid ounces.
pub(super) const OUNCE_MARKS: [f64; 7] = [1.0 / 4.0, 1.0 / 3.0, 1.0 / 2.0, 3.0 / 4.0, 1.0, 3.0 / 2.0, 2.0];

/// A jigger: its marks, in the unit the house works in.
///
/// # Source
/// The two ready-made ones: common practice.
///
/// ```
/// use medlar::measure::{Jigger, Volume};
///
/// let jigger = Jigger::millilitres();
/// assert!(jigger.is_pourable(Volume::new(75.0)?));
/// assert_eq!(jigger.nearest(Volume::new(22.0)?).volume, Volume::new(20.0)?);
/// # Ok::<(), medlar::measure::range::OutOfRange>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Jigger {
    unit: HouseUnit,
    marks: Vec<Volume>,
    /// Nothing, every mark and every sum of two: ascending, each volume once, with the fewest marks.
    pours: Vec<Pour>,
}

/// Marks that make no jigger.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotAJigger {
    /// There is no mark.
    NoMarks,
    /// There are more marks than a jigger has room for.
    TooMany {
        /// How many were found.
        found: usize,
    },
    /// A mark is at nothing, or above the biggest jigger.
    Mark {
        /// The mark.
        found: Volume,
    },
    /// Two marks are at the same volume.
    Twice {
        /// The volume.
        found: Volume,
    },
}

impl fmt::Display for NotAJigger {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let most = Jigger::MOST_MARKS;
        match self {
            Self::NoMarks => write!(f, "a jigger needs at least one mark"),
            Self::TooMany { found } => write!(f, "{found} marks are too many for a jigger: at most {most}"),
            Self::Mark { found } => write!(
                f,
                "a mark at {} ml is not possible: above 0 to {} ml is allowed",
                found.ml(),
                Jigger::BIGGEST_ML
            ),
            Self::Twice { found } => write!(f, "the mark at {} ml is there twice", found.ml()),
        }
    }
}

impl std::error::Error for NotAJigger {}

impl Jigger {
    /// The most marks a jigger may have.
    pub const MOST_MARKS: usize = 48;
    /// The biggest mark a jigger may have, in ml.
    pub const BIGGEST_ML: f64 = 500.0;

    /// Marked ¼, ⅓, ½, ¾, 1, 1½ and 2 oz.
    pub fn ounces() -> Self {
        Self::built(HouseUnit::Ounce, OUNCE_MARKS.map(|oz| Volume::clamped(oz * ML_PER_OUNCE)).to_vec())
    }

    /// Marked every 5 ml up to 60 ml.
    pub fn millilitres() -> Self {
        let marks = (1..=12_u8).map(|step| Volume::clamped(f64::from(step) * 5.0));
        Self::built(HouseUnit::Millilitre, marks.collect())
    }

    /// With the house's own marks, in any order.
    ///
    /// # Errors
    /// [`NotAJigger`] for no marks, too many, one that is impossible or one that is there twice.
    pub fn with_marks(unit: HouseUnit, mut marks: Vec<Volume>) -> Result<Self, NotAJigger> {
        if marks.is_empty() {
            return Err(NotAJigger::NoMarks);
        }
        if marks.len() > Self::MOST_MARKS {
            return Err(NotAJigger::TooMany { found: marks.len() });
        }
        if let Some(found) = marks.iter().find(|mark| mark.ml() <= SAME_ML || mark.ml() > Self::BIGGEST_ML) {
            return Err(NotAJigger::Mark { found: *found });
        }
        marks.sort();
        if let Some(pair) = marks.windows(2).find(|pair| same(pair[0], pair[1])) {
            return Err(NotAJigger::Twice { found: pair[1] });
        }
        Ok(Self::built(unit, marks))
    }

    /// From marks that are ascending, distinct and possible.
    fn built(unit: HouseUnit, marks: Vec<Volume>) -> Self {
        let mut pours = vec![Pour { volume: Volume::ZERO, marks: 0 }];
        pours.extend(marks.iter().map(|mark| Pour { volume: *mark, marks: 1 }));
        for (index, first) in marks.iter().enumerate() {
            pours.extend(
                marks[index..]
                    .iter()
                    .map(|second| Pour { volume: Volume::clamped(first.ml() + second.ml()), marks: 2 }),
            );
        }
        // One mark stands before two that add up to it, so that the shorter way is kept.
        pours.sort_by_key(|pour| pour.marks);
        let mut unique: Vec<Pour> = Vec::with_capacity(pours.len());
        for pour in pours {
            if !unique.iter().any(|kept| same(kept.volume, pour.volume)) {
                unique.push(pour);
            }
        }
        unique.sort();
        Self { unit, marks, pours: unique }
    }

    /// The unit it is marked in.
    pub fn unit(&self) -> HouseUnit {
        self.unit
    }

    /// Its marks, smallest first.
    pub fn marks(&self) -> &[Volume] {
        &self.marks
    }

    /// What can be poured with at most two marks, from `least` to `most` inclusive, smallest first; nothing at all
    /// counts as a pour of no marks.
    pub fn pourable(&self, least: Volume, most: Volume) -> Vec<Pour> {
        let from = self.pours.partition_point(|pour| pour.volume.ml() < least.ml() - SAME_ML);
        let inside = self.pours[from..].iter().take_while(|pour| pour.volume.ml() <= most.ml() + SAME_ML);
        inside.copied().collect()
    }

    /// Whether the volume is nothing, a mark or the sum of two.
    pub fn is_pourable(&self, volume: Volume) -> bool {
        same(self.nearest(volume).volume, volume)
    }

    /// The pour nearest to a volume; the smaller of two equally near. Very little is nearest to nothing at all.
    pub fn nearest(&self, volume: Volume) -> Pour {
        let above = self.pours.partition_point(|pour| pour.volume < volume);
        let distance = |pour: &&Pour| (pour.volume.ml() - volume.ml()).abs();
        let beside = &self.pours[above.saturating_sub(1)..(above + 1).min(self.pours.len())];
        beside
            .iter()
            .min_by(|a, b| distance(a).total_cmp(&distance(b)))
            .copied()
            .unwrap_or(Pour { volume: Volume::ZERO, marks: 0 })
    }
}

fn same(a: Volume, b: Volume) -> bool {
    (a.ml() - b.ml()).abs() <= SAME_ML
}

#[cfg(test)]
mod tests;

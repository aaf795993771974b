//! What a taster just notices.

use std::fmt;
use std::str::FromStr;

use thiserror::Error;

/// A direction in which a drink can be off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Direction {
    /// Strength, % vol.
    Strength,
    /// Sugars, g/L.
    Sugar,
    /// Acid as citric, g/L.
    Acid,
    /// Bitterness, points of our scale.
    Bitterness,
}

impl Direction {
    /// All of them, in the order in which they are listed.
    pub const ALL: [Self; 4] = [Self::Strength, Self::Sugar, Self::Acid, Self::Bitterness];

    /// The unit of its figure.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Strength => "% vol",
            Self::Sugar | Self::Acid => "g/L",
            Self::Bitterness => "of 100",
        }
    }

    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Strength => "strength",
            Self::Sugar => "sugar",
            Self::Acid => "acid",
            Self::Bitterness => "bitterness",
        }
    }
}

/// The just-noticeable difference in each direction, after which the distances of drinks are weighted.
///
/// Strength in % vol, the others as a share of what is there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Palate([f64; 4]);

impl Default for Palate {
    /// # Source
    /// Strength 1.0 % vol: 1.03 to 1.32 in the mouth for wine (a published abstract). Sugar 10 %: 9 % in a cola (Journal
    /// of Sensory Studies, abstract). Acid 15 %: 0.15 to 0.3, *from memory*. Bitterness 25 %: 0.2 to 0.3 for quinine in
    /// water, *from memory*.
    fn default() -> Self {
        Self([1.0, 0.10, 0.15, 0.25])
    }
}

/// Least steps where there is hardly anything: in g/L, a few times the detection thresholds; in points, a fifth of a
/// tonic water (*ours*).
const LEAST_STEPS: [f64; 4] = [0.0, 3.0, 0.5, 2.0];

impl Palate {
    /// Least and most that a just-noticeable difference may be: % vol for strength, per cent of what is there for the rest.
    pub const RANGE: (f64, f64) = (0.1, 100.0);

    /// The just-noticeable difference where a drink has so much: % vol, g/L, points.
    pub fn step(&self, direction: Direction, at: f64) -> f64 {
        let own = self.0[direction as usize];
        match direction {
            Direction::Strength => own,
            _ => (own * at).max(LEAST_STEPS[direction as usize]),
        }
    }

    /// The same with another figure for a direction: % vol for strength, per cent of what is there for the rest.
    ///
    /// # Errors
    /// [`NotAPalate::OutOfRange`].
    pub fn with(mut self, direction: Direction, noticed: f64) -> Result<Self, NotAPalate> {
        let (least, most) = Self::RANGE;
        if !(least..=most).contains(&noticed) {
            return Err(NotAPalate::OutOfRange { direction: direction.name(), found: noticed });
        }
        self.0[direction as usize] = if direction == Direction::Strength { noticed } else { noticed / 100.0 };
        Ok(self)
    }
}

impl fmt::Display for Palate {
    /// As it is typed: `strength=1,sugar=10,acid=15,bitterness=25`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, direction) in Direction::ALL.into_iter().enumerate() {
            let own = self.0[direction as usize];
            let typed = if direction == Direction::Strength { own } else { own * 100.0 };
            let comma = if index > 0 { "," } else { "" };
            write!(f, "{comma}{}={}", direction.name(), (typed * 1000.0).round() / 1000.0)?;
        }
        Ok(())
    }
}

/// Text that does not say what a taster notices.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum NotAPalate {
    /// A part that is not a direction, =, a number.
    #[error("'{found}' is not one of strength, sugar, acid and bitterness with = and a number")]
    Unread {
        /// What was found.
        found: String,
    },
    /// A number that cannot be.
    #[error(
        "{direction}={found}: between 0.1 and 100 is noticed, in % vol for strength, else in per cent of what is there"
    )]
    OutOfRange {
        /// Of which direction.
        direction: &'static str,
        /// What was found.
        found: f64,
    },
}

impl FromStr for Palate {
    type Err = NotAPalate;

    /// Reads `sugar=5,acid=10`; what is not named stays as by default.
    fn from_str(text: &str) -> Result<Self, NotAPalate> {
        text.split(',').map(str::trim).filter(|part| !part.is_empty()).try_fold(
            Self::default(),
            |palate, part| {
                let unread = || NotAPalate::Unread { found: part.to_owned() };
                let (name, number) = part.split_once('=').ok_or_else(unread)?;
                let named = |d: &Direction| d.name().eq_ignore_ascii_case(name.trim());
                let direction = Direction::ALL.into_iter().find(named).ok_or_else(unread)?;
                let noticed: f64 =
                    number.trim().trim_end_matches('%').trim().parse().map_err(|_| unread())?;
                palate.with(direction, noticed)
            },
        )
    }
}

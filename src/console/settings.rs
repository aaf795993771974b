//! Settings that every command takes.

use std::path::PathBuf;

use clap::Args;

use crate::book::{Climate, When};
use crate::drink::House;
use crate::measure::{Hemisphere, HouseUnit, Jigger, Month};

/// Options that go with every command.
#[derive(Debug, Clone, Default, Args)]
pub struct Settings {
    /// Answer as one line of JSON (docs/json.md)
    #[arg(long, global = true, help_heading = "Everywhere")]
    pub json: bool,
    /// The house's unit: oz or ml
    #[arg(long, global = true, value_name = "UNIT", env = "MEDLAR_UNITS", help_heading = "Everywhere")]
    pub units: Option<HouseUnit>,
    /// The month to think in: a name or 1 to 12; this month if not given
    #[arg(long, global = true, value_name = "MONTH", env = "MEDLAR_MONTH", help_heading = "Everywhere")]
    pub month: Option<Month>,
    /// The half of the world: north or south
    #[arg(long, global = true, value_name = "HALF", value_parser = half, env = "MEDLAR_HEMISPHERE", help_heading = "Everywhere")]
    pub hemisphere: Option<Hemisphere>,
    /// The climate that seasons are read in: cool, warm or tropical
    #[arg(long, global = true, value_name = "CLIMATE", value_parser = climate, env = "MEDLAR_CLIMATE", help_heading = "Everywhere")]
    pub climate: Option<Climate>,
    /// A pack folder to use instead of the built-in pack; 'built-in' beside it keeps that too
    #[arg(
        long,
        global = true,
        value_name = "DIR",
        env = "MEDLAR_PACK",
        value_delimiter = ':',
        help_heading = "Everywhere"
    )]
    pub pack: Vec<PathBuf>,
    /// The house's own folder, for what it has measured
    #[arg(long, global = true, value_name = "DIR", env = "MEDLAR_BOOK", help_heading = "Everywhere")]
    pub book: Option<PathBuf>,
}

fn climate(text: &str) -> Result<Climate, String> {
    text.parse().map_err(|_| "allowed are cool, warm and tropical".to_owned())
}

fn half(text: &str) -> Result<Hemisphere, String> {
    match text.trim().to_lowercase().as_str() {
        "north" | "n" | "northern" => Ok(Hemisphere::North),
        "south" | "s" | "southern" => Ok(Hemisphere::South),
        _ => Err("allowed are north and south".to_owned()),
    }
}

/// The month it is, which the library does not know by itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Today(pub Month);

impl Settings {
    /// These settings where they say something, others where they do not.
    #[must_use]
    pub fn over(&self, others: &Self) -> Self {
        Self {
            json: self.json || others.json,
            units: self.units.or(others.units),
            month: self.month.or(others.month),
            hemisphere: self.hemisphere.or(others.hemisphere),
            climate: self.climate.or(others.climate),
            book: self.book.clone().or_else(|| others.book.clone()),
            pack: if self.pack.is_empty() { others.pack.clone() } else { self.pack.clone() },
        }
    }

    /// The house they describe.
    pub fn house(&self, today: Today) -> House {
        let jigger = match self.units.unwrap_or_default() {
            HouseUnit::Ounce => Jigger::ounces(),
            HouseUnit::Millilitre => Jigger::millilitres(),
        };
        House::new(
            jigger,
            When {
                month: self.month.unwrap_or(today.0),
                hemisphere: self.hemisphere.unwrap_or_default(),
                climate: self.climate.unwrap_or_default(),
            },
        )
    }
}

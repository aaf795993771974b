//! Values of a row's cells, read with every fault that they have.

use std::collections::BTreeSet;
use std::fmt::Display;
use std::str::FromStr;

use super::cell::{Cell, Cells, items};
use super::fault::quoted;
use super::who::Who;
use crate::book::id::{CautionId, IngredientId};
use crate::book::keeping::Keeping;
use crate::book::near::nearest_word;
use crate::book::origin::Origin;
use crate::book::word::UnknownWord;
use crate::measure::Amount;
use crate::measure::range::OutOfRange;

/// What is wrong with a cell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct CellFault {
    pub(super) message: String,
    pub(super) hint: Option<String>,
}

/// Cells that are being read.
pub(super) struct Taking<'c> {
    pub(super) cells: &'c Cells,
    pub(super) who: &'c Who<'c>,
    /// Whether a comma between digits is a decimal one.
    pub(super) comma: bool,
    pub(super) faults: Vec<CellFault>,
}

impl<'c> Taking<'c> {
    pub(super) fn new(cells: &'c Cells, who: &'c Who<'c>, comma: bool) -> Self {
        Self { cells, who, comma, faults: Vec::new() }
    }

    pub(super) fn fault(&mut self, column: &str, message: impl Display, hint: Option<String>) {
        self.faults.push(CellFault { message: format!("{column}: {message}"), hint });
    }

    /// Whether the row says anything of a column, be it that there is none.
    pub(super) fn says(&self, column: &str) -> bool {
        self.cells.contains_key(column)
    }

    /// Whether one of the columns has something in it.
    pub(super) fn any(&self, columns: &[&str]) -> bool {
        columns.iter().any(|column| self.raw(column).is_some())
    }

    pub(super) fn raw(&self, column: &str) -> Option<&'c str> {
        match self.cells.get(column) {
            Some(Cell::Text(text)) => Some(text),
            _ => None,
        }
    }

    pub(super) fn text(&self, column: &str) -> Option<String> {
        self.raw(column).map(str::to_owned)
    }

    /// The text, or a fault that it is missing.
    pub(super) fn needed(&mut self, column: &str) -> Option<String> {
        let text = self.text(column);
        if text.is_none() {
            self.fault(column, "nothing is written: it must be said", None);
        }
        text
    }

    /// A number's text with a decimal point.
    pub(super) fn figures(&self, column: &str) -> Option<String> {
        let raw = self.raw(column)?;
        Some(if self.comma { with_points(raw) } else { raw.to_owned() })
    }

    pub(super) fn number<T>(&mut self, column: &str) -> Option<T>
    where
        T: TryFrom<f64, Error = OutOfRange> + FromStr<Err: Display>,
    {
        let text = self.figures(column)?;
        let read = match text.trim().parse::<f64>() {
            Ok(value) => T::try_from(value).map_err(|e| e.to_string()),
            Err(_) => text.parse::<T>().map_err(|e| e.to_string()),
        };
        self.taken(column, read)
    }

    pub(super) fn taken<T>(&mut self, column: &str, read: Result<T, impl Display>) -> Option<T> {
        match read {
            Ok(value) => Some(value),
            Err(why) => {
                self.fault(column, why, None);
                None
            }
        }
    }

    /// An amount; a number alone takes the unit of the column for it.
    pub(super) fn amount(&mut self, column: &str, unit: Option<&str>) -> Option<Amount> {
        let text = self.figures(column)?;
        let read = text.parse::<Amount>().or_else(|error| match unit {
            Some(unit) => format!("{text} {unit}").parse::<Amount>().map_err(|_| error),
            None => Err(error),
        });
        self.taken(column, read)
    }

    pub(super) fn days(&mut self, column: &str) -> Option<u16> {
        let text = self.raw(column)?;
        let days = text.trim_end_matches("days").trim_end_matches("day").trim();
        let shown = quoted(text);
        self.taken(
            column,
            days.parse::<u16>().map_err(|_| format!("{shown} is not a number of days: 0 to 65535")),
        )
    }

    pub(super) fn yes(&mut self, column: &str) -> bool {
        let Some(text) = self.raw(column) else { return false };
        match text.to_lowercase().as_str() {
            "yes" | "y" | "true" | "1" | "x" => true,
            "no" | "n" | "false" | "0" => false,
            _ => {
                self.fault(column, format!("{} is neither yes nor no", quoted(text)), None);
                false
            }
        }
    }

    pub(super) fn word<W: FromStr<Err = UnknownWord>>(&mut self, column: &str) -> Option<W> {
        let text = self.raw(column)?;
        self.word_of(column, text)
    }

    pub(super) fn word_of<W: FromStr<Err = UnknownWord>>(&mut self, column: &str, text: &str) -> Option<W> {
        match text.parse::<W>() {
            Ok(word) => Some(word),
            Err(error) => {
                let near = nearest_word(&error.found.to_lowercase(), error.allowed.iter().copied());
                let message = format!(
                    "{} is not {}: allowed are {}",
                    quoted(text),
                    error.what,
                    error.allowed.join(", ")
                );
                self.fault(column, message, near.map(|near| format!("did you mean {near}?")));
                None
            }
        }
    }

    pub(super) fn list(&self, column: &str) -> Vec<String> {
        self.raw(column).map(items).unwrap_or_default()
    }

    pub(super) fn words<W: FromStr<Err = UnknownWord> + Ord>(&mut self, column: &str) -> BTreeSet<W> {
        let all = self.list(column);
        all.iter().filter_map(|word| self.word_of(column, word)).collect()
    }

    pub(super) fn ingredient(&mut self, column: &str) -> Option<IngredientId> {
        let text = self.needed(column)?;
        self.ingredient_of(column, &text)
    }

    pub(super) fn ingredient_of(&mut self, column: &str, typed: &str) -> Option<IngredientId> {
        match self.who.ingredient(typed) {
            Ok(id) => Some(id),
            Err(unknown) => {
                self.fault(column, unknown.message, unknown.hint);
                None
            }
        }
    }

    pub(super) fn cautions(&mut self) -> Vec<CautionId> {
        let all = self.list("cautions");
        all.iter().filter_map(|id| self.taken("cautions", CautionId::new(id))).collect()
    }

    pub(super) fn origin(&mut self, column: &str) -> Option<Origin> {
        let text = self.raw(column)?;
        let plain = text.to_lowercase().replace(['_', '-'], " ");
        if plain.starts_with("published") {
            let source = text.split_once(':').map_or("", |(_, source)| source);
            return Some(Origin::Published(source.strip_prefix(' ').unwrap_or(source).to_owned()));
        }
        let origin = match plain.trim() {
            "practice" | "common practice" => Origin::Practice,
            "from memory" => Origin::FromMemory,
            "house" => Origin::House,
            "computed" => Origin::Computed,
            "demo" => Origin::Demo,
            _ => {
                let shown = quoted(text);
                let allowed = "published: SOURCE, practice, from memory, house, computed, demo";
                self.fault(column, format!("{shown} is not an origin: allowed are {allowed}"), None);
                return None;
            }
        };
        Some(origin)
    }

    pub(super) fn keeping(&mut self) -> Option<Keeping> {
        if !self.any(&["store", "opened", "sealed"]) {
            return None;
        }
        let (opened, sealed) = (self.days("opened"), self.days("sealed"));
        self.needed("store")?;
        let store = self.word("store")?;
        Some(Keeping { store, opened, sealed })
    }
}

/// Decimal commas as points.
pub(super) fn with_points(text: &str) -> String {
    let bytes = text.as_bytes();
    let digit = |at: Option<usize>| at.and_then(|at| bytes.get(at)).is_some_and(u8::is_ascii_digit);
    let decimal = |at: usize| digit(at.checked_sub(1)) && digit(at.checked_add(1));
    text.char_indices().map(|(at, letter)| if letter == ',' && decimal(at) { '.' } else { letter }).collect()
}

//! Values as the cells of a row.

use super::cell::{Cell, Cells, list};
use crate::book::keeping::Keeping;
use crate::book::origin::Origin;

/// Cells that are being filled.
#[derive(Debug, Default)]
pub(super) struct Filling(Cells);

impl Filling {
    pub(super) fn done(self) -> Cells {
        self.0
    }

    pub(super) fn text(&mut self, column: &'static str, text: impl Into<String>) {
        let text = text.into();
        if !text.is_empty() {
            self.0.insert(column, Cell::Text(text));
        }
    }

    pub(super) fn some(&mut self, column: &'static str, text: Option<&impl ToString>) {
        if let Some(text) = text {
            self.text(column, text.to_string());
        }
    }

    /// A number, as short as it can be written without losing a digit.
    pub(super) fn number(&mut self, column: &'static str, value: impl Into<f64>) {
        self.text(column, value.into().to_string());
    }

    /// A number, where it is not nought.
    pub(super) fn not_nought(&mut self, column: &'static str, value: impl Into<f64>) {
        let value: f64 = value.into();
        if value != 0.0 {
            self.number(column, value);
        }
    }

    pub(super) fn yes(&mut self, column: &'static str, is_so: bool) {
        if is_so {
            self.text(column, "yes");
        }
    }

    pub(super) fn list<S: AsRef<str>>(&mut self, column: &'static str, all: impl IntoIterator<Item = S>) {
        self.text(column, list(all));
    }

    /// A list that says so if nothing is in it.
    pub(super) fn told_list<S: AsRef<str>>(
        &mut self,
        column: &'static str,
        all: impl IntoIterator<Item = S>,
    ) {
        let text = list(all);
        let cell = if text.is_empty() { Cell::None } else { Cell::Text(text) };
        self.0.insert(column, cell);
    }

    pub(super) fn origin(&mut self, column: &'static str, origin: &Origin) {
        self.text(column, origin_word(origin));
    }

    pub(super) fn keeping(&mut self, keeps: &Keeping) {
        self.text("store", keeps.store.name());
        self.some("opened", keeps.opened.as_ref());
        self.some("sealed", keeps.sealed.as_ref());
    }
}

/// An origin as it stands in a cell.
pub(super) fn origin_word(origin: &Origin) -> String {
    match origin {
        Origin::Published(source) => format!("published: {source}"),
        Origin::Practice => "practice".to_owned(),
        Origin::FromMemory => "from memory".to_owned(),
        Origin::House => "house".to_owned(),
        Origin::Computed => "computed".to_owned(),
        Origin::Demo => "demo".to_owned(),
    }
}

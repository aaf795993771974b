//! Results as text and JSON.
//!
//! A [`Report`] is a value: a title, blocks in reading order and the same answer as JSON. [`render`] turns the blocks
//! into text for a screen or a pipe, [`json`] gives the answer to another program. This floor does not know how a
//! result was found, and it never prints.

mod ahead;
mod balance;
mod bar;
mod bench;
mod bridges;
mod brought;
mod changed;
mod clean;
mod companions;
mod describe;
mod equivalent;
mod explain;
mod faults;
mod gauge;
mod history;
mod house_book;
mod house_faults;
mod json;
mod listing;
mod noticed;
mod paper;
mod phrase;
mod prep;
mod riffs;
mod said;
mod seasons;
mod soundness;
mod style;
mod swap;
mod table;
mod taken;
mod tasted;
mod terminal;
mod tolerance;
mod tone;
mod tune;
mod turned;
mod work;
mod year;

pub use ahead::{
    BatchTold, CostTold, Rows, StandInCost, batch, batch_labels, batch_rows, card, card_paper, card_rows,
    cost, cost_rows, hold_backs, kit, kit_insert, kit_labels, kit_rows, prep_list, prep_rows,
};
pub use balance::{Balance, balance};
pub use bar::{measures, prices, stock};
pub use bench::{
    Adjusted, Compared, Cut, Fortified, Freezer, Gas, Held, InFreezer, Kept, Kin, Made, Reading, Way,
    Weighed, adjusted, brix, compared, cut, fortified, freezer, gas, syrup, weighed,
};
pub use bridges::{accords, bridges};
pub use brought::{BroughtIn, brought};
pub use changed::{Changed, changed};
pub use clean::clean;
pub use companions::{companions, expected};
pub use describe::{ingredient, template};
pub use explain::{Standing, companion_explained, riff_explained, stand_in_explained, swap_explained};
pub use faults::faults_text;
pub use gauge::{Gauge, Span, Stand};
pub use history::{history, turned_back};
pub use house_book::{HouseFilesTold, house_book, merged, sharing};
pub use house_faults::{HouseFaults, Mends, mends, with_house_faults};
pub use json::json;
pub use listing::{by_family, contents, facets, families, ingredients, kinds, specs, templates};
pub use paper::{
    Card, FillMark, Insert, Label, NotASheet, PaperFault, Part, Sheet, cards, insert, labels, page,
};
pub use phrase::View;
pub use prep::preps;
pub use riffs::riffs;
pub use seasons::{Season, calendar, season, seasons_of};
pub use soundness::soundness;
pub use style::Style;
pub use swap::{stand_ins, swapped_in};
pub use table::{Align, Cell, Column, Row, Table};
pub use taken::{TakenOut, taken};
pub use tasted::{Moved, TastingKept, tasted, tastings};
pub use terminal::{render, wrapped};
pub use tolerance::tolerance;
pub use tone::Tone;
pub use tune::{tuned, way_out_words};
pub use turned::turned_riffs;
pub use work::{InHand, beside, in_hand, step_words, stepped, steps};
pub use year::{Mark, Year};

use serde_json::Value;

/// One answer, ready to be shown.
#[derive(Debug, Clone, PartialEq)]
pub struct Report {
    /// What was asked, in a few words; the first line on the screen.
    pub title: String,
    /// What is shown under it, in reading order.
    pub blocks: Vec<Block>,
    /// The same answer for another program.
    pub data: Value,
}

/// One piece of a report.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// The name of what follows.
    Heading(String),
    /// Running text; a line break in it is kept.
    Text(String),
    /// Labels and their values, one a line.
    Facts(Vec<(String, String)>),
    /// Rows and columns.
    Table(Table),
    /// A figure against its bands. Gauges that follow each other share their columns.
    Gauge(Gauge),
    /// Seasons across the year.
    Year(Year),
    /// A reason or a remark on what stands above it.
    Note(String),
    /// What can harm someone or break a rule.
    Caution(String),
    /// A bottle with lines to fill it to, numbered from its floor up: a picture on a page, the lines alone on a screen.
    Bottle(Vec<FillMark>),
    /// Short entries without an order.
    List(Vec<String>),
    /// Text that is drawn already, line by line, and is safe to show.
    Drawn(String),
}

impl Report {
    /// A report without blocks.
    ///
    /// ```
    /// use medlar::report::{Report, Style, render};
    ///
    /// let report = Report::new("Quince", serde_json::json!({ "id": "quince" }))
    ///     .text("A hard yellow fruit.")
    ///     .caution("The seeds are not eaten.");
    /// let style = Style { width: 80, colour: false, unicode: false };
    /// assert_eq!(
    ///     render(&report, &style),
    ///     "Quince\n======\n\n  A hard yellow fruit.\n\n! Caution: The seeds are not eaten.\n"
    /// );
    /// ```
    pub fn new(title: impl Into<String>, data: Value) -> Self {
        Self { title: title.into(), blocks: Vec::new(), data }
    }

    /// Adds the name of what follows.
    #[must_use]
    pub fn heading(self, text: impl Into<String>) -> Self {
        self.with(Block::Heading(text.into()))
    }

    /// Adds running text.
    #[must_use]
    pub fn text(self, text: impl Into<String>) -> Self {
        self.with(Block::Text(text.into()))
    }

    /// Adds labels and their values.
    #[must_use]
    pub fn facts(self, facts: Vec<(String, String)>) -> Self {
        self.with(Block::Facts(facts))
    }

    /// Adds a table.
    #[must_use]
    pub fn table(self, table: Table) -> Self {
        self.with(Block::Table(table))
    }

    /// Adds a figure against its bands.
    #[must_use]
    pub fn gauge(self, gauge: Gauge) -> Self {
        self.with(Block::Gauge(gauge))
    }

    /// Adds seasons across the year.
    #[must_use]
    pub fn year(self, year: Year) -> Self {
        self.with(Block::Year(year))
    }

    /// Adds a reason or a remark.
    #[must_use]
    pub fn note(self, text: impl Into<String>) -> Self {
        self.with(Block::Note(text.into()))
    }

    /// Adds a caution.
    #[must_use]
    pub fn caution(self, text: impl Into<String>) -> Self {
        self.with(Block::Caution(text.into()))
    }

    /// Adds a bottle with lines to fill it to.
    #[must_use]
    pub fn bottle(self, marks: Vec<FillMark>) -> Self {
        self.with(Block::Bottle(marks))
    }

    /// Adds short entries.
    #[must_use]
    pub fn list(self, entries: Vec<String>) -> Self {
        self.with(Block::List(entries))
    }

    /// Adds text that is drawn already.
    #[must_use]
    pub fn drawn(self, text: impl Into<String>) -> Self {
        self.with(Block::Drawn(text.into()))
    }

    /// The same report with its title as a heading over its blocks, for a title that goes for more.
    #[must_use]
    pub fn with_first_as_heading(mut self) -> Self {
        self.blocks.insert(0, Block::Heading(self.title.clone()));
        self
    }

    fn with(mut self, block: Block) -> Self {
        self.blocks.push(block);
        self
    }
}

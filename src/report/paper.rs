//! Reports and small papers as HTML pages that a person prints.
//!
//! Each page is one file that holds all it needs: no script, no picture, no face of type is fetched. Whatever is
//! printed into a template is cleaned and escaped, whoever wrote it. See docs/papers.md.

mod bottle;
mod card;
mod drawing;
mod grid;
mod insert;
mod label;
mod page;
mod part;
mod place;
mod press;
mod room;
mod sheet;
mod twelve;

pub use bottle::FillMark;
pub use card::{Card, cards};
pub use insert::{Insert, insert};
pub use label::{Label, labels};
pub use page::page;
pub use part::Part;
pub use sheet::{NotASheet, Sheet};

use thiserror::Error;

/// A paper that could not be made. No input is to blame for it: it is a fault of this program.
#[derive(Debug, Error)]
pub enum PaperFault {
    /// A template asks for what it was not given, or cannot be read.
    #[error("the template {name} could not be filled: {source}")]
    Template {
        /// Which one.
        name: &'static str,
        /// Where and why.
        source: minijinja::Error,
    },
}

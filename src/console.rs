//! The commands, once, for the shell and the prompt alike; completion, history, help.

mod asked;
mod clock;
mod command;
mod commands;
mod complete;
mod desk;
mod editor;
mod failure;
mod hand;
mod keep;
mod library;
mod mend;
mod patience;
mod pipe;
mod prompt;
mod questions;
mod session;
mod settings;
mod shell;
mod usage;
mod words;
mod written_out;

pub use clock::Clock;
pub use command::{COMMANDS, Command};
pub use complete::{Completion, complete, hint};
pub use editor::Editor;
pub use failure::{Failure, Kind};
pub use library::{HouseFiles, Library};
pub use session::{Outcome, Pick, Session};
pub use settings::{Settings, Today};
pub use shell::{Cli, run};
pub use words::{OpenQuote, split};

//! The commands, once, for the shell and the prompt alike; completion, history, help.

mod asked;
mod command;
mod commands;
mod complete;
mod failure;
mod hand;
mod library;
mod patience;
mod pipe;
mod prompt;
mod session;
mod settings;
mod shell;
mod words;

pub use command::{COMMANDS, Command};
pub use complete::{Completion, complete, hint};
pub use failure::{Failure, Kind};
pub use library::Library;
pub use session::{Outcome, Pick, Session};
pub use settings::{Settings, Today};
pub use shell::{Cli, run};
pub use words::{OpenQuote, split};

//! What was asked last, so that `explain` can go through it again.

use super::command::Command;
use super::commands::explain::not_so_many;
use super::failure::Failure;
use super::session::Pick;
use super::settings::Settings;

/// A question whose answer was a numbered list of suggestions. The answer is not kept: the same question has the
/// same answer.
#[derive(Debug)]
pub(super) struct Asked {
    command: Command,
    /// The settings it was asked with.
    pub(super) settings: Settings,
    /// What numbers in the question stood for.
    pub(super) picks: Vec<Pick>,
    /// How many suggestions were listed.
    listed: usize,
}

impl Asked {
    /// None for a command whose answers cannot be explained.
    pub(super) fn of(command: &Command, settings: &Settings, picks: &[Pick], listed: usize) -> Option<Self> {
        command.explaining(1)?;
        let settings = Settings { json: false, ..settings.clone() };
        Some(Self { command: command.clone(), settings, picks: picks.to_vec(), listed })
    }

    /// The same question, asking how one of its suggestions came about.
    pub(super) fn explaining(&self, number: u16) -> Result<Command, Failure> {
        let there = usize::from(number) <= self.listed;
        self.command.explaining(number).filter(|_| there).ok_or_else(|| not_so_many(number, self.listed))
    }
}

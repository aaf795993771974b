//! The one list of commands: the shell, the prompt, help, completion and docs/commands.md all come from it.

use clap::Subcommand;

use super::commands::{
    accord, balance, bench, bridge, check, explain, help, list, pairs, quit, riff, season, show, swap,
};
use super::failure::Failure;
use super::session::{Answer, Desk};

/// Everything that can be asked.
#[derive(Debug, Clone, Subcommand)]
pub enum Command {
    /// Everything known of an ingredient or a template
    Show(show::Args),
    /// What goes with an ingredient, or with several at once
    Pairs(pairs::Args),
    /// What joins two ingredients that do not obviously meet
    Bridge(bridge::Args),
    /// Small groups in which every pair agrees
    Accord(accord::Args),
    /// What is in season, at its peak, coming and leaving
    Season(season::Args),
    /// Stand-ins for an ingredient, alone or in a drink
    Swap(swap::Args),
    /// The figures of a drink, against its family's band
    Balance(balance::Args),
    /// Variants of a classic, kept in balance
    Riff(riff::Args),
    /// How a suggestion just given came about, in figures
    Explain(explain::Args),
    /// Arithmetic of strength, sugar, acid, ice and gas
    Bench(bench::Args),
    /// What the book holds
    List(list::Args),
    /// What to mend in the packs: soft spots, those that matter most first
    Check(check::Args),
    /// How to ask
    Help(help::Args),
    /// Leave the prompt
    #[command(alias = "exit")]
    Quit(quit::Args),
}

/// Names of the commands in the order of the list.
pub const COMMANDS: [&str; 14] = [
    "show", "pairs", "bridge", "accord", "season", "swap", "balance", "riff", "explain", "bench", "list",
    "check", "help", "quit",
];

impl Command {
    /// The same command, asking how one of its suggestions came about; none for one that makes no suggestions.
    pub(super) fn explaining(&self, number: u16) -> Option<Self> {
        let mut command = self.clone();
        match &mut command {
            Self::Riff(args) => args.explain = Some(number),
            Self::Swap(args) => args.explain = Some(number),
            Self::Pairs(args) => args.explain = Some(number),
            _ => return None,
        }
        Some(command)
    }

    /// Answers the command.
    pub(super) fn run(&self, desk: &Desk<'_>) -> Result<Answer, Failure> {
        match self {
            Self::Show(args) => show::run(args, desk),
            Self::Pairs(args) => pairs::run(args, desk),
            Self::Bridge(args) => bridge::run(args, desk),
            Self::Accord(args) => accord::run(args, desk),
            Self::Season(args) => season::run(args, desk),
            Self::Swap(args) => swap::run(args, desk),
            Self::Balance(args) => balance::run(args, desk),
            Self::Riff(args) => riff::run(args, desk),
            Self::Explain(args) => explain::run(args, desk),
            Self::Bench(args) => bench::run(args, desk),
            Self::List(args) => list::run(args, desk),
            Self::Check(args) => check::run(args, desk),
            Self::Help(args) => help::run(args, desk),
            Self::Quit(args) => quit::run(args, desk),
        }
    }
}

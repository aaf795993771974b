//! The one list of commands: the shell, the prompt, help, completion and docs/commands.md all come from it.

use clap::Subcommand;

use super::commands::{
    accord, ahead, alias, balance, bench, book, bridge, check, edit, explain, export, goes, help, history,
    import, list, measure, new, pairs, price, quit, remove, rename, riff, save, season, show, stock, swap,
    taste, tune, work,
};
use super::desk::Desk;
use super::failure::Failure;
use super::session::Answer;

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
    /// Other amounts for a drink: too sweet, weaker, to fit a glass
    Tune(tune::Args),
    /// A drink made ahead, for many
    Batch(ahead::batch::Args),
    /// The mix of a drink without its spirit, to take home
    Kit(ahead::kit::Args),
    /// What to make for a day
    Prep(ahead::prep::Args),
    /// What a serve costs, and what it may be sold for
    Cost(ahead::cost::Args),
    /// A drink's spec card, for the back of the bar
    Card(ahead::card::Args),
    /// What is held back of a batch, and why
    Hold(ahead::hold::Args),
    /// Take a drink up, to work on it step by step
    Work(work::Args),
    /// In the drink in hand: one ingredient in another's place
    Put(work::put::Args),
    /// In the drink in hand: another amount of a line
    Amount(work::amount::Args),
    /// In the drink in hand: a line more
    Add(work::add::Args),
    /// In the drink in hand: a line less
    Drop(work::drop::Args),
    /// Make the drink in hand in another way
    Method(work::method::Args),
    /// Take a suggestion of the last answer as the drink in hand
    Take(work::take::Args),
    /// Take the last step back
    Undo(work::undo::Args),
    /// Take the step once more that was taken back
    Redo(work::redo::Args),
    /// The drink in hand beside the one it came from, or beside another
    Compare(work::compare::Args),
    /// Name the drink in hand
    Name(work::name::Args),
    /// The drink in hand
    Drink(work::drink::Args),
    /// What was done to the drink in hand
    Steps(work::steps::Args),
    /// Add an ingredient, a template or a preparation of the house
    New(new::Args),
    /// Change what the house says of something
    Edit(edit::Args),
    /// Give something of the house another name
    Rename(rename::Args),
    /// Take out what the house says of something
    Remove(remove::Args),
    /// Another name that may be typed
    Alias(alias::Args),
    /// Write down how well two ingredients go together
    Goes(goes::GoesArgs),
    /// Write down that two ingredients do not go together
    Clash(goes::ClashArgs),
    /// Keep a drink in the house book under a name
    Save(save::Args),
    /// Write down how a pair or a drink was liked
    Taste(taste::Args),
    /// What an ingredient costs
    Price(price::Args),
    /// What stands on the back bar: have, low or out
    Stock(stock::Args),
    /// What the house's own measures hold
    Measure(measure::Args),
    /// The house book: where it is, what is in it, how it is shared
    Book(book::Args),
    /// What was changed in the house book
    History(history::Args),
    /// Bring records into the house book: a spreadsheet, a pack, JSON
    Import(import::Args),
    /// Take the book out: a pack, JSON, spreadsheets, a graph
    Export(export::Args),
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

/// The commands by what they are about, in the order of the list.
pub(super) const GROUPS: &[(&str, &[&str])] = &[
    ("What goes with what", &["show", "pairs", "bridge", "accord", "season"]),
    ("Drinks", &["swap", "balance", "riff", "explain", "tune"]),
    ("Made ahead", &["batch", "kit", "prep", "cost", "card", "hold"]),
    (
        "The drink in hand",
        &[
            "work", "put", "amount", "add", "drop", "method", "take", "undo", "redo", "compare", "name",
            "drink", "steps",
        ],
    ),
    (
        "The house book",
        &[
            "new", "edit", "rename", "remove", "alias", "goes", "clash", "save", "taste", "price", "stock",
            "measure", "book", "history", "import", "export",
        ],
    ),
    ("Beside that", &["bench", "list", "check", "help", "quit"]),
];

/// Names of the commands in the order of the list.
pub const COMMANDS: [&str; 50] = names();

const fn names() -> [&'static str; 50] {
    let mut names = [""; 50];
    let (mut group, mut at) = (0, 0);
    while group < GROUPS.len() {
        let mut index = 0;
        while index < GROUPS[group].1.len() {
            names[at] = GROUPS[group].1[index];
            at += 1;
            index += 1;
        }
        group += 1;
    }
    names
}

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
            Self::Tune(args) => tune::run(args, desk),
            Self::Batch(args) => ahead::batch::run(args, desk),
            Self::Kit(args) => ahead::kit::run(args, desk),
            Self::Prep(args) => ahead::prep::run(args, desk),
            Self::Cost(args) => ahead::cost::run(args, desk),
            Self::Card(args) => ahead::card::run(args, desk),
            Self::Hold(args) => ahead::hold::run(args, desk),
            Self::Work(args) => work::run(args, desk),
            Self::Put(args) => work::put::run(args, desk),
            Self::Amount(args) => work::amount::run(args, desk),
            Self::Add(args) => work::add::run(args, desk),
            Self::Drop(args) => work::drop::run(args, desk),
            Self::Method(args) => work::method::run(args, desk),
            Self::Take(args) => work::take::run(args, desk),
            Self::Undo(args) => work::undo::run(args, desk),
            Self::Redo(args) => work::redo::run(args, desk),
            Self::Compare(args) => work::compare::run(args, desk),
            Self::Name(args) => work::name::run(args, desk),
            Self::Drink(args) => work::drink::run(args, desk),
            Self::Steps(args) => work::steps::run(args, desk),
            Self::New(args) => new::run(args, desk),
            Self::Edit(args) => edit::run(args, desk),
            Self::Rename(args) => rename::run(args, desk),
            Self::Remove(args) => remove::run(args, desk),
            Self::Alias(args) => alias::run(args, desk),
            Self::Goes(args) => goes::goes(args, desk),
            Self::Clash(args) => goes::clash(args, desk),
            Self::Save(args) => save::run(args, desk),
            Self::Taste(args) => taste::run(args, desk),
            Self::Price(args) => price::run(args, desk),
            Self::Stock(args) => stock::run(args, desk),
            Self::Measure(args) => measure::run(args, desk),
            Self::Book(args) => book::run(args, desk),
            Self::History(args) => history::run(args, desk),
            Self::Import(args) => import::run(args, desk),
            Self::Export(args) => export::run(args, desk),
            Self::Bench(args) => bench::run(args, desk),
            Self::List(args) => list::run(args, desk),
            Self::Check(args) => check::run(args, desk),
            Self::Help(args) => help::run(args, desk),
            Self::Quit(args) => quit::run(args, desk),
        }
    }
}

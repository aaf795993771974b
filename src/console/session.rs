//! A session: a line in, an answer out, and what the next line may refer to.

use std::sync::Arc;

use clap::error::ErrorKind;
use clap::{CommandFactory, Parser};

use super::asked::Asked;
use super::clock::Clock;
use super::command::Command;
use super::desk::Desk;
use super::editor::Editor;
use super::failure::Failure;
use super::hand::{Hand, Suggestions, line_to_keep, to_go_on};
use super::library::Library;
use super::questions::{Questions, Step};
use super::settings::{Settings, Today};
use super::usage::usage_failure;
use super::words::{gather, split};
use crate::book::{IngredientId, TemplateId};
use crate::drink::{House, Work, ice_of};
use crate::report::{Report, Style, clean, json, render, wrapped};

/// Something an answer numbered, so that the next command can say `show 2`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Pick {
    /// An ingredient.
    Ingredient(IngredientId),
    /// A template.
    Template(TemplateId),
    /// A spec, as a person would type it, with its method.
    Spec {
        /// The lines.
        text: String,
        /// The method's word.
        method: crate::book::Method,
    },
    /// A name that was offered.
    Name(String),
}

/// What a command comes to.
#[derive(Debug)]
pub(super) struct Answer {
    pub(super) report: Report,
    pub(super) picks: Vec<Pick>,
    pub(super) quits: bool,
    /// The drink to have in hand from now on, if it is another.
    pub(super) work: Option<Work>,
    /// Drinks that may be taken over, in the order of the picks.
    pub(super) last: Option<Suggestions>,
    /// Whether the house book was changed.
    pub(super) changed: bool,
    /// What a line that takes up again what was in hand stands under, and the line. It is not wrapped, so that it can be
    /// pasted.
    pub(super) left: Option<String>,
}

impl Answer {
    pub(super) fn new(report: Report) -> Self {
        Self::picking(report, Vec::new())
    }

    pub(super) fn picking(report: Report, picks: Vec<Pick>) -> Self {
        Self { report, picks, quits: false, work: None, last: None, changed: false, left: None }
    }
}

/// What a line came to, as text.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Outcome {
    /// The answer: goes to stdout.
    pub out: String,
    /// What went wrong: goes to stderr. Empty if nothing did.
    pub err: String,
    /// 0, 1 for a person's mistake, 2 for usage, 70 for our fault.
    pub status: u8,
    /// Whether the person asked to leave.
    pub quits: bool,
}

/// A line at the prompt: a command without the program's name.
#[derive(Debug, Parser)]
#[command(
    name = "medlar",
    no_binary_name = true,
    disable_version_flag = true,
    disable_help_subcommand = true,
    subcommand_required = true,
    help_template = "{about}\n\n{usage-heading} {usage}\n\n{all-args}{after-help}"
)]
pub(super) struct Line {
    #[command(flatten)]
    pub(super) settings: Settings,
    #[command(subcommand)]
    pub(super) command: Command,
}

/// A conversation.
#[derive(Debug)]
pub struct Session {
    library: Arc<Library>,
    settings: Settings,
    today: Today,
    style: Style,
    picks: Vec<Pick>,
    /// What the picks were the answer to, where that can be explained.
    asked: Option<Asked>,
    hand: Hand,
    at_prompt: bool,
    clock: Option<Clock>,
    editor: Option<Editor>,
    /// Whether questions may be asked back.
    asks: bool,
    /// Questions under way.
    questions: Option<Questions>,
    /// A word on the house book that is still to be told.
    warning: Option<String>,
}

impl Session {
    /// Opens a session on a library.
    pub fn new(library: Arc<Library>, settings: Settings, today: Today, style: Style) -> Self {
        let warning = library.house.warning();
        Self {
            library,
            settings,
            today,
            style,
            picks: Vec::new(),
            asked: None,
            hand: Hand::default(),
            at_prompt: true,
            clock: None,
            editor: None,
            asks: false,
            questions: None,
            warning,
        }
    }

    /// The same session with a clock: it can keep what it is told in the house book.
    #[must_use]
    pub fn keeping(self, clock: Clock) -> Self {
        Self { clock: Some(clock), ..self }
    }

    /// The same session for one command from the shell: there is nothing to pick by number.
    #[must_use]
    pub fn at_shell(self) -> Self {
        Self { at_prompt: false, ..self }
    }

    /// The same session with the person's editor.
    #[must_use]
    pub fn editing(self, editor: Editor) -> Self {
        Self { editor: Some(editor), ..self }
    }

    /// The library that is open.
    pub fn library(&self) -> Arc<Library> {
        Arc::clone(&self.library)
    }

    /// Uses another width from now on.
    pub fn set_width(&mut self, width: usize) {
        self.style.width = width;
    }

    /// The same session with a person before it: it may ask back, one question a line.
    #[must_use]
    pub fn asking(self) -> Self {
        Self { asks: true, ..self }
    }

    /// The prompt's text: a question that waits for its answer, or the name of the drink in hand.
    pub fn prompt(&self) -> String {
        match &self.questions {
            Some(questions) => questions.prompt(&self.library.book),
            None => self.hand.prompt(),
        }
    }

    /// A word on the house book for one who starts, once.
    pub(super) fn first_word(&mut self) -> Option<String> {
        self.warning.take().map(|w| warned(&w, self.style.width))
    }

    /// Leaves questions unanswered. What was answered so far is gone.
    pub fn give_up(&mut self) {
        self.questions = None;
    }

    /// What one who leaves without a word should still see: how to take up again what they had in hand.
    pub(super) fn farewell(&self) -> Option<String> {
        Some(to_go_on(&line_to_keep(&self.library, self.hand.work()?)?))
    }

    /// Answers one typed line. An empty line is answered with nothing, or takes what a question offers.
    pub fn answer(&mut self, line: &str) -> Outcome {
        if let Some(questions) = self.questions.take() {
            return self.answer_question(questions, line);
        }
        let words = match split(line) {
            Ok(words) => words,
            Err(error) => return self.failed(&self.settings.clone(), &Failure::usage(error.to_string())),
        };
        let words = match words.first().map(String::as_str) {
            None => return Outcome::default(),
            Some("?") => std::iter::once("help".to_owned()).chain(words.into_iter().skip(1)).collect(),
            Some(_) => words,
        };
        let words = gather(words);
        match Line::try_parse_from(&words) {
            Ok(line) => self.run(&line.command, &line.settings),
            // A command that has several jobs, and none was named: its help is the answer.
            Err(error) if error.kind() == ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand => {
                self.answer(&format!("help {}", words.join(" ")))
            }
            Err(error) => self.refused(&error, words.iter().any(|w| w == "--json")),
        }
    }

    /// Takes an answer to a question; asks the next, or does what was asked for.
    fn answer_question(&mut self, mut questions: Questions, line: &str) -> Outcome {
        let words = match questions.take(line) {
            Ok(Step::Left) => return Outcome { out: "nothing was kept\n".to_owned(), ..Outcome::default() },
            Ok(Step::Try(words)) => words,
            Err(help) => {
                self.questions = Some(questions);
                return Outcome { out: help, ..Outcome::default() };
            }
        };
        let read = |words: &[String]| Line::try_parse_from(words).map(|line| line.command);
        let command = match read(&words) {
            Ok(command) => command,
            Err(error) => {
                questions.not_that();
                self.questions = Some(questions);
                let refused = self.refused(&error, false);
                return Outcome { err: refused.err + Questions::WAYS_OUT, ..refused };
            }
        };
        if questions.can_be_tried() {
            let trial = words.iter().cloned().chain(["--dry-run".to_owned()]).collect::<Vec<_>>();
            let settings = self.settings.clone();
            let tried = read(&trial).ok().map(|command| self.run(&command, &settings));
            if let Some(tried) = tried.filter(|tried| tried.status != 0) {
                questions.not_that();
                self.questions = Some(questions);
                return Outcome { err: tried.err + Questions::WAYS_OUT, ..tried };
            }
        }
        if questions.next() {
            self.questions = Some(questions);
            return Outcome::default();
        }
        self.run(&command, &self.settings.clone())
    }

    /// Answers a command that has been read already.
    pub fn run(&mut self, command: &Command, settings: &Settings) -> Outcome {
        if let Command::New(args) = command
            && self.asks
            && let Some(name) = args.bare_ingredient()
        {
            let questions = Questions::new(name);
            let out = questions.opening();
            self.questions = Some(questions);
            return Outcome { out, ..Outcome::default() };
        }
        if let Command::Explain(args) = command
            && let Some(asked) = self.asked.take()
        {
            return self.explain(asked, args.number, settings);
        }
        let settings = settings.over(&self.settings);
        if settings.pack != self.settings.pack {
            let failure =
                Failure::usage("--pack is chosen when the program starts, not inside a conversation")
                    .hint("leave the prompt and start again with: medlar --pack DIR");
            return self.failed(&settings, &failure);
        }
        if settings.book != self.settings.book {
            let failure =
                Failure::usage("--book is chosen when the program starts, not inside a conversation")
                    .hint("leave the prompt and start again with: medlar --book DIR");
            return self.failed(&settings, &failure);
        }
        self.look_again();
        let library = Arc::clone(&self.library);
        let graph = library.graph();
        let desk = Desk {
            library: &library,
            graph: &graph,
            house: House {
                ice: ice_of(library.book.house().weighings()).unwrap_or_default(),
                measures: library.book.house().measures().copied().unwrap_or_default(),
                ..settings.house(self.today)
            },
            picks: &self.picks,
            hand: &self.hand,
            at_prompt: self.at_prompt,
            clock: self.clock.as_ref(),
            editor: self.editor.as_ref(),
            unit_chosen: settings.units.is_some(),
        };
        match command.run(&desk) {
            Ok(answer) => {
                let out = if settings.json {
                    json(&answer.report) + "\n"
                } else {
                    let left = answer.left.as_deref().unwrap_or_default();
                    render(&answer.report, &self.style) + left
                };
                self.hand.keep(answer.work);
                if !answer.picks.is_empty() || answer.last.is_some() {
                    self.asked = Asked::of(command, &settings, &self.picks, answer.picks.len());
                    self.picks = answer.picks;
                    self.hand.suggest(answer.last);
                }
                if answer.changed {
                    self.look_again();
                }
                let err = self.warning.take().map_or(String::new(), |w| warned(&w, self.style.width));
                Outcome { out, err, status: 0, quits: answer.quits }
            }
            Err(failure) => self.failed(&settings, &failure),
        }
    }

    /// Reads the house book again if it may have changed.
    fn look_again(&mut self) {
        if self.library.is_stale() {
            let before = self.library.house.warning();
            self.library = Arc::new(self.library.again());
            let now = self.library.house.warning();
            if now != before {
                self.warning = now;
            }
        }
    }

    /// Asks the last question once more, for how one of its suggestions came about; the list stays as it is.
    fn explain(&mut self, asked: Asked, number: u16, settings: &Settings) -> Outcome {
        let settings = Settings { json: settings.json, ..asked.settings.clone() };
        let outcome = match asked.explaining(number) {
            Ok(command) => {
                let listed = std::mem::replace(&mut self.picks, asked.picks.clone());
                let outcome = self.run(&command, &settings);
                self.picks = listed;
                outcome
            }
            Err(failure) => self.failed(&settings, &failure),
        };
        self.asked = Some(asked);
        outcome
    }

    /// What clap says of a line it cannot read; its help is an answer.
    pub(super) fn refused(&mut self, error: &clap::Error, json: bool) -> Outcome {
        let text = error.render().to_string();
        if !error.use_stderr() {
            return Outcome { out: text, ..Outcome::default() };
        }
        let failure = usage_failure(error);
        let settings = Settings { json: json || self.settings.json, ..self.settings.clone() };
        self.failed(&settings, &failure)
    }

    /// A line that is no text.
    pub(super) fn unreadable(&mut self, why: String, json: bool) -> Outcome {
        let settings = Settings { json: json || self.settings.json, ..self.settings.clone() };
        self.failed(&settings, &Failure::usage(why))
    }

    fn failed(&mut self, settings: &Settings, failure: &Failure) -> Outcome {
        if !failure.offers.is_empty() {
            self.picks = failure.offers.iter().cloned().map(Pick::Name).collect();
        }
        let status = failure.kind.status();
        if settings.json {
            return Outcome { out: format!("{}\n", failure.json()), status, ..Outcome::default() };
        }
        Outcome { err: failure.text(self.style.width), status, ..Outcome::default() }
    }
}

/// A word on the house book, for the error stream.
fn warned(words: &str, width: usize) -> String {
    wrapped(&clean(words), "  ", width).join("\n") + "\n"
}

/// The command line of the prompt, for completion and help.
pub(super) fn line_command() -> clap::Command {
    Line::command()
}

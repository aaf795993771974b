//! The front at the shell: arguments in, text and an exit status out.

use std::hash::{BuildHasher, Hasher};
use std::io::{self, IsTerminal, Write};
use std::path::PathBuf;
use std::process::{Command as Process, ExitCode};
use std::sync::Arc;

use clap::Parser;
use clap::error::ErrorKind;

use super::clock::Clock;
use super::command::Command;
use super::editor::Editor;
use super::failure::Failure;
use super::library::Library;
use super::patience::patiently;
use super::pipe::converse;
use super::prompt::{history_file, talk};
use super::session::{Outcome, Session};
use super::settings::{Settings, Today};
use super::usage::usage_failure;
use super::words::gather;
use crate::book::Occasion;
use crate::measure::Month;
use crate::report::Style;

/// Which flavours go together, what can stand in for what, and variants of classic drinks that stay in balance.
///
/// Without a command it opens the prompt; lines from another program are answered one by one.
#[derive(Debug, Parser)]
#[command(
    name = "medlar",
    version,
    disable_help_subcommand = true,
    after_help = "Examples:\n  medlar\n  medlar pairs quince, mezcal --in-season\n  echo 'pairs quince' | medlar --json"
)]
pub struct Cli {
    #[command(flatten)]
    settings: Settings,
    #[command(subcommand)]
    command: Option<Command>,
}

/// Width where there is no terminal, and the most that is used of a wide one.
const PLAIN_WIDTH: usize = 80;
const MOST_WIDTH: usize = 100;

/// Width of the terminal, within bounds.
pub(super) fn terminal_width() -> usize {
    terminal_size::terminal_size().map_or(PLAIN_WIDTH, |(width, _)| usize::from(width.0).clamp(1, MOST_WIDTH))
}

/// Runs the program with the arguments and streams of this process.
pub fn run() -> ExitCode {
    let words: Vec<String> = std::env::args_os().map(|w| w.to_string_lossy().into_owned()).collect();
    let cli = match Cli::try_parse_from(gather(words)) {
        Ok(cli) => cli,
        Err(error) => {
            let is_help = error.kind() == ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand;
            if error.use_stderr() && !is_help {
                eprint!("{}", usage_failure(&error).text(style().width));
                return ExitCode::from(2);
            }
            // Only a closed pipe can stop this, and then there is nobody to tell.
            let help = error.render();
            let help = if style().colour { help.ansi().to_string() } else { help.to_string() };
            let _ = io::stdout().write_all(help.as_bytes());
            return ExitCode::SUCCESS;
        }
    };
    match answer(&cli) {
        Ok(status) => ExitCode::from(status),
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("our fault: {error}");
            ExitCode::from(70)
        }
    }
}

fn answer(cli: &Cli) -> io::Result<u8> {
    let settings = Settings { book: cli.settings.book.clone().or_else(house_folder), ..cli.settings.clone() };
    let library = match Library::open(&settings) {
        Ok(library) => Arc::new(library),
        Err(failure) => return show(&refusal(&failure, cli.settings.json)),
    };
    // One stays until the process ends: taking it apart then would only cost time.
    std::mem::forget(Arc::clone(&library));
    let mut session = Session::new(library, settings.clone(), today(), style()).keeping(Clock::new(now));
    if let Some(editor) = editor() {
        session = session.editing(editor);
    }
    if let Some(command) = &cli.command {
        let mut session = session.at_shell();
        return show(&patiently(|| session.run(command, &settings)));
    }
    if io::stdin().is_terminal() && io::stdout().is_terminal() {
        let colour = style().colour;
        let mut session = session.asking();
        talk(&mut session, history_file().as_deref(), colour)?;
        return Ok(0);
    }
    converse(
        &mut session,
        io::stdin().lock(),
        &mut io::stdout().lock(),
        &mut io::stderr().lock(),
        cli.settings.json,
    )
}

fn refusal(failure: &Failure, json: bool) -> Outcome {
    let status = failure.kind.status();
    if json {
        Outcome { out: format!("{}\n", failure.json()), status, ..Outcome::default() }
    } else {
        Outcome { err: failure.text(style().width), status, ..Outcome::default() }
    }
}

fn show(outcome: &Outcome) -> io::Result<u8> {
    io::stdout().write_all(outcome.out.as_bytes())?;
    io::stdout().flush()?;
    io::stderr().write_all(outcome.err.as_bytes())?;
    Ok(outcome.status)
}

/// Colour only for terminals, and only where neither `NO_COLOR` nor a dumb terminal forbids it.
fn style() -> Style {
    let set = |name: &str| std::env::var_os(name).is_some_and(|v| !v.is_empty());
    let dumb = std::env::var_os("TERM").is_some_and(|t| t == "dumb");
    let colour = (io::stdout().is_terminal() && !set("NO_COLOR") && !dumb) || set("CLICOLOR_FORCE");
    let width = if io::stdout().is_terminal() { terminal_width() } else { columns().unwrap_or(PLAIN_WIDTH) };
    Style { width, colour, unicode: !dumb }
}

/// The width that `COLUMNS` asks for.
fn columns() -> Option<usize> {
    let asked: usize = std::env::var("COLUMNS").ok()?.parse().ok()?;
    (asked > 0).then_some(asked.min(1000))
}

/// The house's own folder, unless another is named: in the platform's data folder. Made when something is first kept.
fn house_folder() -> Option<PathBuf> {
    use etcetera::BaseStrategy;
    Some(etcetera::choose_base_strategy().ok()?.data_dir().join("medlar").join("house"))
}

/// The editor that the environment names, at a terminal.
fn editor() -> Option<Editor> {
    let named = |name: &str| std::env::var(name).ok().filter(|editor| !editor.trim().is_empty());
    let words = shlex::split(&named("VISUAL").or_else(|| named("EDITOR"))?)?;
    let at_terminal = io::stdin().is_terminal() && io::stdout().is_terminal();
    (at_terminal && !words.is_empty()).then(|| {
        Editor::new(move |file| {
            let status = Process::new(&words[0]).args(&words[1..]).arg(file).status()?;
            if status.success() {
                Ok(())
            } else {
                Err(io::Error::other(format!("'{}' ended with {status}", words[0])))
            }
        })
    })
}

/// The time, who works here, and a number that is another one each time.
fn now() -> Occasion {
    let named = |name: &str| std::env::var(name).ok().filter(|who| !who.trim().is_empty());
    let who = ["MEDLAR_WHO", "USER", "USERNAME"].into_iter().find_map(named);
    Occasion {
        at: jiff::Timestamp::now().strftime("%Y-%m-%dT%H:%M:%S%.3fZ").to_string(),
        who: who.unwrap_or_else(|| "someone".to_owned()),
        // Every state of the standard hasher has keys of its own.
        dice: std::hash::RandomState::new().build_hasher().finish(),
    }
}

fn today() -> Today {
    let month = u8::try_from(jiff::ZonedDateTime::now().month()).ok().and_then(Month::from_number);
    Today(month.unwrap_or(Month::Jan))
}

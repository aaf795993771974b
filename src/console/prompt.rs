//! The prompt at a terminal: editing, completion, hints, history.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use anstyle::{AnsiColor, Style as Ink};
use rustyline::completion::{Completer, Pair};
use rustyline::error::ReadlineError;
use rustyline::highlight::Highlighter;
use rustyline::hint::Hinter;
use rustyline::history::FileHistory;
use rustyline::{CompletionType, Config, Context, Editor, Helper, Validator};

use super::complete::{complete, hint};
use super::library::Library;
use super::patience::patiently;
use super::session::Session;
use super::shell::terminal_width;

const HISTORY_LINES: usize = 1000;

#[derive(Helper, Validator)]
struct Aid {
    library: Arc<Library>,
    colour: bool,
}

impl Completer for Aid {
    type Candidate = Pair;

    fn complete(&self, line: &str, at: usize, _: &Context<'_>) -> rustyline::Result<(usize, Vec<Pair>)> {
        let found = complete(line.get(..at).unwrap_or(line), &self.library);
        let one = |word: String| Pair { display: word.clone(), replacement: word };
        Ok((found.start, found.words.into_iter().map(one).collect()))
    }
}

impl Hinter for Aid {
    type Hint = String;

    fn hint(&self, line: &str, at: usize, _: &Context<'_>) -> Option<String> {
        if at < line.len() { None } else { hint(line, &self.library) }
    }
}

impl Highlighter for Aid {
    fn highlight_hint<'h>(&self, hint: &'h str) -> std::borrow::Cow<'h, str> {
        if !self.colour {
            return hint.into();
        }
        let ink = Ink::new().fg_color(Some(AnsiColor::BrightBlack.into()));
        format!("{ink}{hint}{ink:#}").into()
    }
}

/// The three lines that a person meets first.
pub(super) fn welcome() -> &'static str {
    "Medlar: what goes with what, and drinks that stay in balance.\n\
     Try: pairs quince    season    riff negroni --swap gin=mezcal\n\
     'help' lists what to ask, Tab completes names, Ctrl-D leaves.\n"
}

/// Talks with a person until they leave. Hints are drawn only where colour can set them off from what was typed.
///
/// # Errors
/// Whatever the terminal or the screen comes to.
pub(super) fn talk(session: &mut Session, history: Option<&Path>, colour: bool) -> io::Result<()> {
    let config = Config::builder()
        .completion_type(CompletionType::List)
        .auto_add_history(true)
        .history_ignore_dups(true)
        .and_then(|c| c.max_history_size(HISTORY_LINES))
        .map_err(to_io)?
        .build();
    let mut editor: Editor<Aid, FileHistory> = Editor::with_config(config).map_err(to_io)?;
    editor.set_helper(Some(Aid { library: session.library(), colour }));
    if let Some(path) = history {
        // A history that is not there yet is no fault; one that cannot be read is told.
        if path.exists()
            && let Err(error) = editor.load_history(path)
        {
            eprintln!("the history in {} can't be read: {error}", path.display());
        }
    }
    print!("{}", welcome());
    if let Some(word) = session.first_word() {
        eprint!("{word}");
    }
    io::stdout().flush()?;
    loop {
        match editor.readline(&session.prompt()) {
            Ok(line) => {
                session.set_width(terminal_width());
                let outcome = patiently(|| session.answer(&line));
                if let Some(aid) = editor.helper_mut() {
                    aid.library = session.library();
                }
                print!("{}", outcome.out);
                eprint!("{}", outcome.err);
                io::stdout().flush()?;
                if outcome.quits {
                    break;
                }
            }
            Err(ReadlineError::Interrupted) => session.give_up(),
            Err(ReadlineError::Eof) => {
                if let Some(words) = session.farewell() {
                    print!("\n{words}");
                }
                break;
            }
            Err(error) => return Err(to_io(error)),
        }
    }
    if let Some(path) = history
        && let Err(error) = save(&mut editor, path)
    {
        eprintln!("the history can't be kept in {}: {error}", path.display());
    }
    Ok(())
}

fn save(editor: &mut Editor<Aid, FileHistory>, path: &Path) -> io::Result<()> {
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder)?;
    }
    editor.append_history(path).map_err(to_io)
}

fn to_io(error: ReadlineError) -> io::Error {
    match error {
        ReadlineError::Io(error) => error,
        other => io::Error::other(other),
    }
}

/// Where the history is kept: the platform's state folder, or its data folder.
pub(super) fn history_file() -> Option<PathBuf> {
    use etcetera::BaseStrategy;
    let base = etcetera::choose_base_strategy().ok()?;
    let folder = base.state_dir().unwrap_or_else(|| base.data_dir());
    Some(folder.join("medlar").join("history.txt"))
}

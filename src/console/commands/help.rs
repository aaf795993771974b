//! `help`: how to ask.

use clap::CommandFactory;

use super::joined;
use crate::console::command::{COMMANDS, GROUPS};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::{Answer, line_command};
use crate::report::{Column, Report, Table};

/// How to ask: the commands, or one of them with examples.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  help\n  help riff")]
pub struct Args {
    /// The command
    #[arg(value_name = "COMMAND")]
    command_asked: Vec<String>,
}

pub(in crate::console) fn run(args: &Args, _: &Desk<'_>) -> Result<Answer, Failure> {
    let asked = joined(&args.command_asked).to_lowercase();
    if asked.is_empty() {
        return Ok(Answer::new(overview()));
    }
    let mut line = line_command();
    line.build();
    let words: Vec<&str> = asked.split_whitespace().collect();
    let found = words.iter().try_fold(&line, |command, word| command.find_subcommand(word));
    let Some(command) = found.filter(|_| words.len() <= 2) else {
        let near = crate::book::nearest_word(&asked, COMMANDS.into_iter());
        let failure = Failure::mistake(format!("there is no command '{asked}'"))
            .hint(format!("commands are {}", COMMANDS.join(", ")));
        return Err(match near {
            Some(near) => failure.hint(format!("did you mean {near}?")),
            None => failure,
        });
    };
    let command = command.clone().disable_help_flag(true).term_width(HELP_WIDTH);
    let text = command.clone().render_help().to_string();
    let data = serde_json::json!({ "ok": true, "command": "help", "about": asked, "text": text });
    Ok(Answer::new(Report::new(format!("help {asked}"), data).text(text)))
}

/// Width that a command's help is laid out for; a narrower screen wraps it once more.
const HELP_WIDTH: usize = 78;

fn overview() -> Report {
    let command = crate::console::session::Line::command();
    let mut rows = Vec::new();
    let mut blocks = Vec::new();
    for (group, names) in GROUPS {
        let mut table = Table::new([Column::left("ask"), Column::flexible("to learn")]);
        for name in *names {
            let Some(sub) = command.find_subcommand(name) else { continue };
            let about = sub.get_about().map(ToString::to_string).unwrap_or_default();
            let example = first_example(sub).unwrap_or_else(|| (*name).to_owned());
            rows.push(serde_json::json!({ "name": name, "about": about, "example": example }));
            table.push([example, about]);
        }
        blocks.push((*group, table));
    }
    let data = serde_json::json!({ "ok": true, "command": "help", "commands": rows });
    let report = Report::new("How to ask", data);
    blocks
        .into_iter()
        .fold(report, |report, (group, table)| report.heading(group).table(table))
        .note("'help riff' shows one command whole; every command takes --json, --units oz|ml, --month, --hemisphere, --climate")
        .note("at the prompt a result's number stands for its name: show 2; Tab completes names and options")
        .note("'work' takes a drink up; 'this' then stands for it, as in balance this, and its name is the prompt")
}

/// The first example of a command's help.
fn first_example(command: &clap::Command) -> Option<String> {
    let text = command.get_after_help()?.to_string();
    text.lines().nth(1).map(|line| line.trim().to_owned())
}

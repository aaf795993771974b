//! What a line begun may go on with: commands, options, their words, and names of several words.

use super::command::COMMANDS;
use super::commands::list::LISTS;
use super::commands::measure::MEASURES;
use super::library::Library;
use super::session::line_command;
use super::words::NAME_OPTIONS;
use crate::book::{Allergen, Climate, Diet, Facet, Family, Kind, Level, Method, Role, Storage, Wanted, fold};
use crate::drink::Wish;
use crate::measure::{Amount, Month};
use crate::report::Sheet;
use crate::service::Style;

/// What may be put at the end of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Completion {
    /// The byte of the line from which it is replaced.
    pub start: usize,
    /// What may stand there.
    pub words: Vec<String>,
}

/// What the line, typed up to its end, may go on with; sorted, each once.
pub fn complete(line: &str, library: &Library) -> Completion {
    let last_word = line
        .rfind(char::is_whitespace)
        .map_or(0, |at| at + line[at..].chars().next().map_or(1, char::len_utf8));
    let begun = &line[last_word..];
    let mut words = line[..last_word].split_whitespace();
    let Some(command) = words.next() else {
        return sorted(last_word, COMMANDS.iter().map(|c| (*c).to_owned()), begun);
    };
    let job = words.next().filter(|_| !jobs_of(command).is_empty());
    if job.is_none() && !jobs_of(command).is_empty() && !begun.starts_with("--") {
        return sorted(last_word, jobs_of(command).into_iter(), begun);
    }
    if begun.starts_with("--") {
        return sorted(last_word, options_of(command, job), begun);
    }
    let command = job.unwrap_or(command);
    let (option, value_at) = open_option(line);
    match option {
        Some("--bottle") if command != "carbonate" => {
            sorted(last_word, SIZES.into_iter().map(str::to_owned), begun)
        }
        Some(option) if !is_name_option(option) => sorted(last_word, words_of(option).into_iter(), begun),
        option => {
            let at = name_start(line, option.map(|_| value_at), command);
            let begun = &line[at..];
            match (option, command) {
                (None, "season") => {
                    let year = std::iter::once("year".to_owned());
                    let months = sorted(at, words_of("--month").into_iter().chain(year), begun);
                    if months.words.is_empty() {
                        return names(at, begun, library, wanted(None, "pairs"));
                    }
                    months
                }
                (None, "tune") if line[..last_word].trim_end().ends_with(" too") => {
                    let said = Wish::ALL.iter().filter_map(|w| w.complaint().strip_prefix("too "));
                    sorted(last_word, said.map(str::to_owned), &line[last_word..])
                }
                (None, "list") => sorted(at, LISTS.into_iter().map(str::to_owned), begun),
                // They take no names.
                (
                    None,
                    "check" | "explain" | "undo" | "redo" | "drink" | "steps" | "take" | "name" | "save",
                )
                | (Some("--name" | "--why" | "--by" | "--note" | "--alias"), _) => {
                    sorted(at, options_of(command, None), begun)
                }
                (Some(option), _) if !words_of(option).is_empty() => {
                    sorted(at, words_of(option).into_iter(), begun)
                }
                (None, "new") if !line[..last_word].trim_end().contains(' ') => sorted(
                    at,
                    ["ingredient", "prep", "spec", "template"].map(str::to_owned).into_iter(),
                    begun,
                ),
                (None, "new") => sorted(at, options_of(command, None), begun),
                (None, "measure") => sorted(at, MEASURES.into_iter().map(str::to_owned), begun),
                (None, "method") => sorted(at, words_of("--method").into_iter(), begun),
                (None, "help" | "?") => sorted(at, COMMANDS.iter().map(|c| (*c).to_owned()), begun),
                _ => names(at, begun, library, wanted(option, command)),
            }
        }
    }
}

/// What the line would most likely go on with, to be shown faintly behind it; none if nothing is likely.
pub fn hint(line: &str, library: &Library) -> Option<String> {
    if line.trim().is_empty() {
        return None;
    }
    if let Some(example) = example_of(line.trim_end()).filter(|_| line.ends_with(' ')) {
        return Some(example);
    }
    let Completion { start, words } = complete(line, library);
    let begun = line.get(start..)?;
    if begun.chars().count() < 2 {
        return None;
    }
    let first = words.first()?;
    let rest = first
        .get(begun.len()..)
        .filter(|_| first.get(..begun.len()).is_some_and(|f| f.eq_ignore_ascii_case(begun)))?;
    (!rest.is_empty()).then(|| rest.to_owned())
}

/// What may follow a command that stands alone on the line: its first example.
fn example_of(line: &str) -> Option<String> {
    let command = line_command();
    let mut words = line.split_whitespace();
    let found = words.try_fold(&command, |at, word| at.find_subcommand(word))?;
    let help = found.get_after_help()?.to_string();
    let example = help.lines().nth(1)?.trim().strip_prefix(line)?.trim().to_owned();
    (!example.is_empty()).then_some(example)
}

/// The jobs of a command that has several; none for the others.
fn jobs_of(command: &str) -> Vec<String> {
    let line = line_command();
    let found = line.find_subcommand(command);
    found.into_iter().flat_map(clap::Command::get_subcommands).map(|s| s.get_name().to_owned()).collect()
}

fn options_of(command: &str, job: Option<&str>) -> impl Iterator<Item = String> {
    let mut line = line_command();
    line.build();
    let path = std::iter::once(command).chain(job);
    let found = path.into_iter().try_fold(&line, |at, word| at.find_subcommand(word)).cloned();
    let options: Vec<String> = found
        .iter()
        .flat_map(clap::Command::get_arguments)
        .filter(|a| !a.is_hide_set())
        .filter_map(|a| a.get_long().map(|l| format!("--{l}")))
        .filter(|l| l != "--help")
        .collect();
    options.into_iter()
}

/// The option whose value is being typed at the end of the line, and the byte at which its value starts.
fn open_option(line: &str) -> (Option<&str>, usize) {
    let Some(at) = line.rfind("--").filter(|at| *at == 0 || line[..*at].ends_with(char::is_whitespace))
    else {
        return (None, 0);
    };
    let rest = &line[at..];
    let Some(blank) = rest.find(char::is_whitespace) else { return (None, 0) };
    let option = &rest[..blank];
    let value = rest[blank..].trim_start();
    let start = line.len() - value.len();
    // A plain option's value is one word: what follows it is no longer its own.
    let ended = value.contains(char::is_whitespace) && !is_name_option(option);
    if takes_value(option) && !ended { (Some(option), start) } else { (None, 0) }
}

/// Usual bottles, for drinks made ahead; those of `bench carbonate` go by what they bear.
const SIZES: [&str; 5] = ["375ml", "500ml", "700ml", "750ml", "1l"];

fn is_name_option(option: &str) -> bool {
    NAME_OPTIONS.contains(&option)
}

/// Whether an option of any command is followed by a value; one that no command has may be.
fn takes_value(option: &str) -> bool {
    fn find(command: &clap::Command, long: &str) -> Option<bool> {
        let own = command.get_arguments().find(|a| a.get_long() == Some(long));
        own.map(|a| a.get_action().takes_values())
            .or_else(|| command.get_subcommands().find_map(|below| find(below, long)))
    }
    option != "--help" && find(&line_command(), option.trim_start_matches('-')).unwrap_or(true)
}

/// The byte at which the name being typed starts: after the command, a comma, or an equals sign.
fn name_start(line: &str, value: Option<usize>, command: &str) -> usize {
    let from = value.unwrap_or_else(|| line.find(command).map_or(0, |at| at + command.len()));
    let after_mark = line[from..].rfind([',', '=']).map_or(from, |at| from + at + 1);
    let rest = match (command, value) {
        ("put", None) => {
            line[after_mark..].rfind(" for ").map_or(after_mark, |at| after_mark + at + " for ".len())
        }
        // A name may stand behind its amount.
        (
            "add" | "amount" | "work" | "compare" | "balance" | "tune" | "batch" | "kit" | "cost" | "card"
            | "prep",
            None,
        ) => {
            let typed = line[after_mark..].trim_start();
            let name = Amount::split_from(typed).map_or(typed, |(_, name)| name);
            // The blank behind a name that is typed whole is left out of it.
            line.trim_end().len() - name.len()
        }
        _ => after_mark,
    };
    line.len() - line[rest..].trim_start().len()
}

fn wanted(option: Option<&str>, command: &str) -> Wanted {
    match (option, command) {
        (Some("--in" | "--from"), _) | (None, "riff" | "chill" | "weigh" | "compare" | "card") => {
            Wanted::Template
        }
        (
            None,
            "show" | "balance" | "freezer" | "work" | "tune" | "history" | "taste" | "edit" | "remove"
            | "rename" | "alias" | "batch" | "kit" | "cost" | "prep",
        ) => Wanted::Any,
        _ => Wanted::Ingredient,
    }
}

fn words_of(option: &str) -> Vec<String> {
    fn names<W: Copy>(all: &[W], name: fn(W) -> &'static str) -> Vec<String> {
        all.iter().map(|w| name(*w).replace(' ', "-")).collect()
    }
    match option {
        "--kind" => names(Kind::ALL, Kind::name),
        "--strength" => ["half", "none"].map(str::to_owned).to_vec(),
        "--role" => names(Role::ALL, Role::name),
        "--without" | "--allergen" => names(Allergen::ALL, Allergen::name),
        "--method" | "--forget" => names(Method::ALL, Method::name),
        "--family" => names(Family::ALL, Family::name),
        "--month" => Month::ALL.iter().map(|m| m.name().to_lowercase()).collect(),
        "--units" => vec!["ml".to_owned(), "oz".to_owned()],
        "--dilution" => ["heat", "house", "none", "published"].map(str::to_owned).to_vec(),
        "--bottle" => {
            ["beer", "can", "pet", "sparkling", "still-wine", "swing-top"].map(str::to_owned).to_vec()
        }
        "--style" => Style::ALL.iter().map(|s| s.name().to_owned()).collect(),
        "--sheet" => Sheet::ALL.iter().map(|s| s.name().to_owned()).collect(),
        "--prices" => ["demo", "house"].map(str::to_owned).to_vec(),
        "--water" => ["method", "none"].map(str::to_owned).to_vec(),
        "--keg" => ["half barrel", "quarter barrel", "sixth barrel", "soda keg"].map(str::to_owned).to_vec(),
        "--vessel-of" => ["glass", "steel"].map(str::to_owned).to_vec(),
        "--suits" | "--diet" => names(Diet::ALL, Diet::name),
        "--facet" => names(Facet::ALL, Facet::name),
        "--keeps" => Storage::ALL.iter().map(|s| s.name().to_owned()).collect(),
        "--season" | "--peak" => Month::ALL.iter().map(|m| m.name().to_lowercase()).collect(),
        "--level" => names(Level::ALL, Level::name),
        "--climate" => names(Climate::ALL, Climate::name),
        "--hemisphere" => vec!["north".to_owned(), "south".to_owned()],
        _ => Vec::new(),
    }
}

fn sorted(start: usize, words: impl Iterator<Item = String>, begun: &str) -> Completion {
    let begun = begun.to_lowercase();
    let mut words: Vec<String> = words.filter(|w| w.starts_with(&begun)).collect();
    words.sort();
    words.dedup();
    Completion { start, words }
}

/// Names that start with what was typed; if none does, names with a word that does.
fn names(start: usize, begun: &str, library: &Library, wanted: Wanted) -> Completion {
    // The plural rule would turn a begun "glass" into "glas"; only letters count here.
    let key = deunicode::deunicode(begun).to_lowercase();
    let plain = |name: &str| deunicode::deunicode(name).to_lowercase();
    let all = library.names.main_names(wanted);
    let starting: Vec<String> =
        all.iter().filter(|n| plain(n).starts_with(&key)).map(|n| (*n).to_owned()).collect();
    if !starting.is_empty() || key.is_empty() {
        return Completion { start, words: starting };
    }
    let inside = |name: &str| fold(name).split(' ').any(|w| w.starts_with(&key));
    Completion { start, words: all.iter().filter(|n| inside(n)).map(|n| (*n).to_owned()).collect() }
}

//! `export`: the book as a pack, as JSON, as spreadsheets or as a graph.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};

use super::joined;
use crate::book::Whose;
use crate::book::exchange::{
    Bonds, Bundle, Files, Part, Table, csv_files, csv_table, dot, graphml, json_text, pack_files,
};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;
use crate::console::written_out::{write_file, write_folder};
use crate::report::{self, TakenOut};

/// Takes the book out: as a pack folder, as JSON, as a folder of spreadsheets, or as a graph for other programs.
///
/// One spreadsheet alone is named after its table, like prices.csv. docs/exchange.md says what each form keeps.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  export weir-house.json\n  export autumn-tables --as csv --house-only")]
pub struct Args {
    /// The file or the folder; .json, .graphml, .dot and .csv say what it is, a folder is a pack
    #[arg(required = true, value_name = "TO")]
    to: Vec<String>,
    /// What to write: ron (a pack folder), json, csv, graphml or dot
    #[arg(long = "as", value_name = "KIND", value_parser = form)]
    form: Option<Form>,
    /// Only what the house itself says
    #[arg(long)]
    house_only: bool,
    /// Write over what is there
    #[arg(long)]
    force: bool,
}

/// What is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    Ron,
    Json,
    Csv,
    Graphml,
    Dot,
}

const FORMS: [(&str, Form); 5] = [
    ("ron", Form::Ron),
    ("json", Form::Json),
    ("csv", Form::Csv),
    ("graphml", Form::Graphml),
    ("dot", Form::Dot),
];

fn form(text: &str) -> Result<Form, String> {
    let wanted = text.trim().to_lowercase();
    let found = FORMS.iter().find(|(word, _)| *word == wanted).map(|(_, form)| *form);
    found.ok_or_else(|| {
        let near = crate::book::nearest_word(&wanted, FORMS.iter().map(|(word, _)| *word));
        let near = near.map_or(String::new(), |near| format!(" (did you mean {near}?)"));
        format!("allowed are ron, json, csv, graphml and dot{near}")
    })
}

/// What a name's ending says it is.
fn form_of(to: &Path) -> Result<Form, Failure> {
    match to.extension().and_then(OsStr::to_str).map(str::to_lowercase).as_deref() {
        Some("json") => Ok(Form::Json),
        Some("csv") => Ok(Form::Csv),
        Some("graphml") => Ok(Form::Graphml),
        Some("dot" | "gv") => Ok(Form::Dot),
        None => Ok(Form::Ron),
        Some(_) if to.is_dir() => Ok(Form::Ron),
        Some(other) => Err(Failure::usage(format!("what to write cannot be told from the ending .{other}"))
            .hint("say it with --as: ron, json, csv, graphml or dot")),
    }
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let to = PathBuf::from(joined(&args.to));
    let form = args.form.map_or_else(|| form_of(&to), Ok)?;
    let part = if args.house_only { Part::House } else { Part::Whole };
    // Tastings come along as tables and as JSON; where they do not, what they have made of a pair does.
    let bonds = if matches!(form, Form::Csv | Form::Json) { Bonds::Written } else { Bonds::Tasted };
    let book = &desk.library.book;
    let bundle = Bundle::of(book, part, bonds);
    let mut counts = bundle.counts();
    let mut notes = Vec::new();
    let files: Files = match form {
        Form::Json => {
            let text = json_text(&bundle, &desk.library.packs).map_err(|e| our_fault(&e))?;
            vec![(String::new(), text.into_bytes())]
        }
        Form::Graphml => {
            let text = graphml(&bundle, book).map_err(|e| our_fault(&e))?;
            vec![(String::new(), text)]
        }
        Form::Dot => vec![(String::new(), dot(&bundle, book).into_bytes())],
        Form::Csv => tables(&to, &bundle, desk, &mut counts)?,
        Form::Ron => {
            let name = to.file_name().map_or("house".into(), |name| name.to_string_lossy());
            pack_files(&bundle, &name).map_err(|e| our_fault(&e))?
        }
    };
    let in_graph = |label: &str| matches!(label, "ingredients" | "affinities and clashes");
    let facts = ["prices", "stock records", "tastings", "weighings", "measures"];
    let stays = |label: &str| match form {
        Form::Graphml | Form::Dot => !in_graph(label),
        Form::Ron => facts.contains(&label),
        Form::Csv | Form::Json => false,
    };
    let left: Vec<String> = counts
        .iter()
        .filter(|(label, _)| stays(label))
        .map(|(label, count)| format!("{label} ({count})"))
        .collect();
    if !left.is_empty() {
        notes.push(format!("not in it: {}; json and csv keep them", left.join(", ")));
    }
    counts.retain(|(label, _)| !stays(label));
    if form == Form::Ron {
        let alone = format!("'medlar --pack {}' reads it", to.display());
        notes.insert(0, if args.house_only { beside_the_pack(&to, desk) } else { alone });
    }
    let [(name, bytes)] = files.as_slice() else {
        write_folder(&to, &files, args.force)?;
        return Ok(answer(&to, form, &files, counts, notes));
    };
    if name.is_empty() {
        write_file(&to, bytes, args.force)?
    } else {
        write_folder(&to, &files, args.force)?
    }
    Ok(answer(&to, form, &files, counts, notes))
}

/// One table where the file is named after it, else all of them.
fn tables(
    to: &Path,
    bundle: &Bundle,
    desk: &Desk<'_>,
    counts: &mut Vec<(&'static str, usize)>,
) -> Result<Files, Failure> {
    let library = desk.library;
    let books = (library.packs_alone(), &library.book);
    if to.extension().is_none_or(|e| !e.eq_ignore_ascii_case("csv")) {
        let files = csv_files(bundle, books, &library.names).map_err(|e| our_fault(&e))?;
        if files.is_empty() {
            return Err(Failure::mistake("there is nothing to export: the house has said nothing yet"));
        }
        return Ok(files);
    }
    let stem = to.file_stem().unwrap_or_default().to_string_lossy().to_lowercase();
    let words: Vec<&str> = Table::ALL.iter().map(|table| table.name()).collect();
    let Some(table) = Table::named(&stem) else {
        let near = crate::book::nearest_word(&stem, words.iter().copied());
        let failure = Failure::usage(format!("which table '{stem}.csv' is cannot be told from its name"))
            .hint(format!("one table alone is named after it: {}", words.join(", ")))
            .hint("all of them go into a folder: export FOLDER --as csv");
        return Err(match near {
            Some(near) => failure.hint(format!("did you mean {near}.csv?")),
            None => failure,
        });
    };
    let in_it = |label: &str| match table {
        Table::Affinities => label == "affinities and clashes",
        Table::Specs => matches!(label, "templates" | "kept drinks"),
        Table::Preps => label == "preparations",
        Table::Stock => label == "stock records",
        other => label == other.name(),
    };
    counts.retain(|(label, _)| in_it(label));
    let text = csv_table(table, bundle, books, &library.names).map_err(|e| our_fault(&e))?;
    Ok(vec![(String::new(), text)])
}

/// How a folder of the house's records alone is used; one that has a pack's with the house's fields cannot stand beside it.
fn beside_the_pack(to: &Path, desk: &Desk<'_>) -> String {
    let both =
        desk.library.book.house().all().filter(|(_, _, whose)| matches!(whose, Whose::Both(_))).count();
    if both == 0 {
        return format!("'medlar --pack built-in --pack {}' reads it, beside the pack", to.display());
    }
    let records = if both == 1 { "1 record is".to_owned() } else { format!("{both} records are") };
    format!(
        "{records} a pack's with the house's fields: 'import {}' brings it into another house",
        to.display()
    )
}

fn answer(
    to: &Path,
    form: Form,
    files: &Files,
    counts: Vec<(&'static str, usize)>,
    notes: Vec<String>,
) -> Answer {
    let word = FORMS.iter().find(|(_, f)| *f == form).map_or("", |(word, _)| word);
    let bytes = files.iter().map(|(_, bytes)| bytes.len() as u64).sum();
    let names = files.iter().map(|(name, _)| name.clone()).filter(|name| !name.is_empty()).collect();
    let taken = TakenOut { to: to.display().to_string(), form: word, files: names, bytes, counts, notes };
    Answer::new(report::taken(&taken))
}

fn our_fault(error: &dyn std::fmt::Display) -> Failure {
    let failure = Failure::mistake(format!("the book could not be written as text: {error}"));
    Failure { kind: crate::console::failure::Kind::Fault, ..failure }
}

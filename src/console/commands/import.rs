//! `import`: records into the house book, from a spreadsheet, a pack or JSON.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File};
use std::io::Read;
use std::path::{Path, PathBuf};

use super::joined;
use crate::book::exchange::{
    Brought, MOST_FILE_BYTES, MOST_RECORDS, Mapped, NotBrought, Plan, RowFault, Spot, Step, Table, TableFile,
    plan, read_json, read_pack, read_tables,
};
use crate::book::{Edited, NotEdited, RecordEdit};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::patience::rows_read;
use crate::console::session::Answer;
use crate::report::{self, BroughtIn, clean};

/// Brings records into the house book, as one change: from a spreadsheet saved as CSV, a folder of them, a pack folder, or JSON
/// that 'export' wrote.
///
/// docs/exchange.md lists the columns and what they may be called.
#[derive(Debug, Clone, clap::Args)]
#[command(
    after_help = "Examples:\n  import prices.csv\n  import prices.csv --map \"Bottle price=paid\" --dry-run"
)]
pub struct Args {
    /// The file or the folder
    #[arg(required = true, value_name = "FROM")]
    from: Vec<String>,
    /// What it holds, where that can't be told from its name and columns: nodes, edges, specs, prices, stock, pack or json
    #[arg(long = "as", value_name = "KIND", value_parser = form)]
    form: Option<Form>,
    /// Which column is which: "Bottle price=paid". May be given several times
    #[arg(long, value_name = "COLUMN=FIELD", value_parser = mapped)]
    map: Vec<Mapped>,
    /// Show what would come of it, and keep nothing
    #[arg(long)]
    dry_run: bool,
    /// Let it change records that the house has already
    #[arg(long)]
    replace: bool,
    /// Leave faulty rows out and bring in the others
    #[arg(long)]
    skip_bad: bool,
}

/// What a file holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    Tables(Option<Table>),
    Pack,
    Json,
}

fn form(text: &str) -> Result<Form, String> {
    let wanted = text.trim().to_lowercase();
    match wanted.as_str() {
        "pack" => Ok(Form::Pack),
        "json" => Ok(Form::Json),
        "csv" => Ok(Form::Tables(None)),
        word => Table::named(word).map(|table| Form::Tables(Some(table))).ok_or_else(|| {
            let all = ["nodes", "edges", "specs", "prices", "stock", "pack", "json"];
            let near = crate::book::nearest_word(word, all.into_iter());
            let near = near.map_or(String::new(), |near| format!(" (did you mean {near}?)"));
            format!("allowed are {}{near}", all.join(", "))
        }),
    }
}

fn mapped(text: &str) -> Result<Mapped, String> {
    let (column, field) = text.rsplit_once('=').ok_or("write it as COLUMN=FIELD: \"Bottle price=paid\"")?;
    Ok((column.trim().to_owned(), field.trim().to_owned()))
}

impl From<NotBrought> for Failure {
    fn from(error: NotBrought) -> Self {
        let failure = Self::mistake(error.to_string());
        match error.hint() {
            Some(hint) => failure.hint(hint),
            None => failure,
        }
    }
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let from = PathBuf::from(joined(&args.from));
    let brought = brought(&from, args, desk)?;
    let library = desk.library;
    let mut plan = plan(brought, library.packs_alone(), &library.book, args.replace);
    let coming = plan.steps.len() + plan.more_steps + library.house.records;
    if coming > MOST_RECORDS {
        return Err(Failure::mistake(format!(
            "the house book would have up to {coming} records: it holds at most {MOST_RECORDS}"
        ))
        .hint("bring so much as a pack: --pack FOLDER (docs/format.md)"));
    }
    if !plan.faults.is_empty() && !args.skip_bad {
        return Err(refused(&from, &plan));
    }
    let what = format!("import {}", from.file_name().unwrap_or(from.as_os_str()).to_string_lossy());
    let edited = kept(&what, &from, &mut plan, args, desk)?;
    let brought =
        BroughtIn { from: from.display().to_string(), plan: &plan, edited: &edited, dry_run: args.dry_run };
    Ok(Answer { changed: !args.dry_run, ..Answer::new(report::brought(&brought)) })
}

/// Keeps what the plan says. Records that do not hold in the book are faults of their rows.
fn kept(what: &str, from: &Path, plan: &mut Plan, args: &Args, desk: &Desk<'_>) -> Result<Edited, Failure> {
    loop {
        let edits: Vec<RecordEdit> = plan.steps.iter().map(|step| step.edit.clone()).collect();
        let faults = match desk.keep_or_why(what, &edits, args.dry_run)? {
            Ok(edited) => return Ok(edited),
            Err(NotEdited::Faults { faults, .. }) => faults,
            Err(why) => return Err(why.into()),
        };
        let root = desk.root()?;
        let shown = |step: &Step| root.join(step.edit.path.to_string()).display().to_string();
        let spots: BTreeMap<String, Spot> = plan.steps.iter().map(|s| (shown(s), s.spot.clone())).collect();
        let mut bad = BTreeSet::new();
        for fault in &faults {
            let Some(spot) = spots.get(&fault.file) else { continue };
            let record = fault.record.as_ref().map_or(String::new(), |record| format!("{record}: "));
            let message = format!("{record}{}", fault.problem);
            plan.faults.push(RowFault { spot: spot.clone(), message, hint: fault.problem.hint() });
            bad.insert(fault.file.clone());
        }
        if !args.skip_bad || bad.is_empty() {
            return Err(refused(from, plan));
        }
        plan.steps.retain(|step| !bad.contains(&shown(step)));
    }
}

/// Most faults that are shown.
const MOST_SHOWN: usize = 20;

fn refused(from: &Path, plan: &Plan) -> Failure {
    let lines: Vec<String> =
        plan.faults.iter().take(MOST_SHOWN).map(|fault| clean(&fault.to_string()).into_owned()).collect();
    let all = plan.faults.len() + plan.more_faults;
    let more = all.saturating_sub(lines.len());
    let more = if more > 0 { format!("\nand {more} more") } else { String::new() };
    let count = if all == 1 { "a fault".to_owned() } else { format!("{all} faults") };
    let failure = Failure::mistake(format!("{} has {count}; nothing was brought in", from.display()));
    let failure = Failure { detail: lines.join("\n") + &more, ..failure };
    let rows: BTreeSet<&Spot> = plan.faults.iter().map(|fault| &fault.spot).collect();
    let failure = if rows.len() < plan.rows {
        failure.hint("--skip-bad leaves those out and brings in the others")
    } else {
        failure
    };
    plan.notes.iter().fold(failure, |failure, note| failure.hint(clean(note).into_owned()))
}

fn brought(from: &Path, args: &Args, desk: &Desk<'_>) -> Result<Brought, Failure> {
    let shown = from.display().to_string();
    let is_folder = from.is_dir();
    let ending = from.extension().map(|e| e.to_string_lossy().to_lowercase()).unwrap_or_default();
    let guessed = match ending.as_str() {
        _ if is_folder && from.join("pack.ron").exists() => Form::Pack,
        "json" if !is_folder => Form::Json,
        _ => Form::Tables(None),
    };
    let form = args.form.unwrap_or(guessed);
    if !args.map.is_empty() && !matches!(form, Form::Tables(_)) {
        return Err(Failure::usage("--map is for tables: a pack and JSON have fixed names"));
    }
    match form {
        Form::Pack => Ok(read_pack(from)?),
        Form::Json => {
            let bytes = read_file(from)?;
            let text = String::from_utf8(bytes).map_err(|error| {
                let before = &error.as_bytes()[..error.utf8_error().valid_up_to()];
                let line = 1 + before.iter().filter(|byte| **byte == b'\n').count();
                Failure::mistake(format!("{shown}:{line}: it is not UTF-8 text"))
                    .hint("save the file as UTF-8")
            })?;
            Ok(read_json(&shown, &text)?)
        }
        Form::Tables(table) => {
            if matches!(ending.as_str(), "xlsx" | "xls" | "ods") {
                return Err(Failure::mistake(format!("{shown} is a workbook, which is not read"))
                    .hint("save the sheet as CSV, UTF-8, and bring that in"));
            }
            let paths = if is_folder { tables_in(from)? } else { vec![from.to_owned()] };
            let mut files = Vec::new();
            for path in paths {
                let stem = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
                let bytes = read_file(&path)?;
                files.push(TableFile { file: path.display().to_string(), stem, table, bytes });
            }
            let library = desk.library;
            let read = read_tables(&files, &args.map, &library.book, &library.names, &mut rows_read)?;
            Ok(read)
        }
    }
}

/// The tables of a folder, by name.
fn tables_in(folder: &Path) -> Result<Vec<PathBuf>, Failure> {
    let shown = folder.display().to_string();
    let entries = fs::read_dir(folder)
        .map_err(|e| NotBrought::Unreadable { file: shown.clone(), why: e.to_string() })?;
    let mut paths: Vec<PathBuf> = entries.filter_map(Result::ok).map(|entry| entry.path()).collect();
    paths.retain(|path| path.extension().is_some_and(|e| e.eq_ignore_ascii_case("csv")));
    paths.sort();
    if paths.is_empty() { Err(NotBrought::NothingThere { file: shown }.into()) } else { Ok(paths) }
}

fn read_file(path: &Path) -> Result<Vec<u8>, Failure> {
    let file = path.display().to_string();
    let unreadable = |why: String| Failure::from(NotBrought::Unreadable { file: file.clone(), why });
    let facts = fs::metadata(path).map_err(|error| match error.kind() {
        std::io::ErrorKind::NotFound => unreadable("there is no such file".to_owned()),
        _ => unreadable(error.to_string()),
    })?;
    if !facts.is_file() {
        return Err(unreadable("it is not a plain file".to_owned()));
    }
    let mut bytes = Vec::new();
    let opened = File::open(path).map_err(|error| unreadable(error.to_string()))?;
    opened
        .take(MOST_FILE_BYTES + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| unreadable(error.to_string()))?;
    if bytes.len() as u64 > MOST_FILE_BYTES {
        let bytes = facts.len().max(bytes.len() as u64);
        return Err(NotBrought::TooLarge { file, bytes, most: MOST_FILE_BYTES }.into());
    }
    Ok(bytes)
}

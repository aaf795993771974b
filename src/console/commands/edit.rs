//! `edit`: what the house says of something, changed by options or in your editor.

use std::fs;
use std::path::{Path, PathBuf};

use super::facts::Facts;
use super::joined;
use super::record::{house_record, record_named};
use crate::book::{
    Ingredient, IngredientId, Leaf, RecordChange, RecordEdit, RecordKind, RecordPath, Whose,
    ingredient_fields, prep_fields, template_fields,
};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::keep::{field, kept, path_of, set};
use crate::console::session::Answer;

/// Changes what the house says of an ingredient, a drink or a pair. With options: just that. Without: the record's text opens in
/// your editor ($VISUAL or $EDITOR), and is kept only if it checks; if it does not, your text stays for the next try.
#[derive(Debug, Clone, clap::Args)]
#[command(after_help = "Examples:\n  edit weir sour\n  edit quince liqueur --sugar 240 --facet smoke=0.2")]
pub struct Args {
    /// An ingredient, a drink, a pair with a comma between, or a file of the book
    #[arg(required = true, value_name = "NAME")]
    name: Vec<String>,
    #[command(flatten)]
    facts: Facts,
    /// How the house makes it, not what it is
    #[arg(long)]
    prep: bool,
    /// Read the whole record from a file
    #[arg(long, value_name = "FILE")]
    file: Option<PathBuf>,
    /// Show the change, and keep nothing
    #[arg(long)]
    dry_run: bool,
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.name);
    let what = format!("edit {text}");
    let path = if args.prep {
        path_of(RecordKind::Prep, desk.ingredient(&text)?.id.as_str())?
    } else if text.contains(',') || text.parse::<RecordPath>().is_ok() {
        record_named(&text, &crate::book::History::default(), desk)?
    } else {
        let (kind, id, _) = house_record(&text, desk)?;
        path_of(kind, &id)?
    };
    if !args.facts.is_empty() {
        return by_options(args, &path, &what, desk);
    }
    if let Some(file) = &args.file {
        let edit = RecordEdit { path: path.clone(), change: RecordChange::Text(text_of_file(file)?) };
        return finish(&path, &[edit], &what, args.dry_run, desk);
    }
    let start = match desk.store()?.text(&path)? {
        Some(text) => text,
        None => start_of(&path, desk)?,
    };
    in_editor(&path, &start, &what, args.dry_run, desk)
}

fn by_options(args: &Args, path: &RecordPath, what: &str, desk: &Desk<'_>) -> Result<Answer, Failure> {
    if path.kind() != RecordKind::Ingredient {
        return Err(Failure::mistake("these options are facts of an ingredient")
            .hint("'edit NAME' alone opens the whole record in your editor"));
    }
    let now = ingredient_of(path, desk);
    let own = desk.library.book.house().whose(RecordKind::Ingredient, path.stem()) == Some(&Whose::House);
    let mut fields = vec![field(&["id"], &path.stem())];
    fields.extend(args.facts.fields(now, own, desk)?);
    finish(path, &[set(path.clone(), fields)], what, args.dry_run, desk)
}

fn ingredient_of<'s>(path: &RecordPath, desk: &Desk<'s>) -> Option<&'s Ingredient> {
    IngredientId::new(path.stem()).ok().and_then(|id| desk.library.book.ingredient(&id))
}

fn finish(
    path: &RecordPath,
    edits: &[RecordEdit],
    what: &str,
    dry_run: bool,
    desk: &Desk<'_>,
) -> Result<Answer, Failure> {
    let edited = desk.keep(what, edits, dry_run)?;
    let title = format!("{path}: {}", if edited.is_none() { "as it was" } else { "changed" });
    Ok(kept("edit", title, &edited, dry_run, Vec::new()))
}

/// The text of a record that the house has not yet: just its id, and what the pack says as remarks.
fn start_of(path: &RecordPath, desk: &Desk<'_>) -> Result<String, Failure> {
    let book = &desk.library.book;
    let kind = path.kind();
    let fields = match kind {
        RecordKind::Ingredient => ingredient_of(path, desk).map(ingredient_fields),
        RecordKind::Template | RecordKind::Spec => {
            book.templates().iter().find(|t| t.id.as_str() == path.stem()).map(template_fields)
        }
        RecordKind::Prep => {
            IngredientId::new(path.stem()).ok().and_then(|id| book.prep_of(&id)).map(prep_fields)
        }
        RecordKind::Bond => {
            let (a, b) = path.stem().split_once("--").unwrap_or_default();
            Some(vec![("between".to_owned(), format!("(\"{a}\", \"{b}\")"))])
        }
        _ => None,
    };
    let fields = fields.ok_or_else(|| Failure::mistake(format!("there is no {path} yet")))?;
    let (own, said): (Vec<_>, Vec<_>) =
        fields.into_iter().partition(|(name, _)| matches!(name.as_str(), "id" | "makes" | "between"));
    let leaf = Leaf::new(kind.word(), &own).map_err(|fault| Failure::mistake(fault.to_string()))?;
    let mut remarks = String::from(
        "        // What the pack says follows as remarks: take the // off what the house has otherwise.\n",
    );
    for (name, value) in said.iter().filter(|(name, _)| name != "origin") {
        for (index, line) in format!("{name}: {value},").lines().enumerate() {
            remarks.push_str(&format!(
                "        // {}{}\n",
                if index == 0 { "" } else { " " },
                line.trim_start()
            ));
        }
    }
    Ok(leaf.text().replacen("    ),\n)\n", &format!("{remarks}    ),\n)\n"), 1))
}

/// A record's text from a file of the person's.
pub(super) fn text_of_file(file: &Path) -> Result<String, Failure> {
    let told = |why: String| Failure::mistake(format!("{}: {why}", file.display()));
    let facts = fs::metadata(file).map_err(|e| told(e.to_string()))?;
    if facts.len() > crate::book::MOST_RECORD_BYTES {
        return Err(told(format!("{} bytes are too many for a record", facts.len()))
            .hint(format!("at most {} are read", crate::book::MOST_RECORD_BYTES)));
    }
    fs::read_to_string(file).map_err(|e| told(e.to_string()))
}

/// Opens a text in the person's editor, and keeps it if it checks. What does not check stays in a file for the next try.
pub(super) fn in_editor(
    path: &RecordPath,
    start: &str,
    what: &str,
    dry_run: bool,
    desk: &Desk<'_>,
) -> Result<Answer, Failure> {
    let Some(editor) = desk.editor else {
        return Err(Failure::mistake("there is no editor here")
            .hint("set VISUAL or EDITOR at a terminal, or give the whole record with --file FILE")
            .hint(format!("it is plain text: {}", desk.root()?.join(path.to_string()).display())));
    };
    let draft = draft_of(path, desk)?;
    let told = |why: std::io::Error| Failure::mistake(format!("{}: {why}", draft.display()));
    if !draft.exists() {
        if let Some(folder) = draft.parent() {
            fs::create_dir_all(folder).map_err(told)?;
        }
        fs::write(&draft, start).map_err(told)?;
    }
    editor
        .open(&draft)
        .map_err(|why| Failure::mistake(format!("the editor: {why}")).hint("VISUAL or EDITOR names it"))?;
    let text = fs::read_to_string(&draft).map_err(told)?;
    let kept = |failure: Failure| {
        failure
            .hint(format!("nothing was kept in the book; your text is kept in {}", draft.display()))
            .hint(format!("'{what}' opens it again"))
    };
    if text == start {
        fs::remove_file(&draft).map_err(told)?;
        return Err(Failure::mistake("nothing was changed"));
    }
    let edit = RecordEdit { path: path.clone(), change: RecordChange::Text(text) };
    let answer = finish(path, &[edit], what, dry_run, desk).map_err(kept)?;
    if !dry_run {
        fs::remove_file(&draft).map_err(told)?;
    }
    Ok(answer)
}

/// Where a text waits that is being edited.
fn draft_of(path: &RecordPath, desk: &Desk<'_>) -> Result<PathBuf, Failure> {
    let name = format!("edit-{}", path.to_string().replace('/', "-"));
    Ok(desk.root()?.join("aside").join(name))
}

//! `new`: an ingredient, a template or a preparation of the house.

use std::collections::BTreeMap;
use std::path::PathBuf;

use super::edit::{in_editor, text_of_file};
use super::facts::Facts;
use super::goes::bond_fields;
use super::joined;
use crate::book::{
    Ingredient, IngredientId, Kind, Leaf, RecordChange, RecordEdit, RecordKind, Role, TemplateId,
    ingredient_fields, prep_fields, template_fields,
};
use crate::console::desk::{Desk, Named, names_in};
use crate::console::failure::Failure;
use crate::console::keep::{
    FieldEdit, field, id_of_name, kept, named_fields, pair_path, path_of, plain_field, set,
};
use crate::console::session::{Answer, Pick};

/// Adds an ingredient, a template, a spec or a preparation to the house book: from options, like another, from a file, or in
/// your editor. At the prompt, 'new ingredient NAME' alone asks for what it needs to know.
#[derive(Debug, Clone, clap::Args)]
#[command(
    after_help = "Examples:\n  new ingredient damson gin\n  new template house sour --like whiskey sour"
)]
pub struct Args {
    /// ingredient, template, spec or prep, and the name
    #[arg(required = true, value_name = "WHAT NAME")]
    words: Vec<String>,
    /// Take over the facts of another
    #[arg(long, value_name = "NAME")]
    like: Option<String>,
    /// With --like: take over what it goes with too
    #[arg(long, requires = "like")]
    pairs: bool,
    /// Other names, commas between
    #[arg(long, value_name = "NAMES")]
    alias: Option<String>,
    #[command(flatten)]
    facts: Facts,
    /// Read the whole record from a file
    #[arg(long, value_name = "FILE")]
    file: Option<PathBuf>,
    /// Show the record, and keep nothing
    #[arg(long)]
    dry_run: bool,
}

impl Args {
    /// The name of an ingredient of which nothing is said, so that questions are in place.
    pub(in crate::console) fn bare_ingredient(&self) -> Option<String> {
        let says_nothing =
            self.like.is_none() && self.alias.is_none() && self.file.is_none() && self.facts.is_empty();
        let text = joined(&self.words);
        let (what, name) = text.split_once(' ')?;
        (says_nothing && what == "ingredient" && !name.trim().is_empty()).then(|| name.trim().to_owned())
    }
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    let text = joined(&args.words);
    let (what, name) = text.split_once(char::is_whitespace).unwrap_or((text.as_str(), ""));
    let name = name.trim();
    let kinds = [RecordKind::Ingredient, RecordKind::Template, RecordKind::Spec, RecordKind::Prep];
    let Some(kind) = kinds.into_iter().find(|k| k.word() == what.to_lowercase()) else {
        return Err(Failure::usage(format!("'{what}' is nothing that can be new")).hint(
            "allowed are ingredient, template, spec and prep: new ingredient damson gin --like sloe gin",
        ));
    };
    if name.is_empty() {
        return Err(Failure::usage("the name is missing").hint(format!("for example: new {what} damson gin")));
    }
    let id = if kind == RecordKind::Prep { desk.ingredient(name)?.id.to_string() } else { id_of_name(name)? };
    let path = path_of(kind, &id)?;
    taken(kind, &id, name, desk)?;
    if let Some(file) = &args.file {
        let text = text_of_file(file)?;
        return finish(
            args,
            desk,
            &[RecordEdit { path, change: RecordChange::Text(text) }],
            name,
            Vec::new(),
        );
    }
    if kind != RecordKind::Ingredient {
        let fields = skeleton(kind, &id, name, args.like.as_deref(), desk)?;
        let leaf = Leaf::new(kind.word(), &fields).map_err(|fault| Failure::mistake(fault.to_string()))?;
        return in_editor(&path, leaf.text(), &format!("new {text}"), args.dry_run, desk);
    }
    let (fields, mut notes) = ingredient(args, &id, name, desk)?;
    let mut edits =
        vec![RecordEdit { path: path.clone(), change: RecordChange::New(fields.0) }, set(path, fields.1)];
    match (&args.like, args.pairs) {
        (Some(like), true) => {
            let like = desk.ingredient(like)?;
            let bonds = pairs_of(like, &id, desk)?;
            notes.push(format!("{} pairs taken over from {}", bonds.len(), like.name));
            edits.extend(bonds);
        }
        (Some(like), false) => notes.push(format!(
            "it goes with nothing yet: 'goes {name}, ... 0.8' says what it goes with; --pairs takes over what {} goes with",
            desk.ingredient(like)?.name
        )),
        (None, _) => notes.push(format!("it goes with nothing yet: 'goes {name}, ... 0.8' says what it goes with")),
    }
    finish(args, desk, &edits, name, notes)
}

fn finish(
    args: &Args,
    desk: &Desk<'_>,
    edits: &[RecordEdit],
    name: &str,
    notes: Vec<String>,
) -> Result<Answer, Failure> {
    let edited = desk.keep(&format!("new {}", joined(&args.words)), edits, args.dry_run)?;
    let picks = IngredientId::new(&id_of_name(name)?).map(Pick::Ingredient).into_iter().collect();
    let title = format!("{name}: new in the house book");
    Ok(Answer { picks, ..kept("new", title, &edited, args.dry_run, notes) })
}

/// Refuses a name that the book has already.
fn taken(kind: RecordKind, id: &str, name: &str, desk: &Desk<'_>) -> Result<(), Failure> {
    let book = &desk.library.book;
    let there = match kind {
        RecordKind::Ingredient => {
            IngredientId::new(id).ok().and_then(|id| book.ingredient(&id)).map(|i| i.name.clone())
        }
        RecordKind::Template | RecordKind::Spec => {
            TemplateId::new(id).ok().and_then(|id| book.template(&id)).map(|t| t.name.clone())
        }
        _ => None,
    };
    match there {
        Some(there) => Err(Failure::mistake(format!("there is a {there} in the book already"))
            .hint(format!("'edit {name}' changes what the house says of it"))),
        None => Ok(()),
    }
}

type Fields = (Vec<(String, String)>, Vec<FieldEdit>);

/// The fields of a new ingredient: like another, or what is usual for its kind; and what the options say over that.
fn ingredient(args: &Args, id: &str, name: &str, desk: &Desk<'_>) -> Result<(Fields, Vec<String>), Failure> {
    let mut notes = Vec::new();
    let like = args.like.as_ref().map(|like| desk.ingredient(like)).transpose()?;
    let base = match like {
        Some(like) => {
            let id = IngredientId::new(id).map_err(|e| Failure::mistake(e.to_string()))?;
            let aliases = Vec::new();
            ingredient_fields(&Ingredient { id, name: name.to_owned(), aliases, ..like.clone() })
        }
        None => {
            let Some(kind) = args.facts.kind() else {
                return Err(Failure::usage(format!(
                    "what sort of thing is {name}? --kind or --like is missing"
                ))
                .hint("for example: --like sloe gin, or --kind liqueur; 'list kinds' shows the kinds"));
            };
            notes.push("what was not said is as usual for its kind; allergens and diets are noted only if you say them".to_owned());
            named_fields(usual(id, name, kind, desk))
        }
    };
    let mut over = args.facts.fields(like, true, desk)?;
    if let Some(text) = &args.alias {
        let aliases: Vec<&str> = names_in(text).collect();
        over.push(field(&["aliases"], &aliases));
    }
    Ok(((base, over), notes))
}

/// What a thing of a kind is as a rule.
fn usual(id: &str, name: &str, kind: Kind, desk: &Desk<'_>) -> Vec<FieldEdit> {
    let same: Vec<&Ingredient> = desk.library.book.ingredients().iter().filter(|i| i.kind == kind).collect();
    let mut counts: BTreeMap<Vec<Role>, usize> = BTreeMap::new();
    for ingredient in &same {
        *counts.entry(ingredient.roles.iter().copied().collect()).or_default() += 1;
    }
    let roles =
        counts.into_iter().max_by_key(|(_, count)| *count).map(|(roles, _)| roles).unwrap_or_default();
    let mut loudness: Vec<f64> = same.iter().map(|i| i.loudness.value()).collect();
    loudness.sort_by(f64::total_cmp);
    let loudness = loudness.get(loudness.len() / 2).copied().unwrap_or(0.5);
    vec![
        field(&["id"], &id),
        field(&["name"], &name),
        field(&["kind"], &kind),
        field(&["roles"], &roles),
        plain_field(&["facets"], "{}"),
        field(&["loudness"], &loudness),
        plain_field(&["season"], "all_year"),
        plain_field(&["allergens"], "[]"),
        plain_field(&["diet"], "[]"),
        plain_field(&["origin"], "(flavour: house)"),
    ]
}

/// What another goes with, as bonds of the new one.
fn pairs_of(like: &Ingredient, id: &str, desk: &Desk<'_>) -> Result<Vec<RecordEdit>, Failure> {
    let new = IngredientId::new(id).map_err(|e| Failure::mistake(e.to_string()))?;
    let edges = desk.library.book.edges().iter().filter(|e| e.pair.0 == like.id || e.pair.1 == like.id);
    let why = format!("as {}", like.name);
    edges
        .map(|edge| {
            let other = if edge.pair.0 == like.id { &edge.pair.1 } else { &edge.pair.0 };
            let why = edge.note.as_deref().unwrap_or(&why);
            let fields = bond_fields((&new, other), Some(edge.bond), Some(why), None);
            Ok(RecordEdit { path: pair_path(&new, other)?, change: RecordChange::New(named_fields(fields)) })
        })
        .collect()
}

/// A record to begin with in the editor.
fn skeleton(
    kind: RecordKind,
    id: &str,
    name: &str,
    like: Option<&str>,
    desk: &Desk<'_>,
) -> Result<Vec<(String, String)>, Failure> {
    let book = &desk.library.book;
    let no_like = || {
        Failure::usage(format!("like which? --like NAME lends the new {} its lines", kind.word()))
            .hint("a whole record can also come from a file: --file FILE")
    };
    let like = like.ok_or_else(no_like)?;
    if kind == RecordKind::Prep {
        let of = desk.ingredient(like)?;
        let prep = book.prep_of(&of.id).ok_or_else(|| {
            Failure::mistake(format!("the book does not say how {} is made", of.name))
                .hint("'list preps' shows what it says")
        })?;
        let makes = IngredientId::new(id).map_err(|e| Failure::mistake(e.to_string()))?;
        return Ok(prep_fields(&crate::book::Prep {
            makes,
            origin: crate::book::Origin::House,
            ..prep.clone()
        }));
    }
    let Named::Template(template) = desk.target(like, crate::book::Wanted::Template)? else {
        return Err(Failure::mistake(format!("{like} is no drink of the book")));
    };
    let mut template = template.clone();
    template.id = TemplateId::new(id).map_err(|e| Failure::mistake(e.to_string()))?;
    template.aliases = Vec::new();
    name.clone_into(&mut template.name);
    template.origin = crate::book::Origin::House;
    Ok(template_fields(&template))
}

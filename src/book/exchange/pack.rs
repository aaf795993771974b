//! A book as a pack folder, and a pack folder as records.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use super::bundle::{Bundle, WrittenBond};
use super::differ::field;
use super::fault::{NotBrought, RowFault, Spot};
use super::flat::BondRow;
use super::item::{Brought, Item};
use crate::book::bond::Bond;
use crate::book::check::ingredient::finish_ingredient;
use crate::book::check::prep::finish_prep;
use crate::book::check::template::finish_template;
use crate::book::draft::{CautionDraft, Draft, IngredientDraft, PrepDraft, SheetDraft, TemplateDraft};
use crate::book::fault::{Fault, Place, Problem};
use crate::book::house::{ingredient_fields, ron_value, template_fields};
use crate::book::id::IngredientId;
use crate::book::ingredient::Ingredient;
use crate::book::list::{options, read_list, record_ranges};
use crate::book::origin::Origin;
use crate::book::pack::FORMAT;
use crate::book::prep::Prep;
use crate::book::source::{Content, Source, read_folder};
use crate::book::template::Template;
use crate::measure::Grade;

/// From how much text on a file is parted into several.
const MUCH: usize = 16 * 1024 * 1024;

/// Files of a folder, each by its path in it and with its text.
pub type Files = Vec<(String, Vec<u8>)>;

/// Fields in their order, each with its value as RON.
type Fields = Vec<(String, String)>;

/// The files of a pack that reads back to these records.
///
/// # Errors
/// Whatever RON cannot hold; nothing a record has.
pub fn pack_files(bundle: &Bundle, name: &str) -> Result<Files, ron::Error> {
    let head = format!("(format: {FORMAT}, name: {})\n", ron_value(&name)?);
    let mut files = vec![("pack.ron".to_owned(), head.into_bytes())];
    if !bundle.cautions.is_empty() {
        let mut records = Vec::new();
        for caution in &bundle.cautions {
            let mut fields = vec![named("id", &caution.id), named("text", &caution.text)];
            if !caution.carries {
                fields.push(named("carries", &false));
            }
            fields.push(named("origin", &caution.origin));
            records.push(record_text(&fields));
        }
        files.push(("cautions.ron".to_owned(), list_text(&records).into_bytes()));
    }
    let mut folder = Folder::default();
    for ingredient in &bundle.ingredients {
        folder.add("ingredients", ingredient.kind.name(), record_text(&ingredient_record(ingredient)));
    }
    let kinds: BTreeMap<&IngredientId, &str> =
        bundle.ingredients.iter().map(|i| (&i.id, i.kind.name())).collect();
    for ((of, _), bonds) in sheets(&bundle.bonds) {
        let kind = kinds.get(of).copied().unwrap_or("others");
        folder.add("affinities", kind, sheet_text(of, &bonds)?);
    }
    for template in &bundle.templates {
        folder.add("templates", template.family.name(), record_text(&template_record(template)));
    }
    for prep in &bundle.preps {
        folder.add("preps", prep.way.name(), record_text(&prep_record(prep)));
    }
    files.extend(folder.files());
    Ok(files)
}

fn named(name: &str, value: &impl serde::Serialize) -> (String, String) {
    (name.to_owned(), field(name, value).1.unwrap_or_default())
}

fn record_text(fields: &Fields) -> String {
    let mut text = "    (\n".to_owned();
    for (name, value) in fields {
        text.push_str(&format!("        {name}: {value},\n"));
    }
    text + "    ),\n"
}

fn list_text(records: &[String]) -> String {
    format!("[\n{}]\n", records.concat())
}

/// Records by folder and file, parted where a file would get too large.
#[derive(Default)]
struct Folder(BTreeMap<(&'static str, String), Vec<String>>);

impl Folder {
    fn add(&mut self, folder: &'static str, word: &str, record: String) {
        let texts = self.0.entry((folder, word.replace(' ', "_"))).or_default();
        match texts.last_mut() {
            Some(last) if last.len() < MUCH => last.push_str(&record),
            _ => texts.push(record),
        }
    }

    fn files(self) -> Files {
        let mut files = Files::new();
        for ((folder, word), texts) in self.0 {
            for (index, text) in texts.into_iter().enumerate() {
                let part = if index == 0 { String::new() } else { format!("-{}", index + 1) };
                files.push((format!("{folder}/{word}{part}.ron"), list_text(&[text]).into_bytes()));
            }
        }
        files
    }
}

fn ingredient_record(ingredient: &Ingredient) -> Fields {
    let mut fields = ingredient_fields(ingredient);
    if let Some(origin) = fields.iter_mut().find(|(name, _)| name == "origin") {
        *origin = named("origin", &ingredient.origin);
    }
    fields
}

fn template_record(template: &Template) -> Fields {
    let mut fields = template_fields(template);
    if template.kept {
        let at = fields.iter().position(|(name, _)| name == "family").unwrap_or(fields.len());
        fields.insert(at, named("kept", &true));
    }
    if template.origin == Origin::House {
        fields.push(named("origin", &template.origin));
    }
    fields
}

fn prep_record(prep: &Prep) -> Fields {
    let mut fields = vec![named("makes", &prep.makes), named("way", &prep.way), named("lines", &prep.lines)];
    if prep.boils_off != crate::measure::Mass::ZERO {
        fields.push(named("boils_off", &prep.boils_off));
    }
    if prep.lost != Grade::clamped(0.0) {
        fields.push(named("lost", &prep.lost));
    }
    fields.extend([named("steps", &prep.steps), named("keeps", &prep.keeps)]);
    if !prep.cautions.is_empty() {
        fields.push(named("cautions", &prep.cautions));
    }
    fields.push(named("origin", &prep.origin));
    fields
}

type Sheets<'b> = BTreeMap<(&'b IngredientId, String), Vec<&'b WrittenBond>>;

/// Each pair on the sheet of its lesser id, which has one for each origin.
fn sheets(bonds: &[WrittenBond]) -> Sheets<'_> {
    let mut sheets = Sheets::new();
    for bond in bonds {
        sheets.entry((&bond.pair.0, bond.origin.to_string())).or_default().push(bond);
    }
    sheets
}

fn sheet_text(of: &IngredientId, bonds: &[&WrittenBond]) -> Result<String, ron::Error> {
    let (mut goes_with, mut clashes) = (String::new(), String::new());
    for bond in bonds {
        let other = ron_value(&bond.pair.1)?;
        let note = bond.note.as_ref().map(ron_value).transpose()?;
        let note = note.map_or(String::new(), |note| format!(", {note}"));
        match bond.bond {
            Bond::Affinity(affinity) => {
                goes_with.push_str(&format!("            ({other}, {:?}{note}),\n", affinity.value()));
            }
            Bond::Clash => clashes.push_str(&format!("            ({other}{note}),\n")),
        }
    }
    let mut fields = vec![named("of", of)];
    fields.extend(bonds.first().map(|bond| named("origin", &bond.origin)));
    for (name, list) in [("goes_with", goes_with), ("clashes", clashes)] {
        if !list.is_empty() {
            fields.push((name.to_owned(), format!("[\n{list}        ]")));
        }
    }
    Ok(record_text(&fields))
}

/// Reads the records of a pack folder. What they refer to may be in other packs.
///
/// # Errors
/// [`NotBrought::Pack`] if a file of it cannot be read at all.
pub fn read_pack(folder: &Path) -> Result<Brought, NotBrought> {
    let (sources, faults) = read_folder(folder);
    let refuse =
        |fault: &Fault| NotBrought::Pack { file: fault.file.clone(), why: fault.problem.to_string() };
    if let Some(fault) = faults.first() {
        return Err(refuse(fault));
    }
    let mut brought = Brought::default();
    for source in sources.iter().filter(|s| s.content == Content::Head) {
        let read = options().from_str::<crate::book::pack::Head>(&source.text);
        let why = match read {
            Ok(head) if head.format == FORMAT => continue,
            Ok(head) => Problem::OtherFormat { found: head.format, known: FORMAT },
            Err(error) => Problem::Text(error.to_string()),
        };
        return Err(refuse(&Fault::of_file(source.path.clone(), why)));
    }
    for source in &sources {
        match source.content {
            Content::Ingredients => lists(source, &mut brought, |draft: &IngredientDraft| {
                Some(vec![Item::Ingredient(Box::new(finish_ingredient(draft)?), true)])
            }),
            Content::Affinities => lists(source, &mut brought, bonds_of),
            Content::Templates => lists(source, &mut brought, |draft: &TemplateDraft| {
                Some(vec![Item::Drink(Box::new(finish_template(draft)?))])
            }),
            Content::Preps => lists(source, &mut brought, |draft: &PrepDraft| {
                Some(vec![Item::Prep(Box::new(finish_prep(draft)?))])
            }),
            Content::Cautions => lists(source, &mut brought, |draft: &CautionDraft| {
                Some(vec![Item::Caution(draft.id.clone()?, draft.text.clone()?)])
            }),
            Content::Head | Content::House => {}
        }
    }
    Ok(brought)
}

/// The records of a file that are whole; the faults of the others.
fn lists<D: Draft>(source: &Source, brought: &mut Brought, items: impl Fn(&D) -> Option<Vec<Item>>) {
    let mut faults = Vec::new();
    let listed = read_list::<D>(source, &mut faults);
    let file: Arc<str> = Arc::from(source.path.as_str());
    let ranges = record_ranges(&source.text).unwrap_or_default();
    for fault in faults {
        let line = fault.place.as_ref().map_or(0, |place| place.line as u64);
        let record = fault.record.as_ref().map_or(String::new(), |record| format!("{record}: "));
        let spot = Spot { file: Arc::clone(&file), line };
        let message = format!("{record}{}", fault.problem);
        brought.fault(RowFault { spot, message, hint: fault.problem.hint() });
    }
    let mut lines = Lines { text: &source.text, at: 0, line: 1 };
    for record in listed.iter().filter(|record| !record.blanked) {
        let start = ranges.get(record.index).map_or(0, |range| range.start);
        let spot = Spot { file: Arc::clone(&file), line: lines.line_at(start) };
        let missing = record.draft.missing();
        match items(&record.draft) {
            Some(all) if missing.is_empty() => {
                brought.rows += all.len();
                brought.items.extend(all.into_iter().map(|item| (spot.clone(), item)));
            }
            _ => {
                brought.rows += 1;
                let label =
                    record.draft.label().map_or(String::new(), |label| format!("{} {label}: ", D::WHAT));
                let message = format!("{label}missing: {}", missing.join(", "));
                brought.fault(RowFault { spot, message, hint: None });
            }
        }
    }
}

/// Lines of a text, counted once for places that come in order.
struct Lines<'t> {
    text: &'t str,
    at: usize,
    line: u64,
}

impl Lines<'_> {
    fn line_at(&mut self, at: usize) -> u64 {
        if at < self.at {
            return Place::in_text(self.text, at..at).line as u64;
        }
        let between = self.text.as_bytes().get(self.at..at).unwrap_or_default();
        self.line += between.iter().filter(|byte| **byte == b'\n').count() as u64;
        self.at = at;
        self.line
    }
}

fn bonds_of(draft: &SheetDraft) -> Option<Vec<Item>> {
    let (of, origin) = (draft.of.clone()?, draft.origin.clone()?);
    let goes = draft.goes_with.iter().map(|g| (&g.other, Bond::Affinity(g.affinity), &g.note));
    let clashes = draft.clashes.iter().map(|c| (&c.other, Bond::Clash, &c.note));
    let bond = |(other, bond, note): (&IngredientId, Bond, &Option<String>)| {
        let pair = if of < *other { (of.clone(), other.clone()) } else { (other.clone(), of.clone()) };
        Item::Bond(BondRow { pair, bond, note: note.clone(), by: None, origin: Some(origin.clone()) })
    };
    Some(goes.chain(clashes).map(bond).collect())
}

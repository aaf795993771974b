//! Holding records against each other: what is whole goes onto the shelf, every fault is told.

mod edge;
pub(super) mod ingredient;
pub(super) mod prep;
pub(super) mod template;

use std::cell::OnceCell;
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::ops::Range;

use self::edge::edges;
use self::ingredient::{check_ingredient, finish_ingredient};
use self::prep::{check_prep, finish_prep};
use self::template::{check_template, finish_template};
use super::caution::Caution;
use super::draft::{CautionDraft, Draft, IngredientDraft, PrepDraft, SheetDraft, TemplateDraft};
use super::fault::{Fault, Place, Problem};
use super::fold::fold;
use super::id::{CautionId, IngredientId};
use super::list::{Listed, read_list, record_ranges};
use super::near::nearest_word;
use super::shelf::Book;
use super::side_by_side::side_by_side;
use super::source::{Content, Source};

/// Longest text of a name, in characters.
pub(super) const MOST_NAME: usize = 64;
/// Longest text of a note, an essence or a caution, in characters.
pub(super) const MOST_TEXT: usize = 600;

/// A file, and where its records stand in it once a fault has to be placed.
pub(super) struct Page<'s> {
    pub(super) source: &'s Source,
    pub(super) ranges: OnceCell<Vec<Range<usize>>>,
}

/// A record with the file it stands in.
pub(super) struct Record<'p, D> {
    pub(super) page: &'p Page<'p>,
    pub(super) listed: Listed<D>,
}

impl<D: Draft> Record<'_, D> {
    pub(super) fn fault(&self, needle: Option<&str>, problem: Problem) -> Fault {
        let draft = &self.listed.draft;
        Fault {
            file: self.page.source.path.clone(),
            place: Some(self.place(needle)),
            record: draft.label().map(|l| format!("{} {l}", D::WHAT)),
            problem,
        }
    }

    /// The place of a quoted word in the record, or of the record's first line.
    fn place(&self, needle: Option<&str>) -> Place {
        let text: &str = &self.page.source.text;
        let ranges = self.page.ranges.get_or_init(|| ranges_in(self.page.source));
        let range = ranges.get(self.listed.index).cloned().unwrap_or(0..0);
        let found = needle.and_then(|n| {
            // A sheet names its own ingredient first; in other records the first mention is the one that is meant.
            let record = &text[range.clone()];
            let at = if D::WHAT == SheetDraft::WHAT { record.rfind(n) } else { record.find(n) }?;
            Some(range.start + at..range.start + at + n.len())
        });
        let first_line = || range.start..range.start + text[range.clone()].lines().next().map_or(0, str::len);
        Place::in_text(text, found.unwrap_or_else(first_line))
    }

    pub(super) fn spot(&self) -> String {
        format!("{}:{}", self.page.source.path, self.place(None).line)
    }
}

/// Where the records of a file stand in it, as far as that can be told.
fn ranges_in(source: &Source) -> Vec<Range<usize>> {
    #[cfg(compiled_pack)]
    if source.content == Content::House {
        return super::house::record_range(&source.text).into_iter().collect();
    }
    record_ranges(&source.text).unwrap_or_default()
}

/// Records of one kind, in the order of the files.
fn records<'p, D: Draft + Send>(
    pages: &'p [Page<'p>],
    content: Content,
    faults: &mut Vec<Fault>,
) -> Vec<Record<'p, D>> {
    let mut all = Vec::new();
    let of_kind: Vec<&'p Page<'p>> = pages.iter().filter(|p| p.source.content == content).collect();
    let sources: Vec<&Source> = of_kind.iter().map(|p| p.source).collect();
    let read = |source: &&Source| {
        let mut faults = Vec::new();
        (read_list::<D>(source, &mut faults), faults)
    };
    for (page, (list, wrong)) in of_kind.iter().zip(side_by_side(&sources, read)) {
        faults.extend(wrong);
        for listed in list {
            let record = Record { page, listed };
            let fields = record.listed.draft.missing();
            if !fields.is_empty() && !record.listed.blanked {
                faults.push(record.fault(None, Problem::Missing { fields }));
            }
            all.push(record);
        }
    }
    all
}

pub(super) fn quoted(id: &impl ToString) -> String {
    format!("\"{}\"", id.to_string())
}

/// Reads every source and checks every record against the others.
pub(super) fn check(sources: &[Source], faults: &mut Vec<Fault>) -> Book {
    let pages: Vec<Page<'_>> =
        sources.iter().map(|source| Page { source, ranges: OnceCell::new() }).collect();
    let cautions = records::<CautionDraft>(&pages, Content::Cautions, faults);
    let ingredients = records::<IngredientDraft>(&pages, Content::Ingredients, faults);
    let sheets = records::<SheetDraft>(&pages, Content::Affinities, faults);
    let templates = records::<TemplateDraft>(&pages, Content::Templates, faults);

    let preps = records::<PrepDraft>(&pages, Content::Preps, faults);

    let caution_ids = unique(&cautions, |d| d.id.as_ref(), faults);
    let ingredient_ids = unique(&ingredients, |d| d.id.as_ref(), faults);
    unique(&templates, |d| d.id.as_ref(), faults);
    unique(&preps, |d| d.makes.as_ref(), faults);
    names_lead_to_one(
        &ingredients,
        |d| (d.id.as_ref().map(ToString::to_string), d.name.as_ref(), &d.aliases),
        faults,
    );
    names_lead_to_one(
        &templates,
        |d| (d.id.as_ref().map(ToString::to_string), d.name.as_ref(), &d.aliases),
        faults,
    );

    let mut kept_cautions = Vec::new();
    for record in &cautions {
        texts(record, &[("text", record.listed.draft.text.as_deref(), MOST_TEXT)], faults);
        kept_cautions.extend(finish_caution(&record.listed.draft));
    }

    let known = Known { ingredients: ingredient_ids.into_iter().zip(0..).collect(), cautions: caution_ids };
    let mut kept = BTreeMap::new();
    for record in &ingredients {
        check_ingredient(record, &known, faults);
        if let Some(ingredient) = finish_ingredient(&record.listed.draft) {
            kept.entry(ingredient.id.clone()).or_insert(ingredient);
        }
    }

    let edges = edges(&sheets, &known, faults);
    let mut kept_templates = BTreeMap::new();
    for record in &templates {
        let before = faults.len();
        check_template(record, &known, |id| kept.get(id), faults);
        if faults.len() == before
            && let Some(template) = finish_template(&record.listed.draft)
        {
            kept_templates.entry(template.id.clone()).or_insert(template);
        }
    }

    let mut kept_preps = BTreeMap::new();
    for record in &preps {
        let before = faults.len();
        check_prep(record, &known, |id| kept.get(id), faults);
        if faults.len() == before
            && let Some(prep) = finish_prep(&record.listed.draft)
        {
            kept_preps.entry(prep.makes.clone()).or_insert(prep);
        }
    }

    let mut seen = BTreeSet::new();
    kept_cautions.retain(|c: &Caution| seen.insert(c.id.clone()));
    for ingredient in kept.values_mut() {
        ingredient.cautions.retain(|c| seen.contains(c));
    }
    let has = |id: &IngredientId| kept.contains_key(id);
    let edges = edges.into_iter().filter(|e| has(&e.pair.0) && has(&e.pair.1)).collect();
    let ids: BTreeSet<IngredientId> = kept.keys().cloned().collect();
    for ingredient in kept.values_mut() {
        ingredient.made_from.retain(|id| ids.contains(id));
    }
    Book::new(kept.into_values().collect(), edges, kept_templates.into_values().collect(), kept_cautions)
        .with_preps(kept_preps.into_values().collect())
}

/// The ids that a reference may name.
pub(super) struct Known {
    /// Each with its number in the order of ids.
    pub(super) ingredients: HashMap<IngredientId, usize>,
    pub(super) cautions: BTreeSet<CautionId>,
}

impl Known {
    /// The id as the book holds it, so that its text is shared, and its number; a fault if there is none.
    pub(super) fn ingredient<D: Draft>(
        &self,
        record: &Record<'_, D>,
        id: &IngredientId,
        faults: &mut Vec<Fault>,
    ) -> Option<(&IngredientId, usize)> {
        if let Some((known, number)) = self.ingredients.get_key_value(id) {
            return Some((known, *number));
        }
        let mut all: Vec<&str> = self.ingredients.keys().map(IngredientId::as_str).collect();
        all.sort_unstable();
        let nearest = nearest_word(id.as_str(), all.into_iter());
        let problem = Problem::UnknownId {
            what: "ingredient",
            id: id.to_string(),
            nearest: nearest.map(str::to_owned),
        };
        faults.push(record.fault(Some(&quoted(id)), problem));
        None
    }
}

fn unique<'r, D: Draft, Id: Ord + Clone + ToString + 'r>(
    records: &'r [Record<'_, D>],
    id: impl Fn(&'r D) -> Option<&'r Id>,
    faults: &mut Vec<Fault>,
) -> BTreeSet<Id> {
    let mut first: BTreeMap<Id, usize> = BTreeMap::new();
    for (index, record) in records.iter().enumerate() {
        let Some(id) = id(&record.listed.draft) else { continue };
        if let Some(earlier) = first.get(id) {
            let problem =
                Problem::Duplicate { what: D::WHAT, id: id.to_string(), first: records[*earlier].spot() };
            faults.push(record.fault(Some(&quoted(id)), problem));
        } else {
            first.insert(id.clone(), index);
        }
    }
    first.into_keys().collect()
}

pub(super) type Names<'r> = (Option<String>, Option<&'r String>, &'r Vec<String>);

fn names_lead_to_one<'r, D: Draft + 'r>(
    records: &'r [Record<'_, D>],
    names: impl Fn(&'r D) -> Names<'r>,
    faults: &mut Vec<Fault>,
) {
    names_lead_to_one_beside(&mut BTreeMap::new(), records, names, faults);
}

/// The same beside names that are taken already: what they are compared by, and the id that each leads to.
pub(super) fn names_lead_to_one_beside<'r, 'p: 'r, D: Draft + 'r>(
    first: &mut BTreeMap<String, String>,
    records: impl IntoIterator<Item = &'r Record<'p, D>>,
    names: impl Fn(&'r D) -> Names<'r>,
    faults: &mut Vec<Fault>,
) {
    for record in records {
        let (Some(id), name, aliases) = names(&record.listed.draft) else { continue };
        for name in name.into_iter().chain(aliases) {
            texts(record, &[("name", Some(name), MOST_NAME)], faults);
            let key = fold(name);
            let taken = first.get(&key).filter(|other| **other != id).cloned();
            match taken {
                Some(other) => {
                    let problem = Problem::NameTaken { what: D::WHAT, name: name.clone(), other };
                    faults.push(record.fault(Some(&quoted(name)), problem));
                }
                None => {
                    first.insert(key, id.clone());
                }
            }
        }
    }
}

pub(super) fn texts<D: Draft>(
    record: &Record<'_, D>,
    fields: &[(&'static str, Option<&str>, usize)],
    faults: &mut Vec<Fault>,
) {
    for (field, text, most) in fields {
        let Some(text) = text else { continue };
        let letters = text.chars().count();
        let why = if text.trim().is_empty() {
            "is empty: write at least a word".to_owned()
        } else if let Some(bad) = text.chars().find(|c| c.is_control()) {
            format!("holds the control character U+{:04X}: only plain text is allowed", u32::from(bad))
        } else if letters > *most {
            format!("is {letters} characters long: at most {most} are allowed")
        } else {
            continue;
        };
        faults.push(record.fault(None, Problem::BadText { field, why }));
    }
}

fn finish_caution(draft: &CautionDraft) -> Option<Caution> {
    Some(Caution {
        id: draft.id.clone()?,
        text: draft.text.clone()?,
        carries: draft.carries.unwrap_or(true),
        origin: draft.origin.clone()?,
    })
}

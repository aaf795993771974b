//! Holding records against each other: what is whole goes onto the shelf, every fault is told.

mod prep;

use std::borrow::Cow;
use std::cell::OnceCell;
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::ops::Range;
use std::sync::atomic::{AtomicUsize, Ordering};

use self::prep::{check_prep, finish_prep};
use super::caution::Caution;
use super::draft::{CautionDraft, Draft, IngredientDraft, PrepDraft, SheetDraft, TemplateDraft};
use super::edge::{Bond, Edge};
use super::fault::{Fault, Place, Problem};
use super::fold::fold;
use super::id::{CautionId, IngredientId};
use super::ingredient::{Climates, Ingredient};
use super::list::{Listed, read_list, record_ranges};
use super::near::nearest_word;
use super::shelf::Book;
use super::source::{Content, Source};
use super::spread::Spread;
use super::template::{Slot, Template};
use super::word::{Allergen, Diet};
use crate::measure::{Concentration, Measures};

/// Longest text of a name, in characters.
const MOST_NAME: usize = 64;
/// Longest text of a note, an essence or a caution, in characters.
const MOST_TEXT: usize = 600;
/// Most files that are read at once.
const MOST_READERS: usize = 4;
/// Most strength of what is marked as without alcohol, % vol: what some countries' rules call alcohol free; *from memory*.
const MOST_NO_ALCOHOL: f64 = 0.05;
/// Most slots of a template.
const MOST_SLOTS: usize = 10;

/// A file, and where its records stand in it once a fault has to be placed.
struct Page<'s> {
    source: &'s Source,
    ranges: OnceCell<Vec<Range<usize>>>,
}

/// A record with the file it stands in.
struct Record<'p, D> {
    page: &'p Page<'p>,
    listed: Listed<D>,
}

impl<D: Draft> Record<'_, D> {
    fn fault(&self, needle: Option<&str>, problem: Problem) -> Fault {
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
        let ranges = self.page.ranges.get_or_init(|| record_ranges(text).unwrap_or_default());
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

    fn spot(&self) -> String {
        format!("{}:{}", self.page.source.path, self.place(None).line)
    }
}

/// Records of one kind, in the order of the files.
fn records<'p, D: Draft + Send>(
    pages: &'p [Page<'p>],
    content: Content,
    faults: &mut Vec<Fault>,
) -> Vec<Record<'p, D>> {
    let mut all = Vec::new();
    let of_kind: Vec<&'p Page<'p>> = pages.iter().filter(|p| p.source.content == content).collect();
    for (page, (list, wrong)) in of_kind.iter().zip(read_all::<D>(&of_kind)) {
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

/// Reads files side by side, for opening the book is what a person waits for; the answers are in the files' order.
fn read_all<D: Draft + Send>(pages: &[&Page<'_>]) -> Vec<(Vec<Listed<D>>, Vec<Fault>)> {
    let sources: Vec<&Source> = pages.iter().map(|p| p.source).collect();
    let next = AtomicUsize::new(0);
    let read = || {
        let mut done = Vec::new();
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            let Some(source) = sources.get(index) else { return done };
            let mut faults = Vec::new();
            let list = read_list::<D>(source, &mut faults);
            done.push((index, (list, faults)));
        }
    };
    let helpers =
        std::thread::available_parallelism().map_or(1, std::num::NonZero::get).min(MOST_READERS) - 1;
    let mut done = std::thread::scope(|scope| {
        let started: Vec<_> = (0..helpers).map(|_| scope.spawn(read)).collect();
        let mut done = read();
        // A reader that panicked is our own fault and must not pass for a short file.
        for reader in started {
            match reader.join() {
                Ok(more) => done.extend(more),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        done
    });
    done.sort_by_key(|(index, _)| *index);
    done.into_iter().map(|(_, read)| read).collect()
}

fn quoted(id: &impl ToString) -> String {
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
        check_template(record, &known, &kept, faults);
        if faults.len() == before
            && let Some(template) = finish_template(&record.listed.draft)
        {
            kept_templates.entry(template.id.clone()).or_insert(template);
        }
    }

    let mut kept_preps = BTreeMap::new();
    for record in &preps {
        let before = faults.len();
        check_prep(record, &known, &kept, faults);
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
struct Known {
    /// Each with its number in the order of ids.
    ingredients: HashMap<IngredientId, usize>,
    cautions: BTreeSet<CautionId>,
}

impl Known {
    /// The id as the book holds it, so that its text is shared, and its number; a fault if there is none.
    fn ingredient<D: Draft>(
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

type Names<'r> = (Option<String>, Option<&'r String>, &'r Vec<String>);

fn names_lead_to_one<'r, D: Draft + 'r>(
    records: &'r [Record<'_, D>],
    names: impl Fn(&'r D) -> Names<'r>,
    faults: &mut Vec<Fault>,
) {
    let mut first: BTreeMap<String, String> = BTreeMap::new();
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

fn texts<D: Draft>(
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

fn check_ingredient(record: &Record<'_, IngredientDraft>, known: &Known, faults: &mut Vec<Fault>) {
    let draft = &record.listed.draft;
    for id in &draft.made_from {
        if draft.id.as_ref() == Some(id) {
            faults.push(record.fault(Some("made_from"), Problem::MadeFromItself { id: id.to_string() }));
        } else {
            known.ingredient(record, id, faults);
        }
    }
    if let Some(what) = outside_spread(draft) {
        faults.push(record.fault(Some("spread"), Problem::Spread { what }));
    }
    if let Some(juice) = &draft.juice {
        known.ingredient(record, &juice.gives, faults);
        if juice.least > juice.ml || juice.ml > juice.most {
            faults.push(record.fault(Some("juice"), Problem::Juice));
        }
    }
    for id in draft.cautions.iter().filter(|id| !known.cautions.contains(id)) {
        let nearest = nearest_word(id.as_str(), known.cautions.iter().map(CautionId::as_str));
        let problem =
            Problem::UnknownId { what: "caution", id: id.to_string(), nearest: nearest.map(str::to_owned) };
        faults.push(record.fault(Some(&quoted(id)), problem));
    }
    if record.listed.blanked {
        return;
    }
    if let (Some(origin), Some(season)) = (&draft.origin, &draft.season) {
        let pairs = [
            (
                draft.makeup.is_some(),
                origin.makeup.is_some(),
                "a makeup needs its origin: origin: (makeup: ...)",
                "an origin for a makeup that is not there",
            ),
            (
                season.is_fresh() || draft.climates != Climates::default(),
                origin.season.is_some(),
                "a season needs its origin: origin: (season: ...)",
                "an origin for a season, but the season is all_year",
            ),
            (
                draft.flesh.is_some() || draft.juice.is_some(),
                origin.fruit.is_some(),
                "flesh and juice need their origin: origin: (fruit: ...)",
                "an origin for flesh or juice that is not there",
            ),
            (
                draft.keeps.is_some(),
                origin.keeping.is_some(),
                "how long it keeps needs its origin: origin: (keeping: ...)",
                "an origin for keeping that is not there",
            ),
        ];
        for (fact, told, without, needless) in pairs {
            match (fact, told) {
                (true, false) => faults.push(record.fault(Some("origin"), Problem::Origin(without))),
                (false, true) => faults.push(record.fault(Some("origin"), Problem::Origin(needless))),
                _ => {}
            }
        }
    }
    if let Some(makeup) = &draft.makeup {
        let kinds = makeup.glucose.grams_per_litre() + makeup.fructose.grams_per_litre();
        if kinds > makeup.sugar.grams_per_litre() * (1.0 + 1e-9) {
            let problem = Problem::SugarKinds { kinds: Concentration::clamped(kinds), sugar: makeup.sugar };
            faults.push(record.fault(Some("sugar"), problem));
        }
        let acids = [makeup.malic, makeup.tartaric, makeup.lactic, makeup.acetic, makeup.phosphoric];
        let kinds: f64 = acids.iter().map(|kind| kind.grams_per_litre()).sum();
        if kinds > makeup.acid.grams_per_litre() * (1.0 + 1e-9) {
            let problem = Problem::AcidKinds { kinds: Concentration::clamped(kinds), acid: makeup.acid };
            faults.push(record.fault(Some("acid"), problem));
        }
    }
    if let (Some(diet), Some(allergens)) = (&draft.diet, &draft.allergens) {
        let contradictions = [
            (Diet::Vegan, allergens.contains(&Allergen::Milk), "it brings milk"),
            (Diet::Vegan, allergens.contains(&Allergen::Eggs), "it brings eggs"),
            (Diet::Vegetarian, allergens.contains(&Allergen::Fish), "it brings fish"),
            (Diet::Vegetarian, allergens.contains(&Allergen::Crustaceans), "it brings crustaceans"),
            (Diet::Vegetarian, allergens.contains(&Allergen::Molluscs), "it brings molluscs"),
            (Diet::GlutenFree, allergens.contains(&Allergen::Gluten), "it brings gluten"),
            (Diet::Vegan, !diet.contains(&Diet::Vegetarian), "not marked vegetarian"),
            (
                Diet::NoAlcohol,
                draft.makeup.is_some_and(|m| m.strength.percent_vol() > MOST_NO_ALCOHOL),
                "its makeup has more than 0.05 % vol",
            ),
        ];
        for (mark, contradicted, fact) in contradictions {
            if contradicted && diet.contains(&mark) {
                faults.push(record.fault(Some("diet"), Problem::Diet { diet: mark.name(), fact }));
            }
        }
    }
}

fn edges(sheets: &[Record<'_, SheetDraft>], known: &Known, faults: &mut Vec<Fault>) -> Vec<Edge> {
    let mut edges: Vec<((usize, usize), Edge)> = Vec::new();
    let mut by_pair: HashMap<(usize, usize), usize> = HashMap::new();
    let mut by_sheet: BTreeMap<&IngredientId, usize> = BTreeMap::new();
    for (index, record) in sheets.iter().enumerate() {
        let SheetDraft { of: Some(of), origin: Some(origin), goes_with, clashes } = &record.listed.draft
        else {
            continue;
        };
        if let Some(earlier) = by_sheet.get(of) {
            let first = sheets[*earlier].spot();
            faults.push(
                record.fault(None, Problem::Duplicate { what: SheetDraft::WHAT, id: of.to_string(), first }),
            );
        } else {
            by_sheet.insert(of, index);
        }
        let Some((of, at)) = known.ingredient(record, of, faults) else { continue };
        let affinities = goes_with.iter().map(|g| (&g.other, Bond::Affinity(g.affinity), &g.note));
        let clashes = clashes.iter().map(|c| (&c.other, Bond::Clash, &c.note));
        for (other, bond, note) in affinities.chain(clashes) {
            if other == of {
                faults.push(record.fault(Some(&quoted(other)), Problem::WithItself { id: of.to_string() }));
                continue;
            }
            let Some((other, other_at)) = known.ingredient(record, other, faults) else { continue };
            texts(record, &[("note", note.as_deref(), MOST_TEXT)], faults);
            let (pair, key) = if of < other {
                ((of.clone(), other.clone()), (at, other_at))
            } else {
                ((other.clone(), of.clone()), (other_at, at))
            };
            if let Some(earlier) = by_pair.get(&key) {
                let problem = Problem::PairTwice {
                    a: of.to_string(),
                    b: other.to_string(),
                    first: sheets[*earlier].spot(),
                };
                faults.push(record.fault(Some(&quoted(other)), problem));
                continue;
            }
            by_pair.insert(key, index);
            edges
                .push((key, Edge { pair, bond, note: note.clone().map(Cow::Owned), origin: origin.clone() }));
        }
    }
    // Numbers stand in the order of ids, and are much quicker to compare.
    edges.sort_unstable_by_key(|(key, _)| *key);
    edges.into_iter().map(|(_, edge)| edge).collect()
}

fn check_template(
    record: &Record<'_, TemplateDraft>,
    known: &Known,
    ingredients: &BTreeMap<IngredientId, Ingredient>,
    faults: &mut Vec<Fault>,
) {
    let draft = &record.listed.draft;
    texts(
        record,
        &[("essence", draft.essence.as_deref(), MOST_TEXT), ("glass", draft.glass.as_deref(), MOST_NAME)],
        faults,
    );
    for garnish in &draft.garnish {
        known.ingredient(record, &garnish.0, faults);
    }
    let Some(slots) = &draft.slots else { return };
    if (slots.is_empty() && !record.listed.blanked) || slots.len() > MOST_SLOTS {
        let problem = Problem::SlotCount { found: slots.len(), most: MOST_SLOTS };
        faults.push(record.fault(Some("slots"), problem));
    }
    for (index, slot) in slots.iter().enumerate() {
        if known.ingredient(record, &slot.classic, faults).is_none() {
            continue;
        }
        if let Some(why) = ingredients.get(&slot.classic).and_then(|filler| cannot_fill(slot, filler)) {
            let problem = Problem::Slot { slot: index + 1, role: slot.role.name(), why };
            faults.push(record.fault(Some(&quoted(&slot.classic)), problem));
        }
    }
}

/// Why the classic's own filler cannot fill its slot, if so.
fn cannot_fill(slot: &Slot, filler: &Ingredient) -> Option<String> {
    if !filler.roles.contains(&slot.role) {
        let roles: Vec<_> = filler.roles.iter().map(|r| r.name()).collect();
        let can = if roles.is_empty() { "nothing in a drink".to_owned() } else { roles.join(", ") };
        return Some(format!("{} can be {can}", filler.name));
    }
    let measures = Measures::default();
    let own = slot.amount.volume(&measures);
    if own.is_some() && filler.makeup.is_none() {
        return Some(format!("{} is measured by volume but has no makeup", filler.name));
    }
    let limit = |amount: &Option<crate::measure::Amount>| amount.as_ref().map(|a| a.volume(&measures));
    match (limit(&slot.least), limit(&slot.most)) {
        (Some(None), _) | (_, Some(None)) => Some("least and most must be volumes".to_owned()),
        (least, most) => {
            let own = own?;
            let least = least.flatten().unwrap_or(own);
            let most = most.flatten().unwrap_or(own);
            (least > own || own > most)
                .then(|| format!("its own {} lies outside its least and most", slot.amount))
        }
    }
}

/// The figure of a makeup that lies outside what its spread says.
fn outside_spread(draft: &IngredientDraft) -> Option<&'static str> {
    let Spread { strength, sugar, acid } = draft.spread;
    let inside = |pair: Option<(f64, f64)>, own: Option<f64>| {
        pair.is_none_or(|(least, most)| least <= most && own.is_none_or(|own| (least..=most).contains(&own)))
    };
    let held = |pair: (Concentration, Concentration)| (pair.0.grams_per_litre(), pair.1.grams_per_litre());
    let makeup = draft.makeup;
    let checks = [
        (
            "strength",
            inside(
                strength.map(|(least, most)| (least.percent_vol(), most.percent_vol())),
                makeup.map(|m| m.strength.percent_vol()),
            ),
        ),
        ("sugar", inside(sugar.map(held), makeup.map(|m| m.sugar.grams_per_litre()))),
        ("acid", inside(acid.map(held), makeup.map(|m| m.acid.grams_per_litre()))),
    ];
    checks.into_iter().find(|(_, fits)| !fits).map(|(what, _)| what)
}

fn finish_caution(draft: &CautionDraft) -> Option<Caution> {
    Some(Caution {
        id: draft.id.clone()?,
        text: draft.text.clone()?,
        carries: draft.carries.unwrap_or(true),
        origin: draft.origin.clone()?,
    })
}

fn finish_ingredient(draft: &IngredientDraft) -> Option<Ingredient> {
    Some(Ingredient {
        id: draft.id.clone()?,
        name: draft.name.clone()?,
        aliases: draft.aliases.clone(),
        kind: draft.kind?,
        roles: draft.roles.clone()?,
        makeup: draft.makeup,
        facets: draft.facets.clone()?,
        loudness: draft.loudness?,
        season: draft.season?,
        climates: draft.climates,
        spread: draft.spread,
        flesh: draft.flesh,
        juice: draft.juice.clone(),
        keeps: draft.keeps,
        allergens: draft.allergens.clone()?,
        diet: draft.diet.clone()?,
        made_from: draft.made_from.clone(),
        cautions: draft.cautions.clone(),
        origin: draft.origin.clone()?,
    })
}

fn finish_template(draft: &TemplateDraft) -> Option<Template> {
    Some(Template {
        id: draft.id.clone()?,
        name: draft.name.clone()?,
        aliases: draft.aliases.clone(),
        family: draft.family?,
        method: draft.method?,
        glass: draft.glass.clone()?,
        slots: draft.slots.clone()?,
        garnish: draft.garnish.clone(),
        essence: draft.essence.clone()?,
        origin: draft.origin.clone()?,
    })
}

//! Laying a house book over the packs: what is whole goes onto the shelf, every fault is told, none hides the rest.

use std::borrow::Cow;
use std::cell::OnceCell;
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::ops::Range;
use std::path::Path;

use super::draft::{BondDraft, HoldBackDraft, PriceDraft, StockDraft, TastingDraft};
use super::laid_over::LaidOver;
use super::opinion::edges;
use super::page::read_page;
use super::{HouseBook, Whose};
use crate::book::check::ingredient::{check_ingredient, finish_ingredient};
use crate::book::check::prep::{check_prep, finish_prep};
use crate::book::check::template::{check_template, finish_template};
use crate::book::check::{
    Known, MOST_NAME, MOST_TEXT, Names, Page, Record, names_lead_to_one_beside, quoted, texts,
};
use crate::book::draft::{Draft, IngredientDraft, PrepDraft, TemplateDraft};
use crate::book::edge::Edge;
use crate::book::fault::{Fault, Problem};
use crate::book::fold::fold;
use crate::book::hold_back::HoldBack;
use crate::book::id::{IngredientId, TemplateId};
use crate::book::ingredient::Ingredient;
use crate::book::leaf::{Leaf, overlay};
use crate::book::list::options;
use crate::book::prep::Prep;
use crate::book::price::Price;
use crate::book::record_kind::{NameSpace, RecordKind};
use crate::book::shelf::Book;
use crate::book::side_by_side::side_by_side;
use crate::book::source::{Content, Source};
use crate::book::stock::Stock;
use crate::book::store::RecordPath;
use crate::book::tasting::{TastedThing, Tasting};
use crate::book::template::Template;
use crate::book::weighing::Weighing;
use crate::measure::Measures;

/// What laying a house book over the packs came to.
#[derive(Debug)]
pub struct OpenedHouse {
    /// Every record that is whole, of the packs and of the house.
    pub book: Book,
    /// Every fault of the house's files, by file and place.
    pub faults: Vec<Fault>,
    /// The files that have one, for showing it in its place.
    pub sources: Vec<Source>,
}

/// Lays the records of a house book over the packs. Files are named as they stand in `root`.
pub fn open_house(packs: &Book, records: BTreeMap<RecordPath, String>, root: &Path) -> OpenedHouse {
    let files = sources(records, root);
    let pages = pages(&files);
    let mut laying = Laying::new(packs, packs, &files, &pages);
    let mut laid = laying.all();
    let edges = edges(packs, std::mem::take(&mut laid.bonds), laying.house.tastings());
    let mut house = std::mem::take(&mut laying.house);
    house.whose.retain(|(kind, id), _| laid.holds(*kind, id, &edges));
    let book = packs.laid_over(laid.ingredients, edges, laid.templates, laid.preps, house);
    let (faults, sources) = told(laying.faults, &files);
    OpenedHouse { book, faults, sources }
}

/// Every fault of records that are to be, beside what the book holds now without those that are `gone`, and the texts they
/// are in.
pub(super) fn check_records(
    packs: &Book,
    now: &Book,
    records: BTreeMap<RecordPath, String>,
    gone: &[&RecordPath],
    root: &Path,
) -> (Vec<Fault>, Vec<Source>) {
    let files = sources(records, root);
    let pages = pages(&files);
    let mut laying = Laying::new(packs, now, &files, &pages);
    // What a pack has stays, whatever the house no longer says of it.
    laying.gone = gone
        .iter()
        .filter(|path| {
            let stem = path.stem();
            packs.ingredients().iter().all(|i| i.id.as_str() != stem)
                && packs.templates().iter().all(|t| t.id.as_str() != stem)
        })
        .map(|path| (path.kind().names(), path.stem().to_owned()))
        .collect();
    laying.all();
    told(laying.faults, &files)
}

/// Every fault that a record would have with a text.
pub fn check_record(packs: &Book, now: &Book, path: &RecordPath, text: &str, root: &Path) -> Vec<Fault> {
    check_records(packs, now, BTreeMap::from([(path.clone(), text.to_owned())]), &[], root).0
}

fn sources(records: BTreeMap<RecordPath, String>, root: &Path) -> Vec<(RecordPath, Source)> {
    records
        .into_iter()
        .map(|(path, text)| {
            let shown = root.join(path.to_string()).display().to_string();
            (path, Source { path: shown, content: Content::House, text: Cow::Owned(text) })
        })
        .collect()
}

fn pages(files: &[(RecordPath, Source)]) -> Vec<Page<'_>> {
    files.iter().map(|(_, source)| Page { source, ranges: OnceCell::new() }).collect()
}

/// Faults by file and place, and the files that have one.
fn told(mut faults: Vec<Fault>, files: &[(RecordPath, Source)]) -> (Vec<Fault>, Vec<Source>) {
    faults.sort_by(|a, b| {
        let key = |f: &Fault| f.place.as_ref().map(|p| (p.line, p.column));
        a.file.cmp(&b.file).then(key(a).cmp(&key(b)))
    });
    let faulty: BTreeSet<&str> = faults.iter().map(|f| f.file.as_str()).collect();
    let faulty = |s: &Source| faulty.contains(s.path.as_str());
    let sources = files.iter().map(|(_, source)| source).filter(|s| faulty(s)).cloned().collect();
    (faults, sources)
}

/// Where a record stands in a file of a house book, for placing a fault in it.
pub(in super::super) fn record_range(text: &str) -> Option<Range<usize>> {
    Leaf::parse(text).ok().map(|leaf| leaf.record_range())
}

/// What stands on the shelf.
struct Laid {
    ingredients: BTreeMap<IngredientId, Ingredient>,
    templates: BTreeMap<TemplateId, Template>,
    preps: BTreeMap<IngredientId, Prep>,
    bonds: Vec<BondDraft>,
}

impl Laid {
    /// Whether a record was whole and stands on the shelf.
    fn holds(&self, kind: RecordKind, id: &str, edges: &[Edge]) -> bool {
        match kind {
            RecordKind::Ingredient => {
                IngredientId::new(id).is_ok_and(|id| self.ingredients.contains_key(&id))
            }
            RecordKind::Template | RecordKind::Spec => {
                TemplateId::new(id).is_ok_and(|id| self.templates.contains_key(&id))
            }
            RecordKind::Prep => IngredientId::new(id).is_ok_and(|id| self.preps.contains_key(&id)),
            RecordKind::Bond => id.split_once("--").is_some_and(|pair| {
                let at = edges.binary_search_by(|e| (e.pair.0.as_str(), e.pair.1.as_str()).cmp(&pair));
                at.is_ok()
            }),
            _ => true,
        }
    }
}

/// The work, and what it has come to so far.
struct Laying<'p> {
    packs: &'p Book,
    /// What a record may refer to, and whose names are taken.
    beside: &'p Book,
    /// What of it no longer counts.
    gone: BTreeSet<(NameSpace, String)>,
    files: &'p [(RecordPath, Source)],
    pages: &'p [Page<'p>],
    faults: Vec<Fault>,
    house: HouseBook,
}

impl<'p> Laying<'p> {
    fn new(
        packs: &'p Book,
        beside: &'p Book,
        files: &'p [(RecordPath, Source)],
        pages: &'p [Page<'p>],
    ) -> Self {
        Self {
            packs,
            beside,
            gone: BTreeSet::new(),
            files,
            pages,
            faults: Vec::new(),
            house: HouseBook::default(),
        }
    }

    fn all(&mut self) -> Laid {
        let beside = self.beside;
        let (ingredients, known) = self.ingredients();
        let ingredient = |id: &IngredientId| ingredients.get(id).or_else(|| beside.ingredient(id));
        let mut faults = Vec::new();
        let mut templates = BTreeMap::new();
        for kind in [RecordKind::Template, RecordKind::Spec] {
            let drafts = self.drafts::<TemplateDraft>(kind);
            let gone = self.gone.clone();
            let stays = |t: &&Template| !gone.contains(&(NameSpace::Drinks, t.id.to_string()));
            let taken = self.beside.templates().iter().filter(stays);
            let taken = taken.map(|t| (t.id.to_string(), &t.name, &t.aliases));
            let drafts = self.named(drafts, taken, |d| {
                (d.id.as_ref().map(ToString::to_string), d.name.as_ref(), &d.aliases)
            });
            for record in drafts {
                let before = faults.len();
                if let Some(first) = self.same_drink(kind, &record, &templates) {
                    let id = record.listed.draft.id.as_ref().map(ToString::to_string).unwrap_or_default();
                    let problem = Problem::Duplicate { what: kind.word(), id: id.clone(), first };
                    faults.push(record.fault(Some(&quoted(&id)), problem));
                }
                check_template(&record, &known, ingredient, &mut faults);
                let template = finish_template(&record.listed.draft).filter(|_| faults.len() == before);
                if let Some(template) = template {
                    let kept = template.kept || kind == RecordKind::Spec;
                    let template = Template { kept, ..template };
                    templates.insert(template.id.clone(), template);
                }
            }
        }
        let mut preps = BTreeMap::new();
        for record in self.drafts::<PrepDraft>(RecordKind::Prep) {
            let before = faults.len();
            check_prep(&record, &known, ingredient, &mut faults);
            if let Some(prep) = finish_prep(&record.listed.draft).filter(|_| faults.len() == before) {
                preps.insert(prep.makes.clone(), prep);
            }
        }
        self.faults.append(&mut faults);
        let bonds = self.bonds(&known);
        self.facts(&known);
        Laid { ingredients, templates, preps, bonds }
    }

    /// The drafts of a kind, laid over what the packs have under the same id. What has faults is left out.
    fn drafts<D: LaidOver>(&mut self, kind: RecordKind) -> Vec<Record<'p, D>> {
        let files = self.files.iter().zip(self.pages).filter(|((path, _), _)| path.kind() == kind);
        let (sources, pages): (Vec<&(RecordPath, Source)>, Vec<&'p Page<'p>>) = files.unzip();
        let read = |file: &&(RecordPath, Source)| {
            let mut faults = Vec::new();
            (read_page::<D>(&file.1, kind, file.0.stem(), &mut faults), faults)
        };
        let mut records = Vec::new();
        for ((file, page), (listed, wrong)) in sources.iter().zip(pages).zip(side_by_side(&sources, read)) {
            self.faults.extend(wrong);
            let Some(listed) = listed else { continue };
            let mut record = Record { page, listed };
            let whose = match record.listed.draft.under(self.packs) {
                Some(under) => {
                    let fields = self.lay_over(&mut record, &under);
                    let Some(fields) = fields else { continue };
                    Whose::Both(fields)
                }
                None => Whose::House,
            };
            record.listed.draft.fill(kind, &whose);
            let fields = record.listed.draft.missing();
            if !fields.is_empty() {
                self.faults.push(record.fault(None, Problem::Missing { fields }));
                continue;
            }
            if D::ON_SHELF {
                self.house.whose.insert((kind, file.0.stem().to_owned()), whose);
            }
            records.push(record);
        }
        records
    }

    /// The file of the house's template that has the id of a kept drink, or the other way round: an id is one drink's.
    fn same_drink(
        &self,
        kind: RecordKind,
        record: &Record<'_, TemplateDraft>,
        read: &BTreeMap<TemplateId, Template>,
    ) -> Option<String> {
        let id = record.listed.draft.id.as_ref()?;
        let other = if kind == RecordKind::Spec { RecordKind::Template } else { RecordKind::Spec };
        let stays = !self.gone.contains(&(NameSpace::Drinks, id.to_string()));
        let beside = stays && self.beside.house().whose(other, id.as_str()).is_some();
        let is_read = kind == RecordKind::Spec && read.get(id).is_some_and(|first| !first.kept);
        (beside || is_read).then(|| format!("{}/{id}.ron", other.folder()))
    }

    /// Puts a pack's record under a draft, and says which fields are the house's.
    fn lay_over<D: LaidOver>(&mut self, record: &mut Record<'p, D>, under: &str) -> Option<Vec<String>> {
        let text = &record.page.source.text;
        let laid = Leaf::parse(text).and_then(|leaf| {
            let fields = leaf.fields().into_iter().map(str::to_owned).collect::<Vec<_>>();
            Ok((overlay(under, leaf.record())?, fields))
        });
        let (text, fields) = match laid {
            Ok(laid) => laid,
            Err(fault) => {
                self.faults.push(record.fault(None, Problem::Text(fault.to_string())));
                return None;
            }
        };
        match options().from_str::<D>(&text) {
            Ok(draft) => record.listed.draft = draft,
            Err(error) => {
                self.faults.push(record.fault(None, Problem::Text(error.code.to_string())));
                return None;
            }
        }
        Some(fields)
    }

    /// Those whose names do not lead to something else already.
    fn named<'n, D: Draft>(
        &mut self,
        records: Vec<Record<'p, D>>,
        taken: impl Iterator<Item = (String, &'n String, &'n Vec<String>)>,
        names: impl Fn(&D) -> Names<'_>,
    ) -> Vec<Record<'p, D>> {
        if records.is_empty() {
            return records;
        }
        let mut first = BTreeMap::new();
        for (id, name, aliases) in taken {
            for name in std::iter::once(name).chain(aliases) {
                first.insert(fold(name), id.clone());
            }
        }
        let mut kept = Vec::new();
        for record in records {
            let before = self.faults.len();
            names_lead_to_one_beside(&mut first, [&record], &names, &mut self.faults);
            if self.faults.len() == before {
                kept.push(record);
            }
        }
        kept
    }

    fn ingredients(&mut self) -> (BTreeMap<IngredientId, Ingredient>, Known) {
        let drafts = self.drafts::<IngredientDraft>(RecordKind::Ingredient);
        let gone = self.gone.clone();
        let stays = |i: &&Ingredient| !gone.contains(&(NameSpace::Ingredients, i.id.to_string()));
        let taken =
            self.beside.ingredients().iter().filter(stays).map(|i| (i.id.to_string(), &i.name, &i.aliases));
        let drafts = self
            .named(drafts, taken, |d| (d.id.as_ref().map(ToString::to_string), d.name.as_ref(), &d.aliases));
        let ids = self.beside.ingredients().iter().filter(stays).map(|i| i.id.clone());
        let ids = ids.chain(drafts.iter().filter_map(|r| r.listed.draft.id.clone()));
        let known = Known {
            ingredients: ids.zip(0..).collect::<HashMap<_, _>>(),
            cautions: self.packs.cautions().iter().map(|c| c.id.clone()).collect(),
        };
        let mut kept = BTreeMap::new();
        for record in &drafts {
            let before = self.faults.len();
            check_ingredient(record, &known, &mut self.faults);
            let whole = self.faults.len() == before;
            if let Some(ingredient) = finish_ingredient(&record.listed.draft).filter(|_| whole) {
                kept.insert(ingredient.id.clone(), ingredient);
            }
        }
        // What was left out can no longer be referred to.
        let mut known = known;
        known
            .ingredients
            .retain(|id, _| kept.contains_key(id) || self.beside.ingredient(id).is_some_and(|i| stays(&i)));
        (kept, known)
    }

    fn bonds(&mut self, known: &Known) -> Vec<BondDraft> {
        let mut kept = Vec::new();
        for record in self.drafts::<BondDraft>(RecordKind::Bond) {
            let before = self.faults.len();
            let draft = &record.listed.draft;
            if let Some((a, b)) = &draft.between {
                for id in [a, b] {
                    known.ingredient(&record, id, &mut self.faults);
                }
                if a == b {
                    let problem = Problem::WithItself { id: a.to_string() };
                    self.faults.push(record.fault(Some(&quoted(a)), problem));
                }
                if draft.bond.is_none() && self.packs.edge(a, b).is_none() {
                    self.faults.push(record.fault(None, Problem::NoBond));
                }
            }
            let told = [("note", draft.note.as_deref(), MOST_TEXT), ("by", draft.by.as_deref(), MOST_NAME)];
            texts(&record, &told, &mut self.faults);
            if self.faults.len() == before {
                kept.push(record.listed.draft);
            }
        }
        kept
    }

    /// Prices, stock, hold-backs, tastings, measures and weighings.
    fn facts(&mut self, known: &Known) {
        for record in self.drafts::<PriceDraft>(RecordKind::Price) {
            let PriceDraft { of: Some(of), paid: Some(paid), size: Some(size), note } = &record.listed.draft
            else {
                continue;
            };
            let price = Price { of: of.clone(), paid: *paid, size: *size, note: note.clone() };
            if self.holds(&record, known, of, note.as_deref()) {
                self.house.prices.insert(of.clone(), price);
            }
        }
        for record in self.drafts::<StockDraft>(RecordKind::Stock) {
            let StockDraft { of: Some(of), level: Some(level), note } = &record.listed.draft else {
                continue;
            };
            let stock = Stock { of: of.clone(), level: *level, note: note.clone() };
            if self.holds(&record, known, of, note.as_deref()) {
                self.house.stock.insert(of.clone(), stock);
            }
        }
        for record in self.drafts::<HoldBackDraft>(RecordKind::HoldBack) {
            let HoldBackDraft { of: Some(of), goes_in: Some(goes_in), why } = &record.listed.draft else {
                continue;
            };
            let held = HoldBack { of: of.clone(), goes_in: *goes_in, why: why.clone() };
            let before = self.faults.len();
            texts(&record, &[("why", why.as_deref(), MOST_TEXT)], &mut self.faults);
            if self.holds(&record, known, of, None) && self.faults.len() == before {
                self.house.hold_backs.insert(of.clone(), held);
            }
        }
        for record in self.drafts::<TastingDraft>(RecordKind::Tasting) {
            self.house.tastings.extend(tasting(&record, known, &mut self.faults));
        }
        for record in self.drafts::<Weighing>(RecordKind::Weighing) {
            self.house.weighings.push(record.listed.draft);
        }
        self.house.measures =
            self.drafts::<Measures>(RecordKind::Measures).pop().map(|record| record.listed.draft);
    }

    /// Whether what a fact is of is known, and its note can be shown.
    fn holds<D: Draft>(
        &mut self,
        record: &Record<'_, D>,
        known: &Known,
        of: &IngredientId,
        note: Option<&str>,
    ) -> bool {
        let before = self.faults.len();
        known.ingredient(record, of, &mut self.faults);
        texts(record, &[("note", note, MOST_TEXT)], &mut self.faults);
        self.faults.len() == before
    }
}

fn tasting(record: &Record<'_, TastingDraft>, known: &Known, faults: &mut Vec<Fault>) -> Option<Tasting> {
    let before = faults.len();
    let draft = &record.listed.draft;
    let (of, on) = (draft.of.clone()?, draft.on.clone()?);
    if let TastedThing::Pair(a, b) = &of {
        for id in [a, b] {
            known.ingredient(record, id, faults);
        }
    }
    for told in &draft.told {
        for id in [&told.0, &told.1] {
            known.ingredient(record, id, faults);
        }
        if told.0 == told.1 {
            let problem = Problem::WithItself { id: told.0.to_string() };
            faults.push(record.fault(Some(&quoted(&told.0)), problem));
        }
    }
    if on.parse::<jiff::civil::Date>().is_err() {
        let why = format!("'{on}' is not a day: write it like 2026-11-27");
        faults.push(record.fault(Some("on"), Problem::BadText { field: "on", why }));
    }
    let other = if let TastedThing::Other(name) = &of { Some(name.as_str()) } else { None };
    let told = [
        ("of", other, MOST_NAME),
        ("words", draft.words.as_deref(), MOST_TEXT),
        ("by", draft.by.as_deref(), MOST_NAME),
    ];
    texts(record, &told, faults);
    if faults.len() > before {
        return None;
    }
    Some(Tasting {
        id: draft.id.clone()?,
        of,
        score: draft.score?,
        words: draft.words.clone(),
        by: draft.by.clone(),
        on,
        told: draft.told.clone(),
    })
}

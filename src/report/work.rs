//! A drink in hand: as it is, before and after a step, beside another, and its steps.

use serde_json::{Value, json};

use super::balance::{capital, figures_data, line_data};
use super::describe::garnish_words;
use super::noticed::{noticed_data, noticed_words};
use super::phrase::{View, affinity, facet_names, listed, note_of};
use super::riffs::{allergen_words, comes_to, facet_words, figures_table, push_figures, with_cautions};
use super::{Cell, Column, Report, Table, Tone};
use crate::book::{Book, IngredientId};
use crate::drink::{Figures, Line, Spec, Step, Work};
use crate::measure::{Amount, HouseUnit};
use crate::riff::{ClashFound, Newcomer, SideBySide};

/// A drink in hand and what it comes to.
#[derive(Debug, Clone)]
pub struct InHand<'a, 'b> {
    /// The command that is answered.
    pub command: &'static str,
    /// The work.
    pub work: &'a Work,
    /// The drink as it is now.
    pub spec: Spec<'b>,
    /// Its figures.
    pub figures: Figures,
    /// Remarks that go below.
    pub notes: Vec<String>,
}

/// The drink in hand as it is.
pub fn in_hand(book: &Book, hand: &InHand<'_, '_>, clashes: &[ClashFound<'_>], view: View) -> Report {
    let InHand { spec, figures, .. } = hand;
    let mut data = hand_data(hand);
    data["clashes"] = json!(clashes.iter().map(clash_data).collect::<Vec<_>>());
    let report = Report::new(capital(&spec.name), data);
    let pairs = spec.lines.iter().map(|l| (None, Some(l)));
    let facts = vec![("made".to_owned(), way_words(spec)), ("comes to".to_owned(), comes_to(figures, view))];
    let report = report.table(lines_table(pairs, "", view)).facts(facts);
    let report = hand.notes.iter().fold(report, |report, note| report.note(note.clone()));
    let mut report = clashes.iter().fold(report, |report, clash| report.note(clash_words(clash)));
    let allergens: Vec<&str> = spec.allergens().into_iter().map(|a| a.name()).collect();
    if !allergens.is_empty() {
        report = report.note(format!("allergens: {}", allergens.join(", ")));
    }
    with_cautions(report, book, spec.cautions().into_iter())
}

/// What a step did: the drink, the figures before and after, and what that means.
pub fn stepped(
    book: &Book,
    hand: &InHand<'_, '_>,
    what: &str,
    beside: &SideBySide<'_>,
    view: View,
) -> Report {
    let mut data = hand_data(hand);
    data["what"] = json!(what);
    add_beside(&mut data, beside);
    let report = Report::new(format!("{}: {what}", capital(&hand.spec.name)), data);
    // As the drink is read now, and what went below it.
    let now = hand.spec.lines.iter().map(|line| {
        let is_it = |a: &&(Option<Line<'_>>, Option<Line<'_>>)| {
            a.1.as_ref().is_some_and(|l| l.ingredient.id == line.ingredient.id)
        };
        (Some(beside.lines.iter().find(is_it).and_then(|(old, _)| old.as_ref())), Some(line))
    });
    let gone =
        beside.lines.iter().filter(|(_, new)| new.is_none()).map(|(old, _)| (Some(old.as_ref()), None));
    let came = if hand.command == "undo" { "back" } else { "new" };
    let report = report.table(lines_table(now.chain(gone), came, view));
    let report = report.facts(vec![("made".to_owned(), way_words(&hand.spec))]);
    let report = report.table(before_and_after(beside, ("before", "after"), view));
    let report = remarks(report, book, beside, view);
    hand.notes.iter().fold(report, |report, note| report.note(note.clone()))
}

/// The drink in hand beside another.
pub fn beside(book: &Book, hand: &InHand<'_, '_>, beside: &SideBySide<'_>, view: View) -> Report {
    let mut data = hand_data(hand);
    data["with"] = json!({
        "name": beside.before.name,
        "method": beside.before.method.name(),
        "lines": beside.before.lines.iter().map(line_data).collect::<Vec<_>>(),
        "figures": figures_data(&beside.figures.0),
    });
    add_beside(&mut data, beside);
    let (own, other) = names_apart(&beside.after.name, &beside.before.name);
    let title = format!(
        "{}: beside {}",
        capital(&hand.spec.name),
        if own == YOURS { "the drink it came from" } else { &other }
    );
    let mut table = Table::new([Column::flexible(&other), Column::flexible(&own), Column::left("")]);
    let shown = |line: &Option<Line<'_>>| {
        line.as_ref()
            .map_or("none".to_owned(), |l| format!("{} {}", l.amount.shown(view.unit), l.ingredient.name))
    };
    for (before, after) in &beside.lines {
        let (left, right) = (shown(before), shown(after));
        let mark = if left == right { "" } else { "differs" };
        table.push([left.into(), Cell::new(right, Tone::Strong), Cell::new(mark, Tone::Quiet)]);
    }
    let (left, right) = (way_words(&beside.before), way_words(&beside.after));
    let mark = if left == right { "" } else { "differs" };
    table.push([left.into(), right.into(), Cell::new(mark, Tone::Quiet)]);
    let report = Report::new(title, data).table(table);
    let report = report.table(before_and_after(beside, (&other, &own), view));
    let report = remarks(report, book, beside, view);
    hand.notes.iter().fold(report, |report, note| report.note(note.clone()))
}

/// The steps taken, and those taken back, each with what the drink then came to.
pub fn steps(hand: &InHand<'_, '_>, all: &[(String, Option<Figures>)]) -> Report {
    let mut data = hand_data(hand);
    data["list"] = json!(
        all.iter()
            .map(|(what, figures)| json!({ "what": what, "figures": figures.as_ref().map(figures_data) }))
            .collect::<Vec<_>>()
    );
    let done = hand.work.done().len();
    let mut table = Table::new([
        Column::right(""),
        Column::flexible("step"),
        Column::right("% vol"),
        Column::right("sugar g/L"),
        Column::right("acid g/L"),
        Column::left(""),
    ]);
    for (index, (what, figures)) in all.iter().enumerate() {
        let figure = |of: fn(&Figures) -> String| figures.as_ref().map_or_else(|| "none".to_owned(), of);
        let mark = match index {
            i if i == done => "now",
            i if i > done => "taken back",
            _ => "",
        };
        table.push([
            index.to_string(),
            what.clone(),
            figure(super::phrase::strength),
            figure(super::phrase::sugar),
            figure(super::phrase::acid),
            mark.to_owned(),
        ]);
    }
    let report = Report::new(format!("{}: the steps", capital(&hand.spec.name)), data).table(table);
    let hints = match (done, hand.work.undone().len()) {
        (0, 0) => "no step was taken yet: put, amount, add, drop, method and name are steps",
        (0, _) => "'redo' takes the next one again",
        (_, 0) => "'undo' takes the last one back",
        _ => "'undo' takes the last one back, 'redo' takes the next one again",
    };
    report.note(hints)
}

/// A step in words: `mezcal for blanco tequila`.
pub fn step_words(book: &Book, step: &Step) -> String {
    let name =
        |id: &IngredientId| book.ingredient(id).map_or_else(|| id.as_str().to_owned(), |i| i.name.clone());
    match step {
        Step::Put { from, to } => format!("{} for {}", name(to), name(from)),
        Step::Amount { of, from, to } => {
            format!("{} {}, was {}", as_typed(*to), name(of), as_typed(*from))
        }
        Step::Add { what, amount } => format!("{} {} added", as_typed(*amount), name(what)),
        Step::Drop { what, amount } => format!("{} {} dropped", as_typed(*amount), name(what)),
        Step::Bare { what, form } => format!("{} dropped", format!("{} {form}", name(what)).trim()),
        Step::Method { from, to } => format!("{to}, was {from}"),
        Step::Name { from, to } => format!("named {to}, was {from}"),
        Step::Take { from } => format!("{from} taken over"),
    }
}

/// An amount in the units it was typed in: a step says what a person said.
fn as_typed(amount: Amount) -> String {
    let unit = if amount.unit().is_metric() { HouseUnit::Millilitre } else { HouseUnit::Ounce };
    amount.shown(unit).to_string()
}

/// Two names that can head two columns, the drink in hand's first.
fn names_apart(own: &str, other: &str) -> (String, String) {
    if own == other {
        (YOURS.to_owned(), "as it came".to_owned())
    } else {
        (own.to_owned(), other.to_owned())
    }
}

/// The head of a column for the drink in hand, where the other has the same name.
const YOURS: &str = "yours";

/// Lines with what stood there before, where that is known: an inner none is a line that came.
fn lines_table<'l, 'b: 'l>(
    pairs: impl Iterator<Item = (Option<Option<&'l Line<'b>>>, Option<&'l Line<'b>>)>,
    came: &str,
    view: View,
) -> Table {
    let mut table = Table::new([Column::right("amount"), Column::left("ingredient"), Column::flexible("")]);
    for (before, after) in pairs {
        let words = |l: &Line<'_>| format!("{} {}", l.amount.shown(view.unit), l.ingredient.name);
        let Some(line) = after else {
            let gone = before.flatten().map_or_else(String::new, words);
            table.push([Cell::from(""), Cell::new("", Tone::Quiet), format!("gone: {gone}").into()]);
            continue;
        };
        let was = match before {
            Some(None) => came.to_owned(),
            Some(Some(old)) if old.ingredient.id != line.ingredient.id => format!("was {}", words(old)),
            Some(Some(old)) if old.amount != line.amount => format!("was {}", old.amount.shown(view.unit)),
            None | Some(Some(_)) => String::new(),
        };
        table.push([
            Cell::from(line.amount.shown(view.unit).to_string()),
            Cell::new(line.ingredient.name.clone(), Tone::Strong),
            was.into(),
        ]);
    }
    table
}

/// `shaken; lime wheel`.
fn way_words(spec: &Spec<'_>) -> String {
    let garnish = garnish_words(spec);
    if garnish.is_empty() { spec.method.to_string() } else { format!("{}; {garnish}", spec.method) }
}

fn before_and_after(beside: &SideBySide<'_>, (before, after): (&str, &str), view: View) -> Table {
    let (first, second) = &beside.figures;
    let mut table = figures_table(first, before, view);
    push_figures(&mut table, after.to_owned(), second, Some(beside.distance), view);
    table
}

/// What the change means, and what it brings that a guest must know.
fn remarks(report: Report, book: &Book, beside: &SideBySide<'_>, view: View) -> Report {
    let mut report = report.note(noticed_words(beside.noticed, (&beside.figures.0, &beside.figures.1), view));
    for newcomer in &beside.newcomers {
        report = report.note(newcomer_words(newcomer));
    }
    for clash in &beside.clashes_gained {
        report = report.note(clash_words(clash));
    }
    for clash in &beside.clashes_lost {
        report =
            report.note(format!("{} and {} no longer clash in it", clash.pair.0.name, clash.pair.1.name));
    }
    if let Some(words) = allergen_words(&beside.allergens_gained, &beside.allergens_lost) {
        report = report.note(words);
    }
    with_cautions(report, book, beside.cautions_gained.iter().copied())
}

/// Pairs of a newcomer that are told.
const PAIRS_TOLD: usize = 2;

/// `mezcal: more smoke; less green; goes with lime juice 0.85, sharp on smoke; nothing known of it beside honey syrup`.
fn newcomer_words(newcomer: &Newcomer<'_>) -> String {
    let mut parts: Vec<String> = facet_words(&newcomer.gained, &newcomer.lost).into_iter().collect();
    let ties: Vec<String> = newcomer
        .ties
        .iter()
        .take(PAIRS_TOLD)
        .map(|tie| {
            let note = note_of(tie).map_or(String::new(), |n| format!(", {n}"));
            format!("{} {}{note}", tie.other.name, affinity(tie.affinity.value()))
        })
        .collect();
    if !ties.is_empty() {
        parts.push(format!("goes with {}", ties.join("; ")));
    }
    if !newcomer.unknown.is_empty() {
        let names: Vec<&str> = newcomer.unknown.iter().map(|i| i.name.as_str()).collect();
        parts.push(format!("nothing known of it beside {}", listed(&names)));
    }
    let words =
        if parts.is_empty() { "tastes much like what it stands for".to_owned() } else { parts.join("; ") };
    format!("{}: {words}", newcomer.ingredient.name)
}

fn clash_words(clash: &ClashFound<'_>) -> String {
    let why = clash.note.map_or_else(String::new, |n| format!(": {n}"));
    format!("{} and {} clash{why}", clash.pair.0.name, clash.pair.1.name)
}

fn hand_data(hand: &InHand<'_, '_>) -> Value {
    let InHand { spec, work, .. } = hand;
    json!({
        "ok": true,
        "command": hand.command,
        "name": spec.name,
        "from": work.origin().name,
        "family": spec.family.map(|f| f.name()),
        "method": spec.method.name(),
        "lines": spec.lines.iter().map(line_data).collect::<Vec<_>>(),
        "garnish": garnish_words(spec),
        "figures": figures_data(&hand.figures),
        "allergens": spec.allergens().iter().map(|a| a.name()).collect::<Vec<_>>(),
        "cautions": spec.cautions().iter().map(|c| c.as_str()).collect::<Vec<_>>(),
        "steps": work.done().len(),
        "taken_back": work.undone().len(),
        "notes": hand.notes,
    })
}

fn add_beside(data: &mut Value, beside: &SideBySide<'_>) {
    data["before"] = figures_data(&beside.figures.0);
    data["distance"] = json!(beside.distance);
    data["noticed"] = noticed_data(beside.noticed);
    data["newcomers"] = json!(beside.newcomers.iter().map(newcomer_data).collect::<Vec<_>>());
    data["allergens_gained"] = json!(beside.allergens_gained.iter().map(|a| a.name()).collect::<Vec<_>>());
    data["allergens_lost"] = json!(beside.allergens_lost.iter().map(|a| a.name()).collect::<Vec<_>>());
    data["cautions_gained"] = json!(beside.cautions_gained.iter().map(|c| c.as_str()).collect::<Vec<_>>());
    data["clashes_gained"] = json!(beside.clashes_gained.iter().map(clash_data).collect::<Vec<_>>());
    data["clashes_lost"] = json!(beside.clashes_lost.iter().map(clash_data).collect::<Vec<_>>());
}

fn clash_data(clash: &ClashFound<'_>) -> Value {
    json!({ "pair": [clash.pair.0.id.as_str(), clash.pair.1.id.as_str()], "note": clash.note })
}

fn newcomer_data(newcomer: &Newcomer<'_>) -> Value {
    json!({
        "id": newcomer.ingredient.id.as_str(),
        "name": newcomer.ingredient.name,
        "gained_facets": facet_names(&newcomer.gained),
        "lost_facets": facet_names(&newcomer.lost),
        "pairs": newcomer.ties.iter().map(|t| json!({
            "with": t.other.id.as_str(),
            "affinity": t.affinity.value(),
            "note": note_of(t),
        })).collect::<Vec<_>>(),
        "unknown_with": newcomer.unknown.iter().map(|i| i.id.as_str()).collect::<Vec<_>>(),
    })
}

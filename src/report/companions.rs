//! What goes with what, as a report.

use serde_json::{Value, json};

use super::phrase::{View, affinity, counted, facet_names, listed, note_of, season_words};
use super::said::{said_data, said_words};
use super::{Cell, Column, Report, Table, Tone};
use crate::book::{Diet, Ingredient};
use crate::measure::Affinity;
use crate::pairing::{Clashing, Companion, Companions, Ruled, shared_facets, strongest_facets};

/// The companions of a set.
pub fn companions(found: &Companions<'_>, view: View, show_clashes: bool) -> Report {
    let names: Vec<&str> = found.set.iter().map(|i| i.name.as_str()).collect();
    let mut report = Report::new(format!("What goes with {}", listed(&names)), data(found, view));
    for clash in &found.within {
        report =
            report.note(format!("{} and {} clash{}", clash.ingredient.name, clash.with.name, because(clash)));
    }
    if found.found.is_empty() {
        report = report.text(nothing(found, &names));
    } else {
        report = report.table(table(found, view));
    }
    if found.total > found.found.len() {
        report = report.note(format!(
            "{} of {}; --limit shows more, --kind and --role narrow it",
            counted(found.found.len(), "companion", "companions"),
            found.total
        ));
    }
    if let Some(words) = ruled_out(found) {
        report = report.note(words);
    }
    if !found.nearly.is_empty() {
        let nearly: Vec<String> = found
            .nearly
            .iter()
            .take(6)
            .map(|n| {
                format!(
                    "{} ({}; inferred {} with {})",
                    n.ingredient.name,
                    affinity(n.score),
                    affinity(n.inferred.value()),
                    n.unknown.name
                )
            })
            .collect();
        report = report.note(format!("with all but one: {}", listed(&nearly)));
    }
    if show_clashes {
        report = report.heading("Clashes");
        report = if found.clashes.is_empty() {
            report.text("The book knows of none.")
        } else {
            let mut table =
                Table::new([Column::left("ingredient"), Column::left("with"), Column::flexible("why")]);
            for clash in &found.clashes {
                let why = clash.edge.note.as_deref().unwrap_or_default().to_owned();
                table.push([clash.ingredient.name.clone(), clash.with.name.clone(), why]);
            }
            report.table(table)
        };
    } else if !found.clashes.is_empty() {
        let names: Vec<&str> = found.clashes.iter().map(|c| c.ingredient.name.as_str()).collect();
        report = report.note(format!("clashes with {}", listed(&names)));
    }
    report
}

/// What should go with an ingredient although the book does not say so.
pub fn expected(of: &Ingredient, found: &[(&Ingredient, Affinity)]) -> Report {
    let data = json!({
        "ok": true,
        "command": "pairs",
        "of": [named(of)],
        "inferred": found.iter().map(|(i, inferred)| json!({
            "id": i.id.as_str(),
            "name": i.name,
            "kind": i.kind.name(),
            "affinity": inferred.value(),
            "shared_facets": facet_names(&shared_facets(i, &[of])),
        })).collect::<Vec<_>>(),
    });
    let mut report = Report::new(format!("What may go with {}, not in the book", of.name), data);
    if found.is_empty() {
        return report.text("Nothing: the book has an affinity or a clash for all that you asked for.");
    }
    let columns = [
        Column::left("might go with"),
        Column::left("kind"),
        Column::right("inferred"),
        Column::flexible("why"),
    ];
    let mut table = Table::new(columns).numbered();
    for (ingredient, inferred) in found {
        let shared = shared_facets(ingredient, &[of]);
        let why = match facet_names(&shared).as_slice() {
            [] => "keeps like company".to_owned(),
            shared => format!("both {}; keeps like company", listed(shared)),
        };
        table.push([
            Cell::new(ingredient.name.clone(), Tone::Strong),
            Cell::new(ingredient.kind.name(), Tone::Quiet),
            affinity(inferred.value()).into(),
            why.into(),
        ]);
    }
    report = report.table(table);
    report.note("inferred from what is like the two and from the company they keep: 0.45 at most; taste before you pour")
}

fn because(clash: &Clashing<'_>) -> String {
    clash.edge.note.as_ref().map_or(String::new(), |note| format!(": {note}"))
}

fn nothing(found: &Companions<'_>, names: &[&str]) -> String {
    let ruled: usize = found.ruled_out.values().sum();
    if ruled > 0 {
        format!("Nothing that you asked for goes with {}.", listed(names))
    } else if names.len() > 1 {
        format!("The book knows nothing that goes with all of {}. Ask with one fewer.", listed(names))
    } else {
        format!("The book knows nothing that goes with {}.", listed(names))
    }
}

fn ruled_out(found: &Companions<'_>) -> Option<String> {
    let parts: Vec<String> = found
        .ruled_out
        .iter()
        .map(|(reason, count)| match reason {
            Ruled::Kind => format!("{count} of another kind"),
            Ruled::Role => format!("{count} in another role"),
            Ruled::Season => format!("{count} out of season"),
            Ruled::Unwanted => format!("{count} not wanted"),
            Ruled::NotHad => format!("{count} not there"),
            Ruled::Out => format!("{count} that ran out"),
            Ruled::Allergen(allergen) => format!("{count} with {allergen}"),
            Ruled::Diet(diet) => format!("{count} {}", unfit_words(*diet)),
        })
        .collect();
    (!parts.is_empty()).then(|| format!("left out: {}", listed(&parts)))
}

/// `not vegan`, `with alcohol`.
pub(super) fn unfit_words(diet: Diet) -> String {
    if diet == Diet::NoAlcohol { "with alcohol".to_owned() } else { format!("not {diet}") }
}

fn table(found: &Companions<'_>, view: View) -> Table {
    let several = found.set.len() > 1;
    let mut columns = vec![Column::left("goes with")];
    if !several {
        columns.push(Column::left("kind"));
    }
    columns.push(Column::right("affinity"));
    if several {
        columns.push(Column::right("each"));
    }
    columns.push(Column::flexible("why"));
    let mut table = Table::new(columns).numbered();
    for companion in &found.found {
        let mut cells = vec![Cell::new(companion.ingredient.name.clone(), Tone::Strong)];
        if !several {
            cells.push(Cell::new(companion.ingredient.kind.name(), Tone::Quiet));
        }
        cells.push(affinity(companion.score).into());
        if several {
            let each: Vec<String> = companion.ties.iter().map(|t| affinity(t.affinity.value())).collect();
            cells.push(Cell::new(each.join(" "), Tone::Quiet));
        }
        cells.push(why(companion, several, view).into());
        table.push(cells);
    }
    table
}

fn why(companion: &Companion<'_>, several: bool, view: View) -> String {
    let mut parts: Vec<String> = Vec::new();
    // One reason is enough on a line: that of the pair that carries it most.
    let strongest = companion.ties.iter().filter(|t| note_of(t).is_some()).max_by_key(|t| t.affinity);
    if let Some((tie, note)) = strongest.and_then(|t| note_of(t).map(|n| (t, n))) {
        parts.push(if several { format!("{}: {note}", tie.other.name) } else { note.to_owned() });
    }
    if parts.is_empty() {
        parts.push(match companion.shared.as_slice() {
            [] => contrast(companion),
            shared => format!("both {}", listed(&facet_names(shared))),
        });
    }
    parts.extend(companion.ties.iter().filter_map(|t| {
        let words = said_words(t.edge)?;
        Some(if several { format!("{}: {words}", t.other.name) } else { words })
    }));
    parts.extend(season_words(companion.ingredient, view).map(str::to_owned));
    parts.join("; ")
}

/// What meets what where no facet is shared.
fn contrast(companion: &Companion<'_>) -> String {
    let first = |i: &Ingredient| strongest_facets(i, 1).first().map(|f| f.name());
    let theirs = companion.ties.iter().find_map(|t| first(t.other));
    match (first(companion.ingredient), theirs) {
        (Some(own), Some(other)) if own != other => format!("{own} against {other}"),
        (None, Some(other)) => format!("leaves {other} alone"),
        _ => "no facet shared".to_owned(),
    }
}

pub(super) fn named(ingredient: &Ingredient) -> Value {
    json!({ "id": ingredient.id.as_str(), "name": ingredient.name })
}

fn data(found: &Companions<'_>, view: View) -> Value {
    let companions: Vec<Value> = found
        .found
        .iter()
        .map(|c| {
            let ties: Vec<Value> = c
                .ties
                .iter()
                .map(|t| {
                    json!({
                        "with": t.other.id.as_str(),
                        "affinity": t.affinity.value(),
                        "note": t.edge.note,
                        "origin": t.edge.origin.to_string(),
                        "house": said_data(t.edge),
                    })
                })
                .collect();
            json!({
                "id": c.ingredient.id.as_str(),
                "name": c.ingredient.name,
                "kind": c.ingredient.kind.name(),
                "score": c.score,
                "pairs": ties,
                "shared_facets": facet_names(&c.shared),
                "season": season_words(c.ingredient, view),
            })
        })
        .collect();
    let clash = |c: &Clashing<'_>| {
        json!({
            "id": c.ingredient.id.as_str(),
            "name": c.ingredient.name,
            "with": c.with.id.as_str(),
            "note": c.edge.note,
        })
    };
    json!({
        "ok": true,
        "command": "pairs",
        "of": found.set.iter().map(|i| named(i)).collect::<Vec<_>>(),
        "total": found.total,
        "companions": companions,
        "nearly": found.nearly.iter().map(|n| json!({
            "id": n.ingredient.id.as_str(),
            "name": n.ingredient.name,
            "score": n.score,
            "unknown_with": n.unknown.id.as_str(),
            "inferred": n.inferred.value(),
        })).collect::<Vec<_>>(),
        "clashes": found.clashes.iter().map(clash).collect::<Vec<_>>(),
        "clashes_within": found.within.iter().map(clash).collect::<Vec<_>>(),
    })
}

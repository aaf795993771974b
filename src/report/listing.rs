//! What the book holds, as a report.

use std::collections::BTreeMap;

use serde_json::json;

use super::phrase::counted;
use super::{Cell, Column, Report, Table, Tone};
use crate::book::{Book, Facet, Family, Kind};
use crate::drink::{Figures, House, Spec, figures};
use crate::pairing::Graph;

/// How much of everything there is.
pub fn contents(graph: &Graph<'_>, packs: &[String]) -> Report {
    let book = graph.book();
    let data = json!({
        "ok": true,
        "command": "list",
        "packs": packs,
        "ingredients": book.ingredients().len(),
        "affinities": graph.affinity_count(),
        "clashes": graph.clash_count(),
        "templates": book.templates().len(),
        "preps": book.preps().len(),
        "cautions": book.cautions().len(),
    });
    let fact = |label: &str, value: usize| (label.to_owned(), value.to_string());
    Report::new("What the book holds", data)
        .facts(vec![
            ("packs".to_owned(), packs.join(", ")),
            fact("ingredients", book.ingredients().len()),
            fact("affinities", graph.affinity_count()),
            fact("clashes", graph.clash_count()),
            fact("templates", book.templates().len()),
            fact("preps", book.preps().len()),
            fact("cautions", book.cautions().len()),
        ])
        .note(
            "list ingredients, list templates, list specs, list preps, list kinds, list facets, list families show each",
        )
}

/// Every ingredient, by kind; or those of one kind.
pub fn ingredients(book: &Book, only: Option<Kind>) -> Report {
    let mut by_kind: BTreeMap<Kind, Vec<&crate::book::Ingredient>> = BTreeMap::new();
    for ingredient in book.ingredients().iter().filter(|i| only.is_none_or(|k| i.kind == k)) {
        by_kind.entry(ingredient.kind).or_default().push(ingredient);
    }
    let count: usize = by_kind.values().map(Vec::len).sum();
    let data = json!({
        "ok": true,
        "command": "list",
        "ingredients": by_kind.values().flatten().map(|i| json!({
            "id": i.id.as_str(), "name": i.name, "kind": i.kind.name(),
        })).collect::<Vec<_>>(),
    });
    let mut report = Report::new(counted(count, "ingredient", "ingredients"), data);
    for (kind, mut group) in by_kind {
        group.sort_by(|a, b| a.name.cmp(&b.name));
        let names: Vec<&str> = group.iter().map(|i| i.name.as_str()).collect();
        report = report.heading(format!("{kind}, {}", names.len())).text(names.join(", "));
    }
    report
}

/// Every template, by family.
pub fn templates(book: &Book) -> Report {
    let data = json!({
        "ok": true,
        "command": "list",
        "templates": by_family(book).iter().map(|(family, t)| json!({
            "id": t.id.as_str(), "name": t.name, "family": family.name(), "method": t.method.name(),
        })).collect::<Vec<_>>(),
    });
    let title = counted(book.templates().len(), "template", "templates");
    let mut table =
        Table::new([Column::left("name"), Column::left("family"), Column::flexible("what it is")]).numbered();
    for (family, template) in by_family(book) {
        table.push([
            Cell::new(template.name.clone(), Tone::Strong),
            Cell::new(family.name(), Tone::Quiet),
            template.essence.clone().into(),
        ]);
    }
    Report::new(title, data).table(table)
}

/// Drinks that the house kept, by family and id.
pub fn specs(book: &Book) -> Report {
    let all: Vec<_> = by_family(book).into_iter().filter(|(_, t)| t.kept).collect();
    let from =
        |t: &crate::book::Template| t.from.as_ref().and_then(|id| book.template(id)).map(|t| t.name.clone());
    let data = json!({
        "ok": true,
        "command": "list",
        "specs": all.iter().map(|(family, t)| json!({
            "id": t.id.as_str(), "name": t.name, "family": family.name(), "method": t.method.name(),
            "from": t.from.as_ref().map(|id| id.as_str()),
        })).collect::<Vec<_>>(),
    });
    let report = Report::new(counted(all.len(), "drink of the house", "drinks of the house"), data);
    if all.is_empty() {
        return report.text("None is kept yet: 'save Weir Sour' keeps the drink in hand.");
    }
    let mut table = Table::new([
        Column::left("name"),
        Column::left("family"),
        Column::left("from"),
        Column::flexible("what it is"),
    ])
    .numbered();
    for (family, template) in all {
        table.push([
            Cell::new(template.name.clone(), Tone::Strong),
            Cell::new(family.name(), Tone::Quiet),
            Cell::from(from(template).unwrap_or_default()),
            template.essence.clone().into(),
        ]);
    }
    report.table(table)
}

/// Templates in the order they are listed: by family, then by id.
pub fn by_family(book: &Book) -> Vec<(Family, &crate::book::Template)> {
    let mut all: Vec<_> = book.templates().iter().map(|t| (t.family, t)).collect();
    all.sort_by(|a, b| a.0.cmp(&b.0).then_with(|| a.1.id.cmp(&b.1.id)));
    all
}

/// Every kind, with how many ingredients it has.
pub fn kinds(book: &Book) -> Report {
    let count = |kind: Kind| book.ingredients().iter().filter(|i| i.kind == kind).count();
    let rows: Vec<(String, String)> =
        Kind::ALL.iter().map(|k| (k.name().to_owned(), count(*k).to_string())).collect();
    let data = json!({
        "ok": true,
        "command": "list",
        "kinds": Kind::ALL.iter().map(|k| json!({ "name": k.name(), "ingredients": count(*k) })).collect::<Vec<_>>(),
    });
    Report::new("Kinds of ingredient", data).facts(rows)
}

/// Every facet, with the ingredients that have most of it.
pub fn facets(book: &Book) -> Report {
    let loudest = |facet: Facet| -> Vec<&str> {
        let mut all: Vec<(f64, &str)> = book
            .ingredients()
            .iter()
            .filter_map(|i| i.facets.get(&facet).map(|g| (g.value(), i.name.as_str())))
            .collect();
        all.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
        all.into_iter().take(3).map(|(_, name)| name).collect()
    };
    let data = json!({
        "ok": true,
        "command": "list",
        "facets": Facet::ALL.iter().map(|f| json!({ "name": f.name(), "most_in": loudest(*f) })).collect::<Vec<_>>(),
    });
    let rows = Facet::ALL.iter().map(|f| (f.name().to_owned(), loudest(*f).join(", "))).collect();
    Report::new("Facets, and what has most of each", data).facts(rows)
}

/// Every family, with how many templates it has and where they lie.
pub fn families(book: &Book, house: &House) -> Report {
    let mut table = Table::new([
        Column::left("family"),
        Column::right("templates"),
        Column::right("% vol"),
        Column::right("sugar g/L"),
        Column::right("acid g/L"),
    ]);
    let mut rows = Vec::new();
    for family in Family::ALL {
        let all: Vec<Figures> = book
            .templates()
            .iter()
            .filter(|t| t.family == *family && !t.kept)
            .filter_map(|t| figures(&Spec::of_template(book, t, house)).ok())
            .collect();
        let span = |value: fn(&Figures) -> f64, digits: usize| {
            let least = all.iter().map(value).fold(f64::INFINITY, f64::min);
            let most = all.iter().map(value).fold(f64::NEG_INFINITY, f64::max);
            if all.is_empty() { String::new() } else { format!("{least:.digits$} to {most:.digits$}") }
        };
        table.push([
            family.name().to_owned(),
            all.len().to_string(),
            span(|f| f.strength.percent_vol(), 0),
            span(|f| f.sugar.grams_per_litre(), 0),
            span(|f| f.acid.grams_per_litre(), 1),
        ]);
        rows.push(json!({ "name": family.name(), "templates": all.len() }));
    }
    let data = json!({ "ok": true, "command": "list", "families": rows });
    Report::new("Families, and where their classics lie", data).table(table)
}

//! Everything known of one ingredient or template, as a report.

use serde_json::{Value, json};

use super::balance::{figures_data, figures_facts};
use super::phrase::{View, affinity, counted, listed, months_words, note_of, presence_words};
use super::prep::{keeping_data, keeping_words, making_data, with_making};
use super::said::{bar_facts, said_words, whose_data, whose_words};
use super::seasons::year_of;
use super::{Cell, Column, Tone};
use super::{Report, Table};
use crate::book::{
    Book, Caution, CautionId, Flesh, Ingredient, Makeup, RecordKind, Spread, Template, When, Yield,
};
use crate::drink::{Figures, Made, Spec, contents_of};
use crate::liquid::{Parts, freezing};
use crate::measure::{Concentration, Volume};
use crate::pairing::{Graph, Tie, strongest_facets};

/// How many companions are named where an ingredient is shown.
const COMPANIONS: usize = 8;

/// Everything known of an ingredient, with how it is made, where the book has a preparation of it.
pub fn ingredient(graph: &Graph<'_>, ingredient: &Ingredient, made: Option<&Made<'_>>, view: View) -> Report {
    let book = graph.book();
    let ties = graph.ties(&ingredient.id);
    let clashes = graph.clashes(&ingredient.id);
    let fact = |label: &str, value: String| (label.to_owned(), value);
    let mut facts = vec![fact("kind", ingredient.kind.name().to_owned())];
    if !ingredient.aliases.is_empty() {
        facts.push(fact("also", ingredient.aliases.join(", ")));
    }
    if !ingredient.roles.is_empty() {
        facts.push(fact("can be", listed(&ingredient.roles.iter().map(|r| r.name()).collect::<Vec<_>>())));
    }
    if let Some(makeup) = &ingredient.makeup {
        facts.push(fact("makeup", makeup_words(makeup)));
        facts.extend(weight_words(makeup).map(|words| fact("weighs", words)));
    }
    if !ingredient.spread.is_empty() {
        facts.push(fact("sources differ", spread_words(&ingredient.spread)));
    }
    if let Some(flesh) = &ingredient.flesh {
        facts.push(fact("100 g hold", flesh_words(flesh)));
    }
    if let Some(juice) = &ingredient.juice {
        facts.push(fact("a piece gives", juice_words(book, juice, view)));
    }
    if let Some(keeps) = &ingredient.keeps {
        facts.push(fact("keeps", keeping_words(keeps)));
    }
    facts.extend(bar_facts(book, &ingredient.id));
    facts.push(fact("flavour", flavour_words(ingredient)));
    let from: Vec<&str> = book.sources_of(ingredient).map(|i| i.name.as_str()).collect();
    if !from.is_empty() {
        facts.push(fact("made from", listed(&from)));
    }
    let forms: Vec<&str> = book.forms_of(ingredient).map(|i| i.name.as_str()).collect();
    if !forms.is_empty() {
        facts.push(fact("comes as", forms.join(", ")));
    }
    facts.push(fact("allergens", allergen_words(ingredient)));
    facts.push(fact("suits", none_or(&ingredient.diet.iter().map(|d| d.name()).collect::<Vec<_>>())));
    facts.push(fact("season", months_words(ingredient.season_in(view.when.climate), view.when.hemisphere)));
    let mut report =
        Report::new(ingredient.name.clone(), ingredient_data(graph, ingredient, made, view)).facts(facts);
    if ingredient.is_fresh_in(view.when.climate) {
        report = report.year(year_of(ingredient, view));
    }
    if let Some(made) = made {
        report = with_making(report, made, view);
    }
    if !ties.is_empty() {
        let words: Vec<String> = ties.iter().take(COMPANIONS).map(tie_words).collect();
        report = report
            .heading(format!("Goes with {}, best first", counted(ties.len(), "ingredient", "ingredients")))
            .text(words.join("; "));
    }
    if !clashes.is_empty() {
        let words: Vec<String> = clashes
            .iter()
            .map(|(other, edge)| {
                edge.note.as_ref().map_or_else(|| other.name.clone(), |n| format!("{} ({n})", other.name))
            })
            .collect();
        report = report.note(format!("clashes with {}", listed(&words)));
    }
    let of_making = made.into_iter().flat_map(|m| m.cautions.iter().copied());
    for caution in cautions(book, ingredient.cautions.iter().chain(of_making)) {
        report = report.caution(caution.text.clone());
    }
    if let Some(words) = whose_words(book, RecordKind::Ingredient, ingredient.id.as_str()) {
        report = report.note(words);
    }
    report.note(format!("where this comes from: {}", origin_words(ingredient)))
}

fn tie_words(tie: &Tie<'_>) -> String {
    let words: Vec<String> =
        note_of(tie).map(str::to_owned).into_iter().chain(said_words(tie.edge)).collect();
    let note = if words.is_empty() { String::new() } else { format!(" ({})", words.join("; ")) };
    format!("{} {}{note}", tie.other.name, affinity(tie.affinity.value()))
}

fn none_or(words: &[&str]) -> String {
    if words.is_empty() { "none known".to_owned() } else { listed(words) }
}

fn allergen_words(ingredient: &Ingredient) -> String {
    none_or(&ingredient.allergens.iter().map(|a| a.name()).collect::<Vec<_>>())
}

fn flavour_words(ingredient: &Ingredient) -> String {
    let facets: Vec<String> = strongest_facets(ingredient, 6)
        .into_iter()
        .map(|f| format!("{} {:.1}", f.name(), ingredient.facets.get(&f).map_or(0.0, |g| g.value())))
        .collect();
    let facets = if facets.is_empty() { "hardly any".to_owned() } else { facets.join(", ") };
    format!("{facets}; loudness {:.1}", ingredient.loudness.value())
}

fn makeup_words(makeup: &Makeup) -> String {
    let mut parts = Vec::new();
    let mut figure = |value: f64, words: String| {
        if value > 0.0 {
            parts.push(words);
        }
    };
    figure(makeup.strength.percent_vol(), format!("{:.1} % vol", makeup.strength.percent_vol()));
    figure(makeup.sugar.grams_per_litre(), sugar_words(makeup));
    figure(makeup.acid.grams_per_litre(), acid_words(makeup));
    figure(makeup.bitterness.points(), format!("bitterness {:.0} of 100", makeup.bitterness.points()));
    figure(makeup.salt.grams_per_litre(), format!("salt {:.1} g/L", makeup.salt.grams_per_litre()));
    if makeup.carbonated {
        parts.push("sparkling".to_owned());
    }
    if makeup.solid {
        parts.push("dry, measured by its bulk".to_owned());
    }
    if parts.is_empty() { "neither alcohol, sugar nor acid".to_owned() } else { parts.join(", ") }
}

/// `acid 11.0 g/L (of it 3.9 malic)`; plain where the kinds are not known.
fn acid_words(makeup: &Makeup) -> String {
    let kinds: Vec<String> = [
        (makeup.malic, "malic"),
        (makeup.tartaric, "tartaric"),
        (makeup.lactic, "lactic"),
        (makeup.acetic, "acetic"),
        (makeup.phosphoric, "phosphoric"),
    ]
    .into_iter()
    .filter(|(held, _)| held.grams_per_litre() > 0.0)
    .map(|(held, name)| format!("{:.1} {name}", held.grams_per_litre()))
    .collect();
    let of_it = if kinds.is_empty() { String::new() } else { format!(" (of it {})", listed(&kinds)) };
    format!("acid {:.1} g/L{of_it}", makeup.acid.grams_per_litre())
}

/// `1.061 g/ml at 20 °C, 12.0 °Bx by its sugar, freezes from -13.4 °C`; none for what is no liquid.
fn weight_words(makeup: &Makeup) -> Option<String> {
    if makeup.solid {
        return None;
    }
    let litre = Parts::of_liquid(Volume::clamped(1000.0), &contents_of(makeup)).ok()?;
    let freezes = freezing::point(&litre).ok().filter(|point| point.at.celsius() < -0.05);
    let freezes = freezes.map_or(String::new(), |p| {
        let beyond = if p.beyond_tables { " or so" } else { "" };
        format!(", freezes from {:.1}{beyond}", p.at)
    });
    let grams = litre.mass().grams();
    let brix = 100.0 * makeup.sugar.grams_per_litre() / grams;
    let brix = if brix >= 0.5 { format!(", {brix:.1} °Bx by its sugar") } else { String::new() };
    Some(format!("{:.3} g/ml at 20 °C{brix}{freezes}", grams / 1000.0))
}

/// `sugar 540 g/L, of it 280 glucose and 260 fructose`; plain where it is all sucrose or the kinds are not known.
fn sugar_words(makeup: &Makeup) -> String {
    let kinds: Vec<String> = [(makeup.glucose, "glucose"), (makeup.fructose, "fructose")]
        .into_iter()
        .filter(|(held, _)| held.grams_per_litre() > 0.0)
        .map(|(held, name)| format!("{:.0} {name}", held.grams_per_litre()))
        .collect();
    let of_it = if kinds.is_empty() { String::new() } else { format!(" (of it {})", kinds.join(" and ")) };
    format!("sugar {:.0} g/L{of_it}", makeup.sugar.grams_per_litre())
}

/// `strength 37 to 43 % vol; acid 35 to 60 g/L`.
fn spread_words(spread: &Spread) -> String {
    let g_per_l = |what: &str, (least, most): (Concentration, Concentration)| {
        format!("{what} {:.0} to {most:.0}", least.grams_per_litre())
    };
    let strength = spread.strength.map(|(least, most)| format!("strength {} to {most}", least.percent_vol()));
    let sugar = spread.sugar.map(|pair| g_per_l("sugar", pair));
    let acid = spread.acid.map(|pair| g_per_l("acid", pair));
    let words: Vec<String> = strength.into_iter().chain(sugar).chain(acid).collect();
    words.join("; ")
}

fn spread_data(spread: &Spread) -> Value {
    let pair = |(least, most): (Concentration, Concentration)| {
        json!([least.grams_per_litre(), most.grams_per_litre()])
    };
    json!({
        "strength_percent_vol": spread.strength.map(|(a, b)| json!([a.percent_vol(), b.percent_vol()])),
        "sugar_g_per_l": spread.sugar.map(pair),
        "acid_g_per_l": spread.acid.map(pair),
    })
}

/// `water 87.2 g, sugar 4.9 g, acid 1.1 g`.
fn flesh_words(flesh: &Flesh) -> String {
    let parts = [("water", flesh.water), ("sugar", flesh.sugar), ("acid", flesh.acid)];
    let shown = parts.into_iter().filter(|(_, share)| share.in_100_g() > 0.0);
    let words: Vec<String> = shown.map(|(what, share)| format!("{what} {:.1} g", share.in_100_g())).collect();
    words.join(", ")
}

/// `30 ml of lime juice, 22 to 37`.
fn juice_words(book: &Book, juice: &Yield, view: View) -> String {
    let name = book.ingredient(&juice.gives).map_or("juice", |i| i.name.as_str());
    let shown = |v: Volume| super::phrase::volume(v, view.unit);
    let piece = juice.weighs.map_or(String::new(), |m| format!(", from {m:.0}"));
    format!("{} of {name}, {} to {}{piece}", shown(juice.ml), shown(juice.least), shown(juice.most))
}

fn origin_words(ingredient: &Ingredient) -> String {
    let origin = &ingredient.origin;
    let mut parts = vec![format!("flavour {}", origin.flavour)];
    parts.extend(origin.makeup.as_ref().map(|o| format!("makeup {o}")));
    parts.extend(origin.fruit.as_ref().map(|o| format!("flesh and juice {o}")));
    parts.extend(origin.keeping.as_ref().map(|o| format!("keeping {o}")));
    parts.extend(origin.season.as_ref().map(|o| format!("season {o}")));
    parts.join("; ")
}

/// The cautions behind ids, each once.
pub(super) fn cautions<'b>(book: &'b Book, ids: impl Iterator<Item = &'b CautionId>) -> Vec<&'b Caution> {
    let mut found: Vec<&Caution> = Vec::new();
    for caution in ids.filter_map(|id| book.caution(id)) {
        if !found.iter().any(|f| f.id == caution.id) {
            found.push(caution);
        }
    }
    found
}

fn ingredient_data(graph: &Graph<'_>, ingredient: &Ingredient, made: Option<&Made<'_>>, view: View) -> Value {
    let makeup = ingredient.makeup.map(|m| {
        json!({
            "strength_percent_vol": m.strength.percent_vol(),
            "sugar_g_per_l": m.sugar.grams_per_litre(),
            "glucose_g_per_l": m.glucose.grams_per_litre(),
            "fructose_g_per_l": m.fructose.grams_per_litre(),
            "acid_g_per_l": m.acid.grams_per_litre(),
            "malic_g_per_l": m.malic.grams_per_litre(),
            "tartaric_g_per_l": m.tartaric.grams_per_litre(),
            "lactic_g_per_l": m.lactic.grams_per_litre(),
            "acetic_g_per_l": m.acetic.grams_per_litre(),
            "phosphoric_g_per_l": m.phosphoric.grams_per_litre(),
            "bitterness": m.bitterness.points(),
            "salt_g_per_l": m.salt.grams_per_litre(),
            "carbonated": m.carbonated,
            "solid": m.solid,
            "sets": m.sets,
        })
    });
    let facets: serde_json::Map<String, Value> =
        ingredient.facets.iter().map(|(f, g)| (f.name().to_owned(), json!(g.value()))).collect();
    let year: Vec<&str> = crate::measure::Month::ALL
        .iter()
        .map(|m| presence_words(ingredient.presence(When { month: *m, ..view.when })))
        .collect();
    json!({
        "ok": true,
        "command": "show",
        "ingredient": {
            "id": ingredient.id.as_str(),
            "name": ingredient.name,
            "aliases": ingredient.aliases,
            "kind": ingredient.kind.name(),
            "roles": ingredient.roles.iter().map(|r| r.name()).collect::<Vec<_>>(),
            "makeup": makeup,
            "facets": facets,
            "loudness": ingredient.loudness.value(),
            "fresh": ingredient.is_fresh_in(view.when.climate),
            "year": year,
            "allergens": ingredient.allergens.iter().map(|a| a.name()).collect::<Vec<_>>(),
            "diet": ingredient.diet.iter().map(|d| d.name()).collect::<Vec<_>>(),
            "keeps": ingredient.keeps.as_ref().map(keeping_data),
            "juice": ingredient.juice.as_ref().map(|j| json!({
                "gives": j.gives.as_str(), "ml": j.ml.ml(), "least_ml": j.least.ml(), "most_ml": j.most.ml(),
                "piece_g": j.weighs.map(|m| m.grams()),
            })),
            "flesh_g_in_100_g": ingredient.flesh.map(|f| json!({
                "water": f.water.in_100_g(), "sugar": f.sugar.in_100_g(), "glucose": f.glucose.in_100_g(),
                "fructose": f.fructose.in_100_g(), "acid": f.acid.in_100_g(),
            })),
            "spread": spread_data(&ingredient.spread),
            "making": made.map(making_data),
            "made_from": ingredient.made_from.iter().map(|i| i.as_str()).collect::<Vec<_>>(),
            "cautions": ingredient.cautions.iter().map(|i| i.as_str()).collect::<Vec<_>>(),
            "origin": {
                "flavour": ingredient.origin.flavour.to_string(),
                "makeup": ingredient.origin.makeup.as_ref().map(ToString::to_string),
                "season": ingredient.origin.season.as_ref().map(ToString::to_string),
            },
            "house_fields": whose_data(graph.book(), RecordKind::Ingredient, ingredient.id.as_str()),
            "stock": graph.book().house().stock_of(&ingredient.id).map(|s| s.level.name()),
            "price": graph.book().house().price(&ingredient.id).map(|p| json!({
                "paid": p.paid.to_string(), "size": p.size.to_string(), "note": p.note,
            })),
            "companions": graph.ties(&ingredient.id).len(),
            "clashes": graph.clashes(&ingredient.id).iter().map(|(i, _)| i.id.as_str()).collect::<Vec<_>>(),
        }
    })
}

/// Everything known of a template: the classic's lines, their limits, and its figures.
pub fn template(
    book: &Book,
    template: &Template,
    spec: &Spec<'_>,
    figures: Option<&Figures>,
    view: View,
) -> Report {
    let mut table = Table::new([
        Column::right("amount"),
        Column::left("ingredient"),
        Column::left("as"),
        Column::flexible("a variant may take"),
    ]);
    for line in &spec.lines {
        let limits = match line.limits {
            Some((least, most)) if line.moves() => format!(
                "{} to {}{}",
                super::phrase::volume(least, view.unit),
                super::phrase::volume(most, view.unit),
                if line.open { ", or something else" } else { "" }
            ),
            _ if line.open => "this much, or something else".to_owned(),
            _ => "this much".to_owned(),
        };
        table.push([
            Cell::from(line.amount.shown(view.unit).to_string()),
            Cell::new(line.ingredient.name.clone(), Tone::Strong),
            Cell::new(line.role.name(), Tone::Quiet),
            limits.into(),
        ]);
    }
    let mut facts = vec![
        ("family".to_owned(), template.family.name().to_owned()),
        ("method".to_owned(), template.method.name().to_owned()),
        ("glass".to_owned(), template.glass.clone()),
    ];
    if !spec.garnish.is_empty() {
        facts.push(("garnish".to_owned(), garnish_words(spec)));
    }
    let allergens: Vec<&str> = spec.allergens().into_iter().map(|a| a.name()).collect();
    facts.push(("allergens".to_owned(), none_or(&allergens)));
    let mut report = Report::new(template.name.clone(), template_data(template, spec, figures))
        .text(template.essence.clone())
        .table(table)
        .facts(facts);
    if let Some(figures) = figures {
        report = report.heading("In the glass").facts(figures_facts(figures, view));
    }
    for caution in cautions(book, spec.cautions().into_iter()) {
        report = report.caution(caution.text.clone());
    }
    if let Some(words) = whose_words(book, template.record_kind(), template.id.as_str()) {
        report = report.note(words);
    }
    report.note(format!("where this comes from: {}", template.origin))
}

/// `orange peel, 3 olives`.
pub(super) fn garnish_words(spec: &Spec<'_>) -> String {
    let words: Vec<String> = spec.garnish.iter().map(|(i, form)| garnish_name(i, form)).collect();
    words.join(", ")
}

/// `orange peel`; the name alone where there is no form.
pub(super) fn garnish_name(ingredient: &Ingredient, form: &str) -> String {
    format!("{} {form}", ingredient.name).trim().to_owned()
}

fn template_data(template: &Template, spec: &Spec<'_>, figures: Option<&Figures>) -> Value {
    json!({
        "ok": true,
        "command": "show",
        "template": {
            "id": template.id.as_str(),
            "name": template.name,
            "aliases": template.aliases,
            "family": template.family.name(),
            "method": template.method.name(),
            "glass": template.glass,
            "essence": template.essence,
            "lines": spec.lines.iter().map(super::balance::line_data).collect::<Vec<_>>(),
            "garnish": template.garnish.iter().map(|g| json!({ "id": g.0.as_str(), "form": g.1 })).collect::<Vec<_>>(),
            "allergens": spec.allergens().iter().map(|a| a.name()).collect::<Vec<_>>(),
            "origin": template.origin.to_string(),
            "figures": figures.map(figures_data),
        }
    })
}

//! An ingredient as a row, and back.

use std::collections::BTreeMap;

use crate::book::exchange::cell::{Cell, Cells, items};
use crate::book::exchange::fault::quoted;
use crate::book::exchange::fields::Taking;
use crate::book::exchange::filling::Filling;
use crate::book::fruit::{Flesh, Yield};
use crate::book::id::IngredientId;
use crate::book::ingredient::{Climates, Ingredient, Makeup, Origins};
use crate::book::origin::Origin;
use crate::book::season::Season;
use crate::book::spread::Spread;
use crate::book::word::{Facet, Role};
use crate::measure::{Grade, Month, MonthSet};

/// How a cell of months says that they are all.
const ALL_YEAR: &str = "all year";
/// How loud an ingredient is taken to be of which nobody says it.
const LOUDNESS: f64 = 0.5;

const MAKEUP: [&str; 15] = [
    "strength",
    "sugar",
    "glucose",
    "fructose",
    "acid",
    "malic",
    "tartaric",
    "lactic",
    "acetic",
    "phosphoric",
    "bitterness",
    "salt",
    "carbonated",
    "solid",
    "sets",
];
const FLESH: [&str; 5] = ["flesh water", "flesh sugar", "flesh glucose", "flesh fructose", "flesh acid"];
const JUICE: [&str; 5] = ["juice", "juice ml", "juice least", "juice most", "weighs"];

/// An ingredient as cells.
pub(in super::super) fn ingredient_cells(ingredient: &Ingredient) -> Cells {
    let mut row = Filling::default();
    row.text("id", ingredient.id.as_str());
    row.text("name", &ingredient.name);
    row.list("aliases", &ingredient.aliases);
    row.text("kind", ingredient.kind.name());
    row.told_list("roles", ingredient.roles.iter().map(|r| r.name()));
    if let Some(makeup) = &ingredient.makeup {
        fill_makeup(&mut row, makeup);
    }
    let facets = ingredient.facets.iter();
    row.list("facets", facets.map(|(facet, grade)| format!("{}={}", facet.name(), grade.value())));
    row.number("loudness", ingredient.loudness);
    fill_season(&mut row, ["peak", "available"], Some(ingredient.season));
    fill_season(&mut row, ["warm peak", "warm available"], ingredient.climates.warm);
    fill_season(&mut row, ["tropical peak", "tropical available"], ingredient.climates.tropical);
    if let Some((from, to)) = ingredient.spread.strength {
        row.number("strength from", from);
        row.number("strength to", to);
    }
    if let Some((from, to)) = ingredient.spread.sugar {
        row.number("sugar from", from);
        row.number("sugar to", to);
    }
    if let Some((from, to)) = ingredient.spread.acid {
        row.number("acid from", from);
        row.number("acid to", to);
    }
    if let Some(flesh) = &ingredient.flesh {
        let shares = [flesh.water, flesh.sugar, flesh.glucose, flesh.fructose, flesh.acid];
        FLESH.into_iter().zip(shares).for_each(|(column, share)| row.number(column, share));
    }
    if let Some(juice) = &ingredient.juice {
        row.text("juice", juice.gives.as_str());
        row.number("juice ml", juice.ml);
        row.number("juice least", juice.least);
        row.number("juice most", juice.most);
        row.some("weighs", juice.weighs.map(f64::from).as_ref());
    }
    if let Some(keeps) = &ingredient.keeps {
        row.keeping(keeps);
    }
    row.told_list("allergens", ingredient.allergens.iter().map(|a| a.name()));
    row.list("diet", ingredient.diet.iter().map(|d| d.name()));
    row.list("made from", ingredient.made_from.iter().map(IngredientId::as_str));
    row.list("cautions", ingredient.cautions.iter().map(|c| c.as_str()));
    let origin = &ingredient.origin;
    row.origin("flavour origin", &origin.flavour);
    for (column, origin) in [
        ("makeup origin", &origin.makeup),
        ("season origin", &origin.season),
        ("fruit origin", &origin.fruit),
        ("keeping origin", &origin.keeping),
    ] {
        if let Some(origin) = origin {
            row.origin(column, origin);
        }
    }
    row.done()
}

fn fill_makeup(row: &mut Filling, makeup: &Makeup) {
    row.number("strength", makeup.strength);
    row.number("sugar", makeup.sugar);
    row.not_nought("glucose", makeup.glucose);
    row.not_nought("fructose", makeup.fructose);
    row.not_nought("acid", makeup.acid);
    row.not_nought("malic", makeup.malic);
    row.not_nought("tartaric", makeup.tartaric);
    row.not_nought("lactic", makeup.lactic);
    row.not_nought("acetic", makeup.acetic);
    row.not_nought("phosphoric", makeup.phosphoric);
    row.not_nought("bitterness", makeup.bitterness);
    row.not_nought("salt", makeup.salt);
    row.yes("carbonated", makeup.carbonated);
    row.yes("solid", makeup.solid);
    row.yes("sets", makeup.sets);
}

fn fill_season(row: &mut Filling, [peak, available]: [&'static str; 2], season: Option<Season>) {
    match season {
        None => {}
        Some(Season::AllYear) => row.text(available, ALL_YEAR),
        Some(Season::Months { peak: best, available: all }) => {
            row.list(peak, best.iter().map(Month::name));
            row.list(available, all.iter().filter(|m| !best.contains(*m)).map(Month::name));
        }
    }
}

/// The ingredient of a row's cells, with the roles it has if the row does not say them.
///
/// Where the row tells no origin, each fact is the house's word.
pub(in super::super) fn ingredient_of(
    row: &mut Taking<'_>,
    id: IngredientId,
    roles: impl FnOnce(crate::book::word::Kind) -> Vec<Role>,
) -> Option<Ingredient> {
    let name = row.needed("name");
    row.needed("kind");
    let kind = row.word("kind");
    let roles = match row.cells.get("roles") {
        Some(Cell::Text(_)) => row.words("roles"),
        Some(Cell::None) => std::collections::BTreeSet::new(),
        None => kind.map(roles).unwrap_or_default().into_iter().collect(),
    };
    if !row.says("allergens") {
        let hint = "write those of the EU's 14 that it brings, or '-' for none".to_owned();
        row.fault("allergens", "nothing is written of a new ingredient: guests rely on it", Some(hint));
    }
    let makeup = row.any(&MAKEUP).then(|| makeup_of(row));
    let season = season_of(row, ["peak", "available"]).unwrap_or(Season::AllYear);
    let climates = Climates {
        warm: season_of(row, ["warm peak", "warm available"]),
        tropical: season_of(row, ["tropical peak", "tropical available"]),
    };
    let spread = Spread {
        strength: row.number("strength from").zip(row.number("strength to")),
        sugar: row.number("sugar from").zip(row.number("sugar to")),
        acid: row.number("acid from").zip(row.number("acid to")),
    };
    let flesh = row.any(&FLESH).then(|| {
        let mut share = |column| row.number(column).unwrap_or_default();
        let [water, sugar, glucose, fructose, acid] = FLESH.map(&mut share);
        Flesh { water, sugar, glucose, fructose, acid }
    });
    let juice = if row.any(&JUICE) { juice_of(row) } else { None };
    let keeps = row.keeping();
    let ingredient = Ingredient {
        name: name.unwrap_or_default(),
        aliases: row.list("aliases"),
        kind: kind.unwrap_or(crate::book::word::Kind::Spirit),
        roles,
        makeup,
        facets: facets_of(row),
        loudness: row.number("loudness").unwrap_or(Grade::clamped(LOUDNESS)),
        season,
        climates,
        spread,
        flesh,
        juice,
        keeps,
        allergens: row.words("allergens"),
        diet: row.words("diet"),
        made_from: made_from(row),
        cautions: row.cautions(),
        origin: Origins { flavour: Origin::House, makeup: None, season: None, fruit: None, keeping: None },
        id,
    };
    let origin = origins_of(row, &ingredient);
    row.faults.is_empty().then_some(Ingredient { origin, ..ingredient })
}

fn made_from(row: &mut Taking<'_>) -> Vec<IngredientId> {
    let all = row.list("made from");
    all.iter().filter_map(|name| row.ingredient_of("made from", name)).collect()
}

fn makeup_of(row: &mut Taking<'_>) -> Makeup {
    let plain = Makeup::default();
    let mut sugars = |column| row.number(column).unwrap_or(plain.sugar);
    let [sugar, glucose, fructose] = ["sugar", "glucose", "fructose"].map(&mut sugars);
    let [acid, malic, tartaric] = ["acid", "malic", "tartaric"].map(&mut sugars);
    let [lactic, acetic, phosphoric, salt] = ["lactic", "acetic", "phosphoric", "salt"].map(&mut sugars);
    Makeup {
        strength: row.number("strength").unwrap_or(plain.strength),
        sugar,
        glucose,
        fructose,
        acid,
        malic,
        tartaric,
        lactic,
        acetic,
        phosphoric,
        bitterness: row.number("bitterness").unwrap_or(plain.bitterness),
        salt,
        carbonated: row.yes("carbonated"),
        solid: row.yes("solid"),
        sets: row.yes("sets"),
    }
}

fn season_of(row: &mut Taking<'_>, [peak, available]: [&str; 2]) -> Option<Season> {
    if !row.any(&[peak, available]) {
        return None;
    }
    let all_year = row.raw(available).is_some_and(|text| text.to_lowercase().replace('_', " ") == ALL_YEAR);
    let best = months(row, peak);
    if all_year && best.is_empty() {
        return Some(Season::AllYear);
    }
    let all = if all_year { MonthSet::NONE } else { months(row, available) };
    Some(Season::Months { peak: best, available: all.union(best) })
}

fn months(row: &mut Taking<'_>, column: &str) -> MonthSet {
    let text = row.raw(column).unwrap_or_default().replace(',', ";");
    items(&text).iter().filter_map(|month| row.taken(column, month.parse::<Month>())).collect()
}

fn juice_of(row: &mut Taking<'_>) -> Option<Yield> {
    let gives = row.ingredient("juice");
    row.needed("juice ml");
    let ml = row.number("juice ml");
    let (least, most) = (row.number("juice least"), row.number("juice most"));
    let weighs = row.number("weighs");
    let ml = ml?;
    Some(Yield { gives: gives?, ml, least: least.unwrap_or(ml), most: most.unwrap_or(ml), weighs })
}

fn facets_of(row: &mut Taking<'_>) -> BTreeMap<Facet, Grade> {
    let mut facets = BTreeMap::new();
    for item in row.list("facets") {
        let Some((facet, grade)) = item.rsplit_once(['=', ':']) else {
            let hint = "write them like citrus=0.8; floral=0.3".to_owned();
            row.fault("facets", format!("{} has no grade", quoted(&item)), Some(hint));
            continue;
        };
        let grade = if row.comma { super::super::fields::with_points(grade) } else { grade.to_owned() };
        let read = match grade.trim().parse::<f64>() {
            Ok(value) => Grade::new(value).map_err(|e| e.to_string()),
            Err(_) => grade.parse::<Grade>().map_err(|e| e.to_string()),
        };
        let grade = row.taken("facets", read);
        facets.extend(row.word_of("facets", facet.trim()).zip(grade));
    }
    facets
}

fn origins_of(row: &mut Taking<'_>, ingredient: &Ingredient) -> Origins {
    let fresh = ingredient.season.is_fresh() || ingredient.climates != Climates::default();
    let fruit = ingredient.flesh.is_some() || ingredient.juice.is_some();
    let mut of = |column, there: bool| {
        let told = row.origin(column);
        there.then(|| told.unwrap_or(Origin::House))
    };
    Origins {
        makeup: of("makeup origin", ingredient.makeup.is_some()),
        season: of("season origin", fresh),
        fruit: of("fruit origin", fruit),
        keeping: of("keeping origin", ingredient.keeps.is_some()),
        flavour: of("flavour origin", true).unwrap_or(Origin::House),
    }
}

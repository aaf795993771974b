//! A drink's figures against its family's band, as a report.

use serde_json::{Value, json};

use super::describe::cautions;
use super::phrase::{View, acid, served, strength, sugar, volume};
use super::{Cell, Column, Gauge, Report, Span, Table, Tone};
use crate::book::Book;
use crate::drink::{Band, Figures, Interval, Line, Spec};
use crate::liquid::{Basis, Sweetness, freezing};
use crate::measure::{Temperature, Volume};

/// From this bitterness on, sugar above the band is no fault (*common practice, no source*).
const BITTER_DRINK: f64 = 8.0;

/// What a balance is made of.
#[derive(Debug, Clone)]
pub struct Balance<'b> {
    /// The drink.
    pub spec: Spec<'b>,
    /// Its figures.
    pub figures: Figures,
    /// The published band of its family, if it has one.
    pub published: Option<Band>,
    /// The band of its family's classics in the book.
    pub classics: Option<Band>,
    /// Where the chilling ended, if a balance of heat says so.
    pub ends: Option<Temperature>,
    /// How sweet sugars are taken to taste.
    pub sweetness: Sweetness,
    /// Whether the family was supposed from the method rather than known.
    pub family_supposed: bool,
    /// Whether the method was supposed from the ingredients.
    pub method_supposed: bool,
}

/// A drink's figures against its family's band.
pub fn balance(book: &Book, balance: &Balance<'_>, view: View) -> Report {
    let Balance { spec, figures, published, classics, .. } = balance;
    let mut report = Report::new(title(balance), data(balance));
    let mut table = Table::new([
        Column::right("amount"),
        Column::left("ingredient"),
        Column::left("as"),
        Column::flexible(""),
    ]);
    for line in &spec.lines {
        let counts = line.volume.is_some() && line.ingredient.makeup.is_some();
        table.push([
            Cell::from(line.amount.shown(view.unit).to_string()),
            Cell::new(line.ingredient.name.clone(), Tone::Strong),
            Cell::new(line.role.name(), Tone::Quiet),
            if counts { "".into() } else { Cell::new("not counted in the figures", Tone::Quiet) },
        ]);
    }
    report = report.table(table).facts(vec![("in the glass".to_owned(), glass_words(figures, view))]);
    for gauge in gauges(figures, published.as_ref(), classics.as_ref()) {
        report = report.gauge(gauge);
    }
    report = report.facts(side_facts(figures, balance.sweetness));
    report = report.note(dilution_words(figures, view));
    if let Some(ends) = balance.ends {
        report = report.note(format!("it ends at {ends:.1}; 'bench chill' shows where the heat comes from"));
    }
    if balance.method_supposed {
        report = report.note(format!("supposed {}; --method says otherwise", spec.method));
    }
    report = report.note(band_words(balance));
    let over = |band: &Option<Band>| {
        let most = band.as_ref().and_then(|b| b.sugar).map(|i| i.most);
        most.is_some_and(|m| figures.sugar.grams_per_litre() > m)
    };
    if figures.bitterness.points() >= BITTER_DRINK && (over(published) || over(classics)) {
        report =
            report.note("a bitter drink carries more sugar on purpose: its bitterness holds it in balance");
    }
    for caution in cautions(book, spec.cautions().into_iter()) {
        report = report.caution(caution.text.clone());
    }
    let allergens: Vec<&str> = spec.allergens().into_iter().map(|a| a.name()).collect();
    if !allergens.is_empty() {
        report = report.note(format!("allergens: {}", allergens.join(", ")));
    }
    report
}

pub(super) fn title(balance: &Balance<'_>) -> String {
    let Balance { spec, .. } = balance;
    let title = capital(&spec.name);
    match spec.family {
        Some(family) if !balance.family_supposed && family.name() != spec.method.name() => {
            format!("{title}, {family}, {}", spec.method)
        }
        _ => format!("{title}, {}", spec.method),
    }
}

/// A name as a title.
pub(super) fn capital(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// `4.3 oz (127 ml), of it 1.2 oz water from the ice`.
fn glass_words(figures: &Figures, view: View) -> String {
    if figures.water == Volume::ZERO {
        return served(figures, view.unit);
    }
    format!(
        "{} after {} of water from the ice",
        served(figures, view.unit),
        volume_short(figures.water.ml(), view)
    )
}

pub(super) fn volume_short(ml: f64, view: View) -> String {
    match view.unit {
        crate::measure::HouseUnit::Ounce => format!("{:.1} oz", ml / crate::measure::ML_PER_OUNCE),
        crate::measure::HouseUnit::Millilitre => format!("{ml:.0} ml"),
    }
}

pub(super) fn gauges(figures: &Figures, published: Option<&Band>, classics: Option<&Band>) -> Vec<Gauge> {
    let spans = |of: fn(&Band) -> Option<Interval>| -> Vec<Span> {
        let one = |band: Option<&Band>, label: &str| {
            band.and_then(of).map(|i| Span { label: label.to_owned(), least: i.least, most: i.most })
        };
        one(published, "published").into_iter().chain(one(classics, "classics")).collect()
    };
    let gauge = |label: &str, value: f64, value_text: String, unit: &str, bands: Vec<Span>, top: f64| {
        let most = bands.iter().map(|b| b.most).fold(value, f64::max);
        let scale = (0.0, top.max(most * 1.1));
        Gauge { label: label.to_owned(), value, value_text, unit: unit.to_owned(), bands, scale }
    };
    vec![
        gauge(
            "strength",
            figures.strength.percent_vol(),
            strength(figures),
            "% vol",
            spans(|b| b.strength),
            40.0,
        ),
        gauge("sugar", figures.sugar.grams_per_litre(), sugar(figures), "g/L", spans(|b| b.sugar), 120.0),
        gauge("acid", figures.acid.grams_per_litre(), acid(figures), "g/L", spans(|b| b.acid), 10.0),
    ]
}

fn side_facts(figures: &Figures, sweetness: Sweetness) -> Vec<(String, String)> {
    let mut facts = Vec::new();
    if let Some(ratio) = figures.sugar_to_acid() {
        facts.push(("sugar to acid".to_owned(), format!("{ratio:.1} to 1")));
    }
    facts.extend(sweetness_words(figures, sweetness).map(|words| ("tastes as sweet as".to_owned(), words)));
    facts.push(("bitterness".to_owned(), format!("{:.1} of 100", figures.bitterness.points())));
    if figures.salt.grams_per_litre() >= 0.05 {
        facts.push(("salt".to_owned(), format!("{:.1} g/L", figures.salt.grams_per_litre())));
    }
    facts.push(("alcohol".to_owned(), alcohol_words(figures)));
    if let Ok(point) = freezing::point(&figures.liquid) {
        facts.push(("freezes from".to_owned(), format!("{:.1}", point.at)));
    }
    facts
}

/// From this difference on, in g/L, sweetness is another figure than sugar.
const OTHER_THAN_SUGAR: f64 = 1.0;

/// `92 g/L of table sugar (88 to 104 by published panels)`; none where all sugar is sucrose, or hardly any is there.
fn sweetness_words(figures: &Figures, sweetness: Sweetness) -> Option<String> {
    let (sweet, spread) = (sweetness.of(&figures.liquid).ok()?, Sweetness::spread(&figures.liquid).ok()?);
    let sugar = figures.sugar.grams_per_litre();
    let differs = [sweet, spread.least, spread.most]
        .iter()
        .any(|s| (s.grams_per_litre() - sugar).abs() >= OTHER_THAN_SUGAR);
    differs.then(|| {
        let (least, most) = (spread.least.grams_per_litre(), spread.most.grams_per_litre());
        format!("{sweet:.0} of table sugar ({least:.0} to {most:.0} by published panels)")
    })
}

fn alcohol_words(figures: &Figures) -> String {
    let grams = figures.ethanol.grams();
    if grams < 0.05 {
        return "none".to_owned();
    }
    let drinks: Vec<String> = [crate::liquid::Country::UnitedStates, crate::liquid::Country::UnitedKingdom]
        .into_iter()
        .map(|c| format!("{:.1} {} of {} g", figures.ethanol.grams() / c.grams(), c.name(), c.grams()))
        .collect();
    format!("{grams:.0} g: {}", drinks.join(", "))
}

/// The figures as labels and values.
pub(super) fn figures_facts(figures: &Figures, view: View) -> Vec<(String, String)> {
    let mut facts = vec![
        ("in the glass".to_owned(), glass_words(figures, view)),
        ("strength".to_owned(), format!("{} % vol", strength(figures))),
        ("sugar".to_owned(), format!("{} g/L", sugar(figures))),
        ("acid".to_owned(), format!("{} g/L", acid(figures))),
    ];
    facts.extend(side_facts(figures, Sweetness::WORKING));
    facts
}

/// How the dilution was found, in words.
pub(super) fn dilution_words(figures: &Figures, view: View) -> String {
    let share = figures.dilution.share * 100.0;
    let water = volume(figures.water, view.unit);
    match figures.dilution.basis {
        Basis::Fit => format!("dilution {share:.0} % ({water}): published fit for this method, from memory"),
        Basis::FitOutsideRange => format!(
            "dilution {share:.0} % ({water}): published fit, from memory, held at the end of its range (15 to 45 % vol before ice)"
        ),
        Basis::Figure => {
            format!("dilution {share:.0} % ({water}): a plain figure for this method, common practice")
        }
        Basis::House => {
            format!("dilution {share:.0} % ({water}): the house's own, as measured ('bench weigh' lists it)")
        }
        Basis::Heat => format!("dilution {share:.0} % ({water}): by a balance of heat"),
        Basis::Given => format!("dilution {share:.0} % ({water}): as given"),
        Basis::None => "no ice, so nothing melts in".to_owned(),
    }
}

fn band_words(balance: &Balance<'_>) -> String {
    let family = balance.spec.family.map_or("no family", |f| f.name());
    let mut sources = Vec::new();
    sources.extend(balance.published.as_ref().map(|b| format!("published: {}, a soft guide", b.source)));
    sources.extend(balance.classics.as_ref().map(|b| format!("classics: least to most of {}", b.source)));
    let supposed = if balance.family_supposed { " (supposed from the method)" } else { "" };
    if sources.is_empty() {
        format!("the book has no band for {family}{supposed}")
    } else {
        format!("bands of {family}{supposed}; {}", sources.join("; "))
    }
}

pub(super) fn line_data(line: &Line<'_>) -> Value {
    json!({
        "role": line.role.name(),
        "id": line.ingredient.id.as_str(),
        "name": line.ingredient.name,
        "amount": line.amount.to_string(),
        "ml": line.volume.map(|v| v.ml()),
        "least_ml": line.limits.map(|(l, _)| l.ml()),
        "most_ml": line.limits.map(|(_, m)| m.ml()),
        "open": line.open,
    })
}

pub(super) fn figures_data(figures: &Figures) -> Value {
    json!({
        "poured_ml": figures.poured.ml(),
        "water_ml": figures.water.ml(),
        "dilution_share": figures.dilution.share,
        "dilution_basis": figures.dilution.basis.name(),
        "served_ml": figures.served.ml(),
        "strength_percent_vol": figures.strength.percent_vol(),
        "sugar_g_per_l": figures.sugar.grams_per_litre(),
        "acid_g_per_l": figures.acid.grams_per_litre(),
        "sugar_to_acid": figures.sugar_to_acid(),
        "bitterness": figures.bitterness.points(),
        "salt_g_per_l": figures.salt.grams_per_litre(),
        "ethanol_g": figures.ethanol.grams(),
        "freezing_point_celsius": freezing::point(&figures.liquid).ok().map(|p| p.at.celsius()),
        "sweetness_g_per_l": Sweetness::WORKING.of(&figures.liquid).ok().map(|s| s.grams_per_litre()),
    })
}

fn band_data(band: &Band) -> Value {
    let interval = |i: Option<Interval>| i.map(|i| json!([i.least, i.most]));
    json!({
        "strength_percent_vol": interval(band.strength),
        "sugar_g_per_l": interval(band.sugar),
        "acid_g_per_l": interval(band.acid),
        "served_ml": interval(band.served),
        "source": band.source,
    })
}

pub(super) fn data(balance: &Balance<'_>) -> Value {
    let spec = &balance.spec;
    json!({
        "ok": true,
        "command": "balance",
        "name": spec.name,
        "family": spec.family.map(|f| f.name()),
        "method": spec.method.name(),
        "lines": spec.lines.iter().map(line_data).collect::<Vec<_>>(),
        "figures": figures_data(&balance.figures),
        "published_band": balance.published.as_ref().map(band_data),
        "classics_band": balance.classics.as_ref().map(band_data),
        "ends_celsius": balance.ends.map(|t| t.celsius()),
        "allergens": spec.allergens().iter().map(|a| a.name()).collect::<Vec<_>>(),
        "cautions": spec.cautions().iter().map(|c| c.as_str()).collect::<Vec<_>>(),
    })
}

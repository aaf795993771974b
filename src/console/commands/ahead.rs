//! What the commands on drinks made ahead share: how much, in what, at which prices, and the papers they write.

pub(in crate::console) mod batch;
pub(in crate::console) mod card;
pub(in crate::console) mod cost;
pub(in crate::console) mod hold;
pub(in crate::console) mod kit;
pub(in crate::console) mod prep;

use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};

use jiff::civil::Date;

use crate::book::exchange::{MOST_FILE_BYTES, Table, TableFile, read_tables};
use crate::book::{Method, Wanted, nearest_word};
use crate::console::desk::Desk;
use crate::console::failure::{Failure, Kind};
use crate::console::written_out::write_file;
use crate::drink::Spec;
use crate::liquid::freezing;
use crate::measure::{Amount, Jigger, Temperature, Volume};
use crate::report::{self, PaperFault, Report, Rows, Sheet};
use crate::service::{
    Asked, Bought, Need, NotAVessel, PriceList, ServiceError, Size, Source, Style, Vessel, VesselKind,
    WaterWish, bought,
};

/// How much is made, in what, and when.
#[derive(Debug, Clone, Default, clap::Args)]
pub(super) struct MakeArgs {
    /// How many serves
    #[arg(long, value_name = "N", value_parser = serves, allow_hyphen_values = true)]
    serves: Option<f64>,
    /// How much of the batch: 5 l, 170 oz
    #[arg(long, value_name = "VOLUME", value_parser = volume, allow_hyphen_values = true, conflicts_with = "serves")]
    volume: Option<Volume>,
    /// The bottles: a size (700ml), or how many there are of it (6 x 700ml). Several sizes with commas between
    #[arg(long, value_name = "SIZE", value_delimiter = ',', allow_hyphen_values = true)]
    bottle: Vec<String>,
    /// Kegs: a size, or half barrel, quarter barrel, sixth barrel, soda keg
    #[arg(long, value_name = "SIZE", value_delimiter = ',', allow_hyphen_values = true)]
    keg: Vec<String>,
    /// Dispensers with a tap
    #[arg(long, value_name = "SIZE", value_delimiter = ',', allow_hyphen_values = true)]
    dispenser: Vec<String>,
    /// Bowls
    #[arg(long, value_name = "SIZE", value_delimiter = ',', allow_hyphen_values = true)]
    bowl: Vec<String>,
    /// How many days it must keep; decides whether citrus goes in
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=365))]
    days: Option<u16>,
    /// The day it is made, as 2026-11-27; today if not given
    #[arg(long, value_name = "DAY", value_parser = date)]
    made: Option<Date>,
    /// What it is called on the papers
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
    /// Who makes it, for the papers
    #[arg(long, value_name = "NAME")]
    by: Option<String>,
    /// For a drink typed in lines: stirred, shaken, built, blended or no ice
    #[arg(long, value_name = "METHOD", value_parser = super::balance::method)]
    method: Option<Method>,
}

/// Pages and tables that an answer is written to.
#[derive(Debug, Clone, Default, clap::Args)]
pub(super) struct PaperArgs {
    /// Write the answer as a page to print: batch.html
    #[arg(long, value_name = "FILE", help_heading = "Papers")]
    page: Option<PathBuf>,
    /// Write it as a table for a spreadsheet: batch.csv
    #[arg(long, value_name = "FILE", help_heading = "Papers")]
    csv: Option<PathBuf>,
    /// The sheet that pages are printed on: a4, a5, a6 or letter
    #[arg(long, value_name = "SHEET", value_parser = sheet, help_heading = "Papers")]
    sheet: Option<Sheet>,
    /// Write over what is there
    #[arg(long, help_heading = "Papers")]
    force: bool,
}

fn serves(text: &str) -> Result<f64, String> {
    let number: f64 =
        text.trim().parse().map_err(|_| "write a whole number of serves, such as 40".to_owned())?;
    let most = Size::MOST_SERVES;
    if number.fract() == 0.0 && number >= 1.0 && number <= f64::from(most) {
        Ok(number)
    } else {
        Err(format!("{text} serves: allowed are 1 to {most}, whole"))
    }
}

fn volume(text: &str) -> Result<Volume, String> {
    if text.trim().parse::<f64>().is_ok() {
        return Err("its unit is missing: write 5 l, 5000 ml or 170 oz".to_owned());
    }
    let volume: Volume = text.parse().map_err(|e: crate::measure::NotAQuantity| e.to_string())?;
    if volume > Volume::ZERO { Ok(volume) } else { Err(format!("{volume:.0} is nothing to make")) }
}

fn date(text: &str) -> Result<Date, String> {
    text.trim().parse().map_err(|_| "write the day as year, month, day: 2026-11-27".to_owned())
}

fn sheet(text: &str) -> Result<Sheet, String> {
    text.parse().map_err(|error: report::NotASheet| {
        let near = nearest_word(&text.trim().to_lowercase(), Sheet::ALL.iter().map(|s| s.name()));
        let near = near.map_or(String::new(), |near| format!(" (did you mean {near}?)"));
        format!("{error}{near}")
    })
}

fn style(text: &str) -> Result<Style, String> {
    super::word(text)
}

/// A share written in per cent, from 0 to so much.
fn percent(text: &str, most: f64, what: &str) -> Result<f64, String> {
    let number = text.trim().trim_end_matches('%').trim();
    let hundred: f64 =
        number.replace(',', ".").parse().map_err(|_| format!("write {what} in per cent, such as 20 %"))?;
    if (0.0..=100.0 * most).contains(&hundred) {
        Ok(hundred / 100.0)
    } else {
        Err(format!("{hundred} % is not {what}: allowed is 0 to {:.0} %", 100.0 * most))
    }
}

impl From<NotAVessel> for Failure {
    fn from(error: NotAVessel) -> Self {
        Self::usage(error.to_string())
    }
}

impl From<PaperFault> for Failure {
    fn from(error: PaperFault) -> Self {
        Self { kind: Kind::Fault, ..Self::mistake(error.to_string()) }
    }
}

impl From<ServiceError> for Failure {
    fn from(error: ServiceError) -> Self {
        let failure = Self::mistake(error.to_string());
        match error {
            ServiceError::NothingPoured(nothing) => nothing.into(),
            ServiceError::Liquid(liquid) => liquid.into(),
            ServiceError::AllHeldBack => {
                failure.hint("'hold' lists the rules; 'hold lime juice in' sets one aside for this house")
            }
            ServiceError::LessThanAServe { .. } => failure.hint("name a bigger container, or more of it"),
            ServiceError::NoRoom { .. } => {
                failure.hint("leave the number of containers out, make less, or name more of them")
            }
            ServiceError::Serves { .. } => failure.hint("for example: --serves 40"),
            ServiceError::NoSpirit | ServiceError::NoMix => {
                failure.hint("'batch' makes the whole drink ahead")
            }
            ServiceError::NoPrice { .. } => failure.hint(
                "write one down: price gin 24.50 GBP for 700 ml; or take the invented ones: --prices demo",
            ),
            ServiceError::Currencies { .. } => {
                failure.hint("'price' shows what is written down; --prices names another list")
            }
            ServiceError::TooManyContainers { .. }
            | ServiceError::TooManySizes { .. }
            | ServiceError::MixOver { .. }
            | ServiceError::Money(_) => failure,
        }
    }
}

impl MakeArgs {
    fn vessels(&self) -> Result<Vec<Vessel>, Failure> {
        let mut all = Vec::new();
        for (texts, kind) in [
            (&self.bottle, VesselKind::Bottle),
            (&self.keg, VesselKind::Keg),
            (&self.dispenser, VesselKind::Dispenser),
            (&self.bowl, VesselKind::Bowl),
        ] {
            for text in texts {
                all.push(Vessel::read(text, kind)?);
            }
        }
        Ok(all)
    }

    /// The drink under the name that was asked for.
    fn named<'s>(&self, spec: Spec<'s>) -> Spec<'s> {
        match &self.name {
            Some(name) => Spec { name: name.clone(), ..spec },
            None => spec,
        }
    }

    /// The question of a batch of a spec.
    fn asked<'s>(
        &self,
        spec: Spec<'s>,
        serves: Option<f64>,
        style: Style,
        desk: &Desk<'_>,
    ) -> Result<Asked<'s>, Failure> {
        let vessels = self.vessels()?;
        let size = match (self.serves.or(serves), self.volume) {
            (Some(serves), _) => Size::Serves(serves),
            (None, Some(volume)) => Size::Volume(volume),
            (None, None) if !vessels.is_empty() => Size::Containers,
            (None, None) => {
                return Err(Failure::usage("how much of it?")
                    .hint("say for how many (--serves 40), how much (--volume 5l), or into what (--bottle \"6 x 700ml\")"));
            }
        };
        Ok(Asked {
            spec,
            size,
            style,
            vessels,
            water: WaterWish::Method,
            days: self.days,
            freezer: Temperature::clamped(freezing::HOUSEHOLD),
            unit: desk.house.jigger.unit(),
            measures: desk.house.measures,
        })
    }

    /// The day it is made: as said, or today.
    fn day(&self, desk: &Desk<'_>) -> Option<Date> {
        self.made.or_else(|| today(desk))
    }
}

/// Today, where the time is known.
fn today(desk: &Desk<'_>) -> Option<Date> {
    desk.clock?.now().at.get(..10)?.parse().ok()
}

/// The lists of prices that were named: the house's own, the invented one, or tables of others.
fn price_lists(named: &[String], desk: &Desk<'_>) -> Result<Vec<PriceList>, Failure> {
    let book = &desk.library.book;
    if named.is_empty() {
        return Ok(vec![PriceList::of_house(book)]);
    }
    named
        .iter()
        .map(|name| match name.trim().to_lowercase().as_str() {
            "house" => Ok(PriceList::new("house", book.house().prices(), &Source::House)),
            "demo" => Ok(PriceList::demo()),
            _ => price_table(Path::new(name.trim()), desk),
        })
        .collect()
}

/// A table of prices as 'export prices.csv' writes it.
fn price_table(path: &Path, desk: &Desk<'_>) -> Result<PriceList, Failure> {
    let shown = path.display().to_string();
    let facts = fs::metadata(path).map_err(|error| {
        let failure = match error.kind() {
            std::io::ErrorKind::NotFound => Failure::mistake(format!("there is no list of prices '{shown}'")),
            _ => Failure::mistake(format!("{shown} cannot be read: {error}")),
        };
        failure.hint("allowed are house, demo, or a table that 'export prices.csv' writes")
    })?;
    if !facts.is_file() || facts.len() > MOST_FILE_BYTES {
        return Err(Failure::mistake(format!("{shown} is no table of prices")));
    }
    let bytes =
        fs::read(path).map_err(|error| Failure::mistake(format!("{shown} cannot be read: {error}")))?;
    let stem = path.file_stem().unwrap_or(OsStr::new("prices")).to_string_lossy().into_owned();
    let file = TableFile { file: shown.clone(), stem: stem.clone(), table: Some(Table::Prices), bytes };
    let library = desk.library;
    let read = read_tables(&[file], &[], &library.book, &library.names, &mut |_| {})?;
    if !read.faults().is_empty() {
        let lines: Vec<String> = read.faults().iter().take(10).map(ToString::to_string).collect();
        let detail = report::clean(&lines.join("\n")).into_owned();
        let failure = Failure::mistake(format!("{shown} has faults: no price of it was used"));
        return Err(Failure { detail, ..failure });
    }
    Ok(PriceList::new(&stem, read.prices(), &Source::List(stem.clone())))
}

/// What every line of a batch takes to buy, in their order, and then its garnish.
fn to_buy<'s>(
    batch: &crate::service::Batch<'s>,
    prices: &PriceList,
    desk: &Desk<'s>,
) -> Result<Vec<Bought<'s>>, Failure> {
    let book = &desk.library.book;
    let measures = &desk.house.measures;
    let lines = batch.lines.iter().map(|l| (l.line.ingredient, l.need));
    let garnish = batch.spec.garnish.iter().map(|(i, form)| (*i, Need::of_garnish(form).times(batch.serves)));
    let all = lines.chain(garnish).map(|(of, need)| bought(book, of, need, prices, measures));
    Ok(all.collect::<Result<Vec<_>, ServiceError>>()?)
}

/// The same desk, in millilitres where bottles were named in them and no unit was chosen.
fn in_unit_of_vessels<'s>(desk: &Desk<'s>, vessels: &[String]) -> Desk<'s> {
    let metric = |text: &String| text.to_lowercase().contains("ml") || text.to_lowercase().ends_with('l');
    let mut house = desk.house.clone();
    if !desk.unit_chosen && vessels.iter().any(metric) {
        house.jigger = Jigger::millilitres();
    }
    Desk { house, ..*desk }
}

impl PaperArgs {
    fn sheet(&self) -> Sheet {
        self.sheet.unwrap_or_default()
    }

    /// Writes what was asked for, and says so in the report. `other` is a paper of the command's own.
    fn write(
        &self,
        mut report: Report,
        rows: &Rows,
        page: Option<String>,
        other: Option<(&Path, String)>,
    ) -> Result<Report, Failure> {
        let mut written = Vec::new();
        if let Some(path) = &self.page {
            let text = page.map_or_else(|| report::page(&report, self.sheet()), Ok)?;
            write_file(path, text.as_bytes(), self.force)?;
            written.push(path.display().to_string());
        }
        if let Some((path, text)) = other {
            write_file(path, text.as_bytes(), self.force)?;
            written.push(path.display().to_string());
        }
        if let Some(path) = &self.csv {
            let text = rows.text().map_err(|error| Failure {
                kind: Kind::Fault,
                ..Failure::mistake(format!("the table could not be written as text: {error}"))
            })?;
            write_file(path, &text, self.force)?;
            written.push(path.display().to_string());
        }
        if !written.is_empty() {
            report.data["written"] = serde_json::json!(written);
            report = report.note(format!("written: {}", written.join(", ")));
        }
        Ok(report)
    }
}

/// A drink's name and, behind it, for how many: `negroni for 40 guests`.
fn for_how_many(text: &str, desk: &Desk<'_>) -> (String, Option<f64>) {
    // The French 75 is a name.
    if desk.target(text, Wanted::Any).is_ok() {
        return (text.to_owned(), None);
    }
    // The drink in hand needs no name: `batch for 40`.
    let alone = text.strip_prefix("for ").map(|behind| ("", behind));
    let Some((drink, behind)) = text.rsplit_once(" for ").or(alone) else {
        // `negroni 40`; a number behind a line of a spec is a vintage or a part of a name.
        let named = !text.contains(',') && Amount::split_from(text).is_err();
        return match number_behind(text).filter(|(_, count)| named && count.fract() == 0.0) {
            Some((drink, count)) => (drink.to_owned(), Some(count)),
            None => (text.to_owned(), None),
        };
    };
    let number = behind.split_whitespace().next().unwrap_or_default();
    let rest: Vec<&str> = behind.split_whitespace().skip(1).collect();
    let plain = rest.is_empty() || matches!(rest.as_slice(), ["guests" | "serves" | "people" | "drinks"]);
    match serves(number) {
        Ok(count) if plain => (drink.trim().to_owned(), Some(count)),
        _ => (text.to_owned(), None),
    }
}

/// `daiquiri 30` and `daiquiri x 30`: the number behind.
fn number_behind(item: &str) -> Option<(&str, f64)> {
    let (name, number) = item.trim().rsplit_once(char::is_whitespace)?;
    let count: f64 = number.trim_start_matches('x').parse().ok().filter(|n| *n > 0.0 && *n <= 1e5)?;
    let name = name.trim_end().strip_suffix(" x").unwrap_or(name).trim_end();
    (!name.is_empty()).then_some((name, count))
}

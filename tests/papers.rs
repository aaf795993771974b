//! The papers in a real browser: how they print, whether all of them is to be read, and that nothing typed by a person
//! becomes part of the page.
//!
//! Needs a Chromium on the path, or its path in `CHROMIUM`. The papers stay in `target/tmp/papers` to be looked at.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod bar;

use std::env;
use std::fs::{self, File};
use std::ops::RangeInclusive;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use medlar::measure::Month;
use medlar::report::{
    Card, Cell, Column, FillMark, Gauge, Insert, Label, Mark, Part, Report, Sheet, Span, Table, Tone, Year,
    cards, clean, insert, labels, page,
};
use serde_json::{Value, json};

/// A browser that has not answered by then never will.
const PATIENCE: Duration = Duration::from_secs(90);
/// The width of a telephone, in CSS pixels.
const TELEPHONE: u32 = 390;
/// CSS pixels in a millimetre.
const PX_PER_MM: f64 = 96.0 / 25.4;
/// PDF points in a millimetre.
const PT_PER_MM: f64 = 72.0 / 25.4;

const SHORT: &str = "Sour";
const LONG: &str = "A long drink of apple brandy, quince cordial and soda as the lower bar of the Weir House has made it \
                    in the weeks after the first frost";
const UNBROKEN: &str =
    "quincemedlarserviceberrycornelcherrybullacesloedamsonelderhawthornrowancrabapplewalnuthazelnut";
const NON_LATIN: &str = "日本酒 と 梅 · قهوة بالهيل · сливовица · मसाला चाय";
const HOSTILE: [&str; 7] = [
    "<script>document.body.innerHTML = 'gone'</script>",
    "\"><img src=x onerror=alert(1)> plum & bay's <b id=evil>",
    "</style></title></p></table><h1 class=evil>",
    "gin\u{202e}nig \u{200f}bay",
    "red\u{1b}[31m\u{7}\u{0}",
    "{{ 7 * 7 }}{% raw %} &lt;i&gt; ]]> -->",
    "javascript:alert(1)' onclick='x",
];

/// Papers that are printed on every sheet.
const PRINTED_ON_ALL: [&str; 7] = [
    "report-short",
    "report-rows",
    "labels-and-one",
    "labels-growing",
    "cards-and-one",
    "cards-growing",
    "insert",
];

/// A page, what it is printed on, how many pages it should come to, and texts it should show so many times or more.
struct Paper {
    name: String,
    html: String,
    sheet: Sheet,
    pages: RangeInclusive<usize>,
    says: Vec<(String, usize)>,
    /// Whether it is printed too; not if it is much like another one.
    print: bool,
}

#[test]
#[ignore = "needs chromium; .ci/run installs it and runs these"]
fn papers_print_on_their_sheets() {
    let mut papers = all_papers();
    papers.retain(|paper| paper.print);
    let halves = papers.len() / 2;
    let wrong: Vec<String> = thread::scope(|scope| {
        let print = |papers: &[Paper]| papers.iter().flat_map(printed_wrong).collect::<Vec<_>>();
        let (left, right) = papers.split_at(halves);
        let (left, right) = (scope.spawn(move || print(left)), scope.spawn(move || print(right)));
        [left.join().unwrap(), right.join().unwrap()].concat()
    });
    assert_eq!(wrong, Vec::<String>::new());
}

#[test]
#[ignore = "needs chromium; .ci/run installs it and runs these"]
fn papers_are_read_whole_and_take_text_as_text() {
    let papers = all_papers();
    assert!(papers.len() > 40, "papers of every kind on every sheet: {}", papers.len());
    let found = probed(&papers);
    assert_eq!(found, Vec::<String>::new());
}

#[test]
#[ignore = "needs chromium; .ci/run installs it and runs these"]
fn the_probe_finds_what_is_wrong() {
    let head = "<!DOCTYPE html><html lang=en><head><title>x</title></head><body>";
    let cases = [
        ("<p>fine</p>", ""),
        ("<div style='width: 2000px'>wide</div>", "sideways"),
        ("<div style='width: 5em; overflow: auto'><div style='width: 2000px'>scrolls</div></div>", ""),
        ("<div style='margin-left: -50px'>left of the page</div>", "sideways"),
        ("<p style='color: #888'>3.5 to 1</p>", "contrast"),
        ("<p style='color: #767676'>4.54 to 1</p>", ""),
        ("<div style='background: #000'><p>black on black</p></div>", "contrast"),
        ("<svg viewBox='0 0 90 20'><text x=0 y=15 fill='#999'>pale</text></svg>", "contrast"),
        ("<style>p::before { content: 'pale '; color: #999 }</style><p>fine</p>", "contrast"),
        ("<p style='opacity: 0.4'>faint</p>", "contrast"),
        (
            "<div style='width: 4em; overflow: hidden; white-space: nowrap'>clipped at its side</div>",
            "clipped",
        ),
        ("<div style='height: 1em; overflow: hidden'>clipped<br>at<br>its<br>foot</div>", "clipped"),
        ("<div class=paper style='height: 1em'>out<br>of<br>its<br>label</div>", "outside"),
        ("<div style='display: flex'><p style='width: 3em'>intoitsneighbour</p></div>", "outside"),
        ("<img alt='' src='x.png'>", "fetches"),
        ("<style>p { background: url(x.png) }</style><p>fine</p>", "fetches"),
        ("<link rel=icon href='x.png'>", "element"),
        ("<style>@import 'x.css';</style>", "fetches"),
        ("<script>1</script>", "element"),
        ("<p onclick='1'>fine</p>", "attribute"),
        ("<a href='x'>away</a>", "attribute"),
        ("<form></form>", "element"),
    ];
    let says = vec![("<b>plum".to_owned(), 1)];
    let mut papers: Vec<Paper> =
        cases.iter().enumerate().map(|(at, (body, _))| bad(at, format!("{head}{body}"), vec![])).collect();
    papers.push(bad(100, format!("{head}<p><b>plum</b></p>"), says.clone()));
    papers.push(bad(101, format!("{head}<p>&lt;b>plum</p>"), says));
    let found = probed(&papers);
    let of = |at: usize| found.iter().filter(|f| f.starts_with(&format!("bad-{at} "))).collect::<Vec<_>>();
    for (at, (body, finding)) in cases.iter().enumerate() {
        if finding.is_empty() {
            assert_eq!(of(at), Vec::<&String>::new(), "{body}");
        } else {
            let wanted = format!(" {finding}: ");
            assert!(
                of(at).iter().any(|f| f.contains(&wanted)),
                "{body} gives {:?} and not {finding}",
                of(at)
            );
        }
    }
    assert!(of(100).iter().any(|f| f.contains(" unsaid: ")));
    assert_eq!(of(101), Vec::<&String>::new());
}

#[test]
fn pages_of_a_pdf_are_counted() {
    let pdf =
        b"<</Type /Pages /Count 2>> <</Type /Page\n/MediaBox [0 0 594.95996 841.91998]>> <</Type /Page /X>>";
    assert_eq!(pages_in(pdf), 2);
    assert_eq!(media_boxes(pdf), [(594.95996, 841.91998)]);
}

fn bad(at: usize, html: String, says: Vec<(String, usize)>) -> Paper {
    Paper { name: format!("bad-{at}"), html, sheet: Sheet::A6, pages: 1..=1, says, print: false }
}

// The papers.

fn all_papers() -> Vec<Paper> {
    let all = |sheet| [report_papers(sheet), label_papers(sheet), card_papers(sheet), insert_papers(sheet)];
    let mut papers: Vec<Paper> = Sheet::ALL.into_iter().flat_map(all).flatten().collect();
    let mut answers: Vec<Paper> = Sheet::ALL.into_iter().flat_map(answer_papers).collect();
    for paper in &mut papers {
        // What is odd is printed on the smallest sheet alone, where it is hardest.
        let name = |name: &&str| paper.name == format!("{name}-{}", paper.sheet.name());
        paper.print &= paper.sheet == Sheet::A6 || PRINTED_ON_ALL.iter().any(name);
    }
    answers.retain(|paper| matches!(paper.sheet, Sheet::A4 | Sheet::A6));
    papers.extend(answers);
    papers
}

/// Commands that write a paper, with the option that names its file.
const ANSWERS: [(&str, &str, &str); 9] = [
    (
        "batch",
        "batch 1 oz reposado tequila, 1 oz red bitter liqueur, 1 oz sweet vermouth --name Orchard Agave --serves 40 --bottle 700ml --style freezer",
        "--page",
    ),
    ("batch-by-eye", "batch daiquiri for 12 --days 1 --bottle 1l --by-eye", "--page"),
    (
        "labels",
        "batch 1 oz reposado tequila, 1 oz red bitter liqueur, 1 oz sweet vermouth --name Orchard Agave --by The Weir House --serves 40 --bottle 700ml --style freezer",
        "--labels",
    ),
    ("kit", "kit negroni --bottle 4 x 500ml --parts 2 --room", "--page"),
    ("kit-labels", "kit daiquiri --bottle 3 x 500ml", "--labels"),
    ("prep", "prep 30 daiquiri, 20 mojito, 20 bee's knees, 10 mai tai", "--page"),
    ("cost", "cost mai tai --tax 20 %", "--page"),
    ("cards", "card negroni, daiquiri, mai tai, mojito, manhattan", "--page"),
    ("batch-long", "batch bloody mary for 20", "--page"),
];

/// Papers as the commands write them, of the built-in book.
fn answer_papers(sheet: Sheet) -> Vec<Paper> {
    let (house, out) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let mut session = bar::session_on(bar::built_in_over(house.path()), bar::clock());
    let write = |(name, line, option): &(&str, &str, &str)| {
        let file = out.path().join(format!("{name}.html"));
        bar::told(&mut session, &format!("{line} {option} '{}' --sheet {}", file.display(), sheet.name()));
        let html = fs::read_to_string(file).unwrap();
        let pages = if html.contains("<section") { sheets_of(&html) } else { 1..=8 };
        paper(&format!("answer-{name}"), sheet, html, pages)
    };
    ANSWERS.iter().map(write).collect()
}

fn paper(name: &str, sheet: Sheet, html: String, pages: RangeInclusive<usize>) -> Paper {
    Paper { name: format!("{name}-{}", sheet.name()), html, sheet, pages, says: vec![], print: true }
}

fn saying(mut paper: Paper, times: usize) -> Paper {
    paper.says = HOSTILE.iter().map(|text| (clean(text).trim().to_owned(), times)).collect();
    paper
}

/// As many pages as the paper has sheets: small papers are laid out before they are printed. One that is longer than a
/// sheet is let run on.
fn sheets_of(html: &str) -> RangeInclusive<usize> {
    let sheets = html.matches("<section").count();
    let over = html.matches("class=\"paper over\"").count();
    sheets..=sheets + 4 * over
}

fn gauge(label: &str, value: f64, bands: &[(&str, f64, f64)]) -> Gauge {
    let span = |(label, least, most): &(&str, f64, f64)| Span {
        label: (*label).to_owned(),
        least: *least,
        most: *most,
    };
    Gauge {
        label: label.to_owned(),
        value,
        value_text: format!("{value:.1}"),
        unit: "g/L".to_owned(),
        bands: bands.iter().map(span).collect(),
        scale: (0.0, 120.0),
    }
}

fn facts(facts: &[(&str, &str)]) -> Vec<(String, String)> {
    facts.iter().map(|(label, value)| ((*label).to_owned(), (*value).to_owned())).collect()
}

fn every_block(text: &str) -> Report {
    let mut table = Table::new([Column::right("ml"), Column::left(text), Column::flexible("why")]).numbered();
    table.push([Cell::from("22.5"), Cell::new(text, Tone::Strong), Cell::new("demo", Tone::Warn)]);
    table.push(["7.5", "quince", text]);
    let mut marks = [Mark::None; 12];
    marks[8] = Mark::Available;
    marks[9..=10].fill(Mark::Peak);
    let year = Year { rows: vec![(text.to_owned(), marks)], start: Month::Mar, now: Some(Month::Oct) };
    Report::new(text, Value::Null)
        .text(format!("{text}\n  indented"))
        .note(text)
        .heading(text)
        .facts(facts(&[(text, text), ("sugar to acid", "7.1 to 1")]))
        .table(table)
        .gauge(gauge(text, 61.0, &[(text, 37.0, 55.0), ("classics", 50.0, 68.0)]))
        .gauge(gauge("acid", 130.0, &[]))
        .gauge(gauge("unknown", f64::NAN, &[("house", 1.0, 2.0)]))
        .year(year)
        .caution(text)
        .list(vec![text.to_owned(), "strain twice".to_owned()])
        .drawn(format!("{text}\n  |--[=====]--|\n   {}", "-".repeat(70)))
}

fn report_papers(sheet: Sheet) -> Vec<Paper> {
    let page = |report: &Report| page(report, sheet).unwrap();
    let short = Report::new(SHORT, Value::Null).text("Two parts to one to one.").caution("Raw egg.");
    let mut papers = vec![paper("report-short", sheet, page(&short), 1..=1)];
    for (name, text) in [("long", LONG), ("unbroken", UNBROKEN), ("non-latin", NON_LATIN)] {
        papers.push(paper(&format!("report-{name}"), sheet, page(&every_block(text)), 1..=9));
    }
    let mut hostile = every_block(HOSTILE[0]);
    hostile.blocks.extend(HOSTILE[1..].iter().flat_map(|text| every_block(text).blocks));
    papers.push(saying(paper("report-hostile", sheet, page(&hostile), 3..=36), 13));
    let rows = 150;
    let mut table = Table::new(["ml", "ingredient", "bottle", "why"].map(Column::left));
    for row in 0..rows {
        table.push([&row.to_string(), "apple brandy", "70 cl", "demo"]);
    }
    let (width, height) = sheet.size_mm();
    // A row is a line of at least 8 points; at most it is four lines of 11 points and some white, stacked.
    let least = (f64::from(rows) * 8.0 * 1.35 / PT_PER_MM / height).floor();
    let most = (f64::from(rows) * 5.0 * 11.0 * 1.35 / PT_PER_MM / (height - 30.0)).ceil();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "small and positive")]
    let pages = least.max(2.0) as usize..=most as usize;
    papers.push(paper("report-rows", sheet, page(&Report::new("Rows", Value::Null).table(table)), pages));
    let titles: Vec<String> = (1..=14).map(|at| format!("measurement {at}")).collect();
    let mut wide = Table::new(titles.iter().map(Column::right));
    wide.push(titles.iter().map(|_| "1234.5"));
    let many = usize::from(width < 140.0) + 1;
    papers.push(paper(
        "report-columns",
        sheet,
        page(&Report::new("Columns", Value::Null).table(wide)),
        1..=many,
    ));
    papers
}

fn part(name: &str, allergen: bool) -> Part {
    Part { name: name.to_owned(), allergen }
}

fn label(name: &str, parts: usize) -> Label {
    let all = ["apple brandy", "quince cordial", "orgeat (tree nuts)", "lemon juice", "soda water"];
    Label {
        house: Some("Weir House, lower bar".to_owned()),
        name: name.to_owned(),
        made_on: Some("3 October 2026".to_owned()),
        keep_by: Some("31 October 2026".to_owned()),
        strength: Some("18.4 % vol".to_owned()),
        volume: "500 ml".to_owned(),
        ingredients: (0..parts).map(|at| part(all[at % 5], at % 5 == 2)).collect(),
        allergens: vec!["tree nuts".to_owned()],
        standard_drinks: vec!["7.3 UK units of 8 g".to_owned(), "4.2 US standard drinks of 14 g".to_owned()],
        storage: vec!["Keep cold, upright and closed.".to_owned()],
        serve: Some("90 ml over ice, with soda".to_owned()),
        cautions: vec!["Not for children. Contains alcohol.".to_owned()],
        fill: Some(FillMark { label: "filled to 500 ml".to_owned(), share: 0.9 }),
    }
}

fn said_on_a_label(text: &str) -> Label {
    let text = || text.to_owned();
    Label {
        house: Some(text()),
        name: text(),
        made_on: Some(text()),
        keep_by: Some(text()),
        strength: Some(text()),
        volume: text(),
        ingredients: vec![part(&text(), true), part(&text(), false)],
        allergens: vec![text()],
        standard_drinks: vec![text()],
        storage: vec![text()],
        serve: Some(text()),
        cautions: vec![text()],
        fill: Some(FillMark { label: text(), share: 0.5 }),
    }
}

fn label_papers(sheet: Sheet) -> Vec<Paper> {
    let made = |some: &[Label]| labels(some, sheet).unwrap();
    let a_sheet = match sheet {
        Sheet::A4 | Sheet::Letter => 8,
        Sheet::A5 => 3,
        Sheet::A6 => 2,
    };
    let more = vec![label(SHORT, 5); a_sheet + 1];
    let longest = if sheet == Sheet::A6 { 22 } else { 50 };
    // Every length in turn: were one of them guessed too short, its sheet would run over.
    let growing: Vec<Label> = (1..=longest)
        .step_by(4)
        .flat_map(|parts| [label(LONG, parts), label(&LONG.to_uppercase(), parts / 2)])
        .collect();
    let odd: Vec<Label> = [LONG, UNBROKEN, NON_LATIN].map(said_on_a_label).into();
    let hostile: Vec<Label> = HOSTILE.map(said_on_a_label).into();
    let (growing, odd, hostile) = (made(&growing), made(&odd), made(&hostile));
    assert!(!growing.contains("class=\"paper over\""), "each of them fits a sheet");
    vec![
        // Two pages: one more than fits a sheet, and no fewer fit it.
        paper("labels-and-one", sheet, made(&more), 2..=2),
        paper("labels-growing", sheet, growing.clone(), sheets_of(&growing)),
        paper("labels-odd", sheet, odd.clone(), sheets_of(&odd)),
        // The picture's title holds the mark's label too.
        saying(paper("labels-hostile", sheet, hostile.clone(), sheets_of(&hostile)), 13),
        paper("labels-over", sheet, made(&[label(SHORT, 900)]), 2..=12),
    ]
}

fn card(name: &str, lines: usize) -> Card {
    let all = facts(&[
        ("60 ml", "apple brandy"),
        ("22.5 ml", "quince cordial"),
        ("2 dashes", "red bitter liqueur"),
    ]);
    Card {
        name: name.to_owned(),
        family: "sour".to_owned(),
        method: "shaken".to_owned(),
        glass: "coupe".to_owned(),
        lines: (0..lines).map(|at| all[at % 3].clone()).collect(),
        garnish: Some("apple fan".to_owned()),
        steps: vec!["Shake hard with ice for 12 seconds.".to_owned(), "Strain twice.".to_owned()],
        figures: vec![gauge("sugar", 61.0, &[("sour", 37.0, 55.0)]), gauge("acid", 9.4, &[])],
        facts: facts(&[("in the glass", "127 ml"), ("sugar to acid", "7.1 to 1")]),
        allergens: vec!["egg".to_owned()],
        cautions: vec!["Raw egg: local codes come first.".to_owned()],
        note: Some("From the upper bar.".to_owned()),
    }
}

fn said_on_a_card(text: &str) -> Card {
    let text = || text.to_owned();
    Card {
        name: text(),
        family: text(),
        method: text(),
        glass: text(),
        lines: vec![(text(), text())],
        garnish: Some(text()),
        steps: vec![text()],
        figures: vec![gauge(&text(), 61.0, &[(&text(), 37.0, 55.0)])],
        facts: vec![(text(), text())],
        allergens: vec![text()],
        cautions: vec![text()],
        note: Some(text()),
    }
}

fn card_papers(sheet: Sheet) -> Vec<Paper> {
    let made = |some: &[Card]| cards(some, sheet).unwrap();
    let a_sheet = match sheet {
        Sheet::A4 | Sheet::Letter => 4,
        Sheet::A5 => 2,
        Sheet::A6 => 1,
    };
    let growing: Vec<Card> = (1..=30).map(|lines| card(SHORT, lines)).collect();
    let fitting = &growing[..if sheet == Sheet::A6 { 8 } else { 18 }];
    let odd: Vec<Card> = [LONG, UNBROKEN, NON_LATIN].map(said_on_a_card).into();
    let hostile: Vec<Card> = HOSTILE.map(said_on_a_card).into();
    let (growing, odd, hostile) = (made(fitting), made(&odd), made(&hostile));
    assert!(!growing.contains("class=\"paper over\""), "each of them fits a sheet");
    vec![
        paper("cards-and-one", sheet, made(&vec![card(SHORT, 5); a_sheet + 1]), 2..=2),
        paper("cards-growing", sheet, growing.clone(), sheets_of(&growing)),
        paper("cards-odd", sheet, odd.clone(), sheets_of(&odd)),
        saying(paper("cards-hostile", sheet, hostile.clone(), sheets_of(&hostile)), 14),
        paper("cards-30-lines", sheet, made(&[card(LONG, 30)]), 1..=3),
    ]
}

fn kit(name: &str, steps: usize) -> Insert {
    let mark = |label: &str, share: f64| FillMark { label: label.to_owned(), share };
    Insert {
        house: Some("Weir House".to_owned()),
        name: name.to_owned(),
        adds: "240 ml apple brandy".to_owned(),
        ratio: "2 parts of spirit to 1 of mix".to_owned(),
        makes: "4 drinks of 90 ml".to_owned(),
        steps: (0..steps)
            .map(|_| "Pour the brandy up to the upper line, close and turn over.".to_owned())
            .collect(),
        facts: facts(&[("keeps", "3 days cold"), ("strength", "about 21 % vol")]),
        ingredients: vec![part("quince cordial", false), part("egg white (egg)", true)],
        allergens: vec!["egg".to_owned()],
        cautions: vec!["Contains alcohol. Not for children.".to_owned()],
        marks: vec![mark("the mix, 120 ml", 0.3), mark("the spirit, 360 ml", 0.9), mark("full", 0.95)],
    }
}

fn said_on_an_insert(text: &str) -> Insert {
    let text = || text.to_owned();
    Insert {
        house: Some(text()),
        name: text(),
        adds: text(),
        ratio: text(),
        makes: text(),
        steps: vec![text()],
        facts: vec![(text(), text())],
        ingredients: vec![part(&text(), true)],
        allergens: vec![text()],
        cautions: vec![text()],
        marks: vec![FillMark { label: text(), share: 0.5 }],
    }
}

fn insert_papers(sheet: Sheet) -> Vec<Paper> {
    let made = |kit: &Insert| insert(kit, sheet).unwrap();
    let mut papers = vec![
        paper("insert", sheet, made(&kit("Orchard sour at home", 3)), 1..=1),
        paper("insert-30-steps", sheet, made(&kit(LONG, 30)), 1..=4),
        paper("insert-unbroken", sheet, made(&said_on_an_insert(UNBROKEN)), 1..=2),
        paper("insert-non-latin", sheet, made(&said_on_an_insert(NON_LATIN)), 1..=1),
    ];
    for (at, text) in HOSTILE.iter().enumerate() {
        let mut hostile =
            paper(&format!("insert-hostile-{at}"), sheet, made(&said_on_an_insert(text)), 1..=2);
        hostile.says = vec![(clean(text).trim().to_owned(), 12)];
        hostile.print = at == 0;
        papers.push(hostile);
    }
    papers
}

// The browser.

/// The browser to be used.
fn chromium() -> PathBuf {
    if let Some(path) = env::var_os("CHROMIUM") {
        return PathBuf::from(path);
    }
    let folders: Vec<PathBuf> = env::split_paths(&env::var_os("PATH").unwrap_or_default()).collect();
    ["chromium", "chromium-browser", "google-chrome"]
        .iter()
        .flat_map(|name| folders.iter().map(move |folder| folder.join(name)))
        .find(|path| path.is_file())
        .expect("no chromium is on the path: install one (apt-get install chromium), or say where it is in CHROMIUM")
}

/// Runs a browser on a file; what it writes.
fn browse(file: &Path, options: &[String]) -> String {
    let profile = tempfile::tempdir().unwrap();
    let out = profile.path().join("out");
    let mut child = Command::new(chromium())
        .args(["--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run"])
        .arg(format!("--user-data-dir={}", profile.path().display()))
        .args(options)
        .arg(format!("file://{}", file.display()))
        .stdin(Stdio::null())
        .stdout(File::create(&out).unwrap())
        .stderr(Stdio::null())
        .spawn()
        .expect("the browser does not start");
    let start = Instant::now();
    let status = loop {
        if let Some(status) = child.try_wait().unwrap() {
            break status;
        }
        if start.elapsed() > PATIENCE {
            child.kill().unwrap();
            panic!("the browser did not answer on {}", file.display());
        }
        thread::sleep(Duration::from_millis(10));
    };
    assert!(status.success(), "the browser failed on {}", file.display());
    fs::read_to_string(out).unwrap()
}

/// Where papers are kept to be looked at.
fn folder() -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("papers");
    fs::create_dir_all(&folder).unwrap();
    folder
}

// Printing.

/// What is wrong with the paper once it is printed.
fn printed_wrong(paper: &Paper) -> Vec<String> {
    let (file, pdf) =
        (folder().join(format!("{}.html", paper.name)), folder().join(format!("{}.pdf", paper.name)));
    fs::write(&file, &paper.html).unwrap();
    let _ = fs::remove_file(&pdf);
    browse(&file, &["--no-pdf-header-footer".to_owned(), format!("--print-to-pdf={}", pdf.display())]);
    let bytes = fs::read(&pdf).unwrap();
    let mut wrong = Vec::new();
    let pages = pages_in(&bytes);
    if !paper.pages.contains(&pages) {
        wrong.push(format!("{}: {pages} pages and not {:?}", paper.name, paper.pages));
    }
    let (width, height) = paper.sheet.size_mm();
    let boxes = media_boxes(&bytes);
    let near = |found: f64, mm: f64| (found - mm * PT_PER_MM).abs() < 1.0;
    if boxes.is_empty() || !boxes.iter().all(|(w, h)| near(*w, width) && near(*h, height)) {
        wrong.push(format!("{}: printed on {boxes:?} points", paper.name));
    }
    wrong
}

/// The pages of a PDF: its objects of the type `Page`, which the browser writes without packing them.
fn pages_in(pdf: &[u8]) -> usize {
    let mark = b"/Type /Page";
    pdf.windows(mark.len() + 1).filter(|at| at.starts_with(mark) && at[mark.len()] != b's').count()
}

/// Widths and heights of the pages that say theirs, in points.
fn media_boxes(pdf: &[u8]) -> Vec<(f64, f64)> {
    let text = String::from_utf8_lossy(pdf);
    let sizes = text.split("/MediaBox [").skip(1).filter_map(|rest| {
        let numbers: Vec<f64> = rest.split(']').next()?.split_whitespace().flat_map(str::parse).collect();
        Some((*numbers.get(2)?, *numbers.get(3)?))
    });
    sizes.collect()
}

// Reading.

/// What the probe finds in papers on a telephone and at the width of their sheet: `PAPER WIDTH KIND: WHAT`.
fn probed(papers: &[Paper]) -> Vec<String> {
    let mut frames = String::new();
    let mut tasks = Vec::new();
    for paper in papers {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "small and positive")]
        let sheet = (paper.sheet.size_mm().0 * PX_PER_MM).round() as u32;
        for width in [TELEPHONE, sheet] {
            // The paper forbids scripts and files; without that it would be the browser that keeps them out.
            let html = paper.html.replace("http-equiv=\"Content-Security-Policy\"", "name=\"dropped\"");
            let html = html.replacen("<head>", &format!("<head>{WATCH}"), 1);
            let html = html.replace('&', "&amp;").replace('"', "&quot;");
            frames.push_str(&format!(
                "<iframe width={width} height=1200 style='border: 0' srcdoc=\"{html}\"></iframe>\n"
            ));
            let says: Vec<Value> = paper.says.iter().map(|(text, times)| json!([text, times])).collect();
            tasks.push(json!({ "name": paper.name, "width": width, "says": says }));
        }
    }
    let tasks = json!(tasks).to_string().replace('<', "\\u003c");
    let host = format!(
        "<!DOCTYPE html><meta charset=utf-8>{FORBID}<body>{frames}<script>const TASKS = {tasks};\n{PROBE}</script></body>"
    );
    let file = tempfile::Builder::new().suffix(".html").tempfile_in(folder()).unwrap();
    fs::write(file.path(), host).unwrap();
    let dom = browse(file.path(), &["--dump-dom".to_owned()]);
    let found = dom.split("<pre id=\"probe\">").nth(1).and_then(|rest| rest.split("</pre>").next());
    let found = found.expect("the probe wrote nothing").replace("&lt;", "<").replace("&gt;", ">");
    let found: Value = serde_json::from_str(&found.replace("&amp;", "&")).unwrap();
    assert_eq!(found["probed"], json!(2 * papers.len()), "every paper is probed at both widths");
    found["findings"].as_array().unwrap().iter().map(|f| f.as_str().unwrap().to_owned()).collect()
}

/// The host of the papers lets nothing be fetched, and neither do its frames.
const FORBID: &str = "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; \
                      style-src 'unsafe-inline'; script-src 'unsafe-inline'; frame-src 'self'\">";

/// Stands first in each frame and notes what is kept from being fetched; it takes itself out.
const WATCH: &str = "<script>window.kept = []; addEventListener('securitypolicyviolation', \
                     (e) => kept.push(e.blockedURI)); document.currentScript.remove();</script>";

/// Looks at each frame and writes what it finds.
///
/// # Source
/// Contrast: W3C, *Web Content Accessibility Guidelines 2.1*, success criterion 1.4.3 (4.5 to 1) and the definitions
/// of contrast ratio and relative luminance.
const PROBE: &str = r#"
const ELEMENTS = new Set(('html head meta title style body main section article header figure figcaption h1 h2 h3 p '
  + 'span strong div ul ol li dl dt dd table thead tbody tfoot tr th td pre br svg path rect text').split(' '));
const ATTRIBUTES = new Set(('lang charset name content class style title scope colspan data-title role aria-label '
  + 'viewbox d x y x1 x2 y1 y2 width height fill stroke stroke-width stroke-linejoin text-anchor').split(' '));
const rgba = (text) => {
  const n = text.match(/[\d.]+/g).map(Number);
  return n.length > 3 ? n : [...n, 1];
};
const luminance = ([r, g, b]) => {
  const part = (c) => { c /= 255; return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4; };
  return 0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b);
};
const contrast = (a, b) => {
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (high + 0.05) / (low + 0.05);
};
function look(view, say, says) {
  const page = view.document, root = page.documentElement, wide = view.innerWidth;
  const style = (element, pseudo) => view.getComputedStyle(element, pseudo);
  const short = (element) => element.tagName + '.' + (element.getAttribute('class') || '') + ' '
    + element.textContent.trim().slice(0, 40);
  const scrolls = (element) => {
    for (let e = element; e && e !== page.body; e = e.parentElement)
      if (['auto', 'scroll'].includes(style(e).overflowX)) return true;
    return false;
  };
  const ground = (element) => {
    for (let e = element; e; e = e.parentElement) {
      const colour = rgba(style(e).backgroundColor);
      if (style(e).backgroundImage !== 'none') return null;
      if (colour[3] === 1) return colour;
      if (colour[3] > 0) return null;
    }
    return [255, 255, 255, 1];
  };
  const legible = (element, pseudo) => {
    const look = style(element, pseudo), on = ground(element);
    const ink = rgba(element.namespaceURI.endsWith('svg') ? look.fill : look.color);
    if (!on || ink[3] < 1) return say('contrast', short(element) + ' stands on what cannot be told');
    const ratio = contrast(ink, on);
    if (ratio < 4.5) say('contrast', short(element) + ' has ' + ratio.toFixed(2));
  };
  if (root.scrollWidth > wide) say('sideways', 'the page is ' + root.scrollWidth + ' wide');
  for (const element of page.querySelectorAll('*')) {
    const name = element.tagName.toLowerCase();
    if (!ELEMENTS.has(name)) say('element', name);
    for (const { name: attribute, value } of element.attributes) {
      const known = ATTRIBUTES.has(attribute.toLowerCase()) || (name === 'meta' && attribute === 'http-equiv');
      if (!known) say('attribute', attribute + '=' + value);
      if (attribute === 'style' && /url\(/i.test(value)) say('fetches', value);
    }
    if (name === 'style' && /url\(|@import|@font-face|image-set/i.test(element.textContent)) say('fetches', 'a style');
    if (!page.body.contains(element)) continue;
    const look = style(element), box = element.getBoundingClientRect();
    if (look.display === 'none' || (box.width === 0 && box.height === 0)) continue;
    if (look.opacity < 1) say('contrast', short(element) + ' is seen through');
    if ((box.right > wide + 0.5 || box.left < -0.5) && !scrolls(element.parentElement)) say('sideways', short(element));
    const hides = (overflow) => overflow === 'hidden' || overflow === 'clip';
    if (element.namespaceURI.endsWith('svg')) continue;
    if ((hides(look.overflowX) && element.scrollWidth > element.clientWidth + 1)
      || (hides(look.overflowY) && element.scrollHeight > element.clientHeight + 1)) say('clipped', short(element));
    for (const pseudo of ['::before', '::after'])
      if (!['none', 'normal', '""'].includes(style(element, pseudo).content)) legible(element, pseudo);
  }
  const walker = page.createTreeWalker(page.body, NodeFilter.SHOW_TEXT);
  const texts = [];
  while (walker.nextNode()) {
    const node = walker.currentNode, text = node.nodeValue.trim(), parent = node.parentElement;
    if (!text || ['STYLE', 'SCRIPT'].includes(parent.tagName)) continue;
    texts.push(text);
    const range = page.createRange();
    range.selectNodeContents(node);
    const rects = [...range.getClientRects()].filter((r) => r.width > 0);
    if (!rects.length) continue;
    legible(parent);
    let block = parent;
    while (style(block).display === 'inline' && block !== page.body) block = block.parentElement;
    if (scrolls(block)) continue;
    for (const box of [block, parent.closest('svg'), parent.closest('.paper')]) {
      if (!box) continue;
      const edge = box.getBoundingClientRect();
      // Where blanks are kept, one at the end of a line may hang over.
      const hangs = style(block).whiteSpace.startsWith('pre') ? 8 : 1;
      if (rects.some((r) => r.left < edge.left - 1 || r.right > edge.right + hangs
        || (box.matches('.paper') && (r.top < edge.top - 2 || r.bottom > edge.bottom + 2)))) {
        say('outside', text.slice(0, 40) + ' leaves ' + short(box));
      }
    }
  }
  for (const address of view.kept) say('fetches', address);
  for (const { name } of view.performance.getEntriesByType('resource')) say('fetches', name);
  for (const [text, times] of says) {
    const shown = texts.filter((t) => t === text || t.endsWith(' ' + text) || t.startsWith(text + '\n')
      || t.includes(' ' + text + ' ')).length;
    if (shown < times) say('unsaid', shown + ' of ' + times + ': ' + text);
  }
}
addEventListener('load', () => {
  const findings = [];
  const frames = [...document.querySelectorAll('iframe')];
  frames.forEach((frame, at) => {
    const { name, width, says } = TASKS[at];
    if (frame.contentWindow.innerWidth !== width) findings.push(name + ' ' + width + ' width: not so wide');
    look(frame.contentWindow, (kind, what) => findings.push(name + ' ' + width + ' ' + kind + ': ' + what), says);
  });
  const out = document.createElement('pre');
  out.id = 'probe';
  out.textContent = JSON.stringify({ probed: frames.length, findings });
  document.body.replaceChildren(out);
});
"#;

//! Whole pages, and what holds for any report.

use proptest::collection::vec;
use proptest::prelude::*;
use serde_json::Value;

use super::*;
use crate::measure::Month;
use crate::report::{Cell, Column, FillMark, Gauge, Mark, Row, Span, Style, Table, Tone, Year, render};

fn gauge() -> Gauge {
    let span = |label: &str, least: f64, most: f64| Span { label: label.to_owned(), least, most };
    Gauge {
        label: "strength".to_owned(),
        value: 20.66,
        value_text: "20.7".to_owned(),
        unit: "% vol".to_owned(),
        bands: vec![span("published", 21.0, 29.0), span("classics", 18.0, 24.0)],
        scale: (0.0, 40.0),
    }
}

fn every_block() -> Report {
    let mut table = Table::new([Column::right("ml"), Column::left("ingredient")]).numbered();
    table.push([Cell::from("22.5"), Cell::new("quince cordial", Tone::Strong)]);
    let mut marks = [Mark::None; 12];
    marks[9] = Mark::Peak;
    Report::new("Orchard & river", Value::Null)
        .heading("A heading")
        .text("First line.\n   second line")
        .facts(vec![("a label".to_owned(), "a value".to_owned())])
        .table(table)
        .gauge(gauge())
        .gauge(Gauge { label: "unknown".to_owned(), scale: (0.0, f64::NAN), ..gauge() })
        .year(Year { rows: vec![("medlar".to_owned(), marks)], start: Month::Jan, now: Some(Month::Oct) })
        .note("A note.")
        .caution("Raw egg.")
        .list(vec!["an entry".to_owned()])
        .bottle(vec![FillMark { label: "up to here".to_owned(), share: 0.5 }])
        .drawn("  |--|\n  a < b")
}

#[test]
fn every_block_is_on_the_page() {
    for sheet in Sheet::ALL {
        let page = page(&every_block(), sheet).unwrap();
        for shown in [
            "<title>Orchard &amp; river</title>",
            "<h1>Orchard &amp; river</h1>",
            "<h2>A heading</h2>",
            "<p class=\"text\">First line.\n   second line\n</p>",
            "<dt>a label</dt>\n<dd>a value</dd>",
            "<th scope=\"col\" class=\"n\">ml</th>",
            "<td class=\" n\" data-title=\"ml\">22.5</td>",
            "<td class=\"strong\" data-title=\"ingredient\">quince cordial</td>",
            "<title>strength 20.7 % vol; below the published band 21-29; within the classics band 18-24</title>",
            "<li class=\"warn\">below the published band 21-29</li>",
            "<li>within the classics band 18-24</li>",
            "<th scope=\"row\" class=\"who\">medlar</th>",
            "<td title=\"at its peak\">●</td>",
            "<span>^ now, October</span>",
            "<p class=\"note\">A note.</p>",
            "<p class=\"caution\"><strong>Caution:</strong> Raw egg.</p>",
            "<li>an entry</li>",
            "<title>bottle: up to here at 50 %</title>",
            "<li><strong>1</strong> up to here</li>",
            "  |--|\n  a &lt; b\n</pre>",
        ] {
            assert!(page.contains(shown), "{shown}\nis not in\n{page}");
        }
        assert_eq!(
            page.matches("<svg").count(),
            2,
            "a gauge and a bottle; a scale that is not a number is not drawn"
        );
        assert_eq!(page.matches("<div class=\"gauges\">").count(), 1, "gauges share a group");
        let (width, height) = sheet.size_mm();
        assert!(page.contains(&format!("@page {{ size: {width:?}mm {height:?}mm;")), "{sheet}");
    }
}

#[test]
fn an_empty_report_is_a_page_and_an_empty_table_says_so() {
    let empty = page(&Report::new("", Value::Null), Sheet::A6).unwrap();
    assert!(empty.ends_with("<main>\n</main>\n</body>\n</html>\n") || empty.ends_with("</html>"), "{empty}");
    assert_eq!(words_of(&empty), Vec::<String>::new());
    let table = Report::new("", Value::Null).table(Table::new([Column::left("quince")]));
    assert_eq!(words_of(&page(&table, Sheet::A6).unwrap()), ["quince", "nothing", "to", "show"]);
}

/// The words of a page in their order, without drawings.
fn words_of(page: &str) -> Vec<String> {
    let mut rest = page.split_once("<body>").unwrap().1;
    let mut text = String::new();
    while let Some((before, tag)) = rest.split_once('<') {
        text.push_str(before);
        text.push(' ');
        rest = if tag.starts_with("svg") {
            tag.split_once("</svg>").unwrap().1
        } else {
            tag.split_once('>').unwrap().1
        };
    }
    let signs =
        [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&#x27;", "'"), ("&#x2f;", "/"), ("&amp;", "&")];
    let text = signs.iter().fold(text, |text, (escape, sign)| text.replace(escape, sign));
    words(&text)
}

/// The words of a text, without the signs that drawings and lists are made of.
fn words(text: &str) -> Vec<String> {
    let drawn = |word: &str| word.chars().all(|c| "═─•·├┤●◂▸○!^".contains(c));
    text.split_whitespace().filter(|word| !drawn(word)).map(str::to_owned).collect()
}

fn said() -> impl Strategy<Value = String> {
    prop_oneof![
        "[a-z]{1,9}( [a-z0-9.,%]{1,9}){0,4}",
        "[<>&\"'/{}%#=; a-z]{0,20}",
        vec(any::<char>(), 0..6).prop_map(String::from_iter),
    ]
}

fn block() -> impl Strategy<Value = Block> {
    let cell = (said(), prop_oneof![Just(Tone::Plain), Just(Tone::Warn), Just(Tone::Quiet)])
        .prop_map(|(text, tone)| Cell { text, tone });
    let table = (vec(said(), 1..4), vec(vec(cell, 0..5), 0..4), any::<bool>()).prop_map(
        |(titles, rows, numbered)| {
            let mut table = Table::new(titles.into_iter().map(Column::flexible));
            table.rows = rows.into_iter().map(|cells| Row { cells }).collect();
            table.numbered = numbered;
            table
        },
    );
    let gauge = (said(), said(), any::<f64>(), vec((said(), any::<f64>(), any::<f64>()), 0..3)).prop_map(
        |(label, unit, value, bands)| Gauge {
            label,
            value,
            value_text: format!("{value:.1}"),
            unit,
            bands: bands.into_iter().map(|(label, least, most)| Span { label, least, most }).collect(),
            scale: (0.0, 100.0),
        },
    );
    let mark = prop_oneof![Just(Mark::None), Just(Mark::Available), Just(Mark::Peak)];
    let year = (vec((said(), vec(mark, 12)), 0..3), any::<bool>()).prop_map(|(rows, now)| Year {
        rows: rows.into_iter().map(|(name, marks)| (name, marks.try_into().unwrap())).collect(),
        start: Month::Apr,
        now: now.then_some(Month::Oct),
    });
    prop_oneof![
        said().prop_map(Block::Heading),
        said().prop_map(Block::Text),
        vec((said(), said()), 0..3).prop_map(Block::Facts),
        table.prop_map(Block::Table),
        gauge.prop_map(Block::Gauge),
        year.prop_map(Block::Year),
        said().prop_map(Block::Note),
        said().prop_map(Block::Caution),
        vec(said(), 0..3).prop_map(Block::List),
        vec((said(), any::<f64>()), 0..3).prop_map(|marks| {
            Block::Bottle(marks.into_iter().map(|(label, share)| FillMark { label, share }).collect())
        }),
        said().prop_map(Block::Drawn),
    ]
}

proptest! {
    #[test]
    fn the_page_says_what_the_text_says(title in said(), blocks in vec(block(), 0..6)) {
        let mut report = Report::new(title, Value::Null);
        report.blocks = blocks;
        // Wide enough for any line.
        let text = render(&report, &Style { width: 60_000, colour: false, unicode: true });
        prop_assert_eq!(words_of(&page(&report, Sheet::A4).unwrap()), words(&text));
    }
}

//! Whole renderings, and what holds for any report.

use std::collections::BTreeMap;

use proptest::collection::vec;
use proptest::prelude::*;
use serde_json::Value;

use super::wrap::width_of;
use crate::measure::Month;
use crate::report::clean::acts;
use crate::report::{
    Align, Block, Cell, Column, FillMark, Gauge, Mark, Report, Row, Span, Style, Table, Tone, Year, clean,
    render,
};

const PLAIN: Style = Style { width: 80, colour: false, unicode: true };

fn empty() -> Report {
    Report::new("", Value::Null)
}

fn at(report: &Report, width: usize) -> String {
    render(report, &Style { width, ..PLAIN })
}

fn ascii(report: &Report, width: usize) -> String {
    render(report, &Style { width, unicode: false, ..PLAIN })
}

fn companions() -> Table {
    let mut table = Table::new([
        Column::left("companion"),
        Column::right("affinity"),
        Column::flexible("why"),
        Column::left("origin"),
    ]);
    let quince = "both carry orchard fruit and honey; they meet in green wood";
    table.push(["quince", "0.82", quince, "demo"]);
    table.push(["crème de mûre", "0.7", "dark fruit", "demo"]);
    table.push(["日本酒", "0.64", "", "house"]);
    table.numbered()
}

fn gauge(label: &str, value: f64, unit: &str, bands: &[(&str, f64, f64)], scale: (f64, f64)) -> Gauge {
    let span = |(label, least, most): &(&str, f64, f64)| Span {
        label: (*label).to_owned(),
        least: *least,
        most: *most,
    };
    Gauge {
        label: label.to_owned(),
        value,
        value_text: format!("{value}"),
        unit: unit.to_owned(),
        bands: bands.iter().map(span).collect(),
        scale,
    }
}

fn glass() -> Report {
    empty()
        .gauge(gauge("strength", 31.2, "% vol", &[("", 21.0, 29.0), ("house", 26.0, 32.0)], (10.0, 40.0)))
        .gauge(gauge("sugar", 61.0, "g/L", &[("", 37.0, 68.0)], (0.0, 120.0)))
        .gauge(gauge("acid", 9.4, "g/L", &[("", 0.0, 2.0)], (0.0, 6.0)))
}

fn seasons() -> Report {
    let mut medlar = [Mark::None; 12];
    medlar[8] = Mark::Available;
    medlar[9..=10].fill(Mark::Peak);
    let mut elderflower = [Mark::None; 12];
    elderflower[4] = Mark::Available;
    elderflower[5] = Mark::Peak;
    let rows = vec![("medlar".to_owned(), medlar), ("elderflower".to_owned(), elderflower)];
    empty().year(Year { rows, start: Month::Jan, now: Some(Month::Oct) })
}

#[test]
fn blocks_stand_under_their_heading_and_notes_under_what_they_explain() {
    let report = Report::new("Medlar", Value::Null)
        .text("A small brown fruit, eaten when it has gone soft.\nHouse record.")
        .note("bletted, as the orchard says")
        .heading("Keeping")
        .facts(vec![
            ("whole".to_owned(), "3 weeks in straw".to_owned()),
            ("purée".to_owned(), "4 days cold".to_owned()),
        ])
        .caution("Mould is not bletting.")
        .caution("Local rules on raw fruit come first, whatever is written here; ask who holds the licence.")
        .list(vec!["keep the skins out".to_owned(), "strain twice".to_owned()]);
    let wide = "\
Medlar
══════

  A small brown fruit, eaten when it has gone soft.
  House record.
  · bletted, as the orchard says

Keeping
  whole  3 weeks in straw
  purée  4 days cold

! Caution: Mould is not bletting.
! Caution: Local rules on raw fruit come first, whatever is written here; ask
  who holds the licence.

  • keep the skins out
  • strain twice
";
    assert_eq!(at(&report, 80), wide);
    let narrow = "\
Medlar
======

A small brown fruit,
eaten when it has
gone soft.
House record.
- bletted, as the
  orchard says

Keeping
whole  3 weeks in
       straw
purée  4 days cold

! Caution: Mould is
  not bletting.
! Caution: Local
  rules on raw fruit
  come first,
  whatever is
  written here; ask
  who holds the
  licence.

* keep the skins out
* strain twice
";
    assert_eq!(ascii(&report, 20), narrow);
}

#[test]
fn a_table_wraps_its_flexible_column() {
    let expected = "
      companion      affinity  why                                        origin
      ─────────────  ────────  ─────────────────────────────────────────  ──────
   1  quince             0.82  both carry orchard fruit and honey; they   demo
                               meet in green wood
   2  crème de mûre       0.7  dark fruit                                 demo
   3  日本酒             0.64                                             house
";
    assert_eq!(at(&empty().table(companions()), 80), &expected[1..]);
}

#[test]
fn a_table_that_does_not_fit_is_stacked() {
    let expected = "
   1  quince
      affinity  0.82
      why       both carry orchard fruit
                and honey; they meet in
                green wood
      origin    demo
   2  crème de mûre
      affinity  0.7
      why       dark fruit
      origin    demo
   3  日本酒
      affinity  0.64
      origin    house
";
    assert_eq!(at(&empty().table(companions()), 40), &expected[1..]);
    let expected = "
 1  quince
    affinity  0.82
    why
      both carry
      orchard fruit
      and honey;
      they meet in
      green wood
    origin  demo
 2  crème de mûre
    affinity  0.7
    why  dark fruit
    origin  demo
 3  日本酒
    affinity  0.64
    origin  house
";
    assert_eq!(at(&empty().table(companions()), 20), &expected[1..]);
}

#[test]
fn a_small_table_stays_a_table_at_forty() {
    let mut table = Table::new([Column::left("piña"), Column::right("oz")]);
    table.push(["日本酒", "1 1/2"]);
    table.push(["lime juice", "3/4"]);
    let expected = "
  piña           oz
  ----------  -----
  日本酒      1 1/2
  lime juice    3/4
";
    assert_eq!(ascii(&empty().table(table), 40), &expected[1..]);
}

#[test]
fn empty_and_ragged_tables_are_shown_as_they_are() {
    assert_eq!(at(&empty().table(Table::default()), 80), "\n");
    let headed = Table::new([Column::left("companion"), Column::right("affinity")]);
    let expected = "
  companion  affinity
  ─────────  ────────
  nothing to show
";
    assert_eq!(at(&empty().table(headed.clone()), 80), &expected[1..]);
    assert_eq!(at(&empty().table(headed), 10), "nothing to\nshow\n");
    let mut ragged = Table::new([Column::left("a")]);
    ragged.push(["1", "2", "3"]);
    ragged.push([""; 0]);
    ragged.push(["4"]);
    assert_eq!(at(&empty().table(ragged), 80), "  a\n  ─\n  1  2  3\n\n  4\n");
    let mut hidden = Table::new([]);
    hidden.push(["\u{2028}"]);
    assert_eq!(at(&empty().table(hidden), 80), "  \\u{2028}\n");
}

#[test]
fn a_row_number_past_nine_keeps_the_column_straight() {
    let mut table = Table::new([Column::left("")]).numbered();
    for _ in 0..10 {
        table.push(["x"]);
    }
    let text = at(&empty().table(table), 80);
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!((lines[0], lines[9]), ("   1  x", "  10  x"));
}

#[test]
fn gauges_share_their_columns_and_say_it_in_words() {
    let expected = "
  strength  31.2 % vol  ···········├────────┤·●·········  above the band 21-29
                        ·················├────●┤········  within the house band 26-32
  sugar       61 g/L    ··········├─────●─┤·············  within the band 37-68
  acid       9.4 g/L    ├─────────┤····················▸  above the band 0-2
";
    assert_eq!(at(&glass(), 100), &expected[1..]);
    let expected = "
  strength  31.2 % vol
    ...........[========].o.........
    above the band 21-29
    .................[====o]........
    within the house band 26-32
  sugar     61 g/L
    ..........[=====o=].............
    within the band 37-68
  acid      9.4 g/L
    [=========]....................>
    above the band 0-2
";
    assert_eq!(ascii(&glass(), 40), &expected[1..]);
}

#[test]
fn a_figure_outside_is_drawn_outside() {
    let drawn = |value: f64| {
        let gauge = gauge("x", value, "", &[("", 10.0, 15.0)], (0.0, 25.0));
        at(&empty().gauge(gauge), 70)
    };
    assert_eq!(drawn(9.99), "  x  9.99  ···········●├──────┤············  just below the band 10-15\n");
    assert_eq!(drawn(10.0), "  x  10  ············●──────┤············  within the band 10-15\n");
    assert_eq!(drawn(15.0), "  x  15  ············├──────●············  within the band 10-15\n");
    assert_eq!(drawn(15.01), "  x  15.01  ············├─────┤●···········  just above the band 10-15\n");
}

#[test]
fn a_gauge_without_figure_band_or_scale_says_what_it_can() {
    let unknown = gauge("sugar", f64::NAN, "g/L", &[("", 37.0, 68.0)], (0.0, 100.0));
    let unknown = Gauge { value_text: "?".to_owned(), ..unknown };
    assert_eq!(
        ascii(&empty().gauge(unknown), 80),
        "  sugar  ? g/L  ...........[=========]..........  not known; the band is 37-68\n"
    );
    let bare = gauge("sugar", 25.0, "g/L", &[], (0.0, 100.0));
    assert_eq!(ascii(&empty().gauge(bare), 80), "  sugar  25 g/L  ........o.......................\n");
    let flat = gauge("sugar", 25.0, "g/L", &[("", 37.0, 68.0)], (5.0, 5.0));
    let expected = format!("  sugar  25 g/L  {}  below the band 37-68\n", " ".repeat(32));
    assert_eq!(ascii(&empty().gauge(flat), 80), expected);
}

#[test]
fn a_year_has_its_letters_marks_caret_and_legend() {
    let expected = "
               J F M A M J J A S O N D
  medlar       · · · · · · · · ○ ● ● ·
  elderflower  · · · · ○ ● · · · · · ·
                                 ^
  · out of season   ○ available   ● at its peak   ^ now, October
";
    assert_eq!(at(&seasons(), 80), &expected[1..]);
    let expected = "
JFMAMJJASOND
medlar
........o@@.
elderflower
....o@......
         ^
. out of season
o available
@ at its peak
^ now, October
";
    assert_eq!(ascii(&seasons(), 20), &expected[1..]);
    assert_eq!(
        at(&seasons(), 11),
        "medlar\nat its\npeak: Oct,\nNov\navailable:\nSep\nelderflower\nat its\npeak: Jun\navailable:\nMay\n"
    );
}

#[test]
fn a_year_may_start_in_any_month() {
    let mut report = seasons();
    if let Block::Year(year) = &mut report.blocks[0] {
        year.start = Month::Sep;
        year.now = None;
    }
    let expected = "
               S O N D J F M A M J J A
  medlar       o @ @ . . . . . . . . .
  elderflower  . . . . . . . . o @ . .
  . out of season   o available
  @ at its peak
";
    assert_eq!(ascii(&report, 40), &expected[1..]);
}

#[test]
fn colour_is_only_put_around_the_same_text() {
    let report = empty().heading("Keeping").caution("Mould.");
    let style = Style { colour: true, ..PLAIN };
    assert_eq!(
        render(&report, &style),
        "\u{1b}[1mKeeping\u{1b}[0m\n\u{1b}[1m\u{1b}[33m! Caution: Mould.\u{1b}[0m\n"
    );
}

#[test]
fn nothing_to_say_is_one_line_break() {
    assert_eq!(at(&empty(), 80), "\n");
    assert_eq!(at(&empty().text(" ").list(vec![]).facts(vec![]), 80), "\n");
}

fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        any::<String>(),
        "[a-z é日\u{301}\u{1b}\u{9b}\u{202e}\u{200d}\u{2061}\u{2060}\u{ad}\n\t\u{3000}]{0,40}",
        "[a-z]{1,9}( [a-z]{1,9}){0,12}",
    ]
}

fn table() -> impl Strategy<Value = Table> {
    let tone = prop::sample::select(vec![Tone::Plain, Tone::Strong, Tone::Quiet, Tone::Good, Tone::Warn]);
    let cell = (text(), tone).prop_map(|(text, tone)| Cell { text, tone });
    let align = prop::sample::select(vec![Align::Left, Align::Right]);
    let column =
        (text(), align, any::<bool>()).prop_map(|(title, align, flexible)| Column { title, align, flexible });
    let row = vec(cell, 0..5).prop_map(|cells| Row { cells });
    (vec(column, 0..5), vec(row, 0..5), any::<bool>()).prop_map(|(columns, rows, numbered)| Table {
        columns,
        rows,
        numbered,
    })
}

fn any_gauge() -> impl Strategy<Value = Gauge> {
    let figure = || prop_oneof![any::<f64>(), -9.0..99.0_f64];
    let span = (text(), figure(), figure()).prop_map(|(label, least, most)| Span { label, least, most });
    (text(), figure(), text(), text(), vec(span, 0..3), (figure(), figure())).prop_map(
        |(label, value, value_text, unit, bands, scale)| Gauge {
            label,
            value,
            value_text,
            unit,
            bands,
            scale,
        },
    )
}

fn any_year() -> impl Strategy<Value = Year> {
    let marks = prop::array::uniform12(prop::sample::select(Mark::ALL.to_vec()));
    let month = || prop::sample::select(Month::ALL.to_vec());
    (vec((text(), marks), 0..4), month(), prop::option::of(month())).prop_map(|(rows, start, now)| Year {
        rows,
        start,
        now,
    })
}

fn any_report() -> impl Strategy<Value = Report> {
    let block = prop_oneof![
        text().prop_map(Block::Heading),
        text().prop_map(Block::Text),
        vec((text(), text()), 0..4).prop_map(Block::Facts),
        table().prop_map(Block::Table),
        any_gauge().prop_map(Block::Gauge),
        any_year().prop_map(Block::Year),
        text().prop_map(Block::Note),
        text().prop_map(Block::Caution),
        vec(text(), 0..4).prop_map(Block::List),
        vec((text(), any::<f64>()), 0..4).prop_map(|marks| {
            Block::Bottle(marks.into_iter().map(|(label, share)| FillMark { label, share }).collect())
        }),
    ];
    (text(), vec(block, 0..6)).prop_map(|(title, blocks)| Report { title, blocks, data: Value::Null })
}

/// Every text that must be found in the rendering. A table's titles are left out: a stacked row does without the
/// first, and without that of an empty cell.
fn texts(report: &Report) -> Vec<&str> {
    let mut texts = vec![report.title.as_str()];
    for block in &report.blocks {
        match block {
            Block::Heading(text)
            | Block::Text(text)
            | Block::Note(text)
            | Block::Caution(text)
            | Block::Drawn(text) => {
                texts.push(text);
            }
            Block::Facts(facts) => texts.extend(facts.iter().flat_map(|(a, b)| [a.as_str(), b.as_str()])),
            Block::Table(table) => {
                texts.extend(table.rows.iter().flat_map(|row| &row.cells).map(|cell| cell.text.as_str()));
            }
            Block::Gauge(gauge) => {
                texts.extend([gauge.label.as_str(), &gauge.value_text, &gauge.unit]);
                texts.extend(gauge.bands.iter().map(|band| band.label.as_str()));
            }
            Block::Year(year) => texts.extend(year.rows.iter().map(|(name, _)| name.as_str())),
            Block::List(entries) => texts.extend(entries.iter().map(String::as_str)),
            Block::Bottle(marks) => texts.extend(marks.iter().map(|mark| mark.label.as_str())),
        }
    }
    texts
}

fn count<'a>(texts: impl IntoIterator<Item = &'a str>) -> BTreeMap<char, usize> {
    let mut counts = BTreeMap::new();
    for text in texts {
        for c in clean(text).chars().filter(|c| !c.is_whitespace()) {
            *counts.entry(c).or_default() += 1;
        }
    }
    counts
}

/// The text without the codes that set colour and weight, and with all else.
fn stripped(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, code)) = rest.split_once("\u{1b}[") {
        out.push_str(before);
        let end = code.find(|c: char| !c.is_ascii_digit()).unwrap_or(0);
        assert_eq!(code[end..].chars().next(), Some('m'), "{code:?}");
        rest = &code[end + 1..];
    }
    out + rest
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn any_report_is_safe_and_tidy_at_any_width(
        report in any_report(),
        width in prop_oneof![0_usize..30, 30_usize..130],
        unicode in any::<bool>(),
    ) {
        let text = render(&report, &Style { width, colour: false, unicode });
        prop_assert!(!text.chars().any(|c| c != '\n' && acts(c)), "{:?}", text);
        prop_assert!(text.ends_with('\n') && !text.ends_with("\n\n"));
        for line in text.lines() {
            prop_assert_eq!(line, line.trim_end());
            prop_assert!(width_of(line) <= width.max(2), "{:?}", line);
        }
        let coloured = render(&report, &Style { width, colour: true, unicode });
        prop_assert_eq!(stripped(&coloured), text);
    }

    #[test]
    fn nothing_is_cut(report in any_report(), width in 1_usize..130) {
        let shown = count([at(&report, width).as_str()]);
        for (c, times) in count(texts(&report)) {
            prop_assert!(shown.get(&c).is_some_and(|shown| *shown >= times), "{:?} of {:?}", c, report);
        }
    }
}

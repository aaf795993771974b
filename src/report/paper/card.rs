//! Spec cards for the back of the bar.

use serde::{Serialize, Serializer};
use serde_json::{Value, json};

use super::drawing::Drawing;
use super::label::guest_mm;
use super::place::{Placed, Places};
use super::press::{Frame, Print, press};
use super::room::Room;
use super::{PaperFault, Sheet, place};
use crate::report::{Gauge, clean};

/// White between a card's frame and its words.
const PADDING_MM: f64 = 4.0;
/// Points of a card's type, the usual first; amounts are set 1.9 times as large.
const TYPES_PT: [f64; 4] = [9.5, 8.5, 7.5, 7.0];
/// From this width on a card has two columns, and so much of its width is the left one's.
const WIDE_MM: f64 = 120.0;
const MADE: f64 = 0.62;
/// How much of the width amounts take at most.
const AMOUNTS: f64 = 0.4;
/// How much of the width drawings take, and what they take at most.
const DRAWINGS: f64 = 0.4;
const DRAWING_MM: f64 = 46.0;

/// How a drink is made, to be read at arm's length.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Card {
    /// The drink.
    pub name: String,
    /// Its family.
    pub family: String,
    /// How it is made: `shaken`.
    pub method: String,
    /// What it is served in.
    pub glass: String,
    /// Amounts and what they are of.
    pub lines: Vec<(String, String)>,
    /// What goes on it.
    pub garnish: Option<String>,
    /// What to do, in order.
    pub steps: Vec<String>,
    /// Figures against their bands.
    #[serde(serialize_with = "plain_figures")]
    pub figures: Vec<Gauge>,
    /// Labels and their values.
    pub facts: Vec<(String, String)>,
    /// The groups of allergens in it.
    pub allergens: Vec<String>,
    /// What can harm someone.
    pub cautions: Vec<String>,
    /// A remark.
    pub note: Option<String>,
}

/// Spec cards with frames to cut along: four on A4 and letter, two on A5, one on A6.
///
/// A card that is too long for its place is set in smaller type, else gets a whole row, a sheet, or more.
///
/// # Errors
/// Only if a template is at fault.
pub fn cards(cards: &[Card], sheet: Sheet) -> Result<String, PaperFault> {
    let (columns, rows) = match sheet {
        Sheet::A4 | Sheet::Letter => (2, 2),
        Sheet::A5 => (1, 2),
        Sheet::A6 => (1, 1),
    };
    let places = Places::new(sheet, columns, rows);
    let sheets = places.lay(cards.iter().map(Shown::new), &TYPES_PT, |shown, width, type_pt| {
        height_mm(shown.card, width, type_pt)
    });
    let paper = Cards { places, wide_mm: WIDE_MM, sheets };
    press(
        "cards.html",
        &Print { title: "Spec cards", frame: Frame::new(sheet, place::MARGIN_MM, 10.0), paper },
    )
}

#[derive(Debug, Serialize)]
struct Cards<'c> {
    places: Places,
    wide_mm: f64,
    sheets: Vec<Vec<Placed<Shown<'c>>>>,
}

#[derive(Debug, Serialize)]
struct Shown<'c> {
    card: &'c Card,
    way: Vec<&'c str>,
    figures: Vec<Drawing>,
}

impl<'c> Shown<'c> {
    fn new(card: &'c Card) -> Self {
        let way = [&card.family, &card.method, &card.glass].map(String::as_str);
        let way = way.into_iter().filter(|word| !clean(word).trim().is_empty()).collect();
        Self { card, way, figures: card.figures.iter().map(Drawing::new).collect() }
    }
}

/// How high a card is in a box of such a width, frame and all.
fn height_mm(card: &Card, width_mm: f64, type_pt: f64) -> f64 {
    let inner_mm = width_mm - 2.0 * PADDING_MM - 1.0;
    let mut room = Room::new(inner_mm, type_pt);
    room.bold(2.0, &card.name);
    room.text(1.1, &format!("{}, {}, {}", card.family, card.method, card.glass));
    room.white(2.0);
    if width_mm < WIDE_MM {
        made_mm(card, &mut room);
        more_mm(card, &mut room, type_pt, DRAWINGS);
    } else {
        let made = inner_mm * MADE;
        let (mut left, mut right) = (Room::new(made, type_pt), Room::new(inner_mm - made - 4.0, type_pt));
        made_mm(card, &mut left);
        more_mm(card, &mut right, type_pt, 0.0);
        room.white(left.height_mm().max(right.height_mm()));
    }
    room.height_mm() + 2.0 * PADDING_MM + 1.0
}

/// Adds what is needed to make the drink, and what can harm someone.
fn made_mm(card: &Card, room: &mut Room) {
    room.pairs(AMOUNTS, 1.9, &card.lines);
    room.white(2.0 + 0.5 * card.lines.len() as f64);
    if let Some(garnish) = &card.garnish {
        room.text(1.3, &format!("Garnish: {garnish}"));
    }
    guest_mm(room, &[], &card.allergens, &card.cautions);
    room.white(2.0);
}

/// Adds what else is on the card, its drawings beside their words or, if they get no share of the width, under them.
fn more_mm(card: &Card, room: &mut Room, type_pt: f64, drawings: f64) {
    for step in &card.steps {
        room.indented(6.0, 1.0, step);
    }
    for gauge in &card.figures {
        let beside = drawings > 0.0;
        let mut words =
            Room::new(room.width_mm() * (1.0 - drawings) - if beside { 3.0 } else { 0.0 }, type_pt);
        words.text(1.0, &format!("{} {} {}", gauge.label, gauge.value_text, gauge.unit));
        for band in &gauge.bands {
            words.bold(1.0, &band.words(gauge.value));
        }
        let wide_mm = if beside { room.width_mm() * drawings } else { room.width_mm() };
        let (words_mm, drawing_mm) = (words.height_mm(), DRAWING_MM.min(wide_mm) * Drawing::shape(gauge));
        room.white(0.6 + if beside { words_mm.max(drawing_mm) } else { words_mm + drawing_mm });
    }
    room.pairs(0.4, 1.0, &card.facts);
    room.text(1.0, card.note.as_deref().unwrap_or_default());
    room.white(2.0);
}

/// Gauges as plain data.
fn plain_figures<S: Serializer>(figures: &[Gauge], serializer: S) -> Result<S::Ok, S::Error> {
    let plain = |gauge: &Gauge| -> Value {
        let bands: Vec<Value> = gauge
            .bands
            .iter()
            .map(|band| json!({ "label": band.label, "least": band.least, "most": band.most }))
            .collect();
        json!({
            "label": gauge.label,
            "value": gauge.value,
            "value_text": gauge.value_text,
            "unit": gauge.unit,
            "bands": bands,
        })
    };
    serializer.collect_seq(figures.iter().map(plain))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::Span;

    fn card() -> Card {
        let two = |a: &str, b: &str| (a.to_owned(), b.to_owned());
        Card {
            name: "Orchard sour".to_owned(),
            family: "sour".to_owned(),
            method: "shaken".to_owned(),
            glass: "coupe".to_owned(),
            lines: vec![
                two("60 ml", "apple brandy"),
                two("22.5 ml", "lemon juice"),
                two("15 ml", "honey syrup"),
            ],
            garnish: Some("apple fan".to_owned()),
            steps: vec!["Shake hard.".to_owned(), "Strain twice.".to_owned()],
            figures: vec![Gauge {
                label: "strength".to_owned(),
                value: 20.7,
                value_text: "20.7".to_owned(),
                unit: "% vol".to_owned(),
                bands: vec![Span { label: "sour".to_owned(), least: 15.0, most: 20.0 }],
                scale: (0.0, 40.0),
            }],
            facts: vec![two("sugar to acid", "7.1 to 1")],
            allergens: vec![],
            cautions: vec!["Raw egg: local codes come first.".to_owned()],
            note: Some("From the upper bar.".to_owned()),
        }
    }

    fn sheets(page: &str) -> usize {
        page.matches("<section").count()
    }

    #[test]
    fn everything_is_on_the_card() {
        let page = cards(&[card()], Sheet::A6).unwrap();
        for said in [
            "Orchard sour",
            "sour, shaken, coupe",
            "60 ml",
            "apple brandy",
            "apple fan",
            "Strain twice.",
            "<title>strength 20.7 % vol; above the sour band 15-20</title>",
            "7.1 to 1",
            "none recorded",
            "Raw egg: local codes come first.",
            "From the upper bar.",
        ] {
            assert!(page.contains(said), "{said}");
        }
    }

    #[test]
    fn cards_fill_sheets() {
        for (sheet, a_sheet) in [(Sheet::A4, 4), (Sheet::Letter, 4), (Sheet::A5, 2), (Sheet::A6, 1)] {
            for count in [0, 1, a_sheet, a_sheet + 1] {
                let page = cards(&vec![card(); count], sheet).unwrap();
                assert_eq!(sheets(&page), count.div_ceil(a_sheet), "{count} on {sheet}");
            }
        }
    }

    #[test]
    fn a_card_is_plain_data_too() {
        let data = serde_json::to_value(card()).unwrap();
        assert_eq!(data["lines"][0], json!(["60 ml", "apple brandy"]));
        assert_eq!(data["figures"][0]["bands"][0]["most"], json!(20.0));
    }
}

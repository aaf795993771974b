//! Labels for bottles and jars.

use serde::Serialize;

use super::bottle::Bottle;
use super::place::{Placed, Places};
use super::press::{Frame, Print, press};
use super::room::Room;
use super::{FillMark, PaperFault, Part, Sheet, place};

/// White between a label's frame and its words.
const PADDING_MM: f64 = 3.0;
/// The picture of the bottle and the white beside it.
const PICTURE_MM: f64 = 20.0;
/// How high the picture is without what stands under it.
const PICTURE_HIGH_MM: f64 = 36.0;
/// Points of a label's type, the usual first. In a usual face the smallest keeps the letters without ascenders
/// above the 1.2 mm that Regulation (EU) 1169/2011, article 13 (2), asks for (from memory).
const TYPES_PT: [f64; 5] = [10.0, 9.0, 8.0, 7.5, 7.0];

/// What stands on a bottle or a jar. What is empty is left out, but for the allergens: without any it says that none
/// is recorded.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Label {
    /// Who made it.
    pub house: Option<String>,
    /// What is in it.
    pub name: String,
    /// The day it was made on.
    pub made_on: Option<String>,
    /// The last day it is to be used on.
    pub keep_by: Option<String>,
    /// How strong it is, with its unit: `23 % vol`.
    pub strength: Option<String>,
    /// How much is in it: `500 ml`.
    pub volume: String,
    /// What it is made of, the most first.
    pub ingredients: Vec<Part>,
    /// The groups of allergens in it: `tree nuts`.
    pub allergens: Vec<String>,
    /// What it comes to in standard drinks, one country an entry.
    pub standard_drinks: Vec<String>,
    /// How to keep it.
    pub storage: Vec<String>,
    /// How to serve it.
    pub serve: Option<String>,
    /// What can harm someone.
    pub cautions: Vec<String>,
    /// How far the bottle is filled.
    pub fill: Option<FillMark>,
}

/// Labels, several a sheet, with frames to cut along: eight on A4 and letter, three on A5, two on A6.
///
/// A label that is too long for its place is set in smaller type, else gets a whole row or a sheet of its own. None is
/// split over two sheets, unless it is longer than a sheet.
///
/// # Errors
/// Only if a template is at fault.
pub fn labels(labels: &[Label], sheet: Sheet) -> Result<String, PaperFault> {
    let (columns, rows) = match sheet {
        Sheet::A4 | Sheet::Letter => (2, 4),
        Sheet::A5 => (1, 3),
        Sheet::A6 => (1, 2),
    };
    let places = Places::new(sheet, columns, rows);
    let sheets = places.lay(labels.iter().map(Shown::new), &TYPES_PT, |shown, width, type_pt| {
        height_mm(shown.label, width, type_pt)
    });
    let paper = Labels { places, sheets };
    press("labels.html", &Print { title: "Labels", frame: Frame::new(sheet, place::MARGIN_MM, 10.0), paper })
}

#[derive(Debug, Serialize)]
struct Labels<'l> {
    places: Places,
    sheets: Vec<Vec<Placed<Shown<'l>>>>,
}

#[derive(Debug, Serialize)]
struct Shown<'l> {
    label: &'l Label,
    bottle: Option<Bottle>,
}

impl<'l> Shown<'l> {
    fn new(label: &'l Label) -> Self {
        Self { label, bottle: Bottle::new(label.fill.as_slice()) }
    }
}

/// How high a label is in a box of such a width, frame and all.
fn height_mm(label: &Label, width_mm: f64, type_pt: f64) -> f64 {
    let inner = width_mm - 2.0 * PADDING_MM - 1.0;
    let beside = if label.fill.is_some() { PICTURE_MM } else { 0.0 };
    let mut room = Room::new(inner - beside, type_pt);
    room.text(1.0, label.house.as_deref().unwrap_or_default());
    room.bold(1.6, &label.name);
    room.bold(1.1, &format!("{} · {}", label.volume, label.strength.as_deref().unwrap_or_default()));
    let days = [("Made", &label.made_on), ("Keep until", &label.keep_by)]
        .map(|(word, day)| day.as_ref().map_or_else(String::new, |day| format!("{word} {day}")));
    room.either(1.0, &days.map(|day| day + "  "));
    guest_mm(&mut room, &label.ingredients, &label.allergens, &label.cautions);
    for line in label.standard_drinks.iter().chain(&label.storage) {
        room.text(1.0, line);
    }
    room.text(1.0, &label.serve.as_ref().map_or_else(String::new, |serve| format!("Serve: {serve}")));
    // The white between the parts.
    room.white(4.0);
    let mut picture = Room::new(PICTURE_MM - 2.0, type_pt);
    if let Some(mark) = &label.fill {
        picture.white(PICTURE_HIGH_MM);
        picture.text(1.0, &mark.label);
    }
    room.height_mm().max(picture.height_mm()) + 2.0 * PADDING_MM + 1.0
}

/// Adds what a guest must know: what it is made of, its allergens and cautions.
pub(super) fn guest_mm(room: &mut Room, ingredients: &[Part], allergens: &[String], cautions: &[String]) {
    if !ingredients.is_empty() {
        room.text(1.0, &format!("Ingredients: {}", Part::listed(ingredients)));
    }
    if allergens.is_empty() {
        room.text(1.0, "Allergens: none recorded");
    } else {
        room.bold(1.0, &format!("Contains: {}", allergens.join(", ")));
    }
    for caution in cautions {
        room.indented(5.0, 1.0, &format!("Caution: {caution}"));
        room.white(2.5);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn label() -> Label {
        let part = |name: &str, allergen: bool| Part { name: name.to_owned(), allergen };
        Label {
            house: Some("Weir House".to_owned()),
            name: "Quince & honey cordial".to_owned(),
            made_on: Some("3 October 2026".to_owned()),
            keep_by: Some("31 October 2026".to_owned()),
            strength: Some("0 % vol".to_owned()),
            volume: "500 ml".to_owned(),
            ingredients: vec![part("quince", false), part("orgeat (tree nuts)", true)],
            allergens: vec!["tree nuts".to_owned()],
            standard_drinks: vec!["0.0 UK units of 8 g".to_owned()],
            storage: vec!["Keep cold.".to_owned()],
            serve: Some("over ice".to_owned()),
            cautions: vec!["Mould is not bletting.".to_owned()],
            fill: Some(FillMark { label: "filled to 500 ml".to_owned(), share: 0.9 }),
        }
    }

    fn sheets(page: &str) -> usize {
        page.matches("<section").count()
    }

    #[test]
    fn everything_is_on_the_label() {
        let page = labels(&[label()], Sheet::A4).unwrap();
        for said in [
            "Weir House",
            "Quince &amp; honey cordial",
            "3 October 2026",
            "31 October 2026",
            "0 % vol",
            "500 ml",
            "<strong>orgeat (tree nuts)</strong>",
            "Contains",
            "0.0 UK units of 8 g",
            "Keep cold.",
            "over ice",
            "Mould is not bletting.",
            "filled to 500 ml",
        ] {
            assert!(page.contains(said), "{said}");
        }
        assert!(!page.contains("none recorded"));
    }

    #[test]
    fn what_is_not_known_is_left_out_but_for_allergens() {
        let bare = Label { name: "Soda".to_owned(), volume: "1 L".to_owned(), ..Label::default() };
        let page = labels(&[bare], Sheet::A6).unwrap();
        assert!(page.contains("none recorded"));
        for left_out in ["Made", "Keep until", "Ingredients", "Serve", "Caution", "<svg", "None", "none<"] {
            assert!(!page.contains(left_out), "{left_out}");
        }
    }

    #[test]
    fn labels_fill_sheets() {
        for (sheet, a_sheet) in [(Sheet::A4, 8), (Sheet::Letter, 8), (Sheet::A5, 3), (Sheet::A6, 2)] {
            for count in [0, 1, a_sheet, a_sheet + 1, 3 * a_sheet] {
                let page = labels(&vec![label(); count], sheet).unwrap();
                assert_eq!(sheets(&page), count.div_ceil(a_sheet), "{count} on {sheet}");
            }
        }
    }

    #[test]
    fn a_label_that_is_too_long_takes_a_row_a_sheet_or_more() {
        let with = |parts: usize| {
            let part = Part { name: "a syrup of green walnuts".to_owned(), allergen: false };
            labels(&[Label { ingredients: vec![part; parts], ..label() }], Sheet::A4).unwrap()
        };
        let as_part = |page: &str| {
            ["place", "row", "whole", "over"]
                .into_iter()
                .find(|part| page.contains(&format!("class=\"paper {part}")))
        };
        let parts: Vec<_> = [2, 16, 60, 2000].map(|count| as_part(&with(count))).into();
        assert_eq!(parts, [Some("place"), Some("row"), Some("whole"), Some("over")]);
    }
}

//! What a guest finds in the bag of a take-home kit.

use serde::Serialize;

use super::bottle::Bottle;
use super::press::{Frame, Print, press};
use super::{FillMark, PaperFault, Part, Sheet};
use crate::report::clean;

/// How a guest makes a drink at home from a bottle of the bar's mix.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Insert {
    /// Who made the kit.
    pub house: Option<String>,
    /// The drink.
    pub name: String,
    /// What the guest adds.
    pub adds: String,
    /// How much of it to how much of the mix.
    pub ratio: String,
    /// How much it makes.
    pub makes: String,
    /// What to do, in order.
    pub steps: Vec<String>,
    /// Labels and their values.
    pub facts: Vec<(String, String)>,
    /// What the mix is made of, the most first.
    pub ingredients: Vec<Part>,
    /// The groups of allergens in it.
    pub allergens: Vec<String>,
    /// What can harm someone.
    pub cautions: Vec<String>,
    /// The lines on the bottle.
    pub marks: Vec<FillMark>,
}

/// An insert: how the drink is made at home, with a picture of the bottle and the lines it is filled to.
///
/// # Errors
/// Only if a template is at fault.
pub fn insert(insert: &Insert, sheet: Sheet) -> Result<String, PaperFault> {
    let (margin_mm, type_pt) = match sheet {
        Sheet::A4 | Sheet::Letter => (20.0, 12.0),
        Sheet::A5 => (12.0, 10.0),
        Sheet::A6 => (6.0, 8.0),
    };
    let key = [("You add", &insert.adds), ("Ratio", &insert.ratio), ("Makes", &insert.makes)]
        .into_iter()
        .filter(|(_, value)| !clean(value).trim().is_empty())
        .map(|(label, value)| (label, value.as_str()))
        .collect();
    let paper = Shown { insert, key, bottle: Bottle::new(&insert.marks) };
    press("insert.html", &Print { title: &insert.name, frame: Frame::new(sheet, margin_mm, type_pt), paper })
}

#[derive(Debug, Serialize)]
struct Shown<'i> {
    insert: &'i Insert,
    /// What the eye should find first.
    key: Vec<(&'static str, &'i str)>,
    bottle: Option<Bottle>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn everything_is_on_the_insert() {
        let mark = |label: &str, share: f64| FillMark { label: label.to_owned(), share };
        let kit = Insert {
            house: Some("Weir House".to_owned()),
            name: "Orchard sour at home".to_owned(),
            adds: "240 ml apple brandy".to_owned(),
            ratio: "2 of spirit to 1 of mix".to_owned(),
            makes: "4 drinks".to_owned(),
            steps: vec!["Fill up to the upper line.".to_owned()],
            facts: vec![("keeps".to_owned(), "3 days cold".to_owned())],
            ingredients: vec![Part { name: "egg white (egg)".to_owned(), allergen: true }],
            allergens: vec!["egg".to_owned()],
            cautions: vec!["Alcohol: not for children.".to_owned()],
            marks: vec![mark("the mix", 0.33), mark("the spirit", 1.0)],
        };
        let page = insert(&kit, Sheet::A5).unwrap();
        for said in [
            "Weir House",
            "<h1>Orchard sour at home</h1>",
            "240 ml apple brandy",
            "2 of spirit to 1 of mix",
            "4 drinks",
            "Fill up to the upper line.",
            "3 days cold",
            "<strong>egg white (egg)</strong>",
            "Alcohol: not for children.",
            "<title>bottle: the mix at 33 %; the spirit at 100 %</title>",
        ] {
            assert!(page.contains(said), "{said}");
        }
    }

    #[test]
    fn an_empty_insert_has_no_gaps() {
        let page = insert(&Insert::default(), Sheet::A6).unwrap();
        for left_out in ["You add", "Ratio", "<svg", "<ol", "Ingredients", "None", "none<"] {
            assert!(!page.contains(left_out), "{left_out}");
        }
    }
}

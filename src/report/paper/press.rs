//! Filling the templates.

use minijinja::syntax::SyntaxConfig;
use minijinja::value::{Serde, Value};
use minijinja::{Environment, Error, Output, State, UndefinedBehavior, escape_formatter};
use serde::Serialize;

use super::{PaperFault, Sheet};
use crate::report::clean;

/// Every template by its name. A name ends with `.html`, so that what is printed into it is escaped.
const TEMPLATES: [(&str, &str); 11] = [
    ("allergens.html", include_str!("templates/allergens.html")),
    ("base.html", include_str!("templates/base.html")),
    ("bottle.svg.html", include_str!("templates/bottle.svg.html")),
    ("cards.html", include_str!("templates/cards.html")),
    ("gauge.html", include_str!("templates/gauge.html")),
    ("guest.html", include_str!("templates/guest.html")),
    ("insert.html", include_str!("templates/insert.html")),
    ("labels.html", include_str!("templates/labels.html")),
    ("look.css.html", include_str!("templates/look.css.html")),
    ("page.html", include_str!("templates/page.html")),
    ("places.css.html", include_str!("templates/places.css.html")),
];

/// What every template is given.
#[derive(Debug, Serialize)]
pub(super) struct Print<'a, T> {
    /// What the paper is called in a browser.
    pub title: &'a str,
    /// What it is printed on.
    pub frame: Frame,
    /// What is on it.
    pub paper: T,
}

/// The sheet and how it is used.
#[derive(Debug, Clone, Serialize)]
pub(super) struct Frame {
    sheet: String,
    width_mm: f64,
    height_mm: f64,
    margin_mm: f64,
    type_pt: f64,
}

impl Frame {
    /// A sheet with so much left white around it, and type of such a size.
    pub(super) fn new(sheet: Sheet, margin_mm: f64, type_pt: f64) -> Self {
        let (width_mm, height_mm) = sheet.size_mm();
        Self { sheet: sheet.to_string(), width_mm, height_mm, margin_mm, type_pt }
    }

    /// The size of the type.
    pub(super) fn type_pt(&self) -> f64 {
        self.type_pt
    }

    /// The width inside the margins.
    pub(super) fn inner_width_mm(&self) -> f64 {
        self.width_mm - 2.0 * self.margin_mm
    }
}

/// The template filled in.
pub(super) fn press<T: Serialize>(name: &'static str, print: &Print<'_, T>) -> Result<String, PaperFault> {
    let filled = || environment()?.get_template(name)?.render(Serde(print));
    filled().map_err(|source| PaperFault::Template { name, source })
}

fn environment() -> Result<Environment<'static>, Error> {
    let mut environment = Environment::new();
    environment.set_undefined_behavior(UndefinedBehavior::Strict);
    environment.set_syntax(SyntaxConfig::builder().trim_blocks(true).lstrip_blocks(true).build()?);
    environment.set_formatter(cleaned);
    // Nothing that is printed is safe without being escaped.
    environment.remove_filter("safe");
    for (name, source) in TEMPLATES {
        environment.add_template(name, source)?;
    }
    Ok(environment)
}

/// Prints a value cleaned and escaped, whoever wrote it.
fn cleaned(out: &mut Output<'_>, state: &mut State<'_, '_>, value: &Value) -> Result<(), Error> {
    match value.as_str() {
        Some(text) => escape_formatter(out, state, &Value::from(clean(text))),
        None => escape_formatter(out, state, value),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_template_is_read_and_escapes() {
        let environment = environment().unwrap();
        for (name, source) in TEMPLATES {
            assert!(
                name.rsplit_once('.').is_some_and(|(_, ending)| ending == "html"),
                "{name} would not be escaped"
            );
            assert!(environment.get_template(name).is_ok(), "{name}");
            for barred in ["|", "autoescape", "<script", "http:", "https:", "url(", "@import", "javascript"] {
                assert!(!source.contains(barred), "{name} has {barred}");
            }
        }
    }

    #[test]
    fn what_is_missing_is_a_fault_and_not_a_gap() {
        #[derive(Serialize)]
        struct Nothing {}
        let print = Print { title: "Nothing", frame: Frame::new(Sheet::A4, 10.0, 10.0), paper: Nothing {} };
        let fault = press("page.html", &print).unwrap_err();
        assert!(fault.to_string().starts_with("the template page.html could not be filled"), "{fault}");
    }

    #[test]
    fn what_is_printed_is_cleaned_and_escaped() {
        let mut environment = environment().unwrap();
        environment.add_template("x.html", "<p title=\"{{ x }}\">{{ x }}</p>").unwrap();
        let context = std::collections::BTreeMap::from([("x", "<b onclick='1'>\"&\u{202e}\u{7}")]);
        let filled = environment.get_template("x.html").unwrap().render(Serde(context)).unwrap();
        let shown = "&lt;b onclick=&#x27;1&#x27;&gt;&quot;&amp;\\u{202e}\\u{7}";
        assert_eq!(filled, format!("<p title=\"{shown}\">{shown}</p>"));
    }
}

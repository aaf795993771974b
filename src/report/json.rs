//! A report for another program.

use std::fmt::Write as _;

use super::Report;
use super::clean::acts;

/// The report's answer as JSON on one line, without a line break at the end.
///
/// Characters that would act on a terminal stand as JSON's own escapes, so the line may be looked at on a screen; a
/// reader of JSON gets them back unchanged.
///
/// ```
/// use medlar::report::{Report, json};
///
/// let report = Report::new("Quince", serde_json::json!({ "id": "quince", "peak": ["oct", "nov"] }));
/// assert_eq!(json(&report), r#"{"id":"quince","peak":["oct","nov"]}"#);
/// ```
pub fn json(report: &Report) -> String {
    let line = report.data.to_string();
    if !line.chars().any(acts) {
        return line;
    }
    let mut out = String::with_capacity(line.len() + 16);
    for c in line.chars() {
        if acts(c) {
            for unit in c.encode_utf16(&mut [0; 2]) {
                // Writing to a string cannot fail.
                let _ = write!(out, "\\u{unit:04x}");
            }
        } else {
            out.push(c);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use serde_json::{Value, json as value};

    use super::*;

    #[test]
    fn the_order_of_keys_is_the_callers() {
        let report = Report::new("", value!({ "b": 1, "a": [1.5, null] }));
        assert_eq!(json(&report), r#"{"b":1,"a":[1.5,null]}"#);
    }

    #[test]
    fn what_acts_is_escaped() {
        let report = Report::new("", value!({ "name": "\u{1b}\u{9b}\u{202e}é\u{e0041}" }));
        assert_eq!(json(&report), r#"{"name":"\u001b\u009b\u202eé\udb40\udc41"}"#);
    }

    proptest! {
        #[test]
        fn any_text_comes_back_from_one_harmless_line(key in any::<String>(), text in any::<String>()) {
            let mut data = serde_json::Map::new();
            data.insert(key, Value::from(text));
            let report = Report::new("", Value::Object(data));
            let line = json(&report);
            prop_assert!(!line.chars().any(acts));
            prop_assert_eq!(serde_json::from_str::<Value>(&line).unwrap(), report.data);
        }
    }
}

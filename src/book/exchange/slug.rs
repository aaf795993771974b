//! An id from a name.

/// The most letters of an id.
const MOST_LETTERS: usize = 64;

/// `Crème de Cassis` is `creme-de-cassis`; none for a name that makes no id.
pub(super) fn slug(name: &str) -> Option<String> {
    let plain = deunicode::deunicode(name).to_lowercase().replace('\'', "");
    let words: Vec<&str> =
        plain.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let id = words.join("-");
    (!id.is_empty() && id.len() <= MOST_LETTERS).then_some(id)
}

//! Reading the rules that are part of the program.

use ron::extensions::Extensions;
use serde::de::DeserializeOwned;

/// The rules of a file that is part of the program.
///
/// # Panics
/// If the file cannot be read: a batch without its rules would be worse than none. A test reads each.
pub(super) fn read<T: DeserializeOwned>(file: &str, text: &str) -> T {
    let options = ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME);
    options.from_str(text).unwrap_or_else(|error| panic!("data/service/{file}: {error}"))
}

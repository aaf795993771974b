//! Names of records inside a book, as types.

use std::fmt;
use std::sync::Arc;

use serde::de::{self, Visitor};
use serde::{Deserialize, Deserializer, Serialize};
use thiserror::Error;

/// Text that cannot be an id.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error(
    "'{found}' is not an id: allowed are 1 to 64 of a to z, 0 to 9 and single hyphens between them, like blood-orange"
)]
pub struct NotAnId {
    /// What was found.
    pub found: String,
}

fn check(text: &str) -> Result<(), NotAnId> {
    let word = |w: &str| !w.is_empty() && w.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit());
    if text.len() <= 64 && text.split('-').all(word) {
        Ok(())
    } else {
        Err(NotAnId { found: text.to_owned() })
    }
}

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
        #[serde(into = "String")]
        pub struct $name(Arc<str>);

        impl $name {
            /// Takes text of lower-case letters, digits and single hyphens.
            ///
            /// # Errors
            /// [`NotAnId`] for any other text.
            pub fn new(text: &str) -> Result<Self, NotAnId> {
                check(text).map(|()| Self(Arc::from(text)))
            }

            /// The text.
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                struct Reader;
                impl Visitor<'_> for Reader {
                    type Value = $name;

                    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                        f.write_str("an id in quotes")
                    }

                    fn visit_str<E: de::Error>(self, text: &str) -> Result<$name, E> {
                        $name::new(text).map_err(E::custom)
                    }
                }
                deserializer.deserialize_str(Reader)
            }
        }

        impl From<$name> for String {
            fn from(id: $name) -> String {
                id.0.as_ref().to_owned()
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(&self.0)
            }
        }
    };
}

id!(
    /// The id of an ingredient.
    IngredientId
);
id!(
    /// The id of a template.
    TemplateId
);
id!(
    /// The id of a caution.
    CautionId
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_are_plain_hyphenated_words() {
        assert!(IngredientId::new("blood-orange").is_ok());
        for bad in ["", "-", "a--b", "Blood", "a b", "../x", "é", &"a".repeat(65)] {
            assert!(IngredientId::new(bad).is_err(), "{bad}");
        }
    }
}

//! Why a command has no answer, in a person's words.

use std::fmt;

use serde_json::{Value, json};

use crate::book::{Lookup, UnknownWord, Wanted};
use crate::drink::{NotASpec, NothingPoured};
use crate::liquid::LiquidError;
use crate::measure::range::OutOfRange;
use crate::measure::{NotAMonth, NotAnAmount, NotGiven};
use crate::report::{clean, wrapped};
use crate::riff::RiffError;

/// Whose doing it is; decides the exit status.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Something asked for is not there or cannot be: exit status 1.
    Mistake,
    /// The command is not written as it should be: exit status 2.
    Usage,
    /// The program's own: exit status 70.
    Fault,
}

impl Kind {
    /// The exit status.
    pub fn status(self) -> u8 {
        match self {
            Self::Mistake => 1,
            Self::Usage => 2,
            Self::Fault => 70,
        }
    }

    /// The word in JSON.
    pub fn name(self) -> &'static str {
        match self {
            Self::Mistake => "mistake",
            Self::Usage => "usage",
            Self::Fault => "fault",
        }
    }
}

/// Why a command has no answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Failure {
    /// Whose doing it is.
    pub kind: Kind,
    /// What was found and what is wrong with it.
    pub message: String,
    /// The places in files, drawn and safe to show; empty where there are none.
    pub detail: String,
    /// What to do, one a line.
    pub hints: Vec<String>,
    /// Names that may have been meant; the next command can pick one by its number.
    pub offers: Vec<String>,
}

impl Failure {
    /// Something asked for is not there or cannot be.
    pub fn mistake(message: impl Into<String>) -> Self {
        Self {
            kind: Kind::Mistake,
            message: message.into(),
            detail: String::new(),
            hints: Vec::new(),
            offers: Vec::new(),
        }
    }

    /// The command is not written as it should be.
    pub fn usage(message: impl Into<String>) -> Self {
        Self { kind: Kind::Usage, ..Self::mistake(message) }
    }

    /// Adds what to do.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hints.push(hint.into());
        self
    }

    /// Whether it names what may have been meant.
    pub fn offers_names(&self) -> bool {
        !self.offers.is_empty()
    }

    /// A name that leads nowhere or to several.
    pub fn of_name(typed: &str, wanted: Wanted, lookup: &Lookup) -> Self {
        let what = match wanted {
            Wanted::Ingredient => "ingredient",
            Wanted::Template => "template",
            Wanted::Any => "ingredient or template",
        };
        let list = match wanted {
            Wanted::Ingredient => "list ingredients",
            Wanted::Template => "list templates",
            Wanted::Any => "list",
        };
        match lookup {
            Lookup::Tie(names) => {
                let failure = Self::mistake(format!("'{typed}' could be several things"));
                Self { offers: names.clone(), ..failure }.hint("say which")
            }
            Lookup::Miss(near) if near.is_empty() => {
                Self::mistake(format!("there is no {what} '{typed}' in the book"))
                    .hint(format!("'{list}' shows what there is"))
            }
            Lookup::Miss(near) => {
                let failure = Self::mistake(format!("there is no {what} '{typed}' in the book"));
                Self { offers: near.clone(), ..failure }.hint("did you mean one of these?")
            }
            Lookup::Found(_) => Self::mistake(format!("'{typed}' is not an {what}")),
        }
    }

    /// As text in lines of at most so many columns, with the offers numbered; places in files stay as they are drawn.
    pub fn text(&self, width: usize) -> String {
        let blame = if self.kind == Kind::Fault { "our fault" } else { "sorry" };
        let mut lines = wrapped(&format!("{blame}: {}", self.message), "  ", width);
        if !self.detail.is_empty() {
            lines.push(self.detail.clone());
        }
        let room = width.saturating_sub(2);
        lines.extend(self.hints.iter().flat_map(|h| wrapped(h, "  ", room)).map(|h| format!("  {h}")));
        let offer = |(i, o): (usize, &String)| format!("  {:>2}  {}", i + 1, clean(o));
        lines.extend(self.offers.iter().enumerate().map(offer));
        lines.join("\n") + "\n"
    }

    /// As JSON.
    pub fn json(&self) -> Value {
        json!({
            "ok": false,
            "error": {
                "kind": self.kind.name(),
                "message": self.message,
                "detail": self.detail,
                "hints": self.hints,
                "offers": self.offers,
            }
        })
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl From<UnknownWord> for Failure {
    fn from(error: UnknownWord) -> Self {
        let near = crate::book::nearest_word(&error.found.to_lowercase(), error.allowed.iter().copied());
        let failure = Self::mistake(format!("'{}' is not {}", error.found, error.what));
        let failure = match near {
            Some(near) => failure.hint(format!("did you mean {near}?")),
            None => failure,
        };
        failure.hint(format!("allowed are: {}", error.allowed.join(", ")))
    }
}

impl From<NotAMonth> for Failure {
    fn from(error: NotAMonth) -> Self {
        Self::mistake(error.to_string())
    }
}

impl From<NotAnAmount> for Failure {
    fn from(error: NotAnAmount) -> Self {
        Self::mistake(error.to_string())
    }
}

impl From<NotGiven> for Failure {
    fn from(error: NotGiven) -> Self {
        Self::mistake(error.to_string())
    }
}

impl From<OutOfRange> for Failure {
    fn from(error: OutOfRange) -> Self {
        Self::mistake(error.to_string())
    }
}

impl From<LiquidError> for Failure {
    fn from(error: LiquidError) -> Self {
        Self::mistake(error.to_string())
    }
}

impl From<NothingPoured> for Failure {
    fn from(error: NothingPoured) -> Self {
        Self::mistake(error.to_string())
    }
}

impl From<NotASpec> for Failure {
    fn from(error: NotASpec) -> Self {
        match &error {
            NotASpec::Name { line, text, lookup } => {
                let mut failure = Self::of_name(text, Wanted::Ingredient, lookup);
                failure.message = format!("line {line}: {}", failure.message);
                failure
            }
            _ => Self::mistake(error.to_string())
                .hint("a spec is lines with commas between: 2 oz rye, 1 oz sweet vermouth, 2 dashes aromatic bitters"),
        }
    }
}

impl From<RiffError> for Failure {
    fn from(error: RiffError) -> Self {
        let hint = match &error {
            RiffError::NotPoured { name, .. } => Some(format!(
                "'riff ... --with {name}' looks for a form of it that can be poured, or puts it on top"
            )),
            RiffError::NothingFits { .. } => {
                Some("ask for less, or swap it by hand with --swap X=Y".to_owned())
            }
            RiffError::CannotWorkIn { name, .. } => Some(format!("'pairs {name}' shows what goes with it")),
            RiffError::DoesNotSuit { name, diet } => Some(format!(
                "'swap {name} --suits {}' shows stand-ins that are",
                diet.name().replace(' ', "-")
            )),
            RiffError::Brings { name, .. } => {
                Some(format!("'swap {name} --without ...' shows stand-ins without it"))
            }
            RiffError::OutOfSeason { .. } => {
                Some("leave --in-season out, or give another --month".to_owned())
            }
            RiffError::Contradicts { one, other, .. } => Some(format!("leave out {one} or {other}")),
            RiffError::SwapsGone { .. } => Some("leave the swap out, or the kind of variant".to_owned()),
            RiffError::Blocked { loosen, .. } => Some(loosen.clone()),
            RiffError::AlreadyIn { .. } | RiffError::WantedAndUnwanted { .. } | RiffError::Unsolvable(_) => {
                None
            }
        };
        let failure = Self::mistake(error.to_string());
        match hint {
            Some(hint) => failure.hint(hint),
            None => failure,
        }
    }
}

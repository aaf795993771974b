//! A drink that is worked on: what it came from, the steps taken, and the way back.

use thiserror::Error;

use super::spec::Line;
use super::typed::supposed_role;
use super::written::{Written, WrittenLine};
use crate::book::{Ingredient, IngredientId, Method};
use crate::measure::{Amount, Measures};

/// One thing done to a drink.
#[derive(Debug, Clone, PartialEq)]
pub enum Step {
    /// One ingredient put in another's place.
    Put {
        /// What went.
        from: IngredientId,
        /// What came.
        to: IngredientId,
    },
    /// Another amount of a line.
    Amount {
        /// Which.
        of: IngredientId,
        /// How much it was.
        from: Amount,
        /// How much it is.
        to: Amount,
    },
    /// A line more.
    Add {
        /// What came.
        what: IngredientId,
        /// How much.
        amount: Amount,
    },
    /// A line less.
    Drop {
        /// What went.
        what: IngredientId,
        /// How much it was.
        amount: Amount,
    },
    /// A garnish less.
    Bare {
        /// What went.
        what: IngredientId,
        /// In what form it was on top; may be empty.
        form: String,
    },
    /// Another method.
    Method {
        /// What it was.
        from: Method,
        /// What it is.
        to: Method,
    },
    /// Another name.
    Name {
        /// What it was.
        from: String,
        /// What it is.
        to: String,
    },
    /// The whole drink taken over, from a suggestion or from lines typed in.
    Take {
        /// Where from, in words.
        from: String,
    },
}

/// A step, and the drink after it.
#[derive(Debug, Clone, PartialEq)]
pub struct Done {
    /// What was done.
    pub step: Step,
    /// What that made.
    pub drink: Written,
}

/// Why a step cannot be taken; the drink then stays as it is.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum CannotStep {
    /// The line is not there.
    #[error("the drink has no line {line}: it has {lines}")]
    NoLine {
        /// Which was meant, from 1.
        line: usize,
        /// How many there are.
        lines: usize,
    },
    /// What should come is in the drink already.
    #[error("{name} is in the drink already")]
    AlreadyIn {
        /// What.
        name: String,
    },
    /// Nothing would be other than it is.
    #[error("that changes nothing: {what}")]
    NoChange {
        /// How it is.
        what: String,
    },
    /// The only line cannot be dropped.
    #[error("that is the drink's only line")]
    OnlyLine,
    /// A name that is empty, too long, or holds what a line cannot.
    #[error("'{name}' is no name for a drink: {why}")]
    NoName {
        /// What was given.
        name: String,
        /// What is wrong.
        why: &'static str,
    },
    /// There is no step to take back.
    #[error("there is no step to take back: the drink is as it came")]
    NothingToUndo,
    /// There is no step to take again.
    #[error("there is no step to take again: nothing was taken back, or another step was taken since")]
    NothingToRedo,
}

/// Longest name of a drink, in letters.
const LONGEST_NAME: usize = 60;

/// Amounts closer than this, ml, are one amount in two units.
const SAME_ML: f64 = 1e-6;

/// A drink that is worked on.
///
/// # Model
/// A list of drinks, each with the step that made it, and a place in the list. A step is put behind the place, and what
/// was taken back there is gone; going back and forth moves the place alone, so that it ends at the same value.
///
/// Every call gives a new value and leaves its own as it was.
#[derive(Debug, Clone, PartialEq)]
pub struct Work {
    origin: Written,
    steps: Vec<Done>,
    at: usize,
}

impl Work {
    /// Starts on a drink.
    pub fn on(origin: Written) -> Self {
        Self { origin, steps: Vec::new(), at: 0 }
    }

    /// The drink it came from.
    pub fn origin(&self) -> &Written {
        &self.origin
    }

    /// The drink as it is now.
    pub fn now(&self) -> &Written {
        self.done().last().map_or(&self.origin, |done| &done.drink)
    }

    /// The steps that count, first to last.
    pub fn done(&self) -> &[Done] {
        self.steps.get(..self.at).unwrap_or_default()
    }

    /// The steps that were taken back, next to be taken again first.
    pub fn undone(&self) -> &[Done] {
        self.steps.get(self.at..).unwrap_or_default()
    }

    /// Puts an ingredient in a line's place, amount and all. A person chose it, so no variant fills it unasked.
    ///
    /// # Errors
    /// [`CannotStep`] if it is in the drink already or the line is not there.
    pub fn put(&self, line: usize, to: &Ingredient) -> Result<Self, CannotStep> {
        let old = self.line(line)?;
        if old.ingredient == to.id {
            return Err(CannotStep::NoChange { what: format!("{} is what is there", to.name) });
        }
        self.not_in(to)?;
        let role = if to.roles.contains(&old.role) { old.role } else { supposed_role(to, old.amount) };
        let new = WrittenLine { role, ingredient: to.id.clone(), open: false, ..old.clone() };
        let step = Step::Put { from: old.ingredient.clone(), to: to.id.clone() };
        Ok(self.stepped(step, |drink| drink.lines[line] = new))
    }

    /// Gives a line another amount.
    ///
    /// # Errors
    /// [`CannotStep`] if it has that amount or is not there.
    pub fn amount(&self, line: usize, to: Amount, measures: &Measures) -> Result<Self, CannotStep> {
        let old = self.line(line)?;
        let volume = to.volume(measures);
        let as_much = volume.zip(old.volume).is_some_and(|(new, old)| (new.ml() - old.ml()).abs() < SAME_ML);
        if old.amount == to || as_much {
            return Err(CannotStep::NoChange { what: format!("it is {} already", old.amount) });
        }
        // A line that moved may move as before, as far as the new amount too; one that did not, does not.
        let limits = volume.map(|v| match old.limits {
            Some((least, most)) if least < most => (least.min(v), most.max(v)),
            _ => (v, v),
        });
        let new = WrittenLine { amount: to, volume, limits, ..old.clone() };
        let step = Step::Amount { of: old.ingredient.clone(), from: old.amount, to };
        Ok(self.stepped(step, |drink| drink.lines[line] = new))
    }

    /// Adds a line at the end.
    ///
    /// # Errors
    /// [`CannotStep`] if its ingredient is in the drink already.
    pub fn add(&self, line: &Line<'_>) -> Result<Self, CannotStep> {
        self.not_in(line.ingredient)?;
        let step = Step::Add { what: line.ingredient.id.clone(), amount: line.amount };
        Ok(self.stepped(step, |drink| drink.lines.push(WrittenLine::of(line))))
    }

    /// Takes a line out.
    ///
    /// # Errors
    /// [`CannotStep`] if it is the only one or is not there.
    pub fn drop_line(&self, line: usize) -> Result<Self, CannotStep> {
        let old = self.line(line)?;
        if self.now().lines.len() == 1 {
            return Err(CannotStep::OnlyLine);
        }
        let step = Step::Drop { what: old.ingredient.clone(), amount: old.amount };
        Ok(self.stepped(step, |drink| {
            drink.lines.remove(line);
        }))
    }

    /// Takes a garnish off.
    ///
    /// # Errors
    /// [`CannotStep`] if it is not on top.
    pub fn bare(&self, garnish: usize) -> Result<Self, CannotStep> {
        let all = &self.now().garnish;
        let (what, form) =
            all.get(garnish).cloned().ok_or(CannotStep::NoLine { line: garnish + 1, lines: all.len() })?;
        Ok(self.stepped(Step::Bare { what, form }, |drink| {
            drink.garnish.remove(garnish);
        }))
    }

    /// Makes it in another way.
    ///
    /// # Errors
    /// [`CannotStep`] if it is made so.
    pub fn method(&self, to: Method) -> Result<Self, CannotStep> {
        let from = self.now().method;
        if from == to {
            return Err(CannotStep::NoChange { what: format!("it is {to} already") });
        }
        Ok(self.stepped(Step::Method { from, to }, |drink| drink.method = to))
    }

    /// Names it.
    ///
    /// # Errors
    /// [`CannotStep`] if that is no name, or its name already.
    pub fn name(&self, to: &str) -> Result<Self, CannotStep> {
        let to = to.split_whitespace().collect::<Vec<_>>().join(" ");
        let no = |why| Err(CannotStep::NoName { name: to.clone(), why });
        if !to.chars().any(char::is_alphanumeric) {
            return no("it has no letter in it");
        }
        if to.chars().count() > LONGEST_NAME {
            return no("it is longer than 60 letters");
        }
        if to.starts_with('-') || to.chars().any(|c| c.is_control() || matches!(c, '"' | '\\')) {
            return no("it starts with a dash, or holds a double quote, a backslash or a control character");
        }
        let from = self.now().name.clone();
        if from == to {
            return Err(CannotStep::NoChange { what: format!("it is called {to} already") });
        }
        Ok(self.stepped(Step::Name { from, to: to.clone() }, |drink| drink.name = to))
    }

    /// Takes a whole drink over; the name stays.
    ///
    /// # Errors
    /// [`CannotStep`] if it is the drink that is there.
    pub fn take(&self, drink: Written, from: impl Into<String>) -> Result<Self, CannotStep> {
        let drink = Written { name: self.now().name.clone(), ..drink };
        if drink == *self.now() {
            return Err(CannotStep::NoChange { what: "it is the drink that is there".to_owned() });
        }
        Ok(self.stepped(Step::Take { from: from.into() }, |now| *now = drink))
    }

    /// Takes the last step back.
    ///
    /// # Errors
    /// [`CannotStep::NothingToUndo`] if there is none.
    pub fn undo(&self) -> Result<Self, CannotStep> {
        let at = self.at.checked_sub(1).ok_or(CannotStep::NothingToUndo)?;
        Ok(Self { at, ..self.clone() })
    }

    /// Takes the last step that was taken back once more.
    ///
    /// # Errors
    /// [`CannotStep::NothingToRedo`] if there is none.
    pub fn redo(&self) -> Result<Self, CannotStep> {
        if self.undone().is_empty() {
            return Err(CannotStep::NothingToRedo);
        }
        Ok(Self { at: self.at + 1, ..self.clone() })
    }

    fn line(&self, line: usize) -> Result<&WrittenLine, CannotStep> {
        let lines = &self.now().lines;
        lines.get(line).ok_or(CannotStep::NoLine { line: line + 1, lines: lines.len() })
    }

    fn not_in(&self, what: &Ingredient) -> Result<(), CannotStep> {
        if self.now().lines.iter().any(|l| l.ingredient == what.id) {
            return Err(CannotStep::AlreadyIn { name: what.name.clone() });
        }
        Ok(())
    }

    fn stepped(&self, step: Step, change: impl FnOnce(&mut Written)) -> Self {
        let mut drink = self.now().clone();
        change(&mut drink);
        let mut steps = self.done().to_vec();
        steps.push(Done { step, drink });
        Self { origin: self.origin.clone(), at: steps.len(), steps }
    }
}

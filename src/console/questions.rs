//! Questions that the prompt asks for a new ingredient, one a line, with what is taken if nothing is answered.

use crate::book::{Book, IngredientId};
use crate::report::clean;

/// One question.
#[derive(Debug)]
struct Question {
    /// The option of `new` that the answer is given to.
    option: &'static str,
    /// The question, short enough to stand before what is typed.
    ask: &'static str,
    /// What may be answered.
    help: &'static str,
}

/// In the order in which they are asked.
const QUESTIONS: [Question; 10] = [
    Question {
        option: "--like",
        ask: "like which ingredient",
        help: "a name that the book has; Enter: none",
    },
    Question {
        option: "--kind",
        ask: "what sort of thing",
        help: "'list kinds' shows them: liqueur, syrup, fruit",
    },
    Question { option: "--strength", ask: "strength, % vol", help: "0 for none" },
    Question { option: "--sugar", ask: "sugar, g/L", help: "a liqueur has 100 to 400" },
    Question { option: "--acid", ask: "acid as citric, g/L", help: "lemon juice has about 60" },
    Question {
        option: "--facet",
        ask: "tastes of",
        help: "facets with grades from 0 to 1: smoke 0.6, orchard 0.3",
    },
    Question { option: "--season", ask: "months it is fresh", help: "aug-nov, or all-year" },
    Question { option: "--allergen", ask: "allergens", help: "of the EU's 14, commas between, or none" },
    Question {
        option: "--diet",
        ask: "diets it suits",
        help: "vegan, vegetarian, gluten-free, no-alcohol, or none",
    },
    Question { option: "--pairs", ask: "take over what that goes with", help: "yes or no" },
];

/// What came of a line that was typed.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Step {
    /// Go on: words of the command as far as it is known, to be tried before the next question.
    Try(Vec<String>),
    /// The person gave up.
    Left,
}

/// Questions under way.
#[derive(Debug)]
pub(super) struct Questions {
    name: String,
    at: usize,
    /// What was answered, by question.
    answers: [Option<String>; QUESTIONS.len()],
}

impl Questions {
    /// What is told with an answer that would not do.
    pub(super) const WAYS_OUT: &'static str =
        "  once more; '?' says what will do, 'back' goes back, 'stop' leaves the questions\n";

    /// The questions for a new ingredient of a name.
    pub(super) fn new(name: String) -> Self {
        Self { name, at: 0, answers: Default::default() }
    }

    /// What stands before the answer: the question, and what is taken if nothing is typed.
    pub(super) fn prompt(&self, book: &Book) -> String {
        let question = &QUESTIONS[self.at];
        match self.usual(book) {
            Some(usual) => format!("{} [{usual}]? ", question.ask),
            None => format!("{}? ", question.ask),
        }
    }

    /// What to know before the first question.
    pub(super) fn opening(&self) -> String {
        format!(
            "{}: a few questions. Enter takes what stands in brackets, 'back' goes back, 'stop' leaves, '?' explains.\n",
            clean(&self.name)
        )
    }

    /// Takes an answer; words of the command as far as it is known.
    pub(super) fn take(&mut self, line: &str) -> Result<Step, String> {
        match line.trim() {
            "stop" | "quit" | "exit" => return Ok(Step::Left),
            "back" => {
                self.at = self.at.saturating_sub(1);
                while self.at > 0 && self.is_skipped(self.at) {
                    self.at -= 1;
                }
                self.answers[self.at] = None;
                return Err(String::new());
            }
            "?" | "help" => return Err(format!("{}\n", QUESTIONS[self.at].help)),
            "" => self.answers[self.at] = None,
            answer => self.answers[self.at] = Some(answer.to_owned()),
        }
        Ok(Step::Try(self.words()))
    }

    /// Goes to the next question; false if there is none.
    pub(super) fn next(&mut self) -> bool {
        loop {
            self.at += 1;
            if self.at >= QUESTIONS.len() {
                return false;
            }
            if !self.is_skipped(self.at) {
                return true;
            }
        }
    }

    /// Takes the last answer back, for it would not do.
    pub(super) fn not_that(&mut self) {
        self.answers[self.at] = None;
    }

    /// Whether another of its kind or its facts were named already, so that the question is not needed.
    fn is_skipped(&self, at: usize) -> bool {
        let like = self.answers[0].is_some();
        match QUESTIONS[at].option {
            "--kind" => like,
            "--pairs" => !like,
            _ => false,
        }
    }

    /// Whether enough is known for the command to be tried.
    pub(super) fn can_be_tried(&self) -> bool {
        self.answers[0].is_some() || self.answers[1].is_some()
    }

    /// The whole command.
    pub(super) fn words(&self) -> Vec<String> {
        let mut words = vec!["new".to_owned(), "ingredient".to_owned(), self.name.clone()];
        for (question, answer) in QUESTIONS.iter().zip(&self.answers) {
            let Some(answer) = answer else { continue };
            match question.option {
                "--pairs" if answer.to_lowercase().starts_with('y') => words.push("--pairs".to_owned()),
                "--pairs" => {}
                option => words.extend([option.to_owned(), answer.clone()]),
            }
        }
        words
    }

    /// What is taken if nothing is answered.
    fn usual(&self, book: &Book) -> Option<String> {
        let like = self.answers[0].as_ref().and_then(|like| {
            let key = crate::book::fold(like);
            book.ingredients().iter().find(|i| {
                crate::book::fold(&i.name) == key
                    || i.aliases.iter().any(|a| crate::book::fold(a) == key)
                    || IngredientId::new(like).is_ok_and(|id| id == i.id)
            })
        });
        let makeup = like.and_then(|l| l.makeup);
        let listed = |words: Vec<&str>| if words.is_empty() { "none".to_owned() } else { words.join(", ") };
        match (QUESTIONS[self.at].option, like) {
            ("--kind", _) => None,
            ("--strength", _) => Some(format!("{}", makeup.map_or(0.0, |m| m.strength.percent_vol()))),
            ("--sugar", _) => Some(format!("{}", makeup.map_or(0.0, |m| m.sugar.grams_per_litre()))),
            ("--acid", _) => Some(format!("{}", makeup.map_or(0.0, |m| m.acid.grams_per_litre()))),
            ("--facet", Some(like)) => Some(listed(like.facets.keys().map(|f| f.name()).collect())),
            ("--allergen", Some(like)) => Some(listed(like.allergens.iter().map(|a| a.name()).collect())),
            ("--diet", Some(like)) => Some(listed(like.diet.iter().map(|d| d.name()).collect())),
            ("--season", Some(like)) if like.season.is_fresh() => Some("the same".to_owned()),
            ("--season", _) => Some("all-year".to_owned()),
            ("--pairs", _) => Some("no".to_owned()),
            (_, _) => Some("none".to_owned()),
        }
    }
}

//! What a person asks at the bench: clauses of quantities, parted by small words.

use crate::book::{Ingredient, Kind, Lookup, Target, Wanted};
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::liquid::{Contents, Parts, Solute};
use crate::measure::{
    Amount, Brix, Concentration, Given, HouseUnit, Mass, Pressure, Strength, Temperature, Volume, read_given,
};

/// Words that say nothing.
const FILLERS: [&str; 14] = [
    "of", "in", "a", "an", "the", "and", "is", "about", "bottle", "freezer", "fridge", "spirit", "vol", "abv",
];

/// A part of what was asked: the small word that opens it, and what stands behind.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Clause<'t> {
    /// `to`, `with`, `at`, ...; empty for the first.
    pub(super) word: &'static str,
    /// What stands behind, as typed.
    pub(super) text: &'t str,
    given: Vec<Given>,
}

/// Parts a text at small words that stand alone: `700 ml 57.7 % to 43 %` at `to`.
pub(super) fn clauses<'t>(text: &'t str, words: &[&'static str]) -> Vec<(&'static str, &'t str)> {
    let mut found = Vec::new();
    let (mut word, mut start) = ("", 0);
    let mut at = 0;
    for piece in text.split_inclusive(char::is_whitespace) {
        let bare = piece.trim().to_lowercase();
        if let Some(known) = words.iter().find(|w| **w == bare) {
            found.push((word, text[start..at].trim()));
            (word, start) = (known, at + piece.len());
        }
        at += piece.len();
    }
    found.push((word, text[start..].trim()));
    found
}

/// A liquid as typed: how much, and what a litre of it holds.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Liquid {
    pub(super) volume: Option<Volume>,
    pub(super) contents: Contents,
    /// Whether a strength was typed.
    pub(super) strong: bool,
}

impl Liquid {
    /// It as masses, a litre where no volume was typed.
    pub(super) fn parts(&self) -> Result<Parts, Failure> {
        let litre = Volume::clamped(1000.0);
        Ok(Parts::of_liquid(self.volume.unwrap_or(litre), &self.contents)?)
    }
}

impl<'t> Clause<'t> {
    pub(super) fn read(word: &'static str, text: &'t str, desk: &Desk<'_>) -> Result<Self, Failure> {
        Ok(Self { word, text, given: read_given(text, &desk.house.measures)? })
    }

    /// Whether anything typed is metric or none of it is in ounces: then the answer is in millilitres.
    pub(super) fn is_metric(&self) -> bool {
        let text = self.text.to_lowercase();
        text.split(|c: char| !c.is_alphabetic())
            .any(|w| matches!(w, "ml" | "cl" | "l" | "litre" | "litres" | "g" | "kg"))
    }

    /// Takes the first that fits out of what was typed.
    fn take<T>(&mut self, fits: impl Fn(&Given) -> Option<T>) -> Option<T> {
        let (at, found) = self.given.iter().enumerate().find_map(|(at, given)| Some((at, fits(given)?)))?;
        self.given.remove(at);
        Some(found)
    }

    pub(super) fn volume(&mut self) -> Option<Volume> {
        self.take(|g| if let Given::Volume(v) = g { Some(*v) } else { None })
    }

    pub(super) fn mass(&mut self) -> Option<Mass> {
        self.take(|g| if let Given::Mass(m) = g { Some(*m) } else { None })
    }

    pub(super) fn temperature(&mut self) -> Option<Temperature> {
        self.take(|g| if let Given::Temperature(t) = g { Some(*t) } else { None })
    }

    /// A temperature, for a clause that can hold nothing else: `at -18` is meant in °C.
    pub(super) fn bare_temperature(&mut self) -> Result<Option<Temperature>, Failure> {
        if let Some(found) = self.temperature() {
            return Ok(Some(found));
        }
        match self.number() {
            Some(number) => Ok(Some(Temperature::new(number)?)),
            None => Ok(None),
        }
    }

    pub(super) fn pressure(&mut self) -> Option<Pressure> {
        self.take(|g| if let Given::Pressure(p) = g { Some(*p) } else { None })
    }

    pub(super) fn gas_volumes(&mut self) -> Option<f64> {
        self.take(|g| if let Given::GasVolumes(v) = g { Some(*v) } else { None })
    }

    pub(super) fn brix(&mut self) -> Option<Brix> {
        self.take(|g| if let Given::Brix(b) = g { Some(*b) } else { None })
    }

    pub(super) fn ratio(&mut self) -> Option<(f64, f64)> {
        self.take(|g| if let Given::Ratio(a, b) = g { Some((*a, *b)) } else { None })
    }

    pub(super) fn number(&mut self) -> Option<f64> {
        self.take(|g| if let Given::Number(n) = g { Some(*n) } else { None })
    }

    /// Whether a word was typed; it counts as understood.
    pub(super) fn says(&mut self, words: &[&str]) -> bool {
        self.take(|g| matches!(g, Given::Word(w) if words.contains(&w.as_str())).then_some(())).is_some()
    }

    pub(super) fn concentration(&mut self) -> Option<Concentration> {
        self.take(|g| if let Given::Concentration(c) = g { Some(*c) } else { None })
    }

    /// A strength; a bare number is one too.
    pub(super) fn strength(&mut self) -> Result<Option<Strength>, Failure> {
        let percent = self.take(|g| if let Given::Percent(p) = g { Some(*p) } else { None });
        match percent.or_else(|| self.number()) {
            Some(percent) => Ok(Some(Strength::new(percent)?)),
            None => Ok(None),
        }
    }

    /// What is dissolved: a concentration and the word behind it; sugar if there is none.
    fn dissolved(&mut self) -> Option<(Solute, Concentration)> {
        let at = self.given.iter().position(|g| matches!(g, Given::Concentration(_)))?;
        let Given::Concentration(held) = self.given.remove(at) else { return None };
        let named = match self.given.get(at) {
            Some(Given::Word(word)) => solute_named(word),
            _ => None,
        };
        if named.is_some() {
            self.given.remove(at);
            // `citric acid` is two words.
            let acid = matches!(self.given.get(at), Some(Given::Word(w)) if w == "acid");
            if acid {
                self.given.remove(at);
            }
        }
        Some((named.unwrap_or(Solute::Sucrose), held))
    }

    /// A liquid: volume, strength and what is dissolved, in any order.
    pub(super) fn liquid(&mut self) -> Result<Liquid, Failure> {
        let volume = self.volume();
        let mut contents = Contents::default();
        while let Some((solute, held)) = self.dissolved() {
            contents = contents.with(solute, held);
        }
        let strength = self.strength()?;
        let contents = contents.at_strength(strength.unwrap_or(Strength::ZERO));
        Ok(Liquid { volume, contents, strong: strength.is_some() })
    }

    /// Refuses what is left and was not understood.
    pub(super) fn done(&self, example: &str) -> Result<(), Failure> {
        let left = self.given.iter().find(|g| !matches!(g, Given::Word(w) if FILLERS.contains(&w.as_str())));
        let Some(left) = left else { return Ok(()) };
        let what = match left {
            Given::Word(word) => format!("'{word}'"),
            Given::Volume(volume) => volume.to_string(),
            Given::Mass(mass) => mass.to_string(),
            Given::Percent(percent) => format!("{percent} %"),
            Given::Concentration(held) => held.to_string(),
            Given::Brix(brix) => brix.to_string(),
            Given::Temperature(at) => at.to_string(),
            Given::Pressure(pressure) => format!("{:.2} bar on a gauge", pressure.gauge_bar()),
            Given::GasVolumes(volumes) => format!("{volumes} volumes"),
            Given::Minutes(minutes) => format!("{minutes} minutes"),
            Given::Ratio(a, b) => format!("{a}:{b}"),
            Given::Number(number) => format!("{number} without a unit"),
        };
        let place = if self.word.is_empty() { String::new() } else { format!(" after '{}'", self.word) };
        Err(Failure::usage(format!("{what}{place} has no place here"))
            .hint(format!("for example: {example}")))
    }

    /// Whether a concentration is the only figure.
    pub(super) fn holds_one_concentration(&self) -> bool {
        let figures: Vec<&Given> = self.given.iter().filter(|g| !matches!(g, Given::Word(_))).collect();
        matches!(figures[..], [Given::Concentration(_)])
    }

    /// Whether an amount and nothing more was typed.
    pub(super) fn is_amount_alone(&self) -> bool {
        matches!(self.given[..], [Given::Volume(_) | Given::Mass(_) | Given::Number(_)])
    }

    /// Whether all that was typed are quantities and words about them, so that it is no name.
    pub(super) fn is_quantities(&self) -> bool {
        let says = |word: &str| FILLERS.contains(&word) || solute_named(word).is_some() || word == "acid";
        !self.given.is_empty() && self.given.iter().all(|g| !matches!(g, Given::Word(w) if !says(w)))
    }
}

fn solute_named(word: &str) -> Option<Solute> {
    match word {
        "sugar" | "sugars" | "sucrose" => Some(Solute::Sucrose),
        "acid" => Some(Solute::Citric),
        word => Solute::ALL.into_iter().find(|s| s.name().split(' ').next() == Some(word)),
    }
}

/// A powder's name: `citric`, `malic acid`.
pub(super) fn acid_named(word: &str) -> Option<Solute> {
    solute_named(word).filter(|solute| solute.is_acid())
}

/// What is missing from a job, with its example.
pub(super) fn missing(what: &str, example: &str) -> Failure {
    Failure::usage(format!("{what} is missing")).hint(format!("for example: {example}"))
}

/// The unit of an answer: millilitres where something metric was typed and no unit was chosen.
pub(super) fn unit_for(desk: &Desk<'_>, metric: bool) -> HouseUnit {
    if metric && !desk.unit_chosen { HouseUnit::Millilitre } else { desk.house.jigger.unit() }
}

/// `1 l orange juice` as a volume and a name.
pub(super) fn amount_and_name<'t>(text: &'t str, desk: &Desk<'_>) -> (Option<Volume>, &'t str) {
    match Amount::split_from(text) {
        Ok((amount, name)) => match amount.volume(&desk.house.measures) {
            Some(volume) => (Some(volume), name),
            None => (None, text),
        },
        Err(_) => (None, text),
    }
}

/// The liquid that an ingredient's name stands for; `water` is water.
pub(super) fn liquid_named(desk: &Desk<'_>, name: &str) -> Result<(String, Contents), Failure> {
    let name = name.trim().trim_start_matches("of ").trim();
    if name.eq_ignore_ascii_case("water") {
        return Ok(("water".to_owned(), Contents::default()));
    }
    let ingredient = desk.ingredient(name)?;
    // Of a fruit its juice is meant.
    let is_liquid = |i: &&Ingredient| i.makeup.is_some_and(|m| !m.solid);
    let book = &desk.library.book;
    let juice = || book.forms_of(ingredient).find(|form| form.kind == Kind::Juice && is_liquid(form));
    let ingredient = Some(ingredient).filter(is_liquid).or_else(juice).unwrap_or(ingredient);
    let Some(makeup) = ingredient.makeup.filter(|m| !m.solid) else {
        return Err(Failure::mistake(format!(
            "the book has no makeup of {}: it is no liquid",
            ingredient.name
        ))
        .hint("give figures instead: a strength, g/L of sugar, g/L of acid"));
    };
    Ok((ingredient.name.clone(), crate::drink::contents_of(&makeup)))
}

/// Whether a text is the name of an ingredient.
pub(super) fn is_ingredient(desk: &Desk<'_>, text: &str) -> bool {
    matches!(desk.library.names.find(text, Wanted::Any), Lookup::Found(Target::Ingredient(_)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_words_part_what_was_asked() {
        assert_eq!(
            clauses("700 ml of 57.7 % to 43 %", &["to", "with"]),
            [("", "700 ml of 57.7 %"), ("to", "43 %")]
        );
        assert_eq!(
            clauses("orange juice to lime juice with 2 citric", &["to", "with"]),
            [("", "orange juice"), ("to", "lime juice"), ("with", "2 citric")]
        );
        assert_eq!(clauses("", &["to"]), [("", "")]);
        assert_eq!(clauses("TO 43%", &["to"]), [("", ""), ("to", "43%")]);
        assert_eq!(clauses("tomato juice", &["to"]), [("", "tomato juice")]);
    }
}

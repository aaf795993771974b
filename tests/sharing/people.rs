//! People who change a book at random. Each bar keeps to its own fields of what both have, so that they never truly meet.

use std::collections::BTreeMap;

use fastrand::Rng;
use medlar::console::Session;

/// What the book holds before it is shared.
pub(crate) const BEGINNING: [&str; 8] = [
    "new ingredient damson gin --kind liqueur --role modifier --strength 26 --sugar 180 --facet orchard=0.7",
    "new ingredient weir cider --like pear liqueur --pairs",
    "new ingredient lock bitters --like aromatic bitters",
    "edit quince --loudness 0.6",
    "goes damson gin, mezcal 0.8 --why smoke under stewed fruit",
    "price mezcal 34.50 EUR for 700 ml",
    "stock mezcal low",
    "save 45 ml damson gin, 25 ml lime juice, 15 ml honey syrup as Weir Sour",
];

/// Which of the two bars: it decides whose field is whose.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Hand {
    Left,
    Right,
}

/// What both bars edit.
const SHARED: [&str; 7] =
    ["damson gin", "weir cider", "lock bitters", "quince", "mezcal", "pear", "lime juice"];
/// What they pair.
const PAIRED: [&str; 12] = [
    "almond",
    "cucumber",
    "grapefruit",
    "lime",
    "mezcal",
    "mint",
    "orange",
    "oyster",
    "peach",
    "pear",
    "quince",
    "rye whiskey",
];
const FACETS: [&str; 3] = ["smoke", "citrus", "orchard"];

/// Someone at work.
pub(crate) struct Person {
    hand: Hand,
    rng: Rng,
    /// Ingredients that are this bar's own.
    own: Vec<String>,
    /// How often each command was done.
    done: BTreeMap<String, usize>,
    count: usize,
}

impl Person {
    pub(crate) fn new(hand: Hand, seed: u64) -> Self {
        Self { hand, rng: Rng::with_seed(seed), own: Vec::new(), done: BTreeMap::new(), count: 0 }
    }

    /// What was done, in a line.
    pub(crate) fn tally(&self) -> String {
        self.done.iter().map(|(word, n)| format!("{word} {n}")).collect::<Vec<_>>().join(", ")
    }

    fn pick<'t>(&mut self, among: &[&'t str]) -> &'t str {
        among[self.rng.usize(..among.len())]
    }

    fn grade(&mut self) -> String {
        format!("{:.2}", f64::from(self.rng.u32(5..=100)) / 100.0)
    }

    /// One change that the book takes.
    pub(crate) fn change(&mut self, session: &mut Session) {
        loop {
            self.count += 1;
            let line = self.line();
            let outcome = session.answer(&line);
            if outcome.status == 0 {
                assert_eq!(outcome.err, "", "{line}");
                let word = line.split(' ').next().unwrap().to_owned();
                *self.done.entry(word).or_default() += 1;
                return;
            }
            // An alias that is there already, and the like.
            assert_eq!(outcome.status, 1, "{line}: {}", outcome.err);
            assert!(self.count < 100_000, "{line}: {}", outcome.err);
        }
    }

    fn line(&mut self) -> String {
        let (n, left) = (self.count, self.hand == Hand::Left);
        let side = if left { "left" } else { "right" };
        let grade = self.grade();
        match self.rng.u32(..11) {
            0 => {
                let name = format!("{side} bank cordial {n}");
                self.own.push(name.clone());
                let like = self.pick(&["honey syrup", "pear liqueur", "orgeat"]);
                format!("new ingredient {name} --like {like}")
            }
            1 | 2 => self.bond(&grade),
            3 => {
                let (a, b) = self.pair();
                format!("taste {a}, {b} {} {side} tasting {n} --by the {side} bar", self.rng.u32(0..=10))
            }
            // Prices are one bar's, the stock the other's.
            4 if left => format!("price {} {}.50 EUR for 700 ml", self.pick(&SHARED), self.rng.u32(10..90)),
            5 if left => format!("price {} --note {side} {n}", self.pick(&["mezcal"])),
            4 | 5 => {
                let level = self.pick(&["have", "low", "out"]);
                format!("stock {} {level}", self.pick(&SHARED))
            }
            6 if left => format!("edit {} --sugar {}", self.pick(&SHARED[..3]), self.rng.u32(0..400)),
            6 => format!("edit {} --acid {}", self.pick(&SHARED[..3]), self.rng.u32(0..60)),
            7 if left => format!("edit {} --loudness {grade}", self.pick(&SHARED)),
            7 => format!("edit {} --facet {}={grade}", self.pick(&SHARED), self.pick(&FACETS)),
            8 if left => format!("edit {} --keeps fridge {}", self.pick(&SHARED[..3]), self.rng.u32(1..90)),
            8 => format!("edit {} --bitterness {}", self.pick(&SHARED[..3]), self.rng.u32(0..100)),
            9 => format!("alias {} = {side} name {n}", self.pick(&SHARED)),
            _ => match self.own.last().cloned() {
                Some(own) if self.rng.bool() => format!("edit {own} --strength {}", self.rng.u32(0..60)),
                Some(own) => format!("goes {own}, {} {grade}", self.pick(&PAIRED)),
                None => "undo --house".to_owned(),
            },
        }
    }

    fn pair(&mut self) -> (&'static str, &'static str) {
        loop {
            let (a, b) = (self.pick(&PAIRED), self.pick(&PAIRED));
            if a != b {
                return (a, b);
            }
        }
    }

    /// A word on two ingredients. Which pairs are whose follows from their names, the why of the others is free.
    fn bond(&mut self, grade: &str) -> String {
        loop {
            let (a, b) = self.pair();
            let is_left = (a.len() + b.len()) % 2 == 0;
            if is_left == (self.hand == Hand::Left) {
                return if self.rng.u32(..5) == 0 {
                    format!("clash {a}, {b}")
                } else {
                    format!("goes {a}, {b} {grade} --why word {} --by the bar", self.count)
                };
            }
        }
    }
}

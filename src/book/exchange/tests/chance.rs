//! Random records, drawn by one number.

use std::collections::{BTreeMap, BTreeSet};

use fastrand::Rng;

use crate::book::fruit::{Flesh, Yield};
use crate::book::id::{IngredientId, TemplateId};
use crate::book::ingredient::{Climates, Ingredient, Makeup, Origins};
use crate::book::keeping::Keeping;
use crate::book::origin::Origin;
use crate::book::season::Season;
use crate::book::shelf::Book;
use crate::book::spread::Spread;
use crate::book::template::{Garnish, Slot, Template};
use crate::book::word::{Allergen, Diet, Facet, Family, Kind, Method, Role, Storage};
use crate::measure::{
    Amount, Bitterness, Concentration, Grade, Mass, MassShare, Month, MonthSet, Strength, Volume,
};

/// Letters that tables, texts and spreadsheets take for something.
const LETTERS: [&str; 22] = [
    "=", "+", "-", "@", "'", "\"", ";", ",", "\\", ":", "<", "&", "]", "é", "酒", "a", "b", "c", "q", "7",
    "|", "＝",
];

pub(super) struct Chance<'p> {
    pub(super) rng: Rng,
    pub(super) packs: &'p Book,
    count: usize,
}

/// A book of two.
pub(super) fn small() -> Book {
    let mut chance = Chance { rng: Rng::with_seed(1), packs: &Book::default(), count: 0 };
    let mut named = |id: &str| Ingredient {
        id: IngredientId::new(id).unwrap(),
        name: id.to_owned(),
        aliases: Vec::new(),
        made_from: Vec::new(),
        juice: None,
        cautions: Vec::new(),
        ..chance.ingredient(IngredientId::new(id).unwrap())
    };
    let all = vec![named("gin"), named("quince")];
    Book::new(all, Vec::new(), Vec::new(), Vec::new())
}

impl<'p> Chance<'p> {
    pub(super) fn of(seed: u64, packs: &'p Book) -> Self {
        Self { rng: Rng::with_seed(seed), packs, count: 0 }
    }

    pub(super) fn some<T>(&mut self, make: impl FnOnce(&mut Self) -> T) -> Option<T> {
        self.rng.bool().then(|| make(self))
    }

    pub(super) fn one<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.rng.usize(0..all.len())]
    }

    fn set<T: Copy + Ord>(&mut self, all: &[T]) -> BTreeSet<T> {
        let share = self.rng.f64();
        all.iter().filter(|_| self.rng.f64() < share).copied().collect()
    }

    /// A text with anything in it, other than any before.
    pub(super) fn text(&mut self) -> String {
        self.count += 1;
        let letters = self.rng.usize(0..8);
        let mut text: String = (0..letters).map(|_| self.one(&LETTERS)).collect();
        if self.rng.u8(0..10) == 0 {
            text.insert(0, ' ');
        }
        text.push_str(&format!("x{}", self.count));
        if self.rng.u8(0..10) == 0 {
            text.push_str(["  ", "\\", "-", "'"][self.rng.usize(0..4)]);
        }
        text
    }

    pub(super) fn origin(&mut self) -> Origin {
        match self.rng.u8(0..6) {
            0 => Origin::Published(self.text()),
            1 => Origin::Practice,
            2 => Origin::FromMemory,
            3 => Origin::Computed,
            4 => Origin::Demo,
            _ => Origin::House,
        }
    }

    /// Up to a figure, with many digits or few.
    pub(super) fn up_to(&mut self, most: f64) -> f64 {
        match self.rng.u8(0..4) {
            0 => 0.0,
            1 => (self.rng.f64() * most * 10.0).floor() / 10.0,
            _ => self.rng.f64() * most,
        }
    }

    pub(super) fn grade(&mut self) -> Grade {
        Grade::clamped(self.up_to(1.0))
    }

    fn litre(&mut self, most: f64) -> Concentration {
        Concentration::clamped(self.up_to(most))
    }

    fn makeup(&mut self) -> Makeup {
        let (sugar, acid) = (self.litre(400.0), self.litre(60.0));
        let sixth = |whole: Concentration| whole.grams_per_litre() / 6.0;
        Makeup {
            strength: Strength::clamped(self.up_to(70.0)),
            sugar,
            glucose: self.litre(sixth(sugar)),
            fructose: self.litre(sixth(sugar)),
            acid,
            malic: self.litre(sixth(acid)),
            tartaric: self.litre(sixth(acid)),
            lactic: self.litre(sixth(acid)),
            acetic: self.litre(sixth(acid)),
            phosphoric: self.litre(sixth(acid)),
            bitterness: Bitterness::clamped(self.up_to(100.0)),
            salt: self.litre(20.0),
            carbonated: self.rng.bool(),
            solid: self.rng.bool(),
            sets: self.rng.bool(),
        }
    }

    fn season(&mut self) -> Season {
        let months = |all: BTreeSet<Month>| all.into_iter().collect::<MonthSet>();
        let peak = months(self.set(&Month::ALL));
        let available = months(self.set(&Month::ALL)).union(peak);
        if available.is_empty() { Season::AllYear } else { Season::Months { peak, available } }
    }

    pub(super) fn keeping(&mut self) -> Keeping {
        Keeping {
            store: self.one(Storage::ALL),
            opened: self.some(|c| c.rng.u16(..)),
            sealed: self.some(|c| c.rng.u16(..)),
        }
    }

    pub(super) fn id(&mut self) -> IngredientId {
        let all = self.packs.ingredients();
        all[self.rng.usize(0..all.len())].id.clone()
    }

    pub(super) fn ingredient(&mut self, id: IngredientId) -> Ingredient {
        let makeup = self.some(Self::makeup);
        let around = |own: f64, chance: &mut Self| (own * chance.rng.f64(), own + chance.rng.f64());
        let spread = match &makeup {
            Some(makeup) => Spread {
                strength: self.some(|c| {
                    let (from, to) = around(makeup.strength.percent_vol(), c);
                    (Strength::clamped(from), Strength::clamped(to))
                }),
                sugar: self.some(|c| {
                    let (from, to) = around(makeup.sugar.grams_per_litre(), c);
                    (Concentration::clamped(from), Concentration::clamped(to))
                }),
                acid: None,
            },
            None => Spread::default(),
        };
        let season = self.season();
        let climates = Climates { warm: self.some(Self::season), tropical: self.some(Self::season) };
        let share = |c: &mut Self| MassShare::clamped(c.up_to(20.0));
        let flesh = self.some(|c| Flesh {
            water: share(c),
            sugar: share(c),
            glucose: share(c),
            fructose: share(c),
            acid: share(c),
        });
        let packed = !self.packs.ingredients().is_empty();
        let juice = if packed && self.rng.bool() {
            let ml = self.up_to(50.0) + 1.0;
            Some(Yield {
                gives: self.id(),
                ml: Volume::clamped(ml),
                least: Volume::clamped(ml * self.rng.f64()),
                most: Volume::clamped(ml * 2.0),
                weighs: self.some(|c| Mass::clamped(c.up_to(300.0))),
            })
        } else {
            None
        };
        let keeps = self.some(Self::keeping);
        let fresh = season.is_fresh() || climates != Climates::default();
        let origin = Origins {
            flavour: self.origin(),
            makeup: makeup.is_some().then(|| self.origin()),
            season: fresh.then(|| self.origin()),
            fruit: (flesh.is_some() || juice.is_some()).then(|| self.origin()),
            keeping: keeps.is_some().then(|| self.origin()),
        };
        let other = |c: &mut Self| c.id();
        let made_from = if packed && self.rng.bool() { vec![other(self)] } else { Vec::new() };
        let cautions: Vec<_> = self.packs.cautions().iter().map(|c| c.id.clone()).collect();
        Ingredient {
            name: self.text(),
            aliases: (0..self.rng.usize(0..3)).map(|_| self.text()).collect(),
            kind: self.one(Kind::ALL),
            roles: self.set(Role::ALL),
            makeup,
            facets: self.set(Facet::ALL).into_iter().map(|f| (f, self.grade())).collect::<BTreeMap<_, _>>(),
            loudness: self.grade(),
            season,
            climates,
            spread,
            flesh,
            juice,
            keeps,
            allergens: self.set(&[Allergen::Nuts, Allergen::Celery, Allergen::Sulphites]),
            diet: if self.rng.bool() { [Diet::Vegan, Diet::Vegetarian].into() } else { BTreeSet::new() },
            made_from: made_from.into_iter().filter(|from| *from != id).collect(),
            cautions: cautions.into_iter().filter(|_| self.rng.bool()).collect(),
            origin,
            id,
        }
    }

    pub(super) fn amount(&mut self) -> Amount {
        let texts =
            ["1 1/2 oz", "45 ml", "2 dashes", "0.37 ml", "3 leaves", "1/3 oz", "12.345 g", "1 piece", "top"];
        self.one(&texts).parse().unwrap()
    }

    /// A drink of things that can be what they are there.
    pub(super) fn drink(&mut self, id: TemplateId, kept: bool) -> Template {
        let fit: Vec<&Ingredient> =
            self.packs.ingredients().iter().filter(|i| i.makeup.is_some() && !i.roles.is_empty()).collect();
        let slots = (0..self.rng.usize(1..5)).map(|_| {
            let filler = self.one(&fit);
            let roles: Vec<Role> = filler.roles.iter().copied().collect();
            let ounces = self.rng.bool();
            Slot {
                role: self.one(&roles),
                classic: filler.id.clone(),
                amount: if ounces { "1 oz".parse().unwrap() } else { self.amount() },
                least: ounces.then(|| "1/2 oz".parse().unwrap()),
                most: ounces.then(|| "45 ml".parse().unwrap()),
                open: self.rng.bool(),
            }
        });
        let slots = slots.collect();
        Template {
            name: self.text(),
            aliases: (0..self.rng.usize(0..3)).map(|_| self.text()).collect(),
            from: self.some(|c| c.one(&c.packs.templates().iter().collect::<Vec<_>>()).id.clone()),
            kept,
            family: self.one(Family::ALL),
            method: self.one(Method::ALL),
            glass: self.text(),
            slots,
            garnish: (0..self.rng.usize(0..3))
                .map(|n| Garnish(self.id(), if n == 0 { String::new() } else { self.text() }))
                .collect(),
            essence: self.text(),
            origin: self.origin(),
            id,
        }
    }
}

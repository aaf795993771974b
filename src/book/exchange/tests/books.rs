//! Random records of every kind over a pack, in the order of a book.

use std::collections::BTreeSet;

use super::super::bundle::{Bundle, WrittenBond};
use super::chance::Chance;
use crate::book::bond::Bond;
use crate::book::id::{IngredientId, TemplateId};
use crate::book::ingredient::Ingredient;
use crate::book::prep::{Prep, PrepLine};
use crate::book::price::Price;
use crate::book::stock::Stock;
use crate::book::tasting::{TastedThing, Tasting, Told};
use crate::book::weighing::Weighing;
use crate::book::word::{Diet, Level, Method, PrepWay};
use crate::measure::{Affinity, Mass, Measures, Score, Strength, Volume};

impl Chance<'_> {
    fn prep(&mut self, makes: IngredientId) -> Prep {
        let others: Vec<IngredientId> =
            self.packs.ingredients().iter().map(|i| i.id.clone()).filter(|id| *id != makes).collect();
        Prep {
            makes,
            way: self.one(PrepWay::ALL),
            lines: (0..self.rng.usize(1..4))
                .map(|_| PrepLine {
                    of: others[self.rng.usize(0..others.len())].clone(),
                    amount: self.amount(),
                    stays: self.grade(),
                })
                .collect(),
            boils_off: Mass::clamped(self.up_to(100.0)),
            lost: self.grade(),
            steps: (0..self.rng.usize(1..4)).map(|_| self.text()).collect(),
            keeps: self.keeping(),
            cautions: Vec::new(),
            origin: self.origin(),
        }
    }

    fn tasting(&mut self, n: usize) -> Tasting {
        let (a, b) = (self.id(), self.id());
        let told = if a == b { Vec::new() } else { vec![Told(a.clone(), b.clone(), self.grade())] };
        let of = match self.rng.u8(0..3) {
            0 if a != b => TastedThing::Pair(a, b),
            1 => TastedThing::Drink(self.packs.templates()[0].id.clone()),
            _ => TastedThing::Other(self.text()),
        };
        Tasting {
            id: format!("2026-11-27-{n:08x}"),
            of,
            score: Score::clamped(self.up_to(10.0)),
            words: self.some(Self::text),
            by: self.some(Self::text),
            on: "2026-11-27".to_owned(),
            told,
        }
    }

    /// Records of every kind: of the pack's ids and of new ones.
    pub(super) fn bundle(&mut self) -> Bundle {
        let mut bundle = Bundle::default();
        for n in 0..self.rng.usize(0..6) {
            let new = IngredientId::new(&format!("house-{n}")).unwrap();
            bundle.ingredients.push(self.ingredient(new));
        }
        // A pack's fruit or herb: no drink and no preparation of the pack needs its makeup or its roles.
        let used: BTreeSet<IngredientId> =
            self.packs.templates().iter().flat_map(|t| t.slots.iter().map(|s| s.classic.clone())).collect();
        let of_pack: Vec<Ingredient> = self.packs.ingredients().to_vec();
        for old in of_pack.into_iter().filter(|i| !used.contains(&i.id) && i.makeup.is_none()) {
            if self.rng.u8(0..4) == 0 {
                let new = self.ingredient(old.id.clone());
                let parts = self.rng.u8(..);
                bundle.ingredients.push(mixed(&old, &new, parts));
            }
        }
        let mut pairs = BTreeSet::new();
        for _ in 0..self.rng.usize(0..12) {
            let (a, b) = (self.id(), self.id());
            let pair = if a < b { (a, b) } else { (b, a) };
            if pair.0 == pair.1 || !pairs.insert(pair.clone()) {
                continue;
            }
            let clash = self.rng.bool();
            let bond = if clash { Bond::Clash } else { Bond::Affinity(Affinity::clamped(self.up_to(1.0))) };
            let under =
                self.packs.edge(&pair.0, &pair.1).and_then(|e| e.note.as_ref()).map(ToString::to_string);
            let note = self.some(Self::text).or(under);
            bundle.bonds.push(WrittenBond {
                pair,
                bond,
                note,
                by: self.some(Self::text),
                origin: self.origin(),
            });
        }
        for n in 0..self.rng.usize(0..4) {
            let kept = self.rng.bool();
            bundle.templates.push(self.drink(TemplateId::new(&format!("drink-{n}")).unwrap(), kept));
        }
        for old in self.packs.templates() {
            if self.rng.u8(0..4) == 0 {
                bundle.templates.push(self.drink(old.id.clone(), false));
            }
        }
        for old in self.packs.ingredients().iter().filter(|i| i.makeup.is_some()) {
            if self.rng.u8(0..12) == 0 {
                bundle.preps.push(self.prep(old.id.clone()));
            }
        }
        for of in self.packs.ingredients().iter().map(|i| i.id.clone()) {
            if self.rng.u8(0..6) == 0 {
                let paid = self.one(&["12.5 EUR", "-3 GBP", "0.1234 USD"]).parse().unwrap();
                let (size, note) = (self.amount(), self.some(Self::text));
                bundle.prices.push(Price { of: of.clone(), paid, size, note });
            }
            if self.rng.u8(0..6) == 0 {
                let (level, note) = (self.one(Level::ALL), self.some(Self::text));
                bundle.stock.push(Stock { of, level, note });
            }
        }
        bundle.tastings = (0..self.rng.usize(0..5)).map(|n| self.tasting(n)).collect();
        bundle.weighings = (0..self.rng.usize(0..3))
            .map(|n| Weighing {
                id: format!("2026-11-28-{n:08x}"),
                method: self.one(Method::ALL),
                long: self.rng.bool(),
                drink: self.text(),
                before: Mass::clamped(self.up_to(200.0)),
                after: Mass::clamped(self.up_to(200.0)),
                volume: Volume::clamped(self.up_to(200.0)),
                strength: Strength::clamped(self.up_to(60.0)),
            })
            .collect();
        bundle.measures =
            self.some(|c| Measures { dash: Volume::clamped(c.up_to(2.0)), ..Measures::default() });
        bundle
    }
}

/// Some groups of facts of one, the others of the other.
fn mixed(old: &Ingredient, new: &Ingredient, parts: u8) -> Ingredient {
    let mut mixed = old.clone();
    if parts & 1 != 0 {
        (mixed.makeup, mixed.spread) = (new.makeup, new.spread);
        mixed.origin.makeup = new.origin.makeup.clone();
    }
    if parts & 2 != 0 {
        (mixed.season, mixed.climates) = (new.season, new.climates);
        mixed.origin.season = new.origin.season.clone();
    }
    if parts & 4 != 0 {
        (mixed.flesh, mixed.juice) = (new.flesh, new.juice.clone());
        mixed.origin.fruit = new.origin.fruit.clone();
    }
    if parts & 8 != 0 {
        mixed.keeps = new.keeps;
        mixed.origin.keeping = new.origin.keeping.clone();
    }
    if parts & 16 != 0 {
        (mixed.aliases, mixed.facets) = (new.aliases.clone(), new.facets.clone());
        mixed.origin.flavour = new.origin.flavour.clone();
    }
    if parts & 32 != 0 {
        (mixed.name, mixed.loudness) = (new.name.clone(), new.loudness);
    }
    if parts & 64 != 0 {
        (mixed.allergens, mixed.diet) = (new.allergens.clone(), new.diet.clone());
        (mixed.made_from, mixed.cautions) = (new.made_from.clone(), new.cautions.clone());
    }
    if parts & 128 != 0 && parts & 1 == 0 {
        mixed.diet = BTreeSet::new();
    }
    if mixed.diet.contains(&Diet::NoAlcohol) {
        mixed.diet.remove(&Diet::NoAlcohol);
    }
    if parts & 64 == 0 && parts & 1 != 0 {
        mixed.diet.remove(&Diet::GlutenFree);
    }
    mixed
}

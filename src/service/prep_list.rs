//! What to make for a day: preparations, juices and garnish, from what is expected to be drunk.

use std::collections::BTreeMap;

use super::buy::{Bought, Pieces, bought};
use super::cost::Pricing;
use super::error::ServiceError;
use super::need::Need;
use super::price_list::PriceList;
use crate::book::{Book, Ingredient, IngredientId, Keeping, Kind, Prep};
use crate::drink::{Spec, made};
use crate::measure::{Measures, Money, Volume};

/// What is expected of a day.
#[derive(Debug, Clone)]
pub struct Wanted<'b> {
    /// Drinks, with how many serves of each.
    pub drinks: Vec<(Spec<'b>, f64)>,
    /// Preparations that are wanted by themselves, with how much of each.
    pub preps: Vec<(&'b Ingredient, Volume)>,
    /// What is made over what is expected, as a share.
    pub spare: f64,
}

/// One thing to do.
#[derive(Debug, Clone)]
pub struct PrepJob<'b> {
    /// What comes of it.
    pub ingredient: &'b Ingredient,
    /// How much is needed, spare included.
    pub need: Need,
    /// How many times the preparation as it is written; none for juice and garnish.
    pub recipe: Option<(&'b Prep, f64)>,
    /// What goes in, that often.
    pub lines: Vec<(&'b Ingredient, Need)>,
    /// The fruit it is pressed from.
    pub pieces: Option<Pieces<'b>>,
    /// The form it is cut into, for garnish.
    pub form: Option<String>,
    /// How it keeps once it is made.
    pub keeps: Option<Keeping>,
    /// What it costs; none if something in it has no price.
    pub cost: Option<Money>,
    /// The drinks it is for.
    pub drinks: Vec<String>,
    /// How many preparations need it first.
    depth: usize,
}

/// What to make for a day, in order.
#[derive(Debug, Clone)]
pub struct PrepList<'b> {
    /// The drinks and the serves expected of each.
    pub drinks: Vec<(String, f64)>,
    /// What is made over what is expected.
    pub spare: f64,
    /// What to do, the first first.
    pub jobs: Vec<PrepJob<'b>>,
    /// What must be there to do it.
    pub bring: Vec<Bought<'b>>,
}

/// Preparations within preparations are followed so far.
const DEEPEST: usize = 8;

/// What to make for a day.
///
/// # Model
/// Every line of a drink that is made in the house, or pressed, is wanted that many times; a preparation wants its own lines
/// in turn. What others are made from comes first, then what keeps longest, so that the freshest is made last; garnish is cut
/// at the end.
///
/// # Errors
/// [`ServiceError::Money`] for a sum beyond the range; [`ServiceError::Currencies`] for two currencies.
pub fn prep_list<'b>(
    book: &'b Book,
    wanted: &Wanted<'b>,
    prices: &PriceList,
    measures: &Measures,
) -> Result<PrepList<'b>, ServiceError> {
    let more = 1.0 + wanted.spare;
    let mut tally = Tally { book, prices, measures, jobs: BTreeMap::new() };
    for (spec, serves) in &wanted.drinks {
        for line in &spec.lines {
            let need = Need::of_line(line, measures).times(serves * more);
            tally.want(line.ingredient, need, Some(&spec.name), 0);
        }
        for (ingredient, form) in &spec.garnish {
            tally.cut(ingredient, form, serves * more, &spec.name);
        }
    }
    for (ingredient, volume) in &wanted.preps {
        tally.want(ingredient, Need::Volume(*volume), None, 0);
    }
    let pricing = Pricing { book, prices, measures };
    let mut jobs: Vec<PrepJob<'b>> = tally.jobs.into_values().collect();
    let mut raw: BTreeMap<IngredientId, (&'b Ingredient, Need)> = BTreeMap::new();
    for job in &mut jobs {
        job.cost = pricing.of(job.ingredient, job.need, 0)?.map(|(money, _)| money);
        for (part, need) in &job.lines {
            let known = raw.entry(part.id.clone()).or_insert((part, need.times(0.0)));
            if let Some(sum) = known.1.plus(*need, part) {
                known.1 = sum;
            }
        }
    }
    // What is made here is no shopping.
    raw.retain(|id, _| jobs.iter().all(|job| job.ingredient.id != *id || job.form.is_some()));
    let bring = raw.into_values().map(|(of, need)| bought(book, of, need, prices, measures));
    let bring = bring.collect::<Result<Vec<_>, _>>()?;
    jobs.sort_by(|a, b| {
        let keeps = |j: &PrepJob<'_>| j.keeps.map_or(u16::MAX, |k| k.opened.unwrap_or(u16::MAX));
        let last = |j: &PrepJob<'_>| (j.form.is_some(), std::cmp::Reverse(j.depth), j.recipe.is_none());
        last(a).cmp(&last(b)).then(keeps(b).cmp(&keeps(a))).then(a.ingredient.id.cmp(&b.ingredient.id))
    });
    let drinks = wanted.drinks.iter().map(|(spec, serves)| (spec.name.clone(), *serves)).collect();
    Ok(PrepList { drinks, spare: wanted.spare, jobs, bring })
}

struct Tally<'b, 'p> {
    book: &'b Book,
    prices: &'p PriceList,
    measures: &'p Measures,
    /// By what is made and the form it is cut into.
    jobs: BTreeMap<(IngredientId, String), PrepJob<'b>>,
}

impl<'b> Tally<'b, '_> {
    /// Wants so much of something, for a drink or for another preparation.
    fn want(&mut self, of: &'b Ingredient, need: Need, drink: Option<&str>, depth: usize) {
        if depth >= DEEPEST {
            return;
        }
        if let Some(prep) = self.book.prep_of(&of.id).filter(|_| self.prices.of(&of.id).is_none()) {
            let Some(making) = made(self.book, prep, self.measures) else { return };
            let Some(times) = need.over(Need::Volume(making.volume), of) else { return };
            let lines: Vec<(&'b Ingredient, Need)> = making
                .lines
                .iter()
                .map(|(part, line)| (*part, Need::of_amount(line.amount, self.measures).times(times)))
                .collect();
            self.add(of, need, drink, depth, |job| {
                let known = job.recipe.map_or(0.0, |(_, times)| times);
                job.recipe = Some((prep, known + times));
                job.keeps = Some(prep.keeps);
                for (place, (part, need)) in lines.iter().enumerate() {
                    match job.lines.get_mut(place) {
                        Some((_, known)) => *known = known.plus(*need, part).unwrap_or(*known),
                        None => job.lines.push((*part, *need)),
                    }
                }
            });
            for (part, need) in lines {
                self.want(part, need, drink, depth + 1);
            }
            return;
        }
        let pressed = of.kind == Kind::Juice && self.prices.of(&of.id).is_none();
        if pressed && need.volume(of).is_some() {
            self.add(of, need, drink, depth, |job| job.keeps = of.keeps);
            let key = (of.id.clone(), String::new());
            if let Some(job) = self.jobs.get_mut(&key) {
                let pieces = bought(self.book, of, job.need, self.prices, self.measures);
                job.pieces = pieces.ok().and_then(|bought| bought.pieces);
                if let Some(pieces) = &job.pieces {
                    let need = Need::Count(f64::from(pieces.usual), crate::measure::Unit::Piece);
                    job.lines = vec![(pieces.fruit, need)];
                }
            }
        }
    }

    fn cut(&mut self, of: &'b Ingredient, form: &str, serves: f64, drink: &str) {
        let need = Need::of_garnish(form).times(serves);
        let key = (of.id.clone(), if form.is_empty() { "whole".to_owned() } else { form.to_owned() });
        let job = self.jobs.entry(key.clone()).or_insert_with(|| new_job(of, need.times(0.0)));
        job.need = job.need.plus(need, of).unwrap_or(job.need);
        job.form = Some(key.1);
        job.keeps = of.keeps;
        job.lines = vec![(of, job.need)];
        if !job.drinks.iter().any(|d| d == drink) {
            job.drinks.push(drink.to_owned());
        }
    }

    fn add(
        &mut self,
        of: &'b Ingredient,
        need: Need,
        drink: Option<&str>,
        depth: usize,
        change: impl FnOnce(&mut PrepJob<'b>),
    ) {
        let key = (of.id.clone(), String::new());
        let job = self.jobs.entry(key).or_insert_with(|| new_job(of, need.times(0.0)));
        job.need = job.need.plus(need, of).unwrap_or(job.need);
        job.depth = job.depth.max(depth);
        if let Some(drink) = drink
            && !job.drinks.iter().any(|d| d == drink)
        {
            job.drinks.push(drink.to_owned());
        }
        change(job);
    }
}

fn new_job(ingredient: &Ingredient, need: Need) -> PrepJob<'_> {
    PrepJob {
        ingredient,
        need,
        recipe: None,
        lines: Vec::new(),
        pieces: None,
        form: None,
        keeps: None,
        cost: None,
        drinks: Vec::new(),
        depth: 0,
    }
}

//! What a drink costs to make.

use super::error::ServiceError;
use super::need::Need;
use super::price_list::{Listed, PriceList, Source};
use crate::book::{Book, Ingredient, Prep, Yield};
use crate::drink::{Spec, made};
use crate::measure::{Amount, Measures, Money, MoneyFault, Unit, Volume};

/// How a cost was found.
#[derive(Debug, Clone, PartialEq)]
pub enum From<'b> {
    /// By its own price.
    Price {
        /// What is paid for one.
        paid: Money,
        /// What is in one.
        size: Amount,
        /// Whose price it is.
        source: Source,
    },
    /// By the fruit it is pressed from.
    Fruit {
        /// The fruit.
        fruit: &'b Ingredient,
        /// How many of them.
        pieces: f64,
        /// Whose price of the fruit it is.
        source: Source,
    },
    /// By what the house makes it from.
    Prep {
        /// The preparation.
        prep: &'b Prep,
        /// What all of it costs.
        whole: Money,
        /// How much that is.
        makes: Volume,
        /// Whether a price in it is demo.
        demo: bool,
    },
    /// Water costs nothing here.
    Water,
}

impl From<'_> {
    /// Whether an invented price is in it.
    pub fn is_demo(&self) -> bool {
        match self {
            Self::Price { source, .. } | Self::Fruit { source, .. } => *source == Source::Demo,
            Self::Prep { demo, .. } => *demo,
            Self::Water => false,
        }
    }
}

/// One line of a cost.
#[derive(Debug, Clone, PartialEq)]
pub struct CostLine<'b> {
    /// What it is.
    pub ingredient: &'b Ingredient,
    /// How much of it.
    pub need: Need,
    /// Whether it goes on top rather than in.
    pub garnish: bool,
    /// What it costs, and how that was found; none if nothing says.
    pub cost: Option<(Money, From<'b>)>,
}

/// What a serve costs.
#[derive(Debug, Clone, PartialEq)]
pub struct Cost<'b> {
    /// What the prices are called.
    pub list: String,
    /// Every line, in the order of the spec; garnish last.
    pub lines: Vec<CostLine<'b>>,
    /// What is poured away, spilt and tasted, as a share of the lines.
    pub waste_share: f64,
    /// What that costs.
    pub waste: Money,
    /// What the ice costs, where its price was given.
    pub ice: Option<Money>,
    /// All of it together: a serve.
    pub total: Money,
}

impl<'b> Cost<'b> {
    /// What nothing says the price of.
    pub fn missing(&self) -> impl Iterator<Item = &'b Ingredient> + '_ {
        self.lines.iter().filter(|l| l.cost.is_none()).map(|l| l.ingredient)
    }

    /// What so many serves cost.
    ///
    /// # Errors
    /// [`ServiceError::Money`] for a sum beyond the range.
    pub fn of_serves(&self, serves: f64) -> Result<Money, ServiceError> {
        by_ratio(self.total, serves)
    }

    /// Whether an invented price is in it.
    pub fn is_demo(&self) -> bool {
        self.lines.iter().filter_map(|l| l.cost.as_ref()).any(|(_, from)| from.is_demo())
    }

    /// The line that costs most.
    pub fn dearest(&self) -> Option<&CostLine<'b>> {
        let sum = |l: &CostLine<'_>| l.cost.as_ref().map_or(i64::MIN, |(money, _)| money.ten_thousandths());
        self.lines.iter().filter(|l| l.cost.is_some()).max_by_key(|l| sum(l))
    }
}

/// Waste unless someone says otherwise: spilt, tasted, left in bottles; *common practice, no source*.
pub const USUAL_WASTE: f64 = 0.03;
/// Ice a serve, g, stirred or shaken and over fresh ice; *common practice, no source*.
pub const ICE_A_SERVE: f64 = 350.0;
/// Preparations within preparations are followed so far.
const DEEPEST: usize = 8;

/// What a serve of a spec costs.
///
/// # Model
/// A line costs its share of what is bought: by volume, weight or count. What has no price of its own is priced by the
/// fruit it is pressed from, with its usual yield, or by what the house makes it from, over what that yields. Waste is a
/// share of all lines.
///
/// # Accuracy
/// Each line to a ten-thousandth of the currency's unit; sums are exact.
///
/// # Errors
/// [`ServiceError::NoPrice`] if nothing has a price; [`ServiceError::Currencies`] for two currencies.
pub fn cost<'b>(
    book: &'b Book,
    spec: &Spec<'b>,
    prices: &PriceList,
    waste_share: f64,
    ice_kg: Option<Money>,
    measures: &Measures,
) -> Result<Cost<'b>, ServiceError> {
    let pricing = Pricing { book, prices, measures };
    let mut lines = Vec::new();
    for line in &spec.lines {
        let need = Need::of_line(line, measures);
        let cost = pricing.of(line.ingredient, need, 0)?;
        lines.push(CostLine { ingredient: line.ingredient, need, garnish: false, cost });
    }
    for (ingredient, form) in &spec.garnish {
        let need = Need::of_garnish(form);
        lines.push(CostLine { ingredient, need, garnish: true, cost: pricing.of(ingredient, need, 0)? });
    }
    let mut total: Option<Money> = None;
    for (money, _) in lines.iter().filter_map(|l| l.cost.as_ref()) {
        total = Some(total.map_or(Ok(*money), |sum| sum.plus(*money))?);
    }
    let total = total.ok_or_else(|| ServiceError::NoPrice { what: spec.in_words() })?;
    let waste = by_ratio(total, waste_share)?;
    let ice = ice_kg.map(|kg| by_ratio(kg, ICE_A_SERVE / 1000.0)).transpose()?;
    let total = total.plus(waste)?;
    let total = ice.map_or(Ok(total), |ice| total.plus(ice))?;
    Ok(Cost { list: prices.name.clone(), lines, waste_share, waste, ice, total })
}

/// A sum times a share.
pub(super) fn by_ratio(money: Money, ratio: f64) -> Result<Money, ServiceError> {
    /// Shares are taken to a hundred-millionth.
    const BELOW: i64 = 100_000_000;
    #[expect(clippy::cast_possible_truncation, reason = "checked to be far within")]
    let above = if ratio.abs() < 9e9 { (ratio * BELOW as f64).round() as i64 } else { i64::MAX };
    Ok(money.times_ratio(above, BELOW)?)
}

/// Prices at work.
pub(super) struct Pricing<'b, 'p> {
    pub(super) book: &'b Book,
    pub(super) prices: &'p PriceList,
    pub(super) measures: &'p Measures,
}

impl<'b> Pricing<'b, '_> {
    /// What so much of an ingredient costs; none if nothing says.
    pub(super) fn of(
        &self,
        of: &'b Ingredient,
        need: Need,
        depth: usize,
    ) -> Result<Option<(Money, From<'b>)>, ServiceError> {
        if let Some(listed) = self.prices.of(&of.id)
            && let Some(money) = self.of_listed(of, need, listed)?
        {
            let Listed { price, source } = listed;
            let from = From::Price { paid: price.paid, size: price.size, source: source.clone() };
            return Ok(Some((money, from)));
        }
        if is_water(of) {
            let Some(currency) = self.prices.currencies().first().copied() else { return Ok(None) };
            let nothing = Money::new(0, currency).map_err(|e| ServiceError::Money(MoneyFault::Range(e)))?;
            return Ok(Some((nothing, From::Water)));
        }
        if let Some(found) = self.of_fruit(of, need)? {
            return Ok(Some(found));
        }
        self.of_prep(of, need, depth)
    }

    fn of_listed(&self, of: &Ingredient, need: Need, listed: &Listed) -> Result<Option<Money>, ServiceError> {
        let one = Need::of_amount(listed.price.size, self.measures);
        need.over(one, of).map(|ratio| by_ratio(listed.price.paid, ratio)).transpose()
    }

    fn of_fruit(&self, of: &Ingredient, need: Need) -> Result<Option<(Money, From<'b>)>, ServiceError> {
        let Some(volume) = need.volume(of) else { return Ok(None) };
        let Some((fruit, juice)) = usual_fruit(self.book, of, self.prices, self.measures) else {
            return Ok(None);
        };
        let Some(listed) = self.prices.of(&fruit.id) else { return Ok(None) };
        let pieces = volume.ml() / juice.ml.ml();
        let money = self.of_listed(fruit, Need::Count(pieces, Unit::Piece), listed)?;
        Ok(money.map(|money| (money, From::Fruit { fruit, pieces, source: listed.source.clone() })))
    }

    fn of_prep(
        &self,
        of: &'b Ingredient,
        need: Need,
        depth: usize,
    ) -> Result<Option<(Money, From<'b>)>, ServiceError> {
        let Some(prep) = self.book.prep_of(&of.id).filter(|_| depth < DEEPEST) else { return Ok(None) };
        let Some(making) = made(self.book, prep, self.measures) else { return Ok(None) };
        let (mut whole, mut demo) = (None::<Money>, false);
        for (part, line) in &making.lines {
            let need = Need::of_amount(line.amount, self.measures);
            let Some((money, from)) = self.of(part, need, depth + 1)? else { return Ok(None) };
            demo |= from.is_demo();
            whole = Some(whole.map_or(Ok(money), |sum| sum.plus(money))?);
        }
        let Some(whole) = whole else { return Ok(None) };
        let one = Need::Volume(making.volume);
        let Some(ratio) = need.over(one, of) else { return Ok(None) };
        let from = From::Prep { prep, whole, makes: making.volume, demo };
        Ok(Some((by_ratio(whole, ratio)?, from)))
    }
}

/// The fruit that a juice is pressed from: of several the one whose juice costs least, for nobody presses the dear one;
/// where none has a price, the first by id.
pub(super) fn usual_fruit<'b>(
    book: &'b Book,
    juice: &Ingredient,
    prices: &PriceList,
    measures: &Measures,
) -> Option<(&'b Ingredient, &'b Yield)> {
    let all = book.ingredients().iter().filter_map(|fruit| {
        let held = fruit.juice.as_ref()?;
        (held.gives == juice.id && held.ml.ml() > 0.0).then_some((fruit, held))
    });
    let a_ml = |(fruit, held): &(&Ingredient, &Yield)| {
        let listed = prices.of(&fruit.id)?;
        let one = Need::of_amount(listed.price.size, measures);
        let share = Need::Count(1.0 / held.ml.ml(), Unit::Piece).over(one, fruit)?;
        Some(share * listed.price.paid.ten_thousandths() as f64)
    };
    all.min_by(|a, b| a_ml(a).unwrap_or(f64::INFINITY).total_cmp(&a_ml(b).unwrap_or(f64::INFINITY)))
}

/// Whether it is water, which comes from the tap.
pub(super) fn is_water(of: &Ingredient) -> bool {
    matches!(of.id.as_str(), "water" | "hot-water")
}

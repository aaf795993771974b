//! Amounts as they are bought: bottles and parts of them, fruit, what is made in the house.

use super::cost::{is_water, usual_fruit};
use super::error::ServiceError;
use super::need::Need;
use super::price_list::{PriceList, Source};
use crate::book::{Book, Ingredient, Prep};
use crate::measure::{Amount, Measures, Money, Volume};

/// Whole packs of something.
#[derive(Debug, Clone, PartialEq)]
pub struct Pack {
    /// What is in one.
    pub size: Amount,
    /// How many are used up, in full and in part.
    pub used: f64,
    /// How many must be bought.
    pub whole: u32,
    /// What of the last one is left, as a share of one.
    pub left: f64,
    /// What is paid for them all.
    pub paid: Money,
    /// Whose price it is.
    pub source: Source,
}

/// How many pieces of fruit a juice takes.
#[derive(Debug, Clone, PartialEq)]
pub struct Pieces<'b> {
    /// The fruit.
    pub fruit: &'b Ingredient,
    /// With its usual yield.
    pub usual: u32,
    /// If all of it yields much.
    pub fewest: u32,
    /// If all of it yields little.
    pub most: u32,
}

/// What is bought, pressed or made for a need.
#[derive(Debug, Clone, PartialEq)]
pub struct Bought<'b> {
    /// What is needed.
    pub ingredient: &'b Ingredient,
    /// How much.
    pub need: Need,
    /// What that weighs, g, if it is known.
    pub grams: Option<f64>,
    /// The packs it comes in.
    pub pack: Option<Pack>,
    /// The fruit it is pressed from.
    pub pieces: Option<Pieces<'b>>,
    /// How it is made here.
    pub prep: Option<&'b Prep>,
    /// Whether it comes from the tap.
    pub water: bool,
}

/// A count no list of shopping goes beyond.
const MOST_PACKS: f64 = 1e6;

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held within its bounds")]
fn whole(count: f64) -> u32 {
    (count - 1e-9).ceil().clamp(0.0, MOST_PACKS) as u32
}

/// What is bought for a need.
///
/// # Errors
/// [`ServiceError::Money`] for a sum beyond the range.
pub fn bought<'b>(
    book: &'b Book,
    ingredient: &'b Ingredient,
    need: Need,
    prices: &PriceList,
    measures: &Measures,
) -> Result<Bought<'b>, ServiceError> {
    let listed = prices.of(&ingredient.id);
    let pack = listed.and_then(|listed| {
        let used = need.over(Need::of_amount(listed.price.size, measures), ingredient)?;
        Some((listed, used))
    });
    let pack = pack
        .map(|(listed, used)| {
            let whole = whole(used);
            Ok::<_, ServiceError>(Pack {
                size: listed.price.size,
                used,
                whole,
                left: f64::from(whole) - used,
                paid: listed.price.paid.times(whole.into())?,
                source: listed.source.clone(),
            })
        })
        .transpose()?;
    let prep = if pack.is_none() { book.prep_of(&ingredient.id) } else { None };
    let pieces = match need.volume(ingredient) {
        Some(volume) if pack.is_none() => pieces(book, ingredient, volume, prices, measures),
        _ => None,
    };
    Ok(Bought {
        ingredient,
        need,
        grams: need.grams(ingredient),
        pack,
        pieces,
        prep,
        water: is_water(ingredient),
    })
}

/// The fruit that a volume of juice is pressed from.
fn pieces<'b>(
    book: &'b Book,
    juice: &Ingredient,
    volume: Volume,
    prices: &PriceList,
    measures: &Measures,
) -> Option<Pieces<'b>> {
    let (fruit, held) = usual_fruit(book, juice, prices, measures)?;
    let of = |ml: Volume| whole(volume.ml() / ml.ml().max(0.1));
    Some(Pieces { fruit, usual: of(held.ml), fewest: of(held.most), most: of(held.least) })
}

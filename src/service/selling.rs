//! What a drink may be sold for.

use super::cost::{Cost, by_ratio};
use super::error::ServiceError;
use crate::book::Ingredient;
use crate::measure::Money;

/// What a line does to the pour cost.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moves<'b> {
    /// The line.
    pub ingredient: &'b Ingredient,
    /// Its share of all that a serve costs.
    pub share: f64,
    /// By how much the pour cost moves if its price goes up by a tenth, as a share of the price: 0.01 is a point.
    pub by_a_tenth: f64,
}

/// What a drink may be sold for.
#[derive(Debug, Clone, PartialEq)]
pub struct Selling<'b> {
    /// The pour cost that is aimed at, as a share of the price without tax.
    pub target: f64,
    /// Tax on top of the price, as a share of it.
    pub tax: f64,
    /// The price without tax that meets the target.
    pub net_at_target: Money,
    /// The same with tax.
    pub at_target: Money,
    /// What stands on the menu, tax included: what was asked for, or the price at target rounded up.
    pub menu: Money,
    /// What a menu's prices are rounded up to; none where the price was given.
    pub step: Option<Money>,
    /// The menu price without tax.
    pub net: Money,
    /// The pour cost at the menu price.
    pub pour_cost: f64,
    /// What is left of a serve, without tax.
    pub margin: Money,
    /// The lines, what moves the pour cost most first.
    pub moves: Vec<Moves<'b>>,
}

/// A share of a sum in another.
pub fn share_of(part: Money, whole: Money) -> f64 {
    if whole.ten_thousandths() == 0 {
        0.0
    } else {
        part.ten_thousandths() as f64 / whole.ten_thousandths() as f64
    }
}

/// What a drink may be sold for at a target pour cost, or what a price comes to.
///
/// # Model
/// Pour cost is the cost of what is poured over the price without tax; the price at target is the cost over the target.
/// A menu price is that with tax, rounded up to the step.
///
/// # Source
/// The textbook formula of beverage cost: cost of goods sold over sales; *from memory*.
///
/// # Errors
/// [`ServiceError::Currencies`] if the given price is in another currency; [`ServiceError::Money`] beyond the range.
pub fn selling<'b>(
    cost: &Cost<'b>,
    target: f64,
    tax: f64,
    step: Money,
    given: Option<Money>,
) -> Result<Selling<'b>, ServiceError> {
    let net_at_target = by_ratio(cost.total, 1.0 / target)?;
    let at_target = by_ratio(net_at_target, 1.0 + tax)?;
    let menu = match given {
        Some(price) => price,
        None => rounded_up(at_target, step)?,
    };
    let net = by_ratio(menu, 1.0 / (1.0 + tax))?;
    let margin = net.minus(cost.total)?;
    let pour_cost = share_of(cost.total, net);
    let lines = cost.lines.iter().filter_map(|l| Some((l.ingredient, l.cost.as_ref()?.0)));
    let mut moves: Vec<Moves<'b>> = lines
        .map(|(ingredient, money)| {
            let own = share_of(money, cost.total);
            // Waste is a share of the lines, so it grows along.
            let by_a_tenth = 0.1 * own * (1.0 + cost.waste_share) * pour_cost;
            Moves { ingredient, share: own, by_a_tenth }
        })
        .collect();
    moves.sort_by(|a, b| b.share.total_cmp(&a.share).then(a.ingredient.id.cmp(&b.ingredient.id)));
    let step = given.is_none().then_some(step);
    Ok(Selling { target, tax, net_at_target, at_target, menu, step, net, pour_cost, margin, moves })
}

/// The least whole number of steps that is no less than a sum.
fn rounded_up(sum: Money, step: Money) -> Result<Money, ServiceError> {
    let one = step.ten_thousandths().max(1);
    // Adding two currencies fails, so the two are the same from here on.
    sum.plus(step)?;
    let steps = sum.ten_thousandths().div_euclid(one) + i64::from(sum.ten_thousandths().rem_euclid(one) > 0);
    Ok(step.times(steps)?)
}

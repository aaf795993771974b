//! Which containers a batch goes into, with the least room left over.

use std::collections::VecDeque;

use super::error::ServiceError;
use super::vessel::Vessel;
use crate::measure::Volume;

/// Containers of one size, and how full they are.
#[derive(Debug, Clone, PartialEq)]
pub struct Filled {
    /// The container.
    pub vessel: Vessel,
    /// How many of it.
    pub count: u32,
    /// Up to where each may be filled.
    pub line: Volume,
    /// What goes into the last of them, where that is less than the line.
    pub last: Option<Volume>,
}

/// A batch in its containers.
#[derive(Debug, Clone, PartialEq)]
pub struct Packing {
    /// The sizes, largest first.
    pub filled: Vec<Filled>,
    /// How full each may be, of what it holds.
    pub fill: f64,
    /// Room up to the fill lines that stays empty.
    pub left_over: Volume,
}

impl Packing {
    /// Most sizes at once.
    pub const MOST_SIZES: usize = 8;
    /// Most containers of a batch.
    pub const MOST_CONTAINERS: u32 = 20_000;

    /// How many containers there are.
    pub fn count(&self) -> u32 {
        self.filled.iter().map(|f| f.count).sum()
    }

    /// What they take up to the fill lines.
    pub fn room(&self) -> Volume {
        Volume::clamped(self.filled.iter().map(|f| f.line.ml() * f64::from(f.count)).sum())
    }
}

/// What some containers at hand take, each up to its fill line; none if there are as many as are needed of one.
pub(super) fn room_at_hand(vessels: &[Vessel], fill: f64) -> Option<Volume> {
    let each =
        vessels.iter().map(|v| v.at_hand.map(|n| f64::from(n) * tenths(v.holds.ml()) as f64 / 10.0 * fill));
    each.sum::<Option<f64>>().map(Volume::clamped)
}

/// Tenths of a millilitre, rounded down, so that no container is ever over its line.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "volumes end at 1e7 ml")]
fn tenths(ml: f64) -> usize {
    (ml * 10.0 + 1e-6).floor() as usize
}

fn divisor(a: usize, b: usize) -> usize {
    if b == 0 { a } else { divisor(b, a % b) }
}

/// Puts a volume into containers: the least room left over, of those the fewest containers.
///
/// # Model
/// Every container is filled to the same share of what it holds. What it holds is counted in tenths of a millilitre, the
/// sizes over their greatest common divisor; sums of sizes are then tried exactly, by the number of containers. From where
/// more of the largest size can only be part of a best answer, they are set aside first.
///
/// # Errors
/// [`ServiceError`]: no room in what is at hand, too many containers or sizes.
pub fn pack(volume: Volume, vessels: &[Vessel], fill: f64) -> Result<Packing, ServiceError> {
    let mut sizes = merged(vessels);
    if sizes.len() > Packing::MOST_SIZES {
        return Err(ServiceError::TooManySizes { found: sizes.len(), most: Packing::MOST_SIZES });
    }
    sizes.sort_by_key(|vessel| std::cmp::Reverse(vessel.holds));
    if let Some(room) = room_at_hand(&sizes, fill)
        && room.ml() + 1e-6 < volume.ml()
    {
        return Err(ServiceError::NoRoom { batch: volume, room });
    }
    let units: Vec<usize> = sizes.iter().map(|v| tenths(v.holds.ml())).collect();
    let step = units.iter().copied().fold(0, divisor).max(1);
    let units: Vec<usize> = units.iter().map(|u| (u / step).max(1)).collect();
    let at_hand: Vec<Option<u32>> = sizes.iter().map(|v| v.at_hand).collect();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "volumes end at 1e7 ml")]
    let wanted = ((volume.ml() / fill * 10.0 - 1e-6) / step as f64).ceil().max(1.0) as usize;
    let counts = fewest(&units, &at_hand, wanted)?;
    let mut rest = volume.ml();
    let mut filled = Vec::new();
    let mut counts = counts;
    trim(&sizes, &mut counts, fill, volume);
    let used: Vec<(Vessel, u32)> = sizes.into_iter().zip(counts).filter(|(_, n)| *n > 0).collect();
    let mut left_over = 0.0;
    for (place, (vessel, count)) in used.iter().enumerate() {
        let line = vessel.holds.ml() * fill;
        let whole = line * f64::from(*count);
        let is_last = place + 1 == used.len();
        let last =
            if is_last && rest < whole - 0.5 { Some(rest - line * f64::from(count - 1)) } else { None };
        if is_last {
            left_over = (whole - rest).max(0.0);
        }
        rest -= whole;
        filled.push(Filled {
            vessel: vessel.clone(),
            count: *count,
            line: Volume::clamped(line),
            last: last.map(Volume::clamped),
        });
    }
    Ok(Packing { filled, fill, left_over: Volume::clamped(left_over) })
}

/// Takes away what is not needed after all, the small ones first: sizes were rounded down to be counted.
fn trim(sizes: &[Vessel], counts: &mut [u32], fill: f64, volume: Volume) {
    let room = |counts: &[u32]| -> f64 {
        sizes.iter().zip(counts).map(|(v, n)| v.holds.ml() * fill * f64::from(*n)).sum()
    };
    for (size, vessel) in sizes.iter().enumerate().rev() {
        let line = vessel.holds.ml() * fill;
        while counts[size] > 0 && room(counts) - line + 1e-6 >= volume.ml() {
            counts[size] -= 1;
        }
    }
}

/// Those of one size and kind together.
fn merged(vessels: &[Vessel]) -> Vec<Vessel> {
    let mut all: Vec<Vessel> = Vec::new();
    for vessel in vessels {
        match all.iter_mut().find(|v| v.kind == vessel.kind && v.holds == vessel.holds) {
            Some(known) => known.at_hand = known.at_hand.zip(vessel.at_hand).map(|(a, b)| a + b),
            None => all.push(vessel.clone()),
        }
    }
    all
}

/// Sums that are tried at most, over all sizes.
const MOST_SUMS: usize = 4_000_000;

/// How many of each size: the least sum of at least `wanted`, of those the fewest containers.
fn fewest(units: &[usize], at_hand: &[Option<u32>], wanted: usize) -> Result<Vec<u32>, ServiceError> {
    let too_many = ServiceError::TooManyContainers { most: Packing::MOST_CONTAINERS };
    let largest = units[0];
    // Fewer than `largest` of the others are ever needed, since some of more would add up to a multiple of it.
    let beside: usize = largest.saturating_mul(units.iter().skip(1).copied().max().unwrap_or(0));
    let aside = if at_hand[0].is_none() { wanted.saturating_sub(beside + largest) / largest } else { 0 };
    if aside > Packing::MOST_CONTAINERS as usize {
        return Err(too_many);
    }
    let wanted = wanted - aside * largest;
    let end = wanted + largest;
    if end.saturating_mul(units.len()) > MOST_SUMS {
        return Ok(one_size_first(units, at_hand, wanted, aside));
    }
    let mut fewest_of = vec![NEVER; end];
    fewest_of[0] = 0;
    let mut taken: Vec<Vec<u32>> = Vec::new();
    for (unit, most) in units.iter().zip(at_hand) {
        let (counts, of_size) = with_size(&fewest_of, *unit, most.unwrap_or(NEVER));
        fewest_of = counts;
        taken.push(of_size);
    }
    let best = (wanted..end).find(|sum| fewest_of[*sum] != NEVER);
    let Some(mut sum) = best else { return Ok(one_size_first(units, at_hand, wanted, aside)) };
    let mut counts = vec![0_u32; units.len()];
    for (size, of_size) in taken.iter().enumerate().rev() {
        counts[size] = of_size[sum];
        sum -= units[size] * of_size[sum] as usize;
    }
    counts[0] += u32::try_from(aside).unwrap_or(u32::MAX);
    if counts.iter().sum::<u32>() > Packing::MOST_CONTAINERS {
        return Err(too_many);
    }
    Ok(counts)
}

/// A sum that no containers make.
const NEVER: u32 = u32::MAX;

/// For every sum the fewest containers once up to `most` of one more size are allowed, and how many of it those are.
///
/// Sums that differ by whole containers of the size are gone through in order; those that may still be the best start for
/// a later one wait in a queue, the best first.
fn with_size(before: &[u32], unit: usize, most: u32) -> (Vec<u32>, Vec<u32>) {
    let (mut counts, mut taken) = (before.to_vec(), vec![0; before.len()]);
    for rest in 0..unit.min(before.len()) {
        // Steps, and what a start there costs less its step: both grow the same for everything later.
        let mut waiting: VecDeque<(u32, i64)> = VecDeque::new();
        for (step, sum) in (0_u32..).zip((rest..before.len()).step_by(unit)) {
            if before[sum] != NEVER {
                let cost = i64::from(before[sum]) - i64::from(step);
                while waiting.back().is_some_and(|(_, known)| *known >= cost) {
                    waiting.pop_back();
                }
                waiting.push_back((step, cost));
            }
            while waiting.front().is_some_and(|(from, _)| step - from > most) {
                waiting.pop_front();
            }
            if let Some((from, cost)) = waiting.front() {
                taken[sum] = step - from;
                counts[sum] = u32::try_from(cost + i64::from(step)).unwrap_or(NEVER);
            }
        }
    }
    (counts, taken)
}

/// The largest sizes first and the smallest that takes the rest: where there are too many sums to try.
fn one_size_first(units: &[usize], at_hand: &[Option<u32>], wanted: usize, aside: usize) -> Vec<u32> {
    let mut rest = wanted;
    let mut counts: Vec<u32> = Vec::new();
    for (size, unit) in units.iter().enumerate() {
        let most = at_hand[size].map_or(usize::MAX, |n| n as usize);
        let is_last = size + 1 == units.len();
        let taken = if is_last { rest.div_ceil(*unit) } else { rest / unit }.min(most);
        rest = rest.saturating_sub(taken * unit);
        counts.push(u32::try_from(taken).unwrap_or(u32::MAX));
    }
    // What the smaller ones could not take goes into larger ones.
    for (size, unit) in units.iter().enumerate().rev() {
        while rest > 0 && at_hand[size].is_none_or(|most| counts[size] < most) {
            counts[size] += 1;
            rest = rest.saturating_sub(*unit);
        }
    }
    counts[0] += u32::try_from(aside).unwrap_or(u32::MAX);
    counts
}

#[cfg(test)]
mod tests;

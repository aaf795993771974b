//! What each line of a drink may take when it is tuned.

use super::{CannotTune, Tune};
use crate::drink::amounts::{Fixed, Free};
use crate::drink::house::House;
use crate::drink::spec::Line;
use crate::measure::{Amount, Pour, Unit, Volume};

/// A line may go from half of what it is to half as much again; counted ones to twice and one more.
const ROOM: (f64, f64) = (0.5, 1.5);
/// Lines of less, ml, may also be poured by the barspoon, so many.
const SMALL_SWEET_ML: f64 = 9.0;
const SPOONS: [f64; 2] = [1.0, 2.0];
/// Lines of less, ml, do not move unless they are counted.
const SMALL_ML: f64 = 5.0;

/// The lines of a drink as the solver takes them.
pub(super) struct Lines<'b> {
    pub(super) free: Vec<Free<'b>>,
    pub(super) fixed: Vec<Fixed<'b>>,
    /// The line of the drink that each free one is.
    pub(super) places: Vec<usize>,
    pub(super) lifted: Vec<(usize, Vec<Pour>)>,
}

impl<'b> Lines<'b> {
    pub(super) fn of(asked: &Tune<'b>, house: &House) -> Result<Self, CannotTune> {
        let mut lines = Self { free: Vec::new(), fixed: Vec::new(), places: Vec::new(), lifted: Vec::new() };
        for (place, line) in asked.spec.lines.iter().enumerate() {
            let keep = asked.keep.iter().find(|(at, _)| *at == place).map(|(_, amount)| *amount);
            let at = |of: &[(usize, Volume)]| of.iter().find(|(at, _)| *at == place).map(|(_, v)| *v);
            let (least, most) = (at(&asked.least), at(&asked.most));
            let limited = keep.flatten().is_some() || least.is_some() || most.is_some();
            let (Some(makeup), Some(usual)) = (line.ingredient.makeup.as_ref(), line.volume) else {
                if limited {
                    return Err(CannotTune::NoAmount { name: asked.name_of(place) });
                }
                continue;
            };
            let lengthens = line.is_lengthener();
            let room = if asked.may_move(line) || limited { room(line, usual, house) } else { Vec::new() };
            if room.len() < 2 && !limited {
                lines.fixed.push(Fixed { makeup, lengthens, volume: usual });
                continue;
            }
            let pours = match keep {
                Some(amount) => vec![Pour { volume: amount.unwrap_or(usual), marks: 1 }],
                None if least.is_some() || most.is_some() => {
                    let within = |p: &Pour| {
                        least.is_none_or(|l| p.volume.ml() >= l.ml() - 1e-6)
                            && most.is_none_or(|m| p.volume.ml() <= m.ml() + 1e-6)
                    };
                    wider(line, usual, least, most, house).into_iter().filter(within).collect()
                }
                None => room.clone(),
            };
            if keep.is_some() || least.is_some() || most.is_some() {
                lines.lifted.push((lines.free.len(), room));
            }
            lines.free.push(Free { makeup, lengthens, pours, usual: keep.flatten().unwrap_or(usual) });
            lines.places.push(place);
        }
        Ok(lines)
    }
}

/// What a line may take where nothing was said of it.
fn room(line: &Line<'_>, usual: Volume, house: &House) -> Vec<Pour> {
    if let Some(pours) = counted(line, usual) {
        return pours;
    }
    if usual.ml() < SMALL_ML {
        return vec![Pour { volume: usual, marks: 1 }];
    }
    let mut pours = wider(line, usual, None, None, house);
    // The jigger has nothing so small: by the barspoon.
    let spoons = SPOONS.map(|n| Volume::clamped(n * house.measures.barspoon.ml()));
    if usual.ml() < SMALL_SWEET_ML {
        pours.extend(spoons.into_iter().filter(|v| *v < usual).map(|volume| Pour { volume, marks: 1 }));
        pours.sort();
    }
    pours
}

/// What a line may take up to limits that may lie further out.
fn wider(
    line: &Line<'_>,
    usual: Volume,
    least: Option<Volume>,
    most: Option<Volume>,
    house: &House,
) -> Vec<Pour> {
    if let Some(pours) = counted(line, usual) {
        return pours;
    }
    let low = least.unwrap_or(usual).ml().min(ROOM.0 * most.unwrap_or(usual).ml().min(usual.ml()));
    let high = most.unwrap_or(usual).ml().max(ROOM.1 * least.unwrap_or(usual).ml().max(usual.ml()));
    let limits = (Volume::clamped(low), Volume::clamped(high));
    with_usual(house.pours(limits, usual, line.is_lengthener()), usual)
}

fn with_usual(mut pours: Vec<Pour>, usual: Volume) -> Vec<Pour> {
    if !pours.iter().any(|p| (p.volume.ml() - usual.ml()).abs() < 1e-6) {
        pours.push(Pour { volume: usual, marks: 1 });
        pours.sort();
    }
    pours
}

/// Whole counts of a line that is counted: from one to twice as many and one more.
fn counted(line: &Line<'_>, usual: Volume) -> Option<Vec<Pour>> {
    let count = line.amount.count();
    let counted = matches!(line.amount.unit(), Unit::Dash | Unit::Drop | Unit::Barspoon);
    if !counted || count < 1.0 || (count - count.round()).abs() > 1e-9 {
        return None;
    }
    let one = usual.ml() / count;
    let counts = (1_u8..=100).map(f64::from).take_while(|n| *n <= 2.0 * count + 1.0);
    Some(counts.map(|n| Pour { volume: Volume::clamped(n * one), marks: 1 }).collect())
}

/// Pours a line anew; a counted one in whole counts.
pub(super) fn pour_line(line: &mut Line<'_>, pour: Pour, house: &House) {
    let Some(was) = line.volume else { return };
    if (was.ml() - pour.volume.ml()).abs() < 1e-6 {
        return;
    }
    let by_count = matches!(line.amount.unit(), Unit::Dash | Unit::Drop | Unit::Barspoon);
    let spoons = pour.volume.ml() / house.measures.barspoon.ml();
    let in_spoons =
        !house.jigger.is_pourable(pour.volume) && SPOONS.iter().any(|n| (n - spoons).abs() < 1e-6);
    let amount = if in_spoons {
        Amount::new(spoons.round(), Unit::Barspoon).ok()
    } else if by_count && was.ml() > 0.0 {
        let count = (line.amount.count() * pour.volume.ml() / was.ml()).round();
        Amount::new(count, line.amount.unit()).ok()
    } else {
        house.amount(pour.volume)
    };
    line.amount = amount.unwrap_or(line.amount);
    line.volume = Some(pour.volume);
}

//! A drink mixed over and over, with its lines off.

use super::{Effect, Melting, Miss, Slip, Spread, Together, Tolerance};
use crate::drink::amounts::Aim;
use crate::drink::difference::differences;
use crate::drink::figures::{Figures, NothingPoured, Poured};
use crate::drink::spec::Line;
use crate::measure::Volume;

/// Mixes a drink over and over.
pub(super) struct Mixer<'l, 'b> {
    lines: &'l [&'l Line<'b>],
    melting: Melting,
    pub(super) right: Figures,
    aim: Aim,
}

impl<'l, 'b> Mixer<'l, 'b> {
    pub(super) fn new(lines: &'l [&'l Line<'b>], melting: Melting) -> Result<Self, NothingPoured> {
        let all = lines.iter().try_fold(Poured::default(), |sum, line| Some(sum.plus(&pour(line, 0.0)?)));
        let right = all.and_then(|poured| served(melting, &poured)).ok_or(NothingPoured)?;
        Ok(Self { lines, melting, right, aim: Aim::of(&right) })
    }

    fn effect(&self, poured: &Poured) -> Option<Effect> {
        Some(self.effect_of(served(self.melting, poured)?))
    }

    fn effect_of(&self, figures: Figures) -> Effect {
        let [strength, sugar, acid, bitterness] = differences(&self.aim, &figures).map(|d| d.noticed());
        Effect { figures, strength, sugar, acid, bitterness, noticed: self.aim.distance(&figures) }
    }

    /// One line off by so many ml, the others as written.
    pub(super) fn alone(&self, off: usize, by_ml: f64) -> Result<Effect, NothingPoured> {
        let by = |at: usize| if at == off { by_ml } else { 0.0 };
        let mut lines = self.lines.iter().enumerate();
        let sum = lines.try_fold(Poured::default(), |sum, (at, line)| Some(sum.plus(&pour(line, by(at))?)));
        sum.and_then(|poured| self.effect(&poured)).ok_or(NothingPoured)
    }

    /// The most by which one line may be off either way within one just-noticeable difference; none for any.
    pub(super) fn unnoticed(&self, line: usize) -> Option<f64> {
        let whole = self.lines[line].volume.unwrap_or(Volume::ZERO).ml();
        let noticed = |ml: f64| {
            let more = self.alone(line, ml).map_or(f64::INFINITY, |e| e.noticed);
            // A drink of this line alone cannot go without it: then nothing is there to compare.
            let less = self.alone(line, -ml.min(whole)).map_or(f64::INFINITY, |e| e.noticed);
            more.max(less)
        };
        let (mut fine, mut off) = (0.0, Tolerance::MOST_OFF_ML);
        if noticed(off) <= 1.0 {
            return None;
        }
        while off - fine > 0.001 {
            let middle = f64::midpoint(fine, off);
            if noticed(middle) <= 1.0 {
                fine = middle;
            } else {
                off = middle;
            }
        }
        Some(fine)
    }

    /// Every combination of the lines that may be off.
    pub(super) fn together(&self, slips: &[Slip], may: &[bool]) -> Result<Together, NothingPoured> {
        let mut ways = Vec::new();
        for ((line, slip), may) in self.lines.iter().zip(slips).zip(may) {
            let all = [(Miss::Right, 0.0), (Miss::Less, -slip.less.ml()), (Miss::More, slip.more.ml())];
            let open = if *may { &all[..] } else { &all[..1] };
            let way = open.iter().map(|(miss, ml)| pour(line, *ml).map(|p| (*miss, p)));
            ways.push(way.collect::<Option<Vec<_>>>().ok_or(NothingPoured)?);
        }
        let mut found = Together {
            spread: Spread::of(&self.right),
            worst: self.effect_of(self.right),
            misses: vec![Miss::Right; slips.len()],
            combinations: 0,
        };
        self.go_on(&ways, &Poured::default(), &mut Vec::new(), &mut found);
        Ok(found)
    }

    fn go_on(&self, ways: &[Vec<(Miss, Poured)>], sum: &Poured, gone: &mut Vec<Miss>, found: &mut Together) {
        let Some((first, rest)) = ways.split_first() else {
            found.combinations += 1;
            // With nothing left in the glass there is no drink to compare.
            let Some(effect) = self.effect(sum) else { return };
            found.spread = found.spread.widened(&effect.figures);
            if effect.noticed > found.worst.noticed {
                found.worst = effect;
                found.misses.clone_from(gone);
            }
            return;
        };
        for (miss, poured) in first {
            gone.push(*miss);
            self.go_on(rest, &sum.plus(poured), gone, found);
            gone.pop();
        }
    }
}

/// A line off by so many ml.
fn pour(line: &Line<'_>, by_ml: f64) -> Option<Poured> {
    let makeup = line.ingredient.makeup.as_ref()?;
    Poured::of(makeup, Volume::clamped(line.volume?.ml() + by_ml), line.is_lengthener())
}

fn served(melting: Melting, poured: &Poured) -> Option<Figures> {
    match melting {
        Melting::Over(ice) => poured.over_ice(ice),
        Melting::Held(dilution) => poured.diluted(dilution),
    }
}

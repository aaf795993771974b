//! What each line brings into the glass, in grams: how a drink's figures come about.

use super::figures::{Figures, NothingPoured, figures, parts_of};
use super::spec::Spec;
use crate::book::Ingredient;
use crate::liquid::{Parts, Solute};
use crate::measure::{Amount, Volume};

/// Grams of what counts, and the volume they take up by themselves.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Grams {
    /// Volume at 20 °C, ml.
    pub ml: f64,
    /// All of it, g.
    pub mass_g: f64,
    /// Ethanol, g.
    pub ethanol_g: f64,
    /// Water, g.
    pub water_g: f64,
    /// Sugars, g.
    pub sugar_g: f64,
    /// Acid, g as citric.
    pub acid_g: f64,
}

/// What one line brings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LineAccount<'b> {
    /// What it is.
    pub ingredient: &'b Ingredient,
    /// How much, as written.
    pub amount: Amount,
    /// Whether it goes in after the ice.
    pub lengthens: bool,
    /// What it brings.
    pub brings: Grams,
}

/// A drink by what goes into it.
#[derive(Debug, Clone, PartialEq)]
pub struct Account<'b> {
    /// The lines that are poured, in the order of the spec.
    pub lines: Vec<LineAccount<'b>>,
    /// What meets the ice, mixed: less than the lines' volumes together, since ethanol and water contract.
    pub before_ice: Grams,
    /// The strength of that, % vol, by which the dilution is found.
    pub strength_before_ice: f64,
    /// Water from the ice.
    pub melted: Grams,
    /// What is in the glass.
    pub glass: Grams,
    /// The figures that follow.
    pub figures: Figures,
}

/// What each line of a drink brings, and what that comes to.
///
/// # Errors
/// [`NothingPoured`] if no line has a volume.
pub fn account<'b>(spec: &Spec<'b>) -> Result<Account<'b>, NothingPoured> {
    let figures = figures(spec)?;
    let mut lines = Vec::new();
    let mut before = Parts::default();
    for line in &spec.lines {
        let (Some(makeup), Some(volume)) = (&line.ingredient.makeup, line.volume) else { continue };
        let parts = parts_of(makeup, volume).map_err(|_| NothingPoured)?;
        let lengthens = line.is_lengthener();
        if !lengthens {
            before = before.plus(&parts);
        }
        let brings = Grams::of(&parts, parts.volume());
        lines.push(LineAccount { ingredient: line.ingredient, amount: line.amount, lengthens, brings });
    }
    let short = before.measured();
    Ok(Account {
        lines,
        before_ice: Grams::of(&before, short.volume),
        strength_before_ice: short.strength.percent_vol(),
        melted: Grams::of(&Parts::water(figures.water), figures.water),
        glass: Grams::of(&figures.liquid, figures.served),
        figures,
    })
}

impl Grams {
    fn of(parts: &Parts, volume: Volume) -> Self {
        let grams = |solutes: &[Solute], factor: fn(&Solute) -> f64| -> f64 {
            solutes.iter().map(|s| parts.dissolved(*s).grams() * factor(s)).sum()
        };
        Self {
            ml: volume.ml(),
            mass_g: parts.mass().grams(),
            ethanol_g: parts.ethanol().grams(),
            water_g: parts.water_mass().grams(),
            sugar_g: grams(&Solute::SUGARS, |_| 1.0),
            acid_g: grams(&Solute::ACIDS, |s| s.as_citric()),
        }
    }
}

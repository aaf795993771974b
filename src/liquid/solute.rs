//! What can be dissolved in the water of a drink, ethanol apart.

use std::fmt;

/// Something dissolved: a sugar, an acid, or salt.
///
/// Ethanol and water are not in the list: they are what the rest is dissolved in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Solute {
    /// Table sugar.
    Sucrose,
    /// Grape sugar, sold as dextrose.
    Glucose,
    /// Fruit sugar.
    Fructose,
    /// The acid of lemon and lime; anhydrous.
    Citric,
    /// The acid of apple.
    Malic,
    /// The acid of grape.
    Tartaric,
    /// The acid of soured milk.
    Lactic,
    /// The acid of vinegar.
    Acetic,
    /// The acid of cola.
    Phosphoric,
    /// Table salt.
    Salt,
}

impl Solute {
    /// How many there are.
    pub const COUNT: usize = 10;

    /// Every one.
    pub const ALL: [Self; Self::COUNT] = [
        Self::Sucrose,
        Self::Glucose,
        Self::Fructose,
        Self::Citric,
        Self::Malic,
        Self::Tartaric,
        Self::Lactic,
        Self::Acetic,
        Self::Phosphoric,
        Self::Salt,
    ];

    /// The sugars.
    pub const SUGARS: [Self; 3] = [Self::Sucrose, Self::Glucose, Self::Fructose];

    /// The acids.
    pub const ACIDS: [Self; 6] =
        [Self::Citric, Self::Malic, Self::Tartaric, Self::Lactic, Self::Acetic, Self::Phosphoric];

    /// Its place in lists that have one entry for each.
    pub(super) const fn index(self) -> usize {
        self as usize
    }

    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Sucrose => "sucrose",
            Self::Glucose => "glucose",
            Self::Fructose => "fructose",
            Self::Citric => "citric acid",
            Self::Malic => "malic acid",
            Self::Tartaric => "tartaric acid",
            Self::Lactic => "lactic acid",
            Self::Acetic => "acetic acid",
            Self::Phosphoric => "phosphoric acid",
            Self::Salt => "salt",
        }
    }

    /// Grams in a mole.
    ///
    /// # Source
    /// CRC Handbook of Chemistry and Physics, 102nd edition, for those in its table of aqueous solutions; malic,
    /// tartaric and acetic acid from their formulas (C4H6O5, C4H6O6, C2H4O2).
    pub const fn molar_mass(self) -> f64 {
        match self {
            Self::Sucrose => 342.296,
            Self::Glucose | Self::Fructose => 180.155,
            Self::Citric => 192.124,
            Self::Malic => 134.087,
            Self::Tartaric => 150.087,
            Self::Lactic => 90.078,
            Self::Acetic => 60.052,
            Self::Phosphoric => 97.995,
            Self::Salt => 58.443,
        }
    }

    /// Hydrogens that a titration to pH 8.2 takes off; none for what is no acid.
    ///
    /// # Source
    /// The formulas; of phosphoric acid two are titrated there, of which the sour taste knows only one.
    const fn hydrogens(self) -> Option<f64> {
        match self {
            Self::Citric => Some(3.0),
            Self::Malic | Self::Tartaric | Self::Phosphoric => Some(2.0),
            Self::Lactic | Self::Acetic => Some(1.0),
            _ => None,
        }
    }

    /// Grams of anhydrous citric acid that a gram counts for in a titration; 0 for what is no acid.
    ///
    /// # Model
    /// Grams for one hydrogen of citric acid over grams for one hydrogen of this.
    ///
    /// # Limits
    /// Equal titration is not equal sourness: acetic and phosphoric acid taste sharper than they count, lactic rounder.
    ///
    /// ```
    /// use medlar::liquid::Solute;
    ///
    /// assert_eq!(format!("{:.3}", 1.0 / Solute::Malic.as_citric()), "1.047");
    /// assert_eq!(Solute::Sucrose.as_citric(), 0.0);
    /// ```
    pub const fn as_citric(self) -> f64 {
        match self.hydrogens() {
            Some(hydrogens) => Self::Citric.molar_mass() / 3.0 * hydrogens / self.molar_mass(),
            None => 0.0,
        }
    }

    /// Whether it is a sugar.
    pub const fn is_sugar(self) -> bool {
        matches!(self, Self::Sucrose | Self::Glucose | Self::Fructose)
    }

    /// Whether it is an acid.
    pub const fn is_acid(self) -> bool {
        self.hydrogens().is_some()
    }
}

impl fmt::Display for Solute {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_has_its_own_place() {
        for (place, solute) in Solute::ALL.into_iter().enumerate() {
            assert_eq!(solute.index(), place);
        }
    }

    #[test]
    fn each_is_a_sugar_an_acid_or_salt() {
        for solute in Solute::ALL {
            assert_eq!(Solute::SUGARS.contains(&solute), solute.is_sugar(), "{solute}");
            assert_eq!(Solute::ACIDS.contains(&solute), solute.is_acid(), "{solute}");
            assert_eq!(solute.as_citric() > 0.0, solute.is_acid(), "{solute}");
        }
    }
}

//! What the house's own measures hold.

use serde::{Deserialize, Serialize};

use super::scalar::Volume;
use super::unit::{ML_PER_OUNCE, Unit};

/// The volume of the measures that no standard fixes.
///
/// A report that used one says which figure it took, for another house's dash may be twice as big.
///
/// # Source
/// Common practice, from memory: there is no standard for any of them. A house does best to measure its own, for example
/// by counting what fills an ounce.
///
/// ```
/// use medlar::measure::{Measures, Unit, Volume};
///
/// let heavy = Measures { dash: Volume::new(1.0)?, ..Measures::default() };
/// assert_eq!(heavy.one(Unit::Dash), Some(Volume::new(1.0)?));
/// assert_eq!(heavy.one(Unit::Sprig), None);
/// # Ok::<(), medlar::measure::range::OutOfRange>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Measures {
    /// One dash from a bitters bottle: 0.8 ml unless the house says otherwise.
    pub dash: Volume,
    /// One barspoon: 4 ml unless the house says otherwise.
    pub barspoon: Volume,
    /// One drop from a pipette: 0.05 ml unless the house says otherwise.
    pub drop: Volume,
    /// What tops up a glass: 4 fl oz unless the house says otherwise.
    pub top: Volume,
    /// One part of a drink written in proportions: 1 fl oz unless the house says otherwise.
    pub part: Volume,
}

impl Default for Measures {
    fn default() -> Self {
        Self {
            dash: Volume::clamped(0.8),
            barspoon: Volume::clamped(4.0),
            drop: Volume::clamped(0.05),
            top: Volume::clamped(4.0 * ML_PER_OUNCE),
            part: Volume::clamped(ML_PER_OUNCE),
        }
    }
}

impl Measures {
    /// The volume of one of the unit, or nothing for a unit that is not a volume.
    pub fn one(&self, unit: Unit) -> Option<Volume> {
        Some(match unit {
            Unit::Ounce => Volume::clamped(ML_PER_OUNCE),
            Unit::Millilitre => Volume::clamped(1.0),
            Unit::Centilitre => Volume::clamped(10.0),
            Unit::Litre => Volume::clamped(1000.0),
            Unit::Cup => Volume::clamped(8.0 * ML_PER_OUNCE),
            Unit::Tablespoon => Volume::clamped(ML_PER_OUNCE / 2.0),
            Unit::Teaspoon => Volume::clamped(ML_PER_OUNCE / 6.0),
            Unit::Barspoon => self.barspoon,
            Unit::Dash => self.dash,
            Unit::Drop => self.drop,
            Unit::Part => self.part,
            Unit::Top => self.top,
            Unit::Gram | Unit::Leaf | Unit::Sprig | Unit::Slice | Unit::Piece | Unit::Pinch => return None,
        })
    }

    /// Whether the unit's volume is the house's own, so that a report must say what it took.
    pub fn is_house(unit: Unit) -> bool {
        matches!(unit, Unit::Barspoon | Unit::Dash | Unit::Drop | Unit::Part | Unit::Top)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST Special Publication 430, Household Weights and Measures: 1 cup 237 ml, 1 fl oz 30 ml, 1 tbsp 15 ml,
    /// 1 tsp 5 ml, each rounded to a whole millilitre.
    #[test]
    fn kitchen_measures_agree_with_nist_sp_430() {
        for (unit, whole_ml) in
            [(Unit::Cup, 237.0), (Unit::Ounce, 30.0), (Unit::Tablespoon, 15.0), (Unit::Teaspoon, 5.0)]
        {
            let ml = Measures::default().one(unit).unwrap().ml();
            assert!((ml.round() - whole_ml).abs() < 1e-9, "{unit}: {ml}");
        }
    }

    #[test]
    fn a_unit_without_volume_is_never_the_house_s() {
        for unit in Unit::ALL {
            assert!(Measures::default().one(unit).is_some() || !Measures::is_house(unit), "{unit}");
        }
    }

    #[test]
    fn a_file_may_name_only_what_differs_and_nothing_unknown() {
        let read: Measures = ron::from_str("(dash: 1.2)").unwrap();
        assert_eq!(read, Measures { dash: Volume::new(1.2).unwrap(), ..Measures::default() });
        assert!(ron::from_str::<Measures>("(dash: -1.0)").is_err());
        assert!(ron::from_str::<Measures>("(splash: 5.0)").is_err());
    }
}

//! Freezing depression of one thing in water, from the handbook.

use std::sync::LazyLock;

use crate::liquid::solute::Solute;

/// g in 100 g of solution, K.
const ETHANOL: [(f64, f64); 36] = [
    (0.5, 0.2),
    (1.0, 0.4),
    (2.0, 0.81),
    (3.0, 1.23),
    (4.0, 1.65),
    (5.0, 2.09),
    (6.0, 2.54),
    (7.0, 2.99),
    (8.0, 3.47),
    (9.0, 3.96),
    (10.0, 4.47),
    (11.0, 5.0),
    (12.0, 5.56),
    (13.0, 6.13),
    (14.0, 6.73),
    (15.0, 7.36),
    (16.0, 8.01),
    (17.0, 8.69),
    (18.0, 9.4),
    (19.0, 10.14),
    (20.0, 10.92),
    (22.0, 12.6),
    (24.0, 14.47),
    (26.0, 16.41),
    (28.0, 18.43),
    (30.0, 20.47),
    (32.0, 22.44),
    (34.0, 24.27),
    (36.0, 25.98),
    (38.0, 27.62),
    (40.0, 29.26),
    (42.0, 30.98),
    (44.0, 32.68),
    (46.0, 34.36),
    (48.0, 36.04),
    (50.0, 37.67),
];

/// g in 100 g of solution, K.
const SUCROSE: [(f64, f64); 32] = [
    (0.5, 0.03),
    (1.0, 0.06),
    (2.0, 0.11),
    (3.0, 0.17),
    (4.0, 0.23),
    (5.0, 0.29),
    (6.0, 0.35),
    (7.0, 0.42),
    (8.0, 0.49),
    (9.0, 0.55),
    (10.0, 0.63),
    (11.0, 0.7),
    (12.0, 0.77),
    (13.0, 0.85),
    (14.0, 0.93),
    (15.0, 1.01),
    (16.0, 1.1),
    (17.0, 1.19),
    (18.0, 1.27),
    (19.0, 1.37),
    (20.0, 1.47),
    (22.0, 1.67),
    (24.0, 1.89),
    (26.0, 2.12),
    (28.0, 2.37),
    (30.0, 2.64),
    (32.0, 2.94),
    (34.0, 3.27),
    (36.0, 3.63),
    (38.0, 4.02),
    (40.0, 4.45),
    (42.0, 4.93),
];

/// g in 100 g of solution, K.
const GLUCOSE: [(f64, f64); 21] = [
    (0.5, 0.05),
    (1.0, 0.11),
    (2.0, 0.21),
    (3.0, 0.32),
    (4.0, 0.43),
    (5.0, 0.55),
    (6.0, 0.67),
    (7.0, 0.79),
    (8.0, 0.91),
    (9.0, 1.04),
    (10.0, 1.17),
    (12.0, 1.44),
    (14.0, 1.73),
    (16.0, 2.03),
    (18.0, 2.35),
    (20.0, 2.7),
    (22.0, 3.07),
    (24.0, 3.48),
    (26.0, 3.9),
    (28.0, 4.34),
    (30.0, 4.79),
];

/// g in 100 g of solution, K.
const FRUCTOSE: [(f64, f64); 20] = [
    (0.5, 0.05),
    (1.0, 0.1),
    (2.0, 0.21),
    (3.0, 0.32),
    (4.0, 0.43),
    (5.0, 0.54),
    (6.0, 0.66),
    (7.0, 0.78),
    (8.0, 0.9),
    (9.0, 1.03),
    (10.0, 1.16),
    (12.0, 1.43),
    (14.0, 1.71),
    (16.0, 2.01),
    (18.0, 2.32),
    (20.0, 2.64),
    (22.0, 3.05),
    (24.0, 3.43),
    (26.0, 3.82),
    (28.0, 4.2),
];

/// g in 100 g of solution, K.
const CITRIC: [(f64, f64); 21] = [
    (0.5, 0.05),
    (1.0, 0.11),
    (2.0, 0.21),
    (3.0, 0.32),
    (4.0, 0.43),
    (5.0, 0.54),
    (6.0, 0.65),
    (7.0, 0.76),
    (8.0, 0.88),
    (9.0, 1.0),
    (10.0, 1.12),
    (12.0, 1.38),
    (14.0, 1.66),
    (16.0, 1.95),
    (18.0, 2.26),
    (20.0, 2.57),
    (22.0, 2.88),
    (24.0, 3.21),
    (26.0, 3.55),
    (28.0, 3.89),
    (30.0, 4.25),
];

/// g in 100 g of solution, K.
const LACTIC: [(f64, f64); 16] = [
    (0.5, 0.1),
    (1.0, 0.19),
    (2.0, 0.38),
    (3.0, 0.57),
    (4.0, 0.76),
    (5.0, 0.95),
    (6.0, 1.16),
    (7.0, 1.36),
    (8.0, 1.57),
    (9.0, 1.79),
    (10.0, 2.02),
    (12.0, 2.49),
    (14.0, 2.99),
    (16.0, 3.48),
    (18.0, 3.96),
    (20.0, 4.44),
];

/// g in 100 g of solution, K.
const PHOSPHORIC: [(f64, f64); 11] = [
    (0.5, 0.12),
    (1.0, 0.24),
    (2.0, 0.46),
    (3.0, 0.69),
    (4.0, 0.93),
    (5.0, 1.16),
    (6.0, 1.38),
    (8.0, 1.88),
    (10.0, 2.45),
    (15.0, 4.08),
    (20.0, 6.23),
];

/// g in 100 g of solution, K.
const SALT: [(f64, f64); 11] = [
    (0.1, 0.06),
    (0.2, 0.12),
    (0.5, 0.3),
    (1.0, 0.59),
    (2.0, 1.19),
    (3.0, 1.79),
    (4.0, 2.41),
    (5.0, 3.05),
    (6.0, 3.7),
    (8.0, 5.08),
    (10.0, 6.56),
];

/// A table by grams of the thing to a gram of water, which is what adds up in a mixture.
#[derive(Debug)]
struct Curve {
    /// Grams to a gram of water, K; from nothing on.
    points: Vec<(f64, f64)>,
}

impl Curve {
    fn new(table: &[(f64, f64)]) -> Self {
        let points = table.iter().map(|(percent, kelvin)| (percent / (100.0 - percent), *kelvin));
        Self { points: std::iter::once((0.0, 0.0)).chain(points).collect() }
    }

    /// K, straight between two rows, and straight on beyond the last.
    fn kelvin(&self, to_water: f64) -> f64 {
        let above =
            self.points.partition_point(|(known, _)| *known < to_water).clamp(1, self.points.len() - 1);
        let ((low, below), (high, over)) = (self.points[above - 1], self.points[above]);
        below + (over - below) * (to_water - low) / (high - low)
    }

    fn most(&self) -> f64 {
        self.points.last().map_or(0.0, |(most, _)| *most)
    }
}

/// By how much something lowers the freezing point of water.
#[derive(Debug)]
pub(super) struct Depression {
    curve: &'static Curve,
    /// Grams of it that count as one of the table's own.
    weight: f64,
}

macro_rules! curves {
    ($($name:ident $table:ident)*) => {$(
        static $name: LazyLock<Curve> = LazyLock::new(|| Curve::new(&$table));
    )*};
}

curves! {
    OF_ETHANOL ETHANOL
    OF_SUCROSE SUCROSE
    OF_GLUCOSE GLUCOSE
    OF_FRUCTOSE FRUCTOSE
    OF_CITRIC CITRIC
    OF_LACTIC LACTIC
    OF_PHOSPHORIC PHOSPHORIC
    OF_SALT SALT
}

impl Depression {
    pub(super) fn of_ethanol() -> Self {
        Self { curve: &OF_ETHANOL, weight: 1.0 }
    }

    /// Malic and tartaric acid are not in the handbook's table: mole for mole they count as citric, acetic as lactic.
    pub(super) fn of(solute: Solute) -> Self {
        let own = |curve| Self { curve, weight: 1.0 };
        let like = |other: Solute, curve| Self { curve, weight: other.molar_mass() / solute.molar_mass() };
        match solute {
            Solute::Sucrose => own(&OF_SUCROSE),
            Solute::Glucose => own(&OF_GLUCOSE),
            Solute::Fructose => own(&OF_FRUCTOSE),
            Solute::Citric => own(&OF_CITRIC),
            Solute::Malic | Solute::Tartaric => like(Solute::Citric, &OF_CITRIC),
            Solute::Lactic => own(&OF_LACTIC),
            Solute::Acetic => like(Solute::Lactic, &OF_LACTIC),
            Solute::Phosphoric => own(&OF_PHOSPHORIC),
            Solute::Salt => own(&OF_SALT),
        }
    }

    /// K, by grams of it to a gram of water.
    pub(super) fn kelvin(&self, to_water: f64) -> f64 {
        if to_water <= 0.0 { 0.0 } else { self.curve.kelvin(to_water * self.weight) }
    }

    /// Whether the handbook's table goes so far.
    pub(super) fn covers(&self, to_water: f64) -> bool {
        to_water * self.weight <= self.curve.most() * (1.0 + 1e-12)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// CRC Handbook, 102nd edition: each inner row from its neighbours alone, which says what lies between rows is as
    /// good. The widest step of ethanol is 2 % by mass, so a row left out makes one of 4.
    #[test]
    fn a_row_left_out_is_found_from_its_neighbours() {
        let tables: [(&str, &[(f64, f64)]); 8] = [
            ("ethanol", &ETHANOL),
            ("sucrose", &SUCROSE),
            ("glucose", &GLUCOSE),
            ("fructose", &FRUCTOSE),
            ("citric", &CITRIC),
            ("lactic", &LACTIC),
            ("phosphoric", &PHOSPHORIC),
            ("salt", &SALT),
        ];
        let mut compared = 0;
        for (name, table) in tables {
            for row in 1..table.len() - 1 {
                let mut others = table.to_vec();
                let (percent, published) = others.remove(row);
                let found = Curve::new(&others).kelvin(percent / (100.0 - percent));
                assert!((found - published).abs() <= 0.15, "{name} {percent}: {found} {published}");
                compared += 1;
            }
        }
        assert_eq!(compared, 152);
    }

    #[test]
    fn more_freezes_lower_beyond_the_table_too() {
        for solute in Solute::ALL {
            let depression = Depression::of(solute);
            let kelvin: Vec<f64> = (0..400).map(|step| depression.kelvin(f64::from(step) / 100.0)).collect();
            assert!(kelvin.windows(2).all(|pair| pair[0] < pair[1]), "{solute}");
            assert!(depression.covers(0.1) && !depression.covers(4.0), "{solute}");
        }
    }
}

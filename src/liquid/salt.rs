//! Table salt and water: density.

/// By how much salt raises the density of a solution in water at 20 °C, kg/m³, by its grams a litre.
///
/// # Model
/// `0.697 s − 0.0002 s²`, s in g/L, fitted by least squares; beyond [`MOST`] it goes on straight.
///
/// # Accuracy
/// 0.25 kg/m³ up to 256 g/L (22 g in 100 g); saturated brine is about 318 g/L.
///
/// # Source
/// `CoolProp` 8.0.0, incompressible fluid MNA (Melinder), at 20 °C.
pub(super) fn raises_by(grams_per_litre: f64) -> f64 {
    let known = grams_per_litre.min(MOST);
    let slope = LINEAR + 2.0 * SQUARE * known;
    known * (LINEAR + SQUARE * known) + slope * (grams_per_litre - known)
}

/// Most of the formula, g/L.
const MOST: f64 = 320.0;

/// kg/m³ for each g/L.
const LINEAR: f64 = 0.697;

/// kg/m³ for each (g/L)².
const SQUARE: f64 = -0.0002;

#[cfg(test)]
mod tests {
    use super::*;

    /// `CoolProp` 8.0.0, MNA, 20 °C: g/L, kg/m³ above water.
    const BRINE: [(f64, f64); 8] = [
        (5.01, 3.548),
        (10.05, 7.100),
        (20.25, 14.216),
        (51.70, 35.721),
        (107.06, 72.333),
        (166.27, 110.219),
        (203.74, 133.628),
        (256.05, 165.601),
    ];

    #[test]
    fn brine_weighs_what_was_published() {
        for (grams, published) in BRINE {
            assert!((raises_by(grams) - published).abs() < 0.25, "{grams}: {} {published}", raises_by(grams));
        }
    }

    #[test]
    fn beyond_saturation_it_goes_on_without_a_jump() {
        let step = raises_by(MOST + 1.0) - raises_by(MOST);
        assert!((step - (raises_by(MOST) - raises_by(MOST - 1.0))).abs() < 1e-3, "{step}");
    }
}

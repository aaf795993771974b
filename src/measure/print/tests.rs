use proptest::prelude::*;

use super::*;

fn oz(ounces: f64) -> String {
    in_unit(Volume::from_ounces(ounces).unwrap(), HouseUnit::Ounce).to_string()
}

fn ml(ml: f64) -> String {
    in_unit(Volume::new(ml).unwrap(), HouseUnit::Millilitre).to_string()
}

#[test]
fn ounces_are_fractions_where_a_jigger_has_them() {
    for (ounces, text) in [
        (0.0, "0 oz"),
        (0.25, "¼ oz"),
        (0.75, "¾ oz"),
        (1.5, "1½ oz"),
        (2.0, "2 oz"),
        (1.0 / 3.0, "⅓ oz"),
        (2.0 / 3.0, "⅔ oz"),
        (4.0 / 3.0, "1⅓ oz"),
        (0.125, "⅛ oz"),
        (2.375, "2⅜ oz"),
        (7.0 / 12.0, "¼ + ⅓ oz"),
        (5.0 / 6.0, "⅓ + ½ oz"),
        (13.0 / 12.0, "⅓ + ¾ oz"),
        (11.0 / 6.0, "⅓ + 1½ oz"),
        (7.0 / 3.0, "2⅓ oz"),
        (0.996, "1 oz"),
        (0.7409, "¾ oz"),
        (0.739, "0.74 oz"),
        (1.2, "1.2 oz"),
        (33.814, "33.81 oz"),
        (0.005, "0.01 oz"),
        (0.001, "under 0.01 oz"),
    ] {
        assert_eq!(oz(ounces), text, "{ounces}");
    }
}

#[test]
fn millilitres_are_whole_or_have_one_decimal() {
    for (millilitres, text) in [
        (0.0, "0 ml"),
        (45.0, "45 ml"),
        (44.96, "45 ml"),
        (45.04, "45 ml"),
        (ML_PER_OUNCE, "29.6 ml"),
        (22.5, "22.5 ml"),
        (0.8, "0.8 ml"),
        (0.05, "0.1 ml"),
        (0.04, "under 0.1 ml"),
        (10_000_000.0, "10000000 ml"),
    ] {
        assert_eq!(ml(millilitres), text, "{millilitres}");
    }
}

#[test]
fn amounts_are_shown_in_the_house_s_unit() {
    for (written, in_ounces, in_millilitres) in [
        ("1 1/2 oz", "1½ oz", "44.5 ml"),
        ("2 oz", "2 oz", "59 ml"),
        ("0.001 oz", "under 0.01 oz", "under 0.1 ml"),
        ("45 ml", "1.52 oz", "45 ml"),
        ("22.5 ml", "0.76 oz", "22.5 ml"),
        ("4.5 cl", "1.52 oz", "45 ml"),
        ("0.7 l", "23⅔ oz", "0.7 l"),
        ("2 dashes", "2 dashes", "2 dashes"),
        ("1/2 barspoon", "½ barspoon", "½ barspoon"),
        ("1 1/3 cups", "1⅓ cups", "1⅓ cups"),
        ("1/4 tsp", "¼ tsp", "¼ tsp"),
        ("12.5 g", "12.5 g", "12.5 g"),
        ("1 piece", "1", "1"),
        ("8 leaves", "8 leaves", "8 leaves"),
        ("top", "top", "top"),
        ("2 tops", "2 tops", "2 tops"),
        ("0.001 cup", "0.001 cup", "0.001 cup"),
        ("1.234 parts", "1.23 parts", "1.23 parts"),
    ] {
        let amount: Amount = written.parse().unwrap();
        assert_eq!(amount.shown(HouseUnit::Ounce).to_string(), in_ounces, "{written}");
        assert_eq!(amount.shown(HouseUnit::Millilitre).to_string(), in_millilitres, "{written}");
    }
}

#[test]
fn text_is_padded_as_a_table_asks() {
    assert_eq!(format!("[{:>7}]", in_unit(Volume::clamped(45.0), HouseUnit::Millilitre)), "[  45 ml]");
}

/// What a bartender would pour who reads the text: the sum of its parts.
fn poured(text: &str) -> f64 {
    let parts = text.strip_suffix(" oz").unwrap().split(" + ");
    parts.map(|part| format!("{part} oz").parse::<Amount>().unwrap().count()).sum()
}

proptest! {
    #[test]
    fn ounces_in_print_are_true_to_a_hundredth(ounces in 0.005..200.0_f64) {
        let text = oz(ounces);
        prop_assert!((poured(&text) - ounces).abs() <= 0.01 + 1e-9, "{ounces} became {text}");
    }

    #[test]
    fn millilitres_in_print_are_true_to_a_twentieth(millilitres in 0.05..10_000.0_f64) {
        let text = ml(millilitres);
        let read: Amount = text.parse().unwrap();
        prop_assert!((read.count() - millilitres).abs() <= 0.05 + 1e-9, "{millilitres} became {text}");
    }
}

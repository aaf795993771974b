use proptest::prelude::*;

use super::super::unit::ML_PER_OUNCE;
use super::*;

fn amount(count: f64, unit: Unit) -> Amount {
    Amount::new(count, unit).unwrap()
}

#[test]
fn a_line_starts_with_an_amount() {
    for (text, count, unit, name) in [
        ("45 ml gin", 45.0, Unit::Millilitre, "gin"),
        ("45ml gin", 45.0, Unit::Millilitre, "gin"),
        ("45 ml of gin", 45.0, Unit::Millilitre, "gin"),
        ("4,5 cl gin", 4.5, Unit::Centilitre, "gin"),
        ("1½ oz rye", 1.5, Unit::Ounce, "rye"),
        ("1 1/2oz rye", 1.5, Unit::Ounce, "rye"),
        ("1-1/2 fl. oz. rye", 1.5, Unit::Ounce, "rye"),
        (".75 oz lemon juice", 0.75, Unit::Ounce, "lemon juice"),
        ("2 dashes aromatic bitters", 2.0, Unit::Dash, "aromatic bitters"),
        ("a dash of aromatic bitters", 1.0, Unit::Dash, "aromatic bitters"),
        ("An ounce rye", 1.0, Unit::Ounce, "rye"),
        ("1 egg white", 1.0, Unit::Piece, "egg white"),
        ("3 mint leaves", 3.0, Unit::Piece, "mint leaves"),
        ("3 leaves mint", 3.0, Unit::Leaf, "mint"),
        ("1/2 lime", 0.5, Unit::Piece, "lime"),
        ("2 wedges lime", 2.0, Unit::Slice, "lime"),
        ("12 parsecs gin", 12.0, Unit::Piece, "parsecs gin"),
        ("top soda water", 1.0, Unit::Top, "soda water"),
        ("Top up with soda water", 1.0, Unit::Top, "soda water"),
        ("top", 1.0, Unit::Top, ""),
        ("  2   oz   crème de cacao ", 2.0, Unit::Ounce, "crème de cacao"),
        ("1 oz off-dry vermouth", 1.0, Unit::Ounce, "off-dry vermouth"),
        ("2 top-shelf rums", 2.0, Unit::Piece, "top-shelf rums"),
        ("1 oz", 1.0, Unit::Ounce, ""),
        ("1 oz of", 1.0, Unit::Ounce, "of"),
        ("1 oz 2:1 syrup", 1.0, Unit::Ounce, "2:1 syrup"),
        ("3 oranges", 3.0, Unit::Piece, "oranges"),
    ] {
        assert_eq!(Amount::split_from(text), Ok((amount(count, unit), name)), "{text}");
    }
}

#[test]
fn text_without_an_amount_says_why() {
    for (text, message) in [
        ("", "'' is not an amount: there is nothing"),
        ("oz", "'oz' is not an amount: it does not start with a number"),
        ("gin", "'gin' is not an amount: it does not start with a number"),
        ("a gin", "'a gin' is not an amount: it does not start with a number"),
        ("topping", "'topping' is not an amount: it does not start with a number"),
        ("NaN ml", "'NaN ml' is not an amount: it does not start with a number"),
        ("inf oz", "'inf oz' is not an amount: it does not start with a number"),
        ("-1 oz", "'-1 oz' is not an amount: a sign is not allowed, only a number above 0"),
        ("1/0 oz", "'1/0 oz' is not an amount: a fraction over 0 is no number"),
        ("1e400 oz", "'1e400 oz' is not an amount: what is stuck to the number is not a unit"),
        ("2nd rum", "'2nd rum' is not an amount: what is stuck to the number is not a unit"),
        ("1-2 dashes bitters", "'1-2 dashes bitters' is not an amount: the digits do not make one number"),
        ("1 - 2 dashes", "'1 - 2 dashes' is not an amount: the digits do not make one number"),
        ("1 to 2 dashes", "'1 to 2 dashes' is not an amount: the digits do not make one number"),
        ("2 3 oz", "'2 3 oz' is not an amount: the digits do not make one number"),
        ("45", "'45' is not an amount: a unit or a name is missing behind the number"),
        (
            "1,500 ml water",
            "'1,500 ml water' is not an amount: the comma may mean decimals or thousands: use a point for decimals, \
             nothing for thousands",
        ),
        (
            "2 shots espresso",
            "'2 shots espresso' is not an amount: 'shots' is not read, it has no one size: write oz or ml",
        ),
        (
            "0 oz gin",
            "'0 oz gin' is not an amount: 0 is outside 0.001 to 10,000 (less cannot be measured, more is not one line of a \
             spec)",
        ),
        ("oz\u{1b}[2J", r"'oz\u{1b}[2J' is not an amount: it does not start with a number"),
    ] {
        let fault = Amount::split_from(text).unwrap_err();
        let example = "; write a number and a unit, like '1 1/2 oz', '45 ml' or '2 dashes'";
        assert_eq!(fault.to_string(), format!("{message}{example}"), "{text}");
    }
}

#[test]
fn counts_outside_the_unit_s_range_are_refused() {
    for text in ["0.0001 oz gin", "10001 oz gin", "10000001 ml gin", "99999999 limes", "0 ml gin"] {
        let fault = Amount::split_from(text).unwrap_err();
        assert!(matches!(fault.why, AmountFault::Range(_)), "{fault}");
    }
    let huge = format!("{} oz", "9".repeat(400));
    assert!(matches!(Amount::split_from(&huge).unwrap_err().why, AmountFault::Range(_)));
    for count in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(Amount::new(count, Unit::Ounce).is_err(), "{count}");
    }
    assert!("10000000 ml".parse::<Amount>().is_ok());
}

#[test]
fn nothing_may_be_left_behind_a_whole_amount() {
    let fault = "45 ml gin".parse::<Amount>().unwrap_err();
    assert_eq!(fault.why, AmountFault::Leftover { rest: "gin".into() });
    assert!("3 limes".parse::<Amount>().is_err());
    assert_eq!(" 45 ml ".parse(), Ok(amount(45.0, Unit::Millilitre)));
}

#[test]
fn files_hold_plain_letters() {
    for (count, unit, text) in [
        (1.5, Unit::Ounce, "1 1/2 oz"),
        (0.75, Unit::Ounce, "3/4 oz"),
        (4.0 / 3.0, Unit::Cup, "1 1/3 cups"),
        (0.5, Unit::Cup, "1/2 cup"),
        (0.3, Unit::Ounce, "0.3 oz"),
        (7.5, Unit::Millilitre, "7.5 ml"),
        (2.0, Unit::Dash, "2 dashes"),
        (1.0, Unit::Dash, "1 dash"),
        (1.0, Unit::Piece, "1 piece"),
        (3.0, Unit::Leaf, "3 leaves"),
        (1.0, Unit::Top, "top"),
    ] {
        assert_eq!(amount(count, unit).to_string(), text);
        assert_eq!(ron::to_string(&amount(count, unit)).unwrap(), format!("\"{text}\""));
        assert_eq!(ron::from_str::<Amount>(&format!("\"{text}\"")).unwrap(), amount(count, unit));
    }
}

/// NIST Special Publication 430, Household Weights and Measures: 1 cup is 8 fluid ounces.
#[test]
fn a_quarter_cup_is_two_ounces() {
    let ml = |text: &str| text.parse::<Amount>().unwrap().volume(&Measures::default()).unwrap().ml();
    assert!((ml("1/4 cup") - ml("2 oz")).abs() < 1e-9);
    assert!((ml("2 tbsp") - ml("1 oz")).abs() < 1e-9);
    assert!((ml("3 tsp") - ml("1 tbsp")).abs() < 1e-9);
    assert!((ml("1 l") - ml("100 cl")).abs() < 1e-9);
}

#[test]
fn the_house_s_measures_are_used() {
    let heavy = Measures { dash: Volume::new(1.1).unwrap(), ..Measures::default() };
    let dashes = amount(3.0, Unit::Dash);
    assert!((dashes.volume(&heavy).unwrap().ml() - 3.3).abs() < 1e-12);
    assert!((dashes.volume(&Measures::default()).unwrap().ml() - 2.4).abs() < 1e-12);
    assert!((amount(1.0, Unit::Top).volume(&heavy).unwrap().ml() - 4.0 * ML_PER_OUNCE).abs() < 1e-9);
}

#[test]
fn only_volumes_have_a_volume_and_only_grams_a_mass() {
    for unit in Unit::ALL {
        let one = amount(1.0, unit);
        let is_count = matches!(unit, Unit::Leaf | Unit::Sprig | Unit::Slice | Unit::Piece | Unit::Pinch);
        assert_eq!(one.volume(&Measures::default()).is_none(), is_count || unit == Unit::Gram, "{unit}");
        assert_eq!(one.mass().is_some(), unit == Unit::Gram, "{unit}");
    }
}

fn any_count(most: f64) -> impl Strategy<Value = f64> {
    let twenty_fourths = (1..2400_u16).prop_map(|n| f64::from(n) / 24.0);
    prop_oneof![twenty_fourths, (1..100_u8).prop_map(f64::from), 0.001..10.0_f64, 0.001..most]
}

fn any_amount() -> impl Strategy<Value = Amount> {
    proptest::sample::select(&Unit::ALL[..]).prop_flat_map(|unit| {
        any_count(Amount::range(unit).most).prop_map(move |count| Amount::new(count, unit).unwrap())
    })
}

proptest! {
    #[test]
    fn what_is_printed_is_read_back_to_the_last_bit(amount in any_amount()) {
        prop_assert_eq!(amount.to_string().parse(), Ok(amount));
        prop_assert!(amount.to_string().is_ascii());
    }

    #[test]
    fn a_name_behind_an_amount_is_kept(amount in any_amount(), name in "[b-nq-z][a-z]{3,9}( [a-z]{1,9})?") {
        prop_assume!(!["with ", "of "].iter().any(|join| name.starts_with(join)));
        let line = format!("{amount} {name}");
        prop_assert_eq!(Amount::split_from(&line), Ok((amount, name.as_str())));
    }

    #[test]
    fn no_text_makes_reading_fall_over(text in "\\PC*|[-−0-9 .,/½⅓a-z]{0,16}|.{0,20}") {
        match Amount::split_from(&text) {
            Ok((amount, rest)) => {
                prop_assert!(text.trim().ends_with(rest));
                prop_assert!(Amount::range(amount.unit()).check(amount.count()).is_ok());
            }
            Err(fault) => prop_assert!(!fault.to_string().contains(char::is_control)),
        }
    }
}

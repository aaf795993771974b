use proptest::prelude::*;

use super::*;

fn pounds(text: &str) -> Money {
    format!("{text} GBP").parse().unwrap()
}

#[test]
fn a_sum_is_read_either_way_round() {
    for (text, ten_thousandths) in [
        ("4.50 GBP", 45_000),
        ("GBP 4.50", 45_000),
        ("gbp4.5", 45_000),
        ("4,50 GBP", 45_000),
        ("0,125 GBP", 1_250),
        ("4.0001 GBP", 40_001),
        ("-4.50 GBP", -45_000),
        ("GBP −4.50", -45_000),
        (".5 GBP", 5_000),
        ("4. GBP", 40_000),
        ("4 GBP", 40_000),
        ("-0 GBP", 0),
    ] {
        let money: Money = text.parse().unwrap();
        assert_eq!((money.ten_thousandths(), money.currency().code()), (ten_thousandths, "GBP"), "{text}");
    }
}

#[test]
fn what_is_no_sum_says_why() {
    for (text, message) in [
        (
            "",
            "'' is not a sum of money: the three letters of the currency are missing; write it like '4.50 GBP'",
        ),
        (
            "4.50",
            "'4.50' is not a sum of money: the three letters of the currency are missing; write it like '4.50 GBP'",
        ),
        (
            "£4",
            "'£4' is not a sum of money: the three letters of the currency are missing; write it like '4.50 GBP'",
        ),
        (
            "GBP",
            "'GBP' is not a sum of money: there is no plain number beside the currency; write it like '4.50 GBP'",
        ),
        (
            "1.2.3 GBP",
            "'1.2.3 GBP' is not a sum of money: there is no plain number beside the currency; write it like '4.50 GBP'",
        ),
        (
            "1,500 GBP",
            "'1,500 GBP' is not a sum of money: the comma may mean decimals or thousands: use a point for decimals, \
             nothing for thousands; write it like '4.50 GBP'",
        ),
        (
            "0.12345 GBP",
            "'0.12345 GBP' is not a sum of money: at most four decimals are kept; write it like '4.50 GBP'",
        ),
    ] {
        assert_eq!(text.parse::<Money>().unwrap_err().to_string(), message, "{text}");
    }
    for text in ["GBP 4 EUR", "NaN GBP", "1e3 GBP", "--4 GBP", "4 50 GBP", "4..5 GBP"] {
        assert!(text.parse::<Money>().is_err(), "{text}");
    }
    let too_much = format!("1{} GBP", "0".repeat(50)).parse::<Money>().unwrap_err();
    assert!(matches!(too_much.why, NotMoneyFault::Range(_)), "{too_much}");
    assert_eq!(
        "-200000000000 GBP".parse::<Money>().unwrap_err().to_string(),
        "'-200000000000 GBP' is not a sum of money: -200,000,000,000 is outside -100,000,000,000 to 100,000,000,000 (a hundred \
         thousand million is more than any bar turns over, in any currency); write it like '4.50 GBP'"
    );
    assert!(pounds("100000000000").plus(pounds("0.0001")).is_err());
}

#[test]
fn printing_has_the_currency_s_decimals_and_loses_none() {
    for (text, printed) in [
        ("4.5 GBP", "4.50 GBP"),
        ("4.1234 GBP", "4.1234 GBP"),
        ("-0.0001 GBP", "-0.0001 GBP"),
        ("1500 JPY", "1500 JPY"),
        ("1500.5 JPY", "1500.5 JPY"),
        ("1.5 KWD", "1.500 KWD"),
    ] {
        assert_eq!(text.parse::<Money>().unwrap().to_string(), printed);
    }
}

#[test]
fn halves_go_to_the_even_one() {
    for (text, rounded) in [
        ("0.005", "0.00"),
        ("0.015", "0.02"),
        ("0.025", "0.02"),
        ("0.0251", "0.03"),
        ("-0.005", "0.00"),
        ("-0.015", "-0.02"),
        ("-0.025", "-0.02"),
    ] {
        assert_eq!(pounds(text).rounded(), pounds(rounded), "{text}");
    }
    assert_eq!(pounds("0.0001").times_ratio(1, 2), Ok(pounds("0")));
    assert_eq!(pounds("0.0003").times_ratio(1, 2), Ok(pounds("0.0002")));
    assert_eq!(pounds("0.0003").times_ratio(1, -2), Ok(pounds("-0.0002")));
    assert_eq!(pounds("1").times_ratio(1, 3), Ok(pounds("0.3333")));
    assert_eq!(pounds("1").times_ratio(1, 0), Err(MoneyFault::OverZero));
}

#[test]
fn two_currencies_do_not_add_up_and_have_no_order() {
    let (pound, euro) = (pounds("1"), "1 EUR".parse::<Money>().unwrap());
    let fault = pound.plus(euro).unwrap_err();
    assert_eq!(fault.to_string(), "GBP and EUR cannot be added up: give both sums in one currency");
    assert!(pound.minus(euro).is_err());
    assert_eq!(pound.partial_cmp(&euro), None);
    assert!(pound < pounds("1.01"));
}

#[test]
fn a_share_of_a_bottle_is_its_part_of_the_price() {
    let ml = |ml| Volume::new(ml).unwrap();
    assert_eq!(pounds("24.50").share(ml(50.0), ml(700.0)), Ok(pounds("1.75")));
    assert_eq!(pounds("24.50").share(ml(700.0), ml(700.0)), Ok(pounds("24.50")));
    assert_eq!(pounds("24.50").share(ml(50.0), Volume::ZERO), Err(MoneyFault::OverZero));
}

prop_compose! {
    fn any_money()(tenths in -1_000_000_000_000_000..=1_000_000_000_000_000_i64, code in "[A-Z]{3}") -> Money {
        Money::new(tenths, code.parse().unwrap()).unwrap()
    }
}

proptest! {
    #[test]
    fn what_is_printed_is_read_back(money in any_money()) {
        prop_assert_eq!(money.to_string().parse(), Ok(money));
        let written = ron::to_string(&money).unwrap();
        prop_assert_eq!(ron::from_str::<Money>(&written).unwrap(), money);
    }

    #[test]
    fn taking_away_undoes_adding(a in -1_000_000_000_000_i64..1_000_000_000_000, b in -1_000_000_000_000_i64..1_000_000_000_000) {
        let money = |tenths| Money::new(tenths, "GBP".parse().unwrap()).unwrap();
        prop_assert_eq!(money(a).plus(money(b)).unwrap().minus(money(b)), Ok(money(a)));
    }

    #[test]
    fn times_is_adding_so_often(a in -1_000_000_i64..1_000_000, count in 0..20_i64) {
        let money = |tenths| Money::new(tenths, "GBP".parse().unwrap()).unwrap();
        let added = (0..count).fold(money(0), |sum, _| sum.plus(money(a)).unwrap());
        prop_assert_eq!(money(a).times(count), Ok(added));
    }

    /// The rounded quotient is never further than half a step from the exact one.
    #[test]
    fn a_ratio_is_off_by_half_a_step_at_most(a in -1_000_000_000_i64..1_000_000_000, above in -1000..1000_i64, below in 1..1000_i64) {
        let got = Money::new(a, "GBP".parse().unwrap()).unwrap().times_ratio(above, below).unwrap();
        let error = i128::from(got.ten_thousandths()) * i128::from(below) - i128::from(a) * i128::from(above);
        prop_assert!(2 * error.abs() <= i128::from(below));
    }

    #[test]
    fn no_text_makes_reading_fall_over(text in "\\PC*|[-−0-9.,A-Z ]{0,12}") {
        if let Err(fault) = text.parse::<Money>() {
            prop_assert!(!fault.to_string().contains(char::is_control));
        }
    }
}

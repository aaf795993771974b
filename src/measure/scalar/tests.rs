use proptest::prelude::*;

use super::*;

macro_rules! every_scalar {
    ($($name:ident $unit:ident $law:ident),* $(,)?) => {
        #[test]
        fn the_ends_of_the_range_are_inside_and_what_is_beyond_is_not() {
            $(
                let Range { least, most, .. } = *$name::RANGE;
                assert!($name::new(least).is_ok() && $name::new(most).is_ok());
                for beyond in [least.next_down(), most.next_up(), f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
                    assert!($name::new(beyond).is_err(), "{} {beyond}", stringify!($name));
                }
                assert_eq!($name::clamped(f64::NAN), $name::new(least).unwrap());
                assert_eq!($name::clamped(f64::INFINITY), $name::new(most).unwrap());
                assert_eq!($name::clamped(f64::NEG_INFINITY), $name::new(least).unwrap());
            )*
        }

        proptest! {
            $(
                /// What is printed is read back to the last bit, on the screen and in a file.
                #[test]
                fn $law(part in 0.0..=1.0_f64) {
                    let Range { least, most, .. } = *$name::RANGE;
                    let value = $name::clamped(least + part * (most - least));
                    prop_assert_eq!(value.to_string().parse(), Ok(value));
                    prop_assert_eq!(ron::from_str::<$name>(&ron::to_string(&value).unwrap()).unwrap(), value);
                    prop_assert_eq!($name::new(value.$unit()), Ok(value));
                }
            )*
        }
    };
}

every_scalar! {
    Volume ml a_volume_is_read_back,
    Mass grams a_mass_is_read_back,
    Strength percent_vol a_strength_is_read_back,
    Concentration grams_per_litre a_concentration_is_read_back,
    Temperature celsius a_temperature_is_read_back,
    Pressure bar a_pressure_is_read_back,
    Brix degrees a_brix_is_read_back,
    MassShare in_100_g a_share_by_mass_is_read_back,
    Grade value a_grade_is_read_back,
    Affinity value an_affinity_is_read_back,
    Bitterness points a_bitterness_is_read_back,
}

#[test]
fn printing_rounds_only_when_asked() {
    assert_eq!(Strength::new(22.36).unwrap().to_string(), "22.36 % vol");
    assert_eq!(format!("{:.1}", Strength::new(22.36).unwrap()), "22.4 % vol");
    assert_eq!(format!("{:.1}", Temperature::new(-0.04).unwrap()), "0.0 °C");
    assert_eq!(format!("{:.0}", Temperature::new(-5.6).unwrap()), "-6 °C");
    assert_eq!(format!("{:.2}", Grade::new(0.5).unwrap()), "0.50");
    assert_eq!(format!("{:.0}", Concentration::new(612.4).unwrap()), "612 g/L");
}

#[test]
fn volumes_and_masses_add_up_to_the_end_of_the_range() {
    let three: Volume = [1.0, 2.5, 4.0].map(Volume::clamped).into_iter().sum();
    assert_eq!(three, Volume::clamped(7.5));
    assert_eq!(Volume::clamped(f64::INFINITY) + three, Volume::new(Volume::RANGE.most).unwrap());
    assert_eq!(Mass::clamped(2.0) + Mass::clamped(3.0), Mass::clamped(5.0));
    assert_eq!(std::iter::empty::<Mass>().sum::<Mass>(), Mass::ZERO);
}

#[test]
fn a_file_with_a_number_outside_is_refused_in_words() {
    let message = ron::from_str::<Strength>("120").unwrap_err().to_string();
    assert!(message.contains("120 % vol is not a strength: allowed is 0 to 100 % vol"), "{message}");
}

proptest! {
    #[test]
    fn ounces_and_millilitres_agree(oz in 0.0..1000.0_f64) {
        let volume = Volume::from_ounces(oz).unwrap();
        prop_assert!((volume.ounces() - oz).abs() < 1e-9);
    }

    #[test]
    fn no_text_makes_reading_fall_over(text in "\\PC*|[-−0-9 .,/½%°a-z]{0,12}") {
        for message in [text.parse::<Volume>().err(), text.parse::<Temperature>().err()].into_iter().flatten() {
            prop_assert!(!message.to_string().contains(char::is_control));
        }
    }
}

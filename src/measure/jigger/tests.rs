use proptest::prelude::*;

use super::*;

fn ml(ml: f64) -> Volume {
    Volume::new(ml).unwrap()
}

fn oz(ounces: f64) -> Volume {
    Volume::from_ounces(ounces).unwrap()
}

#[test]
fn a_house_s_unit_is_read_and_written() {
    for unit in [HouseUnit::Ounce, HouseUnit::Millilitre] {
        assert_eq!(unit.to_string().parse(), Ok(unit));
        assert_eq!(serde_json::to_string(&unit).unwrap(), format!("\"{unit}\""));
    }
    assert_eq!("ML".parse(), Ok(HouseUnit::Millilitre));
    assert_eq!(
        "cl".parse::<HouseUnit>().unwrap_err().to_string(),
        "'cl' is not a unit a house works in: write oz or ml"
    );
    assert_eq!(HouseUnit::default(), HouseUnit::Ounce);
}

#[test]
fn millilitres_are_poured_in_fives_up_to_two_full_jiggers() {
    let pours = Jigger::millilitres().pourable(Volume::ZERO, ml(1000.0));
    assert_eq!(pours.len(), 25);
    for (step, pour) in pours.iter().enumerate() {
        let expected = step as f64 * 5.0;
        assert_eq!(pour.volume, ml(expected));
        assert_eq!(
            pour.marks,
            if step == 0 {
                0
            } else if expected <= 60.0 {
                1
            } else {
                2
            },
            "{expected}"
        );
    }
}

#[test]
fn ounces_are_poured_by_one_mark_or_two() {
    let jigger = Jigger::ounces();
    for (ounces, marks) in [
        (0.0, 0),
        (0.25, 1),
        (0.5, 1),
        (7.0 / 12.0, 2),
        (2.0 / 3.0, 2),
        (1.25, 2),
        (2.0, 1),
        (3.5, 2),
        (4.0, 2),
    ] {
        assert!(jigger.is_pourable(oz(ounces)), "{ounces}");
        let nearest = jigger.nearest(oz(ounces));
        assert_eq!(nearest.marks, marks, "{ounces}");
    }
    for ounces in [0.125, 0.3, 0.9, 3.25, 4.25, 5.0] {
        assert!(!jigger.is_pourable(oz(ounces)), "{ounces}");
    }
}

#[test]
fn bounds_are_inclusive() {
    let jigger = Jigger::ounces();
    let pours = jigger.pourable(oz(0.5), oz(1.0));
    let ounces: Vec<String> = pours.iter().map(|pour| format!("{:.3}", pour.volume.ounces())).collect();
    assert_eq!(ounces, ["0.500", "0.583", "0.667", "0.750", "0.833", "1.000"]);
    assert_eq!(jigger.pourable(ml(14.786_765), ml(14.786_765)).len(), 1, "½ oz within a millionth of a ml");
    assert!(jigger.pourable(ml(14.786_767), ml(14.786_767)).is_empty(), "½ oz by two millionths");
    assert!(jigger.pourable(oz(1.0), oz(0.5)).is_empty());
    assert!(jigger.pourable(oz(5.0), oz(9.0)).is_empty());
}

#[test]
fn the_nearest_of_two_is_the_smaller() {
    let jigger = Jigger::millilitres();
    assert_eq!(jigger.nearest(ml(22.5)), Pour { volume: ml(20.0), marks: 1 });
    assert_eq!(jigger.nearest(ml(22.6)), Pour { volume: ml(25.0), marks: 1 });
    assert_eq!(jigger.nearest(ml(1.0)), Pour { volume: Volume::ZERO, marks: 0 });
    assert_eq!(jigger.nearest(ml(5000.0)), Pour { volume: ml(120.0), marks: 2 });
}

#[test]
fn impossible_jiggers_are_refused() {
    let with =
        |marks: &[f64]| Jigger::with_marks(HouseUnit::Millilitre, marks.iter().copied().map(ml).collect());
    assert_eq!(with(&[]), Err(NotAJigger::NoMarks));
    assert_eq!(with(&[10.0, 0.0]), Err(NotAJigger::Mark { found: ml(0.0) }));
    assert_eq!(with(&[10.0, 501.0]), Err(NotAJigger::Mark { found: ml(501.0) }));
    assert_eq!(with(&[10.0, 20.0, 10.0]), Err(NotAJigger::Twice { found: ml(10.0) }));
    let many: Vec<f64> = (1..=49_u8).map(f64::from).collect();
    assert_eq!(with(&many), Err(NotAJigger::TooMany { found: 49 }));
    let message = with(&[501.0]).unwrap_err().to_string();
    assert_eq!(message, "a mark at 501 ml is not possible: above 0 to 500 ml is allowed");
    assert_eq!(with(&[20.0, 10.0]).unwrap().marks(), [ml(10.0), ml(20.0)]);
}

prop_compose! {
    fn any_jigger()(marks in proptest::collection::btree_set(1..=40_u16, 1..10)) -> Jigger {
        let marks = marks.into_iter().map(|step| ml(f64::from(step) * 2.5)).collect();
        Jigger::with_marks(HouseUnit::Millilitre, marks).unwrap()
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "volumes here are 0 to 200 ml")]
fn steps_in(volume: Volume) -> u16 {
    (volume.ml() / 2.5).round() as u16
}

proptest! {
    /// Against the plainest way to find them.
    #[test]
    fn pours_are_all_sums_of_at_most_two_marks(jigger in any_jigger(), least in 0..80_u16, span in 0..80_u16) {
        let steps: Vec<u16> = jigger.marks().iter().map(|mark| steps_in(*mark)).collect();
        let most = least + span;
        let expected: Vec<(u16, u8)> = (least..=most)
            .filter_map(|step| {
                let is_pair = steps.iter().any(|one| steps.iter().any(|two| one + two == step));
                let marks = if step == 0 { 0 } else if steps.contains(&step) { 1 } else { 2 };
                (marks < 2 || is_pair).then_some((step, marks))
            })
            .collect();
        let pours = jigger.pourable(ml(f64::from(least) * 2.5), ml(f64::from(most) * 2.5));
        let found: Vec<(u16, u8)> =
            pours.iter().map(|pour| (steps_in(pour.volume), pour.marks)).collect();
        prop_assert_eq!(found, expected);
    }

    #[test]
    fn nothing_pourable_is_nearer_than_the_nearest(jigger in any_jigger(), target in 0.0..250.0_f64) {
        let nearest = jigger.nearest(ml(target));
        let distance = (nearest.volume.ml() - target).abs();
        for pour in jigger.pourable(Volume::ZERO, ml(1000.0)) {
            prop_assert!((pour.volume.ml() - target).abs() >= distance);
        }
        prop_assert!(jigger.is_pourable(nearest.volume));
    }
}

use proptest::prelude::*;

use super::*;
use crate::service::vessel::VesselKind;

fn vessel(ml: f64, at_hand: Option<u32>) -> Vessel {
    Vessel { kind: VesselKind::Bottle, holds: Volume::clamped(ml), at_hand }
}

fn counts(packing: &Packing) -> Vec<(f64, u32)> {
    packing.filled.iter().map(|f| (f.vessel.holds.ml(), f.count)).collect()
}

#[test]
fn the_least_room_is_left_and_of_those_the_fewest_containers() {
    let packing = pack(Volume::clamped(2400.0), &[vessel(700.0, None), vessel(500.0, None)], 1.0).unwrap();
    assert_eq!(counts(&packing), [(700.0, 2), (500.0, 2)]);
    assert!(packing.left_over.ml() < 1e-6);
    let packing = pack(Volume::clamped(2000.0), &[vessel(1000.0, None), vessel(500.0, None)], 1.0).unwrap();
    assert_eq!(counts(&packing), [(1000.0, 2)]);
}

/// Fifty serves of 4 US fl oz are 200 fl oz; a 750 ml bottle filled to the brim holds 25.36 fl oz, so 7.89 bottles: 8.
/// By hand from NIST Special Publication 430's 29.57 ml to the fluid ounce.
#[test]
fn ounces_into_bottles_by_hand() {
    let volume = Volume::from_ounces(200.0).unwrap();
    let packing = pack(volume, &[vessel(750.0, None)], 1.0).unwrap();
    assert_eq!(counts(&packing), [(750.0, 8)]);
    assert!((packing.left_over.ml() - (6000.0 - 200.0 * 29.573_529_562_5)).abs() < 1e-6);
    let last = packing.filled[0].last.unwrap();
    assert!((last.ml() - (750.0 - packing.left_over.ml())).abs() < 1e-6);
}

#[test]
fn what_is_not_at_hand_is_told() {
    let found = pack(Volume::clamped(3000.0), &[vessel(700.0, Some(4))], 0.98);
    assert!(matches!(found, Err(ServiceError::NoRoom { .. })), "{found:?}");
    let found = pack(Volume::clamped(9e6), &[vessel(20.0, None)], 0.98);
    assert!(matches!(found, Err(ServiceError::TooManyContainers { .. })), "{found:?}");
    let sizes: Vec<Vessel> = (1..=9).map(|n| vessel(100.0 * f64::from(n), None)).collect();
    assert!(matches!(pack(Volume::clamped(900.0), &sizes, 1.0), Err(ServiceError::TooManySizes { .. })));
}

/// The least sum and the fewest containers, by trying everything.
fn naive(units: &[usize], at_hand: &[Option<u32>], wanted: usize) -> Option<(usize, u32)> {
    fn go(
        units: &[usize],
        at_hand: &[Option<u32>],
        rest: i64,
        sum: usize,
        count: u32,
    ) -> Option<(usize, u32)> {
        let Some((unit, others)) = units.split_first() else { return (rest <= 0).then_some((sum, count)) };
        let enough = u32::try_from(rest.max(0).unsigned_abs().div_ceil(*unit as u64)).unwrap();
        let most = at_hand[0].unwrap_or(u32::MAX).min(enough);
        let tried = (0..=most).filter_map(|n| {
            let taken = unit * n as usize;
            go(others, &at_hand[1..], rest - i64::try_from(taken).unwrap(), sum + taken, count + n)
        });
        tried.min()
    }
    go(units, at_hand, i64::try_from(wanted).unwrap(), 0, 0)
}

proptest! {
    #[test]
    fn as_good_as_trying_everything(
        sizes in prop::collection::btree_map(1_u32..12, prop::option::of(1_u32..5), 1..4),
        wanted in 1_u32..60,
    ) {
        let vessels: Vec<Vessel> = sizes.iter().map(|(n, hand)| vessel(100.0 * f64::from(*n), *hand)).collect();
        let units: Vec<usize> = sizes.keys().map(|n| *n as usize).collect();
        let at_hand: Vec<Option<u32>> = sizes.values().copied().collect();
        let best = naive(&units, &at_hand, wanted as usize);
        let found = pack(Volume::clamped(100.0 * f64::from(wanted)), &vessels, 1.0);
        match (best, found) {
            (None, Err(ServiceError::NoRoom { .. })) => {}
            (Some((sum, count)), Ok(packing)) => {
                prop_assert!((packing.room().ml() - 100.0 * sum as f64).abs() < 1e-6, "{packing:?} {sum}");
                prop_assert_eq!(packing.count(), count);
            }
            (best, found) => prop_assert!(false, "{best:?} {found:?}"),
        }
    }

    /// Never short, never over the fill line, never more of a size than there is.
    #[test]
    fn a_packing_holds_the_batch_and_no_more_than_its_lines(
        ml in 30.0_f64..1.2e6,
        sizes in prop::collection::vec((20.0_f64..2000.0, prop::option::of(1_u32..400)), 1..4),
        fill in 0.85_f64..0.99,
    ) {
        let vessels: Vec<Vessel> = sizes.iter().map(|(ml, hand)| vessel(*ml, *hand)).collect();
        match pack(Volume::clamped(ml), &vessels, fill) {
            Ok(packing) => {
                let mut held = 0.0;
                for filled in &packing.filled {
                    prop_assert!(filled.line.ml() <= filled.vessel.holds.ml() * fill + 1e-9);
                    let last = filled.last.unwrap_or(filled.line);
                    prop_assert!(last.ml() >= -1e-6 && last <= filled.line);
                    prop_assert!(filled.vessel.at_hand.is_none_or(|most| filled.count <= most));
                    held += filled.line.ml() * f64::from(filled.count - 1) + last.ml();
                }
                prop_assert!((held - ml).abs() <= 0.51, "{held} for {ml}: {packing:?}");
                prop_assert!((packing.room().ml() - ml - packing.left_over.ml()).abs() < 0.51);
            }
            Err(ServiceError::NoRoom { room, .. }) => prop_assert!(room.ml() < ml),
            Err(ServiceError::TooManyContainers { .. }) => prop_assert!(ml / 20.0 > 20_000.0),
            Err(other) => prop_assert!(false, "{other}"),
        }
    }
}

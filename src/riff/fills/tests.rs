use proptest::prelude::*;

use super::*;

fn choices(count: usize) -> impl Strategy<Value = Vec<Choice>> {
    let choice = (0.0..0.8_f64, 0.0..1.0_f64, 0.0..0.6_f64, 0.35..0.95_f64, -0.04..0.04_f64, 0..12_u8)
        .prop_map(|(weight, affinity, beside, likeness, season, special)| Choice {
            weight,
            carried: if special == 0 { f64::NEG_INFINITY } else { affinity * beside * weight },
            beside: beside * weight,
            likeness: Some(likeness),
            season,
        });
    (proptest::collection::vec(choice, 1..=count), any::<bool>()).prop_map(|(mut choices, has_own)| {
        if has_own && choices[0].carried > f64::NEG_INFINITY {
            choices[0].likeness = None;
        }
        choices
    })
}

/// A drink with up to four open lines.
fn open() -> impl Strategy<Value = Open> {
    let lines = proptest::collection::vec(choices(6), 1..=4);
    (lines, 0.0..0.5_f64, 0.0..1.0_f64, -0.4..0.1_f64).prop_flat_map(|(lines, beside, affinity, constant)| {
        let sizes: Vec<usize> = (0..lines.len())
            .flat_map(|a| (a + 1..lines.len()).map(move |b| (a, b)))
            .map(|(a, b)| lines[a].len() * lines[b].len())
            .collect();
        let affinity_of_two = prop_oneof![
            1 => Just(f64::NEG_INFINITY),
            3 => Just(0.35),
            8 => 0.1..1.0_f64,
        ];
        let total: usize = sizes.iter().sum();
        proptest::collection::vec(affinity_of_two, total).prop_map(move |all| {
            let mut rest = all.as_slice();
            let affinities = sizes
                .iter()
                .map(|size| {
                    let (own, later) = rest.split_at(*size);
                    rest = later;
                    own.to_vec()
                })
                .collect();
            Open { carried: affinity * beside, beside, constant, lines: lines.clone(), affinities }
        })
    })
}

/// Every fill that may stand, best first.
fn all(drinks: &[Open]) -> Vec<Fill> {
    let mut fills = Vec::new();
    for (drink, open) in drinks.iter().enumerate() {
        let mut picks = vec![0; open.lines.len()];
        'all: loop {
            let most = open.score(&picks);
            if most > f64::NEG_INFINITY {
                fills.push(Fill { most, drink, picks: picks.clone() });
            }
            for (pick, line) in picks.iter_mut().zip(&open.lines) {
                *pick += 1;
                if *pick < line.len() {
                    continue 'all;
                }
                *pick = 0;
            }
            break;
        }
    }
    fills.sort_by(|a, b| {
        b.most.total_cmp(&a.most).then_with(|| (a.drink, &a.picks).cmp(&(b.drink, &b.picks)))
    });
    fills
}

fn unasked(drinks: &[Open], fill: &Fill) -> usize {
    let lines = &drinks[fill.drink].lines;
    lines.iter().zip(&fill.picks).filter(|(line, pick)| line[**pick].likeness.is_some()).count()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn the_best_are_those_of_going_through_all(
        drinks in proptest::collection::vec(open(), 1..=3),
        count in 1..20_usize,
        most_unasked in prop_oneof![Just(usize::MAX), 0..3_usize],
        passed_over in 0..4_usize,
    ) {
        let allowed = |_: usize, picks: &[usize]| passed_over == 0 || picks.iter().sum::<usize>() % 4 != passed_over;
        let (found, looked) = best(&drinks, &Wanted { count, unasked: most_unasked, allowed: &allowed });
        let expected: Vec<Fill> = all(&drinks)
            .into_iter()
            .filter(|f| unasked(&drinks, f) <= most_unasked && allowed(f.drink, &f.picks))
            .take(count)
            .collect();
        prop_assert_eq!(found.len(), expected.len());
        for (found, expected) in found.iter().zip(&expected) {
            prop_assert!((found.most - expected.most).abs() < 1e-9, "{:?} {:?}", found, expected);
            prop_assert!((drinks[found.drink].score(&found.picks) - found.most).abs() < 1e-9);
        }
        prop_assert!(looked <= drinks.iter().map(Open::combinations).sum::<u64>());
    }
}

/// Bounds leave out most of a big drink, and what they leave is still the best.
#[test]
fn most_of_many_combinations_are_not_looked_at() {
    let lines: Vec<Vec<Choice>> = (0..3_u32)
        .map(|line| {
            (0..60_u32)
                .map(|at| {
                    let spread = f64::from((at * 37 + line * 11) % 60) / 60.0;
                    Choice {
                        weight: 0.3,
                        carried: 0.09 * spread,
                        beside: 0.09,
                        likeness: (at > 0).then_some(0.35 + 0.5 * spread),
                        season: 0.0,
                    }
                })
                .collect()
        })
        .collect();
    let pairs =
        |a: u32| (0..3600_u32).map(move |at| f64::from((at * 7919 + a * 31) % 1000) / 1000.0).collect();
    let open =
        Open { carried: 0.05, beside: 0.1, constant: 0.0, lines, affinities: (0..3).map(pairs).collect() };
    let (found, looked) =
        best(std::slice::from_ref(&open), &Wanted { count: 10, unasked: usize::MAX, allowed: &|_, _| true });
    let expected = all(std::slice::from_ref(&open));
    let picks = |fills: &[Fill]| fills.iter().map(|f| f.picks.clone()).collect::<Vec<_>>();
    assert_eq!(picks(&found), picks(&expected[..10]));
    assert!(looked < 216_000 / 4, "{looked}");
}

//! Chance has names: the same seed draws the same tape, and a change shifts no neighbour.

use scullery_engine::demand::*;
use scullery_engine::dist::Dist;
use scullery_engine::streams::Root;
use scullery_engine::tape::Diner;
use scullery_engine::time::SimTime;

use super::chance::{H, drawn, per_hour};
use crate::hand::*;

/// A demand in which everything is drawn.
fn rich() -> Demand {
    let mut demand = per_hour(&[11.0, 12.0, 13.0], &[60.0, 40.0], How::Poisson);
    demand.days = Days::Vary { cv: 0.1 };
    demand.find_seat_min = Dist::Exponential { mean: 2.0 };
    demand.eating_min = vec![(
        at(0.0),
        Dist::Gamma {
            mean: 20.0,
            cv: 0.35,
        },
    )];
    demand.kinds[0].pieces = vec![1.5, 0.5, 2.2];
    demand.kinds[0].sits = true;
    demand.kinds.push(Kind {
        name: "coffee".into(),
        pieces: vec![0.0, 1.3, 0.4],
        share: vec![(at(0.0), 0.3)],
        ..demand.kinds[0].clone()
    });
    demand.patience_people = Some(Dist::Uniform {
        min: 5.0,
        max: 20.0,
    });
    demand.work_factor = Dist::Lognormal { mean: 1.0, cv: 0.3 };
    demand.waste_kg = Dist::Gamma { mean: 0.1, cv: 0.8 };
    demand
}

#[test]
fn the_same_seed_and_repeat_draw_the_same_tape_on_fresh_or_used_storage() {
    let demand = rich();
    let fresh = drawn(&demand, 5, 3);
    let mut used = drawn(&per_hour(&[0.0, 1.0], &[3000.0], How::Poisson), 1, 1);
    used.draw(&demand, 5, 3);
    assert_eq!(fresh.diners(), used.diners());
    assert_eq!(fresh.served(), used.served());
    assert_eq!(fresh.coming(), used.coming());
    assert_eq!(fresh.root(), used.root());
}

#[test]
fn no_two_of_two_hundred_meals_are_equal() {
    // Seeds 1 and 2, a hundred repeats each: a rule such as seed x repeat would fail.
    let demand = rich();
    let mut seen: Vec<Vec<u64>> = Vec::new();
    let mut roots: Vec<Root> = Vec::new();
    for seed in [1, 2] {
        for repeat in 0..100 {
            let tape = drawn(&demand, seed, repeat);
            seen.push(tape.diners().iter().map(|d| d.comes.us()).collect());
            assert!(!roots.contains(&tape.root()));
            roots.push(tape.root());
        }
    }
    seen.sort_unstable();
    assert!(seen.windows(2).all(|pair| pair[0] != pair[1]));
}

#[test]
fn changing_one_parameter_shifts_no_neighbour() {
    type Of = fn(&Diner) -> (SimTime, SimTime, u64, u32, u16, u8, [u8; 16]);
    let all: Of = |d| {
        let factor = d.factor.to_bits();
        (
            d.served, d.comes, factor, d.waste_g, d.patience, d.kind, d.pieces,
        )
    };
    let column =
        |demand: &Demand| -> Vec<_> { drawn(demand, 9, 4).diners().iter().map(all).collect() };
    let base = column(&rich());
    // Each change, and which of the seven values it may move.
    type Change = (&'static str, fn(&mut Demand), usize);
    let changes: [Change; 6] = [
        (
            "eating",
            |d| d.eating_min = vec![(at(0.0), Dist::NormalCut { mean: 9.0, sd: 9.0 })],
            1,
        ),
        (
            "work",
            |d| d.work_factor = Dist::Gamma { mean: 1.0, cv: 2.0 },
            2,
        ),
        (
            "waste",
            |d| {
                d.waste_kg = Dist::Weibull {
                    shape: 0.7,
                    scale: 0.1,
                }
            },
            3,
        ),
        ("patience", |d| d.patience_people = None, 4),
        ("kinds", |d| d.kinds[1].share = vec![(at(0.0), 0.6)], 5),
        ("pieces", |d| d.kinds[0].pieces[1] = 3.7, 6),
    ];
    for (name, change, moved) in changes {
        let mut demand = rich();
        change(&mut demand);
        let changed = column(&demand);
        assert_eq!(changed.len(), base.len(), "{name}");
        let mut moves = 0;
        for (b, c) in base.iter().zip(&changed) {
            let same = [
                b.0 == c.0,
                b.1 == c.1,
                b.2 == c.2,
                b.3 == c.3,
                b.4 == c.4,
                b.5 == c.5,
            ];
            for (value, same) in same.into_iter().enumerate() {
                assert!(same || value == moved, "{name} moved value {value}");
                moves += u32::from(!same);
            }
            // Another kind has other pieces; a changed class moves only itself.
            let pieces_differ = b.6 != c.6;
            assert!(!pieces_differ || moved >= 5, "{name} moved pieces");
            if moved == 6 {
                assert_eq!((b.6[0], b.6[2]), (c.6[0], c.6[2]));
                moves += u32::from(pieces_differ);
            }
        }
        assert!(moves > 3, "{name} changes something");
    }
}

#[test]
fn a_bell_shifts_only_those_who_heed_it() {
    let base = drawn(&rich(), 9, 4);
    let mut demand = rich();
    demand.bells = vec![Bell {
        at: at(12.0 * H),
        share: 0.5,
        before: secs(60.0),
        after: secs(60.0),
        seated_at_least: secs(0.0),
    }];
    let rung = drawn(&demand, 9, 4);
    let mut heed = 0;
    for (b, r) in base.diners().iter().zip(rung.diners()) {
        let heeds = r.comes != b.comes;
        assert!(
            !heeds
                || (r.comes < b.comes && (12.0 * H - 60.0..12.0 * H + 60.0).contains(&r.comes.s()))
        );
        assert_eq!(
            Diner {
                comes: b.comes,
                ..*r
            },
            *b
        );
        heed += u32::from(heeds);
    }
    assert!(heed > 5, "{heed}");
}

#[test]
fn a_diner_is_at_most_64_bytes() {
    assert!(size_of::<Diner>() <= 64);
}

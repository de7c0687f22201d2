//! The hospital demo against figures worked on paper: the far end holds it back, a person cures it, a wider machine does not.

use std::sync::atomic::AtomicBool;

use scullery_study::bottleneck::diary::Which;
use scullery_study::bottleneck::why::{Why, why};
use scullery_study::compare::{Compare, Comparison, compare};

use crate::plans::arrangement;

const HOSPITAL: &str = include_str!("../../../scenarios/hospital.toml");

/// Half as many pieces again side by side.
fn wider() -> Vec<String> {
    let slots = [
        ("tray", 48),
        ("dome", 33),
        ("base", 42),
        ("plate", 84),
        ("side_plate", 99),
        ("bowl", 66),
        ("mug", 81),
        ("tumbler", 99),
    ];
    let mut changes = vec!["machine.flight.plate.pieces_per_h=12480".to_owned()];
    changes.extend(
        slots.map(|(ware, slots)| format!("machine.flight.type.flight.slots_per_m.{ware}={slots}")),
    );
    changes
}

/// Mean of the other arrangement less that of the first.
fn difference(seen: &Comparison, measure: &str, other: usize) -> f64 {
    let row = seen.measures.iter().find(|row| row.id == measure).unwrap();
    row.differences[other - 1].as_ref().unwrap().mean
}

#[test]
fn a_third_unloader_ends_the_queue_of_carts_and_a_wider_machine_does_not() {
    // On paper: patients and canteen bring 69 pieces a minute, two unloaders clear 44 and three 66. The machine takes 84,
    // half as wide again 126: more than is brought in either case. A wider belt does hold more, some 80 pieces or half a
    // cart in 4.2 m of tunnel, and the far end empties no sooner.
    let third = ["+crew.ivy=like gus", "crew.ivy.shift=13:00-14:15"];
    let four = ["crew.bea.alike=4"];
    let wider = wider();
    let wider: Vec<&str> = wider.iter().map(String::as_str).collect();
    let arrangements = [
        arrangement(HOSPITAL, "as it is", &[]),
        arrangement(HOSPITAL, "third unloader", &third),
        arrangement(HOSPITAL, "wider machine", &wider),
        arrangement(HOSPITAL, "fourth at breakdown", &four),
    ];
    let how = Compare {
        repeats: 24,
        seed: 5,
        threads: 2,
        measures: Vec::new(),
    };
    let seen = compare(&arrangements, &how, &|_| {}, &AtomicBool::new(false)).unwrap();
    let carts = seen
        .targets
        .iter()
        .find(|row| row.words.contains("carts waiting"))
        .unwrap();
    let held: Vec<u64> = carts
        .results
        .iter()
        .map(|result| result.as_ref().unwrap().held.unwrap())
        .collect();
    assert_eq!(held[1], 24, "{held:?}");
    assert!(held[0] <= 6 && held[2] < 22 && held[3] <= 12, "{held:?}");
    // 18 carts of 20 bring 3,240 loose pieces and the canteen 650 from 13:00 on: 88 minutes for two, 59 for three.
    let clean = "ware.dome.clean_clock_min";
    assert!(difference(&seen, clean, 1) < -10.0);
    assert!(difference(&seen, clean, 2).abs() < 5.0);
    assert!(difference(&seen, clean, 3).abs() < 5.0);
}

#[test]
fn unloading_is_named_as_what_holds_the_hospital_back() {
    let how = Why {
        seed: 5,
        threads: 2,
        lunches: 24,
        tray: Which::Worst,
        tray_of: 1,
    };
    let it = arrangement(HOSPITAL, "as it is", &[]);
    let found = why(&it.plan, &how, &|_| {}, &AtomicBool::new(false)).unwrap();
    let quarter = |min: u32| &found.quarters[((min - found.from_min) / 15) as usize];
    // 13:30 to 14:30: in more than half of the lunches, and it works without a pause.
    for min in [810, 825, 840, 855] {
        let seen = quarter(min);
        let stage = seen.bottleneck.unwrap();
        assert_eq!(found.stages[stage], "unloading clean", "{min}");
        assert!(
            seen.in_lunches > 12 && seen.shares[stage][0] > 0.9,
            "{min}: {seen:?}"
        );
    }
}

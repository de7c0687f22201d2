//! Intervals that may be looked at while meals come in.
//!
//! Outside figures: `tests/oracles/paired_fixtures.json`, made with scipy by another way than the program's.

use scullery_study::intervals::mean_interval;
use scullery_study::sequential::*;
use serde_json::Value;

use crate::luck::{Luck, mildly_skewed, normal};

pub(crate) fn fixtures() -> Value {
    serde_json::from_str(include_str!("../../../tests/oracles/paired_fixtures.json")).unwrap()
}

pub(crate) fn numbers<const N: usize>(row: &Value, key: &str) -> [f64; N] {
    let list = row[key].as_array().unwrap();
    std::array::from_fn(|i| list[i].as_f64().unwrap())
}

#[test]
fn the_confidence_sequence_agrees_with_a_root_search_on_scipys_binomial_law() {
    let rows = fixtures();
    let rows = rows["sequence"].as_array().unwrap();
    assert!(rows.len() > 10);
    for row in rows {
        let [held, of] = ["held", "of"].map(|key| row[key].as_u64().unwrap());
        let level = row["level"].as_f64().unwrap();
        let seen = share_sequence(held, of, level).unwrap();
        let theirs: [f64; 2] = numbers(row, "interval");
        for (a, b) in seen.into_iter().zip(theirs) {
            assert!((a - b).abs() < 1e-9, "{held} of {of}: {a} against {b}");
        }
    }
}

/// Probability that the sequence misses `p` at any of the first `last` looks, one after each trial: summed exactly over
/// all counts that have not missed so far.
fn error_at_any_look(p: f64, last: u64, level: f64) -> f64 {
    let mut alive = vec![1.0];
    let mut missed = 0.0;
    for of in 1..=last {
        let mut next = vec![0.0; of as usize + 1];
        for (held, chance) in alive.iter().enumerate() {
            next[held] += chance * (1.0 - p);
            next[held + 1] += chance * p;
        }
        for (held, chance) in next.iter_mut().enumerate() {
            let [low, high] = share_sequence(held as u64, of, level).unwrap();
            if !(low..=high).contains(&p) {
                missed += std::mem::take(chance);
            }
        }
        alive = next;
    }
    missed
}

#[test]
fn at_any_look_the_confidence_sequence_errs_no_more_than_it_says() {
    for row in fixtures()["sequence_error"].as_array().unwrap() {
        let [p, theirs] = ["p", "error"].map(|key| row[key].as_f64().unwrap());
        let seen = error_at_any_look(p, 200, 0.95);
        assert!(seen <= 0.05, "p {p}: {seen}");
        assert!(
            (seen - theirs).abs() < 1e-6,
            "p {p}: {seen} against {theirs}"
        );
    }
    // Wilson's interval, looked at as often, errs far more: that is why it is not used for it.
    let wilson = |held, of| scullery_study::intervals::share_interval(held, of, 0.95).unwrap();
    let mut luck = Luck::new("wilson");
    let often = (0..500)
        .filter(|_| {
            let mut held = 0;
            (1..=500).any(|of| {
                held += u64::from(luck.uniform() < 0.9);
                let [low, high] = wilson(held, of);
                of >= 30 && !(low..=high).contains(&0.9)
            })
        })
        .count();
    assert!(often > 75, "{often} of 500");
}

#[test]
fn looks_at_a_mean_err_together_no_more_than_the_level() {
    let parts: f64 = (1..=10_000)
        .map(|look| 1.0 - level_at_look(0.95, look))
        .sum();
    assert!(parts < 0.05 && parts > 0.0499, "{parts}");
}

#[test]
fn looks_come_at_thirty_and_then_a_fifth_apart() {
    let mut at = vec![next_look(0)];
    for _ in 0..4 {
        at.push(next_look(*at.last().unwrap()));
    }
    assert_eq!(at, [30, 36, 44, 53, 64]);
}

#[test]
fn students_interval_covers_between_93_and_97_of_100() {
    type Draw = fn(&mut Luck) -> f64;
    let laws: [(&str, Draw, f64); 2] = [("normal", normal, 0.0), ("gamma", mildly_skewed, 4.0)];
    for (name, draw, mean) in laws {
        for n in [30, 60] {
            let mut luck = Luck::new(&format!("t/{name}/{n}"));
            let covered = (0..2000).filter(|_| {
                let values: Vec<f64> = (0..n).map(|_| draw(&mut luck)).collect();
                let [low, high] = mean_interval(&values, 0.95).unwrap();
                (low..=high).contains(&mean)
            });
            let covered = covered.count();
            assert!(
                (1860..=1940).contains(&covered),
                "{name} {n}: {covered} of 2000"
            );
        }
    }
}

/// Draws until the mean is known as wanted, looking as the study does.
fn until_precise(luck: &mut Luck, draw: fn(&mut Luck) -> f64, wanted: Precision) -> Vec<f64> {
    let mut values = Vec::new();
    let mut until = 0;
    loop {
        until = next_look(until);
        values.extend((values.len()..until as usize).map(|_| draw(luck)));
        if is_precise(&values, wanted, 0.95).is_some_and(|(enough, _)| enough) {
            return values;
        }
    }
}

#[test]
fn means_known_just_well_enough_still_cover_at_least_92_of_100() {
    type Draw = fn(&mut Luck) -> f64;
    let laws: [(&str, Draw, f64, f64); 2] = [
        ("normal", normal, 0.0, 0.2),
        ("gamma", mildly_skewed, 4.0, 0.4),
    ];
    for (name, draw, mean, half) in laws {
        let mut luck = Luck::new(&format!("stopped/{name}"));
        let mut taken = Vec::new();
        let covered = (0..2000).filter(|_| {
            let values = until_precise(&mut luck, draw, Precision::Within(half));
            taken.push(values.len());
            let [low, high] = mean_interval(&values, 0.95).unwrap();
            (low..=high).contains(&mean)
        });
        let covered = covered.count();
        assert!(covered >= 1840, "{name}: {covered} of 2000");
        // (1.96 / 0.2)^2 = 96 draws would do if the spread were known; looks a fifth apart overshoot a little.
        let middle = taken.iter().sum::<usize>() as f64 / 2000.0;
        assert!((90.0..125.0).contains(&middle), "{name}: {middle} draws");
    }
}

#[test]
fn fewer_than_thirty_are_never_precise() {
    let same = [5.0; 29];
    assert_eq!(
        is_precise(&same, Precision::Within(1.0), 0.95),
        Some((false, 0.0))
    );
    assert_eq!(
        is_precise(&[5.0; 30], Precision::WithinShare(0.01), 0.95),
        Some((true, 0.0))
    );
    assert_eq!(is_precise(&[5.0], Precision::Within(1.0), 0.95), None);
}

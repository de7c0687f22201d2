//! Certified values: NIST Statistical Reference Datasets, univariate summary statistics.

use scullery_study::intervals::{mean, standard_deviation};
use serde_json::Value;

/// Digits in which two numbers agree, as NIST counts them: minus the log of the relative error.
fn digits(seen: f64, certified: f64) -> f64 {
    let error = ((seen - certified) / certified).abs();
    if error == 0.0 { 15.0 } else { -error.log10() }
}

fn sets() -> Vec<(String, Vec<f64>, f64, f64)> {
    let all: Value = serde_json::from_str(include_str!("data/nist-strd-univariate.json")).unwrap();
    let number = |v: &Value| v.as_f64().or_else(|| v.as_str()?.parse().ok()).unwrap();
    let sets = all["sets"].as_object().unwrap();
    sets.iter()
        .map(|(name, set)| {
            let values = set["values"]
                .as_array()
                .unwrap()
                .iter()
                .map(number)
                .collect();
            (
                name.clone(),
                values,
                number(&set["certified"]["mean"]),
                number(&set["certified"]["sd"]),
            )
        })
        .collect()
}

#[test]
fn mean_and_standard_deviation_agree_with_the_certified_sets() {
    let sets = sets();
    assert_eq!(sets.len(), 4);
    for (name, values, certified_mean, certified_sd) in sets {
        let (m, sd) = (mean(&values).unwrap(), standard_deviation(&values).unwrap());
        assert!(digits(m, certified_mean) > 13.5, "{name}: mean {m}");
        assert!(digits(sd, certified_sd) > 12.0, "{name}: sd {sd}");
    }
}

/// NumAcc1 to 4 are made by rule; the small spread about a large mean is the trap.
#[test]
fn a_small_spread_about_a_large_mean_is_not_lost() {
    let alternating = |first: f64, low: f64, high: f64| {
        let mut values = vec![first];
        for _ in 0..500 {
            values.extend([low, high]);
        }
        values
    };
    let sets = [
        (
            vec![10_000_001.0, 10_000_003.0, 10_000_002.0],
            10_000_002.0,
            1.0,
            15.0,
        ),
        (alternating(1.2, 1.1, 1.3), 1.2, 0.1, 13.0),
        // The data themselves carry only so many digits of their spread once they are binary fractions.
        (
            alternating(1_000_000.2, 1_000_000.1, 1_000_000.3),
            1_000_000.2,
            0.1,
            9.0,
        ),
        (
            alternating(10_000_000.2, 10_000_000.1, 10_000_000.3),
            10_000_000.2,
            0.1,
            8.0,
        ),
    ];
    for (values, certified_mean, certified_sd, sd_digits) in sets {
        let (m, sd) = (mean(&values).unwrap(), standard_deviation(&values).unwrap());
        assert!(digits(m, certified_mean) >= 14.0, "mean {m}");
        assert!(digits(sd, certified_sd) >= sd_digits, "sd {sd}");
    }
}

//! Intervals against printed and independently computed figures, and their coverage summed exactly.

use scullery_study::exact::Sums;
use scullery_study::intervals::*;
use serde_json::Value;

fn figures() -> Value {
    serde_json::from_str(include_str!("data/intervals.json")).unwrap()
}

fn near(a: f64, b: f64, relative: f64) -> bool {
    (a - b).abs() <= relative * b.abs().max(1e-3)
}

/// Binomial probabilities of 0 to n, by the ratio of neighbours from the largest one down either side.
fn binomial(n: u64, p: f64) -> Vec<f64> {
    let top = ((n + 1) as f64 * p).floor().min(n as f64) as usize;
    let mut out = vec![0.0; n as usize + 1];
    out[top] = 1.0;
    let odds = p / (1.0 - p);
    for k in top + 1..=n as usize {
        out[k] = out[k - 1] * odds * (n as f64 - k as f64 + 1.0) / k as f64;
    }
    for k in (0..top).rev() {
        out[k] = out[k + 1] / odds * (k as f64 + 1.0) / (n as f64 - k as f64);
    }
    let all: f64 = out.iter().sum();
    out.iter().map(|q| q / all).collect()
}

/// Student's t: NIST/SEMATECH e-Handbook section 1.3.6.7.2; more digits by the root of the incomplete-beta form.
#[test]
fn student_quantiles_agree_with_the_table() {
    let table = [
        (0.9, 1.0, 3.077683537175),
        (0.975, 1.0, 12.70620473617),
        (0.995, 1.0, 63.65674116287),
        (0.975, 2.0, 4.302652729749),
        (0.975, 4.0, 2.776445105198),
        (0.975, 9.0, 2.262157162798),
        (0.95, 9.0, 1.833112932656),
        (0.975, 19.0, 2.093024054408),
        (0.975, 29.0, 2.045229642133),
        (0.99, 30.0, 2.457261542401),
        (0.975, 99.0, 1.984216951586),
        (0.995, 99.0, 2.626405457281),
    ];
    for (p, freedom, t) in table {
        let seen = student_quantile(freedom, p).unwrap();
        assert!(near(seen, t, 1e-9), "t({freedom}, {p}) = {seen}, table {t}");
    }
    for row in figures()["student_t"].as_array().unwrap() {
        let [freedom, p, t] = ["freedom", "p", "t"].map(|key| row[key].as_f64().unwrap());
        let seen = student_quantile(freedom, p).unwrap();
        assert!(
            near(seen, t, 1e-9),
            "t({freedom}, {p}) = {seen}, outside figure {t}"
        );
    }
}

/// Law, *Simulation Modeling and Analysis*, ch. 9, the bank-delay example (data from memory; the book prints a mean of
/// 2.03 and a half-width of 0.32 at 90 %).
#[test]
fn mean_interval_agrees_with_the_textbook_bank() {
    let delays = [1.53, 1.66, 1.24, 2.34, 2.00, 1.69, 2.69, 2.86, 1.70, 2.60];
    assert!(near(mean(&delays).unwrap(), 2.031, 1e-12));
    assert!(near(
        standard_deviation(&delays).unwrap().powi(2),
        0.3090988888889,
        1e-11
    ));
    let [low, high] = mean_interval(&delays, 0.90).unwrap();
    assert!(near(low, 1.708716595058, 1e-9) && near(high, 2.353283404942, 1e-9));
    assert_eq!(format!("{:.2}", (high - low) / 2.0), "0.32");
}

#[test]
fn what_cannot_be_given_is_none() {
    assert_eq!(mean(&[]), None);
    assert_eq!(mean_interval(&[3.0], 0.95), None);
    assert_eq!(standard_deviation(&[3.0]), None);
    assert_eq!(share_interval(0, 0, 0.95), None);
    assert_eq!(order_ranks(0, 0.5, 0.95), [None, None]);
    assert_eq!(order_statistic::<u64>(&mut [], 950), None);
    assert_eq!(student_quantile(0.0, 0.975), None);
}

#[test]
fn a_percentile_is_one_of_the_values() {
    let mut values: Vec<u32> = (1..=20).rev().collect();
    assert_eq!(order_statistic(&mut values, 950), Some(19));
    assert_eq!(order_statistic(&mut values, 50), Some(1));
    assert_eq!(order_statistic(&mut values, 500), Some(10));
    assert_eq!(order_statistic(&mut values, 1000), Some(20));
    // 0.95 times 60 is 57 exactly; in binary it is a little more, and must not become 58.
    assert_eq!(
        (rank(60, 950), rank(21, 950), rank(1, 50), rank(0, 950)),
        (57, 20, 1, 0)
    );
}

/// Conover, *Practical Nonparametric Statistics*; direct binomial sums. Ranks 40 and 61 for the median of 100 are printed.
#[test]
fn order_ranks_agree_with_conover() {
    let cases = [
        (10, 0.5, 0.95, [Some(2), Some(9)], 0.978515625),
        (20, 0.5, 0.95, [Some(6), Some(15)], 0.958610534668),
        (100, 0.5, 0.95, [Some(40), Some(61)], 0.9647997997823),
        (100, 0.9, 0.95, [Some(84), Some(96)], 0.9556901071912),
        (200, 0.95, 0.95, [Some(184), Some(197)], 0.9671521638567),
        (30, 0.8, 0.90, [Some(20), Some(28)], 0.9302047595127),
    ];
    for (n, p, level, ranks, coverage) in cases {
        assert_eq!(order_ranks(n, p, level), ranks, "n {n}, p {p}");
        let seen = order_coverage(n, p, ranks[0].unwrap(), ranks[1].unwrap()).unwrap();
        assert!(near(seen, coverage, 1e-10), "n {n}, p {p}: {seen}");
    }
    assert_eq!(order_ranks(59, 0.95, 0.95), [Some(52), None]);
}

#[test]
fn order_ranks_agree_with_outside_figures() {
    let figures = figures();
    let rank = |row: &Value, key: &str| row[key].as_u64().map(|r| r as usize);
    for row in figures["order_statistics"].as_array().unwrap() {
        let n = row["n"].as_u64().unwrap() as usize;
        let [p, level] = ["p", "level"].map(|key| row[key].as_f64().unwrap());
        let ranks = [rank(row, "low"), rank(row, "high")];
        assert_eq!(order_ranks(n, p, level), ranks, "{row}");
        if let (Some(coverage), [Some(low), Some(high)]) = (row["coverage"].as_f64(), ranks) {
            assert!(
                near(order_coverage(n, p, low, high).unwrap(), coverage, 1e-9),
                "{row}"
            );
        }
    }
    for row in figures["order_statistics_fewest_for_both_ranks"]
        .as_array()
        .unwrap()
    {
        let n = row["n"].as_u64().unwrap() as usize;
        let [p, level] = ["p", "level"].map(|key| row[key].as_f64().unwrap());
        let both = |n: usize| order_ranks(n, p, level).iter().all(Option::is_some);
        assert!(both(n) && !both(n - 1), "{row}");
    }
}

/// Wilks, *Annals of Mathematical Statistics* 12 (1941): 59 values bound the 95th of 100 from above with 95 %.
#[test]
fn the_largest_of_59_bounds_the_95th_with_95_per_cent() {
    // One-sided at 95 % is equal-tailed at 90 %.
    assert!(order_ranks(59, 0.95, 0.90)[1].is_some());
    assert!(order_ranks(58, 0.95, 0.90)[1].is_none());
}

#[test]
fn the_95th_needs_72_repeats_for_both_ends() {
    let values: Vec<f64> = (1..=72).map(f64::from).collect();
    assert_eq!(quantile_interval(&values[..71], 0.95, 0.95), None);
    assert_eq!(quantile_interval(&values, 0.95, 0.95).unwrap()[1], 72.0);
}

#[test]
fn order_intervals_cover_at_least_what_they_say() {
    for n in [6, 10, 50, 72, 200, 1000] {
        for p in [0.05, 0.5, 0.95] {
            let [Some(low), Some(high)] = order_ranks(n, p, 0.95) else {
                continue;
            };
            let law = binomial(n as u64, p);
            let summed: f64 = law[low..high].iter().sum();
            assert!(near(order_coverage(n, p, low, high).unwrap(), summed, 1e-9));
            let (below, above): (f64, f64) = (law[..low].iter().sum(), law[high..].iter().sum());
            assert!(
                below <= 0.025 + 1e-12 && above <= 0.025 + 1e-12,
                "n {n}, p {p}"
            );
            // One rank inwards at either end would break the promise.
            assert!(
                below + law[low] > 0.025 && above + law[high - 1] > 0.025,
                "n {n}, p {p}"
            );
        }
    }
    assert!(near(
        order_coverage(10, 0.5, 2, 9).unwrap(),
        1002.0 / 1024.0,
        1e-12
    ));
}

/// Newcombe, *Statistics in Medicine* 17 (1998), table I, method 3 (from memory); more digits computed independently.
#[test]
fn wilson_agrees_with_newcombe() {
    for row in figures()["wilson"].as_array().unwrap() {
        let (k, n) = (row["k"].as_u64().unwrap(), row["n"].as_u64().unwrap());
        let [low, high] = share_interval(k, n, row["level"].as_f64().unwrap()).unwrap();
        assert!(
            near(low, row["low"].as_f64().unwrap(), 1e-9),
            "{row}: low {low}"
        );
        assert!(
            near(high, row["high"].as_f64().unwrap(), 1e-9),
            "{row}: high {high}"
        );
        if let Some(printed) = row["printed"].as_array() {
            let text = |x: f64| format!("{x:.4}");
            assert_eq!(text(low), text(printed[0].as_f64().unwrap()));
            assert_eq!(text(high), text(printed[1].as_f64().unwrap()));
        }
    }
}

fn wilson_coverage(n: u64, p: f64) -> f64 {
    let covers =
        |k: u64| share_interval(k, n, 0.95).is_some_and(|[low, high]| low <= p && p <= high);
    (0..=n)
        .zip(binomial(n, p))
        .filter(|(k, _)| covers(*k))
        .map(|(_, q)| q)
        .sum()
}

#[test]
fn wilson_covers_near_95_per_cent_on_the_whole_and_less_near_the_edge() {
    // Worked by hand: for 50 trials of a share of 0.99 the interval covers when 49 or 50 hold:
    // 0.99^50 + 50 x 0.99^49 x 0.01 = 0.6050 + 0.3056.
    assert!((wilson_coverage(50, 0.99) - 0.9106).abs() < 5e-5);
    let shares: Vec<f64> = (1..=99).map(|i| f64::from(i) / 100.0).collect();
    for n in [50, 200] {
        let on_the_whole = shares.iter().map(|&p| wilson_coverage(n, p)).sum::<f64>() / 99.0;
        assert!((on_the_whole - 0.95).abs() < 0.01, "n {n}: {on_the_whole}");
    }
}

/// Parts of 30, 10 and 10 with means 12, 20, 28 and variances 4, 9, 1 give 50 with mean 16.8 and variance 46.0.
#[test]
fn parts_merge_to_the_same_in_any_order_and_grouping() {
    // A part with these moments, in whole numbers: sum = n m, squares = (n - 1) v + n m^2.
    let part = |n: u64, m: i128, v: i128| Sums {
        n,
        sum: i128::from(n) * m,
        squares: (i128::from(n) - 1) * v + i128::from(n) * m * m,
    };
    let parts = [part(30, 12, 4), part(10, 20, 9), part(10, 28, 1)];
    for order in [
        [0, 1, 2],
        [0, 2, 1],
        [1, 0, 2],
        [1, 2, 0],
        [2, 0, 1],
        [2, 1, 0],
    ] {
        let [a, b, c] = order.map(|i| parts[i]);
        let mut left = a;
        left.merge(&b);
        left.merge(&c);
        let mut right = b;
        right.merge(&c);
        right.merge(&a);
        assert_eq!(left, right);
        assert_eq!(
            (left.n, left.mean(), left.variance()),
            (50, Some(16.8), Some(46.0))
        );
    }
}

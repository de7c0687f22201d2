//! Sequential tests keep the errors they were given.

use scullery_engine::streams::{Draw, Root};
use scullery_study::deciding::cheapest::Cheapest;
use scullery_study::deciding::share::{ShareTest, Zone};
use scullery_study::deciding::standard::{FIRST, StandardTest, bound_factor};
use scullery_study::deciding::{Errors, Said};
use statrs::distribution::{ContinuousCDF, Normal};

const ERRORS: Errors = Errors {
    wrong_holds: 0.02,
    wrong_fails: 0.05,
};

fn draws(source: &str, number: u64) -> Draw {
    Root::new(7, 1).source(source).at(number)
}

/// What the test says of a share, and after how many lunches; `Nothing` after `most`.
fn of_share(p: f64, zone: Zone, number: u64, most: u64) -> (Said, u64) {
    let mut draw = draws("share", number);
    let mut test = ShareTest::new(zone, ERRORS);
    for lunch in 1..=most {
        if test.see(draw.uniform() < p) != Said::Nothing {
            return (test.said(), lunch);
        }
    }
    (Said::Nothing, most)
}

fn count(said: Said, all: &[(Said, u64)]) -> f64 {
    all.iter().filter(|(s, _)| *s == said).count() as f64
}

#[test]
fn walds_test_errs_no_more_often_than_it_may_at_either_end_of_the_zone() {
    let zone = Zone::about(0.9, 0.02).unwrap();
    const OF: u64 = 4000;
    let at = |p: f64, from: u64| -> Vec<(Said, u64)> {
        (0..OF)
            .map(|n| of_share(p, zone, from + n, 200_000))
            .collect()
    };
    // Four standard errors of a share of exactly the error allowed.
    let most = |error: f64| OF as f64 * error + 4.0 * (OF as f64 * error * (1.0 - error)).sqrt();
    let low = at(0.88, 0);
    assert!(
        count(Said::Holds, &low) <= most(ERRORS.wrong_holds),
        "{}",
        count(Said::Holds, &low)
    );
    assert!(
        count(Said::Holds, &low) > 0.25 * OF as f64 * ERRORS.wrong_holds,
        "far too careful"
    );
    let high = at(0.92, OF);
    assert!(
        count(Said::Fails, &high) <= most(ERRORS.wrong_fails),
        "{}",
        count(Said::Fails, &high)
    );
    assert!(
        count(Said::Fails, &high) > 0.25 * OF as f64 * ERRORS.wrong_fails,
        "far too careful"
    );
    assert_eq!(
        count(Said::Nothing, &low) + count(Said::Nothing, &high),
        0.0
    );
}

#[test]
fn the_mean_number_of_lunches_is_near_walds_formula() {
    // Wald, Sequential Analysis (1947), from memory: E(n) = (L(p) ln B + (1 - L(p)) ln A) / E(z), the ends passed over
    // left out, which makes it a little too small.
    let zone = Zone::about(0.9, 0.05).unwrap();
    let (p0, p1) = (zone.lower(), zone.upper());
    let p = 0.8;
    let z = p * libm::log(p1 / p0) + (1.0 - p) * libm::log((1.0 - p1) / (1.0 - p0));
    let expected = libm::log(ERRORS.wrong_fails) / z;
    let seen: Vec<u64> = (0..4000)
        .map(|n| of_share(p, zone, 90_000 + n, 100_000).1)
        .collect();
    let mean = seen.iter().sum::<u64>() as f64 / seen.len() as f64;
    assert!(
        mean >= expected && mean < 1.35 * expected,
        "{mean} where about {expected} is due"
    );
}

#[test]
fn what_always_misses_is_rejected_within_a_handful_of_lunches() {
    // Each miss multiplies the ratio by 0.08/0.12 in a zone of 0.88 to 0.92: 0.05 is passed at the 8th.
    let zone = Zone::about(0.9, 0.02).unwrap();
    assert_eq!(of_share(0.0, zone, 0, 100), (Said::Fails, 8));
    // Each hit by 0.92/0.88: 1/0.02 is passed at the 89th.
    assert_eq!(of_share(1.0, zone, 0, 1000), (Said::Holds, 89));
}

#[test]
fn always_is_refuted_by_one_miss_and_its_zone_stays_within_the_possible() {
    let always = Zone::about(1.0, 0.02).unwrap();
    assert_eq!((always.lower(), always.upper()), (0.98, 1.0));
    assert_eq!(of_share(0.0, always, 0, 10), (Said::Fails, 1));
    let nearly = Zone::about(0.99, 0.02).unwrap();
    assert!((nearly.upper() - 0.995).abs() < 1e-12);
    assert!(Zone::about(0.0, 0.02).is_none() && Zone::about(1.1, 0.02).is_none());
    assert!(Zone::about(0.9, 0.0).is_none() && Zone::about(f64::NAN, 0.02).is_none());
}

fn normal(draw: &mut Draw) -> f64 {
    Normal::standard().inverse_cdf(draw.uniform().clamp(1e-15, 1.0 - 1e-15))
}

fn of_mean(mean: f64, sd: f64, at_most: bool, number: u64) -> Said {
    let mut draw = draws("mean", number);
    let mut test = StandardTest::new(10.0, at_most, 0.5, ERRORS);
    for _ in 0..1_000_000 {
        if test.see(mean + sd * normal(&mut draw)) != Said::Nothing {
            break;
        }
    }
    test.said()
}

#[test]
fn the_comparison_with_a_standard_errs_no_more_often_than_it_may_on_normal_values() {
    const OF: u64 = 3000;
    let share = |wrong: Said, mean: f64, sd: f64, at_most: bool, from: u64| -> f64 {
        (0..OF)
            .filter(|n| of_mean(mean, sd, at_most, from + n) == wrong)
            .count() as f64
            / OF as f64
    };
    let most = |error: f64| error + 4.0 * (error * (1.0 - error) / OF as f64).sqrt();
    // The values lie half a unit, the indifference, on the wrong side of 10.
    for (at, sd) in [(0, 1.0), (1, 3.0)] {
        let holds = share(Said::Holds, 9.5, sd, false, at * 10_000);
        assert!(holds <= most(ERRORS.wrong_holds), "{holds} at sd {sd}");
        let fails = share(Said::Fails, 10.5, sd, false, at * 10_000 + 5_000);
        assert!(fails <= most(ERRORS.wrong_fails), "{fails} at sd {sd}");
        let mirrored = share(Said::Holds, 10.5, sd, true, at * 10_000 + 2_500);
        assert!(
            mirrored <= most(ERRORS.wrong_holds),
            "{mirrored} at sd {sd}, good side below"
        );
    }
}

#[test]
fn the_bound_of_the_standard_test_solves_its_own_equation() {
    for error in [0.2, 0.05, 0.001, 1e-6] {
        let k = bound_factor(FIRST, error);
        let freedom = FIRST as f64 - 1.0;
        let back = libm::pow(1.0 + 4.0 * k / freedom, -freedom / 2.0);
        assert!((back / error - 1.0).abs() < 1e-9);
        // With the variance known it would be ln(1/error) / 2; to estimate it costs something.
        assert!(k > libm::log(1.0 / error) / 2.0);
    }
}

#[test]
fn values_far_from_the_standard_are_told_as_soon_as_the_variance_is_known() {
    let mut test = StandardTest::new(10.0, false, 0.5, ERRORS);
    let mut seen = 0;
    while test.see(30.0 + f64::from(seen % 2)) == Said::Nothing {
        seen += 1;
    }
    assert_eq!((test.said(), seen + 1), (Said::Holds, FIRST as i32));
    let mut never = StandardTest::new(10.0, false, 0.5, ERRORS);
    never.fail();
    assert_eq!(never.see(100.0), Said::Fails);
}

#[test]
fn the_cheapest_of_several_is_found_as_often_as_was_asked() {
    const OF: u64 = 1500;
    let error = 0.10;
    let wrong = (0..OF).filter(|n| {
        let mut draw = draws("cheapest", *n);
        // The last is the best by exactly the indifference; shared luck makes the pairs hang together.
        let mut race = Cheapest::new(4, 1.0, error);
        while race.winner().is_none() {
            let shared = 3.0 * normal(&mut draw);
            let lunch: Vec<f64> = [11.0, 11.0, 11.0, 10.0]
                .iter()
                .map(|m| m + shared + normal(&mut draw))
                .collect();
            race.see(&lunch);
        }
        race.winner() != Some(3)
    });
    let wrong = wrong.count() as f64 / OF as f64;
    assert!(
        wrong <= error + 4.0 * (error * (1.0 - error) / OF as f64).sqrt(),
        "{wrong}"
    );
}

#[test]
fn of_two_alike_the_first_is_kept() {
    let mut race = Cheapest::new(2, 1.0, 0.05);
    for _ in 0..100 {
        race.see(&[5.0, 5.0]);
    }
    assert_eq!(race.winner(), Some(0));
}
